//! Demo cars and random corners for the tests of drawings.
#![allow(dead_code, reason = "each test file uses its own part")]

use std::path::Path;

use draw::{Fit, Rect, Scene, View, ViewOptions};
use linkage::Frame;
use nalgebra::Vector3;
use project::model::{Axle, Car, End, Hole, SurveyPoint};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use suspension::scheme::{Element, ElementRole, PointOn, Scheme, UPRIGHT};
use suspension::{Corner, Mover, kinds};

/// Every demo car.
pub fn demos() -> Vec<Car> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    ["plover/car.toml", "plover/before.toml", "wren/car.toml", "dunlin/car.toml"]
        .iter()
        .map(|name| {
            let text = std::fs::read_to_string(folder.join(name)).expect("the demo is there");
            project::read(&text).car.expect("the demo is sound")
        })
        .chain(project::KINDS.iter().map(|kind| {
            let text = project::starter(kind, &units::UnitSystem::default()).expect("a starter");
            project::read(&text).car.expect("the starter is sound")
        }))
        .collect()
}

/// Runs over every axle of every demo at some travels.
pub fn every_scene(mut run: impl FnMut(&Car, &Scene)) {
    for car in demos() {
        for end in [End::Front, End::Rear] {
            let Ok(subject) = study::Subject::new(&car, end) else { continue };
            let inputs = subject.nominal(&[]);
            let corner = subject.corner(&inputs).expect("a corner");
            let mut mover = Mover::new(&corner);
            for (travel, rack) in [(0.0, 0.0), (0.02, 0.03), (0.04, 0.0), (-0.04, -0.03)] {
                if mover.at(travel, rack).is_ok() {
                    run(&car, &Scene::new(&car, subject.axle(), &corner, &mut mover, &inputs.points));
                }
            }
        }
    }
}

/// Page sizes and regions to try.
pub fn pages(car: &Car) -> Vec<ViewOptions<'_>> {
    let mut all = Vec::new();
    for (width, height) in [(900.0, 520.0), (360.0, 340.0), (140.0, 90.0)] {
        for region in [Fit::Corner, Fit::Car] {
            all.push(ViewOptions { region, ..ViewOptions::new(width, height, car.units, &car.frame) });
        }
    }
    all
}

/// Words keep off one another, off the marks and on the page.
#[track_caller]
pub fn check_labels(view: &View, options: &ViewOptions<'_>, what: &str) {
    let page = Rect::sized(0.0, 0.0, options.width_px, options.height_px);
    for (i, (text, rect)) in view.labels.iter().enumerate() {
        assert!(page.holds(rect), "{what}: `{text}` leaves the page: {rect:?}");
        for (other, second) in view.labels.iter().skip(i + 1) {
            assert!(!rect.meets(second), "{what}: `{text}` covers `{other}`");
        }
        assert!(!view.marks.iter().any(|m| m.meets(rect)), "{what}: `{text}` covers a mark");
    }
}

const NAMES: [&str; 12] = [
    "a",
    "lower-fore",
    "ein recht langer Name für einen Lenker, der nirgends hinpasst",
    "前側下リンク",
    "нижний передний рычаг",
    "الذراع السفلي الأمامي",
    "𐍈🏁🔧",
    "<b>&\"'",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
    "x\u{0}\u{7}y\nz",
    "e\u{301}e\u{301}",
    "﷽",
];

/// A car with one random corner, five links or two arms, with up to 60 holes; it may not be buildable.
fn random_car(base: &Car, rng: &mut StdRng) -> Option<(Car, Axle)> {
    let mut car = base.clone();
    let mut axle = car.rear.clone()?;
    let mut near = |centre: &Vector3<f64>, reach: [f64; 3]| {
        centre + Vector3::from(reach.map(|r| rng.random_range(-r..r)))
    };
    let hub = near(&Vector3::new(-2.6, 0.74, 0.3), [0.05, 0.05, 0.03]);
    axle.wheel.centre.at = hub;
    let mut points: Vec<Vector3<f64>> = Vec::new();
    let mut scheme;
    let five = rng.random_range(0..2) == 0;
    if five {
        let mut names: [String; 5] =
            std::array::from_fn(|i| NAMES[(i * 2 + rng.random_range(0..2)) % 12].to_string());
        names[0] = format!("{}{}", names[0], NAMES[rng.random_range(0..12)]);
        for (i, name) in names.iter_mut().enumerate() {
            name.push(char::from(b'0' + i as u8));
        }
        scheme = kinds::five_link(&names, None);
        let inner = [
            (0.4, -0.3, -0.05),
            (-0.05, -0.4, -0.08),
            (0.2, -0.3, 0.14),
            (-0.05, -0.35, 0.13),
            (-0.15, -0.4, -0.04),
        ];
        let outer = [
            (0.13, -0.1, -0.09),
            (-0.05, -0.07, -0.1),
            (0.04, -0.08, 0.14),
            (-0.04, -0.09, 0.15),
            (-0.15, -0.05, -0.05),
        ];
        for (a, b) in inner.iter().zip(&outer) {
            for (x, y, z) in [a, b] {
                let at = hub + Vector3::new(*x, *y, *z);
                points.push(at + Vector3::from([(); 3].map(|()| rng.random_range(-0.06..0.06))));
            }
        }
    } else {
        scheme = kinds::double_wishbone(false);
        let places = [
            (0.12, -0.34, 0.12),
            (-0.12, -0.34, 0.11),
            (0.0, -0.1, 0.13),
            (0.15, -0.42, -0.1),
            (-0.15, -0.42, -0.09),
            (0.01, -0.06, -0.11),
            (-0.14, -0.4, -0.05),
            (-0.14, -0.07, -0.05),
        ];
        for (x, y, z) in places {
            let at = hub + Vector3::new(x, y, z);
            points.push(at + Vector3::from([(); 3].map(|()| rng.random_range(-0.05..0.05))));
        }
    }
    add_spring(&mut scheme, &mut points, &hub);
    axle.points = points.iter().map(|at| survey(*at)).collect();
    let count = rng.random_range(0..=60);
    axle.holes = (0..count)
        .map(|i| {
            let point = rng.random_range(0..points.len());
            let off = Vector3::from([(); 3].map(|()| rng.random_range(-0.05..0.05)));
            let name = if i % 3 == 0 { NAMES[i % 12].to_string() } else { format!("H{i}") };
            Hole { name, point, at: survey(if i == 0 { points[point] } else { points[point] + off }) }
        })
        .collect();
    axle.plates.clear();
    axle.scheme = scheme;
    car.rear = Some(axle.clone());
    Some((car, axle))
}

fn survey(at: Vector3<f64>) -> SurveyPoint {
    SurveyPoint { at, uncertainty: Vector3::zeros(), span: 0..0 }
}

fn add_spring(scheme: &mut Scheme, points: &mut Vec<Vector3<f64>>, hub: &Vector3<f64>) {
    let body = scheme.add_point("spring.body");
    let mount = scheme.add_point("spring.mount");
    points.push(hub + Vector3::new(-0.05, -0.25, 0.25));
    points.push(hub + Vector3::new(-0.05, -0.15, -0.05));
    scheme.elements.push(Element {
        role: ElementRole::Spring,
        name: "spring".into(),
        inner: PointOn { frame: Frame::Ground, point: body },
        outer: PointOn { frame: Frame::Body(UPRIGHT), point: mount },
        rate: None,
        force: None,
    });
}

/// Runs over `count` random corners that can be built and moved.
pub fn random_scenes(count: usize, seed: u64, mut run: impl FnMut(&Car, &Scene)) {
    let mut rng = StdRng::seed_from_u64(seed);
    let base = demos().swap_remove(0);
    let mut done = 0;
    while done < count {
        let Some((car, axle)) = random_car(&base, &mut rng) else { continue };
        let points: Vec<Vector3<f64>> = axle.points.iter().map(|p| p.at).collect();
        let wheel = suspension::Wheel {
            centre: axle.wheel.centre.at,
            toe: rng.random_range(-0.05..0.05),
            camber: rng.random_range(-0.1..0.1),
            loaded_radius: rng.random_range(0.2..0.4),
        };
        let Ok(corner) = Corner::new(&axle.scheme, &points, &wheel) else { continue };
        let mut mover = Mover::new(&corner);
        if mover.at(rng.random_range(-0.04..0.04), 0.0).is_err() {
            continue;
        }
        run(&car, &Scene::new(&car, &axle, &corner, &mut mover, &points));
        done += 1;
    }
}

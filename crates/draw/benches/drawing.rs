//! What a pointer move costs: a scene, three views, three charts, a mesh.
#![allow(clippy::expect_used)]

use draw::chart::{Axis, ChartSpec, Series, line};
use draw::{Fit, Overlays, Scene, ViewOptions, views};
use project::model::{Car, End};
use suspension::Mover;

fn main() {
    divan::main();
}

fn car() -> Car {
    project::read(include_str!("../../../examples/plover/car.toml")).car.expect("the demo")
}

fn scene(car: &Car) -> Scene {
    let subject = study::Subject::new(car, End::Rear).expect("an axle");
    let inputs = subject.nominal(&[]);
    let corner = subject.corner(&inputs).expect("a corner");
    let mut mover = Mover::new(&corner);
    mover.at(0.02, 0.0).expect("within reach");
    Scene::new(car, subject.axle(), &corner, &mut mover, &inputs.points)
}

#[divan::bench]
fn scene_alone(bencher: divan::Bencher<'_, '_>) {
    let car = car();
    let subject = study::Subject::new(&car, End::Rear).expect("an axle");
    let inputs = subject.nominal(&[]);
    let corner = subject.corner(&inputs).expect("a corner");
    let mut mover = Mover::new(&corner);
    mover.at(0.02, 0.0).expect("within reach");
    bencher.bench_local(|| Scene::new(&car, subject.axle(), &corner, &mut mover, &inputs.points));
}

#[divan::bench(args = ["side", "side-rich", "side-car", "rear", "top"])]
fn view(bencher: divan::Bencher<'_, '_>, which: &str) {
    let car = car();
    let scene = scene(&car);
    let options = ViewOptions::new(900.0, 520.0, car.units, &car.frame);
    let whole = ViewOptions { region: Fit::Car, ..options };
    let variants = [("one".to_string(), &scene), ("two".to_string(), &scene)];
    let plain = Overlays::default();
    let rich = Overlays { ghost: Some(&scene), variants: &variants };
    bencher.bench_local(|| match which {
        "side" => views::side(&scene, &plain, &options),
        "side-rich" => views::side(&scene, &rich, &options),
        "side-car" => views::side(&scene, &plain, &whole),
        "rear" => views::rear(&scene, &plain, &options),
        _ => views::top(&scene, &plain, &options),
    });
}

#[divan::bench]
fn chart(bencher: divan::Bencher<'_, '_>) {
    let curve =
        |k: f64| (-30..=30).map(|i| f64::from(i) * 2.0).map(|x| (x, k * x * x * 1e-4)).collect::<Vec<_>>();
    let series = |nth: usize| {
        let points = curve(nth as f64 + 0.3);
        let band = Some(points.iter().map(|(_, y)| (y - 0.05, y + 0.05)).collect());
        Series { name: format!("setup {nth}"), points, band, style: nth }
    };
    let spec = ChartSpec {
        title: "Toe over travel".into(),
        x: Axis { label: "wheel travel".into(), unit: "mm".into() },
        y: Axis { label: "toe".into(), unit: "deg".into() },
        series: (0..3).map(series).collect(),
        marks: Vec::new(),
        at: Some(20.0),
        width: 600.0,
        height: 320.0,
    };
    bencher.bench_local(|| line(&spec));
}

#[divan::bench]
fn mesh(bencher: divan::Bencher<'_, '_>) {
    let scene = scene(&car());
    bencher.bench_local(|| draw::solid::mesh(&scene));
}

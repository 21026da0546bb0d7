//! Draws the demo cars as PNG, to be looked at: `cargo run --example sheet -- OUT_FOLDER [EXAMPLES_FOLDER]`.
#![allow(clippy::expect_used, clippy::indexing_slicing)]

use std::path::{Path, PathBuf};

use draw::chart::{Axis, ChartSpec, Mark, Series, line};
use draw::style::{Theme, standalone_in};
use draw::{Fit, Overlays, Scene, ViewOptions, views};
use project::model::End;
use resvg::{tiny_skia, usvg};
use suspension::Mover;

fn main() {
    let mut args = std::env::args().skip(1);
    let out = PathBuf::from(args.next().unwrap_or_else(|| "sheets".into()));
    let examples = PathBuf::from(args.next().unwrap_or_else(|| "examples".into()));
    std::fs::create_dir_all(&out).expect("the folder can be made");
    let mut fonts = usvg::fontdb::Database::new();
    fonts.load_system_fonts();
    let mut options = usvg::Options { fontdb: std::sync::Arc::new(fonts), ..usvg::Options::default() };
    options.font_family = "DejaVu Sans".into();
    for (car, end) in [
        ("plover", End::Rear),
        ("plover", End::Front),
        ("wren", End::Rear),
        ("dunlin", End::Rear),
        ("dunlin", End::Front),
    ] {
        let text = std::fs::read_to_string(examples.join(car).join("car.toml")).expect("a demo car");
        let car_model = project::read(&text).car.expect("a sound demo car");
        let name = format!("{car}-{}", end.name());
        for (width, height, theme) in [(900.0, 520.0, Theme::Light), (360.0, 340.0, Theme::Dark)] {
            for (word, svg) in sheets(&car_model, end, width, height) {
                let path = out.join(format!("{name}-{word}-{width}.png"));
                save(&path, &standalone_in(&svg, theme), &options);
            }
        }
    }
}

fn sheets(car: &project::model::Car, end: End, width: f64, height: f64) -> Vec<(&'static str, String)> {
    let subject = study::Subject::new(car, end).expect("an axle");
    let make = |holes: &[usize], travel: f64| {
        let inputs = subject.nominal(holes);
        let corner = subject.corner(&inputs).expect("a corner");
        let mut mover = Mover::new(&corner);
        mover.at(travel, 0.0).expect("within reach");
        Scene::new(car, subject.axle(), &corner, &mut mover, &inputs.points)
    };
    let now = make(&[], 0.02);
    let ghost = make(&[], 0.0);
    let other = make(&[car.axle(end).map_or(0, |a| a.holes.len().min(3)).saturating_sub(1)], 0.02);
    let variants = [("cones".to_string(), &other)];
    let plain = Overlays::default();
    let rich = Overlays { ghost: Some(&ghost), variants: &variants };
    let corner = ViewOptions::new(width, height, car.units, &car.frame);
    let key = now.points[0].key.clone();
    let lit = ViewOptions { focus: Some(&key), ..corner };
    let whole = ViewOptions { region: Fit::Car, ..corner };
    vec![
        ("side", views::side(&now, &plain, &corner).svg),
        ("side-rich", views::side(&now, &rich, &lit).svg),
        ("side-car", views::side(&now, &plain, &whole).svg),
        ("rear", views::rear(&now, &plain, &corner).svg),
        ("rear-car", views::rear(&now, &plain, &whole).svg),
        ("top", views::top(&now, &plain, &corner).svg),
        ("top-car", views::top(&now, &plain, &whole).svg),
        ("chart", chart(&subject, width)),
    ]
}

fn chart(subject: &study::Subject<'_>, width: f64) -> String {
    let travels: Vec<f64> = (-30..=30).map(|i| f64::from(i) * 0.002).collect();
    let holes = subject.axle().holes.len().min(3);
    let mut series = Vec::new();
    for (nth, choice) in std::iter::once(vec![]).chain((0..holes).map(|h| vec![h])).enumerate() {
        let sweep = study::sweep(subject, &choice, &travels, 0.0).expect("a sweep");
        let points: Vec<(f64, f64)> =
            sweep.stations.iter().map(|s| (s.measures.travel * 1e3, s.measures.toe.to_degrees())).collect();
        let band = (nth == 0).then(|| {
            points.iter().map(|(x, y)| (y - 0.03 - x.abs() * 4e-4, y + 0.03 + x.abs() * 4e-4)).collect()
        });
        let name =
            choice.first().map_or("as drawn".into(), |h| format!("hole {}", subject.axle().holes[*h].name));
        series.push(Series { name, points, band, style: nth });
    }
    line(&ChartSpec {
        title: "Toe over travel".into(),
        x: Axis { label: "wheel travel, jounce positive".into(), unit: "mm".into() },
        y: Axis { label: "toe, toe-in positive".into(), unit: "deg".into() },
        series,
        marks: vec![Mark { x: -50.0, label: "rebound stop".into() }],
        at: Some(20.0),
        width,
        height: width * 0.45 + 120.0,
    })
}

fn save(path: &Path, svg: &str, options: &usvg::Options<'_>) {
    let tree = usvg::Tree::from_str(svg, options).expect("well-formed SVG");
    let size = tree.size().to_int_size();
    let mut pixels = tiny_skia::Pixmap::new(size.width(), size.height()).expect("a page");
    resvg::render(&tree, tiny_skia::Transform::identity(), &mut pixels.as_mut());
    pixels.save_png(path).expect("a writable folder");
}

//! A run over a course against what can be worked out on paper.
#![expect(clippy::indexing_slicing, reason = "a test that cannot look has failed")]

mod common;

use std::f64::consts::{PI, TAU};

use common::courses::{circuit, of, spot};
use common::point::Point;
use vehicle::GRAVITY;
use vehicle::lap::{Bound, Start, run};
use vehicle::limits::Limits;
use vehicle::venue::{Course, Section, Spot};

fn circle(radius: f64, count: usize) -> Course {
    of(&[(TAU * radius, 1.0 / radius)], TAU * radius / count as f64, true)
}

/// The published and worked figures below are for `g` of 9.81 m/s^2: the friction takes up the difference.
const USUAL: f64 = 9.81 / GRAVITY;

/// `v = sqrt(mu g R)` (any textbook; with mu 1.2 and R 50 m: 24.2611 m/s and 12.9491 s a round, worked out).
#[test]
fn a_circle() {
    let lap = run(&Point::of(1.2 * USUAL), &circle(50.0, 200), Start::Flying);
    assert!((lap.time - 12.949_105).abs() < 1e-5, "{}", lap.time);
    assert!((lap.greatest - 24.261_080).abs() < 1e-5 && (lap.least - 24.261_080).abs() < 1e-5);
    assert!(lap.samples.iter().all(|s| s.bound == Bound::Corner || s.bound == Bound::Traction));
}

/// With downforce `v^2 = mu g R/(1 - mu rho C_z A R/(2 m))` (worked out: mu 1.2, R 50 m, 800 kg, 3 m^2, 1.2 kg/m^3 give
/// 26.085675 m/s).
#[test]
fn a_circle_with_downforce() {
    let car = Point { down: 0.5 * 1.2 * 3.0 / 800.0 / USUAL, ..Point::of(1.2 * USUAL) };
    let lap = run(&car, &circle(50.0, 200), Start::Flying);
    assert!((lap.least - 26.085_675).abs() < 1e-4, "{}", lap.least);
}

/// A banked bend: `v^2 = g R (mu + tan b)/(1 - mu tan b)` (any textbook of mechanics).
#[test]
fn a_banked_circle() {
    for (bank, sign) in [(0.2f64, 1.0), (0.1, -1.0), (-0.08, 1.0)] {
        let mut course = circle(80.0, 300);
        for s in &mut course.spots {
            (s.bank, s.curvature) = (bank * sign, s.curvature * sign);
        }
        let lap = run(&Point::of(0.9), &course, Start::Flying);
        let v = (GRAVITY * 80.0 * (0.9 + bank.tan()) / (1.0 - 0.9 * bank.tan())).sqrt();
        assert!((lap.least - v).abs() < 1e-4, "{bank} {sign}: {} {v}", lap.least);
    }
}

/// From 20 to 20 m/s over 500 m with 5 and 10 m/s^2: the top is `sqrt((2 a b s + b v1^2 + a v2^2)/(a + b))` = 61.101009
/// m/s, and it takes 12.330303 s (worked out from constant acceleration).
#[test]
fn a_straight_between_two_corners() {
    let car = Point { braking: 10.0 / GRAVITY, driving: 5.0 / GRAVITY, ..Point::of(1.0) };
    let slow = 400.0 / GRAVITY;
    let course = of(&[(500.0, 0.0), (10.0, 1.0 / slow)], 0.1, false);
    let lap = run(&car, &course, Start::From(20.0));
    let (time, speed) = (lap.samples[5000].time, lap.samples[5000].speed);
    assert!((time - 12.330_303).abs() < 2e-3, "{time}");
    assert!((speed - 20.0).abs() < 1e-3 && (lap.greatest - 61.101).abs() < 0.05, "{}", lap.greatest);
}

/// B. Beckman, The Physics of Racing, part 18 (2000; read): 650 ft straight from 100 mph, half a circle of 150 ft at 1 g,
/// 650 ft straight at half a g, braking at 1 g. Published: 11.872 s to the end of the corner, 5.670 s on the way out,
/// 109.091 mph, 17.541 s in all. They come out with g = 32 ft/s^2, which his table must have used.
#[test]
fn a_published_hairpin() {
    let (foot, mph) = (0.3048, 0.44704);
    let g = 32.0 * foot / GRAVITY;
    let car = Point { driving: 0.5 * g, ..Point::of(g) };
    let step = 0.05;
    let (straight, arc) = (650.0 * foot, PI * 150.0 * foot);
    let radius = 150.0 * foot;
    let course = of(&[(straight, 0.0), (arc, 1.0 / radius), (straight, 0.0)], step, false);
    let lap = run(&car, &course, Start::From(100.0 * mph));
    let at = |way: f64| lap.samples[(way / step).round() as usize];
    // He holds the speed until he brakes; this car speeds up first. So the way in is compared from the braking on.
    let corner = at(straight + arc).time - at(straight).time;
    assert!((corner - 6.801_748).abs() < 5e-3, "{corner}");
    let out = lap.time - at(straight + arc).time;
    assert!((out - 5.670).abs() < 5e-3, "{out}");
    let end = lap.samples.last().expect("an end").speed / mph;
    assert!((end - 109.091).abs() < 0.02, "{end}");
    let hold = Point { driving: 0.0, ..car };
    let entry = run(&hold, &course, Start::From(100.0 * mph));
    let to_corner = entry.samples[((straight + arc) / step).round() as usize].time;
    assert!((to_corner - 11.872).abs() < 5e-3, "{to_corner}");
}

/// Power alone from rest: `v^3 = 3 P s/m`; with drag it ends at `(P/d)^(1/3)` (both from `m v^2 dv/ds = P - d v^3`).
#[test]
fn power_alone() {
    let car = Point { power: 150.0, driving: 50.0, ..Point::of(1.0) };
    let straight = of(&[(1000.0, 0.0)], 0.5, false);
    let lap = run(&car, &straight, Start::From(0.0));
    // From rest the first steps are coarse: the law is looked at from there on.
    let cube = |i: usize| lap.samples[i].speed.powi(3) - 3.0 * 150.0 * 0.5 * i as f64;
    for i in [200, 800, 2000] {
        let v = lap.samples[i].speed;
        assert!((cube(i) - cube(20)).abs() < 2e-3 * v.powi(3), "{i} {v}");
    }
    let car = Point { drag: 0.0004, ..car };
    let long = of(&[(20_000.0, 0.0)], 2.0, false);
    let top = (150.0f64 / 0.0004).cbrt();
    let lap = run(&car, &long, Start::From(10.0));
    assert!((lap.greatest - top).abs() < 0.01, "{} {top}", lap.greatest);
}

/// Up a grade a car in balance with gravity holds its speed: `P = m g sin(t) v`.
#[test]
fn a_climb() {
    let mut course = of(&[(8000.0, 0.0)], 2.0, false);
    for s in &mut course.spots {
        s.grade = 0.1;
    }
    let lap = run(&Point { power: 30.0, ..Point::of(1.0) }, &course, Start::From(20.0));
    let v = 30.0 / (GRAVITY * 0.1f64.atan().sin());
    let end = lap.samples.last().expect("an end").speed;
    assert!((end - v).abs() < 0.01, "{end} {v}");
}

/// Over a crest the speed is held down before the car flies: `v^2 = 0.8 g/k_v` where a fifth of the weight must stay.
#[test]
fn a_crest() {
    let mut course = of(&[(1000.0, 0.0)], 1.0, false);
    for s in course.spots.iter_mut().skip(600).take(20) {
        s.hollow = -1.0 / 120.0;
    }
    let lap = run(&Point::of(1.2), &course, Start::From(30.0));
    let v = (0.8 * GRAVITY * 120.0f64).sqrt();
    assert!((lap.samples[610].speed - v).abs() < 0.05, "{} {v}", lap.samples[610].speed);
    assert!(lap.samples.iter().any(|s| s.bound == Bound::Crest));
}

/// Invariants: never outside the ellipse, no faster with less grip or power, the same time backwards where driving and
/// braking are alike, sections add up, a flying lap ends as it began.
#[test]
fn what_must_hold_on_any_course() {
    let course = circuit(2.0);
    let car = Point { power: 160.0, drag: 0.0005, ..Point::of(1.1) };
    let lap = run(&car, &course, Start::Flying);
    let mut beyond = 0;
    for s in &lap.samples {
        let wanted = s.along + car.drag * s.speed * s.speed;
        let round = (wanted / (1.1 * GRAVITY)).hypot(s.across / (1.1 * GRAVITY));
        // At the places beside a corner's end the acceleration is the mean of both.
        beyond += usize::from(round > 1.0 + 1e-3);
    }
    assert!(beyond <= 2 * 17, "{beyond}");
    let mean: f64 = lap.samples.iter().map(|s| (s.across / GRAVITY / 1.1).abs()).fold(0.0, f64::max);
    assert!((mean - 1.0).abs() < 1e-3);
    assert!((lap.sections.iter().sum::<f64>() - lap.time).abs() < 1e-9);
    let last = lap.samples.last().expect("an end");
    let first = lap.samples[0];
    let closes = (last.speed.powi(2) + 2.0 * 2.0 * last.along).sqrt();
    assert!((closes - first.speed).abs() < 1e-4);
    let time = |car: Point| run(&car, &course, Start::Flying).time;
    assert!(time(Point { power: 150.0, ..car }) > lap.time);
    assert!(time(Point { across: 1.08, ..car }) > lap.time);
    assert!(time(Point { drag: 0.0006, ..car }) > lap.time);
    assert!(run(&car, &course, Start::From(0.0)).time > lap.time + 1.0);

    let even = Point::of(1.1);
    let mut back = course.clone();
    back.spots.reverse();
    back.spots.rotate_right(1);
    let (there, again) = (run(&even, &course, Start::Flying).time, run(&even, &back, Start::Flying).time);
    assert!((there - again).abs() < 2e-3 * there, "{there} {again}");
}

/// With half the step the time changes by about half as much: the corners' ends fall between places (first order); at 2 m it
/// is within 0.1 %.
#[test]
fn finer_steps_converge() {
    let car = Point { power: 160.0, drag: 0.0005, ..Point::of(1.1) };
    let time = |step: f64| run(&car, &circuit(step), Start::Flying).time;
    let best = time(0.125);
    let errors = [4.0, 2.0, 1.0, 0.5].map(|step| (time(step) - best).abs() / best);
    assert!(errors[1] < 1e-3, "{errors:?}");
    assert!(errors[3] < 0.5 * errors[1], "{errors:?}");
}

/// A course of one place more or less, of steps that are not even, of corners too tight to stand in: no number is lost.
#[test]
fn nothing_is_lost_on_odd_courses() {
    let mut seed = 7u64;
    let mut random = move || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    for round in 0..400 {
        let count = 1 + (random() * 60.0) as usize;
        let spots: Vec<Spot> = (0..count)
            .map(|_| Spot {
                curvature: (random() - 0.5) * random().powi(3),
                grade: 0.5 * (random() - 0.5),
                hollow: 0.02 * (random() - 0.5),
                bank: 0.6 * (random() - 0.5),
                grip: 0.2 + random(),
                ..spot(0.0)
            })
            .collect();
        let course = Course {
            step: 0.1 + 10.0 * random(),
            closed: round % 2 == 0,
            spots,
            sections: vec![Section { name: "all".into(), from: 0.0 }],
        };
        let start = if random() < 0.5 { Start::Flying } else { Start::From(30.0 * random()) };
        let car =
            Point { power: 20.0 + 100.0 * random(), drag: 0.001 * random(), ..Point::of(0.3 + random()) };
        let lap = run(&car, &course, start);
        assert!(lap.time.is_finite() && lap.time >= 0.0, "{round}: {lap:?}");
        assert!(lap.samples.iter().all(|s| s.speed.is_finite() && s.along.is_finite()), "{round}");
        assert!(lap.samples.iter().all(|s| s.speed <= car.fastest() + 1e-9));
    }
}

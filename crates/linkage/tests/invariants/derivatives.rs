//! Gradients, rates, screws and sensitivities against central differences.

use linkage::{Acceleration, Dual64, End, Frame, Linkage, Motion, Position, Solver, Twist};
use nalgebra::Vector3;

use crate::zoo::{self, DIRECTIONS, Drive, Numbers, POINTS};

/// Rows are of unit size: rounding 1e-16 over a step of 1e-6, and truncation 1e-12.
const GRADIENT_STEP: f64 = 1e-6;
const GRADIENT: f64 = 2e-9;
/// Second differences with a step of 1e-4: rounding 1e-16/1e-8, truncation 1e-8 of fourth derivatives.
const SECOND_STEP: f64 = 1e-4;
const SECOND: f64 = 1e-5;

/// Some position that need not satisfy the joints: bodies shifted, turned, inputs moved.
fn anywhere(linkage: &Linkage<f64>, numbers: &mut Numbers) -> Position<f64> {
    let mut q = Position::design(linkage.bodies(), linkage.inputs());
    for pose in &mut q.poses {
        pose.step(&(numbers.vector() * 0.1), &(numbers.vector() * 1.5));
    }
    for u in &mut q.inputs {
        *u = numbers.next() * 0.3;
    }
    q
}

fn some_motion(linkage: &Linkage<f64>, numbers: &mut Numbers) -> (Motion<f64>, Vec<Acceleration<f64>>) {
    let mut m = Motion::zero(linkage.bodies(), linkage.inputs());
    for twist in &mut m.twists {
        *twist = Twist { v: numbers.vector(), w: numbers.vector() };
    }
    for rate in &mut m.rates {
        *rate = numbers.next();
    }
    let c = (0..linkage.bodies())
        .map(|_| Acceleration { a: numbers.vector(), alpha: numbers.vector() })
        .collect();
    (m, c)
}

/// The position after a while `t` of a motion with constant rates of the inputs.
fn moved(q: &Position<f64>, m: &Motion<f64>, c: &[Acceleration<f64>], t: f64) -> Position<f64> {
    let mut q = q.clone();
    let half = 0.5 * t * t;
    for ((pose, twist), c) in q.poses.iter_mut().zip(&m.twists).zip(c) {
        pose.step(&(twist.v * t + c.a * half), &(twist.w * t + c.alpha * half));
    }
    for (u, rate) in q.inputs.iter_mut().zip(&m.rates) {
        *u += rate * t;
    }
    q
}

#[test]
fn gradients_of_all_rows_are_those_of_differences() {
    let mut numbers = Numbers::new(1);
    for drive in [Drive::Point, Drive::Turn] {
        let linkage = zoo::plain(drive);
        for _ in 0..10 {
            let q = anywhere(&linkage, &mut numbers);
            for (i, row) in linkage.rows().iter().enumerate() {
                let mut gradient = vec![0.0; 6 * linkage.bodies()];
                let residual = row.linearise(linkage.frames(), &q, &mut gradient);
                assert!((residual - row.residual(linkage.frames(), &q)).abs() < 1e-15);
                for (k, ours) in gradient.iter().enumerate() {
                    let mut unit = [Vector3::zeros(); 2];
                    unit[k % 6 / 3][k % 3] = 1.0;
                    let at = |h: f64| {
                        let mut q = q.clone();
                        q.poses[k / 6].step(&(unit[0] * h), &(unit[1] * h));
                        row.residual(linkage.frames(), &q)
                    };
                    let difference = (at(GRADIENT_STEP) - at(-GRADIENT_STEP)) / (2.0 * GRADIENT_STEP);
                    assert!(
                        (ours - difference).abs() < GRADIENT,
                        "{drive:?} row {i}, {k}: {ours} {difference}"
                    );
                }
            }
        }
    }
}

#[test]
fn rates_and_second_rates_of_all_rows_are_those_of_differences() {
    let mut numbers = Numbers::new(2);
    for drive in [Drive::Point, Drive::Turn] {
        let linkage = zoo::plain(drive);
        for _ in 0..10 {
            let q = anywhere(&linkage, &mut numbers);
            let (m, c) = some_motion(&linkage, &mut numbers);
            for (i, row) in linkage.rows().iter().enumerate() {
                let at = |t: f64| row.residual(linkage.frames(), &moved(&q, &m, &c, t));
                let rate = row.rate(linkage.frames(), &q, &m);
                let difference = (at(GRADIENT_STEP) - at(-GRADIENT_STEP)) / (2.0 * GRADIENT_STEP);
                assert!(
                    (rate - difference).abs() < 10.0 * GRADIENT,
                    "{drive:?} row {i}: {rate} {difference}"
                );
                let second = row.second_rate(linkage.frames(), &q, &m, &c);
                let difference = (at(SECOND_STEP) - 2.0 * at(0.0) + at(-SECOND_STEP)) / SECOND_STEP.powi(2);
                assert!((second - difference).abs() < SECOND, "{drive:?} row {i}: {second} {difference}");
                // The gradient contracted with the twists is the rate, but for the inputs' own part.
                let mut still = m.clone();
                still.rates.fill(0.0);
                let mut gradient = vec![0.0; 6 * linkage.bodies()];
                row.linearise(linkage.frames(), &q, &mut gradient);
                let twists = still
                    .twists
                    .iter()
                    .flat_map(|t| t.v.iter().chain(t.w.iter()).copied().collect::<Vec<_>>());
                let contracted: f64 = gradient.iter().zip(twists).map(|(g, t)| g * t).sum();
                assert!(
                    (contracted - row.rate(linkage.frames(), &q, &still)).abs() < 1e-13,
                    "{drive:?} row {i}"
                );
            }
        }
    }
}

/// Screws and their rates against differences of solved positions, along both inputs at once.
#[test]
fn screws_and_curvatures_are_those_of_positions() {
    const STEP: f64 = 1e-4;
    let watched = |i: usize, body: usize| End { frame: Frame::Body(body), at: Vector3::from(POINTS[i]) };
    let marks = [watched(0, 0), watched(8, 0), watched(9, 1), watched(13, 2), watched(16, 3), watched(18, 4)];
    for (drive, place) in [
        (Drive::Point, [0.03, 0.01]),
        (Drive::Point, [-0.04, -0.02]),
        (Drive::Turn, [0.1, 0.0]),
        (Drive::Turn, [-0.12, 0.02]),
    ] {
        let linkage = zoo::plain(drive);
        for rates in [[1.0, 0.0], [0.0, 1.0], [0.6, -0.8]] {
            let mut solver = Solver::new(&linkage);
            let mut at = |t: f64| -> Vec<Vector3<f64>> {
                solver.go_to(&[place[0] + rates[0] * t, place[1] + rates[1] * t]).unwrap();
                marks.iter().map(|m| solver.track(m).p).collect()
            };
            let (ahead, here, behind) = (at(STEP), at(0.0), at(-STEP));
            at(0.0);
            solver.differentiate(&rates).unwrap();
            for (i, mark) in marks.iter().enumerate() {
                let t = solver.track(mark);
                let v = (ahead[i] - behind[i]) / (2.0 * STEP);
                let a = (ahead[i] - here[i] * 2.0 + behind[i]) / STEP.powi(2);
                // Truncation: STEP squared over 6 (12) of third (fourth) derivatives of some hundreds.
                assert!((t.v - v).amax() < 3e-6, "{drive:?} mark {i}: {} {v}", t.v);
                assert!((t.a - a).amax() < 1e-4 * (1.0 + a.amax()), "{drive:?} mark {i}: {} {a}", t.a);
            }
        }
    }
}

/// Every coordinate of every point and every direction of every joint: the derivative of position, screw and
/// curvature against building and solving anew.
#[test]
fn sensitivities_are_those_of_solving_anew() {
    const STEP: f64 = 1e-5;
    let place = [0.025, 0.012];
    let linkage = zoo::plain(Drive::Point);
    let mut solver = Solver::new(&linkage);
    solver.go_to(&place).unwrap();
    let numbers = POINTS.len() * 3 + DIRECTIONS.len() * 3;
    for n in (0..27 * 3).chain(POINTS.len() * 3..numbers) {
        let point = |i: usize, by: f64| {
            let mut p = Vector3::from(POINTS[i]);
            if n / 3 == i {
                p[n % 3] += by;
            }
            p
        };
        let direction = |i: usize, by: f64| {
            let mut d = Vector3::from(DIRECTIONS[i]);
            if n / 3 == POINTS.len() + i {
                d[n % 3] += by;
            }
            d
        };
        let lift = |one: Vector3<f64>, zero: Vector3<f64>| one.zip_map(&zero, |a, b| Dual64::new(b, a - b));
        let dual = zoo::build(
            Drive::Point,
            |i| lift(point(i, 1.0), point(i, 0.0)),
            |i| lift(direction(i, 1.0), direction(i, 0.0)),
        );
        solver.differentiate(&[1.0, 0.0]).unwrap();
        let course = solver.sensitivity(&dual).unwrap();
        let anew = |by: f64| {
            // Reference points of bodies are a choice of numerics and stay; zoo takes them from points beyond 26
            // and the upright's centre, so that results are compared at points of the bodies.
            let moved = zoo::build(Drive::Point, |i| point(i, by), |i| direction(i, by));
            let mut solver = Solver::new(&moved);
            solver.go_to(&place).unwrap();
            solver.differentiate(&[1.0, 0.0]).unwrap();
            (0..5).map(|b| solver.track(&probe(b))).collect::<Vec<_>>()
        };
        let (above, below) = (anew(STEP), anew(-STEP));
        for body in 0..5 {
            let end = probe(body);
            let end = End { frame: end.frame, at: end.at.map(Dual64::from) };
            let ours = dual.frames().track(&course.position, &course.motion, &course.curvature, &end);
            let (up, down) = (&above[body], &below[body]);
            for (what, ours, up, down, tolerance) in [
                ("p", ours.p, up.p, down.p, 1e-7),
                ("v", ours.v, up.v, down.v, 2e-6),
                ("a", ours.a, up.a, down.a, 5e-5),
            ] {
                let difference = (up - down) / (2.0 * STEP);
                let off = (ours.map(|c| c.eps) - difference).amax();
                assert!(
                    off < tolerance * (1.0 + difference.amax()),
                    "{n} body {body} {what}: {off} of {difference}"
                );
            }
        }
    }
}

/// A fixed place that every body carries: not one of the points that are varied.
fn probe(body: usize) -> End<f64> {
    End { frame: Frame::Body(body), at: Vector3::new(-0.05, 0.5, 0.35) }
}

/// The response to a rod's length, as a derivative and by solving with another length.
#[test]
fn a_longer_rod_moves_the_bodies_as_the_response_says() {
    const STEP: f64 = 1e-6;
    let mut linkage = zoo::plain(Drive::Point);
    for name in ["fore", "aft", "tie", "push-rod", "plate rod 1", "plate rod 3"] {
        let joint = linkage.joint(name).unwrap();
        let rest = linkage.rod_length(joint).unwrap();
        let row = linkage.joints()[joint].rows.start;
        let response = {
            let mut solver = Solver::new(&linkage);
            solver.go_to(&[0.02, 0.01]).unwrap();
            solver.response(row).unwrap()
        };
        let mut at = |length: f64| {
            assert!(linkage.set_rod_length(joint, length));
            let mut solver = Solver::new(&linkage);
            solver.assemble().unwrap();
            solver.go_to(&[0.02, 0.01]).unwrap();
            solver.course().position
        };
        let (longer, shorter) = (at(rest + STEP), at(rest - STEP));
        at(rest);
        for (body, twist) in response.iter().enumerate() {
            let moved = (longer.poses[body].shift - shorter.poses[body].shift) / (2.0 * STEP);
            assert!(
                (moved - twist.v).amax() < 1e-7 * (1.0 + moved.amax()),
                "{name} {body}: {moved} {}",
                twist.v
            );
        }
    }
    assert!(!linkage.set_rod_length(0, 1.0), "a hinge has no length");
    assert_eq!(linkage.rod_length(0), None);
}

//! Frames that books print, inputs and results read in open code that transcribes them. Further digits than the book's
//! are those of a solver of our own in another language. Units are the books': kip and inch, kN and m.

use nalgebra::Vector3;
use steel::frame::{Foot, Frame, Load, Response, TubeEnd};

use super::common::{figures, grade, nodes, tube, up};

#[track_caller]
fn close(found: &Vector3<f64>, expected: [f64; 3], tolerance: f64) {
    let expected = Vector3::from(expected);
    assert!((found - expected).amax() <= tolerance, "{found:?} for {expected:?}");
}

fn one(frame: &Frame, loads: Vec<Load>) -> Response {
    let response = frame.factor().unwrap().solve(&[loads]).unwrap().remove(0);
    assert!(response.unbalanced < 1e-12, "{}", response.unbalanced);
    response
}

/// D. L. Logan, A First Course in the Finite Element Method, 4th ed., ex. 5.8.
#[test]
#[expect(clippy::approx_constant, reason = "0.318 is a force, printed to a thousandth")]
fn logan_example_5_8() {
    let (section, grade) = (figures(10.0, 100.0, 100.0, 50.0), grade(30_000.0, 10_000.0));
    let frame = Frame {
        nodes: nodes([[0.0, 0.0, 0.0], [-100.0, 0.0, 0.0], [0.0, 0.0, -100.0], [0.0, -100.0, 0.0]]),
        tubes: [1, 2, 3].map(|k| tube(k, 0, section, &grade)).to_vec(),
        feet: [1, 2, 3].map(Foot::fixed).to_vec(),
        ..Frame::default()
    };
    let load = Load { force: [0.0, -50.0, 0.0].into(), ..Load::moment(0, [-1000.0, 0.0, 0.0].into()) };
    let found = one(&frame, vec![load]);
    close(&found.moves[0].shift, [7.098258e-5, -1.399513e-2, -2.351889e-3], 1e-8);
    close(&found.moves[0].turn, [-3.996090e-3, 1.780069e-5, -1.033429e-4], 1e-9);
    let feet = [
        ([-0.213, 0.318, 0.053], [19.98, -3.165, 18.991]),
        ([0.029, 7.697, 7.056], [-264.957, 0.940, 0.517]),
        ([0.183, 41.985, -7.108], [-235.532, -0.089, -6.073]),
    ];
    for (found, (force, moment)) in found.feet.iter().zip(feet) {
        close(&found.force, force, 6e-4);
        close(&found.moment, moment, 6e-3);
    }
}

/// The same, problem 5.58.
#[test]
fn logan_problem_5_58() {
    let (section, grade) = (figures(100.0, 200.0, 1000.0, 100.0), grade(30_000.0, 10_000.0));
    let frame = Frame {
        nodes: nodes([[0.0, 0.0, 0.0], [120.0, 0.0, 0.0], [120.0, 0.0, -120.0], [120.0, -240.0, -120.0]]),
        tubes: vec![
            up(tube(0, 1, section, &grade), [0.0, 0.0, 1.0]),
            up(tube(1, 2, section, &grade), [1.0, 0.0, 0.0]),
            up(tube(2, 3, section, &grade), [0.0, 0.0, 1.0]),
        ],
        feet: vec![Foot::fixed(0), Foot::fixed(3)],
        ..Frame::default()
    };
    let first = Load { force: [0.0, -5.0, 0.0].into(), ..Load::moment(1, [-1200.0, 0.0, 0.0].into()) };
    let found = one(&frame, vec![first, Load::force(2, [0.0, 0.0, 40.0].into())]);
    assert!((found.moves[1].shift.y + 0.062232).abs() < 1e-6, "{}", found.moves[1].shift.y);
    assert!((found.moves[2].shift.z - 1.821762).abs() < 1e-6, "{}", found.moves[2].shift.z);
}

/// A. J. M. Ferreira, MATLAB Codes for Finite Element Analysis, ex. 8.3.
#[test]
fn ferreira_example_8_3() {
    let (section, grade) = (figures(0.02, 1e-4, 2e-4, 5e-5), grade(210e6, 84e6));
    let frame = Frame {
        nodes: nodes([[0.0, 0.0, 0.0], [3.0, 0.0, 0.0], [0.0, 0.0, -3.0], [0.0, -4.0, 0.0]]),
        tubes: vec![
            up(tube(0, 1, section, &grade), [0.0, 0.0, 1.0]),
            up(tube(0, 2, section, &grade), [1.0, 0.0, 0.0]),
            up(tube(0, 3, section, &grade), [0.0, 0.0, 1.0]),
        ],
        feet: [1, 2, 3].map(Foot::fixed).to_vec(),
        ..Frame::default()
    };
    let found = one(&frame, vec![Load::force(0, [-10.0, 0.0, 20.0].into())]);
    close(&found.moves[0].shift, [-7.051478e-6, -6.653671e-8, 1.417696e-5], 1e-11);
    close(&found.moves[0].turn, [1.447788e-6, 1.748584e-6, 1.136054e-6], 1e-12);
}

/// M. L. Sennett, Matrix Analysis of Structures, sec. 6.4.
#[test]
fn sennett_section_6_4() {
    let l = 180.0;
    let (section, grade) = (figures(7.08, 82.8, 18.3, 0.35), grade(29e6, 11.15e6));
    let frame = Frame {
        nodes: nodes([[l, 0.0, l], [0.0, 0.0, l], [l, l, l], [l, 0.0, 0.0]]),
        tubes: vec![
            up(tube(0, 1, section, &grade), [0.0, 0.0, 1.0]),
            up(tube(2, 0, section, &grade), [0.0, 0.0, 1.0]),
            up(tube(0, 3, section, &grade), [1.0, 0.0, 0.0]),
        ],
        feet: [1, 2, 3].map(Foot::fixed).to_vec(),
        ..Frame::default()
    };
    let found = one(&frame, vec![Load::moment(0, [0.0, 492_000.0, 0.0].into())]);
    close(&found.moves[0].shift, [1.79380884e-3, -4.09369624e-7, -1.79189574e-3], 1e-11);
    close(&found.moves[0].turn, [1.22261046e-5, 4.62419592e-3, 7.46563548e-6], 1e-11);
    // Printed in whole pounds and pound-inches.
    let at = found.tubes[0].at(0.0);
    for (found, printed, tolerance) in [
        (at.axial, 2046.0, 0.6),
        (at.shear_y, 0.73, 0.006),
        (at.shear_z, 2047.0, 0.6),
        (at.torque, 0.27, 0.006),
        (at.moment_y, 245_950.0, 6.0),
        (at.moment_z, 88.0, 0.6),
    ] {
        assert!((found.abs() - printed).abs() <= tolerance, "{found} for {printed}");
    }
}

/// W. Weaver, Computer Programs for Structural Analysis, p. 146, problem 8.
#[test]
fn weaver_problem_8() {
    let l = 120.0;
    let (section, grade) = (figures(11.0, 56.0, 56.0, 83.0), grade(30_000.0, 30_000.0 / 2.6));
    let frame = Frame {
        nodes: nodes([[0.0, l, 0.0], [2.0 * l, l, 0.0], [0.0, 0.0, 0.0], [3.0 * l, 0.0, l]]),
        tubes: [(0, 1), (2, 0), (1, 3)].map(|(a, b)| tube(a, b, section, &grade)).to_vec(),
        feet: vec![Foot::fixed(2), Foot::fixed(3)],
        ..Frame::default()
    };
    let second = Load { force: [0.0, -1.0, 0.0].into(), ..Load::moment(1, [0.0, 0.0, -120.0].into()) };
    let found = one(&frame, vec![Load::force(0, [2.0, 0.0, 0.0].into()), second]);
    close(&found.feet[0].force, [-1.1039, -0.43381, 0.21393], 6e-5);
    close(&found.feet[0].moment, [48.333, -17.656, 96.284], 6e-4);
    let at = found.tubes[0].at(0.0);
    let mut shears = [at.shear_y.abs(), at.shear_z.abs()];
    shears.sort_by(f64::total_cmp);
    for (found, printed) in [(at.axial.abs(), 0.89607), (shears[0], 0.21393), (shears[1], 0.43381)] {
        assert!((found - printed).abs() < 6e-6, "{found} for {printed}");
    }
    let mut moments = [at.moment_y.abs(), at.moment_z.abs()];
    moments.sort_by(f64::total_cmp);
    for (found, printed) in [(at.torque.abs(), 22.661), (moments[0], 17.656), (moments[1], 36.188)] {
        assert!((found - printed).abs() < 6e-4, "{found} for {printed}");
    }
}

/// A. Bedford and W. Fowler, Engineering Mechanics: Statics, 4th ed., problem 6.64: a truss of balls, printed in kN.
#[test]
fn bedford_fowler_problem_6_64() {
    let grade = grade(210e6, 81e6);
    let pairs = [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (1, 4)];
    let mut frame = Frame {
        nodes: nodes([[1.1, -0.4, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 0.6], [0.0, 0.0, -0.4], [0.0, 0.8, 0.0]]),
        tubes: pairs.map(|(a, b)| tube(a, b, figures(1e-3, 1e-6, 1e-6, 2e-6), &grade)).to_vec(),
        feet: [2, 3, 4].map(Foot::fixed).to_vec(),
        ..Frame::default()
    };
    for tube in &mut frame.tubes {
        tube.ends = tube.ends.map(|end| TubeEnd::ball(end.node));
    }
    let found = one(&frame, vec![Load::force(0, [10.0, 60.0, 20.0].into())]);
    for (tube, pull) in found.tubes.iter().zip([-72.154, -13.153, 43.293, 32.653, 45.235, -112.055]) {
        assert!((tube.axial - pull).abs() < 6e-4, "{} for {pull}", tube.axial);
        assert_eq!([tube.torque, tube.shear_y, tube.shear_z], [0.0; 3]);
    }
}

/// Logan, problem 5.30: a plane frame; the same figures across the plane.
#[test]
fn logan_problem_5_30() {
    let at = [[0.0, 0.0], [0.0, 360.0], [180.0, 480.0], [420.0, 480.0], [600.0, 360.0], [600.0, 0.0]];
    let (section, grade) = (figures(12.0, 200.0, 200.0, 400.0), grade(30_000.0, 11_500.0));
    let frame = Frame {
        nodes: nodes(at.map(|[x, y]| [x, y, 0.0])),
        tubes: (0..5).map(|k| tube(k, k + 1, section, &grade)).collect(),
        feet: vec![Foot::fixed(0), Foot::fixed(5)],
        ..Frame::default()
    };
    let down = Vector3::new(0.0, -30.0, 0.0);
    let found = one(&frame, vec![Load::force(2, down), Load::force(3, down)]);
    close(&found.feet[0].force, [11.687683, 30.0, 0.0], 1e-6);
    assert!((found.feet[0].moment.z.abs() - 1810.07446).abs() < 1e-5);
    assert!((found.moves[2].shift.y + 6.666757).abs() < 1e-6);
    assert!((found.moves[2].turn.z.abs() - 0.0319997).abs() < 1e-7);
}

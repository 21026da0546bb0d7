//! Reactions against hand statics and a printed truss.

use linkage::{Frame, Linkage, Loads, Position, Solver, reactions};
use nalgebra::Vector3;

use crate::support::on;

/// Forces [N] of the order of 1e5: rounding of a 12 by 12 solution.
const FORCE: f64 = 1e-6;

/// A. Bedford & W. Fowler, Engineering Mechanics: Statics, 4th ed., problem 6.64 (numbers read in an open
/// notebook; the book prints BC 32.7 T, BD 45.2 T, BE 112.1 C, all in kN). A joint of the truss is a small body
/// whose rods meet in its origin: it can spin, which no force does.
#[test]
fn the_space_truss_of_a_statics_book() {
    let at = |name: char| -> Vector3<f64> {
        match name {
            'A' => [1.1, -0.4, 0.0],
            'B' => [1.0, 0.0, 0.0],
            'C' => [0.0, 0.0, 0.6],
            'D' => [0.0, 0.0, -0.4],
            _ => [0.0, 0.8, 0.0],
        }
        .into()
    };
    let mut linkage = Linkage::new();
    let (a, b) = (linkage.add_body("A", at('A')), linkage.add_body("B", at('B')));
    let frame = |name| match name {
        'A' => a,
        'B' => b,
        _ => Frame::Ground,
    };
    let members = [
        ('A', 'B', -72.154),
        ('A', 'C', -13.153),
        ('A', 'D', 43.293),
        ('B', 'C', 32.653),
        ('B', 'D', 45.235),
        ('B', 'E', -112.055),
    ];
    for (p, q, _) in members {
        linkage.rod(&format!("{p}{q}"), on(frame(p), at(p)), on(frame(q), at(q))).unwrap();
    }
    let q = Position::design(2, 0);
    let mut loads = Loads::none(2);
    loads.add_force(&linkage, &q, &on(a, at('A')), Vector3::new(10.0, 60.0, 20.0));
    let found = reactions(&linkage, &q, &loads, &[]).unwrap();
    assert!(found.unbalanced < 1e-10);
    for (i, (p, q, printed)) in members.iter().enumerate() {
        let tension = found.tension(&linkage, i).unwrap();
        assert!((tension - printed).abs() < 6e-4, "{p}{q}: {tension} kN against {printed}");
    }
}

/// Hand: a weight on one rod is the rod's pull, and the two rods of a bracket close a triangle of forces.
#[test]
fn a_bracket_closes_its_triangle_of_forces() {
    let mut linkage = Linkage::new();
    let tip = Vector3::new(0.4, 0.0, 0.0);
    let body = linkage.add_body("tip", tip);
    linkage.rod("tie", on(Frame::Ground, Vector3::new(0.0, 0.0, 0.3)), on(body, tip)).unwrap();
    linkage.rod("strut", on(Frame::Ground, Vector3::zeros()), on(body, tip)).unwrap();
    let q = Position::design(1, 0);
    let mut loads = Loads::none(1);
    loads.add_force(&linkage, &q, &on(body, tip), Vector3::new(0.0, 0.0, -900.0));
    let found = reactions(&linkage, &q, &loads, &[]).unwrap();
    // Tie at 3-4-5: its rise carries 900 N, so it pulls 1500 N, and the strut is pressed with 1200 N.
    assert!((found.tension(&linkage, 0).unwrap() - 1500.0).abs() < FORCE);
    assert!((found.tension(&linkage, 1).unwrap() + 1200.0).abs() < FORCE);
    assert!(found.unbalanced < FORCE);
    assert_eq!(found.tension(&linkage, 7), None);
}

/// Hand: a lever 3 : 1 on its pivot, held by a rod at the short arm; moved to an angle, where levers shorten.
#[test]
fn a_lever_weighs_its_arms() {
    let mut linkage = Linkage::new();
    let lever = linkage.add_body("lever", Vector3::zeros());
    let turn = linkage.add_input();
    let (long, short) = (Vector3::new(0.6, 0.0, 0.0), Vector3::new(-0.2, 0.0, 0.0));
    linkage.hinge("pivot", Frame::Ground, lever, Vector3::zeros(), Vector3::y()).unwrap();
    linkage.drive_turn("hand", lever, Vector3::y(), turn).unwrap();
    let mut solver = Solver::new(&linkage);
    for angle in [0.0f64, 0.3, -0.5] {
        solver.go_to(&[angle]).unwrap();
        let q = solver.position();
        let mut loads = Loads::none(1);
        loads.add_force(&linkage, q, &on(lever, long), Vector3::new(0.0, 0.0, -100.0));
        // A rod straight below the short end in its present place: 300 N at any angle.
        let end = linkage.frames().point(q, &on(lever, short));
        let foot = end - Vector3::new(0.0, 0.0, 0.25);
        let rod = linkage::Row::Distance { a: on(lever, short), b: on(Frame::Ground, foot), length: 0.25 };
        let found = reactions(&linkage, q, &loads, &[rod]).unwrap();
        let last = found.values.len() - 1;
        assert!((-found.values[last] - 300.0).abs() < FORCE, "tension {}", -found.values[last]);
        // The pivot carries both: 400 N upward (ball rows act along x, y, z on the lever).
        assert!((found.values[2] - 400.0).abs() < FORCE, "{:?}", found.values);
        assert!(found.unbalanced < FORCE);
    }
    // With nothing that holds the lever the load stays out of balance.
    let mut loads = Loads::none(1);
    loads.add_force(&linkage, solver.position(), &on(lever, long), Vector3::new(0.0, 0.0, -100.0));
    assert!(reactions(&linkage, solver.position(), &loads, &[]).unwrap().unbalanced > 10.0);
}

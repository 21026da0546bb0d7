//! The wall of a tube under a tab.

use steel::Failure;
use steel::part::{TubeWall, WallLoad};

use crate::common::*;

fn on_box(grade: &steel::grade::Grade) -> TubeWall<'_> {
    TubeWall {
        face: 40.0 * MM,
        wall: 3.0 * MM,
        round: false,
        plate: 50.0 * MM,
        thickness: 5.0 * MM,
        used: 0.0,
        grade,
    }
}

/// By hand after EN 1993-1-8 table 7.13: 355 * 9 * (2 * 50/40 + 4 sqrt(1 - 5/40)) = 19 942 N; punching 2 * 3 * 50 * 355/sqrt 3.
#[test]
fn a_plate_along_a_box() {
    let grade = s355();
    let checks = on_box(&grade).checks(&WallLoad { square: 5e3, moment: 0.0 }).unwrap();
    near(of(&checks, Failure::TubeWall).capacity, 19_942.0, PRINTED);
    near(of(&checks, Failure::Punching).capacity, 61_488.0, PRINTED);
    // 100 Nm on a plate of 50 mm: a couple of 4 kN 25 mm apart, together as bad as 8 kN.
    let tipped = on_box(&grade).checks(&WallLoad { square: 0.0, moment: 100.0 }).unwrap();
    near(of(&tipped, Failure::TubeWall).demand, 8e3, EXACT);
}

/// The yield lines of a long plate: per length, both sides of the plate bend over half the face with hinges at plate and corner:
/// 2 * 2 m/(b/2) with m = f t^2/4 is 2 f t^2/b. The formula must grow by that with the plate's length.
#[test]
fn the_formula_grows_with_length_as_yield_lines_do() {
    let grade = s355();
    let capacity = |plate| {
        let wall = TubeWall { plate, ..on_box(&grade) };
        of(&wall.checks(&WallLoad::default()).unwrap(), Failure::TubeWall).capacity
    };
    near(capacity(0.150) - capacity(0.050), 0.100 * 2.0 * 355e6 * 9e-6 / 0.040, EXACT);
}

/// By hand after EN 1993-1-8 table 7.3: 5 * 355 * 6.25 * (1 + 0.25 * 50/48) = 13 983 N; half used: times 1 - 0.3 * 0.5 * 1.5.
#[test]
fn a_plate_along_a_round_tube() {
    let grade = s355();
    let tube = TubeWall { face: 48.0 * MM, wall: 2.5 * MM, round: true, ..on_box(&grade) };
    let checks = tube.checks(&WallLoad::default()).unwrap();
    near(of(&checks, Failure::TubeWall).capacity, 13_983.0, PRINTED);
    let used = TubeWall { used: 0.5, ..tube }.checks(&WallLoad::default()).unwrap();
    near(of(&used, Failure::TubeWall).capacity, 13_983.0 * 0.775, PRINTED);
    let boxed = TubeWall { used: 0.5, ..on_box(&grade) }.checks(&WallLoad::default()).unwrap();
    near(term(of(&boxed, Failure::TubeWall), "k"), 0.65, EXACT);
    // A tube past its own yield has nothing left for the plate.
    let over = TubeWall { used: 1.2, ..on_box(&grade) };
    let checks = over.checks(&WallLoad { square: 1.0, moment: 0.0 }).unwrap();
    assert_eq!(of(&checks, Failure::TubeWall).holds(), 0.0);
}

#[test]
fn thin_walls_are_said() {
    let grade = s355();
    let thin = TubeWall { wall: 2.0 * MM, ..on_box(&grade) };
    assert!(thin.checks(&WallLoad::default()).unwrap().iter().all(|check| check.outside.is_some()));
    assert!(on_box(&grade).checks(&WallLoad::default()).unwrap().iter().all(|check| check.outside.is_none()));
}

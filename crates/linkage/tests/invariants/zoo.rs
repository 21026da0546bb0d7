//! Five bodies with every kind of joint between them: an upright on an arm and three rods (one on a carriage), a
//! rocker by push-rod, a drop link that hangs on a ball, a line and a kept angle, a plate on planes and rods.

use linkage::scalar::Real;
use linkage::{End, Frame, Linkage};
use nalgebra::Vector3;

pub const UPRIGHT: Frame = Frame::Body(0);
pub const ROCKER: Frame = Frame::Body(2);

/// What drives the mechanism.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// The height of the upright's centre [m].
    Point,
    /// The angle of the arm [rad].
    Turn,
}

/// Points [m]. The first is the centre of the upright.
pub const POINTS: [[f64; 3]; 30] = [
    [0.0, 0.72, 0.30],   // 0 centre
    [0.17, 0.33, 0.18],  // 1 arm hinge
    [-0.18, 0.34, 0.19], // 2
    [0.01, 0.70, 0.16],  // 3 arm ball
    [0.12, 0.42, 0.47],  // 4 upper rods
    [-0.14, 0.43, 0.46], // 5
    [-0.02, 0.66, 0.46], // 6
    [-0.13, 0.36, 0.22], // 7 tie rod
    [-0.14, 0.68, 0.21], // 8
    [0.02, 0.60, 0.19],  // 9 push-rod on arm
    [0.01, 0.42, 0.60],  // 10 push-rod on rocker
    [-0.06, 0.33, 0.50], // 11 rocker hinge
    [0.09, 0.34, 0.49],  // 12
    [0.02, 0.36, 0.68],  // 13 spring on rocker
    [0.05, 0.08, 0.66],  // 14 spring on ground
    [0.06, 0.38, 0.62],  // 15 drop link ball on rocker
    [0.09, 0.37, 0.44],  // 16 drop link foot on a line
    [-0.30, 0.50, 0.40], // 17 plate, plane points
    [-0.42, 0.62, 0.41], // 18
    [-0.33, 0.60, 0.52], // 19
    [-0.28, 0.30, 0.38], // 20 rods of the plate
    [-0.55, 0.40, 0.36], // 21
    [-0.36, 0.45, 0.70], // 22
    [-0.29, 0.52, 0.44], // 23
    [-0.40, 0.58, 0.40], // 24
    [-0.34, 0.56, 0.50], // 25
    [0.03, 0.69, 0.28],  // 26 a rod of the plate goes to the upright
    [-0.36, 0.56, 0.45], // 27 middle of the plate
    [0.0, 0.45, 0.20],   // 28 middle of the arm
    [0.03, 0.36, 0.60],  // 29 middle of the rocker
];

/// Directions: up (the drive), the carriage, the line, two of the kept angle, three normals of planes.
pub const DIRECTIONS: [[f64; 3]; 8] = [
    [0.0, 0.0, 1.0],
    [0.1, 1.0, 0.05],
    [0.2, 0.1, 1.0],
    [1.0, 0.0, 0.1],
    [0.1, 0.7, 0.7],
    [0.1, 0.2, 1.0],
    [1.0, 0.1, 0.2],
    [0.1, 1.0, -0.1],
];

/// Builds it from points and directions given by their index. Input 0 is the drive, input 1 the carriage.
pub fn build<T: Real>(
    drive: Drive,
    p: impl Fn(usize) -> Vector3<T>,
    d: impl Fn(usize) -> Vector3<T>,
) -> Linkage<T> {
    let ground = Frame::Ground;
    let on = |frame, i| End { frame, at: p(i) };
    let origin = |i: usize| p(i).map(|c| c.re());
    let mut l = Linkage::new();
    let upright = l.add_body("upright", origin(0));
    let arm = l.add_body("arm", origin(28));
    let rocker = l.add_body("rocker", origin(29));
    let drop = l.add_body("drop", origin(15));
    let plate = l.add_body("plate", origin(27));
    let (driven, rack) = (l.add_input(), l.add_input());
    let carriage = l.add_carriage(d(1), rack);

    l.hinge("arm hinge", ground, arm, p(1), p(2)).unwrap();
    l.ball("arm ball", arm, upright, p(3)).unwrap();
    l.rod("fore", on(ground, 4), on(upright, 6)).unwrap();
    l.rod("aft", on(ground, 5), on(upright, 6)).unwrap();
    l.rod("tie", on(carriage, 7), on(upright, 8)).unwrap();
    l.rod("push-rod", on(arm, 9), on(rocker, 10)).unwrap();
    l.hinge("rocker hinge", ground, rocker, p(11), p(12)).unwrap();
    l.ball("drop ball", rocker, drop, p(15)).unwrap();
    l.point_on_line("drop line", ground, d(2), on(drop, 16)).unwrap();
    l.keep_angle("drop angle", rocker, d(3), drop, d(4)).unwrap();
    l.point_in_plane("plane on upright", upright, d(5), on(plate, 17)).unwrap();
    l.point_in_plane("plane on ground", ground, d(6), on(plate, 18)).unwrap();
    l.point_in_plane("plane on plate", plate, d(7), on(arm, 9)).unwrap();
    l.rod("plate rod 1", on(ground, 20), on(plate, 23)).unwrap();
    l.rod("plate rod 2", on(ground, 21), on(plate, 24)).unwrap();
    l.rod("plate rod 3", on(upright, 26), on(plate, 25)).unwrap();
    match drive {
        Drive::Point => l.drive_point("lift", on(upright, 0), d(0), driven).unwrap(),
        Drive::Turn => l.drive_turn("motor", arm, p(1) - p(2), driven).unwrap(),
    }
    l
}

pub fn plain(drive: Drive) -> Linkage<f64> {
    build(drive, |i| POINTS[i].into(), |i| DIRECTIONS[i].into())
}

/// The spring between ground and rocker, as what holds the mechanism.
pub fn spring() -> linkage::Row<f64> {
    let on = |frame, i: usize| End { frame, at: Vector3::from(POINTS[i]) };
    let length = (Vector3::from(POINTS[13]) - Vector3::from(POINTS[14])).norm();
    linkage::Row::Distance { a: on(ROCKER, 13), b: on(Frame::Ground, 14), length }
}

/// A small generator with a fixed start: numbers between -1 and 1.
pub struct Numbers(u64);

impl Numbers {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    pub fn vector(&mut self) -> Vector3<f64> {
        Vector3::new(self.next(), self.next(), self.next())
    }
}

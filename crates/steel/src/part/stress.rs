//! The worst point of a section under forces and moments.

use std::f64::consts::TAU;

use super::member::Internal;
use crate::section::{Section, Shape};

/// Directions round a round section that are looked at, besides those of bending and of shear.
const DIRECTIONS: u32 = 72;

/// Stations from the middle of a wall to its corner.
const STATIONS: u32 = 16;

/// Stresses at one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Point {
    /// Which point.
    pub place: &'static str,
    /// Stress along the member [Pa].
    pub along: f64,
    /// Shear stress [Pa].
    pub shear: f64,
}

impl Point {
    /// Combined stress [Pa]: `sqrt(sigma^2 + 3 tau^2)` (von Mises).
    pub fn combined(&self) -> f64 {
        // hypot: squares of stresses near the limit of figures would overflow.
        self.along.hypot(3_f64.sqrt() * self.shear)
    }
}

/// The point of greatest combined stress. Shear of torque and of force are added by magnitude: on one of the two sides of a
/// section they do add.
pub(super) fn worst(section: &Section, at: &Internal) -> Point {
    let axial = at.axial.abs() / section.area;
    let torsion = at.torque.abs() / section.torsion_modulus;
    let about_y = at.bending_y.abs() / section.modulus_y;
    let about_z = at.bending_z.abs() / section.modulus_z;
    match section.shape {
        Shape::Round { diameter, wall } => {
            round(section, at, (axial, torsion), diameter / 2.0, diameter / 2.0 - wall)
        }
        Shape::Bar { diameter } => round(section, at, (axial, torsion), diameter / 2.0, 0.0),
        Shape::Box { height, width, wall, .. } => {
            let (tall, wide) = (height - wall, width - wall);
            // First moments with sharp corners, a little above those with round ones.
            let web = |outer: f64, inner: f64, walls: f64| {
                outer * wall * inner / 2.0 + wall * (walls / 2.0 - wall).powi(2)
            };
            let corner_z = at.shear_z.abs() * width * tall / (4.0 * section.second_y);
            let corner_y = at.shear_y.abs() * height * wide / (4.0 * section.second_z);
            let middle_z = at.shear_z.abs() * web(width, tall, height) / (2.0 * wall * section.second_y);
            let middle_y = at.shear_y.abs() * web(height, wide, width) / (2.0 * wall * section.second_z);
            sides(axial, torsion, [about_y, about_z], [middle_y, middle_z], [corner_y, corner_z])
        }
        Shape::Flat { .. } => {
            // Shear of a force is parabolic, 3/2 of its mean in the middle. Torsion is taken as even all along the sides: on a thin
            // flat it is, but for the last of the corner.
            let middle_y = 1.5 * at.shear_y.abs() / section.area;
            let middle_z = 1.5 * at.shear_z.abs() / section.area;
            let core = Point {
                place: "stress along the member, in the core",
                along: axial,
                shear: middle_y.hypot(middle_z),
            };
            greatest([core, sides(axial, torsion, [about_y, about_z], [middle_y, middle_z], [0.0, 0.0])])
        }
    }
}

/// The worst point of the walls or sides from middle to corner, by stress of the force along the member, of torque, of bending
/// about y and z, and of the forces along y and z in the middle of their walls and at the corners.
fn sides(
    axial: f64,
    torsion: f64,
    [about_y, about_z]: [f64; 2],
    [middle_y, middle_z]: [f64; 2],
    [corner_y, corner_z]: [f64; 2],
) -> Point {
    let mut worst = Point { place: "stress along the member", along: 0.0, shear: 0.0 };
    for step in 0..=STATIONS {
        // From the middle of a wall to its corner: bending about the axis across rises straight, shear of the force along the wall
        // falls as a parabola, that of the force across it rises straight.
        let s = f64::from(step) / f64::from(STATIONS);
        let wall_z = Point {
            place: place(step, "stress along the member, at the middle of a wall along z"),
            along: axial + about_z + s * about_y,
            shear: torsion + middle_z - (middle_z - corner_z) * s * s + s * corner_y,
        };
        let wall_y = Point {
            place: place(step, "stress along the member, at the middle of a wall along y"),
            along: axial + about_y + s * about_z,
            shear: torsion + middle_y - (middle_y - corner_y) * s * s + s * corner_z,
        };
        worst = greatest([worst, wall_z, wall_y]);
    }
    worst
}

/// What a station on a wall is called.
fn place(step: u32, middle: &'static str) -> &'static str {
    match step {
        0 => middle,
        STATIONS => "stress along the member, at a corner",
        _ => "stress along the member, between the middle of a wall and a corner",
    }
}

/// The worst point of a round section.
fn round(section: &Section, at: &Internal, (axial, torsion): (f64, f64), outer: f64, inner: f64) -> Point {
    // Greatest shear stress over the mean one: 4/3 of a bar, 2 of a thin tube.
    let peak = 4.0 / 3.0 * (outer * outer + outer * inner + inner * inner) / (outer * outer + inner * inner);
    let bending = at.bending_y.hypot(at.bending_z) / section.modulus_y;
    let across = peak * at.shear_y.hypot(at.shear_z) / section.area;
    // Fibres at angle a from y stand at (cos a, sin a): sigma = (M_y sin a - M_z cos a)/W, so that bending is greatest at
    // `hardest`; shear is greatest a quarter turn from the force.
    let hardest = at.bending_y.atan2(-at.bending_z);
    let pushed = at.shear_z.atan2(at.shear_y);
    let angles = (0..DIRECTIONS)
        .map(|step| TAU * f64::from(step) / f64::from(DIRECTIONS))
        .chain([hardest, pushed + TAU / 4.0]);
    let mut worst = Point { place: "stress along the member, at the skin", along: axial, shear: torsion };
    for angle in angles {
        let point = Point {
            along: axial + bending * (angle - hardest).cos().abs(),
            shear: torsion + across * (angle - pushed).sin().abs(),
            ..worst
        };
        if point.combined() > worst.combined() {
            worst = point;
        }
    }
    worst
}

/// The greatest of several points; the first where equal.
fn greatest<const N: usize>(points: [Point; N]) -> Point {
    let mut worst = Point { place: "stress along the member", along: 0.0, shear: 0.0 };
    for point in points {
        if point.combined() > worst.combined() {
            worst = point;
        }
    }
    worst
}

//! A rectangular tube with rounded corners: EN 10219-2:2006 annex B, its formulas remembered; the tests hold them
//! against the tables of the standard's makers and of AISC.

use std::f64::consts::PI;

use super::{Section, Shape, shear};

pub(super) fn section(height: f64, width: f64, wall: f64, corner: f64) -> Section {
    let inner = (corner - wall).max(0.0);
    let area = 2.0 * wall * (width + height - 2.0 * wall) - (4.0 - PI) * (corner * corner - inner * inner);
    let second_y = second(height, width, wall, corner);
    let second_z = second(width, height, wall, corner);

    // The middle line: its length, the area within, and St Venant's share of the wall itself.
    let (along, across) = (height - wall, width - wall);
    let middle = f64::midpoint(corner, inner);
    let round = 2.0 * (along + across) - 2.0 * middle * (4.0 - PI);
    let within = along * across - middle * middle * (4.0 - PI);
    let bredt = 2.0 * within * wall / round;
    let torsion = wall.powi(3) * round / 3.0 + 2.0 * bredt * within;

    Section {
        shape: Shape::Box { height, width, wall, corner },
        area,
        second_y,
        second_z,
        torsion,
        modulus_y: 2.0 * second_y / height,
        modulus_z: 2.0 * second_z / width,
        torsion_modulus: torsion / (wall + bredt / wall),
        shear_y: area * shear::thin_box(along / across, shear::POISSON),
        shear_z: area * shear::thin_box(across / along, shear::POISSON),
    }
}

/// Plastic modulus about the axis across `height` [m^3].
pub(super) fn plastic(height: f64, width: f64, wall: f64, corner: f64) -> f64 {
    let (clear_height, clear_width) = (height - 2.0 * wall, width - 2.0 * wall);
    let outer = Spandrel::of(height, corner);
    let inner = Spandrel::of(clear_height, (corner - wall).max(0.0));
    width * height * height / 4.0
        - clear_width * clear_height * clear_height / 4.0
        - 4.0 * outer.area * outer.away
        + 4.0 * inner.area * inner.away
}

/// Second moment about the axis across `height` [m^4].
fn second(height: f64, width: f64, wall: f64, corner: f64) -> f64 {
    let (clear_height, clear_width) = (height - 2.0 * wall, width - 2.0 * wall);
    let outer = Spandrel::of(height, corner);
    let inner = Spandrel::of(clear_height, (corner - wall).max(0.0));
    width * height.powi(3) / 12.0
        - clear_width * clear_height.powi(3) / 12.0
        - 4.0 * (outer.own + outer.area * outer.away * outer.away)
        + 4.0 * (inner.own + inner.area * inner.away * inner.away)
}

/// What a rounded corner cuts off a square one.
struct Spandrel {
    area: f64,
    /// From the middle of the section to its centroid [m].
    away: f64,
    /// Second moment about its own centroid [m^4].
    own: f64,
}

impl Spandrel {
    fn of(height: f64, radius: f64) -> Self {
        Self {
            area: (1.0 - PI / 4.0) * radius * radius,
            away: height / 2.0 - (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI) * radius,
            own: (1.0 / 3.0 - PI / 16.0 - 1.0 / (3.0 * (12.0 - 3.0 * PI))) * radius.powi(4),
        }
    }
}

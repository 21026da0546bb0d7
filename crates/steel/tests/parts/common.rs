//! Sections, steels and units of the examples.

use std::f64::consts::PI;

use steel::grade::{DENSITY, Grade, SHEAR, YOUNG};
use steel::section::{Section, Shape};
use steel::{Check, Failure};

pub const INCH: f64 = 0.0254;
pub const POUND: f64 = 4.448_221_615;
pub const PSI: f64 = POUND / (INCH * INCH);
pub const MM: f64 = 1e-3;
pub const MPA: f64 = 1e6;

/// Closeness of figures that are printed to three or four digits.
pub const PRINTED: f64 = 2e-3;

/// Closeness of figures worked out to the last digit.
pub const EXACT: f64 = 1e-9;

#[track_caller]
pub fn near(found: f64, expected: f64, share: f64) {
    assert!((found - expected).abs() <= share * expected.abs(), "found {found}, expected {expected}");
}

#[track_caller]
pub fn of(checks: &[Check], failure: Failure) -> &Check {
    checks.iter().find(|check| check.failure == failure).unwrap()
}

#[track_caller]
pub fn term(check: &Check, symbol: &str) -> f64 {
    check.terms.iter().find(|term| term.symbol == symbol).unwrap().value
}

pub fn steel_of(young: f64, yields: f64, breaks: f64) -> Grade {
    Grade {
        name: "of the example".to_owned(),
        yields,
        breaks,
        young,
        shear: SHEAR,
        density: DENSITY,
        source: "the example".to_owned(),
    }
}

pub fn s355() -> Grade {
    steel_of(YOUNG, 355e6, 470e6)
}

pub fn round(diameter: f64, wall: f64) -> Section {
    let inner = diameter - 2.0 * wall;
    let area = PI / 4.0 * (diameter.powi(2) - inner.powi(2));
    let second = PI / 64.0 * (diameter.powi(4) - inner.powi(4));
    ringed(Shape::Round { diameter, wall }, area, second, diameter)
}

pub fn bar(diameter: f64) -> Section {
    let (area, second) = (PI / 4.0 * diameter.powi(2), PI / 64.0 * diameter.powi(4));
    ringed(Shape::Bar { diameter }, area, second, diameter)
}

fn ringed(shape: Shape, area: f64, second: f64, diameter: f64) -> Section {
    let modulus = 2.0 * second / diameter;
    Section {
        shape,
        area,
        second_y: second,
        second_z: second,
        torsion: 2.0 * second,
        modulus_y: modulus,
        modulus_z: modulus,
        torsion_modulus: 2.0 * modulus,
        shear_y: f64::INFINITY,
        shear_z: f64::INFINITY,
    }
}

pub fn flat(height: f64, width: f64) -> Section {
    let (long, short) = (height.max(width), height.min(width));
    Section {
        shape: Shape::Flat { height, width },
        area: height * width,
        second_y: width * height.powi(3) / 12.0,
        second_z: height * width.powi(3) / 12.0,
        torsion: long * short.powi(3) / 3.0,
        modulus_y: width * height.powi(2) / 6.0,
        modulus_z: height * width.powi(2) / 6.0,
        torsion_modulus: long * short.powi(2) / 3.0,
        shear_y: f64::INFINITY,
        shear_z: f64::INFINITY,
    }
}

/// A box with sharp corners.
pub fn boxed(height: f64, width: f64, wall: f64) -> Section {
    let (tall, wide) = (height - 2.0 * wall, width - 2.0 * wall);
    let second = |h: f64, b: f64| b * h.powi(3) / 12.0;
    let (second_y, second_z) =
        (second(height, width) - second(tall, wide), second(width, height) - second(wide, tall));
    let (middle, round) = ((height - wall) * (width - wall), 2.0 * (height + width - 2.0 * wall));
    Section {
        shape: Shape::Box { height, width, wall, corner: 2.0 * wall },
        area: height * width - tall * wide,
        second_y,
        second_z,
        torsion: 4.0 * middle * middle * wall / round,
        modulus_y: 2.0 * second_y / height,
        modulus_z: 2.0 * second_z / width,
        torsion_modulus: 2.0 * middle * wall,
        shear_y: f64::INFINITY,
        shear_z: f64::INFINITY,
    }
}

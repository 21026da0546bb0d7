//! Courses of straights and arcs, made up: by their curvature alone.

use vehicle::venue::{Course, Section, Spot};

/// A place on the level.
pub fn spot(curvature: f64) -> Spot {
    Spot {
        place: [0.0; 2],
        heading: 0.0,
        curvature,
        height: 0.0,
        grade: 0.0,
        hollow: 0.0,
        bank: 0.0,
        grip: 1.0,
        room: [f64::INFINITY; 2],
    }
}

/// A course of (length [m], curvature [1/m]) one after the other.
pub fn of(parts: &[(f64, f64)], step: f64, closed: bool) -> Course {
    let total: f64 = parts.iter().map(|p| p.0).sum();
    let count = (total / step).round() as usize + usize::from(!closed);
    let at = |way: f64| {
        let mut end = 0.0;
        for (length, curvature) in parts {
            end += length;
            if way < end - 1e-9 {
                return *curvature;
            }
        }
        parts.last().map_or(0.0, |p| p.1)
    };
    let spots = (0..count).map(|i| spot(at(step * i as f64))).collect();
    Course { step, closed, spots, sections: vec![Section { name: "all".into(), from: 0.0 }] }
}

/// Five kilometres of a fast circuit.
pub fn circuit(step: f64) -> Course {
    of(
        &[
            (700.0, 0.0),
            (120.0, 1.0 / 60.0),
            (350.0, 0.0),
            (200.0, -1.0 / 150.0),
            (260.0, 1.0 / 300.0),
            (420.0, 0.0),
            (90.0, 1.0 / 35.0),
            (300.0, 0.0),
            (160.0, 1.0 / 90.0),
            (140.0, -1.0 / 70.0),
            (800.0, 0.0),
            (180.0, 1.0 / 120.0),
            (380.0, 0.0),
            (150.0, 1.0 / 50.0),
            (250.0, -1.0 / 400.0),
            (300.0, 0.0),
            (200.0, 1.0 / 110.0),
        ],
        step,
        true,
    )
}

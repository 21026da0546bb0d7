//! The demo cars on the platform: linkages, springs and bars of their files, masses and tyres made up.

use nalgebra::Vector3;
use project::model::End;
use suspension::scheme::ElementRole;
use suspension::{AxleEnd, Corner, TorqueReaction};
use vehicle::pedal::{Damper, RELAXATION, Rolling};
use vehicle::platform::{Car, Rig, Spring};
use vehicle::tyre::Tyre;

/// Demo cars whose axles have springs and, some, bars.
pub const NAMES: [&str; 3] = ["plover", "wren", "dunlin"];

/// Front and rear left corner of a demo car.
pub fn corners(name: &str) -> [Corner<f64>; 2] {
    let path = format!("{}/../../examples/{name}/car.toml", env!("CARGO_MANIFEST_DIR"));
    let car = project::read(&std::fs::read_to_string(path).expect("a demo")).car.expect("a car");
    [End::Front, End::Rear].map(|end| {
        let subject = study::Subject::new(&car, end).expect("an axle");
        subject.corner(&subject.nominal(&[])).expect("a corner")
    })
}

/// An element of a corner, by what it is.
pub fn element(corner: &Corner<f64>, role: ElementRole) -> Option<usize> {
    corner.elements().iter().position(|e| e.role == role)
}

fn rig(corner: &Corner<f64>, end: AxleEnd) -> Rig<'_> {
    let spring = element(corner, ElementRole::Spring).expect("a spring");
    Rig {
        corner,
        end,
        springs: vec![(spring, Spring { rate: corner.elements()[spring].rate.unwrap_or(60e3), rise: 0.0 })],
        stops: Vec::new(),
        bar: element(corner, ElementRole::BarLink).map(|e| (e, 25e3)),
        unsprung: 38.0,
        tyre_rate: 220e3,
        braking: TorqueReaction::Upright,
        driving: TorqueReaction::Body,
    }
}

/// The car on its corners.
pub fn car(corners: &[Corner<f64>; 2]) -> Car<'_> {
    Car {
        axles: [rig(&corners[0], AxleEnd::Front), rig(&corners[1], AxleEnd::Rear)],
        sprung: 1080.0,
        sprung_centre: Vector3::new(-1.25, 0.0, 0.52),
        brake_front: 0.64,
        drive_front: 0.0,
        air: None,
    }
}

/// What an axle has beside its rig when it moves: the damper where the corner has one, else beside the spring.
pub fn rolling<'t>(corner: &Corner<f64>, tyre: &'t Tyre) -> Rolling<'t> {
    let element = element(corner, ElementRole::Damper).or(element(corner, ElementRole::Spring));
    let damper = Damper { element: element.expect("a damper"), bump: 1500.0, rebound: 3000.0 };
    Rolling { tyre, spin_inertia: 1.1, relaxation: RELAXATION, dampers: vec![damper] }
}

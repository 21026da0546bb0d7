//! The demo cars on the platform: linkages, springs and bars of their files, masses and tyres made up.

use nalgebra::Vector3;
use project::model::End;
use suspension::scheme::ElementRole;
use suspension::{AxleEnd, Corner, TorqueReaction};
use vehicle::aero::Aero;
use vehicle::brake::Effort;
use vehicle::limits::{LimitCar, ROLLING};
use vehicle::pedal::{Damper, RELAXATION, Rolling};
use vehicle::platform::{Car, Rig, Spring, Stop};
use vehicle::power::{Differential, Power};
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

/// An engine of 165 kW with five gears.
pub fn power() -> Power {
    let rpm = std::f64::consts::PI / 30.0;
    Power {
        curve: [(1500.0, 150.0), (3000.0, 210.0), (5000.0, 245.0), (6500.0, 240.0), (7200.0, 210.0)]
            .map(|(n, m)| (n * rpm, m))
            .to_vec(),
        most: 7200.0 * rpm,
        ratios: vec![3.2, 2.1, 1.55, 1.2, 1.0],
        final_drive: 3.7,
        efficiency: 0.9,
        shift: 0.25,
        radius: 0.305,
        differential: Differential::Limited,
    }
}

/// The car at its limits, with its air.
pub fn limit_car<'c>(corners: &'c [Corner<f64>; 2], tyre: &'c Tyre, power: &'c Power) -> LimitCar<'c> {
    let air = Aero { density: 1.2, drag_area: 0.75, drag_height: 0.5, front_area: 0.2, rear_area: 0.5 };
    let mut car = Car { air: Some(air.into()), ..car(corners) };
    for axle in &mut car.axles {
        let spring = axle.springs[0].0;
        axle.stops = vec![
            (spring, Stop { gap: 0.03, rate: 120e3, rise: 2e6 }),
            (spring, Stop { gap: -0.06, rate: 300e3, rise: 0.0 }),
        ];
    }
    LimitCar {
        car,
        tyres: [tyre, tyre],
        brakes: Effort::Share(0.64),
        power: Some(power),
        rolling: ROLLING,
        yaw_inertia: 1500.0,
        spin_inertia: [1.1; 2],
        driver: None,
        ride: [0.0; 2],
    }
}

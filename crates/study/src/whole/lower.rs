//! The file's figures of tyres, brakes, springs, bars and air as `vehicle` wants them.

use std::f64::consts::PI;

use project::model::{
    AirPart, AirReading, BarArms, BarReading, BrakeReading, Masters, PedalReading, TorqueMaker, TyreModel,
    TyreReading,
};
use vehicle::VehicleError;
use vehicle::aero::{Aero, AeroMap, AeroRow};
use vehicle::balance::bar::{STEEL_SHEAR, STEEL_YOUNG};
use vehicle::balance::{Arms, Bar};
use vehicle::brake::{
    Caliper, CaliperKind, Cooling, Disc, Foundation, Pad, Split, System, Valve, WheelBrake,
};
use vehicle::tyre::{SimpleTyre, Tyre};

use super::Lack;

/// Specific heat of grey iron [J/(kg K)] (handbooks: 450 to 500; remembered).
const IRON: f64 = 460.0;

/// Emissivity of a worked iron disc [-] (tables: 0.4 to 0.8; remembered).
const EMISSIVITY: f64 = 0.55;

/// Share of the heat that goes into the disc rather than the pads [-] (iron against organic or metallic pads: 0.9 to
/// 0.99; remembered).
pub(crate) const INTO_DISC: f64 = 0.95;

/// What vents add to the convection of a disc [-] (about twice; remembered).
const VENTS: f64 = 2.0;

/// Share of a disc's face that is free of the pad and cools [-]: without a stated area both whole faces are taken.
const FACES: f64 = 2.0;

/// Turns what `vehicle` says into what is lacking.
pub(crate) fn wrong(error: VehicleError) -> Lack {
    Lack { hint: error.hint().into(), what: error.to_string() }
}

/// A tyre. `rate` is the vertical rate that the simple model wants.
pub(super) fn tyre(reading: &TyreReading) -> Result<Tyre, Lack> {
    let tyre = match &reading.model {
        TyreModel::Simple(t) => Tyre::Simple(SimpleTyre {
            nominal_load: t.nominal_load.value,
            friction_x: t.friction_along.value,
            friction_y: t.friction_across.value,
            load_sensitivity: t.load_sensitivity.value,
            cornering_stiffness: t.cornering_stiffness.value,
            stiffest_load: t.stiffest_load.value,
            slip_stiffness: t.slip_stiffness.value,
            lateral_rate: t.lateral_rate.value,
            vertical_rate: reading.vertical_rate.map_or(f64::NAN, |r| r.value),
            least_load: t.loads.0,
            most_load: t.loads.1,
        }),
        TyreModel::Magic(parameters) => Tyre::Magic(parameters.clone()),
    };
    tyre.check().map_err(wrong)?;
    Ok(tyre)
}

/// Vertical rate of one tyre [N/m].
pub(super) fn vertical_rate(reading: &TyreReading) -> Option<f64> {
    let of_set = match &reading.model {
        TyreModel::Magic(p) => Some(p.vertical_stiffness).filter(|rate| *rate > 0.0),
        TyreModel::Simple(_) => None,
    };
    reading.vertical_rate.map(|rate| rate.value).or(of_set)
}

/// The brake of one wheel.
pub(super) fn wheel_brake(reading: &BrakeReading, loaded_radius: f64) -> Result<WheelBrake, Lack> {
    let foundation = match &reading.maker {
        TorqueMaker::Disc { bores, floating, calipers, radius, pads, .. } => {
            let kind = if *floating { CaliperKind::Floating } else { CaliperKind::Opposed };
            let bores: Vec<f64> = bores.iter().map(|bore| bore.value).collect();
            Foundation::Disc {
                caliper: Caliper::from_bores(&bores, kind),
                calipers: u8::try_from(*calipers).unwrap_or(u8::MAX),
                radius: radius.value,
                pad: match pads.rows.as_slice() {
                    [(_, friction)] => Pad::steady(*friction),
                    rows => Pad::new(rows.to_vec()),
                }
                .map_err(wrong)?,
            }
        }
        TorqueMaker::Measured(torque) => Foundation::Gain(torque.value),
    };
    Ok(WheelBrake { foundation, threshold: reading.threshold.value, loaded_radius })
}

/// The disc as a lump that warms.
pub(super) fn disc(reading: &BrakeReading) -> Option<Disc> {
    let TorqueMaker::Disc { disc: Some(disc), .. } = &reading.maker else { return None };
    let diameter = disc.diameter.value;
    Some(Disc {
        mass: disc.mass.value,
        specific_heat: IRON,
        area: disc.area.map_or(FACES * PI / 4.0 * diameter * diameter, |area| area.value),
        emissivity: EMISSIVITY,
        cooling: Cooling::Rotating { diameter, vents: if disc.vented { VENTS } else { 1.0 } },
    })
}

/// Pedal, cylinders and all brakes.
pub(super) fn system(pedal: &PedalReading, front: WheelBrake, rear: WheelBrake) -> System {
    let area = |bore: f64| PI / 4.0 * bore * bore;
    let (front_bore, rear_bore, split) = match &pedal.masters {
        Masters::Bar { front, rear, share } => {
            (front.value, rear.value, Split::BiasBar { front_share: share.value })
        }
        Masters::Tandem(bore) => (bore.value, bore.value, Split::Tandem),
    };
    System {
        pedal_ratio: pedal.ratio.value,
        efficiency: pedal.efficiency.value,
        master_front: area(front_bore),
        master_rear: area(rear_bore),
        split,
        front,
        rear,
        valve: pedal.valve.as_ref().map(|v| Valve { knee: v.knee.value, slope: v.slope.value }),
    }
}

/// Rate of the bar at one end along its link, the other held [N/m].
pub(super) fn bar_rate(reading: &BarReading) -> Result<f64, Lack> {
    match reading {
        BarReading::Rate { rate, .. } => Ok(rate.value),
        BarReading::Made { .. } => match bar(reading) {
            Some(bar) => bar.end_rate().map_err(wrong),
            None => Ok(0.0),
        },
    }
}

/// The bar by its sizes, where the file has them.
pub(crate) fn bar(reading: &BarReading) -> Option<Bar<f64>> {
    let BarReading::Made { diameter, bore, length, arm, link_angle, arms, .. } = reading else { return None };
    Some(Bar {
        outer: diameter.value,
        inner: bore.value,
        length: length.value,
        arm: arm.value,
        link_angle: link_angle.value,
        shear: STEEL_SHEAR,
        arms: match *arms {
            BarArms::Rigid => Arms::Rigid,
            BarArms::Bent => Arms::Bent { young: STEEL_YOUNG },
            BarArms::Blades { width, thickness } => {
                Arms::Blades { young: STEEL_YOUNG, second_moment: width * thickness.powi(3) / 12.0 }
            }
        },
    })
}

/// The air by constant areas: those of the file, less the parts that are off.
pub(super) fn aero(reading: &AirReading) -> Aero {
    let off = |of: fn(&AirPart) -> f64| -> f64 { reading.parts.iter().filter(|p| !p.fitted).map(of).sum() };
    Aero {
        density: reading.density,
        drag_area: reading.drag.value - off(|p| p.drag.value),
        drag_height: reading.drag_height.value,
        front_area: reading.front.value - off(|p| p.front.value),
        rear_area: reading.rear.value - off(|p| p.rear.value),
    }
}

/// The air with the ride heights that the file has.
pub(super) fn air(reading: &AirReading) -> Result<AeroMap, Lack> {
    let at_rest = aero(reading);
    if reading.heights.is_empty() {
        return Ok(AeroMap::from(at_rest));
    }
    // What a part adds is taken to be the same at every attitude.
    let all = aero(&AirReading { parts: Vec::new(), ..reading.clone() });
    let rows = reading.heights.iter().map(|row| AeroRow {
        rise: [row.front_rise, row.rear_rise],
        front: row.front + at_rest.front_area - all.front_area,
        rear: row.rear + at_rest.rear_area - all.rear_area,
        drag: row.drag + at_rest.drag_area - all.drag_area,
    });
    AeroMap::fit(at_rest, &rows.collect::<Vec<_>>()).map_err(wrong)
}

//! `soapstone.roll/1`: both wheels over body roll.

use serde::Serialize;
use study::{RollSweep, Subject};

use super::sweep::{StopOut, WheelOut, stop_out};

#[derive(Serialize)]
struct RollOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    stations: Vec<RollStationOut>,
    stops: Vec<StopOut>,
}

#[derive(Serialize)]
struct RollStationOut {
    roll_deg: f64,
    rack_m: f64,
    left_travel_m: f64,
    right_travel_m: f64,
    /// The right wheel is in its own mirrored axes (y to the right).
    left: WheelOut,
    right: WheelOut,
    left_camber_to_road_deg: f64,
    right_camber_to_road_deg: f64,
    left_toe_per_roll: f64,
    right_toe_per_roll: f64,
    left_camber_to_road_per_roll: f64,
    right_camber_to_road_per_roll: f64,
    roll_centre: Option<RollCentreOut>,
}

#[derive(Serialize)]
struct RollCentreOut {
    height_m: f64,
    to_the_left_m: f64,
    trustworthy: bool,
}

/// A sweep of roll; `asked` of a stop is a roll [deg].
pub(crate) fn roll_sweep(subject: &Subject<'_>, sweep: &RollSweep) -> impl Serialize {
    let stations = sweep
        .stations
        .iter()
        .map(|s| {
            let (left, right) = s.state.camber_to_road();
            let ((toe_l, camber_l), (toe_r, camber_r)) = s.state.rates_by_roll();
            RollStationOut {
                roll_deg: s.state.roll.to_degrees(),
                rack_m: s.state.rack,
                left_travel_m: s.state.left.travel,
                right_travel_m: s.state.right.travel,
                left: WheelOut::new(&s.state.left),
                right: WheelOut::new(&s.state.right),
                left_camber_to_road_deg: left.to_degrees(),
                right_camber_to_road_deg: right.to_degrees(),
                left_toe_per_roll: toe_l,
                right_toe_per_roll: toe_r,
                left_camber_to_road_per_roll: camber_l,
                right_camber_to_road_per_roll: camber_r,
                roll_centre: s.state.roll_centre().map(|c| RollCentreOut {
                    height_m: c.height,
                    to_the_left_m: c.lateral,
                    trustworthy: c.crossing >= suspension::LEAST_CROSSING,
                }),
            }
        })
        .collect();
    RollOut {
        schema: "soapstone.roll/1",
        car: subject.car().name.clone(),
        axle: subject.axle().end.name(),
        stations,
        stops: sweep.stops.iter().map(|s| stop_out(s, s.asked.to_degrees())).collect(),
    }
}

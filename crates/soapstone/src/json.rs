//! The JSON that leaves the program, declared here once. Every object carries `schema`, a name and a version;
//! a change that could break a reader gets a new number. Values are SI, angles in degrees, points in ISO 8855
//! axes with the origin on the ground under the middle of the front axle, whatever the file's units.

mod build;
mod card;
mod check;
mod choice;
mod explain;
mod holes;
mod import;
mod jig;
mod roll;
mod stage;
mod starter;
mod sweep;
mod weigh;

use nalgebra::Vector3;
use serde::Serialize;
use study::{Estimate, Scale};

pub(crate) use build::build;
pub(crate) use card::cards;
pub(crate) use check::check;
pub(crate) use choice::choice;
pub(crate) use explain::{quantities, worked, worked_car, worked_columns};
pub(crate) use holes::holes;
pub(crate) use import::imported;
pub(crate) use jig::jig;
pub(crate) use roll::roll_sweep;
pub(crate) use stage::stage;
pub(crate) use starter::starter;
pub(crate) use sweep::{axis_words, travel_sweep};
pub(crate) use weigh::weighed;

const CAUTION: &str = "planning figures, not an approval: a structural change to a vehicle must be checked by a \
                       licensed engineer and satisfy local road law and the sanctioning body's rules";

/// Unit of a quantity's value in JSON and the factor from SI.
fn unit(scale: Scale) -> (&'static str, f64) {
    let degree = 1f64.to_degrees();
    match scale {
        Scale::Percent | Scale::Ratio | Scale::Times => ("1", 1.0),
        Scale::Length => ("m", 1.0),
        Scale::Angle => ("deg", degree),
        Scale::LengthPerTravel => ("m/m", 1.0),
        Scale::AnglePerTravel => ("deg/m", degree),
        Scale::AnglePerAngle => ("deg/deg", 1.0),
        Scale::Rate => ("N/m", 1.0),
        Scale::Turns => ("turns", 1.0),
        Scale::Mass => ("kg", 1.0),
        Scale::Inertia => ("kg m^2", 1.0),
        Scale::Force => ("N", 1.0),
        Scale::Torque => ("N m", 1.0),
        Scale::Pressure | Scale::Stress => ("Pa", 1.0),
        Scale::Speed => ("m/s", 1.0),
        Scale::Acceleration => ("m/s^2", 1.0),
        Scale::Time => ("s", 1.0),
        Scale::Frequency => ("Hz", 1.0),
        Scale::Temperature => ("K", 1.0),
        Scale::Distance => ("m", 1.0),
        Scale::RollStiffness => ("N m/deg", 1.0 / degree),
        Scale::AnglePerAcceleration => ("deg/(m/s^2)", degree),
        Scale::CorneringStiffness => ("N/deg", 1.0 / degree),
        Scale::Damping => ("N s/m", 1.0),
    }
}

fn xyz(v: &Vector3<f64>) -> [f64; 3] {
    [v.x, v.y, v.z]
}

/// A value with its standard uncertainty.
#[derive(Serialize)]
struct Doubtful {
    value: f64,
    standard_uncertainty: f64,
}

impl Doubtful {
    fn new(e: &Estimate, factor: f64) -> Self {
        Self { value: e.value * factor, standard_uncertainty: e.uncertainty() * factor }
    }
}

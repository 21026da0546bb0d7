//! A corner over travel, an axle over roll.

use linkage::{StopReason, Twist, Unreachable};
use suspension::{AxleMover, AxleState, Corner, Measures, Mover, Ratio, SteeringAxis, steering_axis};
use units::{Dimension, show};

use crate::quantity::Scale;
use crate::subject::{StudyError, Subject};

/// One position of a sweep.
#[derive(Clone, Debug)]
pub struct Station {
    /// Wheel measures.
    pub measures: Measures<f64>,
    /// Springs, dampers, bar links in the scheme's order.
    pub ratios: Vec<Ratio<f64>>,
    /// Steering axis, where there is one; without rack or outer balls, the axis about which the link that
    /// steers most turns the wheel.
    pub steering: Option<SteeringAxis>,
    /// Change of toe per rack travel at fixed wheel travel [rad/m], where there is a rack.
    pub toe_per_rack: Option<f64>,
    /// Rack travel [m].
    pub rack: f64,
}

/// Where a sweep had to end.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The value that was asked for: travel [m] or roll [rad].
    pub asked: f64,
    /// Wheel travel reached [m].
    pub reached: f64,
    /// Rack travel reached [m].
    pub rack: f64,
    /// What binds, in words.
    pub words: String,
}

/// Positions in the order asked, as far as they can be reached.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// Reached positions, by rising travel.
    pub stations: Vec<Station>,
    /// Ends met on the way, at most one in each direction.
    pub stops: Vec<Stop>,
}

/// One attitude of an axle in roll.
#[derive(Clone, Copy, Debug)]
pub struct RollStation {
    /// Roll asked [rad].
    pub asked: f64,
    /// Both wheels.
    pub state: AxleState,
}

/// Attitudes of an axle in roll.
#[derive(Clone, Debug)]
pub struct RollSweep {
    /// Reached attitudes, by rising roll.
    pub stations: Vec<RollStation>,
    /// Ends met on the way.
    pub stops: Vec<Stop>,
}

/// Sweeps travel [m] at a rack position [m] with some holes chosen.
///
/// # Errors
/// If the corner cannot be built or is not held.
pub fn sweep(
    subject: &Subject<'_>,
    holes: &[usize],
    travels: &[f64],
    rack: f64,
) -> Result<Sweep, StudyError> {
    let corner = held_corner(subject, holes)?;
    let toe_link =
        if corner.has_rack() || corner.steering_axis().is_some() { None } else { toe_link(&corner) };
    let mut stations = Vec::new();
    let mut stops = Vec::new();
    for side in outward(travels) {
        let mut mover = Mover::new(&corner);
        for travel in side {
            match station(&mut mover, travel, rack, toe_link) {
                Ok(station) => stations.push(station),
                Err(stop) => {
                    stops.push(end_of_way(travel, &stop, subject));
                    break;
                }
            }
        }
    }
    stations.sort_by(|a, b| a.measures.travel.total_cmp(&b.measures.travel));
    Ok(Sweep { stations, stops })
}

/// Goes to a travel [m] and a rack position [m] and measures all there is to measure.
pub(crate) fn station(
    mover: &mut Mover<'_>,
    travel: f64,
    rack: f64,
    toe_link: Option<usize>,
) -> Result<Station, Unreachable> {
    let measures = mover.at(travel, rack)?;
    let ratios = (0..mover.corner().elements().len()).filter_map(|i| mover.ratio(i)).collect();
    let steering = steering_axis(mover, toe_link);
    let toe_per_rack = mover.steer_screw().map(|twist| toe_rate(&measures, &twist));
    Ok(Station { measures, ratios, steering, toe_per_rack, rack })
}

/// Sweeps body roll [rad] at a rack position [m], the wheels moving equally and oppositely.
///
/// # Errors
/// If the corner cannot be built or is not held.
pub fn sweep_roll(
    subject: &Subject<'_>,
    holes: &[usize],
    rolls: &[f64],
    rack: f64,
) -> Result<RollSweep, StudyError> {
    let corner = held_corner(subject, holes)?;
    let mut stations = Vec::new();
    let mut stops = Vec::new();
    for side in outward(rolls) {
        let mut mover = AxleMover::new(&corner);
        for asked in side {
            match mover.roll(asked, rack) {
                Ok(state) => stations.push(RollStation { asked, state }),
                Err(stop) => {
                    stops.push(end_of_way(asked, &stop, subject));
                    break;
                }
            }
        }
    }
    stations.sort_by(|a, b| a.asked.total_cmp(&b.asked));
    Ok(RollSweep { stations, stops })
}

pub(crate) fn held_corner(subject: &Subject<'_>, holes: &[usize]) -> Result<Corner<f64>, StudyError> {
    let corner = subject.corner(&subject.nominal(holes))?;
    match suspension::diagnose(&corner).into_iter().find(|f| f.fatal) {
        Some(f) => Err(StudyError::Held { message: f.message, hint: f.hint }),
        None => Ok(corner),
    }
}

/// The rod whose length steers the wheel most at ride height, as a joint index.
fn toe_link(corner: &Corner<f64>) -> Option<usize> {
    let mut mover = Mover::new(corner);
    let measures = mover.at(0.0, 0.0).ok()?;
    let joints = corner.linkage().joints();
    (0..joints.len())
        .filter(|j| corner.linkage().rod_length(*j).is_some())
        .filter_map(|j| {
            let twist = *mover.solver().response(joints.get(j)?.rows.start)?.first()?;
            Some((j, toe_rate(&measures, &twist).abs()))
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(j, _)| j)
}

/// Rate of toe under a screw of the upright.
fn toe_rate(m: &Measures<f64>, twist: &Twist<f64>) -> f64 {
    suspension::angle_rates(&m.spin, &twist.w).0
}

/// Splits values into those from zero up and those from zero down, each going outward.
pub(crate) fn outward(values: &[f64]) -> [Vec<f64>; 2] {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup();
    let (mut below, above): (Vec<f64>, Vec<f64>) = sorted.into_iter().partition(|v| *v < 0.0);
    below.reverse();
    [above, below]
}

fn end_of_way(asked: f64, stop: &Unreachable, subject: &Subject<'_>) -> Stop {
    Stop {
        asked,
        reached: stop.reached.first().copied().unwrap_or(0.0),
        rack: stop.reached.get(1).copied().unwrap_or(0.0),
        words: stop_words(stop, subject),
    }
}

/// Says where a corner stops and what binds, in the car's units.
pub(crate) fn stop_words(stop: &Unreachable, subject: &Subject<'_>) -> String {
    let units = &subject.car().units;
    let at = stop.reached.first().copied().unwrap_or(0.0);
    let at = show::with_unit(at, Dimension::Length, units, Scale::Length.decimals(units));
    let mut names: Vec<String> = Vec::new();
    for joint in &stop.binding {
        let name = format!("`{}`", subject.axle().scheme.part_of(joint));
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let what = match (stop.reason, names.as_slice()) {
        (_, []) => "the links allow no more".to_string(),
        (StopReason::Toggle, [one]) => format!("{one} comes into line and binds"),
        (StopReason::Toggle, many) => format!("{} come into line and bind", many.join(" and ")),
        (_, [one]) => format!("{one} is at its end"),
        (_, many) => format!("{} are at their end", many.join(" and ")),
    };
    format!("the wheel stops at {at} of travel: {what}")
}

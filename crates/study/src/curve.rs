//! Quantities over wheel travel, with or without their ±.

use project::model::Car;
use suspension::Mover;

use crate::choice::Choice;
use crate::evaluate::{Evaluation, Extent};
use crate::quantity::Quantity;
use crate::subject::{StudyError, Subject};
use crate::sweep::Station;

/// What is worth a chart over wheel travel, where the car's figures allow it.
pub const CHARTED: [Quantity; 6] = [
    Quantity::AntiBraking,
    Quantity::Toe,
    Quantity::Camber,
    Quantity::RollCentre,
    Quantity::Recession,
    Quantity::AntiDriving,
];

/// Places along a charted curve; odd, so that ride height is one.
const PLACES: usize = 25;

/// Travel that charts reach at least [m].
const TRAVEL: f64 = 0.06;

/// What is charted over wheel travel beside a choice table: anti-features only where the table has them.
pub fn charted(choice: Option<&Choice>) -> Vec<Quantity> {
    let known = |quantity: &Quantity| {
        !matches!(quantity, Quantity::AntiBraking | Quantity::AntiDriving)
            || choice.is_some_and(|choice| choice.columns.iter().any(|c| c.quantity == *quantity))
    };
    CHARTED.into_iter().filter(known).collect()
}

/// Places of a charted curve, evenly spaced from `-most` to `most`, zero among them.
pub fn chart_places(most: f64) -> Vec<f64> {
    let half = (PLACES / 2) as f64;
    (0..PLACES).map(|i| most * (i as f64 - half) / half).collect()
}

/// The wheel travel that a car's charts reach [m]: at least that of its choice table.
pub fn chart_travel(car: &Car) -> f64 {
    car.choose.travels.iter().fold(TRAVEL, |most, travel| most.max(travel.abs()))
}

/// A quantity over travel.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// What.
    pub quantity: Quantity,
    /// (travel [m], value, standard uncertainty), SI, by rising travel; the uncertainty is zero where it was not
    /// asked for. Travels out of reach are left out.
    pub points: Vec<(f64, f64, f64)>,
}

/// Curves of some quantities over rising travels [m], with some holes chosen. `doubtful` asks for the ±, at many
/// times the cost.
///
/// # Errors
/// If the corner cannot be built or is not held.
pub fn curves(
    subject: &Subject<'_>,
    holes: &[usize],
    quantities: &[Quantity],
    travels: &[f64],
    doubtful: bool,
) -> Result<Vec<Curve>, StudyError> {
    let evaluation = if doubtful {
        Evaluation::new(subject, holes, Extent::Wheel)?
    } else {
        Evaluation::plain(subject, holes, Extent::Wheel)?
    };
    let mut curves: Vec<Curve> = quantities
        .iter()
        .map(|q| Curve { quantity: *q, points: Vec::with_capacity(travels.len()) })
        .collect();
    for side in crate::sweep::outward(travels) {
        let mut mover = Mover::new(&evaluation.corner);
        for travel in side {
            let Ok(position) = evaluation.at(&mut mover, travel) else { break };
            for curve in &mut curves {
                if let Some(e) = position.estimate(subject, curve.quantity) {
                    curve.points.push((travel, e.value, e.uncertainty()));
                }
            }
        }
    }
    for curve in &mut curves {
        curve.points.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    Ok(curves)
}

/// Stations over rising rack travels [m] at one wheel travel [m], with some holes chosen; those out of reach are
/// left out.
///
/// # Errors
/// If the corner cannot be built or is not held.
pub fn sweep_rack(
    subject: &Subject<'_>,
    holes: &[usize],
    travel: f64,
    racks: &[f64],
) -> Result<Vec<Station>, StudyError> {
    let corner = crate::sweep::held_corner(subject, holes)?;
    let mut stations = Vec::new();
    for side in crate::sweep::outward(racks) {
        let mut mover = Mover::new(&corner);
        for rack in side {
            let Ok(station) = crate::sweep::station(&mut mover, travel, rack, None) else { break };
            stations.push(station);
        }
    }
    stations.sort_by(|a, b| a.rack.total_cmp(&b.rack));
    Ok(stations)
}

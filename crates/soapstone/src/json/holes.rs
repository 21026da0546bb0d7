//! `soapstone.holes/1`: holes found on a plate.

use project::model::Plate;
use serde::Serialize;
use study::{Estimate, Found, Quantity, Remedy, Subject, Wish};

use super::{CAUTION, unit, xyz};

#[derive(Serialize)]
struct HolesOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    plate: String,
    quantity: &'static str,
    unit: &'static str,
    wishes: Vec<f64>,
    placed: Vec<PlacedOut>,
    unmet: Vec<UnmetOut>,
    /// Where the wishes clash: the nearest set that keeps the spacing.
    instead: Option<Vec<PlacedOut>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct PlacedOut {
    wish: f64,
    value: f64,
    standard_uncertainty: Option<f64>,
    at_m: [f64; 3],
    along_m: f64,
    square_m: f64,
    link_length_m: Option<f64>,
    to_edge_m: f64,
    spacing_m: Option<f64>,
    per_m_along: f64,
    per_m_square: f64,
}

#[derive(Serialize)]
struct UnmetOut {
    wish: f64,
    reachable: Option<[f64; 2]>,
    nearest: Option<PlacedOut>,
    edge_in_diameters: Option<f64>,
    plate_larger_by_m: Option<f64>,
    plate_larger_toward_m: Option<[f64; 3]>,
    link_length_m: Option<f64>,
}

/// Holes found on a plate; `doubt` holds the estimates of the set shown (the placed one, or the one instead).
pub(crate) fn holes(
    subject: &Subject<'_>,
    plate: &Plate,
    wishes: &[Wish],
    found: &Found,
    doubt: &[Option<Estimate>],
) -> impl Serialize {
    let quantity = wishes.first().map_or(Quantity::AntiBraking, |w| w.quantity);
    let (name, factor) = unit(quantity.scale());
    let wish = |i: usize| wishes.get(i).map_or(f64::NAN, |w| w.value * factor);
    let out = |p: &study::Placed, estimate: Option<&Estimate>| PlacedOut {
        wish: wish(p.wish),
        value: p.value * factor,
        standard_uncertainty: estimate.map(|e| e.uncertainty() * factor),
        at_m: xyz(&p.at),
        along_m: p.on_plate.x,
        square_m: p.on_plate.y,
        link_length_m: p.link_length,
        to_edge_m: p.margin,
        spacing_m: p.spacing.is_finite().then_some(p.spacing),
        per_m_along: p.slope.x * factor,
        per_m_square: p.slope.y * factor,
    };
    let set = |list: &[study::Placed], doubtful: bool| -> Vec<PlacedOut> {
        let estimate = |i: usize| doubt.get(i).and_then(Option::as_ref).filter(|_| doubtful);
        list.iter().enumerate().map(|(i, p)| out(p, estimate(i))).collect()
    };
    HolesOut {
        schema: "soapstone.holes/1",
        car: subject.car().name.clone(),
        axle: subject.axle().end.name(),
        plate: plate.name.clone(),
        quantity: quantity.key(subject.end()),
        unit: name,
        wishes: (0..wishes.len()).map(wish).collect(),
        placed: set(&found.placed, found.instead.is_none()),
        unmet: found
            .unmet
            .iter()
            .map(|u| {
                let mut unmet = UnmetOut {
                    wish: wish(u.wish),
                    reachable: u.reachable.map(|(a, b)| [a * factor, b * factor]),
                    nearest: u.nearest.as_ref().map(|p| out(p, None)),
                    edge_in_diameters: None,
                    plate_larger_by_m: None,
                    plate_larger_toward_m: None,
                    link_length_m: None,
                };
                for remedy in &u.remedies {
                    match remedy {
                        Remedy::Edge(n) => unmet.edge_in_diameters = Some(*n),
                        Remedy::LargerPlate(more, place) => {
                            unmet.plate_larger_by_m = Some(*more);
                            unmet.plate_larger_toward_m = Some(xyz(place));
                        }
                        Remedy::LinkLength(l) => unmet.link_length_m = Some(*l),
                    }
                }
                unmet
            })
            .collect(),
        instead: found.instead.as_ref().map(|list| set(list, true)),
        caution: CAUTION,
    }
}

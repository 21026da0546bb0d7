//! What the weighing says of the car as it runs, and how far each of its figures could move that.

use project::model::{Car, Weighing};

use crate::weigh::{Input, Weighed, Weight, weigh};

use super::Lack;

/// Masses of the car as it runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Loads {
    /// Whole mass [kg].
    pub mass: f64,
    /// Centre of gravity behind the front axle [m].
    pub behind: f64,
    /// Its height [m].
    pub height: f64,
    /// Unsprung mass of one front and one rear wheel [kg].
    pub unsprung: [f64; 2],
    /// Roll inertia of the whole car about its centre [kg m^2], where it is known or estimated.
    pub roll: Option<f64>,
    /// Pitch inertia of the whole car [kg m^2], where it is known or estimated.
    pub pitch: Option<f64>,
    /// Yaw inertia [kg m^2].
    pub yaw: Option<f64>,
}

/// The loads, and those with each figure of the weighing off by its ±.
#[derive(Clone, Debug)]
pub(crate) struct Loading {
    pub nominal: Loads,
    pub shifted: Vec<Loads>,
    pub inputs: Vec<Input>,
    /// Whether an inertia rests on an estimate.
    pub estimated: bool,
}

impl Loading {
    /// # Errors
    /// The weighing, or one of its results, is missing.
    pub fn of(car: &Car) -> Result<Self, Lack> {
        let weighed = weigh(car).map_err(|e| Lack { what: e.to_string(), hint: e.hint() })?;
        let lack = |what: &str, hint: &str| Lack { what: what.into(), hint: hint.into() };
        let ready = weighed.ready().ok_or_else(|| lack("the car's mass is not known", "weigh the car"))?;
        let get = |w: Weight| ready.after(w);
        let need = |w: Weight| {
            get(w).ok_or_else(|| {
                lack(
                    &format!("the {} is not known", w.title()),
                    "weigh it with one end raised: `[weigh.raised]`, or state `cg-height` in `[car]`",
                )
            })
        };
        let (mass, behind, height) = (need(Weight::Mass)?, need(Weight::Behind)?, need(Weight::Height)?);
        let weighing = car.weigh.as_ref();
        let unsprung = [unsprung(weighing, &weighed, 0)?, unsprung(weighing, &weighed, 1)?];
        let off = |estimate: &crate::Estimate, i: Option<usize>| {
            estimate.value + i.and_then(|i| estimate.contributions.get(i)).copied().unwrap_or(0.0)
        };
        let loads = |i: Option<usize>| Loads {
            mass: off(mass, i),
            behind: off(behind, i),
            height: off(height, i),
            unsprung: unsprung
                .map(|(value, which, doubt)| value + if which.is_some() && which == i { doubt } else { 0.0 }),
            roll: get(Weight::Roll).map(|e| off(e, i)),
            pitch: get(Weight::Pitch).map(|e| off(e, i)),
            yaw: get(Weight::Yaw).map(|e| off(e, i)),
        };
        Ok(Self {
            nominal: loads(None),
            shifted: (0..weighed.inputs.len()).map(|i| loads(Some(i))).collect(),
            estimated: ready.estimated,
            inputs: weighed.inputs,
        })
    }
}

/// Unsprung mass of a wheel, which figure of the weighing it is, and its ±.
fn unsprung(
    weighing: Option<&Weighing>,
    weighed: &Weighed,
    axle: usize,
) -> Result<(f64, Option<usize>, f64), Lack> {
    let end = if axle == 0 { "front" } else { "rear" };
    let rates = weighing.map(|w| if axle == 0 { w.front } else { w.rear });
    let value = rates.and_then(|r| r.unsprung).ok_or_else(|| Lack {
        what: format!("the unsprung mass of a {end} wheel is not known"),
        hint: format!("write `{end}` in `[unsprung]`: wheel, tyre, upright, brake and half of the links"),
    })?;
    let name = crate::weigh::unsprung_name(end);
    let which = weighed.inputs.iter().position(|input| input.name == name);
    Ok((value.value, which, value.uncertainty))
}

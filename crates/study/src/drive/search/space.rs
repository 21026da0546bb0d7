//! What may change, and the car with a setting.

use std::sync::Arc;

use project::model::Car;

use super::super::racer::Racer;
use super::super::variant::{Driven, OfRacer, Variant};
use super::Setting;
use super::halton::halton;
use crate::quantity::Scale;
use crate::whole::Lack;

/// One thing that may change.
#[derive(Clone, Debug)]
pub(super) struct Axis {
    pub name: String,
    pub what: What,
    pub from: f64,
    pub to: f64,
    /// As the file has it.
    pub own: f64,
    /// Whether it is the same at every venue.
    pub welded: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) enum What {
    /// Front share of the braking force.
    BrakeFront,
    /// Rate of an axle's bar over that of the file.
    Bar(usize),
    /// Rise of the body at an axle [m].
    Ride(usize),
    /// Whether an air part is on.
    Part(String),
}

/// All that may change beside the holes.
pub(super) struct Space {
    pub axes: Vec<Axis>,
    /// Whether the hole is the same at every venue.
    pub hole_welded: bool,
}

/// Without `[search]`: how far the front share goes to each side of the file's.
const SHARE: f64 = 0.06;
/// The bars' rates over the file's.
const BARS: (f64, f64) = (0.7, 1.4);
/// The body's rise at an axle [m].
const RIDE: (f64, f64) = (-0.01, 0.01);

/// The choices of holes, without setups: a search makes its own.
pub(super) fn choices(car: &Car) -> Result<Vec<Variant>, Lack> {
    let bare = Car { setups: Vec::new(), ..car.clone() };
    let mut list = super::super::choices(&bare, &[])?;
    if car.search.as_ref().is_some_and(|search| !search.holes) {
        list.truncate(1);
    }
    Ok(list)
}

impl Axis {
    pub fn unit(&self) -> Option<&'static str> {
        matches!(self.what, What::Ride(_)).then_some("m")
    }

    pub fn scale(&self) -> Scale {
        match self.what {
            What::BrakeFront => Scale::Percent,
            What::Bar(_) | What::Part(_) => Scale::Ratio,
            What::Ride(_) => Scale::Length,
        }
    }

    /// Name for people.
    pub fn label(&self) -> String {
        match &self.what {
            What::BrakeFront => "braking at the front".into(),
            What::Bar(i) => format!("{} bar over the file's", if *i == 0 { "front" } else { "rear" }),
            What::Ride(i) => {
                format!("{} ride height against the file's", if *i == 0 { "front" } else { "rear" })
            }
            What::Part(name) => name.clone(),
        }
    }

    /// A part is on or off; all else goes smoothly.
    pub fn smooth(&self) -> bool {
        !matches!(self.what, What::Part(_))
    }
}

impl Space {
    /// What is asked for and not there is added to the lacks.
    ///
    /// # Errors
    /// Nothing to search over.
    pub fn new(car: &Car, bases: &[(Variant, Driven)], lacks: &mut Vec<Lack>) -> Result<Self, Lack> {
        let wanted = car.search.as_ref();
        let mut axes = Vec::new();
        let welded = |name: &str| wanted.is_some_and(|w| w.welded.iter().any(|n| n == name));
        let mut add = |name: &str, what: What, range: Option<(f64, f64)>, own: f64| {
            if let Some((from, to)) = range.filter(|(from, to)| to > from) {
                axes.push(Axis { name: name.into(), what, from, to, own, welded: welded(name) });
            }
        };
        // Where the file says nothing of a search, all that can be changed is; where it does, what it names.
        let range = |named: Option<(f64, f64)>, other: (f64, f64)| match wanted {
            Some(_) => named,
            None => Some(other),
        };
        let first = bases.first().map(|(variant, _)| variant);
        let whole = first.and_then(|v| v.car.at(&v.holes).ok());
        let racer = whole.and_then(|whole| Racer::new(car, whole).ok());
        if let Some(share) = racer.as_ref().and_then(Racer::front_share) {
            let about = ((share - SHARE).max(0.0), (share + SHARE).min(1.0));
            add("brake-front", What::BrakeFront, range(wanted.and_then(|w| w.brake_front), about), share);
        }
        let bars = [wanted.and_then(|w| w.front_bar), wanted.and_then(|w| w.rear_bar)];
        let rides = [wanted.and_then(|w| w.front_ride), wanted.and_then(|w| w.rear_ride)];
        for (i, name) in ["front-bar", "rear-bar"].into_iter().enumerate() {
            let bar = racer.as_ref().and_then(|r| r.whole.axles.get(i)?.bar);
            let asked = bars.get(i).copied().flatten();
            if bar.is_some_and(|(_, rate)| rate > 0.0) {
                add(name, What::Bar(i), range(asked, BARS), 1.0);
            } else if asked.is_some() {
                let end = if i == 0 { "front" } else { "rear" };
                lacks.push(Lack {
                    what: format!("`search.{name}`: the {end} axle has no bar"),
                    hint: format!("take the line out, or write `[{end}.bar]`"),
                });
            }
        }
        for (i, name) in ["front-ride", "rear-ride"].into_iter().enumerate() {
            add(name, What::Ride(i), range(rides.get(i).copied().flatten(), RIDE), 0.0);
        }
        for part in car.air.iter().flat_map(|air| &air.parts) {
            if wanted.is_none_or(|w| w.without.contains(&part.name)) {
                let own = if part.fitted { 1.0 } else { 0.0 };
                add(&part.name, What::Part(part.name.clone()), Some((0.0, 1.0)), own);
            }
        }
        if axes.is_empty() && bases.len() < 2 {
            return Err(Lack {
                what: "there is nothing to search over".into(),
                hint: "drill holes in the file, or say in `[search]` what may change: `brake-front`, `front-bar`, `rear-bar`, \
                       `front-ride`, `rear-ride`, `without`"
                    .into(),
            });
        }
        Ok(Self { axes, hole_welded: welded("holes") })
    }

    /// The setting of a number: the holes by turns, the rest evenly spread; the first of each hole as the file has it.
    pub fn sample(&self, index: u64, holes: usize) -> Setting {
        let holes = holes.max(1) as u64;
        let (row, hole) = (index / holes, index % holes);
        let value = |(i, axis): (usize, &Axis)| {
            if row == 0 {
                return axis.own;
            }
            let at = halton(row, i);
            if axis.smooth() { axis.from + at * (axis.to - axis.from) } else { (2.0 * at).floor().min(1.0) }
        };
        let values = self.axes.iter().enumerate().map(value).collect();
        Setting { hole: usize::try_from(hole).unwrap_or(0), values }
    }

    /// As the file has it, in a hole.
    pub fn own(&self, hole: usize) -> Setting {
        Setting { hole, values: self.axes.iter().map(|axis| axis.own).collect() }
    }

    /// The car so set. What stands as the file has it is left alone.
    pub fn variant(&self, base: &Variant, setting: &Setting) -> Variant {
        let changed: Vec<(What, f64)> = self
            .axes
            .iter()
            .zip(&setting.values)
            .filter(|(axis, value)| (axis.own - **value).abs() > 1e-12)
            .map(|(axis, value)| (axis.what.clone(), *value))
            .collect();
        let parts: Vec<(String, bool)> = changed
            .iter()
            .filter_map(|(what, value)| match what {
                What::Part(name) => Some((name.clone(), *value > 0.5)),
                _ => None,
            })
            .collect();
        let file = move |car: &mut Car| {
            for part in car.air.iter_mut().flat_map(|air| &mut air.parts) {
                if let Some((_, on)) = parts.iter().find(|(name, _)| *name == part.name) {
                    part.fitted = *on;
                }
            }
        };
        let racer: OfRacer = Arc::new(move |racer: &mut Racer| {
            for (what, value) in &changed {
                match what {
                    What::BrakeFront => racer.share = Some(*value),
                    What::Bar(i) => {
                        if let Some((_, rate)) = racer.whole.axles.get_mut(*i).and_then(|a| a.bar.as_mut()) {
                            *rate *= value;
                        }
                    }
                    What::Ride(i) => {
                        if let Some(rise) = racer.ride.get_mut(*i) {
                            *rise = *value;
                        }
                    }
                    What::Part(_) => {}
                }
            }
        });
        Variant {
            name: base.name.clone(),
            car: base.car.clone(),
            holes: base.holes.clone(),
            file: Some(Arc::new(file)),
            racer: Some(racer),
        }
    }
}

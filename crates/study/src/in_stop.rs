//! The whole car in the stated stop, per choice of holes: attitude, reserve, stability, hop.

use project::model::{Car, End, StatedStop};
use vehicle::AxleEnd;
use vehicle::brake::StoppingCar;
use vehicle::pedal::{Hop, HopMargin, PedalError, Press, Stopped, Stopper};
use vehicle::platform::{Demand, Platform, State};

use crate::build::{InTable, TableAnswer};
use crate::drive::in_table::{InTable as LapTable, Values as LapValues};
use crate::estimate::Estimate;
use crate::explain::Term;
use crate::present::shown;
use crate::quantity::{About, InStop, Scale};
use crate::weigh::Input;
use crate::whole::{Lack, Scope, Whole, WholeCar, wrong};

/// Values in the order of [`InStop::ALL`].
pub(crate) type Values = [Option<f64>; InStop::ALL.len()];

/// What a row of the choice table needs of the whole car.
#[derive(Clone, Debug)]
pub(crate) struct Context {
    whole: WholeCar,
    /// What can be said of the car as drawn, and what is lacking for the rest.
    known: [bool; InStop::ALL.len()],
    pub lacks: Vec<Lack>,
    /// What carries it, where the file says so, or why that cannot be worked out.
    pub built: Result<Option<InTable>, Lack>,
    /// Where it is driven: what the rows of one table are compared with, or why that cannot be worked out.
    pub laps: Result<Option<LapTable>, Lack>,
}

/// One row's values with their ±, and why some are past the model.
#[derive(Clone, Debug, Default)]
pub(crate) struct Answer {
    pub estimates: Vec<Option<Estimate>>,
    /// Why the figures are past what the model can say.
    pub outside: Vec<String>,
}

impl Context {
    /// `None` where the car was not weighed, or lacks what all of it needs; then with the reason.
    pub fn new(car: &Car) -> Result<Self, Lack> {
        let whole = WholeCar::new(car)?;
        let nominal = whole.at(&[])?;
        let stop = &whole.car().stop;
        let (mut values, mut lacks, _) = values(&nominal, stop)?;
        match unfolding(&nominal, stop) {
            Ok(found) => {
                for (which, value) in LONG.into_iter().zip(found) {
                    if let Some(slot) = values.get_mut(which.index()) {
                        *slot = value;
                    }
                }
            }
            Err(lack) => lacks.push(lack),
        }
        let built = car.build.as_ref().map(|_| InTable::new(car)).transpose();
        Ok(Self { known: values.map(|v| v.is_some()), lacks, whole, built, laps: Ok(None) })
    }

    /// The same for a car of which only points of links were moved: what was weighed is taken over. `None` where more is
    /// another.
    pub fn moved(&self, car: &Car) -> Option<Self> {
        let whole = self.whole.moved(car)?;
        Some(Self { whole, ..self.clone() })
    }

    /// Those of which something can be said.
    pub fn columns(&self) -> impl Iterator<Item = InStop> + '_ {
        InStop::ALL.into_iter().filter(|q| self.known.get(q.index()).copied().unwrap_or(false))
    }

    /// What is uncertain, in the order of every answer's contributions.
    pub fn inputs(&self) -> &[Input] {
        self.whole.inputs()
    }

    /// What Build says with some holes chosen, of one load case alone where that is asked; `None` where the file says
    /// nothing of what carries the car.
    pub fn build(
        &self,
        end: End,
        holes: &[(End, usize)],
        only: Option<usize>,
    ) -> Option<Result<TableAnswer, Lack>> {
        let built = self.built.as_ref().ok()?.as_ref()?;
        Some(built.answer(&self.whole, end, holes, only))
    }

    /// Makes the car as drawn what laps are compared with.
    pub fn with_laps(mut self) -> Self {
        self.laps = LapTable::new(self.whole.car(), &self.whole);
        self
    }

    /// Compares laps with those of another table's car.
    pub fn beside(self, laps: Result<Option<LapTable>, Lack>) -> Self {
        Self { laps, ..self }
    }

    /// The laps of the car with some holes chosen, against the car as drawn; `None` where it is not said where it is driven.
    pub fn lap(&self, holes: &[(End, usize)]) -> Option<Result<LapValues, Lack>> {
        Some(self.laps.as_ref().ok()?.as_ref()?.answer(&self.whole, holes))
    }

    /// With some holes chosen; without ± where that would take too long.
    pub fn answer(&self, holes: &[(End, usize)], with_doubt: bool) -> Result<Answer, Lack> {
        let stop = &self.whole.car().stop;
        let nominal = self.whole.at(holes)?;
        let (plain, _, outside) = values(&nominal, stop)?;
        let exact = |v: Option<f64>| v.map(|value| Estimate { value, contributions: Vec::new() });
        let timed = |whole: &Whole| unfolding(whole, stop).unwrap_or([None; LONG.len()]);
        let (mut estimates, long) = if with_doubt {
            let doubtful = |whole: &Whole| values(whole, stop).map_or([None; InStop::ALL.len()], |(v, ..)| v);
            let estimates = self.whole.estimates(holes, Scope::All, doubtful)?.to_vec();
            let rise = estimates.get(InStop::RearRise.index()).and_then(Option::as_ref);
            let carried = carried(rise, self.whole.inputs());
            let long = self.whole.estimates_by(holes, &carried, timed)?;
            (estimates, long)
        } else {
            (plain.map(exact).to_vec(), timed(&nominal).map(exact))
        };
        for (which, estimate) in LONG.into_iter().zip(long) {
            if let Some(slot) = estimates.get_mut(which.index()) {
                *slot = estimate;
            }
        }
        Ok(Answer { estimates, outside })
    }
}

/// What takes a run in time or the eigenvalues of the car.
const LONG: [InStop; 2] = [InStop::Dip, InStop::Hop];

/// How many inputs are carried into those because they move the steady rear rise most.
const OF_THE_RISE: usize = 8;

/// Words in the names of inputs that a body at rest does not feel and one in motion does: they are carried as well. With
/// the largest of the rise they make all but a few per cent of the ± (a test has every input carried), and each costs a run.
const OF_MOTION: [&str; 5] = ["damping", "inertia", "unsprung", "rate of the", "vertical rate"];

/// Which inputs are carried.
fn carried(rise: Option<&Estimate>, inputs: &[Input]) -> Vec<usize> {
    let size = |i: &usize| rise.and_then(|r| r.contributions.get(*i)).map_or(0.0, |c| c.abs());
    let mut order: Vec<usize> = (0..inputs.len()).collect();
    order.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let rest = order.split_off(OF_THE_RISE.min(order.len()));
    let moves =
        |i: &usize| inputs.get(*i).is_some_and(|input| OF_MOTION.iter().any(|w| input.name.contains(w)));
    order.extend(rest.into_iter().filter(moves));
    order
}

/// How long the stop is followed after the pedal is down [s]: a body at 1 Hz has then turned round and come to rest. The
/// same for the table and the chart, since the dip is taken against the end.
const AFTER: f64 = 1.2;

/// Dip and hop.
fn unfolding(whole: &Whole, stop: &StatedStop) -> Result<[Option<f64>; LONG.len()], Lack> {
    let (run, hop) = over_time(whole, stop)?;
    Ok([run.summary.dip, hop.damping].map(|v| Some(v).filter(|v| v.is_finite())))
}

/// How far the brake torques of the stated stop may rise before the hop of the rear wheels no longer dies away.
pub(crate) fn hop_margin(whole: &Whole, stop: &StatedStop) -> Result<HopMargin, Lack> {
    let (stopper, press) = stopper(whole, stop)?;
    stopper.hop_margin(stop.from, press.torque).map_err(told)
}

/// The stated stop over time, and the hop of the rear wheels in it.
pub(crate) fn over_time(whole: &Whole, stop: &StatedStop) -> Result<(Stopped, Hop), Lack> {
    let (stopper, press) = stopper(whole, stop)?;
    let run = stopper.run(&press).map_err(told)?;
    Ok((run, stopper.hop(stop.from, press.torque).map_err(told)?))
}

fn told(e: PedalError) -> Lack {
    Lack {
        what: format!("the stop as it unfolds cannot be worked out: {e}"),
        hint: "look at dampers, tyres and masses, or state a milder `[stop]`".into(),
    }
}

/// The car for its run, and how the pedal goes down.
fn stopper<'w>(whole: &'w Whole, stop: &StatedStop) -> Result<(Stopper<'w>, Press), Lack> {
    let (front, rear) = whole.stated_forces(stop)?;
    let share = if front + rear > 0.0 { front / (front + rear) } else { 1.0 };
    let rolling = [whole.rolling_at(AxleEnd::Front)?, whole.rolling_at(AxleEnd::Rear)?];
    let stopper =
        Stopper::new(&whole.on_wheels(share)?, rolling, whole.sprung_pitch_inertia()?).map_err(told)?;
    let torque = [(AxleEnd::Front, front), (AxleEnd::Rear, rear)]
        .map(|(end, force)| force / 2.0 * whole.axle(end).corner.loaded_radius());
    let press = Press { speed: stop.from, torque, rise_time: stop.rise, duration: stop.rise + AFTER };
    Ok((stopper, press))
}

impl Context {
    /// The largest sources of a ±.
    pub fn doubts(&self, estimate: &Estimate) -> Vec<(String, f64)> {
        self.whole
            .doubts(estimate)
            .into_iter()
            .take(5)
            .map(|(name, share)| (name.to_string(), share))
            .collect()
    }

    /// This car's figures that went in.
    pub fn terms(&self, end: End, holes: &[usize]) -> Vec<Term> {
        let holes: Vec<(End, usize)> = holes.iter().map(|hole| (end, *hole)).collect();
        let Ok(whole) = self.whole.at(&holes) else { return Vec::new() };
        let units = &self.whole.car().units;
        let stop = &self.whole.car().stop;
        let term = |symbol: &str, meaning: &str, value: f64, scale: Scale| Term {
            symbol: symbol.into(),
            meaning: meaning.into(),
            value: shown(&Estimate { value, contributions: Vec::new() }, scale, units).text(),
        };
        let (sprung, behind, height) = whole.sprung();
        vec![
            term("v", "speed of the stated stop", stop.from, Scale::Speed),
            term("a", "its deceleration", stop.deceleration, Scale::Acceleration),
            term("m", "mass", whole.loads.mass, Scale::Mass),
            term("m_s", "sprung mass", sprung, Scale::Mass),
            term("x_s", "its centre behind the front axle", behind, Scale::Length),
            term("h_s", "its height", height, Scale::Length),
            term("L", "wheelbase", whole.wheelbase, Scale::Length),
        ]
    }
}

/// Everything at once, with what is lacking for some of it and why some of it is past the model.
fn values(whole: &Whole, stop: &StatedStop) -> Result<(Values, Vec<Lack>, Vec<String>), Lack> {
    let stopping = whole.stopping();
    let (front, rear) = whole.stated_forces(stop)?;
    let share = if front + rear > 0.0 { front / (front + rear) } else { 1.0 };
    let state = equilibrium(whole, stop, share)?;
    let mut out: Values = [None; InStop::ALL.len()];
    let mut set = |which: InStop, value: f64| {
        if let Some(slot) = out.get_mut(which.index()) {
            *slot = Some(value).filter(|v| v.is_finite());
        }
    };
    let rear_axle = whole.axle(AxleEnd::Rear);
    set(InStop::Pitch, state.attitude.pitch);
    set(InStop::RearRise, state.attitude.rise_at(rear_axle.measures.contact.x));
    let mut lacks = Vec::new();
    let mut outside = Vec::new();
    // The body's centre has moved with the attitude: the loads are those of that height.
    let (sprung, behind, _) = whole.sprung();
    let sunk = state.attitude.rise_at(-behind) * sprung / whole.loads.mass;
    let there = StoppingCar { cg_height: stopping.cg_height + sunk, ..stopping };
    match whole.trim(&there) {
        Ok(trim) => {
            let trimmed = trim.at(stop.from, -stop.deceleration).map_err(wrong)?;
            set(InStop::Reserve, trimmed.rear_reserve_share);
            set(InStop::Margin, trimmed.static_margin);
            if trimmed.outside {
                outside.push(crate::stop::LOAD_RANGE.to_string());
            }
            if let Some(axle) = trimmed.slides {
                outside.push(format!("the {} locks in this stop", crate::whole::end_name(axle)));
            }
        }
        Err(lack) => lacks.push(lack),
    }
    Ok((out, lacks, outside))
}

/// The car's equilibrium in the stop.
fn equilibrium(whole: &Whole, stop: &StatedStop, share: f64) -> Result<State, Lack> {
    let told = |e: vehicle::platform::PlatformError| Lack {
        what: format!("no equilibrium in the stated stop: {e}"),
        hint: "look at springs, bump stops and masses, or state a milder `[stop]`".into(),
    };
    let mut platform = Platform::new(whole.on_wheels(share)?).map_err(told)?;
    let demand = Demand { speed: stop.from, along: -stop.deceleration, ..Demand::default() };
    platform.solve(&demand).map_err(told)
}

const STATICS: &str = "equilibrium of the whole car on its real linkages, springs, stops and tyres by virtual work; checked \
                       against explicit statics with link forces (SciPy)";

/// What there is to say about each.
pub(crate) fn about(which: InStop) -> About {
    match which {
        InStop::Pitch => About {
            title: "pitch in the stop",
            definition: "nose-down angle of the body in the steady stated stop, against ride height",
            formula: "balance of forces and moments of the body and of each wheel's travel, F . v + M . w = springs",
            source: STATICS,
            does: "It tips the floor and the wing, changes caster by as much, and is what the driver feels",
            does_not: "It moves no load from axle to axle but by the little that the centre of gravity sinks or rises",
        },
        InStop::RearRise => About {
            title: "rear rise in the stop",
            definition: "rise of the body over ride height at the rear axle in the steady stated stop, up positive",
            formula: "height of the body over the road above the rear contact points, less that at rest",
            source: STATICS,
            does: "Anti-lift takes it down: a tail that stays down keeps its camber and toe, and the air under it",
            does_not: "It is the steady stop: how fast it comes there is another figure",
        },
        InStop::Dip => About {
            title: "rear-load dip at brake onset",
            definition: "how far the load on the rear axle falls below its steady value while the pedal goes down",
            formula: "least rear load over time less the steady one, pedal down in the stated time",
            source: "equations of motion of the car in the pitch plane, integrated (own derivation, docs/theory-vehicle.md)",
            does: "In the dip the rear locks sooner than the steady figures say",
            does_not: "It knows no bumps and no driver who squeezes the pedal",
        },
        InStop::Reserve => About {
            title: "rear axle's reserve in the stop",
            definition: "share of the rear axle's side grip that braking leaves",
            formula: "sqrt(1 - (F_x / (mu_x F_z))^2) of the rear axle",
            source: "friction ellipse: W. Milliken & D. Milliken, Race Car Vehicle Dynamics (1995), ch. 2 (remembered)",
            does: "It holds the tail straight",
            does_not: "It hardly depends on where the links go: on bias, tyres, mass and air",
        },
        InStop::Margin => About {
            title: "static margin in the stop",
            definition: "distance of the neutral steer point behind the centre of gravity over the wheelbase, with the \
                         tyres as loaded and as used by the brakes",
            formula: "(b C_r - a C_f) / (L (C_f + C_r)), C lowered by the slip in use",
            source: "T. D. Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 6 (remembered); ISO 8855 for the terms",
            does: "Positive: a push turns the car away from it, and it goes straight by itself",
            does_not: "It hardly depends on where the links go; it leaves out roll steer and the give of bushes",
        },
        InStop::Hop => About {
            title: "damping of the rear hop under the brakes",
            definition: "damping ratio of the mode that moves the rear wheels most, about the steady stated stop",
            formula: "eigenvalues of the linearised equations of motion in the pitch plane",
            source: "equations of motion of the car in the pitch plane, linearised (own derivation, docs/theory-vehicle.md)",
            does: "Small or negative: the rear wheels hop under the brakes",
            does_not: "It leaves out bushes, which give and damp, and the wind-up of shafts",
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The inputs that are carried into the dip and the hop make nearly all of their ±: against every input carried.
    #[test]
    fn few_inputs_carry_the_doubt_of_what_takes_long() {
        let mut car = project::read(include_str!("../../../examples/plover/whole.toml")).car.unwrap();
        crate::settle(&mut car);
        let context = Context::new(&car).unwrap();
        for hole in [0, 2] {
            let holes = [(End::Rear, hole)];
            let few = context.answer(&holes, true).unwrap();
            let timed = |whole: &Whole| unfolding(whole, &car.stop).unwrap_or([None; LONG.len()]);
            let all = context.whole.estimates(&holes, Scope::All, timed).unwrap();
            for (which, all) in LONG.into_iter().zip(all) {
                let few = few.estimates[which.index()].as_ref().unwrap().uncertainty();
                let all = all.unwrap().uncertainty();
                assert!(few <= all * (1.0 + 1e-9) && few > 0.9 * all, "{which:?}: {few} of {all}");
            }
        }
    }

    /// A car of which one point was moved is answered as if its file had been read with it.
    #[test]
    fn a_moved_point_is_answered_with_the_weighing_as_it_is() {
        let mut car = project::read(include_str!("../../../examples/plover/whole.toml")).car.unwrap();
        crate::settle(&mut car);
        let context = Context::new(&car).unwrap();
        let mut moved = car.clone();
        moved.rear.as_mut().unwrap().points[0].at.z += 0.02;
        let (quick, slow) = (context.moved(&moved).unwrap(), Context::new(&moved).unwrap());
        let value = |context: &Context| -> Vec<Option<f64>> {
            let answer = context.answer(&[], false).unwrap();
            answer.estimates.iter().map(|e| e.as_ref().map(|e| e.value)).collect()
        };
        assert_eq!(value(&quick), value(&slow));
        assert_ne!(value(&quick), value(&context));
        moved.rear.as_mut().unwrap().wheel.centre.at.x -= 0.01;
        assert!(context.moved(&moved).is_none(), "another wheelbase weighs otherwise");
    }
}

//! The stage Manoeuvres: the open standards' manoeuvres as the confirmation of a choice. A straight stop, brakes in a turn, a
//! step of the steering, a slowly growing turn, each for every choice of holes and every setup, by the whole car in motion
//! ([`vehicle::motion`]).

mod figures;
mod lower;
mod picture;
mod plan;
mod texts;

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use project::model::{Car, End};
use vehicle::motion::{Manoeuvre, MotionError, Run, SteadyTurn, Summary};

use crate::drive::{Variant, choices, deviate, spread};
use crate::stage::Stage;
use crate::whole::{Lack, Whole};
use plan::Plan;

/// What came of one manoeuvre, or why it could not be driven.
pub(crate) type Result1 = Result<Run, String>;

/// The manoeuvres of one choice.
pub(crate) struct Driven {
    pub stop: Result1,
    /// One a deceleration.
    pub braked: Vec<Result1>,
    pub step: Result1,
    /// Slopes by lateral acceleration of steady turns: understeer, roll, side slip [rad/(m/s^2)].
    pub slopes: Result<[f64; 3], String>,
    /// Wheelbase, tracks, radius of a tyre, height of the centre of gravity [m].
    pub sizes: [f64; 5],
    /// The growing turn; not in samples, which take the slopes alone.
    pub turn: Option<Result1>,
}

/// A choice with its manoeuvres, and the same in samples of what is uncertain.
pub(crate) struct Choice {
    pub name: String,
    pub driven: Driven,
    pub samples: Vec<Option<Driven>>,
}

/// What to beware of, beside every one of their figures.
pub const CAUTION: &str = "Planning figures, not an approval: what is computed is no leave to try it. Such manoeuvres are driven on \
                           a closed place with room to spin, step by step, by a driver who is used to it, with help standing by.";

/// How long each is followed [s].
const STOP_TIME: f64 = 3.0;
const BRAKED_TIME: f64 = 2.0;
const STEP_TIME: f64 = 3.0;

/// Time between samples [s].
const EVERY: f64 = 0.01;

/// Lateral accelerations between which slopes are taken [m/s^2].
const SLOPE: [f64; 2] = [1.0, 3.0];

/// Works the stage out for a choice of holes, against all others.
pub fn manoeuvres(car: &Car, holes: &[(End, usize)]) -> Stage {
    manoeuvres_with(car, holes, 4, crate::drive::cores(), &AtomicBool::new(false), &|_, _| {})
}

/// The same with as many samples as are asked for, on so many cores; what has been drawn when `stop` is set is used.
/// `progress` gets how many cars have been driven of how many.
pub fn manoeuvres_with(
    car: &Car,
    holes: &[(End, usize)],
    draws: usize,
    cores: usize,
    stop: &AtomicBool,
    progress: &(dyn Fn(usize, usize) + Sync),
) -> Stage {
    let mut stage = Stage::default();
    match whole(car, holes, draws, cores, stop, progress) {
        Ok((plan, list)) => {
            figures::groups(car, &plan, &list, &mut stage);
            picture::charts(&plan, &list, &mut stage);
            stage.motions = picture::motions(&plan, &list);
            stage.notes = texts::notes(car, &list, draws);
        }
        Err(lack) => stage.lack(lack),
    }
    stage
}

fn whole(
    car: &Car,
    holes: &[(End, usize)],
    draws: usize,
    cores: usize,
    stop: &AtomicBool,
    progress: &(dyn Fn(usize, usize) + Sync),
) -> Result<(Plan, Vec<Choice>), Lack> {
    let plan = Plan::of(car);
    let variants = choices(car, holes)?;
    let kinds = variants.len();
    let total = kinds * (draws + 1);
    let count = AtomicUsize::new(0);
    // One sample through all choices before the next, the cars as they are first.
    let all = spread(total, cores, stop, |i| {
        let variant = variants.get(i % kinds)?;
        let found = one(&plan, variant, (i / kinds).checked_sub(1).map(|sample| sample as u64));
        progress(1 + count.fetch_add(1, Ordering::Relaxed), total);
        Some(found)
    });
    let mut list: Vec<Choice> = Vec::new();
    let mut lack = None;
    let mut all = all.into_iter().map(Option::flatten);
    for variant in &variants {
        match all.next().flatten() {
            Some(Ok(driven)) => list.push(Choice { name: variant.name.clone(), driven, samples: Vec::new() }),
            Some(Err(why)) => lack = lack.or(Some(why)),
            None => {}
        }
    }
    if list.len() < kinds {
        return Err(lack.unwrap_or_else(|| Lack {
            what: "it was stopped before the cars were driven".into(),
            hint: "let it go on a little longer".into(),
        }));
    }
    for (i, found) in all.enumerate() {
        if let Some(choice) = list.get_mut(i % kinds) {
            choice.samples.push(found.and_then(Result::ok));
        }
    }
    Ok((plan, list))
}

/// One car through all of them: as it is, or in a sample.
fn one(plan: &Plan, variant: &Variant, sample: Option<u64>) -> Result<Driven, Lack> {
    let whole = match sample {
        None => variant.car.at(&variant.holes)?,
        Some(sample) => variant.car.drawn(&variant.holes, |name| deviate(sample, name), |_| {})?.1,
    };
    drive(plan, &whole, sample.is_none())
}

fn drive(plan: &Plan, whole: &Whole, nominal: bool) -> Result<Driven, Lack> {
    let base = lower::Base::new(whole)?;
    let mut runner = base.runner(plan.stop.deceleration)?;
    let told = |e: MotionError| e.to_string();
    let stop = runner.run(&Manoeuvre::StraightStop(plan.stop), STOP_TIME, EVERY).map_err(told);
    let step = runner.run(&Manoeuvre::StepSteer(plan.step), STEP_TIME, EVERY).map_err(told);
    let slopes = slopes(&mut runner, plan).map_err(told);
    let braked = plan
        .braked
        .iter()
        .map(|m| {
            // The brakes' balance may hang on how hard they are pressed.
            let mut runner = base.runner(m.deceleration).map_err(|lack| lack.what)?;
            runner.run(&Manoeuvre::BrakingInTurn(*m), BRAKED_TIME, EVERY).map_err(told)
        })
        .collect();
    let turn = nominal.then(|| {
        let growing = SteadyTurn::Speed { speed: plan.step.speed, rate: plan.turn_rate };
        runner.run(&Manoeuvre::SteadyTurn(growing), plan.turn_time, 0.02).map_err(told)
    });
    let [front, rear] = &whole.axles;
    let track = |axle: &crate::whole::WholeAxle| 2.0 * axle.measures.contact.y;
    let sizes =
        [whole.wheelbase, track(front), track(rear), front.corner.loaded_radius(), whole.loads.height];
    Ok(Driven { stop, braked, step, slopes, sizes, turn })
}

/// Slopes between two steady turns on one circle.
fn slopes(runner: &mut vehicle::motion::Runner<'_, '_>, plan: &Plan) -> Result<[f64; 3], MotionError> {
    let base = runner.wheelbase();
    let mut found = [[0.0; 3]; 2];
    for (slot, across) in found.iter_mut().zip(SLOPE) {
        let speed = (across * plan.circle).sqrt();
        let s = runner.steady(&vehicle::motion::Demand { speed, along: 0.0, across })?;
        // Road-wheel angle beyond that of a car that rolls round without slip.
        *slot = [s.angle - base * s.yaw_rate / speed, s.attitude.roll, s.side_slip];
    }
    let [a, b] = found;
    let per = SLOPE[1] - SLOPE[0];
    Ok([(b[0] - a[0]) / per, (b[1] - a[1]) / per, (b[2] - a[2]) / per])
}

/// The figures of a run of a kind, where it was driven.
pub(crate) fn of<T>(run: &Result1, pick: impl Fn(&Summary) -> Option<T>) -> Option<T> {
    pick(&run.as_ref().ok()?.summary)
}

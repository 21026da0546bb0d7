//! The stage Manoeuvres: the open standards' manoeuvres as the confirmation of a choice. A straight stop, brakes in a turn, a
//! step of the steering, a slowly growing turn, each for every choice of holes and every setup, by the whole car in motion
//! ([`vehicle::motion`]).

mod figures;
mod lower;
mod picture;
mod plan;
mod texts;

use project::model::{Car, End};
use vehicle::motion::{Demand, Manoeuvre, MotionError, Run, Runner, SteadyTurn, Summary};

use crate::drive::{Variant, Way, choices, deviate, spread};
use crate::stage::Stage;
use crate::whole::{Lack, Whole, WholeAxle};
use plan::Plan;

/// What came of one manoeuvre, or why it could not be driven.
pub(crate) type Followed = Result<Run, String>;

/// The manoeuvres of one choice.
pub(crate) struct Driven {
    pub stop: Followed,
    /// One a deceleration.
    pub braked: Vec<Followed>,
    pub step: Followed,
    /// Slopes by lateral acceleration of steady turns: understeer, roll, side slip [rad/(m/s^2)].
    pub slopes: Result<[f64; 3], String>,
    /// Wheelbase, tracks, radius of a tyre, height of the centre of gravity [m].
    pub sizes: [f64; 5],
    /// The growing turn; not in samples, which take the slopes alone.
    pub turn: Option<Followed>,
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

/// Works the stage out for a choice of holes, against all others, in so many samples of what is uncertain. Stopped, it uses
/// what has been drawn.
pub fn manoeuvres(car: &Car, holes: &[(End, usize)], draws: usize, way: &Way<'_>) -> Stage {
    let mut stage = Stage::default();
    let plan = Plan::of(car);
    let list = match choices(car, holes) {
        Ok(variants) => driven(&plan, &variants, draws, way, &mut stage),
        Err(lack) => {
            stage.lack(lack);
            Vec::new()
        }
    };
    if list.is_empty() {
        return stage;
    }
    figures::groups(&car.units, &plan, &list, &mut stage);
    picture::charts(&plan, &list, &mut stage);
    stage.motions = picture::motions(&plan, &list);
    stage.notes = texts::notes(car, &list, draws);
    stage
}

/// All choices through all of them; one that cannot be driven is told, and the others stand.
fn driven(plan: &Plan, variants: &[Variant], draws: usize, way: &Way<'_>, stage: &mut Stage) -> Vec<Choice> {
    let kinds = variants.len();
    let tick = way.counted(kinds * (draws + 1));
    // One sample through all choices before the next, the cars as they are first.
    let all = spread(kinds * (draws + 1), way, |i| {
        let variant = variants.get(i % kinds)?;
        let found = one(plan, variant, (i / kinds).checked_sub(1).map(|sample| sample as u64));
        tick();
        Some(found)
    });
    let mut all = all.into_iter().map(Option::flatten);
    let mut list: Vec<Option<Choice>> = Vec::new();
    for (i, (variant, found)) in variants.iter().zip(all.by_ref()).enumerate() {
        let lack = match found {
            Some(Ok(driven)) => {
                list.push(Some(Choice { name: variant.name.clone(), driven, samples: Vec::new() }));
                continue;
            }
            Some(Err(lack)) if i == 0 => lack,
            Some(Err(lack)) => Lack { what: format!("{}: {}", variant.name, lack.what), hint: lack.hint },
            None => Lack::new("it was stopped before the cars were driven", "let it go on a little longer"),
        };
        stage.lack(lack);
        list.push(None);
    }
    for (i, found) in all.enumerate() {
        if let Some(Some(choice)) = list.get_mut(i % kinds) {
            choice.samples.push(found.and_then(Result::ok));
        }
    }
    list.into_iter().flatten().collect()
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
    let follow = |runner: &mut Runner<'_, '_>, manoeuvre: &Manoeuvre, time: f64| -> Followed {
        let mut run = runner.run(manoeuvre, time, EVERY).map_err(|e| e.to_string())?;
        // Of a sample the figures count, not the way: thousands are kept.
        if !nominal {
            run.samples = Vec::new();
        }
        Ok(run)
    };
    let mut runner = base.runner(plan.stop.deceleration)?;
    let stop = follow(&mut runner, &Manoeuvre::StraightStop(plan.stop), STOP_TIME);
    let step = follow(&mut runner, &Manoeuvre::StepSteer(plan.step), STEP_TIME);
    let slopes = slopes(&mut runner, plan).map_err(|e| e.to_string());
    let braked = plan
        .braked
        .iter()
        .map(|m| {
            // The brakes' balance may hang on how hard they are pressed.
            let mut runner = base.runner(m.deceleration).map_err(|lack| lack.what)?;
            follow(&mut runner, &Manoeuvre::BrakingInTurn(*m), BRAKED_TIME)
        })
        .collect();
    let turn = nominal.then(|| {
        let growing = SteadyTurn::Speed { speed: plan.step.speed, rate: plan.turn_rate };
        follow(&mut runner, &Manoeuvre::SteadyTurn(growing), plan.turn_time)
    });
    let [front, rear] = &whole.axles;
    let track = |axle: &WholeAxle| 2.0 * axle.measures.contact.y;
    let sizes =
        [whole.wheelbase, track(front), track(rear), front.corner.loaded_radius(), whole.loads.height];
    Ok(Driven { stop, braked, step, slopes, sizes, turn })
}

/// Slopes between two steady turns on one circle.
fn slopes(runner: &mut Runner<'_, '_>, plan: &Plan) -> Result<[f64; 3], MotionError> {
    let base = runner.wheelbase();
    let mut found = [[0.0; 3]; 2];
    for (slot, across) in found.iter_mut().zip(SLOPE) {
        let speed = (across * plan.circle).sqrt();
        let s = runner.steady(&Demand { speed, along: 0.0, across })?;
        // Road-wheel angle beyond that of a car that rolls round without slip.
        *slot = [s.angle - base * s.yaw_rate / speed, s.attitude.roll, s.side_slip];
    }
    let [a, b] = found;
    let per = SLOPE[1] - SLOPE[0];
    Ok([(b[0] - a[0]) / per, (b[1] - a[1]) / per, (b[2] - a[2]) / per])
}

/// The figures of a run of a kind, where it was driven.
pub(crate) fn of<T>(run: &Followed, pick: impl Fn(&Summary) -> Option<T>) -> Option<T> {
    pick(&run.as_ref().ok()?.summary)
}

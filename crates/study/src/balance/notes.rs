//! What is assumed, and what to beware of.

use project::model::{End, TyreModel};
use vehicle::tyre::Question;

use super::{Case, ENDS};
use crate::stage::Stage;
use crate::whole::Lack;

/// Questions that a person has here, in the order in which they are told.
const ASKED: [Question; 5] =
    [Question::Pressure, Question::Camber, Question::Temperature, Question::Road, Question::Transient];

pub(super) fn all(case: &Case<'_>, stage: &mut Stage) {
    let car = case.car.car();
    let notes = &mut stage.notes;
    if case.car.estimated_inertia() && case.whole.loads.yaw.is_some() {
        notes.push(
            "The inertias are estimates from masses and places: `[weigh.inertia]` takes measured ones. They decide how fast \
             the car answers, not where it ends."
                .into(),
        );
    }
    if !car.stop.stated {
        notes.push(
            "The file states no stop: the faster speed of the response and the span of the maps are those of the stop that is \
             taken instead. `[stop]` states your own."
                .into(),
        );
    }
    if car.air.is_none() {
        notes.push("The file has no `[aero]`: drag and downforce are taken as none.".into());
    }
    for end in [End::Front, End::Rear] {
        let tyre = car.axle(end).and_then(|axle| axle.tyre.as_ref());
        if let Some(TyreModel::Simple(simple)) = tyre.map(|tyre| &tyre.model)
            && !simple.assumed.is_empty()
        {
            let (end, keys) = (end.name(), simple.assumed.join("`, `"));
            notes.push(format!(
                "The file leaves out of the {end} tyres: `{keys}`. Taken from common practice."
            ));
        }
    }
    notes.push(
        "Left and right are taken alike: the left side as measured, and half of each axle's load on each wheel. Uneven \
         corner weights make left and right turns differ; Weigh has them."
            .into(),
    );
    notes.push(
        "Rates, roll and load transfer are at ride height and for small motions: bump stops, lifted wheels, large lean and \
         the give of bushes, body and steering are not in them."
            .into(),
    );
    for question in ASKED {
        for end in ENDS {
            let why = case.whole.tyre(end).ok().and_then(|tyre| tyre.cannot_answer(question));
            if let Some(why) = why.map(|why| format!("Tyres: {why}."))
                && !notes.contains(&why)
            {
                notes.push(why);
            }
        }
    }
    notes.push(
        "These are planning figures. Test step by step, one change at a time, slowly first, on a closed place and away from \
         people."
            .into(),
    );
    if case.whole.loads.roll.is_none() && case.whole.rolling().is_ok() {
        stage.lack(Lack {
            what: "the roll inertia is not known: no roll frequency".into(),
            hint: "write `[weigh.inertia]`".into(),
        });
    }
}

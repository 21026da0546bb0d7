//! What a weighing assumes, said beside its results.

use project::model::{Car, Held, Weighing};

/// The notes.
pub(super) fn notes(car: &Car, weighing: &Weighing, ledger: bool, inertia: bool) -> Vec<String> {
    let mut notes = vec![
        "Level floor, level car, tyres at their pressures, and wheels that do not push sideways against each \
         other: roll the car back and forth on the scales before reading."
            .to_string(),
    ];
    match &weighing.raised {
        Some(raised) => {
            if car.front.is_none() || car.rear.is_none() {
                notes.push("Raised: the loaded radius of the axle that is not in the file is taken as the other's.".into());
            }
            if raised.locked {
                notes.push("Raised: suspension taken as locked, so that the springs do not enter.".into());
            } else {
                notes.push("Raised: springs free, their travel corrected by the wheel rates.".into());
            }
            let squash = weighing.front.tyre_rate.is_some() && weighing.rear.tyre_rate.is_some();
            notes.push(if squash {
                "Raised: the low tyres' squash is corrected by the tyre rates.".into()
            } else {
                "Raised: tyre squash is not corrected; with `tyre-rate` in `[weigh.front]` and `[weigh.rear]` it is."
                    .into()
            });
            notes.push(match raised.held {
                Held::OneAxle => "Raised: the wheels of one axle were held, the others rolled.".into(),
                _ => "Raised: all wheels rolled; brakes off, out of gear.".into(),
            });
        }
        None if weighing.stated_height.is_some() => notes.push(
            "Height: `cg-height` in `[car]` is taken as that of the car as it was weighed; raise one end on the \
             scales to measure it."
                .into(),
        ),
        None => notes.push(
            "No height: weigh with one end raised (`[weigh.raised]`), or give `cg-height` in `[car]`; without it \
             there is no inertia either."
                .into(),
        ),
    }
    if ledger {
        notes.push(
            "After the ledger the cross weight is taken as found: springs decide it, so weigh the finished car.".into(),
        );
    }
    if weighing.driver.is_some() || weighing.fuel.is_some() {
        notes.push(
            "Driver and fuel are taken to change no cross weight; a part-full tank keeps its centre.".into(),
        );
    }
    let measured = [weighing.inertia.yaw, weighing.inertia.pitch, weighing.inertia.roll];
    if !inertia {
        notes.push(
            "No inertia: what is left after the ledger is that of no body; check the masses and places of the parts."
                .into(),
        );
    } else if measured.iter().any(Option::is_none) {
        notes.push(
            "Inertia is an estimate, ± 12 % before the ledger: yaw by a dynamic index of 0.95, roll and pitch as a \
             block of the body's width and height. Measured radii of gyration go into `[weigh.inertia]`."
                .into(),
        );
    }
    notes
}

//! `soapstone drive` and `soapstone manoeuvres`: laps and manoeuvres of every choice, with progress.

use std::sync::Mutex;
use std::sync::atomic::AtomicBool;

use study::Draws;

use super::args::{DriveArgs, ManoeuvresArgs};
use super::progress::Progress;
use super::{Failure, load, select, stage};
use crate::stage::Which;

/// Most samples: a ± to a per mille of itself.
const MOST: usize = 100_000;

/// Samples for each change of the car, of those for each choice.
const OF_CHOICES: usize = 3;

/// Runs it.
pub(crate) fn run(args: &DriveArgs) -> Result<(), Failure> {
    let samples = usable(args.samples)?;
    let car = load::whole_car(args.stage.car.as_deref())?;
    let (place, holes) = stage::holes(&car, &args.stage.place)?;
    let car = select::set_up(&car, &args.stage.place)?;
    let draws =
        Draws { choices: samples, changes: if samples == 0 { 0 } else { (samples / OF_CHOICES).max(2) } };
    let progress = Mutex::new(Progress::new("laps"));
    let found = study::drive_with(
        car,
        &holes,
        draws,
        args.cores.unwrap_or_else(study::cores).clamp(1, 256),
        &AtomicBool::new(false),
        &|done, of| {
            if let Ok(mut bar) = progress.try_lock() {
                bar.at(done, of);
            }
        },
    );
    drop(progress);
    stage::show(Which::Drive, (args.stage.json, args.stage.csv), car, &place, &found)
}

/// Runs `soapstone manoeuvres`.
pub(crate) fn manoeuvres(args: &ManoeuvresArgs) -> Result<(), Failure> {
    let samples = usable(args.samples)?;
    let car = load::whole_car(args.stage.car.as_deref())?;
    let (place, holes) = stage::holes(&car, &args.stage.place)?;
    let car = select::set_up(&car, &args.stage.place)?;
    let progress = Mutex::new(Progress::new("cars"));
    let found = study::manoeuvres_with(
        car,
        &holes,
        samples,
        args.cores.unwrap_or_else(study::cores).clamp(1, 256),
        &AtomicBool::new(false),
        &|done, of| {
            if let Ok(mut bar) = progress.try_lock() {
                bar.at(done, of);
            }
        },
    );
    drop(progress);
    stage::show(Which::Manoeuvres, (args.stage.json, args.stage.csv), car, &place, &found)
}

/// A count of samples that gives a ±, or none.
fn usable(samples: usize) -> Result<usize, Failure> {
    if samples > MOST || samples == 1 {
        return Err(Failure::with_hint(
            format!("{samples} samples give no ±"),
            format!("16 tell a ± to a fifth of itself, 200 to a twentieth; at most {MOST}, or 0 for none"),
        ));
    }
    Ok(samples)
}

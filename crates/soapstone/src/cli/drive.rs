//! `soapstone drive` and `soapstone manoeuvres`: laps and manoeuvres of every choice, with progress.

use project::model::{Car, End};
use study::{Draws, Stage, Way};

use super::args::{DriveArgs, ManoeuvresArgs, StageArgs};
use super::progress::Progress;
use super::{Failure, load, select, stage};
use crate::stage::Which;

/// Most samples: a ± to a per mille of itself.
const MOST: usize = 100_000;

/// Samples for each change of the car, of those for each choice.
const OF_CHOICES: usize = 3;

/// Runs `soapstone drive`.
pub(crate) fn run(args: &DriveArgs) -> Result<(), Failure> {
    let samples = usable(args.samples)?;
    let changes = if samples == 0 { 0 } else { (samples / OF_CHOICES).max(2) };
    let draws = Draws { choices: samples, changes };
    each_choice(Which::Drive, &args.stage, args.cores, "laps", |car, holes, way| {
        study::drive(car, holes, draws, way)
    })
}

/// Runs `soapstone manoeuvres`.
pub(crate) fn manoeuvres(args: &ManoeuvresArgs) -> Result<(), Failure> {
    let samples = usable(args.samples)?;
    each_choice(Which::Manoeuvres, &args.stage, args.cores, "cars", |car, holes, way| {
        study::manoeuvres(car, holes, samples, way)
    })
}

/// Works a stage of all choices out with progress, and prints it.
fn each_choice(
    which: Which,
    args: &StageArgs,
    cores: Option<usize>,
    what: &'static str,
    work: impl FnOnce(&Car, &[(End, usize)], &Way<'_>) -> Stage,
) -> Result<(), Failure> {
    let car = load::whole_car(args.car.as_deref())?;
    let (place, holes) = stage::holes(&car, &args.place)?;
    let car = select::set_up(&car, &args.place)?;
    let progress = Progress::new(what);
    let way =
        Way { cores: usable_cores(cores), progress: &|done, of| progress.at(done, of), ..Way::default() };
    let found = work(car, &holes, &way);
    drop(progress);
    stage::show(&which.head(), (args.json, args.csv), car, &place, &found)
}

/// The cores that are asked for; all where none are.
pub(super) fn usable_cores(asked: Option<usize>) -> usize {
    asked.unwrap_or_else(study::cores).clamp(1, 256)
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

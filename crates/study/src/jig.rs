//! The jig sheet of one axle as plain data: where every pickup is, the tape lengths that check it, the diagonals that
//! check for square, and how exact each place has to be, from what it does to the results.

mod consequence;
mod exactness;
mod misplaced;
mod points;
mod square;
mod tape;
mod tolerance;

use nalgebra::Vector3;
use project::model::{Car, End};

use crate::subject::{StudyError, Subject};

pub use consequence::Consequence;
pub use exactness::{Exactness, TAPE_IS_ENOUGH};
pub use points::{JigRole, Side};
pub use square::Diagonal;
pub use tape::{Datum, Fix, ILL_CONDITIONED, Tape};
pub use tolerance::{Limit, Need, Together};

/// The jig sheet of one axle. Lengths are in metres; [`Self::frame`] says in words what the coordinates count from.
#[derive(Clone, Debug)]
pub struct Jig {
    /// Front or rear.
    pub end: End,
    /// The file's own frame, such as `x rearward from front axle, y left from centreline, z up from ground`.
    pub frame: String,
    /// Marks that tapes are held to.
    pub datums: Vec<Datum>,
    /// Every place, the left one before the right one.
    pub rows: Vec<JigRow>,
    /// Cross measures between pickups, those that tell most of a side that stands ahead first.
    pub diagonals: Vec<Diagonal>,
    /// What all pickups together may do where each is as exact as its class.
    pub together: Vec<Together>,
    /// What to know beside the numbers, cautions first.
    pub notes: Vec<String>,
}

/// One place on one side.
#[derive(Clone, Debug)]
pub struct JigRow {
    /// The point as the file names it, such as `link.toe.body`.
    pub point: String,
    /// The candidate hole of it, where it is one.
    pub hole: Option<String>,
    /// Left or right.
    pub side: Side,
    /// What it is.
    pub role: JigRole,
    /// In the file's own frame \[m\].
    pub at: Vector3<f64>,
    /// In the car's axes \[m\].
    pub in_car: Vector3<f64>,
    /// Standard uncertainty of each coordinate \[m\].
    pub uncertainty: Vector3<f64>,
    /// Straight lengths from the datums.
    pub tapes: Vec<Tape>,
    /// The three datums that fix it best, and how well; `None` where no three fix it.
    pub fix: Option<Fix>,
    /// How exact it has to be; only of places on the body.
    pub need: Option<Need>,
}

impl JigRow {
    /// Whether three tapes, each sure to `tape` \[m\], place it as exactly as it has to be.
    pub fn tape_will_do(&self, tape: f64) -> Option<bool> {
        let (fix, need) = (self.fix.as_ref()?, self.need.as_ref()?);
        Some(need.along.iter().zip(fix.along).all(|(limit, per_tape)| {
            limit.as_ref().is_none_or(|limit| per_tape * tape <= limit.tolerance.min(TAPE_IS_ENOUGH))
        }))
    }
}

/// The jig sheet of an axle. For a car whose centre of gravity is known by weighing, settle it first
/// ([`crate::settle`]): the anti-features need its height.
///
/// # Errors
/// As [`Subject::new`]; if the corner cannot be built or is not held.
pub fn jig(car: &Car, end: End) -> Result<Jig, StudyError> {
    let subject = Subject::new(car, end)?;
    let axle = subject.axle();
    let places = points::places(axle);
    let judged = tolerance::judge(&subject, &places)?;
    let sides = [Side::Left, Side::Right];
    let in_car: Vec<Vector3<f64>> =
        places.iter().flat_map(|place| sides.map(|side| side.of(&place.at))).collect();
    let datums = tape::datums(car, axle, &in_car);
    let mut rows = Vec::with_capacity(in_car.len());
    for (place, need) in places.iter().zip(&judged.needs) {
        for side in sides {
            let in_car = side.of(&place.at);
            let (tapes, fix) = tape::measure(&datums, &in_car, &place.uncertainty);
            rows.push(JigRow {
                point: place.point.clone(),
                hole: place.hole.as_ref().map(|(_, name)| name.clone()),
                side,
                role: place.role,
                at: car.frame.to_survey(in_car).add_scalar(0.0),
                in_car,
                uncertainty: place.uncertainty,
                tapes,
                fix,
                need: need.as_ref().map(|need| need.on(side)),
            });
        }
    }
    let diagonals = square::diagonals(&rows);
    let notes = notes(car, &subject, &judged);
    Ok(Jig {
        end,
        frame: car.frame.description().to_string(),
        datums,
        rows,
        diagonals,
        together: judged.together,
        notes,
    })
}

fn notes(car: &Car, subject: &Subject<'_>, judged: &tolerance::Judged) -> Vec<String> {
    let mut notes = vec![
        "Planning figures, not an approval: a structural change must be checked by a licensed engineer.".into(),
        "Set the car level on stands that are rated for it before anyone reaches under it. Tack, measure again, then \
         weld in short runs from side to side: heat pulls a bracket by more than a millimetre (common practice)."
            .into(),
        "The right side is the mirror of the left one, as the file has it: if the shell is not the same on both sides, \
         measure it first."
            .into(),
        "Each tolerance is what one coordinate of one place may be off alone before the named result moves by what \
         `[jig]` allows. Several that are off add up: see what all of them do together."
            .into(),
        "Links are taken to be set so that the wheel stands as drawn. Toe and camber at ride height count only as far as \
         no adjuster resets them."
            .into(),
    ];
    if car.jig.datums.is_empty() {
        notes.push(
            "The datums are crosses on a level floor, put there by plumb-bob from the wheel centres and measured along the \
             centreline; marks of your own go into `[[jig.datum]]`."
                .into(),
        );
    } else if car.jig.datums.len() < 3 {
        notes.push("The file names fewer than three datums: crosses on the floor are added to them.".into());
    }
    let (lacking, end) = (&judged.lacking, subject.end());
    if !lacking.is_empty() {
        let names: Vec<String> =
            lacking.iter().map(|result| result.words(subject.axle(), &car.units, end)).collect();
        notes.push(format!(
            "Not looked at, because the file lacks what they need or the wheel stops before: {}.",
            names.join(", ")
        ));
    }
    notes
}

//! The frame as a part of the ledger: what is drawn weighs something before it is welded.

use nalgebra::Vector3;
use project::model::{Car, Part, SurveyPoint, Value};

use super::frame::Ready;

/// Its name among the parts put in.
pub(crate) const IN_LEDGER: &str = "frame of [build]";

/// What tabs, welds and the rest of centre lines make of the mass, as a share (common practice).
const MASS_DOUBT: f64 = 0.05;

/// How sure the centre is [m]: tabs and brackets are not in it.
const CENTRE_DOUBT: f64 = 0.02;

/// Puts the frame among the parts put in, where the file wants that and it stands.
pub(crate) fn put_in(car: &mut Car) {
    let Some(build) = car.build.as_ref().filter(|build| build.in_ledger) else { return };
    let Some(reading) = &build.frame else { return };
    let Ok(ready) = Ready::new(build, reading) else { return };
    let (mass, span) = (ready.frame.mass(), reading.span.clone());
    let Some(weigh) = car.weigh.as_mut() else { return };
    if weigh.parts_in.iter().any(|part| part.name == IN_LEDGER) {
        return;
    }
    weigh.parts_in.push(Part {
        name: IN_LEDGER.into(),
        mass: Value { value: mass.mass, uncertainty: MASS_DOUBT * mass.mass },
        at: SurveyPoint {
            at: mass.centre,
            uncertainty: Vector3::new(CENTRE_DOUBT, 0.0, CENTRE_DOUBT),
            span: span.clone(),
        },
        size: None,
        span,
    });
}

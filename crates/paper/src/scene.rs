//! An axle as drawn, for drawings that stand still.

use draw::Scene;
use study::{StudyError, Subject};
use suspension::{Mover, diagnose};

/// The axle at ride height, with its candidate holes as drawn.
///
/// # Errors
/// If the corner cannot be built or is not held.
pub fn as_drawn(subject: &Subject<'_>) -> Result<Scene, StudyError> {
    let inputs = subject.nominal(&[]);
    let corner = subject.corner(&inputs)?;
    if let Some(found) = diagnose(&corner).into_iter().find(|found| found.fatal) {
        return Err(StudyError::Held { message: found.message, hint: found.hint });
    }
    let mut mover = Mover::new(&corner);
    // At ride height every corner stands as drawn.
    let _ = mover.at(0.0, 0.0);
    Ok(Scene::new(subject.car(), subject.axle(), &corner, &mut mover, &inputs.points))
}

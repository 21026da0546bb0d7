//! Whether an edit and a change that another program made go together.

use super::error::Clash;
use crate::edit::{Change, Edit, changes, touch};
use crate::model::{Axle, Car};

/// Keys that an edit and another program both changed, to different values.
pub(crate) fn clashes(base: &str, ours: &str, theirs: &str, edit: &Edit) -> Vec<Clash> {
    if edit.replaces_everything() {
        let clash = Clash { path: "the whole file".into(), was: None, ours: None, theirs: None };
        return vec![clash];
    }
    let (Some(ours), Some(theirs)) = (changes(base, ours), changes(base, theirs)) else { return Vec::new() };
    let clash = |own: &Change| {
        let other = theirs.iter().find(|other| touch(&own.path, &other.path))?;
        (own.path != other.path || own.after != other.after).then(|| Clash {
            path: own.path.clone(),
            was: own.before.clone(),
            ours: own.after.clone(),
            theirs: other.after.clone(),
        })
    };
    ours.iter().filter_map(clash).collect()
}

/// The clash of a place in the car's axes with a change of those axes, or of the units or the side that they are
/// written in.
pub(crate) fn axes_clash(was: &Car, is: &Car) -> Option<Clash> {
    let mirrored = |axle: &Option<Axle>| axle.as_ref().map(|axle| axle.mirrored);
    let same = was.frame == is.frame
        && was.units == is.units
        && [(&was.front, &is.front), (&was.rear, &is.rear)].iter().all(|(a, b)| mirrored(a) == mirrored(b));
    let words = |car: &Car| Some(car.frame.description().to_string());
    (!same).then(|| Clash { path: "survey".into(), was: words(was), ours: words(was), theirs: words(is) })
}

//! `[jig]`: what is marked from, and how far a built pickup may move a result.

use units::Dimension;

use crate::axle::Context;
use crate::entry::shorten;
use crate::model::{Allowed, JigDatum, JigReading};
use crate::point::{self, Placing};
use crate::reader::Section;

/// Most datums of a file.
const MOST_DATUMS: usize = 40;

/// Reads `[jig]`; what it leaves out is as in [`Allowed::default`].
pub(crate) fn read(root: &Section<'_>, context: &Context<'_>) -> JigReading {
    let mut jig = JigReading::default();
    let Some(section) = root.section("jig") else { return jig };
    let change = |key: &str, dimension: Dimension, usual: f64| {
        section.positive(key, dimension).map_or(usual, |value| value.value)
    };
    let usual = Allowed::default();
    jig.allowed = Allowed {
        toe_change: change("toe-change", Dimension::Angle, usual.toe_change),
        camber_change: change("camber-change", Dimension::Angle, usual.camber_change),
        roll_centre: change("roll-centre", Dimension::Length, usual.roll_centre),
        anti: change("anti", Dimension::Ratio, usual.anti),
        motion_ratio: change("motion-ratio", Dimension::Ratio, usual.motion_ratio),
        toe: change("toe", Dimension::Angle, usual.toe),
        camber: change("camber", Dimension::Angle, usual.camber),
    };
    let placing = Placing { frame: context.frame, accuracy: context.accuracy, mirrored: false };
    for (index, table) in section.array_of_sections("datum").into_iter().enumerate() {
        if index == MOST_DATUMS {
            table.sink.error(&table.span, format!("there are more than {MOST_DATUMS} datums"), None);
            table.leave();
            break;
        }
        if let Some(datum) = datum(table, &placing, &jig.datums) {
            jig.datums.push(datum);
        }
    }
    section.finish(None);
    jig
}

fn datum(section: Section<'_>, placing: &Placing<'_>, before: &[JigDatum]) -> Option<JigDatum> {
    let entry = section.need("name", "what the datum is called on the jig sheet");
    let name = entry.as_ref().and_then(|entry| Some(entry.text("the name of a datum")?.trim().to_string()));
    let at = point::read_at(&section, "where the datum is, as [x, y, z]");
    if let (Some(entry), Some(name)) = (&entry, &name) {
        if name.is_empty() {
            entry.error("a datum needs a name".to_string(), None);
            section.finish(None);
            return None;
        }
        if before.iter().any(|datum| datum.name == *name) {
            entry.error(format!("there is a datum called `{}` already", shorten(name)), None);
        }
    }
    section.finish(None);
    Some(JigDatum { name: name?, at: placing.place(at?) })
}

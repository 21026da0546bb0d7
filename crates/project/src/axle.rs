//! `[front]` and `[rear]`: one axle each.

mod choices;
mod elements;
mod joints;
mod kinds;
mod outline;
mod springing;
mod wheel;

use toml_edit::TableLike;
use units::{Dimension, UnitSystem};

use crate::brake;
use crate::diagnostic::Sink;
use crate::frame::SurveyFrame;
use crate::model::{Adjuster, Axle, End, Mounting, RideHeight};
use crate::point::{self, Placing, PointBook};
use crate::reader::Section;
use crate::slips;
use crate::starter::KINDS;
use crate::tyre;
use suspension::scheme::Scheme;

/// What an axle needs to know of the rest of the file.
pub(crate) struct Context<'f> {
    pub(crate) frame: &'f SurveyFrame,
    /// Standard uncertainty of a coordinate that states none \[m\].
    pub(crate) accuracy: f64,
    /// The named datum that heights are measured from, where it is not the ground.
    pub(crate) height_datum: Option<&'f str>,
    /// Whether places can be judged: the frame is known.
    pub(crate) judge: bool,
}

/// An axle on the way: what its kind made of its tables.
pub(crate) struct Parts<'f> {
    pub(crate) scheme: Scheme,
    pub(crate) book: PointBook<'f>,
    /// With the place of their threads.
    pub(crate) adjusters: Vec<Adjuster>,
    pub(crate) rack_travel: Option<f64>,
    pub(crate) springing: springing::Springing,
}

/// x of the wheel's centre as written, where it can be read. Says nothing: the axle's own reading does.
pub(crate) fn peek_x(root: &dyn TableLike, end: &str, units: UnitSystem) -> Option<f64> {
    let silent = Sink::new("");
    let root = Section::root(&silent, root, units);
    let centre = root.section(end)?.section("wheel")?.entry("centre")?;
    Some(point::read(&centre)?.at.x)
}

/// Reads one axle, if the file has it. `None` with errors when too little of it can be read.
pub(crate) fn read(root: &Section<'_>, end: End, context: &Context<'_>) -> Option<Axle> {
    let section = root.section(end.name())?;
    let wheel = wheel::read(&section);
    let mirrored = wheel.as_ref().is_some_and(|wheel| wheel.is_right(context.frame));
    let placing = Placing { frame: context.frame, accuracy: context.accuracy, mirrored };
    let Some(kind) = kind(&section) else {
        section.leave();
        return None;
    };
    let brakes = mounting(&section, "brakes", ["outboard", "inboard"]).unwrap_or(Mounting::Outboard);
    let final_drive = mounting(&section, "final-drive", ["axle", "body"]).unwrap_or(Mounting::Inboard);
    let Some(mut parts) = kinds::read(&section, kind, &placing) else {
        section.leave();
        return None;
    };
    let spans = slips::Spans::of(&parts.scheme);
    let elements = elements::read(&section, kind, &mut parts);
    let bar = springing::bar(&section, &parts);
    let tyre = section.section("tyre").and_then(tyre::read);
    let brake = brake::of_wheel(&section);
    let ride_height = section.section("ride-height").and_then(ride_height);
    let scheme = &parts.scheme;
    let holes = choices::holes(&section, scheme, &placing);
    let plates = choices::plates(&section, scheme, &placing);
    let span = section.span.clone();
    section.finish(Some(kind));
    let points = parts.book.ordered(&parts.scheme.points);
    let (wheel, points, ()) = (wheel?, points?, elements?);
    let axle = Axle {
        end,
        kind: kind.to_string(),
        scheme: parts.scheme,
        points,
        mirrored,
        wheel: wheel.place(&placing),
        brakes,
        final_drive,
        rack_travel: parts.rack_travel,
        holes,
        plates,
        adjusters: parts.adjusters,
        tyre,
        brake,
        springs: parts.springing.springs,
        dampers: parts.springing.dampers,
        stops: parts.springing.stops,
        bar,
        ride_height,
        span,
    };
    slips::axle(root, &axle, &spans, context).then_some(axle)
}

/// A height that is set and measured at a mark of the user's own.
fn ride_height(section: Section<'_>) -> Option<RideHeight> {
    let height = section.need("height", "the height of your mark above the floor at ride height");
    let height = height.and_then(|entry| entry.positive(Dimension::Length));
    let at = section.need("at", "where the mark is, in your own words, such as \"sill, ahead of the wheel\"");
    let at = at.and_then(|entry| entry.text("where the mark is")).map(str::to_string);
    section.finish(None);
    Some(RideHeight { height: height?, at: at? })
}

fn kind(section: &Section<'_>) -> Option<&'static str> {
    let all = KINDS.map(|kind| format!("\"{kind}\"")).join(", ");
    section.need("kind", &format!("what it is, one of {all}"))?.word(&KINDS)
}

/// The first word means outboard, the second inboard.
fn mounting(section: &Section<'_>, key: &str, words: [&'static str; 2]) -> Option<Mounting> {
    let word = section.word(key, &words)?;
    Some(if word == words[0] { Mounting::Outboard } else { Mounting::Inboard })
}

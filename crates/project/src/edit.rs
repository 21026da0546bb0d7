//! Edits of a car file's text. An edit changes the bytes that it is about and no others: comments, order, units,
//! spelling and line ends stay as they were typed. The result is read again before it is handed out, and refused
//! where it says something wrong that the file did not say before.

mod as_typed;
mod difference;
mod error;
mod hole;
mod import;
mod label;
mod paste;
mod place;
mod point;
mod spell;
mod style;
mod table;
mod tree;
mod typed;
mod value;

use serde::{Deserialize, Serialize};
use units::UnitSystem;

use crate::car::{Loaded, read};
use crate::diagnostic::{Diagnostic, Severity};
use crate::model::Car;

pub use as_typed::{AsTyped, Typed, TypedPoint};
pub use difference::{Change, changes};
pub use error::{Coordinate, EditError, PasteMistake};
pub use import::{ImportError, ImportMistake, Mapping, import};
pub use paste::{PasteRow, paste_cells, paste_rows};
pub use place::{Place, place_at};

pub(crate) use difference::touch;

use tree::Tree;

/// A text as TOML spells it, in quotes.
pub(crate) fn spelt(text: &str) -> String {
    spell::text(text, None)
}

/// Where a point is to go.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum At {
    /// In the car's axes (ISO 8855, left side, as in [`crate::model::SurveyPoint::at`]) \[m\]. Each coordinate is
    /// written in the frame, on the side, in the unit and in the style of the one it replaces, its ± kept.
    Car([f64; 3]),
    /// Three coordinates in the file's own frame, as a person typed them.
    Typed([String; 3]),
}

/// One change of a car file. Texts are what a person typed, with or without a unit and a ±.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "edit", rename_all = "kebab-case")]
pub enum Edit {
    /// Puts a point, a hole or a plate's corner somewhere else.
    Move {
        /// What.
        place: Place,
        /// Where to.
        to: At,
    },
    /// Sets one coordinate of a point, in the file's own frame.
    Coordinate {
        /// Of what.
        place: Place,
        /// Which one.
        coordinate: Coordinate,
        /// As typed.
        text: String,
    },
    /// Says how sure the coordinates of a point or a hole are.
    Accuracy {
        /// Of what.
        place: Place,
        /// As typed; `None` takes the point's own accuracy out, so that the survey's holds.
        text: Option<String>,
    },
    /// Sets any other value by its path, such as `rear.wheel.toe`, `car.cg-height` or
    /// `setup.circuit.holes.rear.link.lower-fore.body`. Makes the key, and its table, where they are not there yet.
    Value {
        /// Path in the file.
        path: String,
        /// As typed; members of a list are parted by commas. `None` takes the key out.
        text: Option<String>,
    },
    /// Adds a candidate hole.
    AddHole {
        /// The point that it is for, such as `rear.link.lower-fore.body`.
        point: String,
        /// Its name.
        name: String,
        /// Where it is.
        at: At,
        /// Its accuracy as typed, where it has its own.
        accuracy: Option<String>,
    },
    /// Gives a hole another name, in the setups too.
    RenameHole {
        /// The point that it is for.
        point: String,
        /// Its name.
        name: String,
        /// Its new name.
        to: String,
    },
    /// Takes a hole out. Refused while a setup uses it.
    RemoveHole {
        /// The point that it is for.
        point: String,
        /// Its name.
        name: String,
    },
    /// Sets or adds a table of points: a row each, see [`paste_rows`]. All or nothing.
    Paste {
        /// The axle that names without `front.` or `rear.` are of.
        axle: String,
        /// Rows as they come from a spreadsheet: name, x, y, z and perhaps an accuracy.
        table: String,
    },
    /// Adds lines at the end of the file, such as a whole `[rear.plate.NAME]`.
    Append {
        /// TOML, comments and all.
        toml: String,
    },
    /// Takes out a whole table with everything in it, such as `rear.plate.lower-fore` or `setup.circuit`.
    RemoveTable {
        /// Path in the file.
        path: String,
    },
    /// Puts another text in place of the whole file.
    Replace {
        /// The new text.
        text: String,
    },
    /// Several edits as one: all of them or none. Points in the car's axes are all in the axes as they are before
    /// the first.
    Several {
        /// What they do together, for the history.
        label: String,
        /// In the order in which they are made.
        edits: Vec<Edit>,
    },
}

impl Edit {
    /// Whether it names a place in the car's axes, so that it means another place in the file when those change.
    pub(crate) fn is_in_car_axes(&self) -> bool {
        match self {
            Self::Move { to: At::Car(_), .. } | Self::AddHole { at: At::Car(_), .. } => true,
            Self::Several { edits, .. } => edits.iter().any(Self::is_in_car_axes),
            _ => false,
        }
    }

    /// Whether it leaves nothing of what stood in the file.
    pub(crate) fn replaces_everything(&self) -> bool {
        match self {
            Self::Replace { .. } => true,
            Self::Several { edits, .. } => edits.iter().any(Self::replaces_everything),
            _ => false,
        }
    }
}

/// What came of an edit.
#[derive(Clone, Debug)]
pub struct Edited {
    /// The new text.
    pub text: String,
    /// What it says.
    pub loaded: Loaded,
    /// What was done, for the history: `moved rear.link.lower-fore.body 15 mm up`.
    pub label: String,
}

/// The text after an edit.
///
/// # Errors
/// [`EditError`]; the text then stays as it was.
pub fn apply(text: &str, edit: &Edit) -> Result<String, EditError> {
    Ok(apply_to(text, &read(text), edit)?.text)
}

/// The same for a text that has been read already, with all that is known about the result. This is what a drag
/// calls many times a second.
///
/// # Errors
/// [`EditError`]; nothing has changed then.
pub fn apply_to(text: &str, loaded: &Loaded, edit: &Edit) -> Result<Edited, EditError> {
    let context = Context { car: loaded.car.as_ref(), units: units_of(text, loaded) };
    let changed = perform(text, edit, &context, 0)?;
    let label = label::of(edit, &context);
    let after = read(&changed);
    let diagnostics = new_errors(&loaded.diagnostics, &after);
    if !diagnostics.is_empty() {
        return Err(EditError::Refused { diagnostics, text: changed });
    }
    Ok(Edited { text: changed, loaded: after, label })
}

/// What an edit needs to know of the file beyond its text.
pub(crate) struct Context<'c> {
    pub(crate) car: Option<&'c Car>,
    pub(crate) units: UnitSystem,
}

/// Deepest nesting of [`Edit::Several`].
const DEEPEST: usize = 8;

fn perform(text: &str, edit: &Edit, context: &Context<'_>, depth: usize) -> Result<String, EditError> {
    match edit {
        Edit::Replace { text } => return Ok(text.clone()),
        Edit::Several { edits, .. } => {
            if depth >= DEEPEST {
                return Err(EditError::TooDeep);
            }
            let mut text = text.to_string();
            for edit in edits {
                text = perform(&text, edit, context, depth + 1)?;
            }
            return Ok(text);
        }
        _ => {}
    }
    let tree = Tree::parse(text)?;
    match edit {
        Edit::Move { place, to } => point::set(&tree, place, to, context),
        Edit::Coordinate { place, coordinate, text } => {
            point::set_coordinate(&tree, place, *coordinate, text, context)
        }
        Edit::Accuracy { place, text } => point::set_accuracy(&tree, place, text.as_deref(), context),
        Edit::Value { path, text } => value::set(&tree, path, text.as_deref(), context),
        Edit::AddHole { point, name, at, accuracy } => {
            hole::add(&tree, point, name, at, accuracy.as_deref(), context)
        }
        Edit::RenameHole { point, name, to } => hole::rename(&tree, point, name, to),
        Edit::RemoveHole { point, name } => hole::remove(&tree, point, name),
        Edit::Paste { axle, table } => paste::paste(text, axle, table, context),
        Edit::Append { toml } => Ok(table::append(&tree, toml)),
        Edit::RemoveTable { path } => table::remove(&tree, path),
        Edit::Replace { .. } | Edit::Several { .. } => Ok(text.to_string()),
    }
}

/// The errors of `after` that were not there before, or all of them where the car is lost.
fn new_errors(before: &[Diagnostic], after: &Loaded) -> Vec<Diagnostic> {
    let mut known: Vec<&str> =
        before.iter().filter(|d| d.severity == Severity::Error).map(|d| d.message.as_str()).collect();
    let errors = after.diagnostics.iter().filter(|d| d.severity == Severity::Error);
    errors
        .filter(|error| match known.iter().position(|message| *message == error.message) {
            Some(index) => {
                known.swap_remove(index);
                false
            }
            None => true,
        })
        .cloned()
        .collect()
}

/// What bare numbers mean; for a file that is not yet a car, as far as its text says.
fn units_of(text: &str, loaded: &Loaded) -> UnitSystem {
    if let Some(car) = &loaded.car {
        return car.units;
    }
    let mut units = UnitSystem::default();
    if let Ok(tree) = Tree::parse(text) {
        if let Some(length) = tree.text_at("units.length").and_then(units::LengthUnit::from_name) {
            units.length = length;
        }
        if let Some(mass) = tree.text_at("units.mass").and_then(units::MassUnit::from_name) {
            units.mass = mass;
        }
        if let Some(force) = tree.text_at("units.force").and_then(units::ForceUnit::from_name) {
            units.force = force;
        }
    }
    units
}

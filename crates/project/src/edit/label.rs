//! What an edit did, in a line for the history.

use nalgebra::Vector3;
use units::{Dimension, LengthUnit, UnitSystem};

use super::place::place_at;
use super::{At, Context, Edit, style};
use crate::entry::shorten;

/// Steps smaller than this are left out of a label \[m\].
const SMALL: f64 = 0.5e-4;

/// The line for one edit.
pub(crate) fn of(edit: &Edit, context: &Context<'_>) -> String {
    match edit {
        Edit::Move { place, to } => {
            let before = context.car.and_then(|car| place_at(car, place));
            let step = match (before, to) {
                (Some(before), At::Car(to)) => words(Vector3::from(*to) - before, &context.units),
                _ => String::new(),
            };
            format!("moved {place}{step}")
        }
        Edit::Coordinate { place, coordinate, text } => {
            format!("set {coordinate} of {place} to {}", shorten(text.trim()))
        }
        Edit::Accuracy { place, text: Some(text) } => {
            format!("set the accuracy of {place} to {}", shorten(text.trim()))
        }
        Edit::Accuracy { place, text: None } => format!("took the accuracy out of {place}"),
        Edit::Value { path, text: Some(text) } => {
            format!("set {} to {}", shorten(path), shorten(text.trim()))
        }
        Edit::Value { path, text: None } | Edit::RemoveTable { path } => {
            format!("took out {}", shorten(path))
        }
        Edit::AddHole { point, name, .. } => format!("added hole {} of {point}", shorten(name.trim())),
        Edit::RenameHole { point, name, to } => {
            format!("renamed hole {} of {point} to {}", shorten(name), shorten(to.trim()))
        }
        Edit::RemoveHole { point, name } => format!("took out hole {} of {point}", shorten(name)),
        Edit::Paste { table, .. } => {
            let points = super::paste_rows(table).map_or(0, |rows| rows.len());
            if points == 1 { "pasted a point".into() } else { format!("pasted {points} points") }
        }
        Edit::Append { toml } => {
            let header = toml.lines().map(str::trim).find(|line| line.starts_with('['));
            format!("added {}", shorten(header.unwrap_or("lines")))
        }
        Edit::Replace { .. } => "changed the file's text".into(),
        Edit::Several { label, .. } => shorten(label),
    }
}

/// ` 15 mm up, 3 mm forward`, the greatest first.
fn words(step: Vector3<f64>, units: &UnitSystem) -> String {
    let pairs = [("forward", "rearward"), ("outward", "inward"), ("up", "down")];
    let mut parts: Vec<(f64, &str)> = step
        .iter()
        .zip(pairs)
        .map(|(step, (plus, minus))| (*step, if *step < 0.0 { minus } else { plus }))
        .filter(|(step, _)| step.abs() >= SMALL)
        .collect();
    parts.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
    let mm = units.length == LengthUnit::Millimetre;
    let factor = units.factor(Dimension::Length);
    let decimals = if mm { 1 } else { style::decimals(factor) };
    let shown = parts.iter().map(|(step, word)| {
        let number = style::decimal(step.abs() / factor, decimals);
        format!("{number} {} {word}", units.length.symbol())
    });
    let shown: Vec<String> = shown.collect();
    if shown.is_empty() { String::new() } else { format!(" {}", shown.join(", ")) }
}

//! Seen from above: toe as it is, track.

use nalgebra::Vector3;

use super::rear::tyre_note;
use super::sheet::Sheet;
use super::words;
use crate::labels::Label;
use crate::plane::between;

/// Less toe than this is none \[rad\]: half of the last digit shown.
const NO_TOE: f64 = 8.7e-5;

/// Draws it all.
pub(crate) fn construction(sheet: &mut Sheet<'_>) {
    toe(sheet);
    tyre_note(sheet);
    if sheet.options.show.construction {
        track(sheet);
    }
}

/// The middle plane of the wheel, with its angle written beside it: drawn true, so that it is hardly seen.
fn toe(sheet: &mut Sheet<'_>) {
    let wheel = &sheet.scene.left.wheel;
    let ahead = Vector3::new(wheel.spin.y, -wheel.spin.x, 0.0) * (wheel.radius * 1.08);
    let (front, rear) = (sheet.spot(&(wheel.centre + ahead)), sheet.spot(&(wheel.centre - ahead)));
    sheet.rule("axis", front, rear);
    let toe = sheet.scene.figures.toe;
    let size = words::angle(toe.abs(), &sheet.options.units);
    let text = match toe {
        toe if toe.abs() < NO_TOE => format!("toe {size}"),
        toe if toe > 0.0 => format!("toe-in {size}"),
        _ => format!("toe-out {size}"),
    };
    let anchors = vec![front, between(front, rear, 0.2), rear];
    sheet.label(Label { lines: vec![text], short: None, class: "value", anchors, reach: 3.0, rank: 1 });
}

/// The line between the contact points with the track; the half of it where only the corner is shown.
fn track(sheet: &mut Sheet<'_>) {
    let (left, right) = (sheet.scene.left.contact, sheet.scene.right.contact);
    let (a, b) = (sheet.spot(&left), sheet.spot(&right));
    let Some((from, to)) = sheet.rule("dimension", a, b) else { return };
    let width = (left - right).yz().norm();
    let text = format!("track {}", words::length(width, &sheet.options.units));
    let anchors = [0.85, 0.7, 0.5].map(|share| between(from, to, share)).to_vec();
    sheet.word("faint", 5, anchors, 1.0, &text);
}

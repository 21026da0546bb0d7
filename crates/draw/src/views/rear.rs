//! Construction from behind: front-view instant centres, roll centre, camber, steering axis.

use nalgebra::Vector3;
use suspension::LEAST_CROSSING;

use super::sheet::Sheet;
use super::side::cross;
use super::words;
use crate::labels::Label;
use crate::plane::between;
use crate::svg;

/// Offset below which a roll centre stands in the middle \[m\].
const IN_THE_MIDDLE: f64 = 5e-4;

/// Draws it all.
pub(crate) fn construction(sheet: &mut Sheet<'_>) {
    steering_axis(sheet);
    camber(sheet);
    tyre_note(sheet);
    if !sheet.options.show.construction {
        return;
    }
    if sheet.options.show.right {
        line_through(sheet, false);
    }
    line_through(sheet, true);
    roll_centre(sheet);
}

/// From a contact point through the roll centre to the wheel's instant centre, whichever lies farther.
fn line_through(sheet: &mut Sheet<'_>, is_left: bool) {
    let scene = sheet.scene;
    let figures = &scene.figures;
    let side = if is_left { &scene.left } else { &scene.right };
    let start = sheet.spot(&side.contact);
    let [left, right] = figures.front_centres;
    let centre = (if is_left { left } else { right }).map(|c| sheet.spot(&c));
    let crossing = figures
        .roll_centre
        .filter(|r| r.crossing >= LEAST_CROSSING)
        .map(|r| sheet.spot(&place(sheet, r.lateral, r.height)));
    let class = if is_left { "roll-line" } else { "roll-line far" };
    let ends = [centre, crossing].into_iter().flatten();
    let farthest =
        ends.max_by(|a, b| crate::plane::distance(start, *a).total_cmp(&crate::plane::distance(start, *b)));
    if let Some(end) = farthest {
        sheet.rule(class, start, end);
    }
    let Some(centre) = centre.filter(|c| is_left && sheet.page.grown(-8.0).has(*c)) else { return };
    cross(sheet, centre);
    let far = figures.front_centres.iter().flatten().next();
    let arm = far.map_or(0.0, |c| scene.left.contact.y - c.y);
    let units = &sheet.options.units;
    sheet.label(Label {
        lines: vec!["instant centre".into(), format!("{} from the tyre", words::length(arm.abs(), units))],
        short: Some("instant centre".into()),
        class: "name",
        anchors: vec![centre],
        reach: 7.0,
        rank: 3,
    });
}

/// A place at a height over the road, which leans in the body's axes when the car rolls.
fn place(sheet: &Sheet<'_>, lateral: f64, height: f64) -> Vector3<f64> {
    let (left, right) = (sheet.scene.left.contact, sheet.scene.right.contact);
    let share = (left.y - lateral) / (left.y - right.y);
    let road = left.z + (right.z - left.z) * share;
    Vector3::new(left.x, lateral, road + height / sheet.scene.figures.roll.cos())
}

fn roll_centre(sheet: &mut Sheet<'_>) {
    let units = sheet.options.units;
    let Some(centre) = sheet.scene.figures.roll_centre.filter(|r| r.crossing >= LEAST_CROSSING) else {
        let at = sheet.spot(&Vector3::new(0.0, 0.0, sheet.scene.left.contact.z));
        return sheet.word("name", 1, vec![at], 2.0, "no roll centre: lines run parallel");
    };
    let at = sheet.spot(&place(sheet, centre.lateral, centre.height));
    if !sheet.page.grown(-8.0).has(at) {
        return;
    }
    cross(sheet, at);
    svg::circle(&mut sheet.out, "roll-centre", at, 3.0);
    let mut lines = vec!["roll centre".into(), words::above_ground(centre.height, &units)];
    if centre.lateral.abs() > IN_THE_MIDDLE {
        let side = if centre.lateral > 0.0 { "left" } else { "right" };
        lines.push(format!("{} {side} of the middle", words::length(centre.lateral.abs(), &units)));
    }
    let short = Some(format!("roll centre {}", words::length(centre.height, &units)));
    sheet.label(Label { lines, short, class: "value", anchors: vec![at], reach: 7.0, rank: 1 });
}

fn camber(sheet: &mut Sheet<'_>) {
    let wheel = &sheet.scene.left.wheel;
    let up = Vector3::new(0.0, -wheel.spin.z * wheel.spin.y, 1.0) * wheel.radius;
    let (top, low) = (sheet.spot(&(wheel.centre + up)), sheet.spot(&(wheel.centre - up)));
    let text = format!("camber {}", words::angle(sheet.scene.figures.camber, &sheet.options.units));
    let anchors = [0.0, 0.15, 0.3, 0.5, 0.75].map(|share| between(top, low, share)).to_vec();
    sheet.label(Label { lines: vec![text], short: None, class: "value", anchors, reach: 2.0, rank: 2 });
}

/// Says that the tyre's width is not from the file.
pub(crate) fn tyre_note(sheet: &mut Sheet<'_>) {
    let wheel = &sheet.scene.left.wheel;
    let foot = sheet.spot(&(wheel.centre + wheel.spin * (wheel.width / 2.0)));
    let text = format!("tyre drawn {} wide", words::length(wheel.width, &sheet.options.units));
    sheet.label(Label {
        lines: vec![text, "(assumed)".into()],
        short: None,
        class: "faint",
        anchors: vec![foot],
        reach: 3.0,
        rank: 9,
    });
}

/// The line through both outer balls, a little past each and down to the ground.
pub(crate) fn steering_axis(sheet: &mut Sheet<'_>) {
    let Some((low, high)) = sheet.scene.figures.steering_axis else { return };
    let along = high - low;
    let share = (sheet.scene.left.contact.z - low.z) / along.z;
    if !share.is_finite() || share.abs() > 5.0 {
        return;
    }
    let (foot, head) = (sheet.spot(&(low + along * share)), sheet.spot(&(low + along * 1.15)));
    if let Some((a, b)) = sheet.rule("axis", foot, head) {
        let anchors = [0.6, 0.85, 0.1].map(|share| between(a, b, share)).to_vec();
        sheet.word("faint", 7, anchors, 1.0, "steering axis");
    }
}

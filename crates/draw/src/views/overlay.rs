//! Other states of the same axle, drawn with it.

use std::fmt::Write;

use super::outline;
use super::sheet::Sheet;
use crate::scene::Scene;
use crate::svg;

/// Two vertices closer than this on both scenes have not moved \[m\].
const MOVED: f64 = 2e-4;

/// Another state: only what stands elsewhere.
pub(crate) fn draw(sheet: &mut Sheet<'_>, class: &str, scene: &Scene) {
    let mut path = String::with_capacity(1200);
    let (here, there) = (&sheet.scene.left, &scene.left);
    let turned = (here.wheel.spin - there.wheel.spin).norm() * here.wheel.radius;
    if (here.wheel.centre - there.wheel.centre).norm().max(turned) > MOVED {
        outline::tyre(&mut path, &sheet.map, &there.wheel);
    }
    let moved = |i: usize| match (here.at.get(i), there.at.get(i)) {
        (Some(a), Some(b)) => (a - b).norm() > MOVED,
        _ => true,
    };
    for line in scene.lines.iter().filter(|l| moved(l.from) || moved(l.to)) {
        if let Some((a, b)) = scene.ends(line, there) {
            svg::segment(&mut path, sheet.map.to_page(&a), sheet.map.to_page(&b));
        }
    }
    svg::path(&mut sheet.out, class, &path);
}

/// The pinned variants, each with its name where it differs most.
pub(crate) fn variants(sheet: &mut Sheet<'_>) {
    for (nth, (name, scene)) in sheet.others.variants.iter().enumerate() {
        let mut class = String::from("variant v");
        let _ = write!(class, "{}", nth % 6);
        draw(sheet, &class, scene);
        // The name stands where the variant differs most.
        let differ = |i: usize| {
            let (a, b) = (scene.left.at.get(i)?, sheet.scene.left.at.get(i)?);
            Some(((a - b).norm(), *a))
        };
        let most = (0..scene.points.len()).filter_map(differ).max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, at)) = most.filter(|(by, _)| *by > MOVED) else { continue };
        let at = sheet.spot(&at);
        sheet.word("name", 2, vec![at], 5.0, name);
    }
}

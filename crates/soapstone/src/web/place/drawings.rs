//! The three views, and the mesh for the one that can be turned about.

use axum::Json;
use draw::{Fit, Overlays, Scene, View, ViewOptions, views};
use maud::{Markup, PreEscaped, html};
use serde::Serialize;

use super::stand::Stand;
use crate::web::shown::Shown;

/// Width of a view unless the reader's screen says otherwise [px].
const WIDTH: f64 = 600.0;

/// A view of a scene.
type Draws = fn(&Scene, &Overlays<'_>, &ViewOptions<'_>) -> View;

/// The views: name, title, height as a share of the width, and what draws it.
const VIEWS: [(&str, &str, f64, Draws); 3] = [
    ("side", "From the left", 0.72, views::side),
    ("rear", "From behind", 0.72, views::rear),
    ("top", "From above", 0.6, views::top),
];

/// The flat views.
pub(crate) fn parts(stand: &Stand<'_>) -> Markup {
    let Some(standing) = &stand.scene else {
        return html! { div id="part-remarks" { (remarks(stand)) } };
    };
    let mut scene = standing.scene.clone();
    name_values(stand, &mut scene);
    let variants: Vec<(String, &Scene)> =
        stand.pinned_scenes.iter().map(|(name, scene)| (name.clone(), scene)).collect();
    let others = Overlays { ghost: stand.ghost.as_ref(), variants: &variants };
    let width = stand.shown.width.unwrap_or(WIDTH);
    let focus = stand.shown.point.as_deref().map(|p| p.rsplit_once('#').map_or(p, |(_, hole)| hole));
    html! {
        div id="part-remarks" { (remarks(stand)) }
        @for (name, title, share, draws) in VIEWS.into_iter().filter(|(name, ..)| stand.shown.sees(name)) {
            figure.view id={ "part-" (name) } data-drawn=(width.round()) {
                @let height = (width * share).round().max(260.0);
                @let options = ViewOptions {
                    region: if stand.shown.whole { Fit::Car } else { Fit::Corner },
                    focus,
                    ..ViewOptions::new(width.round(), height, stand.base.units, &stand.base.frame)
                };
                @let options = ViewOptions { region: held(stand, draws, &options), ..options };
                (PreEscaped(draws(&scene, &others, &options).svg))
                figcaption { (title) }
            }
        }
    }
}

/// The view that can be turned about. It is no part that is swapped: its canvas keeps where the reader turned it.
pub(crate) fn turning() -> Markup {
    html! {
        figure.view.solid id="solid-view" {
            canvas tabindex="0" role="img" aria-label="The axle in space" aria-describedby="solid-keys" {}
            p.without { "The view in space needs a browser with scripts and WebGL; the flat views show the same." }
            figcaption id="solid-keys" { "In space: drag to turn, arrow keys turn, + and − zoom, Home resets" }
        }
    }
}

/// While a point is dragged the drawing stays where it was before.
fn held(stand: &Stand<'_>, draws: Draws, options: &ViewOptions<'_>) -> Fit {
    match &stand.ghost {
        Some(ghost) => Fit::Held(draws(ghost, &Overlays::default(), options).map),
        None => options.region,
    }
}

fn remarks(stand: &Stand<'_>) -> Markup {
    html! { @for remark in &stand.remarks { p.wrong role="alert" { (remark) } } }
}

/// Writes the ± of the table beside the values of the construction lines, which are those of ride height.
fn name_values(stand: &Stand<'_>, scene: &mut Scene) {
    let Shown { travel, roll, rack, .. } = stand.shown;
    if travel != 0.0 || roll != 0.0 || rack != 0.0 {
        return;
    }
    let Some(rows) = stand.choice else { return };
    let row = stand.row.as_ref().or_else(|| rows.rows.get(stand.in_use()?));
    let Some(row) = row else { return };
    let text = |quantity: study::Quantity| {
        let column = rows.columns.iter().position(|c| c.quantity == quantity)?;
        let estimate = row.values.get(column)?.as_ref()?;
        Some(study::shown(estimate, quantity.scale(), &stand.base.units).text())
    };
    if let Some(anti) = &mut scene.figures.braking {
        anti.text = text(study::Quantity::AntiBraking);
    }
    if let Some(anti) = &mut scene.figures.driving {
        anti.text = text(study::Quantity::AntiDriving);
    }
}

/// One part of the mesh as the page gets it: millimetres, whole numbers, so that it stays small.
#[derive(Serialize)]
struct Part {
    name: String,
    class: &'static str,
    /// x, y, z of each corner [mm].
    at: Vec<i32>,
    /// Corners of each triangle.
    faces: Vec<u16>,
}

/// The mesh of the shown state.
pub(crate) fn mesh(stand: &Stand<'_>) -> Json<serde_json::Value> {
    let mesh = stand.scene.as_ref().map(|s| draw::solid::mesh(&s.scene)).unwrap_or_default();
    let parts: Vec<Part> = mesh
        .parts
        .into_iter()
        .map(|part| Part {
            name: part.name,
            class: part.class,
            at: part.vertices.iter().flatten().map(|v| (v * 1000.0).round() as i32).collect(),
            faces: part.triangles.into_iter().flatten().collect(),
        })
        .collect();
    Json(serde_json::json!({ "parts": parts }))
}

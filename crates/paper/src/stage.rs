//! A stage of the study as running matter: what is not known yet, tables, charts, maps, what is assumed.

mod charts;
mod worked;

use draw::{chart, motion, track};
use study::{Finding, Group, Stage};
use units::UnitSystem;

pub use charts::{chart_spec, map_spec, motion_spec, track_spec};
pub(crate) use worked::worked_number;
pub use worked::worked_section;

use crate::flow::{Column, Figure, Flow, Table};
use crate::sheet::Drawing;

/// Size of a chart in its own units; two stand side by side, so that its words are as large as small print.
const CHART: (f64, f64) = (430.0, 285.0);

/// Size of a course in its own units: one stands alone.
const TRACK: (f64, f64) = (900.0, 560.0);

/// What is said of a picture that moves on the screen.
const IN_PRINT: &str = "At the start, with the places that the first choice has every half second. The page in the browser lets it run.";

/// Size of its words, and what they keep from its edges, both sides.
const CHART_FONT: f64 = 13.0;
const CHART_SIDES: f64 = 8.0;

/// A stage as a chapter: its title, the caution that belongs to it, then all it has to say; `remarks` go with what
/// is assumed.
pub fn stage_section(
    title: &str,
    caution: &str,
    remarks: &[&str],
    stage: &Stage,
    units: &UnitSystem,
) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, title);
    flow.caution(caution);
    if !stage.lacks.is_empty() {
        flow.heading(2, "Not known yet");
        flow.bullets(stage.lacks.iter().map(|lack| format!("{lack}: {}", lack.hint)));
    }
    for group in &stage.groups {
        self::group(&mut flow, group, units);
    }
    let charts = stage
        .charts
        .iter()
        .filter_map(|of| figure(&chart::line(&chart_spec(of, units, CHART)), &of.title, &of.words));
    let maps = stage
        .maps
        .iter()
        .filter_map(|of| figure(&chart::map(&map_spec(of, units, CHART)), &of.title, &of.words));
    let tracks = stage
        .tracks
        .iter()
        .filter_map(|of| figure(&track::track(&track_spec(of, units, TRACK)), &of.title, &of.words));
    let tracks: Vec<Figure> = tracks.collect();
    if !tracks.is_empty() {
        flow.heading(2, format!("{title}: from above"));
        flow.figures(tracks, 1);
    }
    let motions: Vec<Figure> = stage
        .motions
        .iter()
        .filter_map(|of| figure(&motion::motion(&motion_spec(of, TRACK)), &of.title, IN_PRINT))
        .collect();
    if !motions.is_empty() {
        flow.heading(2, format!("{title}: on the way"));
        flow.figures(motions, 1);
    }
    let figures: Vec<Figure> = charts.chain(maps).collect();
    if !figures.is_empty() {
        flow.heading(2, format!("{title}: charts"));
        flow.figures(figures, 2);
    }
    let notes: Vec<&str> = stage.notes.iter().map(String::as_str).chain(remarks.iter().copied()).collect();
    if !notes.is_empty() {
        flow.heading(2, "What is assumed");
        flow.bullets(notes);
    }
    flow
}

/// The drawing has its title in it; the caption says it again only where it is cut there.
fn figure(svg: &str, title: &str, words: &str) -> Option<Figure> {
    let cut = draw::text_width(title, true) * CHART_FONT > CHART.0 - CHART_SIDES;
    let caption = if cut { format!("{title}. {words}") } else { words.to_string() };
    Drawing::new(svg).map(|drawing| Figure { drawing, caption })
}

/// A table of figures; where one is past what the model can say, a number in brackets leads to the reason below.
fn group(flow: &mut Flow, group: &Group, units: &UnitSystem) {
    flow.heading(2, group.title.clone());
    let named = group.columns.iter().any(|name| !name.is_empty());
    let heading = |name: &str| if named { name.to_string() } else { String::new() };
    let mut columns = vec![Column::words(heading("result"))];
    columns.extend(group.columns.iter().map(|name| Column::figures(name.clone())));
    columns.push(Column::words(heading("unit")));
    let mut table = Table::new(columns);
    let reasons = group.reasons();
    for row in &group.rows {
        let mut cells = vec![row.title().to_string()];
        cells.extend(marked(row, units, &reasons));
        cells.push(row.scale.unit(units));
        table.row(cells);
    }
    flow.table(table);
    for (i, why) in reasons.iter().enumerate() {
        flow.remark(format!("[{}] past the model: {why}", i + 1));
    }
    for words in &group.words {
        flow.remark(words.clone());
    }
}

/// A row's texts, each with the number of its reason if it has one.
fn marked(row: &Finding, units: &UnitSystem, reasons: &[&str]) -> Vec<String> {
    let texts = row.texts(units).into_iter().zip(&row.cells);
    texts
        .map(|(text, cell)| {
            // What belongs together stays on a line.
            let text = text.replace(" ± ", "\u{a0}±\u{a0}");
            match cell.mark(reasons) {
                Some(mark) => format!("{text} {mark}"),
                None => text,
            }
        })
        .collect()
}

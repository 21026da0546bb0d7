//! Charts over travel, roll and steer: the car on trial, the car as drawn, the pinned variants.

use draw::chart::{self, Axis, ChartSpec, Series};
use maud::{Markup, PreEscaped, html};
use project::model::Car;
use study::{Quantity, Scale, Subject};
use units::Dimension;

use super::stand::Stand;
use crate::web::shown::Over;
use crate::web::trial::Trial;

/// Roll that the charts reach [rad]: 4 deg.
const ROLL: f64 = 0.07;

/// Size of a chart [px].
const SIZE: (f64, f64) = (400.0, 250.0);

/// One curve of one chart before it is drawn: places, values, ±, in shown units.
type Line = Vec<(f64, f64, f64)>;

/// What all charts of a page are over, and the curves of one state in the order of the charts.
struct Course {
    along: Axis,
    at: f64,
    charts: Vec<Axis>,
    /// What each chart shows, where it has a definition.
    means: Vec<&'static str>,
}

/// The charts.
pub(crate) fn part(stand: &Stand<'_>) -> Markup {
    let course = course(stand);
    let states = states(stand);
    let curves: Vec<(&str, usize, Vec<Line>)> = states
        .iter()
        .enumerate()
        .map(|(i, (name, trial, style))| (name.as_str(), *style, kept_lines(stand, trial, i == 0)))
        .collect();
    let rack = stand.axle().is_some_and(|a| a.scheme.rack_axis.is_some());
    let ways = [(Over::Travel, "over travel"), (Over::Roll, "over roll"), (Over::Rack, "over rack travel")];
    let narrow = stand.shown.width.is_some_and(|w| w < 420.0);
    let size = if narrow { (stand.shown.width.unwrap_or(SIZE.0), SIZE.1) } else { SIZE };
    html! {
        section.charts id="part-charts" aria-label="Charts" {
            nav aria-label="Charts over" {
                @for (over, words) in ways.into_iter().filter(|(over, _)| rack || *over != Over::Rack) {
                    a href=(stand.shown.link(|s| s.over = over)) aria-current=[(over == stand.shown.over).then_some("true")] { (words) }
                }
            }
            div.row {
                @for (i, y) in course.charts.iter().enumerate() {
                    @let series = curves.iter().filter_map(|(name, style, lines)| Some(series(name, *style, lines.get(i)?)));
                    @let spec = ChartSpec {
                        title: y.label.clone(),
                        x: course.along.clone(),
                        y: Axis { label: String::new(), unit: y.unit.clone() },
                        series: series.collect(),
                        marks: Vec::new(),
                        at: Some(course.at),
                        width: size.0,
                        height: size.1,
                    };
                    figure data-means=[course.means.get(i).copied()] tabindex="0" { (PreEscaped(chart::line(&spec))) }
                }
            }
        }
    }
}

/// The states that have curves, the one that is shown first: name, trial, style.
fn states(stand: &Stand<'_>) -> Vec<(String, Trial, usize)> {
    let trial = &stand.shown.trial;
    let own = match stand.in_use() {
        _ if trial.is_empty() => "as drawn".to_string(),
        Some(i) => {
            stand.choice.and_then(|r| r.rows.get(i)).map_or_else(String::new, |r| r.candidate.name.clone())
        }
        None => "trial".to_string(),
    };
    let mut states = vec![(own, trial.clone(), 0)];
    if !trial.is_empty() {
        states.push(("as drawn".into(), Trial::default(), 5));
    }
    states.extend(stand.shown.pins.iter().enumerate().map(|(i, p)| (p.name.clone(), p.trial.clone(), i + 1)));
    states
}

fn series(name: &str, style: usize, line: &Line) -> Series {
    let doubtful = line.iter().any(|p| p.2 > 0.0);
    Series {
        name: name.to_string(),
        points: line.iter().map(|(x, y, _)| (*x, *y)).collect(),
        band: doubtful.then(|| line.iter().map(|(_, y, u)| (y - u, y + u)).collect()),
        style,
    }
}

fn quantities(stand: &Stand<'_>) -> Vec<Quantity> {
    study::charted(stand.choice.map(|kept| &**kept))
}

fn course(stand: &Stand<'_>) -> Course {
    let units = &stand.base.units;
    let length = units.symbol(Dimension::Length).to_string();
    let factor = units.factor(Dimension::Length);
    let axis = |label: &str, unit: &str| Axis { label: label.into(), unit: unit.into() };
    let shown = &stand.shown;
    match shown.over {
        Over::Travel => Course {
            along: axis("wheel travel", &length),
            at: shown.travel / factor,
            charts: quantities(stand)
                .into_iter()
                .map(|q| axis(&q.key(shown.axle.into()).replace('-', " "), &q.scale().unit(units)))
                .collect(),
            means: quantities(stand).into_iter().map(|q| q.about(shown.axle.into()).definition).collect(),
        },
        Over::Roll => Course {
            along: axis("body roll", "deg"),
            at: shown.roll.to_degrees(),
            charts: vec![
                axis("toe, left wheel", "deg"),
                axis("camber to the road, left wheel", "deg"),
                axis("roll centre above the road", &length),
            ],
            means: vec![
                "Toe of the left wheel, toe-in positive, while the body rolls; positive roll leans to the right.",
                "Camber of the left wheel against the road, not the body, while the body rolls: top out positive.",
                "Height above the road of the point where both wheels' front-view lines meet.",
            ],
        },
        Over::Rack => Course {
            along: axis("rack travel", &length),
            at: shown.rack / factor,
            charts: vec![
                axis("toe, left wheel", "deg"),
                axis("camber, left wheel", "deg"),
                axis("steering trail", &length),
            ],
            means: vec![
                "Toe of the left wheel, toe-in positive, while the rack moves; positive is to the left.",
                "Camber of the left wheel against the body while the rack moves: top out positive.",
                "How far the steering axis meets the ground ahead of the contact point: it pulls the wheel straight.",
            ],
        },
    }
}

/// The curves of one state; those of a state that is only compared with are kept.
fn kept_lines(stand: &Stand<'_>, trial: &Trial, first: bool) -> Vec<Line> {
    let shown = &stand.shown;
    match stand.choice.filter(|_| !first) {
        Some(kept) => {
            let question = format!("{trial} over {:?} {} {}", shown.over, shown.travel, shown.rack);
            kept.memory.curves.of(question, || lines(stand, trial, false))
        }
        None => lines(stand, trial, first),
    }
}

/// The curves of one state; a state that cannot be built has none.
fn lines(stand: &Stand<'_>, trial: &Trial, doubtful: bool) -> Vec<Line> {
    let end = stand.shown.axle;
    let made;
    let car: &Car = if trial.moves.is_empty() && trial.with.is_none() {
        stand.base
    } else {
        made = trial.apply(stand.base, end);
        &made
    };
    let holes = trial.holes(car, end);
    let Ok(subject) = Subject::new(car, end) else { return Vec::new() };
    // The ± costs more than the curve: not while a point is moving.
    let doubtful = doubtful && stand.shown.drag.is_none();
    match stand.shown.over {
        Over::Travel => over_travel(stand, &subject, &holes, doubtful),
        Over::Roll => over_roll(stand, &subject, &holes),
        Over::Rack => over_rack(stand, &subject, &holes),
    }
}

fn over_travel(stand: &Stand<'_>, subject: &Subject<'_>, holes: &[usize], doubtful: bool) -> Vec<Line> {
    let units = &stand.base.units;
    let most = study::chart_travel(stand.base);
    let factor = units.factor(Dimension::Length);
    let quantities = quantities(stand);
    let curves =
        study::curves(subject, holes, &quantities, &study::chart_places(most), doubtful).unwrap_or_default();
    curves
        .into_iter()
        .map(|curve| {
            let scale: Scale = curve.quantity.scale();
            let k = scale.factor(units);
            curve.points.into_iter().map(|(t, v, u)| (t / factor, v * k, u * k)).collect()
        })
        .collect()
}

fn over_roll(stand: &Stand<'_>, subject: &Subject<'_>, holes: &[usize]) -> Vec<Line> {
    let factor = stand.base.units.factor(Dimension::Length);
    let rack = stand.shown.rack;
    let Ok(sweep) = study::sweep_roll(subject, holes, &study::chart_places(ROLL), rack) else {
        return Vec::new();
    };
    let line = |value: &dyn Fn(&study::RollStation) -> f64| -> Line {
        sweep.stations.iter().map(|s| (s.asked.to_degrees(), value(s), 0.0)).collect()
    };
    vec![
        line(&|s| s.state.left.toe.to_degrees()),
        line(&|s| s.state.camber_to_road().0.to_degrees()),
        line(&|s| s.state.roll_centre().map_or(f64::NAN, |c| c.height / factor)),
    ]
}

fn over_rack(stand: &Stand<'_>, subject: &Subject<'_>, holes: &[usize]) -> Vec<Line> {
    let factor = stand.base.units.factor(Dimension::Length);
    let most = subject.axle().rack_travel.unwrap_or(0.06);
    let Ok(stations) = study::sweep_rack(subject, holes, stand.shown.travel, &study::chart_places(most))
    else {
        return Vec::new();
    };
    let line = |value: &dyn Fn(&study::Station) -> f64| -> Line {
        stations.iter().map(|s| (s.rack / factor, value(s), 0.0)).collect()
    };
    vec![
        line(&|s| s.measures.toe.to_degrees()),
        line(&|s| s.measures.camber.to_degrees()),
        line(&|s| s.steering.map_or(f64::NAN, |a| a.trail / factor)),
    ]
}

//! Where everything was measured, in the frame in which it was taken, with its ±; what is set and what is assumed sure.

use nalgebra::Vector3;
use project::model::{Axle, Car, End, SurveyPoint, Value};
use study::Scale;
use units::{Dimension, UnitSystem, show};

use crate::flow::{Column, Flow, Table};

pub(super) fn chapter(car: &Car) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, "Survey");
    flow.say(format!(
        "Points in the frame of the survey: {}. One side is listed, the other is its mirror. ± is one standard uncertainty of \
         each coordinate.",
        car.frame.description()
    ));
    for end in [End::Front, End::Rear] {
        let Some(axle) = car.axle(end) else { continue };
        let title = if end == End::Front { "Front axle" } else { "Rear axle" };
        flow.heading(2, format!("{title}: {}", axle.kind));
        flow.table(points(car, axle));
        flow.pairs(settings(axle, &car.units));
    }
    flow
}

fn points(car: &Car, axle: &Axle) -> Table {
    let units = &car.units;
    let length = units.symbol(Dimension::Length);
    let mut table = Table::new([
        Column::words("point"),
        Column::figures(format!("x, {length}")),
        Column::figures(format!("y, {length}")),
        Column::figures(format!("z, {length}")),
        Column::figures(format!("±, {length}")),
    ]);
    let decimals = Scale::Length.decimals(units);
    let number = |v: f64| show::number(v, Dimension::Length, units, decimals);
    let mut row = |name: String, point: &SurveyPoint| {
        let mut at = point.at;
        if axle.mirrored {
            at.y = -at.y;
        }
        let at: Vector3<f64> = car.frame.to_survey(at);
        let doubt = point.uncertainty;
        // As wide in all three ways, as a rule.
        let doubt = if doubt.x == doubt.y && doubt.y == doubt.z {
            number(doubt.x)
        } else {
            format!("{} / {} / {}", number(doubt.x), number(doubt.y), number(doubt.z))
        };
        table.row([name, number(at.x), number(at.y), number(at.z), doubt]);
    };
    row("wheel centre".into(), &axle.wheel.centre);
    for (name, point) in axle.scheme.points.iter().zip(&axle.points) {
        row(name.clone(), point);
    }
    for hole in &axle.holes {
        let end = axle.scheme.points.get(hole.point).map_or("", String::as_str);
        row(format!("hole {} of {end}", hole.name), &hole.at);
    }
    table
}

fn settings(axle: &Axle, units: &UnitSystem) -> Vec<(String, String)> {
    let length = |v: &Value| {
        let words = show::with_unit(v.value, Dimension::Length, units, Scale::Length.decimals(units));
        doubtful(words, v.uncertainty, units.factor(Dimension::Length))
    };
    let degrees =
        |v: &Value| doubtful(format!("{:.2} deg", v.value.to_degrees()), v.uncertainty, 1f64.to_radians());
    let mut pairs = vec![
        ("toe, each wheel, in +".to_string(), degrees(&axle.wheel.toe)),
        ("camber, top out +".to_string(), degrees(&axle.wheel.camber)),
        ("loaded radius".to_string(), length(&axle.wheel.loaded_radius)),
    ];
    pairs.extend(axle.adjusters.iter().map(|adjuster| {
        let turn =
            show::with_unit(adjuster.per_turn, Dimension::Length, units, Scale::Length.decimals(units) + 1);
        (format!("{}, one turn", adjuster.joint), turn)
    }));
    pairs
}

fn doubtful(words: String, doubt: f64, unit: f64) -> String {
    if doubt > 0.0 {
        format!("{words} ± {}", show::with_uncertainty(doubt / unit, None, 3).0)
    } else {
        words
    }
}

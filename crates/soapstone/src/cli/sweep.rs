//! Wheel measures over travel, roll or rack.

use project::model::{Axle, Car};
use study::{RollSweep, Scale, Station, Stop, Subject, Sweep, sweep, sweep_roll};
use units::{Dimension, LengthUnit, show};

use super::args::SweepArgs;
use super::output::{HEADING, styled};
use super::{Failure, load, output, select, table};
use crate::json;

/// Travel swept each way where none is asked for, and its step [m]: in round figures of the reader's unit.
fn default_travels(car: &Car) -> Vec<f64> {
    let step = match car.units.length {
        LengthUnit::Millimetre | LengthUnit::Metre => 0.01,
        LengthUnit::Inch | LengthUnit::Foot => 0.0254 / 2.0,
    };
    (-6..=6).map(|i| f64::from(i) * step).collect()
}

pub(crate) fn run(args: &SweepArgs) -> Result<(), Failure> {
    let car = load::car(args.car.as_deref())?;
    let end = select::axle(&car, args.place.axle)?;
    let subject = Subject::new(select::set_up(&car, &args.place)?, end)?;
    let holes = select::holes(&car, &subject, &args.place)?;
    let racks = match &args.rack {
        Some(text) => select::range(&car, text, Dimension::Length, "rack")?,
        None => vec![0.0],
    };
    check_rack(&car, subject.axle(), args.rack.is_some(), &racks)?;
    if let Some(text) = &args.roll {
        let rack = single(&racks)?;
        let rolls = select::range(&car, text, Dimension::Angle, "roll")?;
        if rolls.iter().any(|r| r.abs() > suspension::MOST_ROLL) {
            return Err(Failure::with_hint(
                format!("roll `{text}` goes beyond {:.0} deg", suspension::MOST_ROLL.to_degrees()),
                "no car leans so far on its wheels",
            ));
        }
        let result = sweep_roll(&subject, &holes, &rolls, rack)?;
        stops(&car, &result.stops, Scale::Angle, "roll");
        return if args.json {
            output::json(&json::roll_sweep(&subject, &result))
        } else if args.csv {
            output::csv(&roll_records(&car, &result))
        } else {
            let records = roll_records(&car, &result);
            output::text(&titled(&car, subject.axle(), "both wheels over body roll", &records))
        };
    }
    let travels = match &args.travel {
        Some(text) => select::range(&car, text, Dimension::Length, "travel")?,
        // A rack sweep of its own stands at ride height.
        None if racks.len() > 1 => vec![0.0],
        None => default_travels(&car),
    };
    let mut result = Sweep { stations: Vec::new(), stops: Vec::new() };
    for rack in &racks {
        let part = sweep(&subject, &holes, &travels, *rack)?;
        result.stations.extend(part.stations);
        result.stops.extend(part.stops);
    }
    stops(&car, &result.stops, Scale::Length, "travel");
    if args.json {
        output::json(&json::travel_sweep(&subject, &result))
    } else if args.csv {
        output::csv(&records(&car, subject.axle(), &result))
    } else {
        let records = records(&car, subject.axle(), &result);
        let mut text = titled(&car, subject.axle(), "the left wheel over travel", &records);
        if let Some(axis) = result.stations.iter().find_map(|s| s.steering) {
            text.push_str(&format!("\nSteering axis: {}.\n", json::axis_words(subject.axle(), axis.source)));
        }
        output::text(&text)
    }
}

fn single(racks: &[f64]) -> Result<f64, Failure> {
    match racks {
        [one] => Ok(*one),
        _ => Err(Failure::with_hint("roll is swept at one rack position", "give `--rack` a single value")),
    }
}

fn check_rack(car: &Car, axle: &Axle, given: bool, racks: &[f64]) -> Result<(), Failure> {
    if !given {
        return Ok(());
    }
    let Some(most) = axle.rack_travel else {
        return Err(Failure::with_hint(
            format!("the {} axle has no rack", axle.end.name()),
            format!("write `[{}.rack]` with its `travel`, or leave `--rack` out", axle.end.name()),
        ));
    };
    match racks.iter().find(|r| r.abs() > most + 1e-9) {
        None => Ok(()),
        Some(r) => {
            let length = |v: f64| show::with_unit(v, Dimension::Length, &car.units, 1);
            Err(Failure::with_hint(
                format!("the rack does not reach {}", length(*r)),
                format!("it has {} each way", length(most)),
            ))
        }
    }
}

fn stops(car: &Car, stops: &[Stop], scale: Scale, what: &str) {
    for stop in stops {
        let asked = fixed(stop.asked * scale.factor(&car.units), scale.decimals(&car.units));
        let unit = scale.unit(&car.units);
        output::message(&format!("stops short of {asked} {unit} of {what}: {}\n", stop.words));
    }
}

fn titled(car: &Car, axle: &Axle, what: &str, records: &[Vec<String>]) -> String {
    let title = format!("{}, {} axle ({}): {what}", car.name, axle.end.name(), axle.kind);
    let Some((head, rows)) = records.split_first() else { return title };
    let headings: Vec<Vec<String>> =
        head.iter().map(|h| h.split(" [").map(|p| p.trim_end_matches(']').to_string()).collect()).collect();
    format!("{}\n\n{}", styled(HEADING, &title), table::figures(&headings, rows))
}

fn records(car: &Car, axle: &Axle, sweep: &Sweep) -> Vec<Vec<String>> {
    let units = &car.units;
    let has_rack = axle.rack_travel.is_some();
    let length = |v: f64| show::number(v, Dimension::Length, units, Scale::Length.decimals(units) + 1);
    let scaled = |v: f64, s: Scale| fixed(v * s.factor(units), s.decimals(units));
    let mut head = vec![format!("travel [{}]", units.symbol(Dimension::Length))];
    if has_rack {
        head.push(format!("rack [{}]", units.symbol(Dimension::Length)));
    }
    for (name, unit) in [
        ("toe", "deg".to_string()),
        ("camber", "deg".into()),
        ("bump steer", Scale::AnglePerTravel.unit(units)),
        ("camber gain", Scale::AnglePerTravel.unit(units)),
        ("recession", Scale::LengthPerTravel.unit(units)),
        ("contact dx/dz", "-".into()),
        ("half track", Scale::Length.unit(units)),
        ("roll centre", Scale::Length.unit(units)),
    ] {
        head.push(format!("{name} [{unit}]"));
    }
    let rim = axle.wheel.rim_diameter;
    if let Some(rim) = rim {
        let across = show::with_unit(rim, Dimension::Length, units, 0);
        head.push(format!("toe across {across} [{}]", Scale::Length.unit(units)));
    }
    if has_rack {
        head.push(format!("toe by rack [deg/{}]", units.symbol(Dimension::Length)));
    }
    let steered = sweep.stations.iter().any(|s| s.steering.is_some());
    if steered {
        let unit = Scale::Length.unit(units);
        head.extend([
            "caster [deg]".to_string(),
            "inclination [deg]".into(),
            format!("trail [{unit}]"),
            format!("scrub [{unit}]"),
        ]);
    }
    for e in &axle.scheme.elements {
        head.push(format!("{} ratio [-]", e.name));
    }
    let mut records = vec![head];
    for Station { measures: m, ratios, steering, toe_per_rack, rack } in &sweep.stations {
        let mut row = vec![length(m.travel)];
        if has_rack {
            row.push(length(*rack));
        }
        row.extend([
            fixed(m.toe.to_degrees(), 3),
            fixed(m.camber.to_degrees(), 3),
            scaled(m.toe_gain, Scale::AnglePerTravel),
            scaled(m.camber_gain, Scale::AnglePerTravel),
            scaled(-m.centre_dx_dz(), Scale::LengthPerTravel),
            fixed(m.contact_dx_dz(), 4),
            length(m.contact.y),
            length(m.roll_centre_height()),
        ]);
        if let Some(rim) = rim {
            row.push(length(rim * m.toe.sin()));
        }
        if has_rack {
            let per = toe_per_rack.unwrap_or(f64::NAN).to_degrees() * units.factor(Dimension::Length);
            row.push(fixed(per, 4));
        }
        if steered {
            match steering {
                Some(s) => row.extend([
                    fixed(s.caster.to_degrees(), 2),
                    fixed(s.inclination.to_degrees(), 2),
                    length(s.trail),
                    length(s.scrub_radius),
                ]),
                None => row.extend(std::iter::repeat_n("-".to_string(), 4)),
            }
        }
        row.extend(ratios.iter().map(|r| fixed(r.ratio, 4)));
        records.push(row);
    }
    records
}

fn roll_records(car: &Car, sweep: &RollSweep) -> Vec<Vec<String>> {
    let units = &car.units;
    let length = |v: f64| show::number(v, Dimension::Length, units, Scale::Length.decimals(units));
    let unit = units.symbol(Dimension::Length);
    let head = [
        "roll [deg]".to_string(),
        format!("travel left [{unit}]"),
        format!("travel right [{unit}]"),
        "toe left [deg]".into(),
        "toe right [deg]".into(),
        "camber to road left [deg]".into(),
        "camber to road right [deg]".into(),
        "toe by roll left [deg/deg]".into(),
        "toe by roll right [deg/deg]".into(),
        format!("roll centre height [{unit}]"),
        format!("roll centre to the left [{unit}]"),
    ];
    let mut records = vec![head.to_vec()];
    for station in &sweep.stations {
        let s = &station.state;
        let (left, right) = s.camber_to_road();
        let (height, lateral) = match s.roll_centre() {
            Some(c) if c.crossing >= suspension::LEAST_CROSSING => (length(c.height), length(c.lateral)),
            _ => ("lines near parallel".into(), "-".into()),
        };
        records.push(vec![
            fixed(s.roll.to_degrees(), 2),
            length(s.left.travel),
            length(s.right.travel),
            fixed(s.left.toe.to_degrees(), 3),
            fixed(s.right.toe.to_degrees(), 3),
            fixed(left.to_degrees(), 3),
            fixed(right.to_degrees(), 3),
            fixed(s.rates_by_roll().0.0, 3),
            fixed(s.rates_by_roll().1.0, 3),
            height,
            lateral,
        ]);
    }
    records
}

fn fixed(value: f64, decimals: usize) -> String {
    show::with_uncertainty(value, None, decimals).0
}

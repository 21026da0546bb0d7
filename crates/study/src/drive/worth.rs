//! What a change of the car is worth on each venue, with its ±: the list that says what to do next.

use std::sync::Arc;

use project::model::{Axle, Car};
use vehicle::AxleEnd;
use vehicle::balance::roll_stiffness_from_bar;

use super::compare::{difference, lap_times};
use super::course::Venue;
use super::racer::Racer;
use super::sample::Way;
use super::texts;
use super::variant::{Driven, OfFile, OfRacer, Variant, samples};
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group, Stage};

/// A change with its name.
pub(super) struct Change {
    name: String,
    file: Option<OfFile>,
    racer: Option<OfRacer>,
}

fn of_racer(name: &str, alter: impl Fn(&mut Racer) + Sync + Send + 'static) -> Change {
    Change { name: name.into(), file: None, racer: Some(Arc::new(alter)) }
}

fn of_file(name: impl Into<String>, alter: impl Fn(&mut Car) + Sync + Send + 'static) -> Change {
    Change { name: name.into(), file: Some(Arc::new(alter)), racer: None }
}

/// A tenth of a metre nearer or farther: the whole axle with its holes.
fn move_axle(axle: &mut Axle, by: f64) {
    axle.wheel.centre.at.x += by;
    for point in &mut axle.points {
        point.at.x += by;
    }
    for hole in &mut axle.holes {
        hole.at.at.x += by;
    }
}

/// The changes that this car allows.
pub(super) fn changes(variants: &[Variant], car: &Car) -> Vec<Change> {
    let mut list = vec![
        of_racer("20 kg out, where the rest is", |r| {
            let l = &mut r.whole.loads;
            let share = 1.0 - 20.0 / l.mass;
            l.mass -= 20.0;
            l.yaw = l.yaw.map(|i| i * share);
        }),
        of_racer("centre of gravity 20 mm lower", |r| r.whole.loads.height -= 0.02),
        of_racer("centre of gravity 20 mm rearward", |r| r.whole.loads.behind += 0.02),
        of_file("wheelbase 50 mm longer, by the rear axle", |car| {
            if let Some(axle) = &mut car.rear {
                move_axle(axle, -0.05);
            }
        }),
        of_racer("1 % more of the braking at the front", |r| {
            r.share = r.front_share().map(|share| share + 0.01);
        }),
        of_racer("drag area 5 % less", |r| {
            r.whole.air.at_rest.drag_area *= 0.95;
        }),
        of_racer("0.1 m2 of downforce more, half of it at the front", |r| {
            r.whole.air.at_rest.front_area += 0.05;
            r.whole.air.at_rest.rear_area += 0.05;
        }),
        of_racer("tyres with 2 % more grip", |r| r.tyres = r.tyres.clone().map(|t| t.scaled(1.02, 1.0))),
        of_racer("5 % more power", |r| {
            for row in &mut r.power.curve {
                row.1 *= 1.05;
            }
        }),
    ];
    let bars = variants
        .first()
        .and_then(|v| v.car.at(&v.holes).ok())
        .is_some_and(|whole| whole.axles.iter().all(|axle| axle.bar.is_some_and(|(_, rate)| rate > 0.0)));
    if bars {
        list.push(of_racer("2 % of the roll stiffness from the rear bar to the front one", shift_roll));
    }
    for part in car.air.iter().flat_map(|air| &air.parts) {
        let (name, fitted) = (part.name.clone(), part.fitted);
        let title = if fitted { format!("{name} off") } else { format!("{name} on") };
        list.push(of_file(title, move |car| {
            for part in car.air.iter_mut().flat_map(|air| &mut air.parts) {
                if part.name == name {
                    part.fitted = !fitted;
                }
            }
        }));
    }
    list
}

/// Takes two hundredths of the car's roll stiffness from the rear bar and gives them to the front one.
fn shift_roll(racer: &mut Racer) {
    let ends = [AxleEnd::Front, AxleEnd::Rear];
    let total: f64 = ends
        .iter()
        .filter_map(|end| racer.whole.roll_stiffness(*end).ok())
        .map(|(springs, bar)| springs + bar)
        .sum();
    for (axle, sign) in racer.whole.axles.iter_mut().zip([1.0, -1.0]) {
        let Some((element, rate)) = &mut axle.bar else { continue };
        let ratio = axle.ratios.get(*element).map_or(0.0, |r| r.ratio);
        let per_rate = roll_stiffness_from_bar(1.0, 2.0 * axle.measures.contact.y, ratio);
        if per_rate > 0.0 {
            *rate = (*rate + sign * 0.02 * total / per_rate).max(0.0);
        }
    }
}

/// Works all of them out.
pub(super) fn group(
    (base, driven): (&Variant, &Driven),
    changes: &[Change],
    venues: &[Venue],
    draws: usize,
    way: &Way<'_>,
    tick: &(dyn Fn() + Sync),
    stage: &mut Stage,
) {
    let mut variants = vec![variant(base, None)];
    variants.extend(changes.iter().map(|change| variant(base, Some(change))));
    let mut found: Vec<Option<Driven>> =
        variants.iter().map(|v| v.drive(venues, Some(driven), way.cores).ok()).collect();
    let mut pairs: Vec<(&Variant, &mut Driven)> =
        variants.iter().zip(&mut found).filter_map(|(v, d)| Some((v, d.as_mut()?))).collect();
    let drawn = samples(&pairs, venues, draws, way, tick);
    for ((_, driven), drawn) in pairs.iter_mut().zip(drawn) {
        driven.samples = drawn;
    }
    let mut found = found.into_iter();
    let Some(base) = found.next().flatten() else { return };
    let rows = changes.iter().zip(found).filter_map(|(change, driven)| {
        let driven = driven?;
        let cells = (0..venues.len()).map(|i| {
            let estimate = difference(&lap_times(&driven, i), &lap_times(&base, i));
            Cell { estimate: Some(estimate), ..Cell::default() }
        });
        Some(
            Finding::new("change-is-worth", texts::WORTH, Scale::Time, cells.collect())
                .named(change.name.clone()),
        )
    });
    stage.groups.push(Group {
        title: "What a change is worth, in seconds a lap".into(),
        columns: venues.iter().map(|v| v.name.clone()).collect(),
        rows: rows.collect(),
        words: vec![
            "Below zero is quicker. Each change alone; two at once are not always worth their sum. A change whose ± is \
             larger than half of it is not known to help."
                .into(),
        ],
    });
}

fn variant(base: &Variant, change: Option<&Change>) -> Variant {
    Variant {
        name: change.map_or_else(|| base.name.clone(), |c| c.name.clone()),
        car: base.car.clone(),
        holes: base.holes.clone(),
        file: change.and_then(|c| c.file.clone()),
        racer: change.and_then(|c| c.racer.clone()),
    }
}

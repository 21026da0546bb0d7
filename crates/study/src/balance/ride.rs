//! Ride: rates, frequencies and damping of the corners.

use suspension::AxleEnd;
use vehicle::balance::quarter_car;

use super::table::{Table, by_rows, columns};
use super::{Asked, Case, ENDS, texts, wrong};
use crate::quantity::Scale;
use crate::stage::{Group, Stage};
use crate::whole::{Whole, end_name};

const ROWS: usize = 12;

/// Ride frequencies that are alike [-]: a rear end within this of the front follows it over a bump without catching it up
/// (own, for the words alone).
const ALIKE: f64 = 0.03;

fn one(whole: &Whole, end: AxleEnd) -> [Option<f64>; ROWS] {
    let Ok(corner) = whole.ride(end) else { return [None; ROWS] };
    let Ok(ride) = corner.ride() else { return [None; ROWS] };
    let damper = whole.axle(end).dampers.first();
    let damped = |rate: f64| {
        let with = vehicle::balance::RideCorner { damping: rate, ..corner };
        with.ride().ok().map(|ride| ride.damping_ratio)
    };
    [
        Some(ride.spring_part),
        Some(ride.geometry_part),
        Some(ride.wheel_rate),
        Some(ride.ride_rate),
        Some(ride.frequency),
        damper.map(|_| ride.damping_ratio),
        damper.and_then(|d| damped(d.bump)),
        damper.and_then(|d| damped(d.rebound)),
        Some(ride.hop_frequency),
        damper.map(|_| ride.hop_damping),
        Some(ride.static_deflection),
        quarter_car(&corner).ok().map(|(low, _)| low),
    ]
}

pub(super) fn figures(whole: &Whole, _: &Asked) -> Vec<Option<f64>> {
    by_rows(ENDS.map(|end| one(whole, end)))
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    let rows = [
        ("spring-part", texts::SPRING_PART, Scale::Rate),
        ("geometry-part", texts::GEOMETRY_PART, Scale::Rate),
        ("corner-rate", texts::WHEEL_RATE, Scale::Rate),
        ("ride-rate", texts::RIDE_RATE, Scale::Rate),
        ("ride-frequency", texts::FREQUENCY, Scale::Frequency),
        ("damping", texts::DAMPING, Scale::Ratio),
        ("damping-bump", texts::DAMPING_BUMP, Scale::Ratio),
        ("damping-rebound", texts::DAMPING_REBOUND, Scale::Ratio),
        ("hop-frequency", texts::HOP, Scale::Frequency),
        ("hop-damping", texts::HOP_DAMPING, Scale::Ratio),
        ("static-deflection", texts::DEFLECTION, Scale::Length),
        ("quarter-car-frequency", texts::QUARTER, Scale::Frequency),
    ];
    let mut rows: Vec<_> = rows.into_iter().map(|row| table.row(row, 2)).collect();
    let mut any = false;
    for end in ENDS {
        match case.whole.ride(end).and_then(|corner| corner.ride().map_err(wrong)) {
            Ok(_) => any = true,
            Err(lack) => stage.lack(lack),
        }
        if case.whole.axle(end).dampers.is_empty() {
            let name = end_name(end);
            stage.lack(crate::whole::Lack {
                what: format!("the {name} dampers are not known"),
                hint: format!("write `bump` and `rebound` in `[{name}.damper]`, force per speed"),
            });
        }
    }
    if let Ok(corner) = case.whole.ride(AxleEnd::Front)
        && let Ok(ride) = corner.ride()
    {
        for row in &mut rows {
            row.terms = match row.key {
                "ride-rate" => vec![
                    case.term("k_w", "front wheel rate", ride.wheel_rate, Scale::Rate),
                    case.term("k_t", "vertical rate of a front tyre", corner.tyre_rate, Scale::Rate),
                ],
                "ride-frequency" => vec![
                    case.term("k_r", "front ride rate", ride.ride_rate, Scale::Rate),
                    case.term("m_s", "sprung mass on a front corner", corner.sprung_mass, Scale::Mass),
                ],
                _ => Vec::new(),
            };
        }
    }
    if any {
        let words = words(case);
        stage.groups.push(Group { title: "Ride".into(), columns: columns(&["front", "rear"]), rows, words });
    }
}

fn words(case: &Case<'_>) -> Vec<String> {
    let of = |end| Some(case.whole.ride(end).ok()?.ride().ok()?.frequency);
    let mut words = Vec::new();
    if let [Some(front), Some(rear)] = ENDS.map(of) {
        let (slow, fast) = (case.text(front, Scale::Frequency), case.text(rear, Scale::Frequency));
        words.push(if (rear / front - 1.0).abs() <= ALIKE {
            format!("Both ends swing alike ({slow} and {fast}): a bump that both axles cross leaves the body pitching.")
        } else if rear > front {
            format!(
                "The rear swings faster ({fast} against {slow}) and catches the front up after a bump: the body \
                 settles flat at some speed (common practice for comfort)."
            )
        } else {
            format!(
                "The front swings faster ({slow} against {fast}): common where the nose must not dive; after a bump \
                 the body pitches longer."
            )
        });
    }
    for (end, name) in ENDS.into_iter().zip(["front", "rear"]) {
        let [spring, geometry] = match case.whole.ride(end).and_then(|c| c.ride().map_err(wrong)) {
            Ok(ride) => [ride.spring_part, ride.geometry_part],
            Err(_) => continue,
        };
        if geometry.abs() > 0.1 * spring {
            words.push(format!(
                "At the {name} the links' geometry makes {:.0} % of the spring's part: the rate changes with travel, \
                 and with the weight that stands on the spring.",
                100.0 * geometry / spring
            ));
        }
    }
    words
}

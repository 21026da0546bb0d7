//! Anti-roll bars: rate, stress, and which sizes give what.

use project::model::BarReading;
use suspension::AxleEnd;
use vehicle::balance::{Bar, Change, Effect, effects, roll_stiffness_from_bar, with_tyres};

use super::table::{Table, by_rows, columns};
use super::{Asked, Case, ENDS, texts};
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group, Stage};
use crate::whole::{Lack, Whole, bar as sizes, end_name};

const ROWS: usize = 3;

/// Shares of the bar's present rate for which sizes are given (own).
const SHARES: [f64; 6] = [0.5, 0.8, 1.0, 1.2, 1.5, 2.0];

/// Bore over diameter of the tube that is offered where the bar is solid [-] (own: common tubes have 0.6 to 0.8).
const BORE: f64 = 0.7;

/// Shear stress above which a bar of common spring steel takes a set [Pa] (handbooks: 600 to 800 MPa for hardened and
/// tempered bars; remembered), for the words alone.
const SET: f64 = 600e6;

fn reading<'a>(case: &'a Case<'_>, end: AxleEnd) -> Option<&'a BarReading> {
    case.car.car().axle(end.into())?.bar.as_ref()
}

/// Bar-end travel per wheel travel, and the rate at the bar's end.
fn at_wheel(whole: &Whole, end: AxleEnd) -> Option<(f64, f64)> {
    let axle = whole.axle(end);
    let (element, rate) = axle.bar?;
    Some((axle.ratios.get(element)?.ratio, rate))
}

/// Wheel travel of one side [m] at a lateral acceleration, from the springs' part of the roll.
fn travel(whole: &Whole, end: AxleEnd, lateral: f64) -> Option<f64> {
    let rolling = whole.rolling().ok()?;
    let roll = rolling.at(lateral).ok()?.roll;
    let axle = if end == AxleEnd::Front { rolling.front } else { rolling.rear };
    let (springs, bar) = whole.roll_stiffness(end).ok()?;
    Some(0.5 * axle.track * roll * axle.roll_stiffness / (springs + bar))
}

fn stress(whole: &Whole, end: AxleEnd, bar: &Bar<f64>, lateral: f64) -> Option<f64> {
    let (ratio, _) = at_wheel(whole, end)?;
    Some(bar.shear_stress(bar.twist_by_travel(ratio.abs()) * travel(whole, end, lateral)?))
}

fn one(whole: &Whole, asked: &Asked, end: AxleEnd) -> [Option<f64>; ROWS] {
    let Some((ratio, rate)) = at_wheel(whole, end) else { return [None; ROWS] };
    let stress = whole.axle(end).bar_sizes.and_then(|bar| stress(whole, end, &bar, asked.lateral));
    [Some(rate), Some(2.0 * rate * ratio * ratio), stress]
}

pub(super) fn figures(whole: &Whole, asked: &Asked) -> Vec<Option<f64>> {
    by_rows(ENDS.map(|end| one(whole, asked, end)))
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    let rows = [
        ("bar-end-rate", texts::BAR_END, Scale::Rate),
        ("bar-wheel-rate", texts::BAR_WHEEL, Scale::Rate),
        ("bar-stress", texts::BAR_STRESS, Scale::Stress),
    ];
    let rows: Vec<_> = rows.into_iter().map(|row| table.row(row, 2)).collect();
    let mut words = Vec::new();
    let mut any = false;
    for end in ENDS {
        let name = end_name(end);
        match (reading(case, end), &case.whole.axle(end).bar) {
            (None, _) => {
                words.push(format!("The {name} has no bar in the file: its springs alone resist roll."));
                if has_link(case, end) {
                    stage.lack(Lack {
                        what: format!("the {name} has a bar link and no bar"),
                        hint: format!("write `[{name}.bar]`: `rate`, or `diameter`, `length` and `arm`"),
                    });
                }
            }
            (Some(_), None) => stage.lack(Lack {
                what: format!("the {name} bar has no link to the wheel"),
                hint: format!("write `[{name}.bar-link]`: the bar's end and where it is mounted"),
            }),
            (Some(reading), Some(_)) => {
                any = true;
                if sizes(reading).is_none() {
                    stage.lack(Lack {
                        what: format!(
                            "the sizes of the {name} bar are not known: no stress and no diameters"
                        ),
                        hint: format!("write `diameter`, `length` and `arm` in `[{name}.bar]`"),
                    });
                }
            }
        }
    }
    words.push(format!(
        "Stress is at the lean of a steady turn of {}, arms taken as rigid: an upper bound for that turn. A kerb or a \
         lifted wheel twists the bar further. Common hardened spring steel takes a set above about {}.",
        case.lateral_text(),
        case.text(SET, Scale::Stress)
    ));
    if any {
        stage.groups.push(Group {
            title: "Anti-roll bars".into(),
            columns: columns(&["front", "rear"]),
            rows,
            words,
        });
        for end in ENDS {
            stage.groups.extend(sizing(case, end));
        }
    }
}

fn has_link(case: &Case<'_>, end: AxleEnd) -> bool {
    use suspension::scheme::ElementRole;
    let axle = case.car.car().axle(end.into());
    axle.is_some_and(|axle| axle.scheme.elements.iter().any(|e| e.role == ElementRole::BarLink))
}

/// Diameters for shares of the present rate, and what such a bar does.
fn sizing(case: &Case<'_>, end: AxleEnd) -> Option<Group> {
    let whole = case.whole;
    let (ratio, rate) = at_wheel(whole, end)?;
    let bar = reading(case, end).and_then(sizes);
    let (springs, present) = whole.roll_stiffness(end).ok()?;
    let axle = whole.axle(end);
    let (track, tyre) = (2.0 * axle.measures.contact.y, axle.tyre_rate?);
    let plain = |value: Option<f64>| value.map_or_else(Cell::default, Cell::plain);
    let sized = |share: f64, bore: f64| {
        let bar = bar?;
        Bar { inner: bore * bar.outer, ..bar }.sized_for(share * rate).ok()
    };
    let bore = bar.map_or(BORE, |bar| if bar.inner > 0.0 { bar.inner / bar.outer } else { BORE });
    let stiffness = |share: f64| roll_stiffness_from_bar(share * rate, track, ratio);
    let rolling = whole.rolling().ok();
    let factor = |share: f64| {
        with_tyres(springs + stiffness(share), tyre, track) / with_tyres(springs + present, tyre, track)
    };
    let changes = SHARES.map(|share| Change::RollStiffness(end, factor(share)));
    let cornering = rolling.as_ref().and_then(|rolling| whole.cornering(rolling).ok());
    let done = cornering.and_then(|car| effects(&car, case.asked.lateral, &changes).ok());
    let stressed = |share: f64| {
        // The body leans on the changed car: this bar's share, the other axle as it is.
        let mut changed = rolling?;
        let lateral = case.asked.lateral;
        let before = changed.at(lateral).ok()?.roll;
        let axle = if end == AxleEnd::Front { &mut changed.front } else { &mut changed.rear };
        axle.roll_stiffness *= factor(share);
        let lean = changed.at(lateral).ok()?.roll / before;
        // More of the lean goes into the tyres where the suspension is stiffer.
        let give = factor(share) * (springs + present) / (springs + stiffness(share));
        let of_present = travel(whole, end, lateral)?;
        let bar = sized(share, 0.0)?;
        Some(bar.shear_stress(bar.twist_by_travel(ratio.abs()) * of_present * lean * give))
    };
    let mut rows = vec![Finding::new(
        "sized-roll-stiffness",
        texts::SIZED_STIFFNESS,
        Scale::RollStiffness,
        SHARES.map(|share| Cell::plain(stiffness(share))).into(),
    )];
    if bar.is_some() {
        let mut row = |key, about, scale, of: &dyn Fn(f64) -> Option<f64>| {
            rows.push(Finding::new(key, about, scale, SHARES.map(|share| plain(of(share))).into()));
        };
        row("sized-solid", texts::SIZED_SOLID, Scale::Length, &|share| Some(sized(share, 0.0)?.outer));
        row("sized-tube", texts::SIZED_TUBE, Scale::Length, &|share| Some(sized(share, bore)?.outer));
        row("sized-bore", texts::SIZED_BORE, Scale::Length, &|share| Some(sized(share, bore)?.inner));
        row("sized-stress", texts::SIZED_STRESS, Scale::Stress, &stressed);
    }
    if let (Some(done), Some((limit, _))) = (&done, super::limit_of(whole)) {
        let cells = |of: &dyn Fn(&Effect) -> f64| {
            done.iter()
                .map(|effect| {
                    Cell::plain(of(effect)).marked(
                        effect.outside,
                        "a wheel lifts, or a load leaves the tyre's range, before the limit",
                    )
                })
                .collect()
        };
        rows.push(Finding::new(
            "sized-gradient",
            texts::SIZED_GRADIENT,
            Scale::AnglePerAcceleration,
            cells(&|e| e.gradient),
        ));
        rows.push(Finding::new(
            "sized-balance",
            texts::SIZED_BALANCE,
            Scale::Percent,
            cells(&|e| e.front_limit / limit.front - e.rear_limit / limit.rear),
        ));
    }
    Some(Group {
        title: format!("Sizes of the {} bar for a share of its present rate", end_name(end)),
        columns: SHARES.iter().map(|share| format!("{:.0} %", 100.0 * share)).collect(),
        rows,
        words: vec![
            "Arm, length and link stay as they are; rates go with the fourth power of the diameter, so a little is much. \
             Sizes are for the figures as written, without ±."
                .into(),
        ],
    })
}

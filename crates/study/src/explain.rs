//! Worked numbers: a quantity with its definition, formula and source, and this car's own figures in it.

mod texts;

use project::model::{Car, End};
use suspension::{AxleEnd, Mover, TorqueReaction};
use units::{Dimension, show};

pub(crate) use texts::about;

use crate::arm::{LONG_ARM, arm_is_long, long_arm_words, short_arm_words};
use crate::build::InTable;
use crate::drive::in_table::InTable as LapTable;
use crate::estimate::Estimate;
use crate::evaluate::{Evaluation, Extent, Position};
use crate::in_stop::Context;
use crate::present::{Shown, shown};
use crate::quantity::{About, Built, InStop, Lap, Quantity, Scale};
use crate::subject::{Parameter, StudyError, Subject};
use crate::whole::Lack;

/// One symbol of a formula with this car's figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// Symbol as in the formula.
    pub symbol: String,
    /// What it is.
    pub meaning: String,
    /// Its value with unit.
    pub value: String,
}

/// A worked number.
#[derive(Clone, Debug)]
pub struct Worked {
    /// What there is to say about the quantity.
    pub about: About,
    /// The figures that went in.
    pub terms: Vec<Term>,
    /// The formula with the figures in it, and the result.
    pub substituted: String,
    /// The result, SI; `None` where a figure is missing.
    pub result: Option<Estimate>,
    /// The result in the reader's units.
    pub shown: Option<Shown>,
    /// Which inputs the ± comes from, largest first, with their share of the variance.
    pub sources_of_doubt: Vec<(String, f64)>,
    /// What else to know beside the number: missing figures, a model past its range.
    pub remarks: Vec<String>,
}

/// Works out a quantity at a travel [m] with some holes chosen.
///
/// # Errors
/// If the corner cannot be built, is not held, or does not reach the travel.
pub fn explain(
    subject: &Subject<'_>,
    quantity: Quantity,
    holes: &[usize],
    travel: f64,
) -> Result<Worked, StudyError> {
    if let Quantity::InStop(which) = quantity {
        return in_stop(subject, which, holes);
    }
    if let Quantity::Built(which) = quantity {
        return built(subject, which, holes);
    }
    if let Quantity::Lap(which) = quantity {
        return lap(subject, which, holes);
    }
    let evaluation = Evaluation::new(subject, holes, Extent::Whole)?;
    let mut mover = Mover::new(&evaluation.corner);
    let position = evaluation.at(&mut mover, travel).map_err(|stop| StudyError::Held {
        message: crate::sweep::stop_words(&stop, subject),
        hint: Some("ask for a travel within its reach".into()),
    })?;
    let result = match quantity {
        Quantity::WheelRate(element) => wheel_rate(subject, &position, element),
        _ => position.estimate(subject, quantity),
    };
    let (terms, substituted) = substitute(subject, quantity, &position, result.as_ref());
    let mut worked = Worked {
        about: quantity.about(subject.end()),
        terms,
        substituted,
        shown: result.as_ref().map(|r| shown(r, quantity.scale(), &subject.car().units)),
        sources_of_doubt: result.as_ref().map(|r| doubts(subject, r)).unwrap_or_default(),
        remarks: Vec::new(),
        result,
    };
    remark(subject, quantity, &position, &mut worked);
    Ok(worked)
}

/// A result of the whole car in the stated stop.
fn in_stop(subject: &Subject<'_>, which: InStop, holes: &[usize]) -> Result<Worked, StudyError> {
    let lacking = |lack: Lack| StudyError::Held { message: lack.what, hint: Some(lack.hint) };
    let context = Context::new(subject.car()).map_err(lacking)?;
    let answer = context
        .answer(&holes.iter().map(|h| (subject.axle().end, *h)).collect::<Vec<_>>(), true)
        .map_err(lacking)?;
    let quantity = Quantity::InStop(which);
    let result = answer.estimates.get(which.index()).cloned().flatten();
    let shown = result.as_ref().map(|r| shown(r, quantity.scale(), &subject.car().units));
    Ok(Worked {
        about: quantity.about(subject.end()),
        terms: context.terms(subject.axle().end, holes),
        substituted: shown.as_ref().map_or_else(|| "not known: a figure is missing".into(), Shown::text),
        sources_of_doubt: result.as_ref().map(|r| context.doubts(r)).unwrap_or_default(),
        remarks: answer
            .outside
            .into_iter()
            .chain(context.lacks.iter().map(|l| format!("{l}: {}", l.hint)))
            .collect(),
        shown,
        result,
    })
}

/// A result of Build.
fn built(subject: &Subject<'_>, which: Built, holes: &[usize]) -> Result<Worked, StudyError> {
    let lacking = |lack: Lack| StudyError::Held { message: lack.what, hint: Some(lack.hint) };
    let end = subject.axle().end;
    let holes: Vec<(End, usize)> = holes.iter().map(|hole| (end, *hole)).collect();
    let whole = crate::whole::WholeCar::new(subject.car()).map_err(lacking)?;
    let found =
        InTable::new(subject.car()).map_err(lacking)?.answer(&whole, end, &holes, None).map_err(lacking)?;
    let quantity = Quantity::Built(which);
    let value = found.values.get(which.index()).copied().flatten();
    let result = value.map(|value| Estimate { value, contributions: Vec::new() });
    let shown = result.as_ref().map(|r| shown(r, quantity.scale(), &subject.car().units));
    Ok(Worked {
        about: quantity.about(subject.end()),
        terms: Vec::new(),
        substituted: shown.as_ref().map_or_else(|| "not known: a figure is missing".into(), Shown::text),
        sources_of_doubt: Vec::new(),
        remarks: found.weakest.into_iter().collect(),
        shown,
        result,
    })
}

/// A lap against that of the car as drawn.
fn lap(subject: &Subject<'_>, which: Lap, holes: &[usize]) -> Result<Worked, StudyError> {
    let lacking = |lack: Lack| StudyError::Held { message: lack.what, hint: Some(lack.hint) };
    let end = subject.axle().end;
    let holes: Vec<(End, usize)> = holes.iter().map(|hole| (end, *hole)).collect();
    let result = if holes.is_empty() {
        // The car as drawn is what it is compared with.
        Some(Estimate { value: 0.0, contributions: Vec::new() })
    } else {
        let whole = crate::whole::WholeCar::new(subject.car()).map_err(lacking)?;
        let table =
            LapTable::new(subject.car(), &whole).map_err(lacking)?.ok_or_else(|| StudyError::Held {
                message: "the file names no venue, or no engine".into(),
                hint: Some("write `[venue.NAME]`, `[engine]` and `[gearbox]`".into()),
            })?;
        table.answer(&whole, &holes).map_err(lacking)?.get(which.index()).cloned().flatten()
    };
    let quantity = Quantity::Lap(which);
    let shown = result.as_ref().map(|r| shown(r, quantity.scale(), &subject.car().units));
    let venue = subject.car().venues.get(which.index()).map(|venue| format!("the venue is {}", venue.name));
    Ok(Worked {
        about: quantity.about(subject.end()),
        terms: Vec::new(),
        substituted: shown.as_ref().map_or_else(|| "not known: a figure is missing".into(), Shown::text),
        sources_of_doubt: Vec::new(),
        remarks: venue.into_iter().collect(),
        shown,
        result,
    })
}

fn doubts(subject: &Subject<'_>, estimate: &Estimate) -> Vec<(String, f64)> {
    let total: f64 = estimate.contributions.iter().map(|c| c * c).sum();
    let mut list: Vec<(String, f64)> = estimate
        .contributions
        .iter()
        .zip(subject.parameters())
        .map(|(c, (p, _)): (&f64, &(Parameter, f64))| (subject.parameter_name(*p), c * c / total))
        .filter(|(_, share)| *share >= 0.02)
        .collect();
    list.sort_by(|a, b| b.1.total_cmp(&a.1));
    list.truncate(5);
    list
}

fn wheel_rate(subject: &Subject<'_>, position: &Position, element: usize) -> Option<Estimate> {
    let e = subject.axle().scheme.elements.get(element)?;
    let rate = e.rate?;
    let total = |r: &suspension::WheelRate<f64>| r.from_rate + r.from_geometry.unwrap_or(0.0);
    let value = total(&position.plain.ratios.get(element)?.wheel_rate(rate, e.force));
    Some(crate::evaluate::gather(
        subject,
        value,
        position.duals.iter().map(|d| {
            let w = d.as_ref()?.ratios.get(element)?.wheel_rate(rate, e.force);
            Some(w.from_geometry.map_or(w.from_rate, |g| w.from_rate + g))
        }),
    ))
}

/// The terms of a quantity's formula and the formula with figures.
fn substitute(
    subject: &Subject<'_>,
    quantity: Quantity,
    position: &Position,
    result: Option<&Estimate>,
) -> (Vec<Term>, String) {
    let car = subject.car();
    let facts = &position.plain;
    let m = &facts.measures;
    let plain = |v: f64| Plain(v).to_string();
    let length = |v: f64| show::with_unit(v, Dimension::Length, &car.units, length_decimals(car));
    let degrees = |v: f64| format!("{} deg", Plain(v.to_degrees()));
    let answer = result.map_or_else(
        || "not known: a figure is missing".to_string(),
        |r| shown(r, quantity.scale(), &car.units).text(),
    );
    let mut terms = Vec::new();
    let mut term = |symbol: &str, meaning: &str, value: String| {
        terms.push(Term { symbol: symbol.into(), meaning: meaning.into(), value });
    };
    let end = subject.end();
    let formula = match quantity {
        Quantity::AntiBraking | Quantity::AntiDriving => {
            let braking = quantity == Quantity::AntiBraking;
            let (share, slope, reaction) = if braking {
                (facts.brake_share(), facts.braking_slope(), facts.braking)
            } else {
                (Some(facts.drive_share()), facts.driving_slope(), facts.driving)
            };
            let known = |v: Option<f64>, show: &dyn Fn(f64) -> String| v.map_or("?".to_string(), show);
            let (p, b) = match (braking, reaction) {
                (true, TorqueReaction::Upright) => ("p", "b"),
                (true, TorqueReaction::Body) => ("p", "d"),
                (false, TorqueReaction::Upright) => ("s", "b"),
                (false, TorqueReaction::Body) => ("s", "d"),
            };
            let force = if braking { "braking" } else { "driving" };
            term(p, &format!("share of the {force} force at this axle"), known(share, &plain));
            let point = match reaction {
                TorqueReaction::Upright => "the contact point (torque reacted by the upright)",
                TorqueReaction::Body => "the wheel centre (torque reacted by the body)",
            };
            term(
                b,
                &format!("slope toward the side-view instant centre, {} v_x/v_z of {point}", sign(end)),
                plain(slope),
            );
            term("L", "wheelbase", known(facts.figures.wheelbase, &length));
            term("h", "height of the centre of gravity", known(facts.figures.cg_height, &length));
            format!(
                "{} x {} x {} / {} = {answer}",
                known(share, &plain),
                plain(slope),
                known(facts.figures.wheelbase, &length),
                known(facts.figures.cg_height, &length)
            )
        }
        Quantity::SideViewArm => {
            term("v_z", "rise of the contact point per travel", plain(m.contact_velocity.z));
            term("w_y", "turning of the upright in side view per travel [rad/m]", plain(m.spin_of_upright.y));
            format!("{} / {} = {answer}", plain(m.contact_velocity.z), plain(m.spin_of_upright.y))
        }
        Quantity::SideViewAngle => {
            term(
                "b",
                "slope from the contact point to the side-view instant centre",
                plain(facts.side_view_angle().tan()),
            );
            format!("atan({}) = {answer}", plain(facts.side_view_angle().tan()))
        }
        Quantity::Recession => {
            term("v_x", "forward motion of the wheel centre per travel", plain(m.centre_velocity.x));
            term("v_z", "rise of the wheel centre per travel", plain(m.centre_velocity.z));
            format!("-({}) / {} = {answer}", plain(m.centre_velocity.x), plain(m.centre_velocity.z))
        }
        Quantity::BumpSteer | Quantity::CamberGain => {
            let w = m.spin_of_upright;
            term(
                "w",
                "turning of the upright per travel, about x, y, z [rad/m]",
                format!("({}, {}, {})", plain(w.x), plain(w.y), plain(w.z)),
            );
            term("toe, camber", "at this travel", format!("{}, {}", degrees(m.toe), degrees(m.camber)));
            format!(
                "{} deg per metre of travel = {answer}",
                plain(quantity.value(facts).unwrap_or(f64::NAN).to_degrees())
            )
        }
        Quantity::RollCentre => {
            term("t/2", "half track at the contact point", length(m.contact.y));
            term("v_y", "outward motion of the contact point per travel", plain(m.contact_velocity.y));
            term("v_z", "rise of the contact point per travel", plain(m.contact_velocity.z));
            format!(
                "{} x {} / {} = {answer}",
                length(m.contact.y),
                plain(m.contact_velocity.y),
                plain(m.contact_velocity.z)
            )
        }
        Quantity::RollSteer | Quantity::RollCamber => {
            let gain = if quantity == Quantity::RollSteer { m.toe_gain } else { m.camber_gain };
            term("gain", "change with travel [rad/m]", plain(gain));
            term("t/2", "half track at the contact point", length(m.contact.y));
            term("z'", "rise of the contact point per wheel-centre travel", plain(m.contact_rate.z));
            let tail = if quantity == Quantity::RollCamber { " + 1" } else { "" };
            format!(
                "{} rad/m x {} m / {}{tail} = {answer}",
                plain(gain),
                plain(m.contact.y),
                plain(m.contact_rate.z)
            )
        }
        Quantity::TrackChange => {
            term("y'", "outward motion of the lowest point of the wheel per travel", plain(m.contact_rate.y));
            format!("{} = {answer}", plain(m.contact_rate.y))
        }
        Quantity::Toe | Quantity::Camber => {
            let spin_z = -m.camber.sin();
            let level = m.camber.cos();
            let (sx, sy) = (level * m.toe.sin(), level * m.toe.cos());
            term(
                "s",
                "spin axis of the wheel, out of the car",
                format!("({}, {}, {})", plain(sx), plain(sy), plain(spin_z)),
            );
            if quantity == Quantity::Toe {
                format!("atan2({}, {}) = {answer}", plain(sx), plain(sy))
            } else {
                format!("-asin({}) = {answer}", plain(spin_z))
            }
        }
        Quantity::MotionRatio(e) => {
            if let (Some(r), Some(element)) = (facts.ratios.get(e), subject.axle().scheme.elements.get(e)) {
                term("", "element", element.name.clone());
                term("L", "its length at this travel", length(r.length));
                term("dMR/dz", "change of the ratio per metre of travel", plain(r.ratio_rate));
            }
            format!("-dL/dz = {answer}")
        }
        Quantity::WheelRate(e) => match (facts.ratios.get(e), subject.axle().scheme.elements.get(e)) {
            (Some(r), Some(element)) => {
                let rate = |v: f64| show::with_unit(v, Dimension::Rate, &car.units, 2);
                term("", "element", element.name.clone());
                term("k", "rate of the spring", element.rate.map_or("? (write `rate`)".into(), rate));
                term("MR", "motion ratio", plain(r.ratio));
                term(
                    "F",
                    "force of the spring at ride height",
                    element.force.map_or_else(
                        || "? (write `force`): the second term is left out".into(),
                        |f| show::with_unit(f, Dimension::Force, &car.units, 0),
                    ),
                );
                term("dMR/dz", "change of the ratio per metre of travel", plain(r.ratio_rate));
                element.rate.map_or_else(
                    || answer.clone(),
                    |k| {
                        let w = r.wheel_rate(k, element.force);
                        let second = w.from_geometry.map_or_else(|| "0 (not known)".into(), rate);
                        format!("{} + {second} = {answer}", rate(w.from_rate))
                    },
                )
            }
            _ => answer,
        },
        Quantity::InStop(_) | Quantity::Built(_) | Quantity::Lap(_) => answer,
    };
    (terms, formula)
}

fn sign(end: AxleEnd) -> &'static str {
    match end {
        AxleEnd::Front => "+",
        AxleEnd::Rear => "-",
    }
}

fn length_decimals(car: &Car) -> usize {
    Scale::Length.decimals(&car.units)
}

/// What to know beside the number.
fn remark(subject: &Subject<'_>, quantity: Quantity, position: &Position, worked: &mut Worked) {
    let car = subject.car();
    let facts = &position.plain;
    if worked.result.is_none() {
        let mut lacks = Vec::new();
        if matches!(quantity, Quantity::AntiBraking | Quantity::AntiDriving) {
            if quantity == Quantity::AntiDriving && !facts.driven {
                worked.remarks.push("this axle is not driven".into());
            }
            lacks.extend(facts.figures.wheelbase.is_none().then_some("`wheelbase` in `[car]`"));
            lacks.extend(facts.figures.cg_height.is_none().then_some("`cg-height` in `[car]`"));
            if quantity == Quantity::AntiBraking {
                lacks.extend(
                    facts.figures.brake_front_share.is_none().then_some("`front-share` in `[brakes]`"),
                );
            }
        }
        if !lacks.is_empty() {
            worked.remarks.push(format!("add {} to the file", lacks.join(" and ")));
        }
    }
    let anti = matches!(quantity, Quantity::AntiBraking | Quantity::AntiDriving);
    if anti || matches!(quantity, Quantity::SideViewArm | Quantity::SideViewAngle) {
        let arm = facts.side_view_arm();
        let shown_arm = |v: f64| show::with_unit(v, Dimension::Length, &car.units, length_decimals(car));
        let recession = Quantity::Recession;
        if anti {
            let value = recession.value(facts).unwrap_or(f64::NAN) * recession.scale().factor(&car.units);
            worked.remarks.push(format!(
                "side-view arm {}, recession {} {}",
                if arm.abs() > LONG_ARM { "long".into() } else { shown_arm(arm) },
                show::with_uncertainty(value, None, recession.scale().decimals(&car.units)).0,
                recession.scale().unit(&car.units)
            ));
        }
        let doubtful = quantity == Quantity::SideViewArm && worked.result.as_ref().is_some_and(arm_is_long);
        if arm.abs() > LONG_ARM || doubtful {
            worked.remarks.push(long_arm_words(&car.units));
        } else if let Some(words) = short_arm_words(arm, &car.units) {
            worked.remarks.push(words);
        }
    }
}

/// A number to four significant digits, without exponent where it can be helped.
struct Plain(f64);

impl std::fmt::Display for Plain {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let v = self.0;
        if !v.is_finite() {
            return f.write_str("not defined");
        }
        let size = if v == 0.0 { 0 } else { v.abs().log10().floor() as i32 };
        let decimals = (3 - size).clamp(0, 6) as usize;
        let text = format!("{v:.decimals$}");
        let zero = text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
        f.write_str(if zero { "0" } else { &text })
    }
}

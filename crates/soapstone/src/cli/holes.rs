//! Hole places on a plate for wanted values.

use nalgebra::Vector3;
use project::model::{Axle, Car, Plate};
use study::{Candidate, Found, Placed, Quantity, Remedy, Scale, Subject, Wish, as_hole, find_holes, shown};
use units::{Dimension, show};

use super::args::HolesArgs;
use super::output::{ACCENT, FAINT, HEADING, styled};
use super::{Failure, load, output, select, table};
use crate::json;

/// Most values that may be wished for at once.
const MOST_WISHES: usize = 12;

pub(crate) fn run(args: &HolesArgs) -> Result<(), Failure> {
    let car = load::car(args.car.as_deref())?;
    let end = match args.axle {
        None => [project::model::End::Front, project::model::End::Rear]
            .into_iter()
            .rfind(|e| car.axle(*e).is_some_and(|a| !a.plates.is_empty()))
            .map_or_else(|| select::axle(&car, None), Ok)?,
        given => select::axle(&car, given)?,
    };
    let subject = Subject::new(&car, end)?;
    let plate = plate(subject.axle(), args.plate.as_deref())?;
    let wishes = wishes(&subject, &args.want)?;
    let found = find_holes(&subject, plate, &wishes).map_err(|e| Failure::input(e.to_string()))?;
    let with_doubt = Doubt::of(&subject, plate, &found, wishes[0].quantity)?;
    if args.json {
        return output::json(&json::holes(&subject, plate, &wishes, &found, &with_doubt.values));
    }
    if args.csv {
        return output::csv(&records(&subject, &found.placed, wishes[0].quantity));
    }
    output::text(&text(&subject, plate, &wishes, &found, &with_doubt))
}

/// The plate of that name, or the only one.
pub(crate) fn plate<'a>(axle: &'a Axle, name: Option<&str>) -> Result<&'a Plate, Failure> {
    let known: Vec<String> = axle.plates.iter().map(|p| format!("`{}`", p.name)).collect();
    let where_to = format!("`[{}.plate.NAME]`", axle.end.name());
    match (name, axle.plates.as_slice()) {
        (_, []) => Err(Failure::with_hint(
            format!("the {} axle has no plate to drill", axle.end.name()),
            format!("write {where_to} with `end`, `corners` and `bolt`"),
        )),
        (None, [only]) => Ok(only),
        (None, _) => Err(Failure::with_hint(
            "there is more than one plate",
            format!("say which: --plate {}", known.join(" or ")),
        )),
        (Some(name), plates) => plates.iter().find(|p| p.name == name).ok_or_else(|| {
            Failure::with_hint(
                format!("there is no plate `{name}`"),
                format!("there is {}", known.join(", ")),
            )
        }),
    }
}

/// Reads QUANTITY=VALUES.
pub(crate) fn wishes(subject: &Subject<'_>, text: &str) -> Result<Vec<Wish>, Failure> {
    let car = subject.car();
    let (key, values) = text.split_once('=').ok_or_else(|| {
        Failure::with_hint(
            format!("`{text}` wishes for nothing"),
            "write QUANTITY=VALUES, such as anti-lift=30,50,70",
        )
    })?;
    let quantity = super::explain::quantity(subject, key.trim(), None)?;
    let unit = quantity.scale().unit(&car.units);
    let wishes: Vec<Wish> = values
        .split(',')
        .map(|v| {
            let bare = v.trim().trim_end_matches(&unit).trim_end_matches('%').trim();
            bare.parse::<f64>()
                .ok()
                .filter(|n| n.is_finite())
                .map(|n| Wish { quantity, value: n / quantity.scale().factor(&car.units) })
                .ok_or_else(|| {
                    Failure::with_hint(
                        format!("`{v}` is not a number"),
                        format!("{} is given in {unit}, separated by commas", quantity.key(subject.end())),
                    )
                })
        })
        .collect::<Result<_, _>>()?;
    if wishes.len() > MOST_WISHES {
        return Err(Failure::input(format!("more than {MOST_WISHES} wishes at once")));
    }
    Ok(wishes)
}

/// The found holes put through the choice table, for their ±.
pub(crate) struct Doubt {
    /// One per placed hole.
    pub values: Vec<Option<study::Estimate>>,
}

impl Doubt {
    pub fn of(
        subject: &Subject<'_>,
        plate: &Plate,
        found: &Found,
        quantity: Quantity,
    ) -> Result<Self, Failure> {
        let placed = found.instead.as_ref().unwrap_or(&found.placed);
        let mut car = subject.car().clone();
        let end = subject.axle().end;
        let axle = match end {
            project::model::End::Front => car.front.as_mut(),
            project::model::End::Rear => car.rear.as_mut(),
        };
        let Some(axle) = axle else { return Ok(Self { values: Vec::new() }) };
        let first = axle.holes.len();
        for (i, p) in placed.iter().enumerate() {
            axle.holes.push(as_hole(plate, format!("H{}", i + 1), p.at));
        }
        let subject = Subject::new(&car, end)?;
        let extra: Vec<Candidate> =
            (0..placed.len()).map(|i| Candidate::new(format!("H{}", i + 1), vec![first + i])).collect();
        let choice = study::choose(&subject, &extra, &[], |_, _| {})?;
        let column = choice.columns.iter().position(|c| c.quantity == quantity);
        let skip = choice.rows.len() - extra.len();
        let values =
            choice.rows.iter().skip(skip).map(|r| column.and_then(|c| r.values[c].clone())).collect();
        Ok(Self { values })
    }
}

fn text(subject: &Subject<'_>, plate: &Plate, wishes: &[Wish], found: &Found, doubt: &Doubt) -> String {
    let car = subject.car();
    let key = wishes[0].quantity.key(subject.end()).replace('-', " ");
    let mut out = format!(
        "{}\n",
        styled(
            HEADING,
            &format!("{}, {} axle: holes on plate `{}`", car.name, subject.axle().end.name(), plate.name)
        )
    );
    let d = |n: f64| show::with_unit(n * plate.bolt, Dimension::Length, &car.units, 1);
    let bolt = format!(
        "Bolt {}; centres at least {} apart ({} diameters), at least {} from the edge ({} diameters).",
        d(1.0),
        d(plate.spacing),
        plate.spacing,
        d(plate.edge),
        plate.edge
    );
    out.push_str(&format!("{}\n", table::wrap(&bolt, 0)));
    if let Some((least, most)) = plate.link_length {
        let n = |v: f64| show::with_unit(v, Dimension::Length, &car.units, 1);
        out.push_str(&format!("Link between {} and {} long", n(least), n(most)));
        out.push_str(&found.drawn_length.map_or_else(|| ".\n".into(), |l| format!("; {} as drawn.\n", n(l))));
    }
    if !found.placed.is_empty() {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "Where to drill")));
        out.push_str(&placed_table(subject, &found.placed, wishes, doubt));
        out.push_str(&table::wrap(
            &format!(
                "Coordinates in the survey's frame ({}); on the plate: along its first edge from the first corner, \
                 and square to it.",
                car.frame.description()
            ),
            0,
        ));
        out.push('\n');
    }
    for unmet in &found.unmet {
        out.push_str(&format!("\n{}\n", unmet_words(subject, plate, &key, wishes, unmet)));
    }
    if let Some(instead) = &found.instead {
        out.push_str(&format!(
            "\n{}\n{}\n",
            styled(ACCENT, "These wishes cannot be met together"),
            table::wrap(
                "Each can be met, but the holes would overlap: no set of places keeps the spacing. The nearest set that does:",
                0
            )
        ));
        out.push_str(&placed_table(subject, instead, wishes, doubt));
    } else if found.placed.is_empty() && found.unmet.len() < wishes.len() {
        let words = "The plate has no room for the holes at this spacing: fewer holes, a smaller bolt or a larger plate.";
        out.push_str(&format!("\n{}\n", table::wrap(words, 0)));
    }
    out.push_str(&format!(
        "\n{}\n",
        styled(
            FAINT,
            &table::wrap(
                "Spacing and edge distance are common practice, not a proof of strength: whether the bracket \
                 holds must be checked by a licensed engineer.",
                0
            )
        )
    ));
    out
}

fn placed_table(subject: &Subject<'_>, placed: &[Placed], wishes: &[Wish], doubt: &Doubt) -> String {
    let car = subject.car();
    let units = &car.units;
    let quantity = wishes[0].quantity;
    let scale = quantity.scale();
    let length = units.symbol(Dimension::Length).to_string();
    let key = quantity.key(subject.end()).replace('-', " ");
    let per = if length == "in" { (0.0254 / 16.0, "1/16 in") } else { (0.001, "1 mm") };
    let mut headings: Vec<Vec<String>> = vec![
        vec!["hole".into()],
        vec!["wished".into(), scale.unit(units)],
        vec![key, scale.unit(units)],
        vec!["x".into(), length.clone()],
        vec!["y".into(), length.clone()],
        vec!["z".into(), length.clone()],
        vec!["along".into(), length.clone()],
        vec!["square".into(), length.clone()],
    ];
    if placed.iter().any(|p| p.link_length.is_some()) {
        headings.push(vec!["link".into(), length.clone()]);
    }
    headings.push(vec!["to edge".into(), length]);
    headings.push(vec!["a drill off by".into(), format!("{} costs", per.1)]);
    let n = |v: f64| show::number(v, Dimension::Length, units, Scale::Length.decimals(units));
    let rows: Vec<Vec<String>> = placed
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let at = in_survey(car, subject.axle(), &p.at);
            let value = match doubt.values.get(i).and_then(Option::as_ref) {
                Some(e) => {
                    let s = shown(e, scale, units);
                    s.uncertainty.map_or_else(|| s.number.clone(), |u| format!("{} ± {u}", s.number))
                }
                None => show::with_uncertainty(p.value * scale.factor(units), None, scale.decimals(units)).0,
            };
            let wished = wishes.get(p.wish).map_or(f64::NAN, |w| w.value * scale.factor(units));
            let mut row = vec![
                format!("H{}", i + 1),
                trimmed(wished, scale.decimals(units)),
                value,
                n(at.x),
                n(at.y),
                n(at.z),
                n(p.on_plate.x),
                n(p.on_plate.y),
            ];
            if let Some(l) = p.link_length {
                row.push(n(l));
            }
            row.push(n(p.margin));
            let cost = p.slope.norm() * per.0 * scale.factor(units);
            row.push(format!(
                "{} {}",
                show::with_uncertainty(cost, None, scale.decimals(units) + 1).0,
                scale.unit(units)
            ));
            row
        })
        .collect();
    table::figures(&headings, &rows)
}

fn trimmed(v: f64, decimals: usize) -> String {
    let text = show::with_uncertainty(v, None, decimals).0;
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

/// A point as the survey writes points: in its frame, on the side that was measured.
pub(crate) fn in_survey(car: &Car, axle: &Axle, at: &Vector3<f64>) -> Vector3<f64> {
    let mut at = *at;
    if axle.mirrored {
        at.y = -at.y;
    }
    car.frame.to_survey(at)
}

/// Why a wish cannot be met, and what would have to give.
pub(crate) fn unmet_words(
    subject: &Subject<'_>,
    plate: &Plate,
    key: &str,
    wishes: &[Wish],
    unmet: &study::Unmet,
) -> String {
    let car = subject.car();
    let units = &car.units;
    let quantity = wishes[0].quantity;
    let scale = quantity.scale();
    let value = |v: f64| {
        let n = show::with_uncertainty(v * scale.factor(units), None, scale.decimals(units)).0;
        format!("{n} {}", scale.unit(units))
    };
    let length = |v: f64| show::with_unit(v, Dimension::Length, units, 1);
    let wished = wishes.get(unmet.wish).map_or(f64::NAN, |w| w.value);
    let mut text = format!("{key} of {} cannot be met on this plate", value(wished));
    match unmet.reachable {
        Some((least, most)) => {
            let short = if wished > most { wished - most } else { least - wished };
            text.push_str(&format!(": it gives {} to {}", value(least), value(most)));
            if short > 0.0 {
                text.push_str(&format!(", {} short", value(short)));
            }
            if let Some(p) = &unmet.nearest {
                let at = in_survey(car, subject.axle(), &p.at);
                let n = |v: f64| show::number(v, Dimension::Length, units, Scale::Length.decimals(units));
                text.push_str(&format!(
                    ". Nearest: {} at [{}, {}, {}]",
                    value(p.value),
                    n(at.x),
                    n(at.y),
                    n(at.z)
                ));
            }
        }
        None => text.push_str(": its rules leave no place at all"),
    }
    text.push_str(". ");
    if unmet.remedies.is_empty() {
        text.push_str(
            "No single rule relaxed lets it be met near this plate: move the plate or the link's other end.",
        );
    } else {
        let ways: Vec<String> = unmet
            .remedies
            .iter()
            .map(|r| match r {
                Remedy::Edge(n) => {
                    format!(
                        "an edge distance of {n:.2} diameters instead of {} (strength must be judged)",
                        plate.edge
                    )
                }
                Remedy::LargerPlate(more, place) => {
                    let at = in_survey(car, subject.axle(), place);
                    let n = |v: f64| show::number(v, Dimension::Length, units, Scale::Length.decimals(units));
                    format!("a plate {} larger toward [{}, {}, {}]", length(*more), n(at.x), n(at.y), n(at.z))
                }
                Remedy::LinkLength(l) => format!("a link {} long", length(*l)),
            })
            .collect();
        text.push_str(&format!("What would have to give: {}.", ways.join("; or ")));
    }
    table::wrap(&text, 0)
}

fn records(subject: &Subject<'_>, placed: &[Placed], quantity: Quantity) -> Vec<Vec<String>> {
    let car = subject.car();
    let units = &car.units;
    let unit = units.symbol(Dimension::Length);
    let scale = quantity.scale();
    let mut records = vec![vec![
        "hole".to_string(),
        format!("{} [{}]", quantity.key(subject.end()), scale.unit(units)),
        format!("x [{unit}]"),
        format!("y [{unit}]"),
        format!("z [{unit}]"),
        format!("along [{unit}]"),
        format!("square [{unit}]"),
        format!("link [{unit}]"),
        format!("to edge [{unit}]"),
    ]];
    let factor = units.factor(Dimension::Length);
    for (i, p) in placed.iter().enumerate() {
        let at = in_survey(car, subject.axle(), &p.at);
        let mut record = vec![format!("H{}", i + 1), (p.value * scale.factor(units)).to_string()];
        record.extend([at.x, at.y, at.z, p.on_plate.x, p.on_plate.y].map(|v| (v / factor).to_string()));
        record.push(p.link_length.map_or_else(String::new, |l| (l / factor).to_string()));
        record.push((p.margin / factor).to_string());
        records.push(record);
    }
    records
}

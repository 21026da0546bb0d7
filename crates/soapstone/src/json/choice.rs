//! `soapstone.choice/1`: the choice table.

use serde::Serialize;
use study::{Choice, Subject};

use super::{CAUTION, Doubtful, unit, xyz};

#[derive(Serialize)]
struct ChoiceOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    columns: Vec<ColumnOut>,
    rows: Vec<RowOut>,
    ties: Vec<TieOut>,
    missing: Vec<MissingOut>,
    /// In plain words: what differs in the stop, and whether the ± lets one say so.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    summary: Vec<String>,
    uncertainty: &'static str,
    caution: &'static str,
}

#[derive(Serialize)]
struct ColumnOut {
    quantity: &'static str,
    title: &'static str,
    unit: &'static str,
    travel_m: Option<f64>,
}

#[derive(Serialize)]
struct RowOut {
    name: String,
    setups: Vec<String>,
    holes: Vec<HoleOut>,
    ruled_out: bool,
    notes: Vec<String>,
    values: Vec<Option<Doubtful>>,
    /// Columns whose value is past what its model can say; a note says why.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    outside: Vec<usize>,
    links: Vec<LinkOut>,
    left_as_is: Option<ShiftOut>,
}

#[derive(Serialize)]
struct HoleOut {
    end: String,
    name: String,
    at_m: [f64; 3],
}

#[derive(Serialize)]
struct LinkOut {
    link: String,
    drawn_m: f64,
    set_to_m: Doubtful,
    change_m: Doubtful,
    turns: Option<Doubtful>,
}

#[derive(Serialize)]
struct ShiftOut {
    wheelbase_m: Doubtful,
    toe_deg: Doubtful,
    camber_deg: Doubtful,
    put_back: Vec<TurnsOut>,
    left_after: LeftOut,
}

#[derive(Serialize)]
struct TurnsOut {
    link: String,
    turns: f64,
}

#[derive(Serialize)]
struct LeftOut {
    wheelbase_m: f64,
    toe_deg: f64,
    camber_deg: f64,
}

#[derive(Serialize)]
struct TieOut {
    rows: [String; 2],
    column: usize,
    difference: f64,
    standard_uncertainty: f64,
}

#[derive(Serialize)]
struct MissingOut {
    quantity: &'static str,
    reason: String,
}

/// The choice table.
pub(crate) fn choice(subject: &Subject<'_>, choice: &Choice) -> impl Serialize {
    let (end, axle) = (subject.end(), subject.axle());
    let columns = choice
        .columns
        .iter()
        .map(|c| ColumnOut {
            quantity: c.quantity.key(end),
            title: c.quantity.about(end).title,
            unit: unit(c.quantity.scale()).0,
            travel_m: c.travel,
        })
        .collect();
    let degree = 1f64.to_degrees();
    let rows = choice
        .rows
        .iter()
        .map(|row| RowOut {
            name: row.candidate.name.clone(),
            setups: row.candidate.setups.clone(),
            holes: row
                .candidate
                .holes
                .iter()
                .filter_map(|h| axle.holes.get(*h))
                .map(|h| HoleOut {
                    end: axle.scheme.points.get(h.point).cloned().unwrap_or_default(),
                    name: h.name.clone(),
                    at_m: xyz(&h.at.at),
                })
                .collect(),
            outside: row.outside.iter().enumerate().filter(|(_, out)| **out).map(|(c, _)| c).collect(),
            ruled_out: row.ruled_out,
            notes: row.notes.clone(),
            values: row
                .values
                .iter()
                .zip(&choice.columns)
                .map(|(v, c)| v.as_ref().map(|e| Doubtful::new(e, unit(c.quantity.scale()).1)))
                .collect(),
            links: row
                .links
                .iter()
                .map(|l| LinkOut {
                    link: l.joint.clone(),
                    drawn_m: l.drawn,
                    set_to_m: Doubtful::new(&l.length, 1.0),
                    change_m: Doubtful::new(&l.change, 1.0),
                    turns: l.turns.as_ref().map(|t| Doubtful::new(t, 1.0)),
                })
                .collect(),
            left_as_is: row.left_as_is.as_ref().map(|s| ShiftOut {
                wheelbase_m: Doubtful::new(&s.wheelbase, 1.0),
                toe_deg: Doubtful::new(&s.toe, degree),
                camber_deg: Doubtful::new(&s.camber, degree),
                put_back: s
                    .put_back
                    .turns
                    .iter()
                    .map(|(link, turns)| TurnsOut { link: link.clone(), turns: *turns })
                    .collect(),
                left_after: LeftOut {
                    wheelbase_m: s.put_back.left[0],
                    toe_deg: s.put_back.left[1].to_degrees(),
                    camber_deg: s.put_back.left[2].to_degrees(),
                },
            }),
        })
        .collect();
    let ties = choice
        .ties
        .iter()
        .map(|t| {
            let factor = unit(choice.columns[t.column].quantity.scale()).1;
            TieOut {
                rows: [t.a, t.b].map(|r| choice.rows[r].candidate.name.clone()),
                column: t.column,
                difference: t.difference * factor,
                standard_uncertainty: t.uncertainty * factor,
            }
        })
        .collect();
    ChoiceOut {
        schema: "soapstone.choice/1",
        car: subject.car().name.clone(),
        axle: axle.end.name(),
        columns,
        rows,
        ties,
        summary: study::summary(choice, &subject.car().units),
        missing: choice
            .missing
            .iter()
            .map(|(q, reason)| MissingOut { quantity: q.key(end), reason: reason.clone() })
            .collect(),
        uncertainty: "one standard uncertainty (JCGM 100:2008, first order); rows tie where their difference is \
                      within two of its own",
        caution: CAUTION,
    }
}

//! The jig sheet of an axle as running matter: where every place is, how exact it has to be and why, the tapes and
//! diagonals that check it.

use project::model::{Axle, Car};
use study::{Consequence, Datum, Jig, JigRole, JigRow, Limit, Scale, Side, Tape};
use units::{Dimension, UnitSystem, show};

use crate::flow::{Column, Flow, Table};

/// How sure a steel tape between two marks is taken to be \[m\]: a millimetre, read with care (common practice).
pub const TAPE: f64 = 0.001;

/// Notes of a sheet that can save someone: they stand first, framed.
const CAUTIONS: usize = 2;

/// Diagonals on a sheet; those that tell most stand first.
const MOST_DIAGONALS: usize = 12;

/// What a place is, in words.
pub fn role_words(role: JigRole) -> &'static str {
    match role {
        JigRole::Pickup => "pickup",
        JigRole::Hole => "hole",
        JigRole::Mount => "mount",
        JigRole::Rack => "on the rack",
        JigRole::Reference => "on what moves",
        JigRole::WheelCentre => "wheel centre",
    }
}

/// `left` or `right`.
pub fn side_words(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// A place by its name in the file: `link.toe.body`, `link.toe.body=B` for a hole of it.
pub fn place_words(row: &JigRow) -> String {
    match &row.hole {
        Some(hole) => format!("{}={hole}", row.point),
        None => row.point.clone(),
    }
}

/// A number of two figures, or more where it has no decimals.
fn two_figures(value: f64) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let size = value.abs().max(1e-9).log10().floor();
    let decimals = (1.0 - size).clamp(0.0, 6.0) as usize;
    format!("{value:.decimals$}")
}

/// A place with its side.
fn sided(row: &JigRow) -> String {
    format!("{} {}", place_words(row), side_words(row.side))
}

/// The letter that a mark has on the sheet: A, B, …; a number behind Z.
pub fn mark_letter(index: usize) -> String {
    match u8::try_from(index) {
        Ok(small) if small < 26 => char::from(b'A' + small).to_string(),
        _ => (index + 1).to_string(),
    }
}

/// How a consequence is shown.
pub fn scale_of(consequence: Consequence) -> Scale {
    match consequence {
        Consequence::ToeChange(_) | Consequence::CamberChange(_) | Consequence::Toe | Consequence::Camber => {
            Scale::Angle
        }
        Consequence::RollCentre => Scale::Length,
        Consequence::AntiBraking | Consequence::AntiDriving => Scale::Percent,
        Consequence::MotionRatio(_) => Scale::Ratio,
    }
}

/// The name of a consequence.
pub fn consequence_words(consequence: Consequence, car: &Car, axle: &Axle) -> String {
    consequence.words(axle, &car.units, axle.end.into())
}

/// The sheet as a chapter.
pub fn jig_section(jig: &Jig, car: &Car) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, format!("Jig sheet, {} axle", jig.end.name()));
    for note in jig.notes.iter().take(CAUTIONS) {
        flow.caution(note.clone());
    }
    let unit = car.units.symbol(Dimension::Length);
    flow.say(format!("Coordinates in {unit}: {}. ± is one standard uncertainty.", jig.frame));
    let Some(axle) = car.axle(jig.end) else { return flow };
    let sheet = Sheet { jig, car, axle, units: &car.units, unit };
    flow.heading(2, "Places, and how exact each has to be");
    flow.table(sheet.places());
    flow.remark(
        "\"May be off\" is how far that coordinate alone may be off before the result that decides moves by what is \
         allowed; a dash: it does not matter within 50 mm.",
    );
    flow.heading(2, "What decides");
    flow.table(sheet.deciding());
    flow.heading(2, "Marks to measure from");
    flow.table(sheet.marks());
    flow.heading(2, "Tapes from the marks");
    flow.table(sheet.tapes());
    flow.remark(format!(
        "Best three: the tapes that fix the place best, and the standard deviation along x, y and z that three tapes of \
         {} each make of it. A flat angle means that they cannot be relied upon: use a square, a level or a plumb-bob \
         there.",
        sheet.length(TAPE)
    ));
    if !jig.diagonals.is_empty() {
        flow.heading(2, "Diagonals that check for square");
        flow.table(sheet.diagonals());
        flow.remark("Both are as long where the frame is square and the same on both sides.");
    }
    if !jig.together.is_empty() {
        flow.heading(2, "All places together");
        flow.table(sheet.together());
        flow.remark(
            "Spread: the standard deviation of the result where every place is as exact as its class. Where it is more \
             than half of what is allowed, work finer than the classes.",
        );
    }
    let rest: Vec<&String> = jig.notes.iter().skip(CAUTIONS).collect();
    if !rest.is_empty() {
        flow.heading(2, "To know beside the numbers");
        flow.bullets(rest);
    }
    flow
}

struct Sheet<'a> {
    jig: &'a Jig,
    car: &'a Car,
    axle: &'a Axle,
    units: &'a UnitSystem,
    unit: &'a str,
}

impl Sheet<'_> {
    fn number(&self, metres: f64) -> String {
        let decimals = Scale::Length.decimals(self.units);
        show::number(metres, Dimension::Length, self.units, decimals)
    }

    fn length(&self, metres: f64) -> String {
        format!("{} {}", self.number(metres), self.unit)
    }

    /// One decimal more than a coordinate: a tolerance is small.
    fn fine(&self, metres: f64) -> String {
        show::number(metres, Dimension::Length, self.units, Scale::Length.decimals(self.units) + 1)
    }

    fn small(&self, metres: f64) -> String {
        two_figures(metres / self.units.factor(Dimension::Length))
    }

    fn places(&self) -> Table {
        let mut columns = vec![Column::words("place"), Column::words("what it is")];
        columns.extend(["x", "y", "z"].map(Column::figures));
        columns.push(Column::figures("±"));
        columns.extend(["x", "y", "z"].map(|axis| Column::figures(format!("may be off {axis}"))));
        columns.push(Column::words("how exact"));
        let mut table = Table::new(columns);
        for row in &self.jig.rows {
            let mut cells = vec![sided(row), role_words(row.role).into()];
            cells.extend(row.at.iter().map(|v| self.number(*v)));
            cells.push(self.small(row.uncertainty.max()));
            let along = row.need.as_ref().map(|need| &need.along);
            cells.extend((0..3).map(|k| {
                let limit = along.and_then(|along| along.get(k)).and_then(Option::as_ref);
                limit.map_or_else(|| "–".to_string(), |limit| self.fine(limit.tolerance))
            }));
            cells.push(row.need.as_ref().map_or_else(String::new, |need| need.class.words(self.units)));
            table.row(cells);
        }
        table
    }

    /// What decides, once a place: both sides are alike.
    fn deciding(&self) -> Table {
        let mut table = Table::new([
            Column::words("place"),
            Column::words("along"),
            Column::figures(format!("may be off, {}", self.unit)),
            Column::words("what decides"),
            Column::figures("for each mm it moves"),
            Column::figures("allowed"),
        ]);
        for row in self.jig.rows.iter().filter(|row| row.side == Side::Left) {
            let Some(need) = &row.need else { continue };
            for (axis, limit) in ["x", "y", "z"].into_iter().zip(&need.along) {
                if let Some(limit) = limit {
                    table.row(self.decided(row, axis, limit));
                }
            }
        }
        table
    }

    fn decided(&self, row: &JigRow, axis: &str, limit: &Limit) -> [String; 6] {
        let scale = scale_of(limit.decides);
        let shown = |si: f64| {
            let number = two_figures(si * scale.factor(self.units));
            format!("{number} {}", scale.unit(self.units)).trim().to_string()
        };
        [
            place_words(row),
            axis.to_string(),
            self.fine(limit.tolerance),
            consequence_words(limit.decides, self.car, self.axle),
            shown(limit.slope.abs() * 1e-3),
            shown(limit.decides.allowed(&self.car.jig.allowed)),
        ]
    }

    fn marks(&self) -> Table {
        let mut columns = vec![Column::words("mark"), Column::words("where")];
        columns.extend(["x", "y", "z"].map(Column::figures));
        columns.push(Column::figures("±"));
        let mut table = Table::new(columns);
        for (index, datum) in self.jig.datums.iter().enumerate() {
            let Datum { name, at, uncertainty, .. } = datum;
            let mut cells = vec![mark_letter(index), name.clone()];
            cells.extend(at.iter().map(|v| self.number(*v)));
            cells.push(self.small(uncertainty.max()));
            table.row(cells);
        }
        table
    }

    fn tapes(&self) -> Table {
        let mut columns = vec![Column::words("place")];
        columns.extend((0..self.jig.datums.len()).map(|d| Column::figures(mark_letter(d))));
        columns.extend([Column::words("best three"), Column::words("a mm of tape, along x, y, z")]);
        let mut table = Table::new(columns);
        for row in &self.jig.rows {
            let mut cells = vec![sided(row)];
            cells.extend((0..self.jig.datums.len()).map(|datum| {
                let tape = row.tapes.iter().find(|tape| tape.datum == datum);
                tape.map_or_else(|| "–".into(), |tape| self.tape(tape))
            }));
            cells.extend(self.best(row));
            table.row(cells);
        }
        table
    }

    fn tape(&self, tape: &Tape) -> String {
        self.number(tape.length)
    }

    fn best(&self, row: &JigRow) -> [String; 2] {
        let Some(fix) = &row.fix else { return ["none".into(), String::new()] };
        let letters: Vec<String> = fix.datums.iter().map(|datum| mark_letter(*datum)).collect();
        let along: Vec<String> = fix.along.iter().map(|a| self.small(a * TAPE)).collect();
        let flat = if fix.is_ill_conditioned() { ", flat angle" } else { "" };
        [letters.join(""), format!("{}{flat}", along.join(", ").replace(' ', "\u{a0}"))]
    }

    fn diagonals(&self) -> Table {
        let mut table = Table::new([
            Column::words("from"),
            Column::words("to"),
            Column::figures(format!("left to right, {}", self.unit)),
            Column::figures(format!("right to left, {}", self.unit)),
            Column::figures("apart for each mm that the left stands ahead"),
        ]);
        for diagonal in self.jig.diagonals.iter().take(MOST_DIAGONALS) {
            table.row([
                diagonal.a.clone(),
                diagonal.b.clone(),
                self.number(diagonal.left_to_right),
                self.number(diagonal.right_to_left),
                format!("{:+.2} mm", diagonal.per_ahead),
            ]);
        }
        table
    }

    fn together(&self) -> Table {
        let columns = [Column::words("result"), Column::figures("allowed"), Column::figures("spread")];
        let mut table = Table::new(columns);
        for all in &self.jig.together {
            let scale = scale_of(all.result);
            let shown = |si: f64| {
                let number = two_figures(si * scale.factor(self.units));
                format!("{number} {}", scale.unit(self.units)).trim().to_string()
            };
            let result = consequence_words(all.result, self.car, self.axle);
            table.row([result, shown(all.allowed), shown(all.spread)]);
        }
        table
    }
}

//! The distances by which a template is checked, as running matter.

use units::{LengthUnit, UnitSystem};

use super::pattern::{Datum, Pattern, ROUNDED};
use crate::flow::{Column, Flow, Table};

/// Lengths as a calliper of the reader shows them.
#[derive(Clone, Copy)]
pub(super) struct Calliper {
    inch: bool,
}

impl Calliper {
    pub(super) fn new(units: &UnitSystem) -> Self {
        Self { inch: matches!(units.length, LengthUnit::Inch | LengthUnit::Foot) }
    }

    /// The number of a length [mm].
    fn number(self, length: f64) -> String {
        // A thousandth of an inch and a tenth of a millimetre are what a hand drill cannot do better than.
        let text = if self.inch { format!("{:.3}", length / 25.4) } else { format!("{length:.1}") };
        if text.trim_start_matches(['-', '0', '.']).is_empty() {
            text.trim_start_matches('-').to_string()
        } else {
            text.replace('-', "−")
        }
    }

    /// A diameter [mm] with its unit, in both where the reader's is the inch: drills and bolts are sold in either.
    pub(super) fn diameter(self, diameter: f64) -> String {
        let text = format!("{diameter:.2}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if self.inch { format!("{:.3} in ({text} mm)", diameter / 25.4) } else { format!("{text} mm") }
    }

    fn unit(self) -> &'static str {
        if self.inch { "in" } else { "mm" }
    }
}

/// All that is to be measured before and after drilling.
pub(super) struct List {
    /// Its heading.
    pub(super) heading: Flow,
    /// Each hole against the datums.
    pub(super) holes: Flow,
    /// Holes against one another.
    pub(super) between: Flow,
    /// What goes with it.
    pub(super) end: Flow,
}

impl List {
    /// One below the other.
    pub(super) fn whole(self) -> Flow {
        let mut flow = self.heading;
        flow.append(self.holes);
        flow.append(self.between);
        flow.append(self.end);
        flow
    }
}

/// The list of a pattern.
pub(super) fn list(pattern: &Pattern, calliper: Calliper) -> List {
    let mut list = List { heading: Flow::new(), holes: Flow::new(), between: Flow::new(), end: Flow::new() };
    list.heading.heading(3, "Check with a calliper before drilling");
    if !pattern.holes.is_empty() {
        list.holes.table(holes(pattern, calliper));
    }
    list.holes
        .remark("From a datum: square from the hole's centre to the thick edge, lengthened where need be.");
    let between = between(pattern, calliper);
    if !between.rows.is_empty() {
        list.between.table(between);
    }
    list.end.bullets(pattern.notes.iter().cloned());
    list.end.caution(
        "Punch through the small rings, take the sheet off, measure the punch marks, then drill a pilot hole. Use each \
         sheet on the side that it names: the other side is its mirror.",
    );
    list
}

fn holes(pattern: &Pattern, calliper: Calliper) -> Table {
    let unit = calliper.unit();
    let mut columns = vec![Column::words("hole"), Column::figures("drill ⌀")];
    columns.extend(pattern.datums.iter().map(|datum| {
        let square = if matches!(datum, Datum::Edge { .. }) { "datum" } else { "point" };
        Column::figures(format!("from {square} {}, {unit}", datum.name()))
    }));
    columns.push(Column::figures(format!("nearest edge, {unit}")));
    let remarks: Vec<String> = pattern.holes.iter().map(|hole| remark(pattern, hole, calliper)).collect();
    let noted = remarks.iter().any(|remark| !remark.is_empty());
    if noted {
        columns.push(Column::words("note"));
    }
    let mut table = Table::new(columns);
    for (hole, remark) in pattern.holes.iter().zip(remarks) {
        let mut row = vec![hole.label.clone(), calliper.diameter(hole.diameter)];
        row.extend(pattern.datums.iter().map(|datum| calliper.number(datum.distance(hole.at))));
        row.push(calliper.number(pattern.margin(hole.at)));
        if noted {
            row.push(remark);
        }
        table.row(row);
    }
    table
}

/// What stands beside a hole's figures.
fn remark(pattern: &Pattern, hole: &super::pattern::PatternHole, calliper: Calliper) -> String {
    let margin = pattern.margin(hole.at);
    let edge = match pattern.least {
        _ if margin < hole.diameter / 2.0 => Some("breaks the edge".to_string()),
        Some((_, least)) if margin < least - ROUNDED => {
            Some(format!("edge nearer than the {} {} wanted", calliper.number(least), calliper.unit()))
        }
        _ => None,
    };
    let parts: Vec<String> =
        edge.into_iter().chain((!hole.note.is_empty()).then(|| hole.note.clone())).collect();
    parts.join("; ")
}

fn between(pattern: &Pattern, calliper: Calliper) -> Table {
    let unit = calliper.unit();
    let name = |i: usize| pattern.holes.get(i).map_or("", |hole| hole.label.as_str());
    let radius = |i: usize| pattern.holes.get(i).map_or(0.0, |hole| hole.diameter / 2.0);
    let mut noted = false;
    let rows: Vec<[String; 3]> = pattern
        .distances()
        .into_iter()
        .map(|distance| {
            let (i, j) = distance.holes;
            let remark = match pattern.least {
                _ if distance.length < radius(i) + radius(j) => {
                    "cut into one another: drill one only".to_string()
                }
                Some((least, _)) if distance.length < least - ROUNDED => {
                    format!("nearer than the {} {unit} wanted: drill one only", calliper.number(least))
                }
                _ => String::new(),
            };
            noted |= !remark.is_empty();
            [format!("{} to {}", name(i), name(j)), calliper.number(distance.length), remark]
        })
        .collect();
    let mut columns = vec![Column::words("between holes"), Column::figures(format!("distance, {unit}"))];
    columns.extend(noted.then(|| Column::words("note")));
    let mut table = Table::new(columns);
    for row in rows {
        table.row(row.into_iter().take(if noted { 3 } else { 2 }));
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_calliper_reads_its_own_unit() {
        let (metric, inch) = (Calliper { inch: false }, Calliper { inch: true });
        assert_eq!((metric.number(31.62), metric.unit()), ("31.6".into(), "mm"));
        assert_eq!((inch.number(25.4), inch.unit()), ("1.000".into(), "in"));
        assert_eq!(metric.diameter(12.25), "12.25 mm");
        assert_eq!(inch.diameter(12.7), "0.500 in (12.7 mm)");
        assert_eq!((metric.number(-3.0), metric.number(-0.01)), ("−3.0".into(), "0.0".into()));
    }
}

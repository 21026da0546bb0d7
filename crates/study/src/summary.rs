//! The choice table in plain words: what differs from hole to hole in the stop, what does not, and whether the ± lets one
//! say so.

use units::UnitSystem;

use crate::choice::{Choice, Row};
use crate::estimate::{COVERAGE, Estimate};
use crate::present::shown;
use crate::quantity::{InStop, Quantity};
use suspension::AxleEnd;

/// The lines; none where the table has nothing of the whole car.
pub fn summary(choice: &Choice, units: &UnitSystem) -> Vec<String> {
    let usable: Vec<&Row> = choice.rows.iter().filter(|row| !row.ruled_out).collect();
    if usable.len() < 2 {
        return Vec::new();
    }
    let mut lines = Vec::new();
    let mut alike = Vec::new();
    for (c, column) in choice.columns.iter().enumerate() {
        let Quantity::InStop(which) = column.quantity else { continue };
        let title = column.quantity.about(AxleEnd::Rear).title;
        match widest(&usable, c) {
            Some((low, high)) if told_apart(low.1, high.1) && matters(which, low.1, high.1) => {
                let print = |e: &Estimate| shown(e, column.quantity.scale(), units).text();
                let (difference, doubt) = high.1.difference(low.1);
                let gap = Estimate { value: difference, contributions: vec![doubt] };
                lines.push(format!(
                    "{}: {} with {}, {} with {}. They differ by {}, which the ± lets one say.",
                    capital(title),
                    print(high.1),
                    name(high.0),
                    print(low.1),
                    name(low.0),
                    print(&gap)
                ));
            }
            Some(_) => alike.push(title),
            None => {}
        }
    }
    if !alike.is_empty() {
        lines.push(format!(
            "The holes are alike in: {}. What differs there is less than twice the ± of the difference, or too little to \
             matter.",
            alike.join("; ")
        ));
    }
    lines
}

/// A row's value.
type Valued<'a> = (&'a Row, &'a Estimate);

/// The rows with the least and the greatest value of a column.
fn widest<'a>(rows: &[&'a Row], column: usize) -> Option<(Valued<'a>, Valued<'a>)> {
    let mut valued: Vec<Valued<'a>> =
        rows.iter().filter_map(|row| Some((*row, row.values.get(column)?.as_ref()?))).collect();
    valued.sort_by(|a, b| a.1.value.total_cmp(&b.1.value));
    let (low, high) = (*valued.first()?, *valued.last()?);
    (valued.len() > 1).then_some((low, high))
}

fn told_apart(low: &Estimate, high: &Estimate) -> bool {
    let (difference, doubt) = high.difference(low);
    difference > COVERAGE * doubt && difference > 0.0
}

/// Least difference that anybody would feel or measure, SI (own): 0.05 deg of pitch, 1 mm of rise, 50 N of load, a
/// hundredth of a share or of a damping ratio.
fn matters(which: InStop, low: &Estimate, high: &Estimate) -> bool {
    let least = match which {
        InStop::Pitch => 0.05_f64.to_radians(),
        InStop::RearRise => 1e-3,
        InStop::Dip => 50.0,
        InStop::Reserve | InStop::Margin | InStop::Hop => 0.01,
    };
    high.value - low.value >= least
}

fn name(row: &Row) -> String {
    crate::words::row_name(row)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choice::{Candidate, Column};

    fn row(name: &str, value: f64, contributions: Vec<f64>) -> Row {
        Row {
            candidate: Candidate::new(name, Vec::new()),
            values: vec![Some(Estimate { value, contributions })],
            outside: vec![false],
            links: Vec::new(),
            left_as_is: None,
            notes: Vec::new(),
            ruled_out: false,
            governs: None,
        }
    }

    fn told(rows: Vec<Row>) -> Vec<String> {
        let column = Column { quantity: Quantity::InStop(InStop::RearRise), travel: None };
        let choice =
            Choice { columns: vec![column], rows, ties: Vec::new(), missing: Vec::new(), context: None };
        summary(&choice, &UnitSystem::default())
    }

    /// Shared doubt cancels, doubt of a row's own does not; a millimetre is the least that is told (own).
    #[test]
    fn what_differs_is_said_as_far_as_the_doubt_lets() {
        let sure = told(vec![row("A", 0.017, vec![0.002, 0.0]), row("C", 0.010, vec![0.002, 0.0])]);
        assert_eq!(sure.len(), 1);
        assert!(sure[0].contains("with A") && sure[0].contains("with C") && sure[0].contains("lets one say"));
        let doubtful = told(vec![row("A", 0.017, vec![0.005, 0.0]), row("C", 0.010, vec![0.0, 0.005])]);
        assert!(doubtful[0].starts_with("The holes are alike in: rear rise in the stop"), "{doubtful:?}");
        let small = told(vec![row("A", 0.0105, vec![0.0; 2]), row("C", 0.010, vec![0.0; 2])]);
        assert!(small[0].starts_with("The holes are alike"), "{small:?}");
        assert!(told(vec![row("A", 0.0, Vec::new())]).is_empty());
    }
}

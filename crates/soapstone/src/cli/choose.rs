//! The choice table.

use project::model::Car;
use study::{Candidate, Choice, Column, Estimate, Quantity, Row, Scale, Subject, shown};
use units::{Dimension, show};

use super::args::ChooseArgs;
use super::output::{ACCENT, FAINT, HEADING, styled};
use super::progress::Progress;
use super::{Failure, load, output, select, table};
use crate::json;

/// A side-view arm beyond this is shown as "long" [m].
const LONG: f64 = 20.0;

/// Lines of ties printed; JSON has all.
const MOST_TIES: usize = 12;

/// The demo: what `soapstone` does without a command.
pub(crate) fn demo() -> Result<(), Failure> {
    let args =
        ChooseArgs { car: None, axle: None, travels: Vec::new(), at: Vec::new(), json: false, csv: false };
    run(&args)?;
    output::text(&format!(
        "\n{}\n  soapstone explain anti-lift             how that number comes about\n  soapstone holes \
         --want anti-lift=35,50,65   where to drill for wanted values\n  soapstone new five-link my-car.toml     \
         a commented file for your own car\n  soapstone --help                        everything else\n",
        styled(HEADING, "This is a demo car. Next:")
    ))
}

pub(crate) fn run(args: &ChooseArgs) -> Result<(), Failure> {
    let car = load::car(args.car.as_deref())?;
    let end = select::axle(&car, args.axle)?;
    let subject = Subject::new(&car, end)?;
    let travels = if args.travels.is_empty() {
        car.choose.travels.clone()
    } else {
        args.travels.iter().map(|t| select::length(&car, t, "travel")).collect::<Result<_, _>>()?
    };
    let mut extra = Vec::new();
    if !args.at.is_empty() {
        let mut holes = Vec::new();
        for at in &args.at {
            select::add_hole(&subject, at, &mut holes)?;
        }
        let names: Vec<&str> =
            holes.iter().filter_map(|h| subject.axle().holes.get(*h)).map(|h| h.name.as_str()).collect();
        extra.push(Candidate { name: names.join(" + "), holes, setups: vec!["asked for".into()] });
    }
    let mut progress = Progress::new("working out the rows");
    let choice = study::choose(&subject, &extra, &travels, |done, total| progress.at(done, total))?;
    drop(progress);
    if args.json {
        output::json(&json::choice(&subject, &choice))
    } else if args.csv {
        output::csv(&records(&subject, &choice))
    } else {
        output::text(&text(&subject, &choice))
    }
}

/// The whole table as text.
fn text(subject: &Subject<'_>, choice: &Choice) -> String {
    let car = subject.car();
    let axle = subject.axle();
    let mut out = format!(
        "{}\n",
        styled(HEADING, &format!("{}, {} axle ({}): the choice table", car.name, axle.end.name(), axle.kind))
    );
    let ends = end_names(subject);
    if ends.is_empty() {
        out.push_str("No candidate holes in the file: the one row is the car as drawn.\n");
    } else {
        out.push_str(&format!("Candidate holes for {}.\n", ends.join(", ")));
    }
    for (title, quantities) in GROUPS {
        let columns: Vec<usize> =
            (0..choice.columns.len()).filter(|c| quantities.contains(&choice.columns[*c].quantity)).collect();
        if !columns.is_empty() {
            out.push_str(&format!("\n{}\n", styled(ACCENT, title)));
            out.push_str(&block(subject, choice, &columns));
        }
    }
    out.push_str(&links(subject, choice));
    out.push_str(&remarks(subject, choice));
    out
}

/// Blocks of the printed table: narrow enough for a terminal.
const GROUPS: [(&str, &[Quantity]); 3] = [
    (
        "Under the brakes and under power",
        &[
            Quantity::AntiBraking,
            Quantity::AntiDriving,
            Quantity::SideViewArm,
            Quantity::SideViewAngle,
            Quantity::Recession,
        ],
    ),
    (
        "In bump and in roll",
        &[Quantity::BumpSteer, Quantity::CamberGain, Quantity::RollCentre, Quantity::RollSteer],
    ),
    ("Toe (in +) and camber (top out +) at wheel travel (jounce +)", &[Quantity::Toe, Quantity::Camber]),
];

fn block(subject: &Subject<'_>, choice: &Choice, columns: &[usize]) -> String {
    let car = subject.car();
    let mut headings = vec![vec!["hole".to_string()]];
    headings.extend(columns.iter().map(|c| heading(subject, &choice.columns[*c])));
    let rows: Vec<Vec<String>> = choice
        .rows
        .iter()
        .map(|row| {
            let mut cells = vec![name(row)];
            cells.extend(columns.iter().map(|c| cell(row.values[*c].as_ref(), &choice.columns[*c], car)));
            cells
        })
        .collect();
    table::figures(&headings, &rows)
}

fn name(row: &Row) -> String {
    let candidate = &row.candidate;
    if candidate.setups.is_empty() {
        candidate.name.clone()
    } else {
        format!("{} ({})", candidate.name, candidate.setups.join(", "))
    }
}

fn heading(subject: &Subject<'_>, column: &Column) -> Vec<String> {
    let car = subject.car();
    let key = column.quantity.key(subject.end()).replace('-', " ");
    let key = match column.travel {
        Some(t) => format!("{key} at {}", travel(t, car)),
        None => key,
    };
    vec![key, column.quantity.scale().unit(&car.units)]
}

fn travel(t: f64, car: &Car) -> String {
    let decimals = Scale::Length.decimals(&car.units);
    let n = show::number(t, Dimension::Length, &car.units, decimals);
    let n = n.trim_end_matches('0').trim_end_matches('.').to_string();
    let n = if n.is_empty() || n == "-" { "0".into() } else { n };
    let plus = if t > 0.0 { "+" } else { "" };
    format!("{plus}{n} {}", car.units.symbol(Dimension::Length))
}

fn cell(value: Option<&Estimate>, column: &Column, car: &Car) -> String {
    match value {
        None => "-".into(),
        Some(e) if column.quantity == Quantity::SideViewArm && e.value.abs() > LONG => "long".into(),
        Some(e) => {
            let s = shown(e, column.quantity.scale(), &car.units);
            match s.uncertainty {
                Some(u) => format!("{} ± {u}", s.number),
                None => s.number,
            }
        }
    }
}

/// What the change asks of the links.
fn links(subject: &Subject<'_>, choice: &Choice) -> String {
    let car = subject.car();
    let units = &car.units;
    let one = |e: &Estimate, scale: Scale| {
        let s = shown(e, scale, units);
        s.uncertainty.map_or_else(|| s.number.clone(), |u| format!("{} ± {u}", s.number))
    };
    let length = car.units.symbol(Dimension::Length);
    let mut fits = Vec::new();
    let mut shifts = Vec::new();
    let mut put_back = Vec::new();
    for row in &choice.rows {
        for link in &row.links {
            fits.push(vec![
                name(row),
                link.joint.clone(),
                one(&link.length, Scale::Length),
                signed(&one(&link.change, Scale::Length)),
                link.turns.as_ref().map_or_else(|| "-".into(), |t| signed(&one(t, Scale::Turns))),
            ]);
        }
        if let Some(shift) = &row.left_as_is {
            let turns: Vec<String> = shift
                .put_back
                .turns
                .iter()
                .filter(|(_, t)| t.abs() >= 0.005)
                .map(|(joint, t)| format!("{joint} {}", signed(&format!("{t:.2}"))))
                .collect();
            let left = shift.put_back.left;
            let still = left[0].abs() > 5e-5 || left[1].abs() > 1e-4 || left[2].abs() > 1e-4;
            let mut words = match (turns.is_empty(), shift.put_back.turns.is_empty()) {
                (_, true) => "no thread in the file to turn".to_string(),
                (true, false) => "nothing to turn".into(),
                (false, _) => turns.join(", "),
            };
            if still && !shift.put_back.turns.is_empty() {
                words.push_str(&format!(
                    "; then still off: wheelbase {}, toe {} deg, camber {} deg",
                    show::with_unit(left[0], Dimension::Length, units, Scale::Length.decimals(units)),
                    signed(&format!("{:.2}", left[1].to_degrees())),
                    signed(&format!("{:.2}", left[2].to_degrees()))
                ));
            }
            shifts.push(vec![
                name(row),
                signed(&one(&shift.wheelbase, Scale::Length)),
                signed(&one(&shift.toe, Scale::Angle)),
                signed(&one(&shift.camber, Scale::Angle)),
            ]);
            put_back.push(format!("{}: {words}", name(row)));
        }
    }
    let mut out = String::new();
    let head = |words: &[[&str; 2]]| -> Vec<Vec<String>> {
        words.iter().map(|w| w.iter().filter(|s| !s.is_empty()).map(|s| (*s).to_string()).collect()).collect()
    };
    if !fits.is_empty() {
        out.push_str(&format!(
            "\n{}\n",
            styled(ACCENT, "Link length to set, so that wheelbase, toe and camber at ride height stay")
        ));
        let headings = head(&[
            ["hole", ""],
            ["link", ""],
            ["set to", length],
            ["change", length],
            ["its adjuster", "turns"],
        ]);
        out.push_str(&table::figures(&headings, &fits));
    }
    if !shifts.is_empty() {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "If the link is left as it is")));
        let headings = head(&[["hole", ""], ["wheelbase", length], ["toe", "deg"], ["camber", "deg"]]);
        out.push_str(&table::figures(&headings, &shifts));
        out.push_str("turns that put it back (longer +):\n");
        for line in put_back {
            out.push_str(&format!("  {}\n", table::wrap(&line, 4)));
        }
    }
    out
}

fn signed(number: &str) -> String {
    let zero = number.split(' ').next().is_some_and(|n| n.bytes().all(|b| matches!(b, b'0' | b'.' | b'-')));
    if number.starts_with('-') || zero { number.to_string() } else { format!("+{number}") }
}

fn remarks(subject: &Subject<'_>, choice: &Choice) -> String {
    let mut out = String::new();
    for row in &choice.rows {
        for note in &row.notes {
            let word = if row.ruled_out { "ruled out" } else { "note" };
            out.push_str(&format!("\n{} ({word}): {note}", name(row)));
        }
    }
    for (quantity, reason) in &choice.missing {
        out.push_str(&format!("\nNo {}: it {reason}.", quantity.about(subject.end()).title));
    }
    let ties = ties(subject, choice);
    if !ties.is_empty() {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "What the ± cannot tell apart (95 %)")));
        for line in ties.iter().take(MOST_TIES) {
            out.push_str(&format!("  {}\n", table::wrap(line, 4)));
        }
        if ties.len() > MOST_TIES {
            out.push_str(&format!("  ... and {} more lines (--json has them all)\n", ties.len() - MOST_TIES));
        }
    }
    let notes = [
        "± is one standard uncertainty, carried through from the survey's accuracy; two rows share most of it, so \
         their difference is surer than either.",
        "The load that a steady stop moves from the rear tyres to the front, m a h / L, is the same in every row: the links \
         decide how much of it goes through the springs, so the attitude, and how fast it arrives.",
        "Planning figures, not an approval: a structural change to a vehicle must be checked by a licensed \
         engineer and satisfy local road law and the sanctioning body's rules.",
    ];
    out.push('\n');
    for note in notes {
        out.push_str(&format!("{}\n", styled(FAINT, &table::wrap(note, 0))));
    }
    out
}

/// What the ± cannot tell apart, a line each: pairs of rows that nothing tells apart, columns in which no two
/// rows differ, then what is left by pair.
fn ties(subject: &Subject<'_>, choice: &Choice) -> Vec<String> {
    let names: Vec<String> = choice.rows.iter().map(name).collect();
    let title = |c: usize| heading(subject, &choice.columns[c]).swap_remove(0);
    let whole = choice.indistinguishable();
    let mut lines: Vec<String> = whole
        .iter()
        .map(|(a, b)| format!("{} and {}: anything in this table", names[*a], names[*b]))
        .collect();
    let pairs_of = |c: usize| choice.ties.iter().filter(|t| t.column == c).count();
    let comparable = |c: usize| {
        let n = choice.rows.iter().filter(|r| r.values[c].is_some()).count();
        n * n.saturating_sub(1) / 2
    };
    let blind: Vec<usize> =
        (0..choice.columns.len()).filter(|c| comparable(*c) > 1 && pairs_of(*c) == comparable(*c)).collect();
    if !blind.is_empty() {
        let columns: Vec<String> = blind.iter().map(|c| title(*c)).collect();
        lines.push(format!("{}: all rows alike", columns.join(", ")));
    }
    let mut rest: std::collections::BTreeMap<Vec<usize>, Vec<String>> = std::collections::BTreeMap::new();
    for a in 0..names.len() {
        for b in a + 1..names.len() {
            let columns: Vec<usize> = choice
                .ties
                .iter()
                .filter(|t| t.a == a && t.b == b && !blind.contains(&t.column) && !whole.contains(&(a, b)))
                .map(|t| t.column)
                .collect();
            if !columns.is_empty() {
                rest.entry(columns).or_default().push(format!("{} and {}", names[a], names[b]));
            }
        }
    }
    for (columns, pairs) in rest {
        let columns: Vec<String> = columns.into_iter().map(title).collect();
        lines.push(format!("{}: {}", columns.join(", "), pairs.join("; ")));
    }
    lines
}

fn end_names(subject: &Subject<'_>) -> Vec<String> {
    let axle = subject.axle();
    let mut names: Vec<String> = Vec::new();
    for hole in &axle.holes {
        if let Some(p) = axle.scheme.points.get(hole.point) {
            let name = format!("`{p}`");
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

/// One record a row, each value followed by its ±, in the reader's units.
fn records(subject: &Subject<'_>, choice: &Choice) -> Vec<Vec<String>> {
    let units = &subject.car().units;
    let mut head = vec!["hole".to_string()];
    for column in &choice.columns {
        let heading = heading(subject, column);
        let title = heading.join(" ");
        head.push(title.trim().to_string());
        head.push(format!("± {}", title.trim()));
    }
    let mut records = vec![head];
    for row in &choice.rows {
        let mut record = vec![row.candidate.name.clone()];
        for (value, column) in row.values.iter().zip(&choice.columns) {
            let factor = column.quantity.scale().factor(units);
            match value {
                Some(e) => {
                    record.push(format!("{}", e.value * factor));
                    record.push(format!("{}", e.uncertainty() * factor));
                }
                None => record.extend([String::new(), String::new()]),
            }
        }
        records.push(record);
    }
    records
}

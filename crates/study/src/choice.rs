//! The choice table: candidate positions against their consequences.

use linkage::Frame;
use project::model::{Change, End, Setup};
use suspension::Mover;
use suspension::scheme::{Direction, JointKind};

use crate::align::Universe;
use crate::arm::{arm_is_long, short_arm_words};
use crate::build::TableAnswer;
use crate::drive::in_table::InTable as LapTable;
use crate::estimate::Estimate;
use crate::evaluate::{Evaluation, Extent};
use crate::fit::{LinkFit, Shift, left_as_is, link_fits};
use crate::in_stop::{Answer, Context};
use crate::quantity::{Built, InStop, Lap, Quantity};
use crate::subject::{Parameter, StudyError, Subject};
use crate::weigh::Input;
use crate::whole::Lack;

/// A row to be worked out: a name and the holes it uses.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Candidate {
    /// Name shown to people.
    pub name: String,
    /// Indices into the axle's holes; empty for the car as drawn.
    pub holes: Vec<usize>,
    /// Named setups that are just this choice of holes.
    pub setups: Vec<String>,
    /// The setup whose other changes this row has too: a bar, tyres, bias, holes of the other axle.
    pub with: Option<String>,
}

impl Candidate {
    /// A choice of holes that no setup names.
    pub fn new(name: impl Into<String>, holes: Vec<usize>) -> Self {
        Self { name: name.into(), holes, ..Self::default() }
    }
}

/// A column: a quantity at a travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// What.
    pub quantity: Quantity,
    /// At which travel [m]; `None` for a quantity shown at ride height only.
    pub travel: Option<f64>,
}

/// One row of the table.
#[derive(Clone, Debug)]
pub struct Row {
    /// The candidate.
    pub candidate: Candidate,
    /// Values in the order of the columns; `None` where a figure is missing or the travel is out of reach.
    pub values: Vec<Option<Estimate>>,
    /// Whether a value is past what its model can say, in the same order; a note says why.
    pub outside: Vec<bool>,
    /// Links whose end moved.
    pub links: Vec<LinkFit>,
    /// What happens if they are left as they are.
    pub left_as_is: Option<Shift>,
    /// Why the row is ruled out, or what to know about it.
    pub notes: Vec<String>,
    /// Whether the position cannot be used at all.
    pub ruled_out: bool,
    /// Load case in which its weakest part holds least, by its index among those of Build.
    pub governs: Option<usize>,
}

/// Two rows that the survey cannot tell apart in a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie {
    /// First row.
    pub a: usize,
    /// Second row.
    pub b: usize,
    /// The column.
    pub column: usize,
    /// Difference (a - b), SI.
    pub difference: f64,
    /// Its standard uncertainty, SI.
    pub uncertainty: f64,
}

/// Quantities that the car's figures do not allow, with what to add to the file.
pub type Missing = Vec<(Quantity, String)>;

/// The choice table.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows, the car as drawn first.
    pub rows: Vec<Row>,
    /// Pairs of rows that the ± cannot tell apart, by column.
    pub ties: Vec<Tie>,
    /// Columns that had to be left out, with what to add to the file.
    pub missing: Missing,
    /// The whole car, where the file has it: rows that are worked out later begin with it.
    pub(crate) context: Option<Context>,
}

/// The candidates that a car file gives for an axle: as drawn, each hole, each setup. A setup of the same holes
/// as another row, and of nothing else, is a name on that row, not a row of its own.
pub fn candidates(subject: &Subject<'_>) -> Vec<Candidate> {
    let axle = subject.axle();
    let mut list = vec![Candidate::new(AS_DRAWN, Vec::new())];
    let ends: std::collections::BTreeSet<usize> = axle.holes.iter().map(|h| h.point).collect();
    for (i, hole) in axle.holes.iter().enumerate() {
        // With holes for one end alone the bare name is clear.
        let name = if ends.len() > 1 {
            format!("{} {}", axle.scheme.points.get(hole.point).map_or("", String::as_str), hole.name)
        } else {
            hole.name.clone()
        };
        list.push(Candidate::new(name, vec![i]));
    }
    for setup in &subject.car().setups {
        let mut holes = of_axle(setup, axle.end);
        holes.sort_unstable();
        let names: Vec<&str> =
            holes.iter().filter_map(|h| axle.holes.get(*h)).map(|h| h.name.as_str()).collect();
        let name = if names.is_empty() { AS_DRAWN.to_string() } else { names.join(" + ") };
        let mut own = Candidate { name, holes, setups: vec![setup.name.clone()], with: None };
        if setup.car.is_some() || setup.holes.len() > own.holes.len() {
            own.with = Some(setup.name.clone());
            list.push(own);
            continue;
        }
        match list.iter_mut().find(|c| c.holes == own.holes && c.with.is_none()) {
            Some(same) => same.setups.append(&mut own.setups),
            None => list.push(own),
        }
    }
    list
}

/// Name of the row without any hole.
const AS_DRAWN: &str = "as drawn";

/// A setup's holes of one axle.
fn of_axle(setup: &Setup, end: End) -> Vec<usize> {
    setup.holes.iter().filter(|(at, _)| *at == end).map(|(_, hole)| *hole).collect()
}

/// Works out the choice table. `extra` candidates come after those of the file; `travels` [m] are those at
/// which toe and camber are shown. `progress` is called after each row.
///
/// # Errors
/// If the car as drawn cannot be built; a candidate that cannot is a row with the reason.
pub fn choose(
    subject: &Subject<'_>,
    extra: &[Candidate],
    travels: &[f64],
    mut progress: impl FnMut(usize, usize),
) -> Result<Choice, StudyError> {
    let mut list = candidates(subject);
    list.extend_from_slice(extra);
    let mut context = Context::new(subject.car());
    // Of the car as drawn alone there is nothing to compare.
    if list.len() > 1 {
        context = context.map(Context::with_laps);
    }
    let (columns, missing) = columns_of(subject, travels, context.as_ref())?;
    let context = context.ok();
    let mut order = Order::new(subject, context.as_ref());
    let total = list.len();
    let rows: Vec<Row> = list
        .into_iter()
        .enumerate()
        .map(|(i, candidate)| {
            let row = match candidate.with.as_deref().and_then(|name| subject.car().setup(name)) {
                Some(setup) => setup_row(subject, setup, candidate, &columns, context.as_ref(), &mut order),
                None => row_of(subject, candidate, &columns, context.as_ref().map(|c| (c, Depth::Full)), &[]),
            };
            progress(i + 1, total);
            row
        })
        .collect();
    let ties = ties(&rows, columns.len());
    Ok(Choice { columns, rows, ties, missing, context })
}

/// The columns that the car's figures allow, and those that they do not, with what is missing.
fn columns_of(
    subject: &Subject<'_>,
    travels: &[f64],
    context: Result<&Context, &Lack>,
) -> Result<(Vec<Column>, Missing), StudyError> {
    let first = Evaluation::new(subject, &[], Extent::Wheel)?;
    let ride = first
        .at(&mut Mover::new(&first.corner), 0.0)
        .map_err(|e| StudyError::Held { message: e.to_string(), hint: None })?;
    let mut columns = Vec::new();
    let mut missing = Vec::new();
    for quantity in Quantity::TABLE.iter().copied() {
        if quantity.value(&ride.plain).is_some() {
            columns.push(Column { quantity, travel: None });
        } else if let Some(reason) = why_missing(subject, quantity) {
            missing.push((quantity, reason));
        }
    }
    match context {
        Ok(context) => {
            let known = context.columns().map(|q| Column { quantity: Quantity::InStop(q), travel: None });
            columns.extend(known);
            let lacks =
                context.lacks.iter().map(|lack| (Quantity::InStop(InStop::Reserve), lack_words(lack)));
            missing.extend(lacks);
            match context.built.as_ref() {
                Ok(Some(built)) => columns.extend(
                    built.columns().map(|which| Column { quantity: Quantity::Built(which), travel: None }),
                ),
                // A car that says nothing of its steel is not asked for it here.
                Ok(None) => {}
                Err(lack) => missing.push((Quantity::Built(Built::Holds), lack_words(lack))),
            }
            match context.laps.as_ref() {
                Ok(laps) => columns.extend(
                    laps.iter()
                        .flat_map(|laps| laps.columns())
                        .map(|which| Column { quantity: Quantity::Lap(which), travel: None }),
                ),
                Err(lack) => missing.push((Quantity::Lap(Lap::First), lack_words(lack))),
            }
        }
        // A car that says nothing of its weights is not asked for them here: that is another stage.
        Err(lack) if subject.car().weigh.is_some() => {
            missing.push((Quantity::InStop(InStop::RearRise), lack_words(lack)));
        }
        Err(_) => {}
    }
    let mut sorted: Vec<f64> = travels.to_vec();
    sorted.sort_by(f64::total_cmp);
    for quantity in [Quantity::Toe, Quantity::Camber] {
        columns.extend(sorted.iter().map(|t| Column { quantity, travel: Some(*t) }));
    }
    Ok((columns, missing))
}

fn lack_words(lack: &Lack) -> String {
    format!("cannot be worked out: {lack}. {}", lack.hint)
}

/// Works out one row; a candidate that cannot be built is a row with the reason.
pub fn row(subject: &Subject<'_>, candidate: Candidate, table: &Choice) -> Row {
    let laps = table.context.as_ref().map_or(Ok(None), |context| context.laps.clone());
    with_context(subject, candidate, &table.columns, (Depth::Full, laps))
}

/// A row beside those of a table, without the ± of the whole car's columns: for a hand that is moving. Without those
/// columns altogether where the axle's alone are asked, which is the quickest.
pub fn quick_row(subject: &Subject<'_>, candidate: Candidate, table: &Choice, axle_alone: bool) -> Row {
    if axle_alone {
        return row_of(subject, candidate, &table.columns, None, &[]);
    }
    let moved = table.context.as_ref().and_then(|context| context.moved(subject.car()));
    match moved {
        Some(context) => {
            // While a hand moves, the case decides that decided for the rows that stand.
            let governs = table.rows.iter().find_map(|row| row.governs);
            row_of(subject, candidate, &table.columns, Some((&context, Depth::Quick(governs))), &[])
        }
        None => with_context(subject, candidate, &table.columns, (Depth::Quick(None), Ok(None))),
    }
}

/// How much of the whole car is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Depth {
    /// Everything, with its ±.
    Full,
    /// Without ±, and of Build one load case alone where it is known which decides.
    Quick(Option<usize>),
}

fn with_context(
    subject: &Subject<'_>,
    candidate: Candidate,
    columns: &[Column],
    (depth, laps): (Depth, Result<Option<LapTable>, Lack>),
) -> Row {
    let asked = columns.iter().any(|c| c.quantity.of_whole_car());
    let context = asked.then(|| Some(Context::new(subject.car()).ok()?.beside(laps))).flatten();
    row_of(subject, candidate, columns, context.as_ref().map(|c| (c, depth)), &[])
}

/// What is uncertain about the axle and about the whole car, over all rows.
struct Order {
    axle: Universe<Parameter>,
    whole: Universe<Input>,
}

impl Order {
    fn new(subject: &Subject<'_>, context: Option<&Context>) -> Self {
        Self {
            axle: Universe::new(parameters(subject)),
            whole: Universe::new(context.map_or_else(Vec::new, |c| c.inputs().to_vec())),
        }
    }
}

/// What a setup changes beside holes: `rear.bar.diameter (16 to 19)`.
fn change_words(setup: &Setup) -> String {
    let one = |change: &Change| match &change.from {
        Some(from) => format!("{} ({from} to {})", change.key, change.to),
        None => format!("{} ({})", change.key, change.to),
    };
    setup.changes.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// What is uncertain about an axle; a setup's ± of the same reading is no other reading.
fn parameters(subject: &Subject<'_>) -> Vec<Parameter> {
    subject.parameters().iter().map(|(parameter, _)| *parameter).collect()
}

/// The row of a setup that changes more than holes of this axle.
fn setup_row(
    subject: &Subject<'_>,
    setup: &Setup,
    candidate: Candidate,
    columns: &[Column],
    context: Option<&Context>,
    order: &mut Order,
) -> Row {
    let end = subject.axle().end;
    let others: Vec<(End, usize)> = setup.holes.iter().filter(|(at, _)| *at != end).copied().collect();
    let Some(car) = setup.car.as_deref() else {
        return row_of(subject, candidate, columns, context.map(|c| (c, Depth::Full)), &others);
    };
    let changed = match Subject::new(car, end) {
        Ok(changed) => changed,
        Err(e) => {
            return Row { ruled_out: true, notes: vec![e.to_string()], ..Row::empty(candidate, columns) };
        }
    };
    // Laps are against the table's own car, whatever a setup changes.
    let own = context.and_then(|table| Some(Context::new(car).ok()?.beside(table.laps.clone())));
    let mut row = row_of(&changed, candidate, columns, own.as_ref().map(|c| (c, Depth::Full)), &others);
    row.notes.insert(0, format!("setup {} also changes {}", setup.name, change_words(setup)));
    let at_axle = order.axle.places(&parameters(&changed));
    let in_whole = own.as_ref().map_or_else(Vec::new, |c| order.whole.places(c.inputs()));
    for (value, column) in row.values.iter_mut().zip(columns) {
        // The ± of laps is by samples, which are the same ones for all rows.
        if matches!(column.quantity, Quantity::Lap(_)) {
            continue;
        }
        let places = if column.quantity.of_whole_car() { &in_whole } else { &at_axle };
        *value = value.take().map(|estimate| estimate.moved_to(places));
    }
    row
}

/// `others` are holes of the other axle.
fn row_of(
    subject: &Subject<'_>,
    candidate: Candidate,
    columns: &[Column],
    context: Option<(&Context, Depth)>,
    others: &[(End, usize)],
) -> Row {
    let mut row = Row::empty(candidate, columns);
    let holes = row.candidate.holes.clone();
    let evaluation = match Evaluation::new(subject, &holes, Extent::Wheel) {
        Ok(e) => e,
        Err(e) => {
            row.ruled_out = true;
            row.notes.push(e.to_string());
            return row;
        }
    };
    match context {
        None => at_travels(&mut row, subject, &evaluation, columns),
        Some((context, depth)) => {
            let end = subject.axle().end;
            let all: Vec<(End, usize)> =
                holes.iter().map(|hole| (end, *hole)).chain(others.iter().copied()).collect();
            let only = if let Depth::Quick(only) = depth { only } else { None };
            // Build needs nothing of the rest: a row under a hand waits for the longer of the two.
            let (stop, built, laps) = std::thread::scope(|scope| {
                let built = scope.spawn(|| context.build(end, &all, only));
                at_travels(&mut row, subject, &evaluation, columns);
                let stop = context.answer(&all, depth == Depth::Full);
                // A lap takes longer than a hand waits.
                let laps = if depth == Depth::Full { context.lap(&all) } else { None };
                (stop, built.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)), laps)
            });
            in_the_stop(&mut row, columns, stop);
            if let Some(laps) = laps {
                as_driven(&mut row, columns, laps);
            }
            if let Some(answer) = built {
                as_built(&mut row, columns, answer);
            }
        }
    }
    row.links = link_fits(&evaluation, &holes);
    row.left_as_is = left_as_is(&evaluation, &holes);
    let arm = columns.iter().position(|c| c.quantity == Quantity::SideViewArm && c.travel.is_none());
    if let Some(arm) = arm.and_then(|c| row.values.get(c)?.as_ref()).filter(|a| !arm_is_long(a)) {
        row.notes.extend(short_arm_words(arm.value, &subject.car().units));
    }
    let mut rehung: Vec<String> = holes.iter().filter_map(|h| rehung_words(subject, *h)).collect();
    rehung.dedup();
    row.notes.extend(rehung);
    row
}

/// Wheel measures at every travel of the columns.
fn at_travels(row: &mut Row, subject: &Subject<'_>, evaluation: &Evaluation<'_, '_>, columns: &[Column]) {
    // From ride height outward on each side, so that every move starts next to the last one.
    let mut order: Vec<f64> = columns.iter().filter_map(|c| c.travel).chain([0.0]).collect();
    order.sort_by(f64::total_cmp);
    order.dedup();
    let (below, above): (Vec<f64>, Vec<f64>) = order.into_iter().partition(|t| *t < 0.0);
    for side in [above, below.into_iter().rev().collect()] {
        let mut mover = Mover::new(&evaluation.corner);
        for travel in side {
            match evaluation.at(&mut mover, travel) {
                Ok(position) => {
                    for (value, column) in row.values.iter_mut().zip(columns) {
                        if column.travel.unwrap_or(0.0) == travel {
                            *value = position.estimate(subject, column.quantity);
                        }
                    }
                }
                Err(stop) => {
                    let words = crate::sweep::stop_words(&stop, subject);
                    row.notes.push(words);
                    row.ruled_out |= travel == 0.0;
                    break;
                }
            }
        }
    }
}

/// Takes the whole car's figures up.
fn in_the_stop(row: &mut Row, columns: &[Column], answer: Result<Answer, Lack>) {
    let answer = match answer {
        Ok(answer) => answer,
        Err(lack) => {
            row.notes.push(lack.to_string());
            return;
        }
    };
    let slots = row.values.iter_mut().zip(&mut row.outside).zip(columns);
    for ((value, outside), column) in slots {
        if let Quantity::InStop(which) = column.quantity {
            *value = answer.estimates.get(which.index()).cloned().flatten();
            *outside = !answer.outside.is_empty() && value.is_some();
        }
    }
    row.notes.extend(answer.outside.into_iter().map(|why| format!("in the stop: {why}")));
}

/// Takes the laps up.
fn as_driven(row: &mut Row, columns: &[Column], answer: Result<crate::drive::in_table::Values, Lack>) {
    match answer {
        Ok(laps) => {
            for (value, column) in row.values.iter_mut().zip(columns) {
                if let Quantity::Lap(which) = column.quantity {
                    *value = laps.get(which.index()).cloned().flatten();
                }
            }
        }
        Err(lack) => row.notes.push(lack.to_string()),
    }
}

/// Takes the figures of Build up.
fn as_built(row: &mut Row, columns: &[Column], answer: Result<TableAnswer, Lack>) {
    let answer = match answer {
        Ok(answer) => answer,
        Err(lack) => {
            row.notes.push(lack.to_string());
            return;
        }
    };
    for (value, column) in row.values.iter_mut().zip(columns) {
        if let Quantity::Built(which) = column.quantity {
            let found = answer.values.get(which.index()).copied().flatten();
            *value = found.map(|value| Estimate { value, contributions: Vec::new() });
        }
    }
    row.governs = answer.case;
    row.notes.extend(answer.weakest.filter(|_| answer.short));
}

/// What to say of a hole that guides the wheel but belongs to no link: it has no length to set.
fn rehung_words(subject: &Subject<'_>, hole: usize) -> Option<String> {
    let scheme = &subject.axle().scheme;
    let point = subject.axle().holes.get(hole)?.point;
    if scheme.legs_at(point).next().is_some() || !subject.guides(Parameter::Point(point, 0), &[]) {
        return None;
    }
    // A strut's line goes with the upright and through a point of the body; a bush's line is the body's own.
    let slides = |kind: &JointKind| {
        matches!(*kind, JointKind::OnLine { along, point: p, .. }
            if p.frame == Frame::Ground && (p.point == point || along == Direction::Toward(point)))
    };
    let part = if scheme.joints.iter().any(|j| slides(&j.kind)) { "strut" } else { "arm" };
    Some(format!("nothing to set: the {part} is re-hung"))
}

fn ties(rows: &[Row], columns: usize) -> Vec<Tie> {
    let mut ties = Vec::new();
    for column in 0..columns {
        for a in 0..rows.len() {
            for b in a + 1..rows.len() {
                if let (Some(x), Some(y)) = (&rows[a].values[column], &rows[b].values[column])
                    && x.ties_with(y)
                {
                    let (difference, uncertainty) = x.difference(y);
                    ties.push(Tie { a, b, column, difference, uncertainty });
                }
            }
        }
    }
    ties
}

/// Which figure a quantity lacks and where to write it; `None` where it does not apply to the axle at all.
fn why_missing(subject: &Subject<'_>, quantity: Quantity) -> Option<String> {
    let car = subject.car();
    if !matches!(quantity, Quantity::AntiBraking | Quantity::AntiDriving)
        || (quantity == Quantity::AntiDriving && !subject.driven())
    {
        return None;
    }
    let mut lacks = Vec::new();
    if car.wheelbase.is_none() {
        lacks.push("`wheelbase` in `[car]`");
    }
    if car.cg_height.is_none() {
        lacks.push("`cg-height` in `[car]`");
    }
    if quantity == Quantity::AntiBraking && car.brake_front_share.is_none() {
        lacks.push("`front-share` in `[brakes]`");
    }
    Some(format!("needs {}", lacks.join(" and ")))
}

impl Row {
    /// A row of which nothing is known yet.
    fn empty(candidate: Candidate, columns: &[Column]) -> Self {
        Self {
            values: vec![None; columns.len()],
            outside: vec![false; columns.len()],
            links: Vec::new(),
            left_as_is: None,
            notes: Vec::new(),
            ruled_out: false,
            governs: None,
            candidate,
        }
    }
}

impl Choice {
    /// Pairs of rows that no column tells apart.
    pub fn indistinguishable(&self) -> Vec<(usize, usize)> {
        let mut pairs = Vec::new();
        for a in 0..self.rows.len() {
            for b in a + 1..self.rows.len() {
                let comparable =
                    |c: usize| self.rows[a].values[c].is_some() && self.rows[b].values[c].is_some();
                let count = (0..self.columns.len()).filter(|c| comparable(*c)).count();
                let tied = self.ties.iter().filter(|t| t.a == a && t.b == b).count();
                if count > 0 && tied == count {
                    pairs.push((a, b));
                }
            }
        }
        pairs
    }
}

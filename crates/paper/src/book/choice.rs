//! The choice table, what it says, and what each choice asks of the links.

use study::words::{GROUPS, column_name, column_texts, remarks, row_name};
use study::{Choice, Estimate, Scale, Subject, shown_alike};

use super::Axle;
use crate::flow::{Column, Flow, Table};

pub(super) fn chapter(axle: &Axle<'_>) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, format!("{}: the choice table", axle.title()));
    let subject = &axle.subject;
    let choice = match &axle.choice {
        Ok(choice) => choice,
        Err(why) => {
            flow.say(format!("There is none: {why}."));
            return flow;
        }
    };
    flow.say(
        "Each row is a place for the link's end, or a setup; each column is something that the car does with it there.",
    );
    for (title, quantities) in GROUPS {
        let columns: Vec<usize> = (0..choice.columns.len())
            .filter(|c| choice.columns.get(*c).is_some_and(|column| quantities.contains(&column.quantity)))
            .collect();
        if !columns.is_empty() {
            flow.heading(2, title);
            block(&mut flow, subject, choice, &columns);
        }
    }
    links(&mut flow, subject, choice);
    let remarks = remarks(subject, choice);
    flow.heading(2, "What it says");
    flow.bullets(remarks.notes);
    if !remarks.ties.is_empty() {
        flow.heading(3, "What the ± cannot tell apart (less than twice the ± of the difference)");
        flow.bullets(remarks.ties);
    }
    flow.heading(3, "To know");
    flow.bullets(remarks.footnotes);
    flow
}

fn block(flow: &mut Flow, subject: &Subject<'_>, choice: &Choice, columns: &[usize]) {
    let units = &subject.car().units;
    let mut headings = vec![Column::words("hole")];
    let mut cells: Vec<Vec<String>> = choice.rows.iter().map(|row| vec![row_name(row)]).collect();
    let mut marked = false;
    for c in columns {
        let Some(column) = choice.columns.get(*c) else { continue };
        let unit = column.quantity.scale().unit(units);
        let comma = if unit.is_empty() { "" } else { ", " };
        headings
            .push(Column::figures(format!("{}{comma}{unit}", column_name(*column, subject.end(), units))));
        for (cells, (text, outside)) in cells.iter_mut().zip(column_texts(choice, *c, units)) {
            let text = text.replace(" ± ", "\u{a0}±\u{a0}");
            cells.push(if outside { format!("{text} *") } else { text });
            marked |= outside;
        }
    }
    let mut table = Table::new(headings);
    cells.into_iter().for_each(|row| table.row(row));
    flow.table(table);
    if marked {
        flow.remark("* past what the model can say: the notes below say why.");
    }
}

fn links(flow: &mut Flow, subject: &Subject<'_>, choice: &Choice) {
    let units = &subject.car().units;
    let fits: Vec<_> =
        choice.rows.iter().flat_map(|row| row.links.iter().map(move |link| (row, link))).collect();
    if fits.is_empty() {
        return;
    }
    flow.heading(2, "Link length to set, so that wheelbase, toe and camber at ride height stay");
    let length = Scale::Length.unit(units);
    let mut table = Table::new([
        Column::words("hole"),
        Column::words("link"),
        Column::figures(format!("set to, {length}")),
        Column::figures(format!("change, {length}")),
        Column::figures("its adjuster, turns"),
    ]);
    let column = |values: Vec<Option<&Estimate>>, scale| {
        let shown = shown_alike(&values, scale, units).into_iter();
        shown.map(|s| s.map_or_else(|| "-".to_string(), |s| s.figure().replace(" ± ", "\u{a0}±\u{a0}")))
    };
    let set_to = column(fits.iter().map(|(_, l)| Some(&l.length)).collect(), Scale::Length);
    let change = column(fits.iter().map(|(_, l)| Some(&l.change)).collect(), Scale::Length);
    let turns = column(fits.iter().map(|(_, l)| l.turns.as_ref()).collect(), Scale::Turns);
    for (((row, link), set_to), (change, turns)) in fits.iter().zip(set_to).zip(change.zip(turns)) {
        table.row([row_name(row), link.joint.clone(), set_to, change, turns]);
    }
    flow.table(table);
    flow.remark("Longer is positive. Both sides alike.");
}

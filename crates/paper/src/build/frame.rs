//! The frame: how the pickups give, what its feet hand to the shell.

use study::Scale;
use study::build::FrameResult;

use super::Sheet;
use crate::flow::{Column, Flow, Table};

pub(super) fn sections(sheet: &Sheet<'_>, flow: &mut Flow) {
    let Some(frame) = &sheet.build.frame else { return };
    flow.heading(2, "The frame");
    let numbers = &sheet.numbers;
    let mass = format!("{} {}", numbers.fixed(frame.mass, Scale::Mass, 1), Scale::Mass.unit(sheet.units()));
    flow.say(format!(
        "{} tubes, {mass} by their centre lines. Every case is in balance to {:.0e} of its load.",
        frame.tubes.len(),
        frame.unbalanced.max(1e-16)
    ));
    gives(sheet, frame, flow);
    feet(sheet, frame, flow);
}

fn gives(sheet: &Sheet<'_>, frame: &FrameResult, flow: &mut Flow) {
    if frame.gives.is_empty() {
        return;
    }
    let (rate, length) = (Scale::Rate.unit(sheet.units()), Scale::Length.unit(sheet.units()));
    flow.heading(3, "How stiff the pickups stand");
    let mut columns = vec![Column::words("pickup"), Column::words("node")];
    columns.extend(["x", "y", "z"].map(|axis| Column::figures(format!("{axis}, {rate}"))));
    columns.push(Column::figures(format!("moves at most, {length}")));
    columns.push(Column::words("in"));
    let mut table = Table::new(columns);
    for give in &frame.gives {
        let mut cells = vec![give.name.clone(), give.node.clone()];
        cells.extend(give.stiffness.map(|k| sheet.numbers.fixed(k, Scale::Rate, 0)));
        let decimals = Scale::Length.decimals(sheet.units()) + 1;
        cells.push(sheet.numbers.fixed(give.moves, Scale::Length, decimals));
        cells.push(sheet.case(give.case));
        table.row(cells);
    }
    flow.table(table);
    flow.remark(
        "A force along one axis over the movement along it; bolts, bearings and the tab itself give besides.",
    );
}

fn feet(sheet: &Sheet<'_>, frame: &FrameResult, flow: &mut Flow) {
    if frame.feet.is_empty() {
        return;
    }
    let (force, torque) = (Scale::Force.unit(sheet.units()), Scale::Torque.unit(sheet.units()));
    flow.heading(3, "What the feet hand to the shell: to be judged on the car");
    let mut columns = vec![Column::words("foot"), Column::words("largest in")];
    columns.extend(["x", "y", "z"].map(|axis| Column::figures(format!("{axis}, {force}"))));
    columns.push(Column::figures(format!("moment, {torque}")));
    let mut table = Table::new(columns);
    for foot in &frame.feet {
        let mut cells = vec![foot.node.clone(), sheet.case(foot.case)];
        cells.extend(foot.force.iter().map(|v| sheet.numbers.plain(*v, Scale::Force)));
        cells.push(sheet.numbers.plain(foot.moment.norm(), Scale::Torque));
        table.row(cells);
    }
    flow.table(table);
    flow.remark(
        "Forces on the shell: forward, to the left and up positive. Whether the sheet, the sill or the rail there bears them no \
         figure here says: spread them by doubler plates and look at the metal.",
    );
}

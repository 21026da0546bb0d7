//! The frame: its drawing, how the pickups give, what its feet hand to the shell.

use draw::frame::{FrameLoad, FrameSpec, FrameTube, FrameView, ScaleUnit, magnification};
use study::Scale;
use study::build::{Build, FrameResult};
use units::{Dimension, UnitSystem};

use super::Sheet;
use super::numbers::Numbers;
use crate::flow::{Column, Figure, Flow, Table};
use crate::sheet::Drawing;

/// Size of the drawing in its own units: its words come out at about 7 pt across a page.
const SIZE: (f64, f64) = (900.0, 560.0);

/// The frame in a load case, as it gives.
pub fn frame_drawing(
    build: &Build,
    case: usize,
    from: FrameView,
    size: (f64, f64),
    units: &UnitSystem,
) -> Option<String> {
    let frame = build.frame.as_ref()?;
    let numbers = Numbers { units };
    let tubes: Vec<FrameTube> = frame
        .tubes
        .iter()
        .map(|tube| FrameTube {
            name: tube.name.clone(),
            rest: tube.rest.clone(),
            moved: tube.moves.get(case).cloned().unwrap_or_default(),
            uses: tube.uses.get(case).copied().unwrap_or(f64::NAN),
        })
        .collect();
    let loads = frame.loads.get(case).into_iter().flatten().map(|load| FrameLoad {
        name: load.name.clone(),
        at: load.at,
        force: load.force,
        text: format!("{} {}", numbers.plain(load.force.norm(), Scale::Force), Scale::Force.unit(units)),
    });
    let spec = FrameSpec {
        title: "The frame under load".into(),
        words: build.case_title(case).to_string(),
        magnification: magnification(&tubes),
        tubes,
        nodes: frame.nodes.clone(),
        feet: frame.stands.clone(),
        loads: loads.collect(),
        from,
        width: size.0,
        height: size.1,
        length_unit: ScaleUnit {
            symbol: units.symbol(Dimension::Length).into(),
            metres: units.factor(Dimension::Length),
        },
    };
    Some(draw::frame::frame(&spec))
}

/// The case in which a tube uses most of what it may bear.
pub fn hardest_case(build: &Build) -> usize {
    let Some(frame) = &build.frame else { return 0 };
    let most = |case: usize| {
        let uses = frame.tubes.iter().filter_map(|tube| tube.uses.get(case).copied());
        uses.fold(0.0, f64::max)
    };
    (0..build.cases.len()).max_by(|a, b| most(*a).total_cmp(&most(*b))).unwrap_or(0)
}

pub(super) fn sections(sheet: &Sheet<'_>, case: usize, flow: &mut Flow) {
    let Some(frame) = &sheet.build.frame else { return };
    flow.heading(2, "The frame");
    let numbers = &sheet.numbers;
    let mass = format!("{} {}", numbers.fixed(frame.mass, Scale::Mass, 1), Scale::Mass.unit(sheet.units()));
    flow.say(format!(
        "{} tubes, {mass} by their centre lines. Every case is in balance to {:.0e} of its load.",
        frame.tubes.len(),
        frame.unbalanced.max(1e-16)
    ));
    for (from, words) in
        [(FrameView::Corner, "From behind, left and above."), (FrameView::Above, "The same from above.")]
    {
        let drawn = frame_drawing(sheet.build, case, from, SIZE, sheet.units());
        if let Some(drawing) = drawn.and_then(|svg| Drawing::new(&svg)) {
            flow.figures(vec![Figure { drawing, caption: words.into() }], 1);
        }
    }
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

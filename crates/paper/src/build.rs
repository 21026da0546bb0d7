//! Build as running matter, the same in the terminal, on the page and in the book: loads, what holds least, what the frame
//! does, what would do, what is cut.

mod frame;
mod numbers;
mod worked;

use project::model::Car;
use study::Scale;
use study::build::{Build, NOT_COVERED, Part};
use units::UnitSystem;

use crate::flow::{Column, Flow, Table};
use numbers::Numbers;

pub use frame::{frame_drawing, hardest_case};
pub use numbers::end_words;
pub use worked::{part_section, parts_section};

/// What stands beside every margin.
pub const MARGINS: &str = "Planning figures, not an approval: a structural change to a vehicle must be checked by a licensed \
                           engineer and satisfy local road law and the sanctioning body's rules. A margin here is that of one \
                           still load on sound steel and sound welds; fatigue, the heat beside a weld, a crash and the shell \
                           are not in it.";

/// Parts that are listed; of stronger ones there is a count.
const MOST_PARTS: usize = 24;

/// The stage as a chapter, the frame drawn in the case that asks most of it.
pub fn build_section(build: &Build, car: &Car) -> Flow {
    build_section_in(build, car, hardest_case(build))
}

/// The same with the frame drawn in a load case.
pub fn build_section_in(build: &Build, car: &Car, case: usize) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, "Build: will it hold, and what is cut");
    flow.caution(MARGINS);
    let sheet = Sheet { build, numbers: Numbers { units: &car.units } };
    if !build.lacks.is_empty() {
        flow.heading(2, "Not known yet");
        flow.bullets(build.lacks.iter().map(|lack| match lack.hint.as_str() {
            "" => lack.to_string(),
            hint => format!("{lack}: {hint}"),
        }));
    }
    sheet.verdict(&mut flow);
    sheet.positions(&mut flow);
    sheet.parts(&mut flow);
    frame::sections(&sheet, case, &mut flow);
    sheet.cases(&mut flow);
    sheet.links(&mut flow);
    sheet.proposals(&mut flow);
    sheet.cuts(&mut flow);
    flow.heading(2, "What no margin covers");
    flow.bullets(NOT_COVERED);
    if !build.notes.is_empty() {
        flow.heading(2, "What is assumed");
        flow.bullets(build.notes.iter().map(String::as_str));
    }
    flow
}

/// The stage with the units of its reader.
struct Sheet<'a> {
    build: &'a Build,
    numbers: Numbers<'a>,
}

impl Sheet<'_> {
    fn units(&self) -> &UnitSystem {
        self.numbers.units
    }

    fn case(&self, case: usize) -> String {
        self.build.case_title(case).to_string()
    }

    /// What holds least, in a sentence.
    fn verdict(&self, flow: &mut Flow) {
        let Some(part) = self.build.weakest() else { return };
        let Some(worst) = part.worst() else { return };
        let wanted = times(self.build.wanted);
        let short: Vec<&Part> = self.build.parts.iter().filter(|p| p.holds() < self.build.wanted).collect();
        let names = || {
            let names: Vec<String> =
                short.iter().take(4).map(|p| format!("{} {}", p.kind.words(), p.full_name())).collect();
            names.join(", ")
        };
        let least = format!(
            "Least: the {} of {} holds {} times its loads ({}, {})",
            part.kind.words(),
            part.full_name(),
            times(worst.check.holds()),
            worst.check.failure.title(),
            self.case(worst.case),
        );
        flow.say(if short.is_empty() {
            format!("{least}. Every part that could be checked holds the {wanted} times that are wanted.")
        } else {
            format!(
                "{least}. {} of {} parts hold less than the {wanted} times that are wanted: {}{}.",
                short.len(),
                self.build.parts.iter().filter(|p| p.worst().is_some()).count(),
                names(),
                if short.len() > 4 { " and more" } else { "" }
            )
        });
        let unchecked = self.build.parts.iter().filter(|p| p.worst().is_none()).count();
        if unchecked > 0 {
            flow.remark(format!("{unchecked} parts could not be checked: see their rows for what to write."));
        }
    }

    fn positions(&self, flow: &mut Flow) {
        if self.build.positions.is_empty() || self.build.positions.iter().all(|p| p.greatest.is_none()) {
            return;
        }
        flow.heading(2, "Position by position");
        let angle = Scale::Angle;
        let force = Scale::Force.unit(self.units());
        let mut table = Table::new([
            Column::words("position"),
            Column::figures("holds, times"),
            Column::words("what gives way first"),
            Column::words("in"),
            Column::figures(format!("greatest link force, {force}")),
            Column::words("link"),
            Column::figures(format!("toe gives, {}", angle.unit(self.units()))),
            Column::figures(format!("camber gives, {}", angle.unit(self.units()))),
        ]);
        for p in &self.build.positions {
            let name = match p.setups.as_slice() {
                [] => p.name.clone(),
                setups => format!("{} ({})", p.name, setups.join(", ")),
            };
            if let Some(why) = &p.refused {
                table.row([name, "–".into(), why.clone()]);
                continue;
            }
            let least = p.least.as_ref();
            let greatest = p.greatest.as_ref();
            let gives = |of: fn(&study::build::Flex) -> f64| {
                p.flex.as_ref().map_or_else(|| "–".into(), |flex| self.numbers.signed(of(flex), angle, 3))
            };
            table.row([
                name,
                least.map_or_else(|| "–".into(), |l| times(l.holds)),
                least.map_or_else(String::new, |l| format!("{}: {}", l.part, l.failure)),
                least.map_or_else(String::new, |l| self.case(l.case)),
                greatest.map_or_else(|| "–".into(), |g| self.numbers.plain(g.tension, Scale::Force)),
                greatest.map_or_else(String::new, |g| format!("{}, {}", g.link, self.case(g.case))),
                gives(|flex| flex.toe),
                gives(|flex| flex.camber),
            ]);
        }
        flow.table(table);
        flow.remark(
            "Holds: the capacity of the weakest part over its load, in the worst of all cases. Toe and camber: how far the \
             frame's give turns a wheel, through the linkage, in the worst case; toe-in and top-out positive.",
        );
    }

    fn parts(&self, flow: &mut Flow) {
        if self.build.parts.is_empty() {
            return;
        }
        flow.heading(2, "Margins, the weakest first");
        let mut table = Table::new([
            Column::words("part"),
            Column::words("what gives way first"),
            Column::words("in"),
            Column::figures("load of what it bears"),
            Column::figures("holds, times"),
            Column::figures("margin"),
        ]);
        let mut marks: Vec<&str> = Vec::new();
        let (checked, unchecked): (Vec<&Part>, Vec<&Part>) =
            self.build.parts.iter().partition(|part| part.worst().is_some());
        for part in checked.iter().take(MOST_PARTS) {
            let name = format!("{} {}", part.kind.words(), part.full_name());
            let Some(worst) = part.worst() else { continue };
            let check = &worst.check;
            let mut way = check.failure.title().to_string();
            if let Some(why) = check.outside {
                let mark = marks.iter().position(|known| *known == why).unwrap_or_else(|| {
                    marks.push(why);
                    marks.len() - 1
                });
                way = format!("{way} [{}]", mark + 1);
            }
            let side = if worst.right { ", right" } else { "" };
            table.row([
                name,
                way,
                format!("{}{side}", self.case(worst.case)),
                self.numbers.of(check.demand, check.capacity, check.measure),
                times(check.holds()),
                margin(check.holds(), self.build.wanted),
            ]);
        }
        flow.table(table);
        for (i, why) in marks.iter().enumerate() {
            flow.remark(format!("[{}] past the model: {why}", i + 1));
        }
        if let Some(next) = checked.get(MOST_PARTS) {
            flow.remark(format!(
                "{} more parts are not listed: they hold {} times and more.",
                checked.len() - MOST_PARTS,
                times(next.holds())
            ));
        }
        flow.bullets(unchecked.iter().map(|part| {
            format!("{} {}: not checked, {}", part.kind.words(), part.full_name(), part.lacks.join("; "))
        }));
        flow.remark(format!(
            "Margin: capacity over {} times the load, less one; below zero it holds less than is wanted.",
            times(self.build.wanted)
        ));
    }

    fn cases(&self, flow: &mut Flow) {
        if self.build.cases.is_empty() {
            return;
        }
        flow.heading(2, "Load cases");
        let g = Scale::Acceleration;
        let force = Scale::Force.unit(self.units());
        let mut table = Table::new([
            Column::words("case"),
            Column::figures("brakes, g"),
            Column::figures("corners, g"),
            Column::figures("drives, g"),
            Column::figures("factor"),
            Column::figures(format!("front left: along, across, up, {force}")),
            Column::figures(format!("rear left: along, across, up, {force}")),
            Column::words("where it comes from"),
        ]);
        let asked = |v: f64| {
            if v == 0.0 { "–".to_string() } else { self.numbers.plain(v, g) }
        };
        for case in &self.build.cases {
            let mut cells = vec![
                case.title.clone(),
                asked(case.braking),
                asked(case.cornering),
                asked(case.driving),
                times(case.factor),
            ];
            for [left, _] in &case.wheels {
                let all = left.road + left.strike;
                let each: Vec<String> =
                    all.iter().map(|v| self.numbers.plain(*v + 0.0, Scale::Force)).collect();
                cells.push(if case.jack.is_some() { "hangs".into() } else { each.join(", ") });
            }
            let jack =
                case.jack.map(|(.., up)| format!("; lifts {} {force}", self.numbers.plain(up, Scale::Force)));
            cells.push(format!("{}{}", case.why, jack.unwrap_or_default()));
            table.row(cells);
        }
        flow.table(table);
        flow.remark(
            "Forces of the road on the tyre, factor included: forward, to the left and up are positive.",
        );
    }

    /// Forces of all links in all cases: the larger of both sides.
    fn links(&self, flow: &mut Flow) {
        for (end, cases) in &self.build.axles {
            let Some(first) = cases.first() else { continue };
            let [left, _] = &first.sides;
            if left.legs.is_empty() && left.carried.is_empty() {
                continue;
            }
            let unit = Scale::Force.unit(self.units());
            flow.heading(2, format!("Forces in the links, {} axle, {unit}", end.name()));
            let mut columns = vec![Column::words("link")];
            columns.extend(self.build.cases.iter().map(|case| Column::figures(case.title.clone())));
            let mut table = Table::new(columns);
            for leg in &left.legs {
                let mut cells = vec![leg.name.clone()];
                for case in cases {
                    let all = case.sides.iter().filter_map(|s| s.legs.iter().find(|l| l.name == leg.name));
                    let largest =
                        all.map(|l| l.tension).fold(0.0_f64, |a, b| if b.abs() > a.abs() { b } else { a });
                    cells.push(self.numbers.plain(largest, Scale::Force));
                }
                table.row(cells);
            }
            for carried in &left.carried {
                let of = |case: &study::build::AxleForces| -> (f64, f64) {
                    let all =
                        case.sides.iter().flat_map(|s| s.carried.iter().filter(|c| c.name == carried.name));
                    all.flat_map(|c| &c.cuts).fold((0.0, 0.0), |(n, m): (f64, f64), cut| {
                        // What bends an arm in its plane is pull and push in its two legs.
                        let bent = (cut.bending.powi(2) - cut.in_plane.powi(2)).max(0.0).sqrt();
                        (if cut.axial.abs() > n.abs() { cut.axial } else { n }, m.max(bent))
                    })
                };
                let mut cells = vec![carried.name.clone()];
                cells.extend(cases.iter().map(|case| self.numbers.plain(of(case).0, Scale::Force)));
                table.row(cells);
                let torque = Scale::Torque;
                let mut cells = vec![format!("{}, bent by, {}", carried.name, torque.unit(self.units()))];
                cells.extend(cases.iter().map(|case| self.numbers.plain(of(case).1, torque)));
                table.row(cells);
            }
            flow.table(table);
            flow.remark("Tension positive; the larger of both sides.");
        }
    }

    fn proposals(&self, flow: &mut Flow) {
        if self.build.proposals.is_empty() {
            return;
        }
        flow.heading(
            2,
            format!(
                "The lightest stock that holds {} times, in all cases and positions",
                times(self.build.wanted)
            ),
        );
        let mass = Scale::Mass.unit(self.units());
        let mut table = Table::new([
            Column::words("part"),
            Column::words("now"),
            Column::figures("holds, times"),
            Column::words("lightest"),
            Column::figures("holds, times"),
            Column::figures(format!("lighter by, {mass}")),
        ]);
        for p in &self.build.proposals {
            let name = match p.end {
                Some(end) => format!("{} {} {}", p.kind.words(), end.name(), p.name),
                None => p.name.clone(),
            };
            let holds = |v: Option<f64>| v.map_or_else(|| "–".to_string(), times);
            table.row([
                name,
                if p.now.is_empty() { "–".into() } else { p.now.clone() },
                holds(p.now_holds),
                p.lightest.clone().unwrap_or_else(|| "no stock size does".into()),
                holds(p.holds),
                p.lighter.map_or_else(|| "–".into(), |kg| self.numbers.fixed(kg, Scale::Mass, 2)),
            ]);
        }
        flow.table(table);
        flow.remark(
            "By strength alone: a thin tube gives more and dents sooner. Tubes of a frame are found group by group until nothing \
             changes: a light frame, not surely the lightest. Write a size into the file to see what it does to the whole.",
        );
    }

    fn cuts(&self, flow: &mut Flow) {
        let cuts = &self.build.cuts;
        if cuts.pieces.is_empty() {
            return;
        }
        flow.heading(2, "Cut list");
        let length = Scale::Length.unit(self.units());
        let mass = Scale::Mass.unit(self.units());
        let mut table = Table::new([
            Column::words("piece"),
            Column::figures("how many"),
            Column::words("section and steel"),
            Column::figures(format!("between nodes, {length}")),
            Column::figures(format!("saw to, {length}")),
            Column::words("ends"),
            Column::figures(format!("each, {mass}")),
        ]);
        for piece in &cuts.pieces {
            table.row([
                piece.name.clone(),
                piece.count.to_string(),
                format!("{}, {}", piece.section, piece.grade),
                if piece.ends.is_empty() {
                    "–".into()
                } else {
                    self.numbers.plain(piece.between, Scale::Length)
                },
                self.numbers.plain(piece.length, Scale::Length),
                self.numbers.ends(piece),
                self.numbers.fixed(piece.mass, Scale::Mass, 2),
            ]);
        }
        flow.table(table);
        flow.remark(
            "Saw to: from long point to long point. Angles are from a square cut. Where three or more tubes meet, fit the last \
             ones on the jig. A saddle's depth lies between its long and its short points.",
        );
        let mut table = Table::new([
            Column::words("stock"),
            Column::figures(format!("in all, {length}")),
            Column::figures("bars of 6 m"),
            Column::figures(mass),
        ]);
        for need in &cuts.stock {
            table.row([
                need.section.clone(),
                self.numbers.plain(need.length, Scale::Length),
                need.bars.map_or_else(|| "longer than a bar".into(), |bars| bars.to_string()),
                self.numbers.fixed(need.mass, Scale::Mass, 2),
            ]);
        }
        flow.table(table);
    }
}

/// A factor with as many decimals as it deserves.
fn times(value: f64) -> String {
    match value {
        v if !v.is_finite() => "–".into(),
        v if v >= 100.0 => "over 100".into(),
        v if v >= 10.0 => format!("{v:.1}"),
        v => format!("{v:.2}"),
    }
}

/// Margin over what is wanted.
fn margin(holds: f64, wanted: f64) -> String {
    match holds / wanted - 1.0 {
        m if !m.is_finite() => "–".into(),
        m if m >= 10.0 => "over +10".into(),
        m => format!("{m:+.2}"),
    }
}

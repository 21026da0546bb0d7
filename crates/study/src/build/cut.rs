//! What is cut: tubes with their lengths and end cuts, tabs, and how many bars of each section that takes.
//!
//! At a node the tube that goes through (or the largest) stays whole, the others are cut to meet its wall. The length of a cut
//! piece is from long point to long point, as it is sawn; what the notch takes away beyond that is its depth.

use std::f64::consts::PI;

use nalgebra::{Matrix3, Vector3};
use project::model::{Axle, AxleBuild};
use steel::frame::Frame;
use steel::grade::Grade;
use steel::section::Shape;

/// Length of a bar as it is sold [m] (common practice: 6 m; 20 ft and 24 ft in inch lands).
const BAR: f64 = 6.0;

/// Lost at each saw cut [m] (common practice).
const KERF: f64 = 0.003;

/// Sine of the angle below which a tube runs into another one's end rather than meets its side.
const IN_LINE: f64 = 0.17;

/// Sharpest cut that a saw makes [rad]: 50 deg from square.
const SHARPEST: f64 = 0.873;

/// How an end is cut.
#[derive(Clone, Debug, PartialEq)]
pub enum EndCut {
    /// Square, at the node.
    Square,
    /// Half of the angle to another tube's end.
    Mitre {
        /// The other tube.
        with: String,
        /// From square [rad].
        angle: f64,
    },
    /// Flat onto the face of a box tube.
    Face {
        /// The tube that stays whole.
        onto: String,
        /// From square [rad].
        angle: f64,
    },
    /// A saddle round a round tube.
    Saddle {
        /// The tube that stays whole.
        onto: String,
        /// Between both axes, from square [rad].
        angle: f64,
        /// Between the long and the short points [m].
        depth: f64,
    },
}

/// One piece.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPiece {
    /// Its name.
    pub name: String,
    /// How many alike: two where the other side has its mirror image.
    pub count: usize,
    /// Section as written.
    pub section: String,
    /// Steel.
    pub grade: String,
    /// From node to node; of a plate from its hole to the weld, zero where it has no hole [m].
    pub between: f64,
    /// From long point to long point [m].
    pub length: f64,
    /// Both ends; empty for a plate.
    pub ends: Vec<EndCut>,
    /// Of one [kg].
    pub mass: f64,
}

/// Stock that is needed of one section.
#[derive(Clone, Debug, PartialEq)]
pub struct StockNeed {
    /// Section and steel.
    pub section: String,
    /// Of all pieces [m].
    pub length: f64,
    /// Bars of 6 m, each piece from one bar, with a saw cut between; `None` where a piece is longer than a bar.
    pub bars: Option<usize>,
    /// Of all pieces [kg].
    pub mass: f64,
}

/// Everything that is cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutList {
    /// Pieces.
    pub pieces: Vec<CutPiece>,
    /// What to buy.
    pub stock: Vec<StockNeed>,
    /// Of everything [kg].
    pub mass: f64,
    /// Its centre in the car's axes [m].
    pub centre: Vector3<f64>,
}

/// Two pieces are alike where their lengths differ by less [m] and their angles by less [rad].
const ALIKE: (f64, f64) = (0.05e-3, 1e-4);

/// Cuts the tubes of a frame, `sections` being what each is called: tubes of one section that go on in line are one piece,
/// pieces that are alike are counted.
pub(super) fn pieces(frame: &Frame, sections: &[String]) -> Vec<CutPiece> {
    let mut pieces: Vec<CutPiece> = Vec::new();
    let mut taken = vec![false; frame.tubes.len()];
    let mut names: Vec<(String, String)> = Vec::new();
    for tube in 0..frame.tubes.len() {
        if taken.get(tube).copied().unwrap_or(true) {
            continue;
        }
        let chain = chain(frame, sections, tube);
        for link in &chain {
            if let Some(taken) = taken.get_mut(link.0) {
                *taken = true;
            }
        }
        let Some(piece) = piece(frame, sections, &chain) else { continue };
        // Who reads "onto" looks for a piece, not for one of the tubes that are drawn in it.
        names.extend(
            chain
                .iter()
                .filter_map(|(tube, _)| Some((frame.tubes.get(*tube)?.name.clone(), piece.name.clone()))),
        );
        match pieces.iter_mut().find(|other| other.is_like(&piece)) {
            Some(other) => other.count += 1,
            None => pieces.push(piece),
        }
    }
    for end in pieces.iter_mut().flat_map(|piece| &mut piece.ends) {
        let (EndCut::Mitre { with: other, .. }
        | EndCut::Face { onto: other, .. }
        | EndCut::Saddle { onto: other, .. }) = end
        else {
            continue;
        };
        if let Some((_, piece)) = names.iter().find(|(tube, _)| tube == other) {
            other.clone_from(piece);
        }
    }
    pieces
}

impl CutPiece {
    fn is_like(&self, other: &Self) -> bool {
        let ends = |of: &Self| -> Vec<(u8, f64, f64)> {
            let mut ends: Vec<_> = of.ends.iter().map(EndCut::figures).collect();
            ends.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
            ends
        };
        let (a, b) = (ends(self), ends(other));
        let alike = |x: &(u8, f64, f64), y: &(u8, f64, f64)| {
            x.0 == y.0 && (x.1 - y.1).abs() < ALIKE.1 && (x.2 - y.2).abs() < ALIKE.0
        };
        self.section == other.section
            && self.grade == other.grade
            && (self.length - other.length).abs() < ALIKE.0
            && a.len() == b.len()
            && a.iter().zip(&b).all(|(x, y)| alike(x, y))
    }
}

impl EndCut {
    /// Which kind it is, its angle [rad] and its depth [m].
    fn figures(&self) -> (u8, f64, f64) {
        match *self {
            Self::Square => (0, 0.0, 0.0),
            Self::Mitre { angle, .. } => (1, angle, 0.0),
            Self::Face { angle, .. } => (2, angle, 0.0),
            Self::Saddle { angle, depth, .. } => (3, angle, depth),
        }
    }
}

/// Tubes that are one piece with a tube, in order; each with the end at which it begins.
fn chain(frame: &Frame, sections: &[String], tube: usize) -> Vec<(usize, usize)> {
    let mut chain = vec![(tube, 0)];
    for forward in [true, false] {
        while let Some(&(last, begins)) = if forward { chain.last() } else { chain.first() } {
            let Some(next) = goes_on(frame, sections, last, if forward { 1 - begins } else { begins }) else {
                break;
            };
            // A ring closes on itself.
            if chain.iter().any(|(own, _)| *own == next.0) {
                break;
            }
            if forward {
                chain.push(next);
            } else {
                chain.insert(0, (next.0, 1 - next.1));
            }
        }
    }
    chain
}

/// The tube of the same section in which a tube goes on straight beyond one of its ends, and the end at which it is met.
fn goes_on(frame: &Frame, sections: &[String], tube: usize, end: usize) -> Option<(usize, usize)> {
    let own = frame.tubes.get(tube)?;
    let node = own.ends.get(end)?.node;
    let away = Line::of(frame, tube)?.away(end);
    frame.tubes.iter().enumerate().filter(|(i, _)| *i != tube).find_map(|(i, other)| {
        let at = (0..2).find(|e| other.ends.get(*e).is_some_and(|at| at.node == node))?;
        let line = Line::of(frame, i)?.away(at);
        let same = sections.get(i) == sections.get(tube) && other.grade == own.grade;
        (same && away.dot(&line) < -STRAIGHT).then_some((i, at))
    })
}

/// Cosine of the bend at which a tube no longer goes on straight: 1 deg.
const STRAIGHT: f64 = 0.999_85;

fn piece(frame: &Frame, sections: &[String], chain: &[(usize, usize)]) -> Option<CutPiece> {
    let ((first, begins), (last, at)) = (chain.first().copied()?, chain.last().copied()?);
    let ends = [(first, begins), (last, 1 - at)];
    let cuts: Vec<(EndCut, f64)> = ends
        .iter()
        .map(|(tube, end)| Line::of(frame, *tube).map(|line| end_cut(frame, *tube, *end, &line)))
        .collect::<Option<_>>()?;
    let between: f64 = chain.iter().filter_map(|(tube, _)| Line::of(frame, *tube)).map(|l| l.length()).sum();
    let length = (between - cuts.iter().map(|c| c.1).sum::<f64>()).max(0.0);
    let tube = frame.tubes.get(first)?;
    let node = |(tube, end): (usize, usize)| {
        let at = frame.tubes.get(tube)?.ends.get(end)?.node;
        Some(frame.nodes.get(at)?.name.as_str())
    };
    let name = match chain {
        [_] => tube.name.clone(),
        _ => format!("{} to {}", node(ends[0])?, node(ends[1])?),
    };
    Some(CutPiece {
        name,
        count: 1,
        section: sections.get(first).cloned().unwrap_or_default(),
        grade: tube.grade.name.clone(),
        between,
        length,
        mass: tube.section.area * length * tube.grade.density,
        ends: cuts.into_iter().map(|c| c.0).collect(),
    })
}

/// Tabs of the links' brackets of an axle, both sides, those alike counted: as long as from the weld to their end.
pub(super) fn tabs(axle: &Axle, parts: &AxleBuild, grade: &Grade) -> Vec<CutPiece> {
    let mut points: Vec<usize> = axle.scheme.lengths().map(|(_, inner, _)| inner).collect();
    points.sort_unstable();
    points.dedup();
    let mut pieces: Vec<CutPiece> = Vec::new();
    for point in points {
        let (reading, _) = parts.bracket(point);
        let (Some(thick), Some(width), Some(edge), Some(reach)) =
            (reading.tab, reading.width, reading.edge, reading.reach)
        else {
            continue;
        };
        let steel = reading.grade.as_ref().unwrap_or(grade);
        let count = if reading.double == Some(false) { 2 } else { 4 };
        let name = format!("{} tabs", axle.end.name());
        Plate { name, size: [thick, width, edge + reach], to_hole: reach, steel }.among(&mut pieces, count);
    }
    pieces
}

/// A rectangular plate.
pub(super) struct Plate<'a> {
    pub name: String,
    /// Thickness, width, length [m].
    pub size: [f64; 3],
    /// From the weld to its hole; zero where it has none [m].
    pub to_hole: f64,
    pub steel: &'a Grade,
}

impl Plate<'_> {
    /// Puts some of them among the pieces, to those that are alike.
    pub fn among(self, pieces: &mut Vec<CutPiece>, count: usize) {
        let Self { name, size: [thick, width, length], to_hole, steel } = self;
        let section = format!("plate {:.1} mm, {:.1} mm wide", thick * 1e3, width * 1e3);
        let alike = |piece: &&mut CutPiece| {
            piece.section == section && piece.grade == steel.name && (piece.length - length).abs() < ALIKE.0
        };
        match pieces.iter_mut().find(alike) {
            Some(piece) => piece.count += count,
            None => pieces.push(CutPiece {
                name,
                count,
                section,
                grade: steel.name.clone(),
                between: to_hole,
                length,
                ends: Vec::new(),
                mass: thick * width * length * steel.density,
            }),
        }
    }
}

/// A tube's axis with its section's axes.
struct Line {
    ends: [Vector3<f64>; 2],
    axes: Matrix3<f64>,
}

impl Line {
    fn of(frame: &Frame, tube: usize) -> Option<Self> {
        Some(Self { ends: frame.line(tube)?, axes: frame.axes(tube)? })
    }

    fn length(&self) -> f64 {
        let [a, b] = self.ends;
        (b - a).norm()
    }

    /// Along the tube, the section's y, its z.
    fn axis(&self, k: usize) -> Vector3<f64> {
        self.axes.row(k).transpose()
    }

    /// From one end into the tube (unit vector).
    fn away(&self, end: usize) -> Vector3<f64> {
        let [a, b] = self.ends;
        let way = (b - a) / (b - a).norm();
        if end == 0 { way } else { -way }
    }
}

/// How an end is cut, and how far its long point stays behind the node [m]; negative where it goes beyond.
fn end_cut(frame: &Frame, tube: usize, end: usize, line: &Line) -> (EndCut, f64) {
    let Some(own) = frame.tubes.get(tube) else { return (EndCut::Square, 0.0) };
    let Some(node) = own.ends.get(end).map(|e| e.node) else { return (EndCut::Square, 0.0) };
    let away = line.away(end);
    let here: Vec<(usize, usize)> = frame
        .tubes
        .iter()
        .enumerate()
        .filter(|(i, _)| *i != tube)
        .flat_map(|(i, other)| {
            (0..2).filter(|e| other.ends.get(*e).is_some_and(|at| at.node == node)).map(move |e| (i, e))
        })
        .collect();
    let direction = |(i, e): &(usize, usize)| Line::of(frame, *i).map(|l| l.away(*e));
    // A tube goes through where another one leaves the node the opposite way.
    let through = |(i, e): &(usize, usize)| {
        let Some(d) = direction(&(*i, *e)) else { return false };
        here.iter().filter(|o| o.0 != *i).chain([(tube, end)].iter()).any(|o| {
            let other = if o.0 == tube { Some(away) } else { direction(o) };
            other.is_some_and(|x| d.cross(&x).norm() < IN_LINE && d.dot(&x) < 0.0)
        })
    };
    let sits_aside = |o: &(usize, usize)| direction(o).is_some_and(|d| d.cross(&away).norm() > IN_LINE);
    let size = |i: usize| frame.tubes.get(i).map_or(0.0, |t| t.section.area * reach(&t.section.shape));
    // A tube that goes on in another one of the same line ends where that begins.
    if here
        .iter()
        .any(|o| direction(o).is_some_and(|d| d.cross(&away).norm() < IN_LINE && d.dot(&away) < 0.0))
    {
        return (EndCut::Square, 0.0);
    }
    let main = here.iter().filter(|o| sits_aside(o)).max_by(|a, b| {
        // Of those alike the first in the file.
        let rank = |o: &(usize, usize)| (through(o), size(o.0));
        let ((p, x), (q, y)) = (rank(a), rank(b));
        p.cmp(&q).then(x.total_cmp(&y)).then(b.0.cmp(&a.0))
    });
    let Some(main) = main else { return (EndCut::Square, 0.0) };
    let Some(other) = frame.tubes.get(main.0) else { return (EndCut::Square, 0.0) };
    if !through(main) {
        let alike = size(main.0) == size(tube);
        // Two alike, with no third one to fit: each has half of the angle, where that is not too sharp for a saw.
        let between = direction(main).map_or(PI, |d| d.dot(&away).clamp(-1.0, 1.0).acos());
        let angle = (PI - between) / 2.0;
        if alike && here.len() == 1 && angle <= SHARPEST {
            let long = -reach(&own.section.shape) * angle.tan();
            return (EndCut::Mitre { with: other.name.clone(), angle }, long);
        }
        // The larger of two ends, or the first of those alike, closes the corner: it runs to the far wall of the other.
        if size(main.0) < size(tube) || (alike && tube < main.0) {
            return (EndCut::Square, -reach(&other.section.shape));
        }
    }
    let Some(whole) = Line::of(frame, main.0) else { return (EndCut::Square, 0.0) };
    meets(&own.section.shape, &away, &other.section.shape, &whole, &other.name)
}

/// Half of the greatest outer size of a section [m].
fn reach(shape: &Shape) -> f64 {
    match *shape {
        Shape::Round { diameter, .. } | Shape::Bar { diameter } => diameter / 2.0,
        Shape::Box { height, width, .. } | Shape::Flat { height, width } => height.max(width) / 2.0,
    }
}

/// The cut of a tube that meets the side of another one, and how far its long point stays behind the node.
fn meets(own: &Shape, away: &Vector3<f64>, whole: &Shape, line: &Line, onto: &str) -> (EndCut, f64) {
    let onto = onto.to_string();
    let r = reach(own);
    match *whole {
        Shape::Round { diameter, .. } | Shape::Bar { diameter } => {
            let big = diameter / 2.0;
            let along = line.axis(0);
            let cos = away.dot(&along).abs().clamp(0.0, 1.0);
            let sin = (1.0 - cos * cos).sqrt().max(IN_LINE);
            // Along the branch, where its wall at angle phi meets the through tube's: both are cylinders whose axes meet,
            // x = (sqrt(R^2 - (r sin phi)^2) + r cos phi cos theta) / sin theta.
            let meet = |phi: f64| {
                let side = r * phi.sin();
                ((big * big - side * side).max(0.0).sqrt() + r * phi.cos() * cos) / sin
            };
            let places = (0..360).map(|k| meet(f64::from(k) * PI / 180.0));
            let (near, far) = places.fold((f64::INFINITY, 0.0_f64), |(lo, hi), x| (lo.min(x), hi.max(x)));
            (EndCut::Saddle { onto, angle: cos.asin(), depth: far - near }, near)
        }
        Shape::Box { height, width, .. } | Shape::Flat { height, width } => {
            let [y, z] = [1, 2].map(|k| line.axis(k).dot(away).abs());
            // It leaves the box through the face that it reaches first.
            let (half, cos) = if y * height >= z * width { (width / 2.0, y) } else { (height / 2.0, z) };
            let cos = cos.max(IN_LINE);
            let angle = cos.clamp(0.0, 1.0).acos();
            (EndCut::Face { onto, angle }, half / cos - r * angle.tan())
        }
    }
}

impl CutList {
    /// Adds up what is needed.
    pub(super) fn of(pieces: Vec<CutPiece>, mass: f64, centre: Vector3<f64>) -> Self {
        let mut stock: Vec<StockNeed> = Vec::new();
        for piece in pieces.iter().filter(|piece| !piece.ends.is_empty()) {
            let section = format!("{}, {}", piece.section, piece.grade);
            let count = piece.count as f64;
            let (length, mass) = (piece.length * count, piece.mass * count);
            match stock.iter_mut().find(|need| need.section == section) {
                Some(need) => {
                    need.length += length;
                    need.mass += mass;
                }
                None => stock.push(StockNeed { section, length, bars: None, mass }),
            }
        }
        for need in &mut stock {
            let mut lengths: Vec<f64> = pieces
                .iter()
                .filter(|p| !p.ends.is_empty() && format!("{}, {}", p.section, p.grade) == need.section)
                .flat_map(|p| std::iter::repeat_n(p.length, p.count))
                .collect();
            lengths.sort_by(|a, b| b.total_cmp(a));
            need.bars = bars(&lengths);
        }
        Self { pieces, stock, mass, centre }
    }
}

/// Bars for pieces, the longest first, each from the first bar that has room (first fit, decreasing); `None` where one is
/// longer than a bar.
fn bars(lengths: &[f64]) -> Option<usize> {
    let mut left: Vec<f64> = Vec::new();
    for length in lengths {
        if *length > BAR {
            return None;
        }
        match left.iter_mut().find(|room| **room >= *length) {
            Some(room) => *room -= length + KERF,
            None => left.push(BAR - length - KERF),
        }
    }
    Some(left.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_are_filled_with_the_longest_first() {
        assert_eq!(bars(&[4.0, 3.0, 2.9, 1.9]), Some(2));
        assert_eq!(bars(&[3.0, 3.0]), Some(2), "the saw takes its part");
        assert_eq!(bars(&[6.1]), None);
        assert_eq!(bars(&[]), Some(0));
    }
}

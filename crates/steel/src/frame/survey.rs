//! Looks a frame over before any figure is worked out.

use nalgebra::Vector3;

use super::element::Element;
use super::{Frame, FrameError, Hold, Node, Tube};

/// Greatest coordinate or arm [m]: beyond it a place was given in another unit.
pub const LARGEST_COORDINATE: f64 = 1e3;

/// Shortest tube [m].
pub const SHORTEST: f64 = 1e-6;

/// Greatest figure of a section, a steel, a spring or a load, SI.
pub const LARGEST: f64 = 1e15;

/// Least figure that must be positive, SI: the second moment of a wire of a tenth of a millimetre is 5e-18.
pub const SMALLEST: f64 = 1e-20;

/// Least part of a direction across the tube, over its length, that turns a section.
pub(super) const LEAST_ACROSS: f64 = 1e-6;

/// Checks everything that needs no factors, and makes the tubes ready.
pub(super) fn survey(frame: &Frame) -> Result<Vec<Element>, FrameError> {
    if frame.tubes.is_empty() {
        return Err(FrameError::Empty);
    }
    for node in &frame.nodes {
        place(&node.at, || format!("a coordinate of node `{}`", node.name))?;
    }
    let elements = frame.tubes.iter().map(|tube| element(frame, tube)).collect::<Result<_, _>>()?;
    feet(frame)?;
    ties(frame)?;
    joined(frame)?;
    Ok(elements)
}

fn element(frame: &Frame, tube: &Tube) -> Result<Element, FrameError> {
    figures(tube)?;
    let mut line = [Vector3::zeros(); 2];
    for (point, end) in line.iter_mut().zip(&tube.ends) {
        let node = known(frame, end.node, || format!("tube `{}`", tube.name))?;
        place(&end.offset, || format!("an arm at an end of tube `{}`", tube.name))?;
        *point = node.at + end.offset;
    }
    let [start, end] = line;
    if (end - start).norm() < SHORTEST {
        let [first, second] = tube.ends.map(|end| name(frame, end.node));
        return Err(FrameError::NoLength { tube: tube.name.clone(), first, second });
    }
    let axes = tube.axes(line).ok_or_else(|| FrameError::Up { tube: tube.name.clone() })?;
    Ok(Element::new(tube, line, axes))
}

fn figures(tube: &Tube) -> Result<(), FrameError> {
    let section = &tube.section;
    let finite = [
        ("area", section.area),
        ("second moment about y", section.second_y),
        ("second moment about z", section.second_z),
        ("torsion constant", section.torsion),
        ("modulus of elasticity", tube.grade.young),
        ("shear modulus", tube.grade.shear),
    ];
    for (figure, value) in finite {
        if !(SMALLEST..=LARGEST).contains(&value) {
            return Err(FrameError::Figure { tube: tube.name.clone(), figure, value });
        }
    }
    for (figure, value) in [("shear area along y", section.shear_y), ("shear area along z", section.shear_z)]
    {
        if value.is_nan() || value < SMALLEST {
            return Err(FrameError::Figure { tube: tube.name.clone(), figure, value });
        }
    }
    Ok(())
}

fn feet(frame: &Frame) -> Result<(), FrameError> {
    if frame.feet.iter().flat_map(|foot| foot.hold).all(|hold| hold == Hold::Free) {
        return Err(FrameError::NoFoot);
    }
    let mut footed = vec![false; frame.nodes.len()];
    for foot in &frame.feet {
        known(frame, foot.node, || "a foot".to_owned())?;
        for hold in foot.hold {
            if let Hold::Spring(rate) = hold
                && !(SMALLEST..=LARGEST).contains(&rate)
            {
                let what = format!("the rate of a spring under node `{}`", name(frame, foot.node));
                return Err(FrameError::Number { what, value: rate });
            }
        }
        if let Some(seen) = footed.get_mut(foot.node)
            && std::mem::replace(seen, true)
        {
            return Err(FrameError::TwoFeet { node: name(frame, foot.node) });
        }
    }
    Ok(())
}

fn ties(frame: &Frame) -> Result<(), FrameError> {
    for tie in &frame.ties {
        for &node in &tie.nodes {
            known(frame, node, || format!("tie `{}`", tie.name))?;
        }
        if tie.nodes.iter().all(|node| Some(node) == tie.nodes.first()) {
            return Err(FrameError::LoneTie { tie: tie.name.clone() });
        }
    }
    Ok(())
}

/// Every node is reached, and every part of the frame has a foot.
fn joined(frame: &Frame) -> Result<(), FrameError> {
    let count = frame.nodes.len();
    let mut groups = Groups::new(count);
    let mut reached = vec![false; count];
    let mut reach = |node: usize| {
        if let Some(flag) = reached.get_mut(node) {
            *flag = true;
        }
    };
    for [first, second] in frame.tubes.iter().map(|tube| tube.ends.map(|end| end.node)) {
        groups.join(first, second);
        reach(first);
        reach(second);
    }
    for tie in &frame.ties {
        for &node in &tie.nodes {
            groups.join(node, tie.nodes.first().copied().unwrap_or(node));
            reach(node);
        }
    }
    if let Some((node, _)) = frame.nodes.iter().zip(&reached).find(|(_, reached)| !**reached) {
        return Err(FrameError::Unreached { node: node.name.clone() });
    }
    let held: Vec<usize> = frame
        .feet
        .iter()
        .filter(|foot| foot.hold.iter().any(|hold| *hold != Hold::Free))
        .map(|foot| groups.of(foot.node))
        .collect();
    for (index, node) in frame.nodes.iter().enumerate() {
        let group = groups.of(index);
        if !held.contains(&group) {
            let count = (0..count).filter(|&other| groups.of(other) == group).count();
            return Err(FrameError::Adrift { node: node.name.clone(), count });
        }
    }
    Ok(())
}

/// Name of a node, or its number.
pub(super) fn name(frame: &Frame, node: usize) -> String {
    frame.nodes.get(node).map_or_else(|| format!("number {node}"), |node| node.name.clone())
}

/// A node that is there.
fn known(frame: &Frame, node: usize, what: impl Fn() -> String) -> Result<&Node, FrameError> {
    let count = frame.nodes.len();
    frame.nodes.get(node).ok_or_else(|| FrameError::UnknownNode { what: what(), node, count })
}

/// A place or an arm that can be.
pub(super) fn place(at: &Vector3<f64>, what: impl Fn() -> String) -> Result<(), FrameError> {
    within(at, LARGEST_COORDINATE, what)
}

/// Every component a number, and none beyond `most`.
pub(super) fn within(v: &Vector3<f64>, most: f64, what: impl Fn() -> String) -> Result<(), FrameError> {
    match v.iter().find(|c| c.is_nan() || c.abs() > most) {
        Some(&value) => Err(FrameError::Number { what: what(), value }),
        None => Ok(()),
    }
}

/// Sets that grow together.
pub(super) struct Groups(Vec<usize>);

impl Groups {
    pub(super) fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    /// The set of a member, by its least member so far joined.
    pub(super) fn of(&self, member: usize) -> usize {
        let mut at = member;
        while let Some(&next) = self.0.get(at)
            && next != at
        {
            at = next;
        }
        at
    }

    pub(super) fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        if let Some(parent) = self.0.get_mut(a.max(b)) {
            *parent = a.min(b);
        }
    }
}

//! Slips in the points of an axle: judged against the wheel that they hold.

use std::collections::BTreeSet;
use std::ops::Range;

use linkage::Frame;
use nalgebra::Vector3;
use suspension::scheme::{Direction, JointKind, PointOn, Scheme, UPRIGHT};
use units::UnitSystem;

use super::{LOADED_RADIUS, length, meant, units_mixed_up};
use crate::axle::Context;
use crate::model::{Axle, SurveyPoint};
use crate::reader::Section;

/// Least and greatest distance of a wheel's centre from the centreline \[m\].
const HALF_TRACK: (f64, f64) = (0.350, 1.200);

/// Least and greatest length of a rod or an arm's leg \[m\].
const ROD: (f64, f64) = (0.080, 1.600);

/// Greatest distance of an upright's ball from the wheel's centre \[m\]: half of a rim of 24 in and a little.
const UPRIGHT_REACH: f64 = 0.330;

/// How far past the centreline a point may lie \[m\]: the reading error of a point on it.
const PAST_CENTRE: f64 = 0.001;

/// Points nearer than this to each other are hardly the two ends of anything \[m\].
const COINCIDENT: f64 = 1e-3;

/// Points nearer than this are one point: no direction can be had from them \[m\].
const SAME: f64 = 1e-5;

/// Difference between loaded radius and height of the wheel's centre that is worth a word \[m\].
const SUNK: f64 = 0.080;

/// Greatest distance of a hole from the point that it replaces \[m\].
const HOLE: f64 = 0.300;

/// What a slip in one coordinate multiplies it by: a sign, a digit, a unit.
const SLIPS: [f64; 7] = [-1.0, 0.1, 10.0, 25.4, 1.0 / 25.4, 1e3, 1e-3];

/// Two points whose distance matters, and what they are, taken before anything is mounted on a link.
pub(crate) struct Spans {
    pairs: Vec<(usize, usize, bool)>,
    on_upright: BTreeSet<usize>,
}

impl Spans {
    /// The rods, hinges and lines of a scheme.
    pub(crate) fn of(scheme: &Scheme) -> Self {
        let mut spans = Self { pairs: Vec::new(), on_upright: BTreeSet::new() };
        let upright = Frame::Body(UPRIGHT);
        for joint in &scheme.joints {
            match joint.kind {
                JointKind::Rod { a, b } => {
                    spans.pairs.push((a.point, b.point, true));
                    let held = |end: &PointOn| end.frame == upright;
                    spans.on_upright.extend([a, b].iter().filter(|end| held(end)).map(|end| end.point));
                }
                JointKind::Ball { a, b, point } if a == upright || b == upright => {
                    spans.on_upright.insert(point);
                }
                JointKind::Hinge { from, to, .. } => spans.pairs.push((from, to, false)),
                JointKind::OnLine { from, along: Direction::Toward(to), .. } => {
                    spans.pairs.push((from, to, false));
                }
                _ => {}
            }
        }
        spans
    }
}

/// Warns of slips. False, with an error, where two points that must differ are the same.
pub(crate) fn axle(root: &Section<'_>, axle: &Axle, spans: &Spans, context: &Context<'_>) -> bool {
    let mut judge = Judge { root, axle, context, units: &root.units, told: BTreeSet::new() };
    let usable = judge.distinct(spans);
    if usable && context.judge && judge.wheel() {
        judge.sides();
        judge.reach(spans);
        judge.rods(spans);
        judge.holes();
    }
    usable
}

struct Judge<'a, 'd> {
    root: &'a Section<'d>,
    axle: &'a Axle,
    context: &'a Context<'a>,
    units: &'a UnitSystem,
    /// Points that have been told of: one slip makes one warning.
    told: BTreeSet<usize>,
}

impl Judge<'_, '_> {
    fn warn(&self, span: &Range<usize>, message: String, hint: Option<String>) {
        self.root.sink.warning(span, message, hint);
    }

    fn name(&self, point: usize) -> String {
        let name = self.axle.scheme.points.get(point).map_or("", String::as_str);
        format!("{}.{name}", self.axle.end.name())
    }

    fn at(&self, point: usize) -> Option<&SurveyPoint> {
        self.axle.points.get(point)
    }

    /// Two ends in one place. False where that leaves no direction.
    fn distinct(&mut self, spans: &Spans) -> bool {
        let mut usable = true;
        let elements = self.axle.scheme.elements.iter().map(|e| (e.inner.point, e.outer.point, false));
        for (a, b, _) in spans.pairs.iter().copied().chain(elements) {
            let (Some(from), Some(to)) = (self.at(a), self.at(b)) else { continue };
            let apart = (from.at - to.at).norm();
            let names = format!("`{}` and `{}`", self.name(a), self.name(b));
            if apart < SAME {
                let hint = "was a line copied and not changed?".to_string();
                self.root.sink.error(&to.span, format!("{names} are the same point"), hint);
                usable = false;
            } else if apart < COINCIDENT {
                let message = format!("{names} are only {} apart", length(self.units, apart));
                self.warn(&to.span, message, Some("was a line copied and not changed?".to_string()));
                self.told.extend([a, b]);
            }
        }
        usable
    }

    /// The wheel itself. False where it is so far off that nothing can be judged by it.
    fn wheel(&self) -> bool {
        let wheel = &self.axle.wheel;
        let (centre, span) = (wheel.centre.at, &wheel.centre.span);
        let end = self.axle.end.name();
        let (units, name) = (self.units, format!("`{end}.wheel.centre`"));
        if !(HALF_TRACK.0..=HALF_TRACK.1).contains(&centre.y) {
            let message = format!("{name} is {} from the centreline", length(units, centre.y));
            let usual = format!("a wheel's middle is usually {} away", super::between(units, HALF_TRACK));
            self.warn(span, message, Some(meant(units, centre.y, HALF_TRACK).unwrap_or(usual)));
            return false;
        }
        let others = self.axle.points.iter().filter(|point| point.at.y < -PAST_CENTRE).count();
        if 2 * others > self.axle.points.len() {
            self.warn(
                span,
                format!("{name} is on the other side of the centreline than most points of its axle"),
                Some(
                    "a minus sign too many or too few in y? all points of an axle are of one side"
                        .to_string(),
                ),
            );
            return false;
        }
        let radius = wheel.loaded_radius.value;
        let told = !(LOADED_RADIUS.0..=LOADED_RADIUS.1).contains(&radius);
        if (centre.z - radius).abs() > SUNK && !told {
            let message = format!(
                "{name} is {} above the ground, and its loaded radius is {}",
                length(units, centre.z),
                length(units, radius)
            );
            let hint = match self.context.height_datum {
                Some(datum) => format!("measure again, also `z` of `[survey.datum.{datum}]`"),
                None => "the two should be nearly the same: measure again, from the ground".to_string(),
            };
            self.warn(span, message, Some(hint));
        }
        true
    }

    /// Points on the other side of the car than their wheel.
    fn sides(&mut self) {
        for (index, point) in self.axle.points.iter().enumerate() {
            if point.at.y < -PAST_CENTRE {
                let message = format!(
                    "`{}` is {} past the centreline, on the other side than its wheel",
                    self.name(index),
                    length(self.units, -point.at.y)
                );
                self.warn(&point.span, message, Some("a minus sign too many or too few in y?".to_string()));
                self.told.insert(index);
            }
        }
    }

    /// Balls of the upright that would not go inside a rim.
    fn reach(&mut self, spans: &Spans) {
        for &index in &spans.on_upright {
            let Some(point) = self.at(index) else { continue };
            let apart = point.at - self.axle.wheel.centre.at;
            if apart.norm() > UPRIGHT_REACH && !self.told.contains(&index) {
                let message = format!(
                    "`{}` is {} from the wheel's middle, too far for an end on the upright",
                    self.name(index),
                    length(self.units, apart.norm())
                );
                let fits = |at: &Vector3<f64>| (at - self.axle.wheel.centre.at).norm() <= UPRIGHT_REACH;
                let hint =
                    self.slip_of(point, fits).unwrap_or_else(|| "measure that point again".to_string());
                self.warn(&point.span, message, Some(hint));
                self.told.insert(index);
            }
        }
    }

    /// The slip of unit or of one digit that would put a point where it `fits`.
    fn slip_of(&self, point: &SurveyPoint, fits: impl Fn(&Vector3<f64>) -> bool) -> Option<String> {
        let mirror = |mut at: Vector3<f64>| {
            at.y = if self.axle.mirrored { -at.y } else { at.y };
            at
        };
        let written = self.context.frame.to_survey(mirror(point.at));
        let in_car = |written: Vector3<f64>| mirror(self.context.frame.to_car(written));
        if let Some((_, words)) =
            units_mixed_up(self.units).into_iter().find(|(factor, _)| fits(&in_car(written * *factor)))
        {
            return Some(words.to_string());
        }
        for (name, axis) in [("x", Vector3::x()), ("y", Vector3::y()), ("z", Vector3::z())] {
            for factor in SLIPS {
                let mended = written + axis * ((factor - 1.0) * written.dot(&axis));
                if fits(&in_car(mended)) {
                    return Some(format!("{name} would fit as {}", length(self.units, mended.dot(&axis))));
                }
            }
        }
        let apart = point.at - self.axle.wheel.centre.at;
        let name = ["x", "y", "z"].get(apart.iamax())?;
        Some(format!("its {name} is {} from the wheel's: measure it again", length(self.units, apart.amax())))
    }

    fn rods(&mut self, spans: &Spans) {
        for &(a, b, rod) in &spans.pairs {
            let (Some(from), Some(to)) = (self.at(a), self.at(b)) else { continue };
            let apart = (from.at - to.at).norm();
            let least = if rod { ROD.0 } else { 0.0 };
            if (least..=ROD.1).contains(&apart) || self.told.contains(&a) || self.told.contains(&b) {
                continue;
            }
            let message = format!(
                "`{}` and `{}` are {} apart, {} for one part of a suspension",
                self.name(a),
                self.name(b),
                length(self.units, apart),
                if apart < least { "too short" } else { "too long" }
            );
            let hint = "measure both points again".to_string();
            self.warn(&from.span, message, Some(hint));
            self.told.extend([a, b]);
        }
    }

    fn holes(&self) {
        for hole in &self.axle.holes {
            let Some(point) = self.at(hole.point) else { continue };
            let apart = (hole.at.at - point.at).norm();
            if apart > HOLE {
                let message = format!(
                    "hole `{}` is {} from `{}`, which it would replace",
                    hole.name,
                    length(self.units, apart),
                    self.name(hole.point)
                );
                self.warn(&hole.at.span, message, Some("measure it again, or correct its `end`".to_string()));
            }
        }
        for plate in &self.axle.plates {
            let holes: Vec<_> = self.axle.holes.iter().filter(|hole| hole.point == plate.point).collect();
            for (index, hole) in holes.iter().enumerate() {
                let near =
                    holes.iter().take(index).find(|other| (other.at.at - hole.at.at).norm() < plate.bolt);
                if let Some(other) = near {
                    let apart = length(self.units, (other.at.at - hole.at.at).norm());
                    let bolt = length(self.units, plate.bolt);
                    let message = format!(
                        "holes `{}` and `{}` are {apart} apart, less than their bolt of {bolt}",
                        other.name, hole.name
                    );
                    self.warn(&hole.at.span, message, Some("only one of them can be drilled".to_string()));
                }
            }
        }
    }
}

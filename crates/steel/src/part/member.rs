//! A straight tube or bar under the forces and moments at one of its stations.

use std::f64::consts::{FRAC_PI_2, PI};

use super::GAMMA_M0;
use super::figure::{finite, positive, strengths};
use super::stress::worst;
use crate::check::{Check, Failure, Measure, Term};
use crate::error::SteelError;
use crate::grade::Grade;
use crate::section::{Section, Shape};

/// End factor of a member with a ball at each end [-].
pub const BALL_ENDS: f64 = 1.0;

/// Imperfection of buckling curve c, that of cold-formed hollow sections (EN 1993-1-1 tables 6.1 and 6.2; remembered).
const CURVE_C: f64 = 0.49;

/// What to say of walls past the class limit.
const THIN: &str =
    "the wall is so thin that it may buckle before the steel yields (class 4 of EN 1993-1-1 table 5.2)";

/// What to say of a strut past its buckling force.
const PAST: &str = "the push is past the buckling force, bending grows without end";

/// A straight member of one section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member<'a> {
    /// Its section.
    pub section: &'a Section,
    /// Its steel.
    pub grade: &'a Grade,
    /// Length between its ends, for a link from ball to ball [m].
    pub length: f64,
    /// Buckling length over length [-]: 1 with balls at both ends, 2 with one end free, 0.65 in practice with both built in.
    pub end_factor: f64,
}

/// Forces and moments at a station, in the section's axes: x along the member, y and z the principal axes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Internal {
    /// Force along the member, tension positive [N].
    pub axial: f64,
    /// Force along y [N].
    pub shear_y: f64,
    /// Force along z [N].
    pub shear_z: f64,
    /// Moment about x [N m].
    pub torque: f64,
    /// Moment about y, bending in the x-z plane [N m].
    pub bending_y: f64,
    /// Moment about z, bending in the x-y plane [N m].
    pub bending_z: f64,
}

/// Where a strut buckles about one axis.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Strut {
    /// Buckling length over radius of gyration [-].
    slenderness: f64,
    /// Euler's force [N].
    euler: f64,
    /// Euler's force, or Johnson's below the limit of slenderness [N].
    capacity: f64,
}

impl<'a> Member<'a> {
    /// A member with balls at both ends.
    pub fn new(section: &'a Section, grade: &'a Grade, length: f64) -> Self {
        Self { section, grade, length, end_factor: BALL_ENDS }
    }

    /// Yield of the worst point, tension and buckling.
    ///
    /// # Errors
    /// A figure that no member has.
    pub fn checks(&self, at: &Internal) -> Result<Vec<Check>, SteelError> {
        self.sane()?;
        at.sane()?;
        let about_y = self.strut(self.section.second_y);
        let about_z = self.strut(self.section.second_z);
        Ok(vec![
            self.yielding(at, &about_y, &about_z),
            self.tension(at),
            self.buckling(at, &about_y, &about_z),
        ])
    }

    fn yielding(&self, at: &Internal, about_y: &Strut, about_z: &Strut) -> Check {
        let push = (-at.axial).max(0.0);
        let raise_y = raise(push, about_y.euler);
        let raise_z = raise(push, about_z.euler);
        let bends_y = at.bending_y.abs() > 0.0;
        let bends_z = at.bending_z.abs() > 0.0;
        let past = (bends_y && raise_y.is_infinite()) || (bends_z && raise_z.is_infinite());
        let raised = Internal {
            bending_y: if bends_y && !past { at.bending_y * raise_y } else { at.bending_y },
            bending_z: if bends_z && !past { at.bending_z * raise_z } else { at.bending_z },
            ..*at
        };
        let point = worst(self.section, &raised);
        let pressed = push > 0.0 || bends_y || bends_z;
        let mut terms = vec![
            term("sigma", point.place, point.along, Measure::Stress),
            term("tau", "shear stress at the same point", point.shear, Measure::Stress),
        ];
        if push > 0.0 && (bends_y || bends_z) && !past {
            terms.push(term("r_y", "bending about y grows by the push to", raise_y, Measure::Number));
            terms.push(term("r_z", "bending about z grows by the push to", raise_z, Measure::Number));
        }
        Check {
            failure: Failure::Yield,
            demand: if past { f64::INFINITY } else { point.combined() },
            capacity: self.grade.yields / GAMMA_M0,
            measure: Measure::Stress,
            terms,
            outside: if past {
                Some(PAST)
            } else if pressed {
                thin(&self.section.shape, self.grade.yields)
            } else {
                None
            },
        }
    }

    fn tension(&self, at: &Internal) -> Check {
        Check {
            failure: Failure::Tension,
            demand: at.axial.max(0.0),
            capacity: self.section.area * self.grade.yields / GAMMA_M0,
            measure: Measure::Force,
            terms: vec![
                term("A", "area of the section", self.section.area, Measure::Area),
                term("f_y", "yield strength", self.grade.yields, Measure::Stress),
            ],
            outside: None,
        }
    }

    fn buckling(&self, at: &Internal, about_y: &Strut, about_z: &Strut) -> Check {
        let strut = if about_z.capacity < about_y.capacity { about_z } else { about_y };
        let push = (-at.axial).max(0.0);
        Check {
            failure: Failure::Buckling,
            demand: push,
            capacity: strut.capacity,
            measure: Measure::Force,
            terms: vec![
                term("KL", "buckling length", self.end_factor * self.length, Measure::Length),
                term(
                    "s",
                    "slenderness, buckling length over radius of gyration",
                    strut.slenderness,
                    Measure::Number,
                ),
                term("C_c", "slenderness above which Euler holds", self.limit(), Measure::Number),
                term("P_E", "Euler's force", strut.euler, Measure::Force),
                term(
                    "N_b",
                    "for comparison, what EN 1993-1-1 curve c (cold-formed tube, crooked as delivered) allows",
                    self.curve_c(strut.euler),
                    Measure::Force,
                ),
            ],
            outside: if push > 0.0 { thin(&self.section.shape, self.grade.yields) } else { None },
        }
    }

    /// Buckling about an axis with that second moment.
    fn strut(&self, second: f64) -> Strut {
        let Section { area, .. } = *self.section;
        let Grade { young, yields, .. } = *self.grade;
        let slenderness = self.end_factor * self.length / (second / area).sqrt();
        let euler = PI * PI * young * area / (slenderness * slenderness);
        let johnson = area * yields * (1.0 - yields * slenderness * slenderness / (4.0 * PI * PI * young));
        Strut { slenderness, euler, capacity: if slenderness > self.limit() { euler } else { johnson } }
    }

    /// Slenderness above which Euler holds: `C_c = sqrt(2 pi^2 E/S_y)`.
    fn limit(&self) -> f64 {
        (2.0 * PI * PI * self.grade.young / self.grade.yields).sqrt()
    }

    /// `chi A f_y` of EN 1993-1-1 6.3.1 with curve c, gamma M1 = 1 [N].
    fn curve_c(&self, euler: f64) -> f64 {
        let squash = self.section.area * self.grade.yields;
        let slender = (squash / euler).sqrt();
        let phi = 0.5 * (1.0 + CURVE_C * (slender - 0.2) + slender * slender);
        squash * (1.0 / (phi + (phi * phi - slender * slender).max(0.0).sqrt())).min(1.0)
    }

    /// Refuses figures that no member has.
    pub(super) fn sane(&self) -> Result<(), SteelError> {
        let section = self.section;
        positive("the area of the section", section.area)?;
        positive("the second moment about y", section.second_y)?;
        positive("the second moment about z", section.second_z)?;
        positive("the section modulus about y", section.modulus_y)?;
        positive("the section modulus about z", section.modulus_z)?;
        positive("the torsion modulus", section.torsion_modulus)?;
        match section.shape {
            Shape::Round { diameter, wall } => {
                positive("the diameter", diameter)?;
                positive("the wall", wall)?;
            }
            Shape::Box { height, width, wall, .. } => {
                positive("the height", height)?;
                positive("the width", width)?;
                positive("the wall", wall)?;
            }
            Shape::Bar { diameter } => {
                positive("the diameter", diameter)?;
            }
            Shape::Flat { height, width } => {
                positive("the height", height)?;
                positive("the width", width)?;
            }
        }
        positive("the length", self.length)?;
        positive("the end factor", self.end_factor)?;
        positive("the modulus of elasticity", self.grade.young)?;
        strengths("the steel of the member", self.grade.yields, self.grade.breaks)
    }
}

impl Internal {
    /// Refuses what is not a number.
    pub(super) fn sane(&self) -> Result<(), SteelError> {
        finite("the axial force", self.axial)?;
        finite("the shear force along y", self.shear_y)?;
        finite("the shear force along z", self.shear_z)?;
        finite("the torque", self.torque)?;
        finite("the bending moment about y", self.bending_y)?;
        finite("the bending moment about z", self.bending_z)?;
        Ok(())
    }
}

/// How much a push raises bending: `sec(pi/2 sqrt(P/P_E))`, without end past Euler's force.
///
/// This is exact for an even moment from end to end, the worst distribution there is; the common `1/(1 - P/P_E)` is up to
/// 21 % less.
fn raise(push: f64, euler: f64) -> f64 {
    if push < euler { 1.0 / (FRAC_PI_2 * (push / euler).sqrt()).cos() } else { f64::INFINITY }
}

/// What is to be said of a wall past class 3 of EN 1993-1-1 table 5.2: `d/t > 90 eps^2` (remembered) or `c/t > 42 eps` (read in
/// an extract) with `eps^2 = 235 MPa/f_y`.
fn thin(shape: &Shape, yields: f64) -> Option<&'static str> {
    let square = 235e6 / yields;
    let past = match *shape {
        Shape::Round { diameter, wall } => diameter / wall > 90.0 * square,
        // The flat part of a wall is taken as its size less three walls, as design tables do.
        Shape::Box { height, width, wall, .. } => height.max(width) / wall - 3.0 > 42.0 * square.sqrt(),
        Shape::Bar { .. } | Shape::Flat { .. } => false,
    };
    past.then_some(THIN)
}

/// A figure of a check.
pub(super) fn term(symbol: &'static str, meaning: &'static str, value: f64, measure: Measure) -> Term {
    Term { symbol, meaning, value, measure }
}

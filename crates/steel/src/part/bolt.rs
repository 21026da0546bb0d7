//! A bolt in shear, tension and bending, and the joint that it clamps.

use std::f64::consts::{FRAC_PI_4, PI};

use super::figure::{not_negative, strengths};
use super::member::term;
use super::{GAMMA_M0, GAMMA_M2, GAMMA_M3, Thread};
use crate::check::{Check, Failure, Measure};
use crate::error::SteelError;
use crate::grade::Class;

/// What to say of bolts above the classes of the standard.
const HARD: &str = "EN 1993-1-8 ends with class 10.9: harder bolts are brittle and are taken as 10.9 is";

/// Planes in which a bolt is sheared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Planes {
    /// One: the bolt stands out of a single tab.
    One,
    /// Two: the bolt goes through a clevis.
    Two,
}

/// A joint that was clamped with a known torque, so that it holds by friction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamp {
    /// Clamping force [N]; none for the 0.7 of the tensile strength of EN 1993-1-8 3.9.1, only for a bolt torqued to it.
    pub force: Option<f64>,
    /// Friction [-]: 0.2 as rolled, 0.3 wire-brushed, 0.5 blasted (EN 1993-1-8 table 3.7; remembered). Paint and oil: less.
    pub friction: f64,
    /// Surfaces that rub.
    pub surfaces: u8,
}

/// How far apart a bolt is held and pushed, for its bending.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Thickness of the tab, of each where there are two [m].
    pub outer: f64,
    /// Gap or spacer between tab and what the bolt carries, on each side [m].
    pub gap: f64,
    /// Width of what the bolt carries, for instance the ball of a rod end [m].
    pub inner: f64,
}

/// A bolt.
#[derive(Clone, Debug, PartialEq)]
pub struct Bolt {
    /// Its thread.
    pub thread: Thread,
    /// Its strengths.
    pub class: Class,
    /// Planes in which it is sheared.
    pub planes: Planes,
    /// Whether the thread reaches into a plane of shear.
    pub thread_in_plane: bool,
    /// How far apart it is held and pushed; none where the parts lie on each other and are thin.
    pub spread: Option<Spread>,
    /// How it is clamped; none where nobody measured its torque: then nothing is said of slip.
    pub clamp: Option<Clamp>,
}

/// What acts on a bolt.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BoltLoad {
    /// Force across it, over all its planes [N].
    pub shear: f64,
    /// Force along it that pulls head and nut apart [N].
    pub tension: f64,
}

impl Bolt {
    /// Shear, tension, both, bending where it is spread, slip where it is clamped.
    ///
    /// # Errors
    /// A figure that no bolt has.
    pub fn checks(&self, load: &BoltLoad) -> Result<Vec<Check>, SteelError> {
        self.sane()?;
        let shear = super::figure::finite("the shear force", load.shear)?.abs();
        let tension = not_negative("the tension", load.tension)?;
        let (a_shear, factor) = (self.shear_area(), self.shear_factor());
        let a_stress = self.thread.stress_area();
        let f_ub = self.class.breaks;
        let each = shear / self.planes.count();
        let resists_shear = factor * f_ub * a_shear / GAMMA_M2;
        let resists_tension = 0.9 * f_ub * a_stress / GAMMA_M2;
        let outside = (f_ub > 1100e6).then_some(HARD);
        let mut checks = vec![
            Check {
                failure: Failure::BoltShear,
                demand: each,
                capacity: resists_shear,
                measure: Measure::Force,
                terms: vec![
                    term("alpha_v", "share of the tensile strength in shear", factor, Measure::Number),
                    term("f_ub", "tensile strength of the bolt", f_ub, Measure::Stress),
                    term("A", "area in the plane of shear", a_shear, Measure::Area),
                ],
                outside,
            },
            Check {
                failure: Failure::BoltTension,
                demand: tension,
                capacity: resists_tension,
                measure: Measure::Force,
                terms: vec![
                    term("f_ub", "tensile strength of the bolt", f_ub, Measure::Stress),
                    term("A_s", "stress area of the thread", a_stress, Measure::Area),
                ],
                outside,
            },
            Check {
                failure: Failure::BoltCombined,
                demand: each / resists_shear + tension / (1.4 * resists_tension),
                capacity: 1.0,
                measure: Measure::Number,
                terms: vec![
                    term("F_v", "shear in one plane", each, Measure::Force),
                    term("F_v,Rd", "shear resistance", resists_shear, Measure::Force),
                    term("F_t", "tension", tension, Measure::Force),
                    term("F_t,Rd", "tension resistance", resists_tension, Measure::Force),
                ],
                outside,
            },
        ];
        if let Some(spread) = &self.spread {
            checks.extend(self.bending(spread, shear, each / resists_shear, outside));
        }
        if let Some(clamp) = &self.clamp {
            checks.push(self.slip(clamp, shear, tension));
        }
        Ok(checks)
    }

    /// Bending as a pin, and bending with shear.
    fn bending(
        &self,
        spread: &Spread,
        shear: f64,
        sheared: f64,
        outside: Option<&'static str>,
    ) -> [Check; 2] {
        let Spread { outer, gap, inner } = *spread;
        let moment = match self.planes {
            Planes::Two => shear / 8.0 * (inner + 4.0 * gap + 2.0 * outer),
            // A cantilever from the middle of the tab to the middle of what it carries.
            Planes::One => shear * (inner / 2.0 + gap + outer / 2.0),
        };
        let modulus = if self.thread_in_plane {
            self.thread.core_modulus()
        } else {
            PI * self.thread.diameter.powi(3) / 32.0
        };
        let resists = 1.5 * modulus * self.class.yields / GAMMA_M0;
        [
            Check {
                failure: Failure::BoltBending,
                demand: moment,
                capacity: resists,
                measure: Measure::Moment,
                terms: vec![
                    term("F", "force across the bolt", shear, Measure::Force),
                    term("a", "thickness of a tab", outer, Measure::Length),
                    term("b", "width of what the bolt carries", inner, Measure::Length),
                    term("c", "gap or spacer on each side", gap, Measure::Length),
                    term("W", "section modulus of the bolt", modulus, Measure::Modulus),
                    term("f_yb", "yield strength of the bolt", self.class.yields, Measure::Stress),
                ],
                outside,
            },
            Check {
                failure: Failure::BoltShearBending,
                // The root of the sum of squares, so that the figure grows as the load does.
                demand: (moment / resists).hypot(sheared),
                capacity: 1.0,
                measure: Measure::Number,
                terms: vec![
                    term("M", "bending moment", moment, Measure::Moment),
                    term("M_Rd", "bending resistance", resists, Measure::Moment),
                    term("F_v/F_v,Rd", "share of the shear resistance", sheared, Measure::Number),
                ],
                outside,
            },
        ]
    }

    /// Slip of the clamped joint.
    fn slip(&self, clamp: &Clamp, shear: f64, tension: f64) -> Check {
        let full = 0.7 * self.class.breaks * self.thread.stress_area();
        let force = clamp.force.unwrap_or(full);
        // EN 1993-1-8 3.9.2: four fifths of a pull are taken off the clamp.
        let left = (force - 0.8 * tension).max(0.0);
        Check {
            failure: Failure::Slip,
            demand: shear,
            capacity: clamp.friction * f64::from(clamp.surfaces) * left / GAMMA_M3,
            measure: Measure::Force,
            terms: vec![
                term("mu", "friction", clamp.friction, Measure::Number),
                term("n", "surfaces that rub", f64::from(clamp.surfaces), Measure::Number),
                term("F_p,C", "clamping force", force, Measure::Force),
                term("F_t", "tension", tension, Measure::Force),
            ],
            outside: (force > full)
                .then_some("the clamp is above the 0.7 of the tensile strength that EN 1993-1-8 allows"),
        }
    }

    /// Area in the plane of shear [m^2].
    fn shear_area(&self) -> f64 {
        if self.thread_in_plane {
            self.thread.stress_area()
        } else {
            FRAC_PI_4 * self.thread.diameter.powi(2)
        }
    }

    /// `alpha_v` of EN 1993-1-8 table 3.4: 0.6; through the thread of 10.9 and harder, and of the cold-drawn classes 4.8, 5.8 and
    /// 6.8, 0.5.
    fn shear_factor(&self) -> f64 {
        let Class { yields, breaks, .. } = self.class;
        let hard = breaks > 850e6;
        let drawn = breaks < 700e6 && yields > 0.75 * breaks;
        if self.thread_in_plane && (hard || drawn) { 0.5 } else { 0.6 }
    }

    /// Refuses figures that no bolt has.
    fn sane(&self) -> Result<(), SteelError> {
        self.thread.sane()?;
        strengths("the bolt", self.class.yields, self.class.breaks)?;
        if let Some(Spread { outer, gap, inner }) = self.spread {
            not_negative("the thickness of the tab", outer)?;
            not_negative("the gap", gap)?;
            not_negative("the width of what the bolt carries", inner)?;
        }
        if let Some(Clamp { force, friction, .. }) = self.clamp {
            not_negative("the clamping force", force.unwrap_or(0.0))?;
            not_negative("the friction", friction)?;
        }
        Ok(())
    }
}

impl Planes {
    /// How many.
    pub fn count(self) -> f64 {
        match self {
            Self::One => 1.0,
            Self::Two => 2.0,
        }
    }
}

//! A tab, or a pair of tabs, with one bolt hole, standing on a weld.

use super::figure::{finite, not_negative, positive, strengths};
use super::member::term;
use super::{GAMMA_M0, GAMMA_M2, Planes};
use crate::check::{Check, Failure, Measure, Term};
use crate::error::SteelError;
use crate::grade::Grade;

/// Cosine of the 40 degrees at which a bolt tears a lug open (E. F. Bruhn, Analysis and Design of Flight Vehicle Structures, D1;
/// remembered).
const TEARS_AT: f64 = 0.766_044_443_118_978;

/// Shear strength over tensile strength of steel [-] (EN 1993-1-8 table 3.4 for bolts, and aircraft practice; remembered).
const SHEARS: f64 = 0.6;

/// Hole diameters that EN 1993-1-8 table 3.3 leaves at least between the hole's centre and an edge [-] (remembered).
const LEAST_EDGE: f64 = 1.2;

/// Least `k_1` [-]: the standard's line falls to zero for edges far below what it allows, and a resistance of zero says nothing.
const LEAST_K1: f64 = 0.2;

/// Free height over thickness up to which an outstanding plate yields before it buckles [-], times `sqrt(235 MPa/f_y)`
/// (EN 1993-1-1 table 5.2 class 3; read in an extract).
const STANDS: f64 = 14.0;

/// A tab, or one of a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tab<'a> {
    /// Thickness of each plate [m].
    pub thickness: f64,
    /// Width across the load, at the hole [m].
    pub width: f64,
    /// Centre of the hole to the free end [m].
    pub edge: f64,
    /// Diameter of the hole [m].
    pub hole: f64,
    /// Diameter of the bolt [m].
    pub bolt: f64,
    /// Tensile strength of the bolt [Pa].
    pub bolt_breaks: f64,
    /// One plate in single shear, or the two of a clevis.
    pub plates: Planes,
    /// Middle of the plate to the line of the force [m]: half the plate, any spacer, half the rod end. Zero for a clevis.
    pub offset: f64,
    /// Steel of the plates.
    pub grade: &'a Grade,
    /// Where it is welded on; none for a plate that is part of something stiffer.
    pub root: Option<Root>,
}

/// The welded end of a tab.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Root {
    /// Width at the weld [m].
    pub width: f64,
    /// Weld to the centre of the hole [m].
    pub height: f64,
}

/// Force of the bolt on the tab or the pair, in the tab's directions.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TabLoad {
    /// Away from the weld, towards the free end, positive [N].
    pub along: f64,
    /// In the plane of the plate, across it [N].
    pub across: f64,
    /// Along the hole [N].
    pub through: f64,
}

impl Tab<'_> {
    /// Bearing, tear-out, net section, bending by the offset, and the root.
    ///
    /// # Errors
    /// A figure that no tab has.
    pub fn checks(&self, load: &TabLoad) -> Result<Vec<Check>, SteelError> {
        self.sane(load)?;
        // Two plates share what lies in their plane; a push along the hole is taken by one of them alone.
        let share = self.plates.count();
        let each = TabLoad { along: load.along / share, across: load.across / share, through: load.through };
        let mut checks = vec![self.bearing(&each), self.tear_out(&each), self.net(&each)];
        if self.offset > 0.0 {
            checks.push(self.at_hole(&each));
        }
        if let Some(root) = &self.root {
            checks.push(self.at_root(&each, root));
        }
        Ok(checks)
    }

    fn bearing(&self, load: &TabLoad) -> Check {
        let pin = 1.5 * self.grade.yields / GAMMA_M0;
        let bolt = 1.5 * self.grade.breaks.min(self.bolt_breaks) / GAMMA_M2;
        Check {
            failure: Failure::Bearing,
            demand: load.along.hypot(load.across),
            capacity: self.thickness * self.bolt * pin.min(bolt),
            measure: Measure::Force,
            terms: vec![
                term("t", "thickness of the plate", self.thickness, Measure::Length),
                term("d", "diameter of the bolt", self.bolt, Measure::Length),
                term("1.5 f_y", "bearing stress by the rule for pins", pin, Measure::Stress),
                term("1.5 f_u/g", "bearing stress by the rule for a single bolt", bolt, Measure::Stress),
            ],
            outside: None,
        }
    }

    fn tear_out(&self, load: &TabLoad) -> Check {
        let (end_lug, end_bolt) = self.torn(self.edge, self.width / 2.0);
        let (side_lug, side_bolt) = self.torn(self.width / 2.0, self.edge);
        let (end, side) = (end_lug.min(end_bolt), side_lug.min(side_bolt));
        let close = self.edge.min(self.width / 2.0) < LEAST_EDGE * self.hole;
        Check {
            failure: Failure::TearOut,
            // Shares of the two ways add up; given as the force towards the end that is as bad.
            demand: load.along.max(0.0) + load.across.abs() * end / side,
            capacity: end,
            measure: Measure::Force,
            terms: vec![
                term("e_1", "centre of the hole to the free end", self.edge, Measure::Length),
                term("e_2", "centre of the hole to the side", self.width / 2.0, Measure::Length),
                term("R_40", "towards the end, torn out at 40 degrees", end_lug, Measure::Force),
                term("R_b", "towards the end, by the rule for bolts", end_bolt, Measure::Force),
                term("R_s", "towards the side, the smaller of the two", side, Measure::Force),
            ],
            outside: close.then_some(
                "the hole is nearer to an edge than the 1.2 hole diameters that EN 1993-1-8 table 3.3 asks for",
            ),
        }
    }

    /// Resistance to tearing out over `edge`, with `beside` to the other edge [N]: at 40 degrees, and by EN 1993-1-8.
    fn torn(&self, edge: f64, beside: f64) -> (f64, f64) {
        let Self { thickness, hole, bolt, .. } = *self;
        let f_u = self.grade.breaks;
        let lug = 2.0 * thickness * (edge - hole / 2.0 * TEARS_AT) * SHEARS * f_u / GAMMA_M2;
        let k_1 = (2.8 * beside / hole - 1.7).clamp(LEAST_K1, 2.5);
        let alpha_b = (edge / (3.0 * hole)).min(self.bolt_breaks / f_u).min(1.0);
        (lug, k_1 * alpha_b * f_u * bolt * thickness / GAMMA_M2)
    }

    fn net(&self, load: &TabLoad) -> Check {
        let net = (self.width - self.hole) * self.thickness;
        let gross = self.width * self.thickness;
        let torn = 0.9 * net * self.grade.breaks / GAMMA_M2;
        let stretched = gross * self.grade.yields / GAMMA_M0;
        Check {
            failure: Failure::NetSection,
            demand: load.along.max(0.0),
            capacity: torn.min(stretched),
            measure: Measure::Force,
            terms: vec![
                term("A_net", "area beside the hole", net, Measure::Area),
                term("A", "area of the whole width", gross, Measure::Area),
                term("N_u", "parts beside the hole at", torn, Measure::Force),
                term("N_pl", "the whole width yields at", stretched, Measure::Force),
            ],
            outside: None,
        }
    }

    /// Out-of-plane bending at the hole by the offset of the force.
    fn at_hole(&self, load: &TabLoad) -> Check {
        let net = (self.width - self.hole) * self.thickness;
        let direct = load.along.abs() / net;
        let bending = load.along.abs() * self.offset * 6.0 / (net * self.thickness);
        self.stress(
            Failure::TabBending,
            direct + bending,
            vec![
                term("F", "force along the tab", load.along.abs(), Measure::Force),
                term("e", "middle of the plate to the line of the force", self.offset, Measure::Length),
                term("sigma_N", "stress of the force itself", direct, Measure::Stress),
                term("sigma_M", "stress of bending by the offset", bending, Measure::Stress),
            ],
            None,
        )
    }

    /// The tab as a cantilever from its weld.
    fn at_root(&self, load: &TabLoad, root: &Root) -> Check {
        let t = self.thickness;
        let area = root.width * t;
        let (along, across, through) = (load.along.abs(), load.across.abs(), load.through.abs());
        let direct = along / area;
        let flat = (along * self.offset + through * root.height) * 6.0 / (area * t);
        let edgewise = across * root.height * 6.0 / (area * root.width);
        // A force across that is off the plate twists it: T/(b t^2/3). Shear is taken as 3/2 of its mean.
        let twist = across * self.offset * 3.0 / (area * t);
        let shear = 1.5 * across.hypot(through) / area + twist;
        let normal = direct + flat + edgewise;
        let slender = root.height > STANDS * (235e6 / self.grade.yields).sqrt() * t;
        self.stress(
            Failure::TabRoot,
            normal.hypot(3_f64.sqrt() * shear),
            vec![
                term("h", "weld to the centre of the hole", root.height, Measure::Length),
                term("b", "width at the weld", root.width, Measure::Length),
                term("sigma_N", "stress of the force away from the weld", direct, Measure::Stress),
                term("sigma_t", "stress of bending over the thin way", flat, Measure::Stress),
                term("sigma_b", "stress of bending over the wide way", edgewise, Measure::Stress),
                term("tau", "shear stress", shear, Measure::Stress),
            ],
            (slender && load.along < 0.0).then_some(
                "the tab is so high for its thickness that it may buckle when pushed towards its weld",
            ),
        )
    }

    fn stress(
        &self,
        failure: Failure,
        demand: f64,
        terms: Vec<Term>,
        outside: Option<&'static str>,
    ) -> Check {
        Check {
            failure,
            demand,
            capacity: self.grade.yields / GAMMA_M0,
            measure: Measure::Stress,
            terms,
            outside,
        }
    }

    fn sane(&self, load: &TabLoad) -> Result<(), SteelError> {
        let hole = positive("the hole", self.hole)?;
        let width = positive("the width of the tab", self.width)?;
        let edge = positive("the centre of the hole to the end", self.edge)?;
        let bolt = positive("the diameter of the bolt", self.bolt)?;
        positive("the thickness of the tab", self.thickness)?;
        positive("the tensile strength of the bolt", self.bolt_breaks)?;
        not_negative("the offset of the force", self.offset)?;
        strengths("the steel of the tab", self.grade.yields, self.grade.breaks)?;
        if let Some(root) = &self.root {
            positive("the width at the weld", root.width)?;
            not_negative("the height of the hole over the weld", root.height)?;
        }
        finite("the force along the tab", load.along)?;
        finite("the force across the tab", load.across)?;
        finite("the force along the hole", load.through)?;
        // A hair's breadth is no plate: below it the stresses would leave all bounds.
        if hole > 0.999 * width {
            return Err(SteelError::HoleTooWide { hole, width });
        }
        if edge < 0.501 * hole {
            return Err(SteelError::HoleAtEdge { hole, edge });
        }
        if bolt > hole * (1.0 + 1e-9) {
            return Err(SteelError::BoltInHole { bolt, hole });
        }
        Ok(())
    }
}

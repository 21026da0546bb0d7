//! A group of fillet welds under a force beside its middle.

use nalgebra::{SymmetricEigen, Vector3};

use super::figure::{positive, strengths, vector};
use super::member::term;
use super::{GAMMA_M2, WeldLine};
use crate::check::{Check, Failure, Measure};
use crate::error::SteelError;
use crate::grade::Grade;

/// Share of the greatest stiffness against turning below which welds lie in one line.
const IN_LINE: f64 = 1e-9;

/// Share of a moment that may be left to such a line: rounding.
const LEFT: f64 = 1e-7;

/// Fillet welds that work together.
#[derive(Clone, Debug, PartialEq)]
pub struct WeldGroup<'a> {
    /// Its lines.
    pub lines: Vec<WeldLine>,
    /// Steel of the weaker part joined, as it is after welding.
    pub grade: &'a Grade,
    /// Tensile strength of the filler as laid [Pa]; none where it is known to be as strong as the steel.
    pub filler: Option<f64>,
    /// Thickness of the thinnest part joined [m].
    pub thinnest: f64,
}

/// What acts on the welds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WeldLoad {
    /// Force [N].
    pub force: Vector3<f64>,
    /// Where it acts [m].
    pub at: Vector3<f64>,
    /// Moment besides that of the force [N m].
    pub moment: Vector3<f64>,
}

/// Stresses in the throat at one point [Pa].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Throat {
    /// Square to the throat.
    normal: f64,
    /// In the throat, square to the weld.
    across: f64,
    /// In the throat, along the weld.
    along: f64,
}

impl WeldGroup<'_> {
    /// The worst point of the throats, and the greatest stress square to a throat where faces are known.
    ///
    /// # Errors
    /// No welds, a figure that is none, or a moment about the one line in which all welds lie.
    pub fn checks(&self, load: &WeldLoad) -> Result<Vec<Check>, SteelError> {
        strengths("the steel of the part", self.grade.yields, self.grade.breaks)?;
        positive("the thickness of the thinnest part", self.thinnest)?;
        let f_u = match self.filler {
            Some(filler) => self.grade.breaks.min(positive("the tensile strength of the filler", filler)?),
            None => self.grade.breaks,
        };
        let mut worst = Throat::default();
        let mut pulled: Option<f64> = None;
        for point in self.points(load)? {
            if point.combined() > worst.combined() {
                worst = point;
            }
        }
        if self.lines.iter().all(|line| line.face.is_some()) {
            let greatest = self.points(load)?.iter().map(|point| point.normal.abs()).fold(0.0, f64::max);
            pulled = Some(greatest);
        }
        let beta = correlation(self.grade.yields);
        let outside = self.outside();
        let strength = term("f_u", "tensile strength, the smaller of part and filler", f_u, Measure::Stress);
        let mut checks = vec![Check {
            failure: Failure::Weld,
            demand: worst.combined(),
            capacity: f_u / (beta * GAMMA_M2),
            measure: Measure::Stress,
            terms: vec![
                term("sigma_p", "stress square to the throat", worst.normal, Measure::Stress),
                term("tau_p", "shear in the throat, square to the weld", worst.across, Measure::Stress),
                term("tau_l", "shear in the throat, along the weld", worst.along, Measure::Stress),
                term("beta_w", "correlation factor", beta, Measure::Number),
                strength.clone(),
            ],
            outside,
        }];
        if let Some(pulled) = pulled {
            checks.push(Check {
                failure: Failure::WeldNormal,
                demand: pulled,
                capacity: 0.9 * f_u / GAMMA_M2,
                measure: Measure::Stress,
                terms: vec![strength],
                outside,
            });
        }
        Ok(checks)
    }

    /// Stresses at both ends of every line: between them they change evenly, so that the worst is at an end.
    ///
    /// The welds are taken as evenly stiff in every direction, the parts as rigid: `s = F/A + w x r`, `J w = M` about the
    /// middle of the throats.
    fn points(&self, load: &WeldLoad) -> Result<Vec<Throat>, SteelError> {
        vector("the force on the weld", load.force)?;
        vector("the place of the force on the weld", load.at)?;
        vector("the moment on the weld", load.moment)?;
        if self.lines.is_empty() {
            return Err(SteelError::None { what: "welds" });
        }
        let area = self.lines.iter().map(WeldLine::area).sum::<f64>();
        let middle =
            self.lines.iter().map(|line| (line.from + line.to) * (line.area() / 2.0)).sum::<Vector3<f64>>()
                / area;
        let lever = (load.at - middle).cross(&load.force);
        let moment = load.moment + lever;
        // Rounding is measured by what went into the moment, not by what is left of it.
        let size = load.moment.norm() + (load.at - middle).norm() * load.force.norm();
        let stiffness = SymmetricEigen::new(self.lines.iter().map(|line| line.inertia(middle)).sum());
        let greatest = stiffness.eigenvalues.max();
        let mut turn = Vector3::zeros();
        for (value, axis) in stiffness.eigenvalues.iter().zip(stiffness.eigenvectors.column_iter()) {
            let about = moment.dot(&axis);
            if *value > IN_LINE * greatest {
                turn += axis * (about / value);
            } else if about.abs() > LEFT * size {
                return Err(SteelError::InLine { what: "welds" });
            }
        }
        let direct = load.force / area;
        Ok(self
            .lines
            .iter()
            .flat_map(|line| {
                [line.from, line.to].map(|place| resolve(line, direct + turn.cross(&(place - middle))))
            })
            .collect())
    }

    /// Why the welds are past the standard's rules.
    fn outside(&self) -> Option<&'static str> {
        let any = |test: fn(&WeldLine) -> bool| self.lines.iter().any(test);
        if any(|line| line.throat < 2.999e-3) {
            return Some("a throat is below 3 mm, the least of EN 1993-1-8 4.5.2");
        }
        if any(|line| line.run < 0.03_f64.max(6.0 * line.throat) * (1.0 - 1e-9)) {
            return Some(
                "a weld is shorter than 30 mm or 6 throats: EN 1993-1-8 4.5.1 lets it carry nothing",
            );
        }
        if any(|line| line.run > 150.0 * line.throat) {
            return Some("a weld is longer than 150 throats: its ends carry more than its middle");
        }
        if self.lines.iter().any(|line| line.throat > 0.75 * self.thinnest) {
            return Some(
                "a throat is above 0.7 of the thinnest part: the part burns through or gives way first",
            );
        }
        if self.thinnest < 2.499e-3 {
            return Some(
                "EN 1993-1-8 covers welds on plates from 4 mm and on hollow sections from 2.5 mm only",
            );
        }
        if self.grade.yields > 460e6 && self.filler.is_none() {
            return Some(
                "above 460 MPa yield the filler is often weaker than the steel: give its tensile strength",
            );
        }
        None
    }
}

impl Throat {
    /// `sqrt(sigma_p^2 + 3 (tau_p^2 + tau_l^2))` [Pa].
    fn combined(&self) -> f64 {
        self.normal.hypot(3_f64.sqrt() * self.across.hypot(self.along))
    }
}

/// Stresses of a throat by the force on its area. Where the face is not known, all that is square to the weld counts as shear,
/// the worst there can be: this is the simplified method of EN 1993-1-8 4.5.3.3.
fn resolve(line: &WeldLine, stress: Vector3<f64>) -> Throat {
    let along = stress.dot(&line.along);
    match line.face {
        Some((face, normal)) => Throat { normal: stress.dot(&normal), across: stress.dot(&face), along },
        None => Throat { normal: 0.0, across: (stress - along * line.along).norm(), along },
    }
}

/// `beta_w` of EN 1993-1-8 table 4.1 by yield strength: 0.8 for S235, 0.85 for S275, 0.9 for S355, 1 above (read in open guides).
fn correlation(yields: f64) -> f64 {
    match yields {
        f if f <= 240e6 => 0.8,
        f if f <= 280e6 => 0.85,
        f if f <= 360e6 => 0.9,
        _ => 1.0,
    }
}

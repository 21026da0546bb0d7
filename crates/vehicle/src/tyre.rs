//! Tyres: force and moment from slip, inclination and load.
//!
//! Signs (ISO 8855 and the tyre axes of the 2002-style sets; remembered): x along the wheel's heading, y left, z up.
//! Slip angle `alpha = atan(v_y/|v_x|)` of the wheel centre, so a positive one gives a *negative* side force. Slip
//! `kappa = (omega R - v_x)/|v_x|`, negative under the brakes, -1 for a locked wheel. Inclination positive with the
//! top of the wheel to the right (turned about +x); for the left wheel that is negative camber.

pub mod magic;
pub mod parameters;
pub mod simple;

mod answers;
mod curve;

use linkage::scalar::{Real, constant};
use num_dual::Dual64;

pub use answers::Question;
pub use curve::shape;
pub use parameters::{Parameters, SlipConvention};
pub use simple::SimpleTyre;

use crate::error::VehicleError;
use crate::root::root;

/// State of a tyre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slip<T> {
    /// Longitudinal slip [-].
    pub kappa: T,
    /// Slip angle [rad].
    pub alpha: T,
    /// Inclination [rad].
    pub inclination: T,
    /// Vertical load [N].
    pub load: T,
}

impl<T: Real> Slip<T> {
    /// No slip, upright.
    pub fn rolling(load: T) -> Self {
        let o = constant(0.0);
        Self { kappa: o, alpha: o, inclination: o, load }
    }
}

/// What lies outside the range for which the tyre was measured or given. The figure is then an extrapolation.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Outside {
    /// The load.
    pub load: bool,
    /// Slip or slip angle.
    pub slip: bool,
    /// Inclination.
    pub inclination: bool,
}

impl Outside {
    /// Whether anything does.
    pub fn any(self) -> bool {
        self.load || self.slip || self.inclination
    }

    /// Either's marks.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self {
            load: self.load || other.load,
            slip: self.slip || other.slip,
            inclination: self.inclination || other.inclination,
        }
    }
}

/// Force of the road on the tyre, in tyre axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreForce<T> {
    /// Along the heading [N].
    pub fx: T,
    /// To the left [N].
    pub fy: T,
    /// About the vertical [Nm]; `None` from a model that has none.
    pub mz: Option<T>,
    /// Marks.
    pub outside: Outside,
}

/// A tyre by one of the two models.
#[derive(Clone, Debug, PartialEq)]
pub enum Tyre {
    /// From a handful of figures.
    Simple(SimpleTyre),
    /// From a 2002-style parameter set.
    Magic(Box<Parameters>),
}

/// Slip at which the search for the peak ends [-]: beyond it no tyre peaks.
pub const MOST_SLIP: f64 = 1.0;

/// Slip of the other sign allowed when a force is looked for [-]: horizontal shifts of published sets are below it.
const SHIFTED_SLIP: f64 = 0.02;

/// Slip angle at which the search for the peak ends [rad].
pub const MOST_SLIP_ANGLE: f64 = 0.5;

impl Tyre {
    /// Force and moment. Zero load gives zero force.
    pub fn force<T: Real>(&self, slip: &Slip<T>) -> TyreForce<T> {
        match self {
            Self::Simple(t) => t.force(slip),
            Self::Magic(t) => magic::force(t, slip),
        }
    }

    /// Cornering stiffness `-dF_y/d(alpha)` at zero slip [N/rad], positive.
    pub fn cornering_stiffness(&self, load: f64) -> f64 {
        let o = Dual64::from_re(0.0);
        let s = Slip { kappa: o, alpha: Dual64::new(0.0, 1.0), inclination: o, load: Dual64::from_re(load) };
        -self.force(&s).fy.eps
    }

    /// Slip stiffness `dF_x/d(kappa)` at zero slip [N].
    pub fn slip_stiffness(&self, load: f64) -> f64 {
        let o = Dual64::from_re(0.0);
        let s = Slip { kappa: Dual64::new(0.0, 1.0), alpha: o, inclination: o, load: Dual64::from_re(load) };
        self.force(&s).fx.eps
    }

    /// Greatest braking force of the upright wheel running straight [N], positive, with the slip (positive) where it
    /// stands.
    pub fn braking_peak(&self, load: f64) -> (f64, f64) {
        match self {
            Self::Simple(t) => t.braking_peak(load),
            Self::Magic(t) => {
                let (slip, force) = magic::braking_peak(t, load, MOST_SLIP);
                (force, slip)
            }
        }
    }

    /// Greatest side force of the upright wheel [N], positive (mean of both sides), without longitudinal slip.
    pub fn lateral_peak(&self, load: f64) -> f64 {
        match self {
            Self::Simple(t) => t.friction_y(load) * load.max(0.0),
            Self::Magic(t) => magic::lateral_peak(t, load, MOST_SLIP_ANGLE),
        }
    }

    /// Greatest side force to the left [N] at an inclination [rad], and the size of the slip angle [rad] where it
    /// stands; mean of the wheel and its mirror image. The simple tyre does not know of inclination.
    pub fn side_peak(&self, load: f64, inclination: f64) -> (f64, f64) {
        match self {
            Self::Simple(t) => t.side_peak(load),
            Self::Magic(t) => magic::side_peak(t, load, inclination, MOST_SLIP_ANGLE),
        }
    }

    /// Longitudinal slip (positive number) that gives a braking force [N] on the rising branch, wheel straight;
    /// `None` beyond the peak.
    pub fn braking_slip(&self, load: f64, braking: f64) -> Option<f64> {
        self.slip_below_peak(load, braking, self.braking_peak(load))
    }

    fn slip_below_peak(&self, load: f64, braking: f64, (most, at): (f64, f64)) -> Option<f64> {
        if braking.is_nan() || braking > most || !most.is_finite() {
            return None;
        }
        Some(match self {
            Self::Simple(t) => t.braking_slip(load, braking),
            // A little slip the other way, for shifts make a force at no slip.
            Self::Magic(t) => {
                root(|s| -magic::longitudinal(t, -s, load) - braking, -at.min(SHIFTED_SLIP), at)
            }
        })
    }

    /// Cornering stiffness [N/rad] while the tyre brakes with `braking` [N] (negative: drives; taken as braking of the
    /// same size): the slope by slip angle at the slip that gives that force. `None` beyond the peak: the wheel locks.
    pub fn stiffness_while_braking(&self, load: f64, braking: f64) -> Option<f64> {
        self.stiffness_below_peak(load, braking.abs(), self.braking_peak(load))
    }

    /// As [`Self::stiffness_while_braking`], the braking peak being known.
    pub(crate) fn stiffness_below_peak(&self, load: f64, braking: f64, peak: (f64, f64)) -> Option<f64> {
        let kappa = -self.slip_below_peak(load, braking, peak)?;
        let o = Dual64::from_re(0.0);
        let s = Slip {
            kappa: Dual64::from_re(kappa),
            alpha: Dual64::new(0.0, 1.0),
            inclination: o,
            load: Dual64::from_re(load),
        };
        Some(-self.force(&s).fy.eps)
    }

    /// Relaxation length for side slip [m]: how far the tyre rolls until 63 % of a step of side force is there.
    pub fn relaxation_length(&self, load: f64) -> Option<f64> {
        match self {
            Self::Simple(t) => Some(t.relaxation_length(load)),
            Self::Magic(t) => magic::relaxation_length(t, load),
        }
    }

    /// Whether the load is outside the tyre's range.
    pub fn outside_load(&self, load: f64) -> bool {
        let (least, most) = match self {
            Self::Simple(t) => (t.least_load, t.most_load),
            Self::Magic(t) => (t.fzmin, t.fzmax),
        };
        !(least <= load && load <= most)
    }

    /// Why this model cannot answer a question; `None` where it can.
    pub fn cannot_answer(&self, question: Question) -> Option<&'static str> {
        answers::cannot(self, question)
    }

    /// The same tyre with friction and stiffnesses scaled: a stand-in for another compound, or for pressure.
    #[must_use]
    pub fn scaled(&self, friction: f64, stiffness: f64) -> Self {
        match self {
            Self::Simple(t) => Self::Simple(SimpleTyre {
                friction_x: t.friction_x * friction,
                friction_y: t.friction_y * friction,
                cornering_stiffness: t.cornering_stiffness * stiffness,
                slip_stiffness: t.slip_stiffness * stiffness,
                ..*t
            }),
            Self::Magic(t) => {
                let mut t = t.clone();
                t.lmux *= friction;
                t.lmuy *= friction;
                t.lkx *= stiffness;
                t.lky *= stiffness;
                Self::Magic(t)
            }
        }
    }

    /// # Errors
    /// Figures that no tyre has, or no load range.
    pub fn check(&self) -> Result<(), VehicleError> {
        match self {
            Self::Simple(t) => t.check(),
            Self::Magic(t) => t.check(),
        }
    }
}

//! Both wheels of an axle: in roll, and steered by one rack.

use linkage::Unreachable;

use crate::corner::Corner;
use crate::measures::Measures;
use crate::mover::Mover;

/// Greatest body roll that is worked out, 20 deg; no car leans so far on its wheels [rad].
pub const MOST_ROLL: f64 = 0.35;

/// Iterations allowed to find the travel for a roll angle; it takes two to four.
const ROLL_ITERATIONS: usize = 40;

/// Residual roll angle accepted [rad].
const ROLL_TOLERANCE: f64 = 1e-13;

/// A roll starts from the last one where their angles differ by no more than this [rad]: 3 deg, about what two
/// steps of Newton's method bridge.
const NEAR_ROLL: f64 = 0.05;

/// Both wheels of a symmetric axle at one attitude of the body. The right wheel is measured in its own
/// mirrored frame, so that toe-in and camber have the same sign on both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleState {
    /// Left wheel.
    pub left: Measures<f64>,
    /// Right wheel, mirrored.
    pub right: Measures<f64>,
    /// Body roll [rad], ISO 8855: positive leans to the right, the right wheel goes into jounce.
    pub roll: f64,
    /// Rack travel [m].
    pub rack: f64,
}

/// The roll centre of an axle whose wheels stand unequally.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RollCentre {
    /// To the left of the middle of the car [m], in the body's axes.
    pub lateral: f64,
    /// Above the road line under it [m].
    pub height: f64,
    /// Sine of the angle between the two lines: near zero they run parallel, and the point means nothing.
    pub crossing: f64,
}

/// Below this sine the two lines are near parallel and the roll centre is not to be trusted: a degree.
pub const LEAST_CROSSING: f64 = 0.017;

/// Moves both corners of a symmetric axle.
#[derive(Clone, Debug)]
pub struct AxleMover<'a> {
    left: Mover<'a>,
    right: Mover<'a>,
    /// Travel [m] of the right wheel and attitude that [`Self::roll`] found last, if nothing has moved since.
    rolled: Option<(f64, AxleState)>,
}

impl<'a> AxleMover<'a> {
    /// Starts at ride height. The right corner is the mirror of the given left one.
    pub fn new(left: &'a Corner<f64>) -> Self {
        Self { left: Mover::new(left), right: Mover::new(left), rolled: None }
    }

    /// Both wheels at given travels [m] and one rack position [m] (positive to the left).
    ///
    /// # Errors
    /// If a corner stops on the way.
    pub fn at(&mut self, left: f64, right: f64, rack: f64) -> Result<AxleState, Unreachable> {
        self.rolled = None;
        let left = self.left.at(left, rack)?;
        // In the mirrored frame of the right corner the rack moves the other way.
        let right = self.right.at(right, -rack)?;
        Ok(AxleState { roll: road_angle(&left, &right), left, right, rack })
    }

    /// Rolls the body to an angle [rad] with the wheels moving equally and oppositely. Starts from the last roll
    /// where that is near, else from ride height.
    ///
    /// # Errors
    /// If a corner stops before the angle is reached.
    pub fn roll(&mut self, roll: f64, rack: f64) -> Result<AxleState, Unreachable> {
        let roll = roll.clamp(-MOST_ROLL, MOST_ROLL);
        let near = |s: &AxleState| (s.roll - roll).abs() <= NEAR_ROLL && s.rack == rack;
        if let Some((travel, state)) = self.rolled.take().filter(|(_, s)| near(s))
            && let Ok(state) = self.roll_from(travel, state, roll)
        {
            return Ok(state);
        }
        let rest = self.at(0.0, 0.0, rack)?;
        self.roll_from(0.0, rest, roll)
    }

    /// Newton's method for the travel that gives a roll angle, from the present travel and attitude.
    fn roll_from(
        &mut self,
        mut travel: f64,
        mut state: AxleState,
        roll: f64,
    ) -> Result<AxleState, Unreachable> {
        for _ in 0..ROLL_ITERATIONS {
            let miss = roll - state.roll;
            if miss.abs() <= ROLL_TOLERANCE {
                break;
            }
            // tan(roll) = (z_R - z_L)/(y_L + y_R), with z_R' = contact_rate.z and z_L' = -contact_rate.z.
            let width = state.left.contact.y + state.right.contact.y;
            let rise = state.left.contact_rate.z + state.right.contact_rate.z;
            let step = miss * width / (rise * state.roll.cos().powi(2));
            if !step.is_finite() {
                break;
            }
            travel += step.clamp(-0.05, 0.05);
            state = self.at(-travel, travel, state.rack)?;
            if step.abs() < 1e-12 {
                break;
            }
        }
        self.rolled = Some((travel, state));
        Ok(state)
    }
}

/// Angle of the body against the line through both contact points.
fn road_angle(left: &Measures<f64>, right: &Measures<f64>) -> f64 {
    (right.contact.z - left.contact.z).atan2(left.contact.y + right.contact.y)
}

impl AxleState {
    /// Camber of the left and right wheel relative to the road [rad].
    pub fn camber_to_road(&self) -> (f64, f64) {
        (self.left.camber - self.roll, self.right.camber + self.roll)
    }

    /// Rates of toe and camber to the road of the left and right wheel by roll [rad/rad], the wheels moving
    /// equally and oppositely: `((toe, camber) left, (toe, camber) right)`.
    pub fn rates_by_roll(&self) -> ((f64, f64), (f64, f64)) {
        // tan(roll) = rise/width, so d(roll)/d(travel) = (rise' width - rise width')/(width^2 + rise^2), with
        // travel right = -travel left.
        let (l, r) = (&self.left, &self.right);
        let (rise, width) = (r.contact.z - l.contact.z, l.contact.y + r.contact.y);
        let rise_rate = r.contact_rate.z + l.contact_rate.z;
        let width_rate = r.contact_rate.y - l.contact_rate.y;
        let rate = (rise_rate * width - rise * width_rate) / (width * width + rise * rise);
        ((-l.toe_gain / rate, -l.camber_gain / rate - 1.0), (r.toe_gain / rate, r.camber_gain / rate + 1.0))
    }

    /// Track [m] at the contact points.
    pub fn track(&self) -> f64 {
        (self.left.contact.y + self.right.contact.y).hypot(self.right.contact.z - self.left.contact.z)
    }

    /// Where the two front-view lines (contact point, square to the velocity of the upright there) meet;
    /// `None` where they are parallel.
    pub fn roll_centre(&self) -> Option<RollCentre> {
        // Left line: P_L + a (-v_z, v_y); right line likewise with y mirrored.
        let (l, r) = (&self.left, &self.right);
        let line = |m: &Measures<f64>, side: f64| {
            let v = &m.contact_velocity;
            let length = v.y.hypot(v.z);
            ((side * m.contact.y, m.contact.z), (-side * v.z / length, v.y / length))
        };
        let ((yl, zl), (dl_y, dl_z)) = line(l, 1.0);
        let ((yr, zr), (dr_y, dr_z)) = line(r, -1.0);
        let cross = dl_y * dr_z - dl_z * dr_y;
        if !cross.is_finite() || cross.abs() < 1e-9 {
            return None;
        }
        let a = ((yr - yl) * dr_z - (zr - zl) * dr_y) / cross;
        let (y, z) = (yl + a * dl_y, zl + a * dl_z);
        // Distance above the road line, which is tilted by the roll angle in the body's axes.
        let (sin, cos) = (-self.roll).sin_cos();
        let height = (z - zl) * cos - (y - yl) * sin;
        Some(RollCentre { lateral: y, height, crossing: cross.abs() })
    }
}

//! Position by Newton's method with continuation along the inputs; screw and second derivative from the same
//! factorised gradient.

mod newton;
mod stuck;

use crate::error::{StopReason, Unreachable};
use crate::factor::Factor;
use crate::model::Linkage;
use crate::pose::{Acceleration, PointMotion, Pose, Twist};
use crate::state::{Curvature, End, Motion, Position};
use newton::{LAST_STEP, halves};

/// Longest move of any body in one continuation step [m; rad].
pub const LONGEST_MOVE: (f64, f64) = (0.15, 0.35);

/// A continuation step whose correction is more than this share of its prediction is taken again, halved: the
/// solution may have jumped to another assembly.
pub const LARGEST_CORRECTION: f64 = 0.4;

/// Continuation gives up when its step falls below this [m or rad of input]: how exactly a stop is located.
pub const LEAST_INPUT_STEP: f64 = 1e-6;

/// As [`LEAST_INPUT_STEP`] for the first step of a call, which may start at a stop.
const LEAST_FIRST_STEP: f64 = 1e-11;

/// A share of the way that counts as none left: rounding of a sum of steps.
const LAST_SHARE: f64 = 1e-12;

/// Newton iterations after which one call gives up; a backstop. A whole revolution of a small crank takes some
/// hundred, a suspension's travel less than ten.
pub const MOST_ITERATIONS_A_CALL: usize = 500;

/// Corrections allowed to a screw or its derivative; with a factor one last Newton step away it takes one or two.
const MOST_CORRECTIONS: usize = 4;

/// A screw or its derivative is not corrected again once a correction times the distance of the factor's
/// position falls below this: what is left is that product over a link's length, below rounding.
const CORRECTION_LEFT: f64 = 1e-14;

/// Work done, for regression tests on efficiency.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Newton iterations.
    pub iterations: usize,
    /// Continuation steps accepted.
    pub steps: usize,
    /// Continuation steps refused.
    pub refused: usize,
}

/// Moves a linkage through its positions. Holds the present position and all working storage: no allocation
/// after construction as long as one body has six regular equations.
#[derive(Clone, Debug)]
pub struct Solver<'a> {
    linkage: &'a Linkage<f64>,
    position: Position<f64>,
    motion: Motion<f64>,
    curvature: Curvature<f64>,
    differentiated: bool,
    factor: Option<Factor>,
    /// Whether the factor was made at the present position, or one last Newton step before it.
    factor_near: bool,
    /// The size of that step [m; rad].
    factor_offset: f64,
    /// Whether motion and curvature are those of a neighbouring position, and so a start for the next.
    warm: bool,
    kept: Position<f64>,
    gradient: Vec<f64>,
    rhs: Vec<f64>,
    unknown: Vec<f64>,
    effort: Effort,
}

impl<'a> Solver<'a> {
    /// Starts in the design place.
    pub fn new(linkage: &'a Linkage<f64>) -> Self {
        let (bodies, rows) = (linkage.bodies(), linkage.rows().len());
        let position = Position::design(bodies, linkage.inputs());
        Self {
            linkage,
            kept: position.clone(),
            position,
            motion: Motion::zero(bodies, linkage.inputs()),
            curvature: vec![Acceleration::zero(); bodies],
            differentiated: false,
            factor: None,
            factor_near: false,
            factor_offset: 0.0,
            warm: false,
            gradient: vec![0.0; rows * 6 * bodies],
            rhs: vec![0.0; rows],
            unknown: vec![0.0; 6 * bodies],
            effort: Effort::default(),
        }
    }

    /// The linkage.
    pub fn linkage(&self) -> &'a Linkage<f64> {
        self.linkage
    }

    /// The present position.
    pub fn position(&self) -> &Position<f64> {
        &self.position
    }

    /// First derivatives found by the last [`Self::differentiate`].
    pub fn motion(&self) -> &Motion<f64> {
        &self.motion
    }

    /// Second derivatives found by the last [`Self::differentiate`].
    pub fn curvature(&self) -> &[Acceleration<f64>] {
        &self.curvature
    }

    /// Work done since construction.
    pub fn effort(&self) -> Effort {
        self.effort
    }

    /// A point's position, velocity and second derivative along the last motion.
    pub fn track(&self, end: &End<f64>) -> PointMotion<f64> {
        self.linkage.frames().track(&self.position, &self.motion, &self.curvature, end)
    }

    /// Back to the design place.
    pub fn reset(&mut self) {
        self.position.poses.fill(Pose::identity());
        self.position.inputs.fill(0.0);
        self.moved();
    }

    /// Satisfies all equations at the present inputs, starting from the present position; needed after a rod
    /// has been given another length.
    ///
    /// # Errors
    /// If no position is found, also not by letting the misfit go to zero little by little.
    pub fn assemble(&mut self) -> Result<(), Unreachable> {
        self.kept.copy_from(&self.position);
        if self.newton(0.0).is_ok() {
            return Ok(());
        }
        self.restore();
        let (mut done, mut step) = (0.0, 0.25);
        self.linkage.residuals(&self.position, &mut self.rhs);
        let misfit = self.rhs.clone();
        let limit = self.effort.iterations + MOST_ITERATIONS_A_CALL;
        while done < 1.0 && self.effort.iterations < limit {
            let next = f64::min(done + step, 1.0);
            self.kept.copy_from(&self.position);
            if self.newton_toward(&misfit, 1.0 - next).is_ok() {
                (done, step) = (next, step * 2.0);
                self.effort.steps += 1;
            } else {
                self.restore();
                self.effort.refused += 1;
                step *= 0.5;
                if step < 1e-6 {
                    break;
                }
            }
        }
        if done >= 1.0 { Ok(()) } else { Err(self.stuck(done, StopReason::NoPosition)) }
    }

    /// Goes to the given inputs along the straight line from the present ones. On failure the solver stays at
    /// the last position reached.
    ///
    /// # Errors
    /// If the linkage stops on the way, with where and what binds.
    pub fn go_to(&mut self, inputs: &[f64]) -> Result<(), Unreachable> {
        // Along unit rates of the input that moves most: one input alone reuses a screw already at hand.
        let mut amount = 0.0f64;
        for (target, now) in inputs.iter().zip(&self.position.inputs) {
            let delta = target - now;
            if !delta.is_finite() {
                return Err(self.stuck(0.0, StopReason::NoPosition));
            }
            if delta.abs() > amount.abs() {
                amount = delta;
            }
        }
        if amount == 0.0 {
            return Ok(());
        }
        let mut same = self.differentiated;
        for (k, target) in inputs.iter().enumerate().take(self.position.inputs.len()) {
            let rate = (target - self.position.inputs[k]) / amount;
            same &= self.motion.rates[k] == rate;
            self.motion.rates[k] = rate;
        }
        if !same {
            self.differentiated = false;
        }
        let mut done = 0.0;
        let mut step = 1.0f64;
        // A step that follows a refused one is not doubled: it would be refused again.
        let mut doubled = true;
        let mut reason = StopReason::NoPosition;
        let limit = self.effort.iterations + MOST_ITERATIONS_A_CALL;
        while self.effort.iterations < limit {
            let start_orientation = match self.prepare() {
                Some(orientation) => orientation,
                None => return Err(self.stuck(done, StopReason::Toggle)),
            };
            // Away from a stop reached before, whose screw and curvature are all but infinite, smaller steps lead.
            let least = if done == 0.0 { LEAST_FIRST_STEP } else { LEAST_INPUT_STEP };
            let longest = self.longest_share(amount);
            if longest < 1.0 - done && longest * amount.abs() < least {
                reason = StopReason::Toggle;
                break;
            }
            step = step.min(1.0 - done).min(longest);
            self.kept.copy_from(&self.position);
            let move_size = self.predict(step * amount);
            let last = step >= 1.0 - done - LAST_SHARE;
            if last {
                // Land on the target itself, not on a sum of rounded steps.
                for (u, target) in self.position.inputs.iter_mut().zip(inputs) {
                    *u = *target;
                }
            }
            match self.newton(start_orientation) {
                Ok(correction) if correction <= LARGEST_CORRECTION * move_size + LAST_STEP => {
                    self.effort.steps += 1;
                    done += step;
                    if last {
                        return Ok(());
                    }
                    if doubled {
                        step *= 2.0;
                    }
                    doubled = true;
                    continue;
                }
                Ok(_) => {}
                Err(why) => reason = why,
            }
            self.effort.refused += 1;
            self.restore();
            doubled = false;
            step *= 0.5;
            if step * amount.abs() < least {
                break;
            }
        }
        // The screw was led ahead with the last try: it belongs to the last position reached again.
        let _ = self.prepare();
        Err(self.stuck(done, reason))
    }

    /// Screws and second derivatives at the present position along the given rates of the inputs. Kept until
    /// the position changes.
    ///
    /// # Errors
    /// If the linkage is at a dead point for these rates, or they are not one for each input; then nothing changes.
    pub fn differentiate(&mut self, rates: &[f64]) -> Result<(), Unreachable> {
        let (expected, found) = (self.motion.rates.len(), rates.len());
        if found != expected {
            return Err(Unreachable {
                reached: self.position.inputs.clone(),
                share: 0.0,
                reason: StopReason::Rates { expected, found },
                binding: Vec::new(),
            });
        }
        if !(self.differentiated && self.motion.rates == rates) {
            self.motion.rates.copy_from_slice(rates);
            self.differentiated = false;
        }
        if self.prepare().is_none() { Err(self.stuck(1.0, StopReason::Toggle)) } else { Ok(()) }
    }

    /// The factorised gradient at the present position; `None` if it is not finite.
    pub fn factor(&mut self) -> Option<&Factor> {
        self.linearise();
        self.factor = Factor::new(&self.gradient, self.rhs.len(), self.unknown.len());
        self.factor_near = self.factor.is_some();
        self.factor_offset = 0.0;
        self.factor.as_ref()
    }

    /// Changes of all bodies per unit change of one equation's right-hand side, inputs held: by how much the
    /// bodies move when a rod grows by one unit (its equation's residual falls by one).
    ///
    /// `None` if the linkage is at a dead point, or the others hold the rod to its length.
    pub fn response(&mut self, row: usize) -> Option<Vec<Twist<f64>>> {
        self.factor()?;
        self.rhs.fill(0.0);
        *self.rhs.get_mut(row)? = 1.0;
        let factor = self.factor.as_ref()?;
        factor.solve(&self.rhs, &mut self.unknown);
        if !factor.is_regular() {
            // A pseudo-inverse always answers: the answer counts only if it does what was asked.
            let rows = self.gradient.chunks_exact(self.unknown.len().max(1)).zip(&self.rhs);
            let missed = |(g, r): (&[f64], &f64)| {
                (g.iter().zip(&self.unknown).map(|(g, x)| g * x).sum::<f64>() - r).abs()
            };
            if rows.map(missed).any(|m| m > 1e-6 || m.is_nan()) {
                return None;
            }
        }
        let twist = |x: &[f64]| {
            let (v, w) = halves(x);
            Twist { v, w }
        };
        Some(self.unknown.chunks_exact(6).map(twist).collect())
    }

    /// Makes sure that the derivatives belong to the present position; returns the orientation of the
    /// gradient there.
    fn prepare(&mut self) -> Option<f64> {
        if self.differentiated {
            return self.factor.as_ref().map(Factor::orientation);
        }
        if !self.factor_near {
            self.factor()?;
        }
        let factor = self.factor.as_ref()?;
        // A start near the answer saves corrections; a pseudo-inverse needs the start at rest, so that idle
        // freedoms stay there.
        if !(self.warm && factor.is_regular()) {
            self.motion.twists.fill(Twist::zero());
            self.curvature.fill(Acceleration::zero());
        }
        self.warm = false;
        // J x = -(rate with the motion at hand). The factor may be of a position one Newton step away, so that
        // each correction leaves a share of itself of the order of that step.
        for _ in 0..MOST_CORRECTIONS {
            self.linkage.rates(&self.position, &self.motion, &mut self.rhs);
            factor.solve(&self.rhs, &mut self.unknown);
            let mut size = 0.0f64;
            for (twist, x) in self.motion.twists.iter_mut().zip(self.unknown.chunks_exact(6)) {
                let (v, w) = halves(x);
                twist.v -= v;
                twist.w -= w;
                size = size.max(v.norm_squared()).max(w.norm_squared());
            }
            if size.sqrt() * self.factor_offset <= CORRECTION_LEFT {
                break;
            }
        }
        for _ in 0..MOST_CORRECTIONS {
            self.linkage.second_rates(&self.position, &self.motion, &self.curvature, &mut self.rhs);
            factor.solve(&self.rhs, &mut self.unknown);
            let mut size = 0.0f64;
            for (acceleration, x) in self.curvature.iter_mut().zip(self.unknown.chunks_exact(6)) {
                let (a, alpha) = halves(x);
                acceleration.a -= a;
                acceleration.alpha -= alpha;
                size = size.max(a.norm_squared()).max(alpha.norm_squared());
            }
            if size.sqrt() * self.factor_offset <= CORRECTION_LEFT {
                break;
            }
        }
        let sound = |t: &Twist<f64>| t.v.norm_squared() + t.w.norm_squared() < 1e24;
        if !self.motion.twists.iter().all(sound) {
            return None;
        }
        if !factor.is_regular() {
            // A pseudo-inverse always answers; at a dead point its answer does not follow the inputs.
            self.linkage.rates(&self.position, &self.motion, &mut self.rhs);
            if self.rhs.iter().any(|r| r.abs() > 1e-6) {
                return None;
            }
        }
        self.differentiated = true;
        self.warm = true;
        Some(factor.orientation())
    }

    /// Forgets what belonged to another position.
    fn moved(&mut self) {
        self.differentiated = false;
        self.factor_near = false;
    }

    fn restore(&mut self) {
        self.position.copy_from(&self.kept);
        self.moved();
    }

    fn longest_share(&self, amount: f64) -> f64 {
        let mut share = 1.0f64;
        for twist in &self.motion.twists {
            share = share.min(LONGEST_MOVE.0 / (twist.v.norm() * amount.abs()).max(1e-12));
            share = share.min(LONGEST_MOVE.1 / (twist.w.norm() * amount.abs()).max(1e-12));
        }
        share
    }

    /// Moves along the screw and its second derivative, and the screw along the latter; returns the size of the
    /// move.
    fn predict(&mut self, by: f64) -> f64 {
        let half = 0.5 * by * by;
        let mut size = 0.0f64;
        for ((pose, twist), acceleration) in
            self.position.poses.iter_mut().zip(&mut self.motion.twists).zip(&self.curvature)
        {
            let (shift, turn) =
                (twist.v * by + acceleration.a * half, twist.w * by + acceleration.alpha * half);
            pose.step(&shift, &turn);
            size = size.max(shift.norm_squared()).max(turn.norm_squared());
            twist.v += acceleration.a * by;
            twist.w += acceleration.alpha * by;
        }
        for (u, rate) in self.position.inputs.iter_mut().zip(&self.motion.rates) {
            *u += rate * by;
        }
        size.sqrt()
    }
}

//! Wheel hop: how the rear wheels swing about the steadily braking car, and how well that dies away.

use nalgebra::{Complex, SMatrix, SVector, Schur};

use super::PedalError;
use super::model::{Look, State, Stopper, at};

/// The rear wheels' own swing, brakes on and off. Damping ratios: 1 does not swing, 0 does not die away, below 0 grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hop {
    /// Undamped frequency under the brakes [Hz], the size of the eigenvalue over a turn.
    pub frequency: f64,
    /// Damping ratio under the brakes [-].
    pub damping: f64,
    /// Frequency with the brakes off, at the same speed [Hz].
    pub free_frequency: f64,
    /// Damping ratio with the brakes off [-].
    pub free_damping: f64,
    /// What the brakes take [-]: damping ratio under the brakes less that with them off; negative is worse.
    pub change: f64,
}

/// States that swing: all but speed (the instant is frozen, as in `balance::trim`), energy and way.
const SWINGING: [usize; 12] = [
    at::RISE,
    at::PITCH,
    at::TRAVEL,
    at::TRAVEL + 1,
    at::RISING,
    at::PITCHING,
    at::RATE,
    at::RATE + 1,
    at::SPIN,
    at::SPIN + 1,
    at::SLIP,
    at::SLIP + 1,
];

/// Their sizes: steps of the differences are a share of them, and the matrix is balanced by them.
const SIZE: [f64; 12] = [1e-3, 1e-3, 1e-3, 1e-3, 0.05, 0.05, 0.05, 0.05, 1.0, 1.0, 0.01, 0.01];

/// Share of the sizes for the differences [-]: a micrometre of travel.
const STEP: f64 = 1e-3;

/// Iterations allowed to the Schur form, and its accuracy.
const MOST_ITERATIONS: usize = 2000;
const ACCURACY: f64 = 1e-13;

/// Least share of the rear wheels' bounce in the motion's kinetic energy for it to be theirs [-] (own). Among the
/// swings the one with the greatest share is taken; it is about 0.8 to 1, and 0.3 where the wheels' turning swings along.
const LEAST_SHARE: f64 = 0.1;

type Twelve = SMatrix<f64, 12, 12>;

impl Stopper<'_> {
    /// Linearises the motion about steady braking at a speed [m/s] under brake torques at one wheel of each axle [Nm],
    /// and finds the rear wheels' swing.
    ///
    /// # Errors
    /// No steady braking, or a rear wheel that is damped too well to swing.
    pub fn hop(&self, speed: f64, torque: [f64; 2]) -> Result<Hop, PedalError> {
        let (frequency, damping) = self.rear_swing(speed, torque)?;
        let (free_frequency, free_damping) =
            if torque == [0.0; 2] { (frequency, damping) } else { self.rear_swing(speed, [0.0; 2])? };
        Ok(Hop { frequency, damping, free_frequency, free_damping, change: damping - free_damping })
    }

    fn rear_swing(&self, speed: f64, torque: [f64; 2]) -> Result<(f64, f64), PedalError> {
        self.swing_about(&self.steady_state(speed, torque)?, torque)
    }

    /// Frequency and damping ratio of the rear wheels' swing about a steady state.
    pub(super) fn swing_about(&self, y: &State, torque: [f64; 2]) -> Result<(f64, f64), PedalError> {
        let matrix = self.matrix(y, torque);
        if !matrix.iter().all(|v| v.is_finite()) {
            return Err(PedalError::NotSteady);
        }
        let look = self.look(y, torque);
        let schur = Schur::try_new(matrix, ACCURACY, MOST_ITERATIONS).ok_or(PedalError::NoSwing)?;
        let mut best: Option<(f64, Complex<f64>)> = None;
        for value in schur.complex_eigenvalues().iter().filter(|v| v.im > 1e-6 * v.norm()) {
            let Some(shape) = shape(&matrix, *value) else { continue };
            let part = |state: usize| {
                SWINGING
                    .iter()
                    .position(|s| *s == state)
                    .map_or((0.0, 0.0), |k| (shape[k].re * SIZE[k], shape[k].im * SIZE[k]))
            };
            let share = self.rear_share(&look, y[at::PITCH], &part);
            if share >= LEAST_SHARE && best.is_none_or(|(most, _)| share > most) {
                best = Some((share, *value));
            }
        }
        let (_, value) = best.ok_or(PedalError::NoSwing)?;
        Ok((value.norm() / std::f64::consts::TAU, -value.re / value.norm()))
    }

    /// Share of the rear wheels in the kinetic energy of a motion `v` about `look`: how much of a swing is theirs.
    /// `v` in the order of the states, only its rates and spins are read.
    fn rear_share(&self, look: &Look, pitch: f64, v: &dyn Fn(usize) -> (f64, f64)) -> f64 {
        let square = |parts: &[(f64, usize)]| {
            let (re, im) = parts.iter().fold((0.0, 0.0), |sum, (weight, index)| {
                let (re, im) = v(*index);
                (sum.0 + weight * re, sum.1 + weight * im)
            });
            re * re + im * im
        };
        let (sp, cp) = pitch.sin_cos();
        let x = cp * self.centre[0] + sp * self.centre[1];
        let body = self.sprung * square(&[(1.0, at::RISING), (-x, at::PITCHING)])
            + self.pitch_inertia * square(&[(1.0, at::PITCHING)]);
        let mut total = body;
        let mut rear = 0.0;
        for (i, axle) in self.axles.iter().enumerate() {
            let w = &look.wheels[i];
            let bounce = 2.0
                * axle.unsprung
                * square(&[(1.0, at::RISING), (-w.arm[0], at::PITCHING), (w.way[1], at::RATE + i)]);
            total += bounce + 2.0 * axle.spin_inertia * square(&[(1.0, at::SPIN + i)]);
            rear = bounce;
        }
        rear / total
    }

    /// Derivatives of the rates by the states, both over their sizes: central differences, so that a damper with two
    /// senses counts by the mean of them.
    fn matrix(&self, y: &State, torque: [f64; 2]) -> Twelve {
        let mut matrix = Twelve::zeros();
        for (j, state) in SWINGING.into_iter().enumerate() {
            let step = STEP * SIZE[j];
            let rates = [step, -step].map(|by| {
                let mut moved = *y;
                moved[state] += by;
                self.look(&moved, torque).rates
            });
            for (i, row) in SWINGING.into_iter().enumerate() {
                matrix[(i, j)] = (rates[0][row] - rates[1][row]) / (2.0 * step) * SIZE[j] / SIZE[i];
            }
        }
        matrix
    }
}

/// Eigenvector by inverse iteration; the value is shifted a little so that the matrix can be
/// solved.
fn shape(matrix: &Twelve, value: Complex<f64>) -> Option<SVector<Complex<f64>, 12>> {
    let shifted = value * Complex::new(1.0 + 1e-9, 0.0);
    let lu =
        (matrix.map(|v| Complex::new(v, 0.0)) - SMatrix::<Complex<f64>, 12, 12>::identity() * shifted).lu();
    let mut shape = SVector::<Complex<f64>, 12>::from_fn(|i, _| Complex::new(1.0, 0.1 * i as f64));
    for _ in 0..3 {
        shape = lu.solve(&shape)?;
        let size = shape.norm();
        if !size.is_finite() || size == 0.0 {
            return None;
        }
        shape /= Complex::new(size, 0.0);
    }
    Some(shape)
}

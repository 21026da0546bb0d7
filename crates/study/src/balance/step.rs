//! Answer of the single track's yaw rate to a step of steer, in closed form.
//!
//! From straight running, `x' = A x + b delta`, so `x(t) = (1 - e^(A t)) x_ss` and `x'(t) = e^(A t) b`; with h half the trace
//! and `w^2 = h^2 - det`, `e^(A t) = e^(h t) (cosh(w t) 1 + sinh(w t)/w (A - h 1))` (matrix functions, any text). Rise time
//! and overshoot in the sense of ISO 7401 (remembered): from the step of the steering to 90 % of the steady yaw rate; peak
//! over steady, less one. The step is sudden; ISO 7401 has it within 0.15 s.

use nalgebra::{Matrix2, Vector2};
use vehicle::balance::SingleTrack;

/// Share of the steady yaw rate to which the rise is counted [-] (ISO 7401, remembered).
const RISEN: f64 = 0.9;

/// Steps by the faster mode's time in the search for a crossing [-]: a crossing lasts longer (own).
const FINENESS: f64 = 0.1;

/// Times of the slower mode after which nothing happens [-] (own: e^-9 is a ten-thousandth).
const LONG: f64 = 9.0;

/// Most steps, for modes of very different speed.
const MOST_STEPS: usize = 4000;

/// Halvings of the step that holds the crossing: to a millionth of it.
const HALVINGS: usize = 20;

/// What a step of steer does to the yaw rate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct YawStep {
    /// Time to 90 % of the steady yaw rate [s].
    pub rise: f64,
    /// Peak over the steady yaw rate, less one [-]; zero where it comes up without.
    pub overshoot: f64,
}

/// `e^(A t) v`.
fn carried(a: &Matrix2<f64>, t: f64, v: &Vector2<f64>) -> Vector2<f64> {
    let half = 0.5 * a.trace();
    let gap = 0.5 * (a.m11 - a.m22);
    let under = gap * gap + a.m12 * a.m21;
    let w = under.abs().sqrt();
    let (even, odd) = if w * t < 1e-9 {
        let e = (half * t).exp();
        (e, e * t)
    } else if under > 0.0 {
        let (fast, slow) = (((half - w) * t).exp(), ((half + w) * t).exp());
        (0.5 * (slow + fast), 0.5 * (slow - fast) / w)
    } else {
        let e = (half * t).exp();
        (e * (w * t).cos(), e * (w * t).sin() / w)
    };
    v * even + (a * v - v * half) * odd
}

/// First zero of `f` after t = 0, where it starts positive, stepping by `step` up to `most`.
fn first_zero(f: impl Fn(f64) -> f64, step: f64, most: f64) -> Option<f64> {
    let mut before = 0.0;
    for i in 1..=MOST_STEPS {
        let t = step * f64::from(u32::try_from(i).ok()?);
        if f(t) <= 0.0 {
            let (mut lo, mut hi) = (before, t);
            for _ in 0..HALVINGS {
                let mid = 0.5 * (lo + hi);
                if f(mid) > 0.0 { lo = mid } else { hi = mid }
            }
            return Some(0.5 * (lo + hi));
        }
        if t > most {
            return None;
        }
        before = t;
    }
    None
}

/// The step at a speed [m/s]; `None` for a car that does not settle.
pub(super) fn yaw_step(track: &SingleTrack<f64>, speed: f64) -> Option<YawStep> {
    let a = track.state_matrix(speed, 0.0).ok()?;
    let modes = track.modes(speed, 0.0).ok()?;
    let steady = track.steady(speed).ok()?;
    if !modes.stable || steady.yaw <= 0.0 {
        return None;
    }
    let settled = Vector2::new(steady.sideslip, steady.yaw);
    let pushed = track.steering_vector(speed);
    let yaw = |t: f64| settled.y - carried(&a, t, &settled).y;
    let fast = modes.real[1].abs().hypot(modes.imaginary);
    let (step, most) = (FINENESS / fast, LONG / modes.real[0].abs());
    let rise = first_zero(|t| RISEN * settled.y - yaw(t), step, most)?;
    let peak = first_zero(|t| carried(&a, t, &pushed).y, step, most);
    let overshoot = peak.map_or(0.0, |t| yaw(t) / settled.y - 1.0);
    Some(YawStep { rise, overshoot: overshoot.max(0.0) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn car() -> SingleTrack<f64> {
        SingleTrack {
            mass: 1008.0,
            yaw_inertia: 1031.0,
            front: 1.2,
            rear: 1.0,
            front_stiffness: 117_000.0,
            rear_stiffness: 145_000.0,
        }
    }

    /// Against small steps of fourth-order Runge-Kutta, swinging and not (own).
    #[test]
    fn against_integration() {
        for (front_stiffness, yaw_inertia, speed) in
            [(117_000.0, 1031.0, 30.0), (80_000.0, 2500.0, 45.0), (117_000.0, 1031.0, 8.0)]
        {
            let track = SingleTrack { front_stiffness, yaw_inertia, ..car() };
            let (a, b) = (track.state_matrix(speed, 0.0).unwrap(), track.steering_vector(speed));
            let steady = track.steady(speed).unwrap().yaw;
            let rate = |x: &Vector2<f64>| a * x + b;
            let (mut x, mut t, h) = (Vector2::zeros(), 0.0, 1e-4);
            let (mut rise, mut peak) = (None, 0.0f64);
            while t < 6.0 {
                let k1 = rate(&x);
                let k2 = rate(&(x + k1 * (h / 2.0)));
                let k3 = rate(&(x + k2 * (h / 2.0)));
                let k4 = rate(&(x + k3 * h));
                x += (k1 + k2 * 2.0 + k3 * 2.0 + k4) * (h / 6.0);
                t += h;
                if rise.is_none() && x.y >= 0.9 * steady {
                    rise = Some(t);
                }
                peak = peak.max(x.y / steady - 1.0);
            }
            let step = yaw_step(&track, speed).unwrap();
            assert!((step.rise - rise.unwrap()).abs() < 1.5e-4, "{step:?} {rise:?}");
            assert!((step.overshoot - peak).abs() < 1e-5, "{step:?} {peak}");
        }
    }

    /// A car beyond its critical speed has no answer (limit).
    #[test]
    fn no_answer_beyond_the_critical_speed() {
        let over = SingleTrack { front_stiffness: 160_000.0, ..car() };
        let critical = over.critical_speed().unwrap();
        assert!(yaw_step(&over, critical - 1.0).is_some());
        assert_eq!(yaw_step(&over, critical + 1.0), None);
    }
}

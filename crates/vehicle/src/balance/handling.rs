//! The single-track model: understeer gradient, margins, gains, yaw modes.
//!
//! ```text
//! state [beta, r]:  A = [ -(Cf+Cr)/(m v) - v'/v     -1 - (a Cf - b Cr)/(m v^2) ]
//!                       [ -(a Cf - b Cr)/I_z        -(a^2 Cf + b^2 Cr)/(I_z v) ]
//! ```
//!
//! P. Riekert & T. Schunck (1940) in the form of every text since (T. Gillespie (1992), ch. 6; J. Wong, Theory of Ground
//! Vehicles, ch. 5; remembered). The term `v'/v` is of braking (own, from `v_y = beta v`): `v'` is the rate of speed,
//! negative when slowing; sideslip *angle* then grows for a kept side velocity. With it, eigenvalues are those of the
//! frozen instant. No roll, no steering give, no tyre lag. ISO signs: beta and r to the left.

use linkage::scalar::{Real, constant};
use nalgebra::{Matrix2, Vector2};

use crate::error::{VehicleError, finite, positive, within};

/// Least speed of the model [m/s]: its 1/v terms mean nothing at standstill.
pub const LEAST_SPEED: f64 = 1.0;

/// A car on two wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SingleTrack<T> {
    /// Mass [kg].
    pub mass: T,
    /// Yaw inertia [kg m^2].
    pub yaw_inertia: T,
    /// Front axle before the centre of gravity [m].
    pub front: T,
    /// Rear axle behind it [m].
    pub rear: T,
    /// Cornering stiffness of the front axle, both tyres [N/rad].
    pub front_stiffness: T,
    /// Cornering stiffness of the rear axle [N/rad].
    pub rear_stiffness: T,
}

/// Steady-state answers to the steering angle of the front wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady<T> {
    /// Yaw rate per angle [1/s].
    pub yaw: T,
    /// Lateral acceleration per angle [m/s^2 per rad].
    pub lateral: T,
    /// Sideslip angle per angle [rad/rad]; negative when the tail hangs out.
    pub sideslip: T,
}

/// The two yaw modes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Modes<T> {
    /// Real parts [1/s], the slower (greater) first; equal for a swinging pair.
    pub real: [T; 2],
    /// Imaginary part of the pair [rad/s], zero where there is none.
    pub imaginary: T,
    /// Undamped natural frequency [rad/s]; zero where the car is divergent.
    pub natural: T,
    /// Damping ratio [-]; above 1 without swinging.
    pub damping: T,
    /// Whether both die away.
    pub stable: bool,
}

impl<T: Real> Modes<T> {
    /// Of a 2 by 2 matrix: `lambda = tr/2 +- sqrt(tr^2/4 - det)`.
    pub fn of(m: &Matrix2<T>) -> Self {
        let zero = constant::<T>(0.0);
        let (half, det) = ((m.m11 + m.m22) / 2.0, m.m11 * m.m22 - m.m12 * m.m21);
        // tr^2/4 - det without its cancellation: ((m11 - m22)/2)^2 + m12 m21.
        let gap = (m.m11 - m.m22) / 2.0;
        let under = gap * gap + m.m12 * m.m21;
        let (real, imaginary) = if under.re() > 0.0 {
            let s = under.sqrt();
            ([half + s, half - s], zero)
        } else if under.re() < 0.0 {
            ([half, half], (-under).sqrt())
        } else {
            // Both alike: the square root has no derivative here; the mean does.
            ([half, half], zero)
        };
        let natural = if det.re() > 0.0 { det.sqrt() } else { zero };
        let damping = if det.re() > 0.0 { -half / natural } else { zero };
        Self { real, imaginary, natural, damping, stable: half.re() < 0.0 && det.re() > 0.0 }
    }
}

impl<T: Real> SingleTrack<T> {
    /// # Errors
    /// Figures that no car has.
    pub fn check(&self) -> Result<(), VehicleError> {
        positive("mass", self.mass.re())?;
        positive("yaw inertia", self.yaw_inertia.re())?;
        positive("distance to the front axle", self.front.re())?;
        positive("distance to the rear axle", self.rear.re())?;
        positive("front cornering stiffness", self.front_stiffness.re())?;
        positive("rear cornering stiffness", self.rear_stiffness.re())?;
        Ok(())
    }

    /// Wheelbase [m].
    pub fn wheelbase(&self) -> T {
        self.front + self.rear
    }

    /// Understeer gradient [rad/(m/s^2)]: `m/L (b/Cf - a/Cr)`, so that the steering angle is `L/R + K a_y`. Times g it is
    /// the `W_f/C_f - W_r/C_r` of other texts, in rad per g.
    pub fn understeer_gradient(&self) -> T {
        self.mass / self.wheelbase() * (self.rear / self.front_stiffness - self.front / self.rear_stiffness)
    }

    /// Static margin [-]: `(b Cr - a Cf)/(L (Cf + Cr))`, positive where a side push at the centre of gravity turns the
    /// car away from it.
    pub fn static_margin(&self) -> T {
        (self.rear * self.rear_stiffness - self.front * self.front_stiffness)
            / (self.wheelbase() * (self.front_stiffness + self.rear_stiffness))
    }

    /// Characteristic speed [m/s] of an understeering car: yaw gain is greatest there. `None` otherwise.
    pub fn characteristic_speed(&self) -> Option<T> {
        let k = self.understeer_gradient();
        if k.re() > 0.0 { Some((self.wheelbase() / k).sqrt()) } else { None }
    }

    /// Critical speed [m/s] of an oversteering car: beyond it the car diverges. `None` otherwise.
    pub fn critical_speed(&self) -> Option<T> {
        let k = self.understeer_gradient();
        if k.re() < 0.0 { Some((self.wheelbase() / -k).sqrt()) } else { None }
    }

    /// Steady gains at a speed [m/s]: `v/(L + K v^2)` and what follows.
    ///
    /// # Errors
    /// Figures that no car has, or the critical speed itself.
    pub fn steady(&self, speed: T) -> Result<Steady<T>, VehicleError> {
        self.check()?;
        within("speed", speed.re(), 0.0, crate::aero::FASTEST)?;
        let bottom = self.wheelbase() + self.understeer_gradient() * speed * speed;
        if bottom.re().abs() < 1e-9 {
            return Err(VehicleError::NotUsable { name: "gain at the critical speed", value: f64::INFINITY });
        }
        let yaw = speed / bottom;
        let slip =
            self.rear - self.front * self.mass * speed * speed / (self.wheelbase() * self.rear_stiffness);
        Ok(Steady { yaw, lateral: yaw * speed, sideslip: slip / bottom })
    }

    /// State matrix for [beta, r] at a speed [m/s] and its rate [m/s^2].
    ///
    /// # Errors
    /// Figures that no car has, or too low a speed.
    pub fn state_matrix(&self, speed: T, speed_rate: T) -> Result<Matrix2<T>, VehicleError> {
        self.check()?;
        within("speed", speed.re(), LEAST_SPEED, crate::aero::FASTEST)?;
        finite("rate of speed", speed_rate.re())?;
        let (cf, cr, a, b) = (self.front_stiffness, self.rear_stiffness, self.front, self.rear);
        let turning = a * cf - b * cr;
        let mv = self.mass * speed;
        Ok(Matrix2::new(
            -(cf + cr) / mv - speed_rate / speed,
            -turning / (mv * speed) - 1.0,
            -turning / self.yaw_inertia,
            -(a * a * cf + b * b * cr) / (self.yaw_inertia * speed),
        ))
    }

    /// Input vector for the steering angle of the front wheels.
    pub fn steering_vector(&self, speed: T) -> Vector2<T> {
        Vector2::new(
            self.front_stiffness / (self.mass * speed),
            self.front * self.front_stiffness / self.yaw_inertia,
        )
    }

    /// Yaw modes at a speed [m/s] and its rate [m/s^2].
    ///
    /// # Errors
    /// As [`Self::state_matrix`].
    pub fn modes(&self, speed: T, speed_rate: T) -> Result<Modes<T>, VehicleError> {
        self.state_matrix(speed, speed_rate).map(|m| Modes::of(&m))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use num_dual::Dual64;

    /// Car of a published exercise (inputs read on an answer site, answers worked out independently).
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

    /// J. Wong, Theory of Ground Vehicles, example 5.1 (remembered): 20.105 kN, L 2.8 m, centre of gravity 0.465 L behind
    /// the front axle, 38.92 and 38.25 kN/rad a tyre: K 0.015976 rad (0.915 deg/g), 41.46 m/s.
    #[test]
    fn a_published_understeering_car() {
        let g = 9.81;
        let c = SingleTrack {
            mass: 20_105.0 / g,
            front: 0.465 * 2.8,
            rear: 0.535 * 2.8,
            front_stiffness: 2.0 * 38_920.0,
            rear_stiffness: 2.0 * 38_250.0,
            ..car()
        };
        let k = c.understeer_gradient() * g;
        assert!((k - 0.015_976).abs() < 5e-7, "{k}");
        assert!((k.to_degrees() - 0.915).abs() < 5e-4);
        assert!((c.characteristic_speed().unwrap() - 41.46).abs() < 0.01);
        assert_eq!(c.critical_speed(), None);
    }

    /// Gradient 1.242344e-4 rad/(m/s^2) = 0.069829 deg/g (g 9.81), characteristic speed 133.073 m/s; eigenvalues at four
    /// speeds: worked out independently.
    #[test]
    fn eigenvalues_of_an_exercise() {
        let c = car();
        assert!((c.understeer_gradient() - 1.242_344e-4).abs() < 5e-11);
        assert!(((c.understeer_gradient() * 9.81).to_degrees() - 0.069_829).abs() < 5e-7);
        assert!((c.characteristic_speed().unwrap() - 133.073).abs() < 5e-4);
        let m = c.modes(10.0, 0.0).unwrap();
        assert!((m.real[0] + 27.416_842).abs() < 5e-7 && (m.real[1] + 28.980_653).abs() < 5e-7);
        assert!((m.natural - 28.187_905).abs() < 5e-7 && (m.damping - 1.000_385).abs() < 5e-7);
        for (v, re, im, wn, zeta) in [
            (20.0, -14.099_374, 1.787_015, 14.212_170, 0.992_063),
            (30.0, -9.399_583, 1.974_339, 9.604_695, 0.978_645),
            (40.0, -7.049_687, 2.035_834, 7.337_759, 0.960_741),
        ] {
            let m = c.modes(v, 0.0).unwrap();
            assert!((m.real[0] - re).abs() < 5e-7 && (m.imaginary - im).abs() < 1e-6, "{v}: {m:?}");
            assert!((m.natural - wn).abs() < 5e-7 && (m.damping - zeta).abs() < 5e-7);
        }
    }

    /// T. Gillespie (1992), ch. 6, example 1 (remembered): L 100.6 in; the steering angle of a neutral car is L/R: 0.96,
    /// 2.4, 4.8, 9.6 deg at 500, 200, 100, 50 ft. Here from the steady yaw gain at low speed.
    #[test]
    fn the_angle_of_a_radius() {
        let l = 100.6 * 0.0254;
        let c =
            SingleTrack { front: l / 2.0, rear: l / 2.0, front_stiffness: 1e5, rear_stiffness: 1e5, ..car() };
        for (feet, deg) in [(500.0, 0.96), (200.0, 2.4), (100.0, 4.8), (50.0, 9.6)] {
            let radius = feet * 0.3048;
            let gain = c.steady(5.0).unwrap().yaw;
            let angle = (5.0 / radius / gain).to_degrees();
            assert!((angle / deg - 1.0).abs() < 5e-3, "{angle}");
        }
    }

    /// Steady gains solve the state equations; neutral steer, critical speed and instability coincide (invariants).
    #[test]
    fn consistency() {
        for (cf, v) in [(117_000.0, 33.0), (150_000.0, 20.0)] {
            let c = SingleTrack { front_stiffness: cf, ..car() };
            let s = c.steady(v).unwrap();
            let x = Vector2::new(s.sideslip, s.yaw);
            let rest = c.state_matrix(v, 0.0).unwrap() * x + c.steering_vector(v);
            assert!(rest.amax() < 1e-9, "{rest}");
        }
        let over = SingleTrack { front_stiffness: 160_000.0, ..car() };
        assert!(over.static_margin() < 0.0);
        let v = over.critical_speed().unwrap();
        assert!(over.modes(v - 0.01, 0.0).unwrap().stable && !over.modes(v + 0.01, 0.0).unwrap().stable);
        let neutral = SingleTrack { rear_stiffness: 117_000.0 * 1.2, ..car() };
        assert!(neutral.static_margin().abs() < 1e-15 && neutral.understeer_gradient().abs() < 1e-18);
    }

    #[test]
    fn derivatives_go_through() {
        let c = car();
        let dual = SingleTrack {
            mass: Dual64::from_re(c.mass),
            yaw_inertia: Dual64::from_re(c.yaw_inertia),
            front: Dual64::new(c.front, 1.0),
            rear: Dual64::new(c.rear, -1.0),
            front_stiffness: Dual64::from_re(c.front_stiffness),
            rear_stiffness: Dual64::from_re(c.rear_stiffness),
        };
        let at = |d: f64| SingleTrack { front: 1.2 + d, rear: 1.0 - d, ..c };
        let slope = |f: &dyn Fn(&SingleTrack<f64>) -> f64| (f(&at(1e-6)) - f(&at(-1e-6))) / 2e-6;
        let k = dual.understeer_gradient().eps;
        assert!((k - slope(&|c| c.understeer_gradient())).abs() < 1e-8);
        let m = dual.modes(Dual64::from_re(30.0), Dual64::from_re(0.0)).unwrap();
        assert!((m.damping.eps - slope(&|c| c.modes(30.0, 0.0).unwrap().damping)).abs() < 1e-6);
    }
}

//! Spring-perch turns that bring the corner weights to a wish.
//!
//! The centre of gravity fixes the front share, the left share and the total; four corner loads have one freedom
//! left, the warp: load onto one diagonal, off the other. Statics: a load change w with `sum(w) = 0`, `sum(w x) = 0`,
//! `sum(w y) = 0` is a multiple of (1, -1, -t_f/t_r, t_f/t_r). Linear springs, small angles, body rigid in torsion
//! (own; a soft body takes more turns).

use nalgebra::{SMatrix, SVector};

use crate::GRAVITY;
use crate::error::{VehicleError, finite, not_negative, positive};
use crate::wheels::{Corners, Footprint};

/// One corner's spring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerchCorner {
    /// Wheel rate of the spring [N/m].
    pub wheel_rate: f64,
    /// Vertical rate of the tyre [N/m].
    pub tyre_rate: f64,
    /// Spring travel per wheel travel [-].
    pub motion_ratio: f64,
    /// Rise of the perch per turn, loading the spring [m].
    pub pitch: f64,
}

/// The four corners and the bars.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Perches {
    /// Springs.
    pub corners: Corners<PerchCorner>,
    /// Where the wheels stand.
    pub footprint: Footprint<f64>,
    /// Rate of the front bar at one wheel with the other wheel at rest [N/m]; zero when disconnected.
    pub front_bar: f64,
    /// The same of the rear bar [N/m].
    pub rear_bar: f64,
}

/// What a set of turns does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// Change of the corner loads, as scales show it [kg].
    pub moved: Corners<f64>,
    /// Rise of the body at the middle of the front axle [m].
    pub front_rise: f64,
    /// Rise at the middle of the rear axle [m].
    pub rear_rise: f64,
    /// Roll to the right (left side up) [rad].
    pub roll: f64,
}

/// What to turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerchPlan {
    /// Turns that reach the best corner weights and leave the car's attitude as it is.
    pub turns: Corners<f64>,
    /// Turns at one corner alone that move the same load (the others left alone); the attitude changes.
    pub single: Corners<f64>,
    /// Corner weights then [kg].
    pub reached: Corners<f64>,
    /// Wish less what is reached [kg].
    pub missed: Corners<f64>,
    /// Part of the miss in the total [kg]: ballast, not springs.
    pub total_missed: f64,
    /// Part of the miss in the front axle's weight [kg], beyond its half of the total: move mass along the car.
    pub front_missed: f64,
    /// Part of the miss in the left side's weight [kg], likewise: move mass across the car.
    pub left_missed: f64,
    /// Whether a connected bar carries load afterwards: disconnect it, or set its links again.
    pub bar_loaded: bool,
}

impl Perches {
    fn check(&self) -> Result<(), VehicleError> {
        for c in self.corners.to_array() {
            positive("wheel rate", c.wheel_rate)?;
            positive("tyre rate", c.tyre_rate)?;
            positive("motion ratio", c.motion_ratio)?;
            positive("perch pitch", c.pitch)?;
        }
        positive("wheelbase", self.footprint.wheelbase)?;
        positive("front track", self.footprint.front_track)?;
        positive("rear track", self.footprint.rear_track)?;
        not_negative("front bar rate", self.front_bar)?;
        not_negative("rear bar rate", self.rear_bar)?;
        Ok(())
    }

    /// The only change of corner loads that leaves all moments alone.
    fn warp(&self) -> [f64; 4] {
        let ratio = self.footprint.front_track / self.footprint.rear_track;
        [1.0, -1.0, -ratio, ratio]
    }

    /// What turning the perches does: loads, heave, pitch, roll.
    ///
    /// Unknown: load changes F_i at the road and rise of the body at the corners `q_i = z + y_i roll + ..`. The spring
    /// is compressed by its perch and by the wheel's travel `s_i = -q_i - F_i/k_t`:
    /// `F_i = k_i (u_i + s_i) + k_bar (s_i - s_j)`, j the other wheel of the axle, `u = turns pitch/ratio`.
    ///
    /// # Errors
    /// Figures that no car has.
    pub fn settle(&self, turns: &Corners<f64>) -> Result<Settled, VehicleError> {
        self.check()?;
        for t in turns.to_array() {
            finite("turns", t)?;
        }
        let corners = self.corners.to_array();
        let contacts = self.footprint.contacts().to_array();
        let bars = [self.front_bar, self.front_bar, self.rear_bar, self.rear_bar];
        // Columns: F0..F3, front rise, rear rise, roll. Front rise at x = 0, rear rise at x = -L.
        let mut rows = [[0.0; 7]; 4];
        let mut rhs = [0.0; 7];
        let corner = corners.iter().zip(contacts).zip(turns.to_array().into_iter().zip(bars));
        for (i, (((c, (x, y)), (turn, bar)), (row, side))) in
            corner.zip(rows.iter_mut().zip(&mut rhs)).enumerate()
        {
            let back = -x / self.footprint.wheelbase;
            let other = i ^ 1;
            let other_tyre = corners.get(other).map_or(c.tyre_rate, |o| o.tyre_rate);
            for (j, cell) in row.iter_mut().enumerate() {
                *cell = match j {
                    j if j == i => 1.0 + (c.wheel_rate + bar) / c.tyre_rate,
                    j if j == other => -bar / other_tyre,
                    4 => c.wheel_rate * (1.0 - back),
                    5 => c.wheel_rate * back,
                    // The bar sees the difference of both wheels: 2 y roll.
                    6 => c.wheel_rate * y + bar * 2.0 * y,
                    _ => 0.0,
                };
            }
            *side = c.wheel_rate * turn * c.pitch / c.motion_ratio;
        }
        let balance = |[a, b, c, d]: [f64; 4]| [a, b, c, d, 0.0, 0.0, 0.0];
        let [r0, r1, r2, r3] = rows;
        let sums = [[1.0; 4], contacts.map(|c| c.0), contacts.map(|c| c.1)];
        let [s0, s1, s2] = sums.map(balance);
        let m =
            SMatrix::<f64, 7, 7>::from_columns(&[r0, r1, r2, r3, s0, s1, s2].map(SVector::from)).transpose();
        let rhs = SVector::<f64, 7>::from(rhs);
        let solution =
            m.lu().solve(&rhs).ok_or(VehicleError::NotUsable { name: "wheel rates", value: f64::NAN })?;
        for v in solution.iter() {
            finite("settled load", *v)?;
        }
        let [f0, f1, f2, f3, front_rise, rear_rise, roll] = solution.data.0[0];
        Ok(Settled {
            moved: Corners::from_array([f0, f1, f2, f3].map(|f| f / GRAVITY)),
            front_rise,
            rear_rise,
            roll,
        })
    }

    /// Turns toward wished corner weights [kg], and what no turning can meet.
    ///
    /// # Errors
    /// Figures that no car has.
    pub fn plan(&self, present: &Corners<f64>, wish: &Corners<f64>) -> Result<PerchPlan, VehicleError> {
        self.check()?;
        for w in present.to_array().into_iter().chain(wish.to_array()) {
            not_negative("corner weight", w)?;
        }
        let (have, want, warp) = (present.to_array(), wish.to_array(), self.warp());
        let dot = |a: &[f64; 4], b: &[f64; 4]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let mut ask = [0.0; 4];
        for (a, (w, h)) in ask.iter_mut().zip(want.iter().zip(have)) {
            *a = w - h;
        }
        // Least squares on the one free direction: what is left over is square to it.
        let amount = dot(&warp, &ask) / dot(&warp, &warp);
        let moved = warp.map(|w| w * amount);

        // With the attitude kept, q = 0: s = -F/k_t and u = (F - k_bar (s - s_other))/k - s.
        let forces = Corners::from_array(moved.map(|m| m * GRAVITY));
        let turns = self.attitude_kept(&forces);
        let mut single = [0.0; 4];
        for (i, s) in single.iter_mut().enumerate() {
            let mut one = [0.0; 4];
            if let Some(t) = one.get_mut(i) {
                *t = 1.0;
            }
            let gain =
                dot(&warp, &self.settle(&Corners::from_array(one))?.moved.to_array()) / dot(&warp, &warp);
            *s = if amount == 0.0 { 0.0 } else { finite("turns", amount / gain)? };
        }

        let mut reached = have;
        let mut missed = [0.0; 4];
        for ((r, miss), (m, w)) in reached.iter_mut().zip(&mut missed).zip(moved.iter().zip(want)) {
            *r += m;
            *miss = w - *r;
        }
        let missed = Corners::from_array(missed);
        let total = missed.total();
        Ok(PerchPlan {
            turns,
            single: Corners::from_array(single),
            reached: Corners::from_array(reached),
            missed,
            total_missed: total,
            front_missed: missed.front() - total / 2.0,
            left_missed: missed.left() - total / 2.0,
            bar_loaded: amount != 0.0 && (self.front_bar > 0.0 || self.rear_bar > 0.0),
        })
    }

    fn attitude_kept(&self, f: &Corners<f64>) -> Corners<f64> {
        let turn = |c: &PerchCorner, other: &PerchCorner, f: f64, f_other: f64, bar: f64| {
            let (s, s_other) = (-f / c.tyre_rate, -f_other / other.tyre_rate);
            let u = (f - bar * (s - s_other)) / c.wheel_rate - s;
            u * c.motion_ratio / c.pitch
        };
        let c = &self.corners;
        Corners {
            front_left: turn(&c.front_left, &c.front_right, f.front_left, f.front_right, self.front_bar),
            front_right: turn(&c.front_right, &c.front_left, f.front_right, f.front_left, self.front_bar),
            rear_left: turn(&c.rear_left, &c.rear_right, f.rear_left, f.rear_right, self.rear_bar),
            rear_right: turn(&c.rear_right, &c.rear_left, f.rear_right, f.rear_left, self.rear_bar),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn perches(front_bar: f64, rear_bar: f64) -> Perches {
        let front =
            PerchCorner { wheel_rate: 32_000.0, tyre_rate: 220_000.0, motion_ratio: 0.8, pitch: 0.002 };
        let rear =
            PerchCorner { wheel_rate: 27_000.0, tyre_rate: 240_000.0, motion_ratio: 0.7, pitch: 0.0015 };
        Perches {
            corners: Corners { front_left: front, front_right: front, rear_left: rear, rear_right: rear },
            footprint: Footprint { wheelbase: 2.6, front_track: 1.5, rear_track: 1.45 },
            front_bar,
            rear_bar,
        }
    }

    /// The plan's turns, put into the forward statics, give the plan's weights and no change of attitude; each single
    /// corner gives the same weights (own; forward and inverse are separate code).
    #[test]
    fn the_plan_does_what_it_says() {
        let present = Corners::from_array([262.0, 249.0, 238.0, 241.0]);
        let wish = Corners::from_array([258.0, 253.0, 242.0, 237.0]);
        for p in [perches(0.0, 0.0), perches(15_000.0, 4_000.0)] {
            let plan = p.plan(&present, &wish).unwrap();
            let s = p.settle(&plan.turns).unwrap();
            assert!(s.front_rise.abs() < 1e-12 && s.rear_rise.abs() < 1e-12 && s.roll.abs() < 1e-12);
            let expect = |moved: Corners<f64>| {
                for ((r, m), p) in
                    plan.reached.to_array().iter().zip(moved.to_array()).zip(present.to_array())
                {
                    assert!((r - p - m).abs() < 1e-9);
                }
            };
            expect(s.moved);
            for i in 0..4 {
                let mut one = [0.0; 4];
                one[i] = plan.single.to_array()[i];
                expect(p.settle(&Corners::from_array(one)).unwrap().moved);
            }
        }
    }

    /// With equal tracks, a wish that keeps axle and side totals is met exactly; one that does not is met in the warp
    /// only and the rest is named (own).
    #[test]
    fn what_cannot_be_met_is_named() {
        let mut p = perches(0.0, 0.0);
        p.footprint.rear_track = 1.5;
        let present = Corners::from_array([250.0, 250.0, 250.0, 250.0]);
        let plan = p.plan(&present, &Corners::from_array([255.0, 245.0, 245.0, 255.0])).unwrap();
        assert!(plan.missed.to_array().iter().all(|m| m.abs() < 1e-9));
        let plan = p.plan(&present, &Corners::from_array([270.0, 250.0, 240.0, 250.0])).unwrap();
        assert!((plan.total_missed - 10.0).abs() < 1e-9);
        assert!((plan.front_missed - 15.0).abs() < 1e-9 && (plan.left_missed - 5.0).abs() < 1e-9);
    }

    /// Loads move without sum or moment, whatever is turned (invariant).
    #[test]
    fn forces_and_moments_balance() {
        let p = perches(12_000.0, 3_000.0);
        let s = p.settle(&Corners::from_array([3.0, -1.0, 0.5, 7.0])).unwrap();
        let (mut mx, mut my) = (0.0, 0.0);
        for (m, (x, y)) in s.moved.to_array().into_iter().zip(p.footprint.contacts().to_array()) {
            mx += m * x;
            my += m * y;
        }
        assert!(s.moved.total().abs() < 1e-9 && mx.abs() < 1e-9 && my.abs() < 1e-9);
    }
}

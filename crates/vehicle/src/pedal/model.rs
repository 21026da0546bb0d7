//! The moving car: its forces and accelerations at one state.

use nalgebra::{Matrix5, Vector3, Vector5};
use suspension::TorqueReaction;

use super::axle::Axle;
use super::{PedalError, Rolling};
use crate::GRAVITY;
use crate::aero::{AeroMap, AirForces};
use crate::error::positive;
use crate::platform::{Attitude, Car, Platform};
use crate::tyre::Slip;

/// States of the motion: where each stands.
pub(crate) mod at {
    pub const COUNT: usize = 15;
    pub const RISE: usize = 0;
    pub const PITCH: usize = 1;
    pub const TRAVEL: usize = 2;
    pub const SPEED: usize = 4;
    pub const RISING: usize = 5;
    pub const PITCHING: usize = 6;
    pub const RATE: usize = 7;
    pub const SPIN: usize = 9;
    pub const SLIP: usize = 11;
    /// Energy gone into brakes, tyres, dampers and air [J].
    pub const LOST: usize = 13;
    /// Way [m].
    pub const WAY: usize = 14;
}

pub(crate) type State = [f64; at::COUNT];

/// Turning against the caliper below which a brake's torque fades [rad/s]: dry friction has no slope at rest, an
/// integrator needs one. A wheel is locked long before it matters.
const HOLDING: f64 = 2.0;

/// Share of the tyre's squash by which the rolling radius is less than the free one (common practice, a third).
const ROLLING_SQUASH: f64 = 1.0 / 3.0;

/// A car that can be stopped.
#[derive(Clone, Debug)]
pub struct Stopper<'t> {
    pub(crate) axles: [Axle<'t>; 2],
    pub(crate) sprung: f64,
    pub(crate) centre: [f64; 2],
    pub(crate) pitch_inertia: f64,
    air: Option<AeroMap>,
    pub(crate) stands: [f64; 2],
}

/// One wheel at one state.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct WheelLook {
    pub load: f64,
    /// Force of the road, forward [N].
    pub along: f64,
    /// Rolling radius [m].
    pub rolling: f64,
    /// By the wheel's travel [N].
    pub spring: f64,
    pub damper: f64,
    /// Place of the wheel centre from the body's origin, and its change per travel, in the road's axes [m, m/m].
    pub arm: [f64; 2],
    pub way: [f64; 2],
}

/// Everything at one state.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    pub rates: State,
    pub wheels: [WheelLook; 2],
    /// Kinetic energy and that of springs, tyres' not, and height [J].
    pub energy: f64,
}

/// Matrix and right side under assembly; coordinates: along, rise, pitch, travel front, travel rear.
struct Balance {
    mass: Matrix5<f64>,
    force: Vector5<f64>,
}

impl Balance {
    /// A mass at `arm` from the body's origin (road axes), that moves by `way` per travel of `axle`, with its
    /// velocity-dependent acceleration and the force on it.
    fn add(
        &mut self,
        mass: f64,
        arm: [f64; 2],
        bias: [f64; 2],
        force: [f64; 2],
        own: Option<(usize, [f64; 2])>,
    ) {
        let pitch = [arm[1], -arm[0]];
        let mut columns = [[1.0, 0.0], [0.0, 1.0], pitch, [0.0; 2], [0.0; 2]];
        if let Some((axle, way)) = own {
            columns[3 + axle] = way;
        }
        for (i, a) in columns.iter().enumerate() {
            for (j, b) in columns.iter().enumerate() {
                self.mass[(i, j)] += mass * (a[0] * b[0] + a[1] * b[1]);
            }
            self.force[i] += a[0] * (force[0] - mass * bias[0]) + a[1] * (force[1] - mass * bias[1]);
        }
    }
}

impl<'t> Stopper<'t> {
    /// Puts the car on its wheels, as [`Platform`] does, and samples its linkages. `pitch_inertia` is the sprung
    /// mass's about its own centre [kg m^2].
    ///
    /// # Errors
    /// A car that does not stand, figures that no car has, a linkage that cannot move.
    pub fn new(car: &Car<'_>, rolling: [Rolling<'t>; 2], pitch_inertia: f64) -> Result<Self, PedalError> {
        let platform = Platform::new(car.clone())?;
        positive("pitch inertia", pitch_inertia)?;
        let [front, rear] = rolling;
        let axle = |i: usize, rolling| Axle::new(&car.axles[i], rolling, platform.wheel(2 * i));
        Ok(Self {
            axles: [axle(0, front)?, axle(1, rear)?],
            sprung: car.sprung,
            centre: [car.sprung_centre.x, car.sprung_centre.z],
            pitch_inertia,
            air: car.air,
            stands: platform.stands(),
        })
    }

    /// Accelerations and forces at a state under brake torques at one wheel of each axle [Nm].
    pub(crate) fn look(&self, y: &State, torque: [f64; 2]) -> Look {
        let (rise, pitch, speed, rising, pitching) =
            (y[at::RISE], y[at::PITCH], y[at::SPEED], y[at::RISING], y[at::PITCHING]);
        let (sp, cp) = pitch.sin_cos();
        let (up, along) = (Vector3::new(-sp, 0.0, cp), Vector3::new(cp, 0.0, sp));
        let turn = |x: f64, z: f64| [cp * x + sp * z, cp * z - sp * x];
        let mut balance = Balance { mass: Matrix5::zeros(), force: Vector5::zeros() };
        let mut rates = [0.0; at::COUNT];
        let mut lost = 0.0;
        let mut energy = 0.0;

        let arm = turn(self.centre[0], self.centre[1]);
        let squared = pitching * pitching;
        balance.add(
            self.sprung,
            arm,
            [-arm[0] * squared, -arm[1] * squared],
            [0.0, -self.sprung * GRAVITY],
            None,
        );
        balance.mass[(2, 2)] += self.pitch_inertia;
        let v = [speed + pitching * arm[1], rising - pitching * arm[0]];
        energy += self.sprung * (0.5 * (v[0] * v[0] + v[1] * v[1]) + GRAVITY * (rise + arm[1]))
            + 0.5 * self.pitch_inertia * squared;

        let mut wheels = [WheelLook::default(); 2];
        for (i, axle) in self.axles.iter().enumerate() {
            let (travel, rate, spin, slip) =
                (y[at::TRAVEL + i], y[at::RATE + i], y[at::SPIN + i], y[at::SLIP + i]);
            let place = axle.table.place(travel);
            let p = axle.table.at(&place);
            let s = p.spin;
            let across = up - s * up.dot(&s);
            let steep = across.norm();
            let down_to_road = across / steep;
            let radius = (up.dot(&p.centre) + rise) / steep;
            let squash = (axle.free_radius - radius).max(0.0);
            let load = axle.tyre_rate * squash;
            let rolling = axle.free_radius - ROLLING_SQUASH * squash;
            let pull = axle.tyre.force(&Slip { kappa: slip, ..Slip::rolling(load) }).fx;
            let force = along * pull + up * load;
            let lever = down_to_road * -radius;
            let moment = lever.cross(&force);
            let about = moment.dot(&s);
            let turning_along = s.dot(&p.turning);
            // Turning of the upright about the wheel's axis, and of the wheel against what holds its caliper.
            let upright = pitching * s.y + rate * turning_along;
            let (holder, reaction) = match axle.braking {
                TorqueReaction::Upright => (upright, turning_along),
                TorqueReaction::Body => (pitching * s.y, 0.0),
            };
            let brake = torque[i] * ((spin - holder) / HOLDING).clamp(-1.0, 1.0);

            let arm = turn(p.centre.x, p.centre.z);
            let way = turn(p.velocity.x, p.velocity.z);
            let bend = turn(p.curvature.x, p.curvature.z);
            let bias = [
                -arm[0] * squared + 2.0 * pitching * rate * way[1] + rate * rate * bend[0],
                -arm[1] * squared - 2.0 * pitching * rate * way[0] + rate * rate * bend[1],
            ];
            let mass = 2.0 * axle.unsprung;
            balance.add(mass, arm, bias, [2.0 * pull, 2.0 * load - mass * GRAVITY], Some((i, way)));
            let sideways = p.velocity.y;
            balance.mass[(3 + i, 3 + i)] += mass * sideways * sideways;
            balance.force[3 + i] -= mass * sideways * rate * rate * p.curvature.y;
            let (spring, stored) = axle.spring(&place);
            let (damper, dissipated) = axle.damper(&place, rate);
            balance.force[2] += 2.0 * (moment.y - about * s.y + brake * s.y);
            balance.force[3 + i] +=
                2.0 * (moment.dot(&p.turning) - about * turning_along + brake * reaction - spring - damper);
            rates[at::SPIN + i] = (about - brake) / axle.spin_inertia;

            let centre =
                [speed + pitching * arm[1] + rate * way[0], rising - pitching * arm[0] + rate * way[1]];
            rates[at::SLIP + i] = (spin * rolling - centre[0] - centre[0].abs() * slip) / axle.relaxation;
            // What the road's force does on the material point that it holds, as power: no work of the equations above.
            let whirl = Vector3::y() * pitching + p.turning * rate + s * (spin - upright);
            let patch = whirl.cross(&lever);
            let power = pull * (centre[0] + patch.dot(&along)) + load * (centre[1] + patch.dot(&up));
            lost += 2.0 * (dissipated + brake * (spin - holder) - power);
            let swift = rate * sideways;
            energy += mass
                * (0.5 * (centre[0] * centre[0] + centre[1] * centre[1] + swift * swift)
                    + GRAVITY * (rise + arm[1]))
                + axle.spin_inertia * spin * spin
                + 2.0 * stored;
            wheels[i] = WheelLook { load, along: pull, rolling, spring, damper, arm, way };
        }

        let attitude = Attitude { rise, pitch, roll: 0.0 };
        let air = self.air(speed, &attitude);
        for (stand, down) in self.stands.iter().zip([air.front, air.rear]) {
            balance.force[1] -= down;
            balance.force[2] += down * cp * stand;
            lost += down * (rising - pitching * cp * stand);
        }
        let above = air.drag_height - rise;
        balance.force[0] -= air.drag;
        balance.force[2] -= air.drag * above;
        lost += air.drag * (speed + pitching * above);

        // The matrix is a sum of squares: only what is not a number has no decomposition, and it must go on as such.
        let a = balance
            .mass
            .cholesky()
            .map_or_else(|| Vector5::from_element(f64::NAN), |c| c.solve(&balance.force));
        rates[at::RISE] = rising;
        rates[at::PITCH] = pitching;
        rates[at::SPEED] = a[0];
        rates[at::RISING] = a[1];
        rates[at::PITCHING] = a[2];
        for i in 0..2 {
            rates[at::TRAVEL + i] = y[at::RATE + i];
            rates[at::RATE + i] = a[3 + i];
        }
        rates[at::LOST] = lost;
        rates[at::WAY] = speed;
        Look { rates, wheels, energy }
    }

    fn air(&self, speed: f64, attitude: &Attitude) -> AirForces {
        self.air.map_or_else(AirForces::default, |map| {
            map.forces(speed, self.stands.map(|stand| attitude.rise_at(stand)))
        })
    }
}

//! The moving car: its forces and accelerations at one state.

use nalgebra::Vector3;
use suspension::TorqueReaction;

use super::axle::Axle;
use super::matrix::{Balance, Travel};
use super::table::{Near, Point, Rack};
use super::{MotionError, Rolling, Steer};
use crate::GRAVITY;
use crate::aero::{AeroMap, AirForces};
use crate::error::{positive, within};
use crate::platform::{Attitude, Car, Platform};
use crate::tyre::Slip;

/// States of the motion: where each stands.
pub(super) mod at {
    pub const COUNT: usize = 37;
    pub const PLACE: usize = 0;
    pub const YAW: usize = 2;
    pub const RISE: usize = 3;
    pub const PITCH: usize = 4;
    pub const ROLL: usize = 5;
    pub const TRAVEL: usize = 6;
    /// Velocity of the body's origin and angular velocity, in its axes.
    pub const SPEED: usize = 10;
    pub const TURN: usize = 13;
    pub const RATE: usize = 16;
    pub const SPIN: usize = 20;
    pub const KAPPA: usize = 24;
    /// Tangent of the slip angle that has built up.
    pub const ALPHA: usize = 28;
    pub const RACK: usize = 32;
    pub const RACK_SPEED: usize = 33;
    /// Energy gone into brakes, tyres, dampers and air, less what engine and steering wheel put in [J].
    pub const LOST: usize = 34;
    /// What the driver has added up: of the path, and of the speed.
    pub const PATH: usize = 35;
    pub const PACE: usize = 36;
}

pub(super) type State = [f64; at::COUNT];

/// Turning against the caliper below which a brake's torque fades [rad/s], as in `pedal`.
const HOLDING: f64 = 2.0;

/// Share of the tyre's squash by which the rolling radius is less than the free one (common practice, a third).
const ROLLING_SQUASH: f64 = 1.0 / 3.0;

/// Tangent of the slip angle beyond which it builds up no further: 63 deg, where every tyre slides and the car goes
/// sideways (own).
const MOST_TANGENT: f64 = 2.0;

/// Slip along beyond which it builds up no further [-]: a wheel that spins (own).
const MOST_KAPPA: f64 = 5.0;

/// What the driver does at one time: torques at each wheel [Nm], both positive, and the rack's acceleration [m/s^2].
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Inputs {
    pub brake: [f64; 4],
    pub drive: [f64; 4],
    pub rack: f64,
    /// Rates of what the driver adds up.
    pub path: f64,
    pub pace: f64,
}

/// A car that can be driven.
#[derive(Clone)]
pub struct Runner<'c, 't> {
    pub(super) axles: [Axle<'t>; 2],
    pub(super) platform: Platform<'c>,
    pub(super) sprung: f64,
    pub(super) sprung_centre: Vector3<f64>,
    pub(super) inertia: [f64; 3],
    /// The body's part of the balances.
    body: Balance,
    pub(super) air: Option<AeroMap>,
    pub(super) stands: [f64; 2],
    /// Centre of the whole car at ride height, and its mass.
    pub(super) centre: Vector3<f64>,
    pub(super) mass: f64,
    pub(super) brake_front: f64,
    pub(super) drive_front: f64,
    pub(super) most_rack: f64,
    pub(super) near: [Near; 4],
}

/// Where a tyre meets the road.
pub(super) struct Touch {
    pub load: f64,
    pub heading: Vector3<f64>,
    pub across: Vector3<f64>,
    pub inclination: f64,
    pub slip: [f64; 2],
}

/// One wheel at one state.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct WheelLook {
    pub load: f64,
    /// Force of the road along the wheel's heading and across it [N].
    pub force: [f64; 2],
    /// Heading against the body, to the left positive [rad], and camber against the road [rad], top out positive.
    pub heading: f64,
    pub camber: f64,
    pub rolling: f64,
    /// Velocity along the heading and of the contact point across it [m/s].
    pub speed: [f64; 2],
    /// Moment of the road about the wheel's axis [Nm].
    #[cfg_attr(not(test), expect(dead_code, reason = "what the tests hold to the platform"))]
    pub about: f64,
}

/// Everything at one state.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    pub rates: State,
    pub wheels: [WheelLook; 4],
    /// Along and across the body's heading on the road, at the centre of gravity: velocity [m/s] and acceleration.
    pub speed: [f64; 2],
    pub acceleration: [f64; 2],
    pub yaw_rate: f64,
    /// Kinetic energy, height, springs [J]; tyres' not.
    pub energy: f64,
}

impl<'c, 't> Runner<'c, 't> {
    /// Puts the car on its wheels, as [`Platform`] does, and samples its linkages. `inertia` is the sprung mass's about
    /// its own centre, about x, y, z (roll, pitch, yaw) [kg m^2], without products.
    ///
    /// # Errors
    /// A car that does not stand, figures that no car has, a linkage that cannot move.
    pub fn new(
        car: &Car<'c>,
        rolling: [Rolling<'t>; 2],
        inertia: [f64; 3],
        steer: Steer,
    ) -> Result<Self, MotionError> {
        let platform = Platform::new(car.clone())?;
        for (name, value) in ["roll inertia", "pitch inertia", "yaw inertia"].into_iter().zip(inertia) {
            positive(name, value)?;
        }
        within("greatest travel of the rack", steer.most_rack, 0.0, 0.3)?;
        let [front, rear] = rolling;
        let axle = |i: usize, rolling, most| Axle::new(&car.axles[i], rolling, platform.wheel(2 * i), most);
        let axles = [axle(0, front, steer.most_rack)?, axle(1, rear, 0.0)?];
        let mut moment = car.sprung_centre * car.sprung;
        let mut mass = car.sprung;
        for i in 0..4 {
            moment += platform.wheel(i).at.place.centre * axles[i / 2].unsprung;
            mass += axles[i / 2].unsprung;
        }
        Ok(Self {
            axles,
            sprung: car.sprung,
            sprung_centre: car.sprung_centre,
            inertia,
            body: Balance::body(car.sprung, &car.sprung_centre, &inertia),
            air: car.air,
            stands: platform.stands(),
            centre: moment / mass,
            mass,
            brake_front: car.brake_front,
            drive_front: car.drive_front,
            most_rack: steer.most_rack,
            near: [Near::default(); 4],
            platform,
        })
    }

    /// Mass of the whole car [kg].
    pub fn mass(&self) -> f64 {
        self.mass
    }

    /// Centre of the whole car at ride height, in its axes [m].
    pub fn centre(&self) -> Vector3<f64> {
        self.centre
    }

    /// Distance of the axles' contact points at ride height [m].
    pub fn wheelbase(&self) -> f64 {
        self.stands[0] - self.stands[1]
    }

    /// Accelerations and forces at a state.
    #[inline]
    pub(super) fn look(&self, y: &State, inputs: &Inputs, near: &mut [Near; 4]) -> Look {
        self.look_with(y, inputs, near, |i, touch| {
            if touch.load <= 0.0 {
                return (Vector3::zeros(), 0.0);
            }
            // The right tyre is the mirror image of the left one.
            let side = side(i);
            let force = self.axles[i / 2].tyre.force(&Slip {
                kappa: touch.slip[0],
                alpha: touch.slip[1].atan() * side,
                inclination: touch.inclination * side,
                load: touch.load,
            });
            let turn = force.mz.unwrap_or(0.0) * side;
            (touch.heading * force.fx + touch.across * (force.fy * side), turn)
        })
    }

    /// As [`Self::look`], with the force in the plane of the road and the moment about its normal given for each wheel.
    #[inline]
    pub(super) fn look_with(
        &self,
        y: &State,
        inputs: &Inputs,
        near: &mut [Near; 4],
        mut tyre: impl FnMut(usize, &Touch) -> (Vector3<f64>, f64),
    ) -> Look {
        let attitude = Attitude { rise: y[at::RISE], pitch: y[at::PITCH], roll: y[at::ROLL] };
        let road = attitude.road();
        let up = road.up;
        let vector = |i: usize| Vector3::new(y[i], y[i + 1], y[i + 2]);
        let (v, w) = (vector(at::SPEED), vector(at::TURN));
        let rack = Rack { at: y[at::RACK], speed: y[at::RACK_SPEED], hurry: inputs.rack };
        let mut rates = [0.0; at::COUNT];
        let (mut lost, mut energy) = (0.0, 0.0);
        let gravity = up * -GRAVITY;
        let carried = w.cross(&v);

        let mut balance = self.body;
        let c = &self.sprung_centre;
        let spun = w.component_mul(&Vector3::from(self.inertia));
        let force = (gravity - carried - w.cross(&w.cross(c))) * self.sprung;
        balance.push(&force, &(c.cross(&force) - w.cross(&spun)));
        let moving = v + w.cross(c);
        energy += self.sprung * (0.5 * moving.norm_squared() + GRAVITY * up.dot(c)) + 0.5 * w.dot(&spun);

        let points: [Point; 4] = std::array::from_fn(|i| {
            let still = Rack::default();
            let rack = if i < 2 { &rack } else { &still };
            self.axles[i / 2].table.at(y[at::TRAVEL + i], rack, side(i), &mut near[i])
        });
        let mut wheels = [WheelLook::default(); 4];
        let mut travels = [Travel::default(); 4];
        let mut ridden = [(Vector3::zeros(), 0.0); 2];
        for i in 0..4 {
            let (axle, p) = (&self.axles[i / 2], &points[i]);
            let (rate, spin) = (y[at::RATE + i], y[at::SPIN + i]);
            let slip = [y[at::KAPPA + i], y[at::ALPHA + i]];
            let r = &p.centre;
            let e = &p.axis;
            // The wheel's plane on the road.
            let lean = e.dot(&up);
            let steep = (1.0 - lean * lean).sqrt();
            let heading = e.cross(&up) / steep;
            let across = up.cross(&heading);
            let radius = (up.dot(r) + attitude.rise) / steep;
            let squash = (axle.free_radius - radius).max(0.0);
            let load = axle.tyre_rate * squash;
            let rolling = axle.free_radius - ROLLING_SQUASH * squash;
            let lever = (up - e * lean) * (-radius / steep);
            let own = p.velocity * rate + p.steered;
            let velocity = v + w.cross(r) + own;
            let upright = w + p.turning * rate + p.steered_turning;
            let whirl = upright.cross(&lever);
            let speed = [velocity.dot(&heading), (velocity + whirl).dot(&across)];
            let inclination = lean.clamp(-1.0, 1.0).asin();
            let touch = Touch { load, heading, across, inclination, slip };
            let (flat, turn) = tyre(i, &touch);
            let force = flat + up * load;
            let moment = lever.cross(&force) + up * turn;
            let about = moment.dot(e);

            let turning_along = e.dot(&p.turning);
            let (body, held) = (w.dot(e), upright.dot(e));
            let braked_by = if axle.braking == TorqueReaction::Upright { held } else { body };
            let brake = inputs.brake[i] * ((spin - braked_by) / HOLDING).clamp(-1.0, 1.0);
            let drive = inputs.drive[i];
            let driven_by = if axle.driving == TorqueReaction::Upright { held } else { body };
            let reaction = if axle.braking == TorqueReaction::Upright { brake } else { 0.0 }
                - if axle.driving == TorqueReaction::Upright { drive } else { 0.0 };

            let bias = carried
                + w.cross(&w.cross(r))
                + w.cross(&own) * 2.0
                + p.curvature * (rate * rate)
                + p.steered_slope * (2.0 * rate)
                + p.steered_hurry;
            let mass = axle.unsprung;
            let whole = force + (gravity - bias) * mass;
            let (spring, stored) = axle.spring(p);
            let (damper, dissipated) = axle.damper(p, rate);
            let other = &points[i ^ 1];
            let (bar, bar_power, bar_energy) = axle.bar.map_or((0.0, 0.0, 0.0), |(column, k)| {
                let twist = p.elements[column][0] - other.elements[column][0];
                let force = k * twist;
                // Both ends' energy is half of it each.
                (force * p.elements[column][1], force * p.steered_elements[column], 0.25 * force * twist)
            });
            let across_axle = moment - e * about;
            balance.push(&whole, &(r.cross(&whole) + across_axle + e * (brake - drive)));
            let push = whole.dot(&p.velocity) + across_axle.dot(&p.turning) + reaction * turning_along
                - spring
                - damper
                - bar;
            travels[i] = balance.wheel(mass, r, &p.velocity, push);
            rates[at::SPIN + i] = (about - brake + drive) / axle.spin_inertia;

            let [along, lateral] = axle.relaxation;
            let kappa = (spin * rolling - speed[0] - speed[0].abs() * slip[0]) / along;
            let alpha = (speed[1] - speed[0].abs() * slip[1]) / lateral;
            rates[at::KAPPA + i] = built(slip[0], kappa, MOST_KAPPA);
            rates[at::ALPHA + i] = built(slip[1], alpha, MOST_TANGENT);

            // Power of the road on the material that it holds.
            let patch = velocity + whirl + e.cross(&lever) * (spin - held);
            let power = force.dot(&patch) + turn * up.dot(&(upright + e * (spin - held)));
            lost += dissipated + brake * (spin - braked_by) - drive * (spin - driven_by) - power;
            energy += mass * (0.5 * velocity.norm_squared() + GRAVITY * up.dot(r))
                + 0.5 * axle.spin_inertia * spin * spin
                + stored
                + bar_energy;
            if i < 2 && (rack.speed != 0.0 || rack.hurry != 0.0) {
                let given = across_axle.dot(&p.steered_turning) - axle.against_rack(p, rate) - bar_power;
                ridden[i] = (whole, given);
            }
            wheels[i] = WheelLook {
                load,
                force: [flat.dot(&heading), flat.dot(&across)],
                heading: heading.dot(&road.across).atan2(heading.dot(&road.along)),
                camber: -inclination * side(i),
                rolling,
                speed,
                about,
            };
        }

        let forward = v.dot(&road.along);
        let air = self.blow(forward, &attitude);
        for (stand, down) in self.stands.iter().zip([air.front, air.rear]) {
            let place = Vector3::new(*stand, 0.0, 0.0);
            let force = up * -down;
            balance.push(&force, &place.cross(&force));
            lost -= force.dot(&(v + w.cross(&place)));
        }
        let place = road.point + up * air.drag_height;
        let force = road.along * (-air.drag * forward.signum());
        balance.push(&force, &place.cross(&force));
        lost -= force.dot(&(v + w.cross(&place)));

        let (a, turning) = balance.solve();
        for i in 0..4 {
            rates[at::TRAVEL + i] = y[at::RATE + i];
            rates[at::RATE + i] = travels[i].rate(&a, &turning);
        }
        for (i, (whole, given)) in ridden.iter().enumerate() {
            // What the rack must give to a wheel's mass that moves with it.
            let p = &points[i];
            let pull =
                (a + turning.cross(&p.centre) + p.velocity * rates[at::RATE + i]) * self.axles[0].unsprung;
            lost -= (pull - whole).dot(&p.steered) - given;
        }
        energy += self.mass * GRAVITY * attitude.rise;
        for k in 0..3 {
            rates[at::SPEED + k] = a[k];
            rates[at::TURN + k] = turning[k];
        }
        // The body's turns are yaw, pitch, roll in this order.
        let ((sr, cr), (sp, cp)) = (attitude.roll.sin_cos(), attitude.pitch.sin_cos());
        let yaw_rate = (sr * w.y + cr * w.z) / cp;
        rates[at::YAW] = yaw_rate;
        rates[at::PITCH] = cr * w.y - sr * w.z;
        rates[at::ROLL] = w.x + sp * yaw_rate;
        let (sy, cy) = y[at::YAW].sin_cos();
        let sideways = v.dot(&road.across);
        rates[at::PLACE] = cy * forward - sy * sideways;
        rates[at::PLACE + 1] = sy * forward + cy * sideways;
        rates[at::RISE] = v.dot(&up);
        rates[at::RACK] = rack.speed;
        rates[at::RACK_SPEED] = inputs.rack;
        rates[at::LOST] = lost;
        rates[at::PATH] = inputs.path;
        rates[at::PACE] = inputs.pace;
        let c = &self.centre;
        let (there, hurry) = (v + w.cross(c), a + carried + turning.cross(c) + w.cross(&w.cross(c)));
        Look {
            rates,
            wheels,
            speed: [there.dot(&road.along), there.dot(&road.across)],
            acceleration: [hurry.dot(&road.along), hurry.dot(&road.across)],
            yaw_rate,
            energy,
        }
    }

    #[inline]
    fn blow(&self, forward: f64, attitude: &Attitude) -> AirForces {
        self.air.map_or_else(AirForces::default, |map| {
            map.forces(forward, self.stands.map(|stand| attitude.rise_at(stand)))
        })
    }
}

/// +1 for a left wheel, -1 for a right one.
#[inline]
pub(super) fn side(wheel: usize) -> f64 {
    if wheel.is_multiple_of(2) { 1.0 } else { -1.0 }
}

/// Rate of a slip that builds up to a greatest one and no further.
#[inline]
fn built(slip: f64, rate: f64, most: f64) -> f64 {
    if slip.abs() >= most && slip * rate > 0.0 { 0.0 } else { rate }
}

//! The verge of sliding: how far a demand is from what the tyres give, and where it is reached.

use super::attitude::{Detail, Extent, Stance, Stances, front_share};
use super::axle::{Peak, Tyres, Used, share};
use super::driver::Held;
use super::{LimitCar, LimitError};
use crate::GRAVITY;
use crate::platform::Platform;
use crate::power::Differential;

/// Totals of braking force at which the front share is known.
const SHARES: usize = 24;

/// Part of the greatest friction by which the grid reaches beyond it (own): the peak of a lightly loaded tyre is above
/// that at rest.
const BEYOND: f64 = 1.15;

/// Width to which a limit is found [m/s^2].
const EXACT: f64 = 1e-4;

/// Passes for the drag of the slip angles: it is a tenth of the side force and changes that by a hundredth.
const PASSES: usize = 3;

/// A car by what its limits need.
#[derive(Clone, Debug)]
pub struct Edge<'c> {
    car: LimitCar<'c>,
    stances: Stances,
    tyres: [Tyres; 2],
    mass: f64,
    /// Centre of gravity behind the front and before the rear axle, wheelbase [m].
    arms: [f64; 2],
    wheelbase: f64,
    /// Half tracks [m].
    half: [f64; 2],
    /// Front share of braking at even steps of the total force, the step [N], and the greatest total [N].
    shares: [f64; SHARES],
    share_step: f64,
    most_braking: f64,
    most_along: f64,
    most_across: f64,
    differential: Differential,
}

/// A demand against what the car can do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// How far beyond its tyres' ellipse each axle is asked: zero on the verge, -1 with nothing asked.
    pub beyond: [f64; 2],
    /// Longitudinal force of all tyres [N], forward positive.
    pub force: f64,
    /// What resists: air, rolling, slip angles [N].
    pub resistance: f64,
    /// Share of the rear axle's side grip that is left [-].
    pub rear_reserve: f64,
    /// Sum of cornering stiffness times the square of its lever [Nm/rad m]: yaw damping times `I_z v`.
    pub yaw_damping: f64,
    /// Loads of the tyres [N].
    pub loads: [f64; 4],
}

impl<'c> Edge<'c> {
    /// Puts the car on its wheels under all it may be asked, up to a speed [m/s], on so many cores.
    ///
    /// # Errors
    /// Figures that no car has; a car that does not stand.
    pub fn new(car: LimitCar<'c>, fastest: f64, detail: Detail, cores: usize) -> Result<Self, LimitError> {
        car.check()?;
        let mut platform = Platform::new(car.car.clone())?;
        if car.ride != [0.0; 2] {
            platform.set_ride(car.ride)?;
        }
        let weight = platform.weight();
        let mass = weight / GRAVITY;
        let rest = platform.solve(&crate::platform::Demand::default())?.wheels.map(|w| w.load);
        let [front, rear] = platform.stands();
        let wheelbase = front - rear;
        let share_rear = (rest[2] + rest[3]) / weight;
        let air = |v: f64| {
            let forces = car.car.air.map_or_else(Default::default, |air| air.forces(v, car.ride));
            (forces.front + forces.rear).max(0.0)
        };
        let down = 1.0 + air(fastest) / weight;
        let light = |i: usize| {
            let load = 0.5 * rest[2 * i];
            let along = car.tyres[i].braking_peak(load).0 / load;
            let across = car.tyres[i].side_peak(load, 0.0).0 / load;
            [along, across]
        };
        let [one, two] = [light(0), light(1)];
        let along = BEYOND * one[0].max(two[0]) * down * GRAVITY;
        let across = BEYOND * one[1].max(two[1]) * down * GRAVITY;
        let extent = Extent { fastest, along, across };
        let stances = Stances::new(&mut platform, mass, &car.brakes, &extent, (detail, cores))?;
        let most_load = 0.75 * weight * down;
        let tyres = [0, 1].map(|i: usize| Tyres::new(car.tyres[i], rest[2 * i], most_load));
        let share_step = mass * along / (SHARES - 1) as f64;
        let most_braking = match car.brakes {
            crate::brake::Effort::Share(_) => f64::INFINITY,
            crate::brake::Effort::Pedal(..) => {
                let (front, rear) = car.brakes.forces(crate::brake::hydraulics::GREATEST_PEDAL);
                front + rear
            }
        };
        Ok(Self {
            shares: std::array::from_fn(|i| front_share(&car.brakes, share_step * i as f64)),
            share_step,
            most_braking,
            mass,
            arms: [wheelbase * share_rear, wheelbase * (1.0 - share_rear)],
            wheelbase,
            half: [0, 2].map(|i: usize| platform.wheel(i).at.place.centre.y.abs()),
            stances,
            tyres,
            most_along: along,
            most_across: across,
            differential: car.power.map_or(Differential::Limited, |power| power.differential),
            car,
        })
    }

    /// The car.
    pub fn car(&self) -> &LimitCar<'c> {
        &self.car
    }

    /// Mass [kg].
    pub fn mass(&self) -> f64 {
        self.mass
    }

    /// Mass and what its wheels add to it when they are spun up [kg].
    pub fn mass_with_wheels(&self) -> f64 {
        let wheels = self.car.spin_inertia.iter().zip(&self.car.car.axles).map(|(inertia, axle)| {
            let radius = axle.corner.loaded_radius();
            2.0 * inertia / (radius * radius)
        });
        self.mass + wheels.sum::<f64>()
    }

    fn front_share(&self, total: f64) -> f64 {
        let at = (total / self.share_step).clamp(0.0, (SHARES - 1) as f64);
        let i = (at as usize).min(SHARES - 2);
        self.shares[i] + (self.shares[i + 1] - self.shares[i]) * (at - i as f64)
    }

    /// A speed [m/s], a longitudinal and a lateral acceleration [m/s^2] against what the car can do, `grip` a share of the
    /// tyres' friction. `None` where the car tips, or the brakes cannot press so hard.
    pub fn look(&self, speed: f64, along: f64, across: f64, grip: f64) -> Option<Look> {
        self.with(speed, Some(along), across, grip)
    }

    /// Longitudinal acceleration without drive and brakes [m/s^2].
    pub fn coast(&self, speed: f64, across: f64, grip: f64) -> Option<f64> {
        let mut along = 0.0;
        for _ in 0..PASSES {
            // Nothing along: the tyres turn the car alone.
            along = -self.with(speed, None, across, grip)?.resistance / self.mass;
        }
        Some(along)
    }

    fn with(&self, speed: f64, along: Option<f64>, across: f64, grip: f64) -> Option<Look> {
        let stance = self.stances.at(speed * speed, along.unwrap_or(0.0), across)?;
        let peaks: [Peak; 4] =
            std::array::from_fn(|w| self.tyres[w / 2].peak(stance.load[w], stance.inclination[w], grip));
        let still = stance.drag + self.car.rolling * stance.load.iter().sum::<f64>();
        let mut corner = 0.0;
        let mut force = 0.0;
        let mut axles = [Used::default(); 2];
        let mut sides = [0.0; 2];
        for _ in 0..PASSES {
            force = along.map_or(0.0, |along| self.mass * along + still + corner);
            if force < -self.most_braking {
                return None;
            }
            let front = if force < 0.0 { self.front_share(-force) } else { self.car.car.drive_front };
            let parts = [force * front, force * (1.0 - front)];
            axles = [0, 1].map(|i: usize| {
                let differential = if parts[i] == 0.0 { Differential::Limited } else { self.differential };
                share(parts[i], &[peaks[2 * i], peaks[2 * i + 1]], differential)
            });
            let turning: f64 = (0..2).map(|i| self.half[i] * (axles[i].along[1] - axles[i].along[0])).sum();
            let total = self.mass * across;
            sides = [
                (total * self.arms[1] - turning) / self.wheelbase,
                (total * self.arms[0] + turning) / self.wheelbase,
            ];
            corner = (0..2).map(|i| self.slip_drag(i, &axles[i], sides[i], &peaks)).sum();
        }
        let beyond = [0, 1].map(|i: usize| beyond(&axles[i], sides[i]));
        let rear = &axles[1];
        let left: f64 = rear.across.iter().sum();
        Some(Look {
            beyond,
            force,
            resistance: still + corner,
            rear_reserve: (left - sides[1].abs()) / rear.free_across.max(1.0),
            yaw_damping: if along.is_some_and(|a| a <= 0.0) && self.car.driver.is_some() {
                (0..2).map(|i| self.stiffness(i, &axles[i], sides[i], &peaks) * self.arms[i].powi(2)).sum()
            } else {
                0.0
            },
            loads: stance.load,
        })
    }

    /// Side force of a wheel [N], use of its grip, and share of the peak's slip angle with its slope.
    fn wheel(&self, i: usize, k: usize, used: &Used, side: f64, peaks: &[Peak; 4]) -> (f64, f64, (f64, f64)) {
        let peak = &peaks[2 * i + k];
        let most: f64 = used.across.iter().sum();
        let own = if most > 0.0 { side.abs() * used.across[k] / most } else { 0.0 };
        let part = |force: f64, peak: f64| if peak > 0.0 { force / peak } else { 0.0 };
        let rho = part(used.along[k].abs(), peak.along).hypot(part(own, peak.across)).min(1.0);
        (own, rho, self.tyres[i].share_of_angle(rho))
    }

    /// What the slip angles of an axle cost along [N]: by similarity of combined slip, the slip angle is the whole slip's
    /// part across.
    fn slip_drag(&self, i: usize, used: &Used, side: f64, peaks: &[Peak; 4]) -> f64 {
        let of = |k: usize| {
            let peak = &peaks[2 * i + k];
            let (own, rho, (share, _)) = self.wheel(i, k, used, side, peaks);
            if rho <= 0.0 || peak.across <= 0.0 {
                return 0.0;
            }
            own * (peak.angle * share * own / peak.across / rho).sin()
        };
        of(0) + of(1)
    }

    /// Cornering stiffness of an axle at the slip in use [N/rad]: along the slip's own direction the slope of the curve,
    /// across it its secant.
    fn stiffness(&self, i: usize, used: &Used, side: f64, peaks: &[Peak; 4]) -> f64 {
        let of = |k: usize| {
            let peak = &peaks[2 * i + k];
            let (own, rho, (share, slope)) = self.wheel(i, k, used, side, peaks);
            if peak.angle <= 0.0 || peak.across <= 0.0 {
                return 0.0;
            }
            if rho <= 1e-9 {
                return peak.across / peak.angle * slope;
            }
            let across = own / peak.across / rho;
            let turn = (1.0 - across * across).max(0.0);
            peak.across / peak.angle * (slope * across * across + rho / share.max(1e-9) * turn)
        };
        of(0) + of(1)
    }

    /// Yaw damping of straight free running at a speed, in the measure of [`Look::yaw_damping`].
    fn free_damping(&self, speed: f64, grip: f64) -> f64 {
        let Some(Stance { load, inclination, .. }) = self.stances.at(speed * speed, 0.0, 0.0) else {
            return 0.0;
        };
        let peaks: [Peak; 4] = std::array::from_fn(|w| self.tyres[w / 2].peak(load[w], inclination[w], grip));
        let free = |i: usize| share(0.0, &[peaks[2 * i], peaks[2 * i + 1]], Differential::Limited);
        (0..2).map(|i| self.stiffness(i, &free(i), 0.0, &peaks) * self.arms[i].powi(2)).sum()
    }

    /// Greatest lateral acceleration of a steady turn at a speed [m/s^2].
    pub fn across(&self, speed: f64, grip: f64) -> f64 {
        border(0.0, self.most_across, |a| worst(&self.look(speed, 0.0, a, grip)?))
    }

    /// Greatest longitudinal acceleration that the tyres give in a turn [m/s^2]; the engine may give less.
    pub fn traction(&self, speed: f64, across: f64, grip: f64) -> f64 {
        border(0.0, self.most_along, |a| worst(&self.look(speed, a, across, grip)?))
    }

    /// Least longitudinal acceleration in a turn [m/s^2], negative, and what of the driver's ends it, if he does: what he
    /// keeps in hand is kept. Never above coasting.
    pub fn braking(&self, speed: f64, across: f64, grip: f64) -> (f64, Option<Held>) {
        let Some(coast) = self.coast(speed, across, grip) else { return (0.0, None) };
        let tyres = |a: f64| worst(&self.look(speed, -a, across, grip)?);
        let limit = border(-coast, self.most_along, tyres);
        let Some(driver) = self.car.driver else { return (-limit, None) };
        let free = self.free_damping(speed, grip);
        let reserve = border(-coast, limit, |a| {
            Some(driver.rear_reserve - self.look(speed, -a, across, grip)?.rear_reserve)
        });
        let damping = border(-coast, limit, |a| {
            Some(driver.yaw_damping - self.look(speed, -a, across, grip)?.yaw_damping / free.max(1.0))
        });
        let held = if reserve >= limit && damping >= limit {
            None
        } else if reserve < damping {
            Some(Held::RearReserve)
        } else {
            Some(Held::YawDamping)
        };
        (-reserve.min(damping), held)
    }
}

/// How far beyond the ellipse an axle is asked: with `u` the use along and `Y_0` the side force without it,
/// `(Y/Y_0)^2 - (Y_m(u)/Y_0)^2`, which for two wheels alike is `(Y/Y_0)^2 + u^2 - 1`.
fn beyond(used: &Used, side: f64) -> f64 {
    let free = used.free_across.max(1.0);
    let asked = (side / free).powi(2);
    if used.use_along >= 1.0 {
        asked + used.use_along.powi(2).min(1e6) - 1.0
    } else {
        asked - (used.across.iter().sum::<f64>() / free).powi(2)
    }
}

fn worst(look: &Look) -> Option<f64> {
    Some(look.beyond[0].max(look.beyond[1]))
}

/// Where a rising function passes zero from below, from `lo` on; `lo` where it is not below zero there, `hi` where it
/// stays below. Where there is no value it is beyond. Regula falsi with the Illinois rule, halving where that cannot be.
fn border(lo: f64, hi: f64, f: impl Fn(f64) -> Option<f64>) -> f64 {
    let (mut a, mut b) = (lo, hi);
    let Some(mut fa) = f(a).filter(|v| *v < 0.0) else { return lo };
    let mut fb = f(b);
    if fb.is_some_and(|v| v <= 0.0) {
        return hi;
    }
    let mut side = 0i8;
    for step in 0..60 {
        if b - a <= EXACT {
            break;
        }
        let slant = fb.map(|fb| b - fb * (b - a) / (fb - fa)).filter(|x| a < *x && *x < b && step % 4 != 3);
        // A little to the other side of the root, so that the bracket closes from both.
        let x = slant.unwrap_or(0.5 * (a + b)).clamp(a + 0.4 * EXACT, b - 0.4 * EXACT);
        match f(x) {
            Some(v) if v < 0.0 => {
                (a, fa) = (x, v);
                if side == 1 {
                    fb = fb.map(|v| 0.5 * v);
                }
                side = 1;
            }
            value => {
                (b, fb) = (x, value);
                if side == -1 {
                    fa *= 0.5;
                }
                side = -1;
            }
        }
    }
    a
}

//! Newton's method for the seven balances, from the last state, its matrix mended by what each step teaches.
//!
//! The linkages cost most. The balances are therefore solved on the wheels' ways to second order about where the
//! linkages were last solved, which costs no linkage; then the linkages go where that leads, and it is done again, until
//! it leads nowhere that they are not. From one stop to a little harder one that takes one look at the linkages.

use nalgebra::{SMatrix, SVector, Vector3};

use super::road::{Attitude, Road};
use super::wheel::{Contact, Wheel, WheelState};
use super::{Car, Demand, PlatformError, State, WHEELS};
use crate::GRAVITY;
use crate::aero::AirForces;

pub(super) type Seven = SVector<f64, 7>;

/// Largest share of the weight that may be left over in any balance: a car of 10 kN is balanced to 1e-5 N.
const LEFT_OVER: f64 = 1e-9;

/// Looks at the linkages allowed; one or two are enough but where stops are met.
const MOST_LOOKS: usize = 30;

/// Steps allowed between two looks: four or five are enough but where stops are met.
const MOST_STEPS: usize = 30;

/// Longest step of a wheel [m] and of the body's rise: a stop may be met on the way. As far may a wheel go between two
/// looks at its linkage.
const LONGEST: f64 = 0.03;

/// So near to where its linkage was solved a wheel's way to second order stands for it [m]. The velocities' part that is
/// left out, `v'' t^2/2` with `v''` 25 1/m^2 (links of 0.2 m), is then 1.3e-9: on a load of 5 kN no more than [`LEFT_OVER`].
const NEAR: f64 = 1e-5;

/// A car that finds its equilibrium under one demand after another.
#[derive(Clone)]
pub struct Platform<'c> {
    pub(super) car: Car<'c>,
    pub(super) wheels: [Wheel<'c>; 4],
    pub(super) weight: f64,
    /// Contact of each axle at ride height, forward [m].
    pub(super) stands: [f64; 2],
    /// The last state found.
    pub(super) x: Seven,
    /// Whether a wheel may leave the road.
    pub(super) lifting: bool,
}

/// One look at the balances.
struct Look {
    road: Road,
    contacts: [Contact; 4],
    forces: [Vector3<f64>; 4],
    air: AirForces,
    left: Seven,
}

impl<'c> Platform<'c> {
    /// A wheel as it stood when last looked at.
    pub(crate) fn wheel(&self, i: usize) -> &Wheel<'c> {
        &self.wheels[i]
    }

    /// Contact of each axle at ride height, forward [m].
    pub(crate) fn stands(&self) -> [f64; 2] {
        self.stands
    }

    /// Weight of the whole car [N].
    pub fn weight(&self) -> f64 {
        self.weight
    }

    /// Back to ride height: the next search starts there.
    pub fn reset(&mut self) {
        self.x = Seven::zeros();
        self.wheels.iter_mut().for_each(Wheel::go_home);
    }

    /// Sets the front share of the braking force, as a valve or another pedal force makes it.
    pub fn share_brakes(&mut self, front: f64) {
        self.car.brake_front = front;
    }

    /// As [`Self::solve`], where wheels may leave the road: the tyre of one that does pushes with nothing. What the
    /// limits of a car in a corner are found by.
    ///
    /// # Errors
    /// As [`Self::solve`]; a car that tips over has no balance.
    pub fn solve_lifting(&mut self, demand: &Demand) -> Result<State, PlatformError> {
        self.lifting = true;
        let found = self.solve(demand);
        self.lifting = false;
        found
    }

    /// The equilibrium under a demand, searched from the last one found.
    ///
    /// # Errors
    /// A wheel that cannot go where it would have to, or that leaves the road; no balance found. The next search then
    /// starts at ride height.
    pub fn solve(&mut self, demand: &Demand) -> Result<State, PlatformError> {
        let found = self.search(demand);
        if found.is_err() {
            self.reset();
        }
        found
    }

    fn search(&mut self, demand: &Demand) -> Result<State, PlatformError> {
        let mut x = self.x;
        let mut left = f64::INFINITY;
        // Only where the rack has moved.
        let mut looks = usize::from(self.go(&x, demand)?);
        while looks < MOST_LOOKS {
            let (look, balanced) = self.settle(&mut x, demand)?;
            left = look.left.amax();
            if balanced && self.astray(&x, demand) <= NEAR {
                if let Some(i) = look.contacts.iter().position(|c| c.load <= 0.0)
                    && !self.lifting
                {
                    return Err(PlatformError::Lifts { wheel: WHEELS[i] });
                }
                self.x = x;
                return Ok(self.state(&x, &look, looks));
            }
            self.go(&x, demand)?;
            looks += 1;
        }
        Err(PlatformError::Lost { left })
    }

    /// Solves the balances on the wheels' ways to second order; false where they do not balance within reach.
    fn settle(&mut self, x: &mut Seven, demand: &Demand) -> Result<(Look, bool), PlatformError> {
        let mut look = self.look(x, demand)?;
        let mut inverse: Option<SMatrix<f64, 7, 7>> = None;
        for _ in 0..MOST_STEPS {
            if look.left.amax() <= LEFT_OVER * self.weight {
                return Ok((look, true));
            }
            let lost = PlatformError::Lost { left: look.left.amax() };
            let Some(h) = inverse.or_else(|| self.jacobian(&look).try_inverse()) else { return Err(lost) };
            let mut step = -h * look.left;
            let longest = step.fixed_rows::<4>(3).amax().max(step[0].abs());
            if longest > LONGEST {
                step *= LONGEST / longest;
            }
            *x += step;
            if !x.iter().all(|v| v.is_finite()) {
                return Err(lost);
            }
            if self.astray(x, demand) > LONGEST {
                break;
            }
            let next = self.look(x, demand)?;
            inverse =
                broyden(&h, &step, &(next.left - look.left)).filter(|_| next.left.amax() < look.left.amax());
            look = next;
        }
        Ok((look, false))
    }

    /// Rack travel of a wheel [m].
    fn rack(i: usize, demand: &Demand) -> f64 {
        if i < 2 { demand.rack } else { 0.0 }
    }

    /// How far the wheel that is farthest from where its linkage stands is from there [m].
    fn astray(&self, x: &Seven, demand: &Demand) -> f64 {
        let of = |i: usize| self.wheels[i].astray(x[3 + i], Self::rack(i, demand));
        [0, 1, 2, 3].map(of).into_iter().fold(0.0, f64::max)
    }

    /// Moves the linkages that are not near; whether any was.
    fn go(&mut self, x: &Seven, demand: &Demand) -> Result<bool, PlatformError> {
        let mut moved = false;
        for (i, wheel) in self.wheels.iter_mut().enumerate() {
            let (travel, rack) = (x[3 + i], Self::rack(i, demand));
            if wheel.astray(travel, rack) > NEAR {
                moved = true;
                if !wheel.go(travel, rack) {
                    return Err(PlatformError::Unreachable { wheel: WHEELS[i], travel });
                }
            }
        }
        Ok(moved)
    }

    /// All balances at a state: what is left over of each [N]; the moments divided by a metre.
    fn look(&mut self, x: &Seven, demand: &Demand) -> Result<Look, PlatformError> {
        let attitude = Attitude { rise: x[0], pitch: x[1], roll: x[2] };
        let road = attitude.road();
        for (i, wheel) in self.wheels.iter_mut().enumerate() {
            if !wheel.read(x[3 + i]) {
                return Err(PlatformError::Unreachable { wheel: WHEELS[i], travel: x[3 + i] });
            }
        }
        let mut contacts = [0, 1, 2, 3].map(|i| self.wheels[i].contact(&road));
        for contact in contacts.iter_mut().filter(|c| self.lifting && c.load < 0.0) {
            contact.load = 0.0;
            contact.rates = [0.0; 4];
        }
        let rises = self.stands.map(|s| attitude.rise_at(s));
        let air = self.car.air.map_or_else(AirForces::default, |air| air.forces(demand.speed, rises));
        let along = self.along(demand, &air);
        let pull = road.up * GRAVITY + road.along * demand.along + road.across * demand.across;
        let mut moment = Vector3::zeros();
        let mut up = 0.0;
        let mut act = |place: &Vector3<f64>, force: &Vector3<f64>| {
            moment += (place - road.point).cross(force);
            up += road.up.dot(force);
        };
        act(&self.car.sprung_centre, &(pull * -self.car.sprung));
        for (stand, down) in self.stands.iter().zip([air.front, air.rear]) {
            act(&Vector3::new(*stand, 0.0, 0.0), &(road.up * -down));
        }
        act(&(road.point + road.up * air.drag_height), &(road.along * -air.drag));
        let mut forces = [Vector3::zeros(); 4];
        for (i, wheel) in self.wheels.iter().enumerate() {
            forces[i] = road.along * (along[i / 2] / 2.0) + road.up * contacts[i].load;
            act(&contacts[i].place, &forces[i]);
            act(&wheel.at.place.centre, &(pull * -wheel.unsprung));
        }
        for (i, side) in self.sideways(demand, &road, &contacts, road.up.dot(&moment)).into_iter().enumerate()
        {
            let force = road.across * side;
            forces[i] += force;
            moment += (contacts[i].place - road.point).cross(&force);
        }
        let mut left = Seven::zeros();
        for (i, wheel) in self.wheels.iter().enumerate() {
            let rig = &self.car.axles[i / 2];
            let reaction = if along[i / 2] < 0.0 { rig.braking } else { rig.driving };
            left[3 + i] = wheel.work(&forces[i], &contacts[i].place, Some(reaction))
                - pull.dot(&wheel.at.place.velocity) * wheel.unsprung
                - wheel.at.springs.0
                - self.bar(i) * wheel.at.bar.1;
        }
        left[0] = up;
        left[1] = moment.dot(&road.across);
        left[2] = moment.dot(&road.along);
        Ok(Look { road, contacts, forces, air, left })
    }

    /// Force of a wheel's bar link [N]: against the other end of the bar.
    fn bar(&self, i: usize) -> f64 {
        let rate = self.car.axles[i / 2].bar.map_or(0.0, |b| b.1);
        rate * (self.wheels[i].at.bar.0 - self.wheels[i ^ 1].at.bar.0)
    }

    /// Longitudinal force of each axle [N].
    fn along(&self, demand: &Demand, air: &AirForces) -> [f64; 2] {
        let along = self.mass() * demand.along + air.drag;
        let front = if along < 0.0 { self.car.brake_front } else { self.car.drive_front };
        [along * front, along * (1.0 - front)]
    }

    /// Side force of each wheel [N], to the left: together they hold the car on its line and let it not begin to turn,
    /// `yaw` being the moment of everything else about the vertical at the road's point [Nm]. An axle's wheels share
    /// its force by load.
    fn sideways(&self, demand: &Demand, road: &Road, contacts: &[Contact; 4], yaw: f64) -> [f64; 4] {
        let share = [0, 1, 2, 3].map(|i: usize| {
            let pair = contacts[i].load + contacts[i ^ 1].load;
            if pair > 0.0 { contacts[i].load / pair } else { 0.5 }
        });
        // The lever of an axle's side force: (p x across) . up = p . along.
        let ahead = |i: usize| share[i] * road.along.dot(&(contacts[i].place - road.point));
        let (front, rear) = (ahead(0) + ahead(1), ahead(2) + ahead(3));
        let total = self.mass() * demand.across;
        let behind = (yaw + total * front) / (front - rear);
        [0, 1, 2, 3].map(|i: usize| share[i] * if i < 2 { total - behind } else { behind })
    }

    fn mass(&self) -> f64 {
        self.weight / GRAVITY
    }

    /// The balances' derivatives, but for the turning of forces with the attitude and the bend of the wheels' ways:
    /// those are a few per cent of the tyres' and springs' rates, and cost more than the step that they save.
    fn jacobian(&self, look: &Look) -> SMatrix<f64, 7, 7> {
        let mut j = SMatrix::<f64, 7, 7>::zeros();
        let road = &look.road;
        for (i, contact) in look.contacts.iter().enumerate() {
            let wheel = &self.wheels[i];
            let lever = (contact.place - road.point).cross(&road.up);
            let arms = [1.0, lever.dot(&road.across), lever.dot(&road.along)];
            let own = 3 + i;
            for (row, arm) in arms.iter().enumerate() {
                for column in 0..3 {
                    j[(row, column)] += arm * contact.rates[column];
                }
                j[(row, own)] += arm * contact.rates[3];
            }
            for column in 0..3 {
                j[(own, column)] += contact.lift * contact.rates[column];
            }
            let bar = self.car.axles[i / 2].bar.map_or(0.0, |b| b.1) * wheel.at.bar.1;
            j[(own, own)] += contact.lift * contact.rates[3] - wheel.at.springs.1 - bar * wheel.at.bar.1;
            j[(own, 3 + (i ^ 1))] += bar * self.wheels[i ^ 1].at.bar.1;
        }
        j
    }

    fn state(&self, x: &Seven, look: &Look, steps: usize) -> State {
        let wheels = [0, 1, 2, 3].map(|i| {
            let wheel = &self.wheels[i];
            WheelState {
                travel: wheel.at.place.travel,
                load: look.contacts[i].load,
                along: look.forces[i].dot(&look.road.along),
                across: look.forces[i].dot(&look.road.across),
                toe: wheel.at.place.toe[0],
                camber: wheel.camber(&look.road),
                carried: wheel.at.springs.0,
                bar: self.bar(i),
            }
        });
        State { attitude: Attitude { rise: x[0], pitch: x[1], roll: x[2] }, wheels, air: look.air, steps }
    }
}

/// Broyden's update of the inverse (C. G. Broyden, Math. Comp. 19 (1965) 577, the "good" one; from memory): what the
/// last step taught about the derivatives that the matrix leaves out. `None` where it taught nothing.
fn broyden(h: &SMatrix<f64, 7, 7>, step: &Seven, change: &Seven) -> Option<SMatrix<f64, 7, 7>> {
    let seen = h * change;
    let along = h.tr_mul(step);
    let weight = along.dot(change);
    (weight.abs() > LEAST_LESSON * step.norm_squared())
        .then(|| h + (step - seen) * along.transpose() / weight)
}

/// Below this a step has taught nothing: the update would divide by rounding.
const LEAST_LESSON: f64 = 1e-3;

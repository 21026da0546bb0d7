//! One wheel of the platform: where it is at a travel, what the road does to it, what carries it.

use nalgebra::Vector3;
use suspension::{Mover, Ratio, TorqueReaction};

use super::road::Road;
use super::spot::{Spot, Way};
use super::{Rig, Spring, Stop};

/// A wheel in the car's equilibrium.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WheelState {
    /// Travel [m], jounce positive.
    pub travel: f64,
    /// Load of the tyre on the road [N].
    pub load: f64,
    /// Longitudinal force of the road on the tyre [N], forward positive.
    pub along: f64,
    /// Side force of the road on the tyre [N], to the left positive.
    pub across: f64,
    /// Toe against the body's centre plane [rad], toe-in positive.
    pub toe: f64,
    /// Camber against the road [rad], top out positive.
    pub camber: f64,
    /// Force of the springs together, by the wheel's travel [N]: what they carry of the load.
    pub carried: f64,
    /// Force of the bar's link [N], pushed positive; 0 without one.
    pub bar: f64,
}

/// One wheel with its mover. The right one is the mirror of the left corner.
#[derive(Clone, Debug)]
pub(crate) struct Wheel<'c> {
    mover: Mover<'c>,
    /// +1 left, -1 right.
    side: f64,
    /// Length of each element at ride height [m].
    rest: Vec<f64>,
    /// Springs with the force of each at ride height [N].
    pub springs: Vec<(usize, Spring, f64)>,
    stops: Vec<(usize, Stop)>,
    bar: Option<usize>,
    /// Radius of the tyre without load [m].
    pub free_radius: f64,
    pub tyre_rate: f64,
    pub unsprung: f64,
    /// Where the mover last measured it, and that at ride height.
    spot: Spot,
    home: Spot,
    pub at: Reading,
}

/// A wheel at a travel, in the car's axes.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Reading {
    pub place: Way,
    /// Work of springs and stops per travel [N], and its rate [N/m].
    pub springs: (f64, f64),
    /// Shortening of the bar's link from ride height [m], and its motion ratio.
    pub bar: (f64, f64),
}

/// The road under one wheel.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Contact {
    pub load: f64,
    pub place: Vector3<f64>,
    /// Change of the load with rise, pitch, roll [N/m, N/rad] and with the wheel's own travel [N/m].
    pub rates: [f64; 4],
    /// Work of a unit load per travel [m/m].
    pub lift: f64,
}

impl<'c> Wheel<'c> {
    pub fn new(rig: &Rig<'c>, side: f64) -> Self {
        let mut mover = Mover::new(rig.corner);
        let count = rig.corner.elements().len();
        // At ride height the mover has not been differentiated yet: that cannot fail there but for a corner at a dead
        // point, which `read` then tells.
        let _ = mover.at(0.0, 0.0);
        let rest = (0..count).map(|e| mover.ratio(e).map_or(0.0, |r| r.length)).collect();
        Self {
            mover,
            side,
            rest,
            springs: rig.springs.iter().map(|(e, s)| (*e, *s, 0.0)).collect(),
            stops: rig.stops.clone(),
            bar: rig.bar.map(|(e, _)| e),
            free_radius: 0.0,
            tyre_rate: rig.tyre_rate,
            unsprung: rig.unsprung,
            spot: Spot::default(),
            home: Spot::default(),
            at: Reading::default(),
        }
    }

    /// Moves the linkage to a travel and reads it there; false where the corner cannot go.
    pub fn go(&mut self, travel: f64, rack: f64) -> bool {
        // In the right corner's mirrored frame the rack moves the other way.
        let Ok(m) = self.mover.at(travel, rack * self.side) else { return false };
        self.spot.place = Way::measured(&mut self.mover, &m, self.side);
        self.spot.rack = rack;
        self.spot.elements.clear();
        let elements = self.springs.iter().map(|s| s.0).chain(self.stops.iter().map(|s| s.0)).chain(self.bar);
        for element in elements {
            // What the corner does not have moves with nothing.
            let none = Ratio { length: 0.0, ratio: 0.0, ratio_rate: 0.0 };
            let (short, r) = match (self.rest.get(element), self.mover.ratio(element)) {
                (Some(rest), Some(r)) => (rest - r.length, r),
                _ => (0.0, none),
            };
            self.spot.elements.push([short, r.ratio, r.ratio_rate]);
        }
        self.read(travel)
    }

    /// Reads the wheel at a travel, from where it was last measured; false where what carries it has no finite force.
    pub fn read(&mut self, travel: f64) -> bool {
        let by = travel - self.spot.place.travel;
        let mut elements =
            self.spot.elements.iter().map(|[short, ratio, rate]| {
                (short + by * (ratio + by * rate / 2.0), ratio + by * rate, *rate)
            });
        let mut springs = (0.0, 0.0);
        let mut push = |(force, rate): (f64, f64), ratio: f64, ratio_rate: f64| {
            springs.0 += force * ratio;
            springs.1 += rate * ratio * ratio + force * ratio_rate;
        };
        for ((_, spring, rest_force), (short, ratio, bend)) in self.springs.iter().zip(&mut elements) {
            let (force, rate) = spring.at(short);
            push((force + rest_force, rate), ratio, bend);
        }
        for ((_, stop), (short, ratio, bend)) in self.stops.iter().zip(&mut elements) {
            push(stop.at(short), ratio, bend);
        }
        let bar = elements.next().map_or((0.0, 0.0), |(short, ratio, _)| (short, ratio));
        self.at = Reading { place: self.spot.place.ahead(by), springs, bar };
        springs.0.is_finite() && springs.1.is_finite()
    }

    /// How far a travel is from where the wheel was last measured [m]; no number is near where the rack stood
    /// elsewhere.
    pub fn astray(&self, travel: f64, rack: f64) -> f64 {
        if rack == self.spot.rack { (travel - self.spot.place.travel).abs() } else { f64::INFINITY }
    }

    /// What was measured last is ride height.
    pub fn settle_in(&mut self) {
        self.home.clone_from(&self.spot);
    }

    /// Back to what was measured at ride height.
    pub fn go_home(&mut self) {
        self.spot.clone_from(&self.home);
    }

    pub fn shortening(&self, element: usize) -> Option<(f64, Ratio<f64>)> {
        let ratio = self.mover.ratio(element)?;
        Some((self.rest.get(element)? - ratio.length, ratio))
    }

    /// Motion ratio of an element here.
    pub fn ratio(&self, element: usize) -> Option<f64> {
        self.mover.ratio(element).map(|r| r.ratio)
    }

    /// Distance from the wheel centre to the road in the wheel's plane [m], and the direction up in that plane.
    pub fn over(&self, road: &Road) -> (f64, Vector3<f64>) {
        let s = self.at.place.spin;
        let up = road.up - s * road.up.dot(&s);
        let up = up / up.norm();
        (road.up.dot(&(self.at.place.centre - road.point)) / road.up.dot(&up), up)
    }

    /// The road under the wheel.
    pub fn contact(&self, road: &Road) -> Contact {
        let (radius, up) = self.over(road);
        let steep = road.up.dot(&up);
        let k = self.tyre_rate / steep;
        let place = self.at.place.centre - up * radius;
        // n . C + rise: dn/dpitch = -along, dn/droll = across cos(pitch), as `Attitude::road` turns them.
        let (c, v) = (self.at.place.centre, self.at.place.velocity);
        let rates = [
            -k,
            k * road.along.dot(&c),
            -k * road.across.dot(&c) * road.along.x.hypot(road.along.z).min(1.0),
            -k * road.up.dot(&v),
        ];
        Contact {
            load: self.tyre_rate * (self.free_radius - radius),
            place,
            rates,
            lift: self.work(&road.up, &place, None),
        }
    }

    /// Work of a force at the contact point per travel. Where the body reacts its torque about the wheel's axle, that
    /// part of its moment does none on the upright.
    pub fn work(&self, force: &Vector3<f64>, place: &Vector3<f64>, body: Option<TorqueReaction>) -> f64 {
        let moment = (place - self.at.place.centre).cross(force);
        let about_axle = match body {
            Some(TorqueReaction::Body) => {
                self.at.place.spin.dot(&moment) * self.at.place.spin.dot(&self.at.place.turning)
            }
            Some(TorqueReaction::Upright) | None => 0.0,
        };
        force.dot(&self.at.place.velocity) + moment.dot(&self.at.place.turning) - about_axle
    }

    /// Camber against the road [rad], top out positive.
    pub fn camber(&self, road: &Road) -> f64 {
        -self.at.place.spin.dot(&road.up).clamp(-1.0, 1.0).asin()
    }
}

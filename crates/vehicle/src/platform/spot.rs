//! The way of a wheel about a place where its linkage was solved: to second order in travel.
//!
//! The solver knows second derivatives, so that near a place the balances need no linkage at all.

use nalgebra::Vector3;
use suspension::{Measures, Mover, scheme};

/// A wheel at a travel with its derivatives by travel, in the car's axes.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Way {
    pub travel: f64,
    pub centre: Vector3<f64>,
    /// First and second derivative of the centre [m/m, 1/m].
    pub velocity: Vector3<f64>,
    pub acceleration: Vector3<f64>,
    /// Spin axis (unit vector out of the car).
    pub spin: Vector3<f64>,
    /// Angular velocity of the upright per travel [rad/m] and its derivative [rad/m^2].
    pub turning: Vector3<f64>,
    pub turning_rate: Vector3<f64>,
    /// Toe [rad], toe-in positive, and its first and second derivative.
    pub toe: [f64; 3],
}

/// Where a wheel was measured: rack travel, its way, and shortening from ride height, motion ratio and rate of that
/// ratio of each element that pushes: springs, stops, bar.
#[derive(Debug, Default)]
pub(crate) struct Spot {
    pub rack: f64,
    pub place: Way,
    pub elements: Vec<[f64; 3]>,
}

impl Clone for Spot {
    fn clone(&self) -> Self {
        Self { elements: self.elements.clone(), ..*self }
    }

    /// Keeps its storage: a search that starts anew allocates nothing.
    fn clone_from(&mut self, from: &Self) {
        self.rack = from.rack;
        self.place = from.place;
        self.elements.clone_from(&from.elements);
    }
}

impl Way {
    /// Where a left corner's mover stands, `m` being its measures there; `side` -1 mirrors it.
    pub fn measured(mover: &mut Mover<'_>, m: &Measures<f64>, side: f64) -> Self {
        let polar = |v: &Vector3<f64>| Vector3::new(v.x, v.y * side, v.z);
        let axial = |v: &Vector3<f64>| Vector3::new(v.x * side, v.y, v.z * side);
        let centre = mover.corner().centre();
        let solver = mover.solver();
        let turning_rate = solver.curvature().get(scheme::UPRIGHT).map_or_else(Vector3::zeros, |c| c.alpha);
        Self {
            travel: m.travel,
            centre: polar(&m.centre),
            velocity: polar(&m.centre_velocity),
            acceleration: polar(&solver.track(centre).a),
            spin: polar(&m.spin),
            turning: axial(&m.spin_of_upright),
            turning_rate: axial(&turning_rate),
            toe: [m.toe, m.toe_gain, m.toe_curvature],
        }
    }

    /// The wheel farther on by `by` [m] of travel. What is left out is of the third order of it in places, of the second
    /// in velocities.
    pub fn ahead(&self, by: f64) -> Self {
        if by == 0.0 {
            return *self;
        }
        let s1 = self.turning.cross(&self.spin);
        let s2 = self.turning_rate.cross(&self.spin) + self.turning.cross(&s1);
        let spin = self.spin + (s1 + s2 * (by / 2.0)) * by;
        let [toe, gain, bend] = self.toe;
        Self {
            travel: self.travel + by,
            centre: self.centre + (self.velocity + self.acceleration * (by / 2.0)) * by,
            velocity: self.velocity + self.acceleration * by,
            spin: spin / spin.norm(),
            turning: self.turning + self.turning_rate * by,
            toe: [toe + by * (gain + by * bend / 2.0), gain + by * bend, bend],
            ..*self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Way;
    use crate::common::demo;
    use crate::platform::wheel::{Reading, Wheel};

    /// What is left out grows as the third power of the way in places, as the second in velocities and forces (own):
    /// against the linkages solved there, on all demo cars, left and right.
    #[test]
    fn a_way_is_the_linkage_s_to_second_order() {
        let places = |w: &Way| [w.centre, w.spin].map(|v| [v.x, v.y, v.z]).concat();
        let rates = |r: &Reading| {
            let w = &r.place;
            let mut all = [w.velocity, w.turning * 0.1].map(|v| [v.x, v.y, v.z]).concat();
            all.extend([r.springs.0 * 1e-4, r.bar.1, w.toe[1]]);
            all
        };
        let largest = |a: Vec<f64>, b: Vec<f64>| {
            assert_eq!(a.len(), b.len());
            a.iter().zip(&b).map(|(a, b)| (a - b).abs()).fold(1e-13, f64::max)
        };
        for name in demo::NAMES {
            let corners = demo::corners(name);
            for rig in &demo::car(&corners).axles {
                for side in [1.0, -1.0] {
                    let wrong = [8e-3, 4e-3].map(|by| {
                        let mut wheel = Wheel::new(rig, side);
                        assert!(wheel.go(0.01, 0.0) && wheel.read(0.01 + by));
                        let near = wheel.at;
                        assert!(wheel.go(0.01 + by, 0.0));
                        assert_eq!(wheel.at.place.travel, near.place.travel);
                        let exact = wheel.at;
                        (
                            largest(places(&near.place), places(&exact.place)),
                            largest(rates(&near), rates(&exact)),
                            (near.place.toe[0] - exact.place.toe[0]).abs().max(1e-13),
                        )
                    });
                    let [far, half] = wrong;
                    assert!(far.0 < 1e-5 && far.1 < 3e-3, "{name}: {far:?}");
                    assert!(
                        far.0 / half.0 > 6.0 && far.1 / half.1 > 3.0 && far.2 / half.2 > 6.0,
                        "{wrong:?}"
                    );
                }
            }
        }
    }
}

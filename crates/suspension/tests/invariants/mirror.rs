//! The right corner is the left one in the mirror.

use linkage::Frame;
use nalgebra::{Matrix3, Vector3};
use suspension::scheme::Scheme;
use suspension::{Corner, Mover};

use crate::support::{points, scheme, wheel};
use crate::{KINDS, cases};

#[test]
fn a_mirrored_corner_moves_as_the_mirror_image() {
    let mirror = Matrix3::from_diagonal(&Vector3::new(1.0, -1.0, 1.0));
    for kind in KINDS {
        let left: Scheme = scheme(kind);
        for case in cases(kind, 20) {
            let (at, wheel) = (points(&left, &case), wheel(&case));
            let mirrored: Vec<_> = at.iter().map(|p| mirror * p).collect();
            let mut other = wheel;
            other.centre = mirror * wheel.centre;
            let (a, b) =
                (Corner::new(&left, &at, &wheel).unwrap(), Corner::new(&left, &mirrored, &other).unwrap());
            let (mut a, mut b) = (Mover::new(&a), Mover::new(&b));
            for (travel, rack) in [(0.05, 0.01), (-0.05, -0.012), (0.0, 0.0)] {
                let m = a.at(travel, rack).unwrap();
                let n = b.at(travel, -rack).unwrap();
                // Spin and contact are those of a left wheel; all else must mirror.
                assert!((mirror * m.centre - n.centre).amax() < 1e-11, "{kind}");
                assert!((mirror * m.centre_velocity - n.centre_velocity).amax() < 1e-10);
                assert!((mirror * m.spin_of_upright + n.spin_of_upright).amax() < 1e-10);
                let (p, q) = (a.solver().position().poses[0].rot, b.solver().position().poses[0].rot);
                assert!((mirror * p * mirror - q).amax() < 1e-11);
            }
            assert_eq!(a.corner().centre().frame, Frame::Body(0));
        }
    }
}

//! All rates among the measures against differences of positions.

use linkage::{End, Frame};
use suspension::{Measures, Mover};

use crate::support::{corner, scheme};
use crate::{KINDS, cases};

/// Step along travel [m]. Rounding 1e-13/2e-5; truncation 4e-10/6 of third derivatives, which for these corners
/// reach 1e5 (of gains, per m^3).
const STEP: f64 = 2e-5;
const TOLERANCE: f64 = 5e-6;

#[track_caller]
fn near(what: &str, ours: f64, difference: f64) {
    let off = (ours - difference).abs();
    assert!(off < TOLERANCE * (1.0 + difference.abs()), "{what}: {ours} against {difference}");
}

#[test]
fn rates_of_the_measures_are_those_of_positions() {
    for kind in KINDS {
        let scheme = scheme(kind);
        for case in cases(kind, 30) {
            let corner = corner(&scheme, &case);
            let mut mover = Mover::new(&corner);
            for (travel, rack) in [(0.0, 0.0), (0.05, 0.0), (-0.045, 0.0), (0.02, 0.008)] {
                let here = mover.at(travel, rack).unwrap();
                // The point of the upright that is at the contact here, in the design place.
                let pose = mover.solver().position().poses[0];
                let lever = pose.rot.transpose() * (here.contact - here.centre);
                let foot = End { frame: Frame::Body(0), at: corner.centre().at + lever };
                let steer = mover.steer_screw();
                let mut at = |travel: f64, rack: f64| {
                    let m: Measures<f64> = mover.at(travel, rack).unwrap();
                    (m, mover.solver().track(&foot).p, mover.ratio(0))
                };
                let ((a, foot_a, ratio_a), (b, foot_b, ratio_b)) =
                    (at(travel + STEP, rack), at(travel - STEP, rack));
                let slope = |x: f64, y: f64| (x - y) / (2.0 * STEP);
                near("toe", here.toe_gain, slope(a.toe, b.toe));
                near("camber", here.camber_gain, slope(a.camber, b.camber));
                near("toe gain", here.toe_curvature, slope(a.toe_gain, b.toe_gain));
                for k in 0..3 {
                    near("contact", here.contact_rate[k], slope(a.contact[k], b.contact[k]));
                    near("centre", here.centre_velocity[k], slope(a.centre[k], b.centre[k]));
                    near("foot", here.contact_velocity[k], slope(foot_a[k], foot_b[k]));
                }
                assert!((here.centre_velocity.z - 1.0).abs() < 1e-12 && (here.travel - travel).abs() < 1e-15);
                near("half track", here.half_track_gain(), slope(a.contact.y, b.contact.y));
                if let (Some(r), Some(p), Some(q)) = (at(travel, rack).2, ratio_a, ratio_b) {
                    near("ratio", -r.ratio, slope(p.length, q.length));
                    near("ratio rate", r.ratio_rate, slope(p.ratio, q.ratio));
                }
                if let Some(steer) = steer {
                    let ((a, ..), (b, ..)) = (at(travel, rack + STEP), at(travel, rack - STEP));
                    for k in 0..3 {
                        near("steer", steer.v[k], slope(a.centre[k], b.centre[k]));
                    }
                    assert!(steer.v.z.abs() < 1e-12, "the travel is held");
                }
            }
        }
    }
}

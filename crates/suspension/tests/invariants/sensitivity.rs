//! The derivative of every measure by every coordinate, against building the corner anew.

use linkage::Dual64;
use nalgebra::Vector3;
use serde_json::Value;
use suspension::{Corner, Measures, Mover, Wheel};

use crate::support::{points, scheme, wheel};
use crate::{KINDS, cases};

/// Step of a coordinate [m] or angle [rad]. Rounding 1e-14/1e-5 on gains; truncation 1e-10 of third derivatives.
const STEP: f64 = 1e-5;
const TOLERANCE: f64 = 2e-6;
const PLACE: (f64, f64) = (0.035, 0.006);

fn figures<T: linkage::scalar::Real>(m: &Measures<T>) -> Vec<T> {
    let mut out = vec![m.travel, m.toe, m.camber, m.toe_gain, m.camber_gain, m.toe_curvature];
    for v in
        [&m.centre, &m.contact, &m.contact_rate, &m.contact_velocity, &m.centre_velocity, &m.spin_of_upright]
    {
        out.extend(v.iter().copied());
    }
    out.extend([m.roll_centre_height(), m.roll_steer(), m.roll_camber(), m.side_view_turning()]);
    out
}

/// Points and wheel as one list of numbers.
fn pack(at: &[Vector3<f64>], w: &Wheel<f64>) -> Vec<f64> {
    let mut all: Vec<f64> = at.iter().flat_map(|p| p.iter().copied().collect::<Vec<_>>()).collect();
    all.extend(w.centre.iter());
    all.extend([w.toe, w.camber, w.loaded_radius]);
    all
}

fn unpack<T: linkage::scalar::Real>(all: &[T]) -> (Vec<Vector3<T>>, Wheel<T>) {
    let (at, w) = all.split_at(all.len() - 6);
    let at = at.chunks(3).map(|c| Vector3::new(c[0], c[1], c[2])).collect();
    (at, Wheel { centre: Vector3::new(w[0], w[1], w[2]), toe: w[3], camber: w[4], loaded_radius: w[5] })
}

#[track_caller]
fn check(kind: &str, case: &Value) {
    let scheme = scheme(kind);
    let all = pack(&points(&scheme, case), &wheel(case));
    let (at, w) = unpack(&all);
    let corner = Corner::new(&scheme, &at, &w).unwrap();
    let mut mover = Mover::new(&corner);
    mover.at(PLACE.0, PLACE.1).unwrap();
    let spring = corner.elements().len();
    for n in 0..all.len() {
        let dual: Vec<Dual64> =
            all.iter().enumerate().map(|(i, x)| Dual64::new(*x, f64::from(u8::from(i == n)))).collect();
        let (at, w) = unpack(&dual);
        let dual = Corner::new(&scheme, &at, &w).unwrap();
        let ours = mover.sensitivity(&dual).unwrap();
        let course = mover.solver().sensitivity(dual.linkage()).unwrap();
        let mut ours: Vec<f64> = figures(&ours).iter().map(|d| d.eps).collect();
        for e in dual.elements() {
            let r = e.ratio(&dual, &course.position, &course.motion, &course.curvature);
            ours.extend([r.length.eps, r.ratio.eps, r.ratio_rate.eps]);
        }
        let anew = |by: f64| {
            let mut all = all.clone();
            all[n] += by;
            let (at, w) = unpack(&all);
            let corner = Corner::new(&scheme, &at, &w).unwrap();
            let mut mover = Mover::new(&corner);
            let mut out = figures(&mover.at(PLACE.0, PLACE.1).unwrap());
            for e in 0..spring {
                let r = mover.ratio(e).unwrap();
                out.extend([r.length, r.ratio, r.ratio_rate]);
            }
            out
        };
        for (k, ((ours, up), down)) in ours.iter().zip(anew(STEP)).zip(anew(-STEP)).enumerate() {
            let difference = (up - down) / (2.0 * STEP);
            let off = (ours - difference).abs();
            assert!(
                off < TOLERANCE * (1.0 + difference.abs()),
                "{kind} number {n} figure {k}: {ours} {difference}"
            );
        }
    }
}

#[test]
fn sensitivities_are_those_of_building_anew() {
    for kind in KINDS {
        for case in cases(kind, 6) {
            check(kind, &case);
        }
    }
}

//! Virtual work: what the screw says a load does is what the reactions answer.

use linkage::{End, Frame, Loads, Solver, reactions};
use nalgebra::Vector3;

use crate::zoo::{self, Drive, Numbers, POINTS};

/// Newtons, on loads of some thousand: rounding of a 30 by 30 decomposition.
const FORCE: f64 = 1e-6;

#[test]
fn the_spring_carries_what_the_loads_do_along_the_screw() {
    let linkage = zoo::plain(Drive::Point);
    let mut solver = Solver::new(&linkage);
    let mut numbers = Numbers::new(7);
    for place in [[0.0, 0.0], [0.04, 0.01], [-0.05, -0.02]] {
        solver.go_to(&place).unwrap();
        solver.differentiate(&[1.0, 0.0]).unwrap();
        for _ in 0..20 {
            let mut loads = Loads::none(linkage.bodies());
            let mut work = 0.0;
            for body in 0..linkage.bodies() {
                let end =
                    End { frame: Frame::Body(body), at: Vector3::from(POINTS[27]) + numbers.vector() * 0.2 };
                let (force, moment) = (numbers.vector() * 3000.0, numbers.vector() * 200.0);
                loads.add_force(&linkage, solver.position(), &end, force);
                loads.add_moment(body, moment);
                work += force.dot(&solver.track(&end).v) + moment.dot(&solver.motion().twists[body].w);
            }
            let hold = zoo::spring();
            let found = reactions(&linkage, solver.position(), &loads, &[hold]).unwrap();
            assert!(found.unbalanced < FORCE);
            let rate = hold.rate(linkage.frames(), solver.position(), solver.motion());
            let spring = found.values[found.values.len() - 1];
            assert!((work + spring * rate).abs() < FORCE, "{work} {}", spring * rate);
        }
    }
}

/// The linear part: twice the load gives twice the reactions, and loads add up.
#[test]
fn reactions_add_up() {
    let linkage = zoo::plain(Drive::Point);
    let q = Solver::new(&linkage).course().position;
    let foot = End { frame: zoo::UPRIGHT, at: Vector3::new(0.0, 0.72, 0.0) };
    let under = |force: Vector3<f64>| {
        let mut loads = Loads::none(linkage.bodies());
        loads.add_force(&linkage, &q, &foot, force);
        reactions(&linkage, &q, &loads, &[zoo::spring()]).unwrap().values
    };
    let (x, z) = (Vector3::new(1000.0, 0.0, 0.0), Vector3::new(0.0, 0.0, 2500.0));
    for ((sum, a), b) in under(x * 2.0 + z).iter().zip(under(x)).zip(under(z)) {
        assert!((sum - 2.0 * a - b).abs() < FORCE);
    }
}

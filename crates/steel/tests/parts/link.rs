//! Links and rod ends.

use nalgebra::Vector3;
use steel::Failure;
use steel::grade::Class;
use steel::part::{EndLoad, Internal, Link, LinkEnd, Member, RodEnd, Thread};

use crate::common::*;

fn m12(shank: Option<Class>, axial: Option<f64>) -> RodEnd {
    RodEnd {
        thread: Thread::metric(12.0 * MM, 1.75 * MM),
        radial: 27_356.0,
        axial,
        shank,
        fatigue: String::new(),
    }
}

fn class(yields: f64, breaks: f64) -> Class {
    Class { name: "as given".to_owned(), yields, breaks, source: "test".to_owned() }
}

fn pulled(force: Vector3<f64>) -> EndLoad {
    EndLoad { force, hole: Vector3::y(), shank: -Vector3::x() }
}

/// Rod-end rating by parts (formulas of a maker's design pages, read; worked out by us with the head's net area): ball 20, width 10,
/// housing 32, bearing 26 mm, M12, 500 MPa: the head governs with 27.356 kN, the shank would hold 38.12 kN. The stress that the
/// rating tells of the shank must not be above the true 500 MPa.
#[test]
fn the_rating_gives_a_lower_bound_of_the_shanks_strength() {
    let checks = m12(None, None).checks(&pulled(Vector3::new(10e3, 0.0, 0.0)), 20.0 * MM).unwrap();
    let shank = of(&checks, Failure::EndShank);
    near(shank.capacity, 27_356.0 / (38_120.0 / 500e6), PRINTED);
    assert!(shank.capacity < 500e6);
    assert!(shank.outside.is_some());
    near(of(&checks, Failure::EndRadial).holds(), 2.7356, EXACT);
    assert!(checks.iter().all(|check| check.failure != Failure::ThreadTension));
}

#[test]
fn a_force_is_split_across_and_along_the_hole() {
    let end = m12(Some(class(600e6, 800e6)), Some(4e3));
    let checks = end.checks(&pulled(Vector3::new(3e3, 1e3, 4e3)), 20.0 * MM).unwrap();
    near(of(&checks, Failure::EndRadial).demand, 5e3, EXACT);
    near(of(&checks, Failure::EndAxial).demand, 1e3, EXACT);
    let both = of(&checks, Failure::EndCombined);
    near(both.demand, 5e3 / 27_356.0 + 0.25, EXACT);
    assert!(both.outside.is_none());
    // Thread: 0.9 * 800 MPa * 84.27 mm^2 / 1.25 (EN 1993-1-8 table 3.4).
    near(of(&checks, Failure::ThreadTension).capacity, 48_539.0, PRINTED);
    near(of(&checks, Failure::ThreadTension).demand, 3e3, EXACT);
}

/// Wrong by a factor if the arm, the root or the 32 were wrong: 1 kN at 20 mm on the root of M12 (9.853 mm): 20 Nm / 93.9 mm^3.
#[test]
fn a_force_across_the_shank_bends_it() {
    let end = m12(Some(class(600e6, 800e6)), Some(4e3));
    let checks = end.checks(&pulled(Vector3::new(0.0, 0.0, 1e3)), 20.0 * MM).unwrap();
    near(of(&checks, Failure::EndShank).demand, 213.0 * MPA, PRINTED);
    assert!(of(&checks, Failure::ThreadTension).holds().is_infinite());
}

#[test]
fn a_missing_axial_rating_is_taken_as_a_tenth_and_said() {
    let checks = m12(None, None).checks(&pulled(Vector3::new(0.0, 1e3, 0.0)), 0.0).unwrap();
    let axial = of(&checks, Failure::EndAxial);
    near(axial.capacity, 2735.6, EXACT);
    assert!(axial.outside.is_some());
}

#[test]
fn a_link_has_the_checks_of_its_tube_and_of_both_ends() {
    let (section, grade) = (round(25.0 * MM, 2.5 * MM), s355());
    let end = |tapped| LinkEnd { rod_end: m12(None, Some(4e3)), arm: 20.0 * MM, tapped };
    let link = Link { member: Member::new(&section, &grade, 0.35), ends: [end(None), end(Some(20.0 * MM))] };
    let at = Internal { axial: 10e3, ..Internal::default() };
    let force = Vector3::new(10e3, 0.0, 0.0);
    let loads = [pulled(force), EndLoad { force: -force, hole: Vector3::y(), shank: Vector3::x() }];
    let checks = link.checks(&at, &loads).unwrap();
    assert_eq!(checks.iter().filter(|check| check.failure == Failure::EndRadial).count(), 2);
    // pi/4 (20^2 - 12^2) mm^2 = 201.06, * 0.9 * 470/1.25.
    near(of(&checks, Failure::NetSection).capacity, 68_040.0, PRINTED);
    near(of(&checks, Failure::Tension).capacity, section.area * 355e6, EXACT);
}

//! Where a corner stops: past full droop and bump the answer says how far it came and what binds, and no
//! position belongs to another assembly.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod common;
#[path = "outside/support.rs"]
mod support;

use linkage::{StopReason, Unreachable};
use nalgebra::Vector3;
use suspension::{Corner, Mover, kinds};

use common::{FIVE_LINK, WISHBONE, wheel};
use support::{corner, load, scheme};

/// How exactly a stop is located [m].
const LOCATED: f64 = 1e-5;

/// Two ways to one position [m; rad]: rounding.
const SAME: f64 = 1e-10;

fn double_wishbone() -> Corner<f64> {
    Corner::new(&kinds::double_wishbone(true), &WISHBONE.map(Vector3::from), &wheel()).unwrap()
}

fn five_link() -> Corner<f64> {
    let names = ["trailing", "lower-fore", "lower-aft", "upper-fore", "upper-aft"].map(String::from);
    Corner::new(&kinds::five_link(&names, None), &FIVE_LINK.map(Vector3::from), &wheel()).unwrap()
}

/// Asks for a travel past the stop; the stop is where the error says, and the corner works on.
#[track_caller]
fn check(corner: &Corner<f64>, asked: f64) -> Unreachable {
    let mut mover = Mover::new(corner);
    let rest = mover.at(0.0, 0.0).unwrap();
    let stop = mover.at(asked, 0.0).unwrap_err();
    let reached = stop.reached[0];
    assert!(reached.abs() < asked.abs() && reached * asked > 0.0, "{stop:?}");
    assert!((stop.share - reached / asked).abs() < 1e-9);
    // It stands there, and is measured there.
    assert_eq!(mover.measures().travel, reached);
    // The stop is where it says: from ride height the same travel can be had, and a hair more cannot.
    let side = asked.signum() * LOCATED;
    mover.reset();
    assert!(mover.at(reached - side, 0.0).is_ok());
    mover.reset();
    assert!(mover.at(reached + side, 0.0).is_err());
    // And it still works, from where it stopped.
    let again = mover.at(0.0, 0.0).unwrap();
    assert!((again.centre - rest.centre).amax() < SAME && (again.toe_gain - rest.toe_gain).abs() < 1e-9);
    stop
}

/// The arms' legs and links come into line with the upright; travels in millimetres, names as printed.
#[test]
fn corners_stop_where_links_come_into_line() {
    let rows: [(Corner<f64>, f64, f64, &[&str]); 4] = [
        (double_wishbone(), -0.5, -0.193_05, &["upper-arm aft leg", "upper-arm fore leg"]),
        (double_wishbone(), 0.5, 0.297_26, &["upper-arm aft leg", "upper-arm fore leg", "lower-arm aft leg"]),
        (five_link(), -0.5, -0.111_61, &["link.upper-aft", "link.upper-fore"]),
        (five_link(), 0.5, 0.321_40, &["link.lower-fore", "link.upper-fore", "link.lower-aft"]),
    ];
    for (corner, asked, reached, binding) in rows {
        let stop = check(&corner, asked);
        assert!((stop.reached[0] - reached).abs() < LOCATED, "{stop:?}");
        assert_eq!(stop.reason, StopReason::Toggle);
        assert_eq!(stop.binding, binding);
        assert!(stop.to_string().contains(&format!("`{}` binds with", binding[0])), "{stop}");
    }
}

#[test]
fn a_target_that_is_no_number_moves_nothing() {
    let corner = five_link();
    let mut mover = Mover::new(&corner);
    let here = mover.at(0.02, 0.0).unwrap();
    for travel in [f64::NAN, f64::INFINITY] {
        let stop = mover.at(travel, 0.0).unwrap_err();
        assert_eq!((stop.share, stop.reason), (0.0, StopReason::NoPosition));
        assert_eq!(stop.reached[0], 0.02);
    }
    assert_eq!(mover.at(0.02, 0.0).unwrap(), here);
}

/// Large travels in one call and by half-millimetre steps: the same place, or the same stop.
#[test]
fn no_step_jumps_to_another_assembly() {
    let mut stopped = 0;
    for kind in ["five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links"] {
        let data = load(&format!("{kind}.json"));
        for (n, case) in data["cases"].as_array().unwrap().iter().enumerate() {
            let corner = corner(&scheme(kind), case);
            for end in [-0.12, 0.12] {
                let (mut leap, mut creep) = (Mover::new(&corner), Mover::new(&corner));
                let at_once = leap.at(end, 0.0);
                let by_steps =
                    (1..=240).map(|k| creep.at(end * f64::from(k) / 240.0, 0.0)).find(Result::is_err);
                match (at_once, by_steps) {
                    (Ok(a), None) => {
                        let b = creep.measures();
                        assert!((a.centre - b.centre).amax() < SAME, "{kind} {n} at {end}");
                        assert!(
                            (a.toe - b.toe).abs() < SAME && (a.camber - b.camber).abs() < SAME,
                            "{kind} {n} at {end}"
                        );
                    }
                    (Err(a), Some(Err(b))) => {
                        assert!(
                            (a.reached[0] - b.reached[0]).abs() < LOCATED,
                            "{kind} {n} at {end}: {a:?} {b:?}"
                        );
                        assert_eq!(
                            (a.reason, b.reason),
                            (StopReason::Toggle, StopReason::Toggle),
                            "{kind} {n}: {a:?}"
                        );
                        stopped += 1;
                    }
                    (a, b) => panic!("{kind} {n} at {end}: {a:?} against {b:?}"),
                }
            }
        }
    }
    // Such travels are beyond some of the corners: both outcomes are looked at.
    assert!(stopped > 100, "{stopped}");
}

//! What must hold whatever the figures: no load holds without end, more load never holds better, turning every sign round
//! changes nothing where the part has no sides, nothing is NaN, and every check has its words.

use nalgebra::{Vector2, Vector3};
use steel::grade::Class;
use steel::part::{
    Bolt, BoltGroup, BoltLoad, Clamp, EndLoad, GroupLoad, Internal, Member, Planes, RodEnd, Root, Spread,
    Tab, TabLoad, Thread, TubeWall, WallLoad, WeldGroup, WeldLine, WeldLoad,
};
use steel::{Check, Failure};

use crate::common::*;

/// Draws a seed.
const DRAWS: u32 = 200;

/// Numbers from -1 to 1, the same in every run.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        // Knuth's 64-bit linear congruential generator (MMIX).
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    fn vector(&mut self) -> Vector3<f64> {
        Vector3::new(self.next(), self.next(), self.next())
    }
}

/// Runs every part under loads that grow: six numbers from -1 to 1, times `size`.
fn every_part(loads: [f64; 6], size: f64) -> Vec<Vec<Check>> {
    let [a, b, c, d, e, f] = loads.map(|load| load * size);
    let grade = s355();
    let sections = [
        round(30.0 * MM, 2.0 * MM),
        bar(14.0 * MM),
        flat(40.0 * MM, 8.0 * MM),
        boxed(60.0 * MM, 40.0 * MM, 3.0 * MM),
    ];
    let at = Internal {
        axial: 4e3 * a,
        shear_y: 5e3 * b,
        shear_z: 5e3 * c,
        torque: 100.0 * d,
        bending_y: 100.0 * e,
        bending_z: 100.0 * f,
    };
    let mut all: Vec<_> =
        sections.iter().map(|section| Member::new(section, &grade, 0.4).checks(&at).unwrap()).collect();
    let force = Vector3::new(a, b, c) * 5e3;
    let end = RodEnd {
        thread: Thread::metric(12.0 * MM, 1.75 * MM),
        radial: 30e3,
        axial: None,
        shank: Some(Class::named("8.8").unwrap().clone()),
        fatigue: String::new(),
    };
    all.push(end.checks(&EndLoad { force, hole: Vector3::y(), shank: Vector3::x() }, 0.02).unwrap());
    let bolt = Bolt {
        thread: Thread::metric(12.0 * MM, 1.75 * MM),
        class: Class::named("10.9").unwrap().clone(),
        planes: Planes::Two,
        thread_in_plane: false,
        spread: Some(Spread { outer: 0.005, gap: 0.004, inner: 0.016 }),
        clamp: Some(Clamp { force: Some(30e3), friction: 0.2, surfaces: 2 }),
    };
    all.push(bolt.checks(&BoltLoad { shear: 9e3 * a, tension: 9e3 * b.abs() }).unwrap());
    let places = [(-0.02, -0.03), (0.02, -0.03), (-0.02, 0.03), (0.02, 0.03), (0.0, 0.04)];
    let group = BoltGroup {
        bolt: Bolt { clamp: None, ..bolt },
        at: places.map(|(x, y)| Vector2::new(x, y)).to_vec(),
    };
    let load = GroupLoad {
        force: Vector2::new(a, b) * 5e3,
        at: Vector2::new(0.05, -0.03),
        twist: 100.0 * c,
        pull: 4e3 * d.abs(),
        tip: Vector2::new(e, f) * 100.0,
    };
    all.push(group.checks(&load).unwrap());
    let tab = Tab {
        thickness: 0.005,
        width: 0.035,
        edge: 0.02,
        hole: 0.012,
        bolt: 0.012,
        bolt_breaks: 1e9,
        plates: Planes::One,
        offset: 0.01,
        grade: &grade,
        root: Some(Root { width: 0.05, height: 0.03 }),
    };
    all.push(tab.checks(&TabLoad { along: 5e3 * a, across: 2e3 * b, through: 500.0 * c }).unwrap());
    let mut lines = WeldLine::round(Vector3::zeros(), Vector3::z(), 0.015, 0.003).unwrap();
    lines.push(
        WeldLine::straight(
            Vector3::new(0.02, 0.0, 0.0),
            Vector3::new(0.06, 0.01, 0.0),
            0.003,
            Some(Vector3::z()),
        )
        .unwrap(),
    );
    let welds = WeldGroup { lines, grade: &grade, filler: None, thinnest: 0.005 };
    let load = WeldLoad { force, at: Vector3::new(0.1, 0.0, 0.05), moment: Vector3::new(d, e, f) * 50.0 };
    all.push(welds.checks(&load).unwrap());
    for round in [false, true] {
        let wall = TubeWall {
            face: 0.05,
            wall: 0.003,
            round,
            plate: 0.05,
            thickness: 0.005,
            used: 0.3,
            grade: &grade,
        };
        all.push(wall.checks(&WallLoad { square: 5e3 * a, moment: 100.0 * b }).unwrap());
    }
    all
}

fn draws() -> impl Iterator<Item = [f64; 6]> {
    let mut draw = Draw(20_261_126);
    (0..DRAWS).map(move |_| std::array::from_fn(|_| draw.next()))
}

#[test]
fn no_load_holds_without_end() {
    for checks in every_part([0.0; 6], 1.0) {
        assert!(!checks.is_empty());
        for check in checks {
            assert!(check.holds().is_infinite() && check.capacity > 0.0, "{check:?}");
        }
    }
}

#[test]
fn nothing_is_nan_and_more_load_never_holds_better() {
    for loads in draws() {
        let (less, more) = (every_part(loads, 1.0), every_part(loads, 1.3));
        for (less, more) in less.iter().flatten().zip(more.iter().flatten()) {
            for check in [less, more] {
                assert!(!check.demand.is_nan() && check.demand >= 0.0, "{check:?}");
                assert!(check.capacity.is_finite() && check.capacity >= 0.0, "{check:?}");
                assert!(check.terms.iter().all(|term| term.value.is_finite()), "{check:?}");
            }
            assert_eq!(less.failure, more.failure);
            assert!(more.holds() <= less.holds() * (1.0 + 1e-12), "{less:?} {more:?}");
        }
    }
}

/// What grows straight with the load must hold 1/1.3 of what it held. Not so where a push raises bending or a pull loosens a clamp.
#[test]
fn what_is_linear_is_linear() {
    for loads in draws() {
        let (less, more) = (every_part(loads, 1.0), every_part(loads, 1.3));
        for (less, more) in less.iter().flatten().zip(more.iter().flatten()) {
            let curved = matches!(less.failure, Failure::Yield | Failure::Slip);
            if !curved && less.holds().is_finite() {
                near(more.holds() * 1.3, less.holds(), 1e-9);
            }
        }
    }
}

/// Members have no sides: turning forces across and moments round changes nothing; a weld's stresses only change their signs.
#[test]
fn signs_do_not_matter_where_there_are_no_sides() {
    for loads in draws() {
        let [a, rest @ ..] = loads;
        let [b, c, d, e, f] = rest.map(|load| -load);
        let (one, other) = (every_part(loads, 1.0), every_part([a, b, c, d, e, f], 1.0));
        for (one, other) in one.iter().zip(&other).take(4) {
            for (one, other) in one.iter().zip(other) {
                near(other.demand, one.demand, 1e-9);
            }
        }
    }
    let grade = s355();
    let line = |y, face| {
        WeldLine::straight(Vector3::new(0.0, y, 0.0), Vector3::new(0.05, y, 0.0), 0.003, Some(face)).unwrap()
    };
    let lines = vec![line(0.0, Vector3::new(0.0, -1.0, 1.0)), line(0.006, Vector3::new(0.0, 1.0, 1.0))];
    let welds = WeldGroup { lines, grade: &grade, filler: None, thinnest: 0.006 };
    let mut draw = Draw(7);
    for _ in 0..DRAWS {
        let load = WeldLoad { force: draw.vector() * 1e4, at: draw.vector(), moment: draw.vector() };
        let turned = WeldLoad { force: -load.force, moment: -load.moment, ..load };
        for (one, other) in welds.checks(&load).unwrap().iter().zip(&welds.checks(&turned).unwrap()) {
            near(other.demand, one.demand, 1e-9);
        }
    }
}

/// A weld group turned and shifted with its load is as strong as before.
#[test]
fn welds_do_not_know_where_they_are() {
    let grade = s355();
    let mut draw = Draw(11);
    for _ in 0..DRAWS {
        let turn = nalgebra::Rotation3::new(draw.vector() * 3.0);
        let shift = draw.vector();
        let (force, at, moment) = (draw.vector() * 1e4, draw.vector(), draw.vector() * 100.0);
        let ends =
            [(draw.vector(), draw.vector()), (draw.vector(), draw.vector()), (draw.vector(), draw.vector())];
        let face = draw.vector();
        let holds = |turn: &nalgebra::Rotation3<f64>, shift: Vector3<f64>| {
            let lines = ends
                .iter()
                .map(|(p, q)| {
                    WeldLine::straight(turn * p + shift, turn * q + shift, 0.003, Some(turn * face)).unwrap()
                })
                .collect();
            let welds = WeldGroup { lines, grade: &grade, filler: None, thinnest: 0.006 };
            let load = WeldLoad { force: turn * force, at: turn * at + shift, moment: turn * moment };
            welds.checks(&load).unwrap().iter().map(Check::holds).fold(f64::INFINITY, f64::min)
        };
        near(holds(&turn, shift), holds(&nalgebra::Rotation3::identity(), Vector3::zeros()), 1e-8);
    }
}

#[test]
fn every_check_has_its_words() {
    for failure in Failure::ALL {
        for words in [failure.title(), failure.formula(), failure.source(), failure.definition()] {
            assert!(words.len() > 7 && !words.contains("  ") && !words.contains("to be written"), "{words}");
        }
    }
    let titles: std::collections::HashSet<_> = Failure::ALL.iter().map(|failure| failure.title()).collect();
    assert_eq!(titles.len(), Failure::ALL.len());
}

//! Figures that no part has give an error that says what is wrong.

use nalgebra::{Vector2, Vector3};
use steel::SteelError;
use steel::grade::{Class, Grade};
use steel::part::{
    Bolt, BoltGroup, BoltLoad, EndLoad, GroupLoad, Internal, Link, LinkEnd, Member, Planes, RodEnd, Root,
    Tab, TabLoad, Thread, TubeWall, WallLoad, WeldGroup, WeldLine, WeldLoad,
};

use crate::common::*;

/// Nothing, less than nothing, and what is no number.
const WRONG: [f64; 4] = [0.0, -1.0, f64::NAN, f64::INFINITY];

#[track_caller]
fn says<T: std::fmt::Debug>(result: Result<T, SteelError>, word: &str) {
    let words = result.unwrap_err().to_string();
    assert!(words.contains(word), "{words}");
}

#[test]
fn members() {
    let (section, grade) = (bar(10.0 * MM), s355());
    let member = Member::new(&section, &grade, 0.3);
    for wrong in WRONG {
        says(Member { length: wrong, ..member }.checks(&Internal::default()), "the length");
        says(Member { end_factor: wrong, ..member }.checks(&Internal::default()), "the end factor");
        let section = steel::section::Section { area: wrong, ..section };
        says(Member { section: &section, ..member }.checks(&Internal::default()), "the area");
        let grade = Grade { yields: wrong, ..grade.clone() };
        says(Member { grade: &grade, ..member }.checks(&Internal::default()), "the yield strength");
    }
    let swapped = steel_of(210e9, 470e6, 355e6);
    says(Member { grade: &swapped, ..member }.checks(&Internal::default()), "exchanged");
    says(member.checks(&Internal { axial: f64::NAN, ..Internal::default() }), "the axial force");
    says(
        member.checks(&Internal { bending_z: f64::INFINITY, ..Internal::default() }),
        "bending moment about z",
    );
}

fn end() -> RodEnd {
    RodEnd {
        thread: Thread::metric(12.0 * MM, 1.75 * MM),
        radial: 30e3,
        axial: Some(3e3),
        shank: None,
        fatigue: String::new(),
    }
}

#[test]
fn links_and_rod_ends() {
    let load = EndLoad { force: Vector3::x(), hole: Vector3::y(), shank: Vector3::x() };
    for wrong in WRONG {
        says(RodEnd { radial: wrong, ..end() }.checks(&load, 0.0), "the radial rating");
        says(RodEnd { axial: Some(wrong), ..end() }.checks(&load, 0.0), "the axial rating");
    }
    says(end().checks(&EndLoad { hole: Vector3::zeros(), ..load }, 0.0), "gives no direction");
    says(end().checks(&load, -0.01), "must not be negative");
    let coarse = RodEnd { thread: Thread::metric(1.0 * MM, 1.75 * MM), ..end() };
    says(coarse.checks(&load, 0.0), "the core of the thread");
    let (section, grade) = (bar(10.0 * MM), s355());
    let ends = [0; 2].map(|_| LinkEnd { rod_end: end(), arm: 0.0, tapped: Some(0.010) });
    let link = Link { member: Member::new(&section, &grade, 0.3), ends };
    says(link.checks(&Internal::default(), &[load; 2]), "the wall left round the tapped thread");
}

#[test]
fn bolts() {
    let bolt = || Bolt {
        thread: Thread::metric(12.0 * MM, 1.75 * MM),
        class: Class::named("8.8").unwrap().clone(),
        planes: Planes::One,
        thread_in_plane: false,
        spread: None,
        clamp: None,
    };
    for wrong in WRONG {
        let thread = Thread::metric(0.012, wrong);
        says(Bolt { thread, ..bolt() }.checks(&BoltLoad::default()), "the pitch");
    }
    says(bolt().checks(&BoltLoad { shear: f64::NAN, tension: 0.0 }), "the shear force");
    says(bolt().checks(&BoltLoad { shear: 0.0, tension: -1.0 }), "must not be negative");
    says(Class::named("7.7").map(|class| class.breaks), "not in the table of classes");
    let group = |at: Vec<Vector2<f64>>| BoltGroup { bolt: bolt(), at };
    says(group(Vec::new()).checks(&GroupLoad::default()), "no bolts");
    let twist = GroupLoad { twist: 1.0, ..GroupLoad::default() };
    says(group(vec![Vector2::zeros(); 2]).checks(&twist), "one line or one point");
    says(group(vec![Vector2::new(f64::NAN, 0.0)]).checks(&twist), "the place of a bolt");
}

#[test]
fn tabs() {
    let grade = s355();
    let tab = Tab {
        thickness: 0.005,
        width: 0.035,
        edge: 0.02,
        hole: 0.012,
        bolt: 0.012,
        bolt_breaks: 1e9,
        plates: Planes::One,
        offset: 0.0,
        grade: &grade,
        root: Some(Root { width: 0.05, height: 0.03 }),
    };
    let none = TabLoad::default();
    assert!(tab.checks(&none).is_ok());
    for wrong in WRONG {
        says(Tab { thickness: wrong, ..tab }.checks(&none), "the thickness");
        says(Tab { hole: wrong, ..tab }.checks(&none), "the hole");
        says(Tab { edge: wrong, ..tab }.checks(&none), "the centre of the hole");
        says(
            Tab { root: Some(Root { width: wrong, height: 0.0 }), ..tab }.checks(&none),
            "the width at the weld",
        );
    }
    says(Tab { width: 0.012, ..tab }.checks(&none), "leaves nothing of a tab 12.0 mm wide");
    says(Tab { edge: 0.006, ..tab }.checks(&none), "breaks out of an end 6.0 mm");
    says(Tab { bolt: 0.013, ..tab }.checks(&none), "does not go through a hole of 12.0 mm");
    says(Tab { offset: -0.001, ..tab }.checks(&none), "must not be negative");
    says(tab.checks(&TabLoad { through: f64::NAN, ..none }), "the force along the hole");
}

#[test]
fn welds() {
    let grade = s355();
    let load = WeldLoad::default();
    let straight = |to, throat, face| WeldLine::straight(Vector3::zeros(), to, throat, face);
    says(straight(Vector3::zeros(), 0.003, None), "the length of the weld");
    says(straight(Vector3::x(), 0.003, Some(Vector3::x())), "the face of the weld gives no direction");
    for wrong in WRONG {
        says(straight(Vector3::x(), wrong, None), "the throat");
        says(WeldLine::round(Vector3::zeros(), Vector3::z(), wrong, 0.003), "the radius");
    }
    let group = |lines| WeldGroup { lines, grade: &grade, filler: None, thinnest: 0.005 };
    says(group(Vec::new()).checks(&load), "no welds");
    let line = straight(Vector3::x(), 0.003, None).unwrap();
    says(WeldGroup { filler: Some(f64::NAN), ..group(vec![line]) }.checks(&load), "filler");
    let moment = Vector3::new(0.0, f64::NAN, 0.0);
    says(group(vec![line]).checks(&WeldLoad { moment, ..load }), "the moment on the weld");
}

#[test]
fn walls() {
    let grade = s355();
    let wall = TubeWall {
        face: 0.05,
        wall: 0.003,
        round: false,
        plate: 0.05,
        thickness: 0.005,
        used: 0.3,
        grade: &grade,
    };
    for wrong in WRONG {
        says(TubeWall { plate: wrong, ..wall }.checks(&WallLoad::default()), "the length of the plate");
    }
    says(TubeWall { wall: 0.03, ..wall }.checks(&WallLoad::default()), "fills a tube of 50.0 mm");
    says(TubeWall { used: f64::NAN, ..wall }.checks(&WallLoad::default()), "the stress already in the tube");
}

//! Build of the demo car: every case in balance, limits alike with Stop and Balance, margins that follow what is asked, the
//! give of the frame against another way to it, sizes that hold when they are written into the file, cuts by hand.
#![expect(clippy::panic, clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use nalgebra::Vector3;
use project::model::{Car, End};
use study::build::{Build, EndCut, PartKind, build, positions};
use study::{Stage, balance, settle, stop};
use suspension::{Corner, Mover, Wheel};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

/// Standard gravity [m/s^2].
const G: f64 = 9.806_65;

fn read(text: &str) -> Car {
    let loaded = project::read(text);
    let mut car = loaded.car.unwrap_or_else(|| panic!("{:#?}", loaded.diagnostics));
    let errors: Vec<_> =
        loaded.diagnostics.iter().filter(|d| d.severity == project::Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    settle(&mut car);
    car
}

fn built(text: &str) -> Build {
    let out = build(&read(text), End::Rear, &[]);
    assert!(out.lacks.is_empty(), "{:?}", out.lacks);
    out
}

/// The demo with lines put behind `[build]`.
fn with(lines: &str) -> String {
    format!("{WHOLE}\n{lines}\n")
}

#[track_caller]
fn value(stage: &Stage, key: &str, column: usize) -> f64 {
    let (_, finding) = stage.find(key).unwrap_or_else(|| panic!("no `{key}`"));
    finding.cells[column].estimate.as_ref().unwrap_or_else(|| panic!("`{key}` {column}")).value
}

fn corner(car: &Car, end: End) -> Corner<f64> {
    let axle = car.axle(end).unwrap();
    let points: Vec<_> = axle.points.iter().map(|p| p.at).collect();
    let wheel = Wheel {
        centre: axle.wheel.centre.at,
        toe: axle.wheel.toe.value,
        camber: axle.wheel.camber.value,
        loaded_radius: axle.wheel.loaded_radius.value,
    };
    Corner::new(&axle.scheme, &points, &wheel).unwrap()
}

/// Forces and moments of all pickups hold those of the road, of the strike and of the wheel's weight (ISO 8855 axes; statics).
#[test]
fn every_case_is_in_balance_on_both_axles_and_both_sides() {
    let car = read(WHOLE);
    let out = build(&car, End::Rear, &[]);
    let weighing = car.weigh.as_ref().unwrap();
    let mut looked = 0;
    for (axle, (end, cases)) in out.axles.iter().enumerate() {
        let corner = corner(&car, *end);
        let unsprung = [weighing.front.unsprung, weighing.rear.unsprung][axle].unwrap().value;
        for (case, forces) in out.cases.iter().zip(cases) {
            for (side, forces_of) in forces.sides.iter().enumerate() {
                let load = case.wheels[axle][side];
                let m = Mover::new(&corner).at(forces.travel[side], 0.0).unwrap();
                let weight = Vector3::z() * (-unsprung * G * load.weight);
                let applied = [
                    (m.contact, load.road),
                    (m.contact + Vector3::z() * load.height, load.strike),
                    (m.centre, weight),
                ];
                let there = if side == 1 { forces_of.mirrored() } else { forces_of.clone() };
                let (mut force, mut moment) = (Vector3::zeros(), Vector3::zeros());
                for (at, push) in applied {
                    force += push;
                    moment += at.cross(&push);
                }
                for at in &there.pickups {
                    force -= at.force;
                    moment -= at.place.cross(&at.force) + at.moment;
                }
                moment -= there.through_shaft;
                let size = load.road.norm().max(load.strike.norm()).max(weight.norm());
                let levers = 3.0 * size;
                assert!(force.amax() < 1e-9 * size, "{} {}: {force:?}", case.name, end.name());
                assert!(moment.amax() < 1e-9 * levers, "{} {}: {moment:?}", case.name, end.name());
                looked += 1;
            }
        }
    }
    assert_eq!(looked, 2 * 2 * out.cases.len());
}

/// The frame's feet hold what the pickups and the jack put on it.
#[test]
fn the_feet_hold_what_the_pickups_put_on() {
    let out = built(WHOLE);
    let frame = out.frame.as_ref().unwrap();
    assert!(frame.unbalanced < 1e-9, "{}", frame.unbalanced);
    assert_eq!(frame.loads.len(), out.cases.len());
    let jack = out.cases.iter().position(|case| case.name == "jack").unwrap();
    let lifted: Vec<_> = frame.loads[jack].iter().filter(|l| l.force.z > 1000.0).collect();
    assert_eq!(lifted.len(), 1, "one pickup, on the left");
    assert_eq!(lifted[0].name, "rear link.lower-fore.body");
    assert!(lifted[0].at.y > 0.0);
}

/// The limits of the cases are those of the stages that know them.
#[test]
fn limits_are_those_of_stop_and_balance() {
    let car = read(WHOLE);
    let out = build(&car, End::Rear, &[]);
    let case = |name: &str| out.cases.iter().find(|case| case.name == name).unwrap();
    let greatest = value(&stop(&car, &[]), "greatest-deceleration", 0);
    assert!((case("stop").braking / greatest - 1.0).abs() < 1e-9);
    let stage = balance(&car, &[]);
    let limit = value(&stage, "lateral-limit", 0).max(value(&stage, "lateral-limit", 1));
    assert!((case("corner").cornering / limit - 1.0).abs() < 1e-9, "{limit}");
    assert!((case("stop-corner").braking / greatest - 0.7).abs() < 1e-9);
    // A bump is three of the wheel's loads at rest: those of the axle's two wheels make the axle's load at rest.
    let at_rest = built(&with("[build.case.rest]\nfactor = 1\n"));
    let rest = at_rest.cases.iter().find(|case| case.name == "rest").unwrap();
    let weight: f64 = rest.wheels.iter().flatten().map(|wheel| wheel.road.z).sum();
    let mass = value_of_weight(&car);
    assert!((weight / (mass * G) - 1.0).abs() < 1e-9, "{weight}");
    for (bump, rest) in case("bump").wheels.iter().zip(&rest.wheels) {
        assert!((bump[0].road.z / rest[0].road.z - 3.0).abs() < 1e-9);
        assert!((bump[1].road.z / rest[1].road.z - 1.0).abs() < 1e-9);
    }
}

/// Mass of the car as it runs [kg].
fn value_of_weight(car: &Car) -> f64 {
    study::weigh(car).unwrap().ready().unwrap().after(study::Weight::Mass).unwrap().value
}

/// What is asked for more holds less, in its proportion where nothing moves.
#[test]
fn margins_follow_what_is_asked() {
    let plain = built(WHOLE);
    let harder = built(&with("[build.case.jack]\nlifts = 2.0\n"));
    let jack = |out: &Build| {
        let case = out.cases.iter().position(|case| case.name == "jack").unwrap();
        let frame = out.frame.as_ref().unwrap();
        frame.tubes.iter().map(|tube| tube.uses[case]).fold(0.0, f64::max)
    };
    assert!(jack(&harder) > 1.8 * jack(&plain), "{} {}", jack(&harder), jack(&plain));
    let off = built(&with("[build.case.kerb]\noff = true\n"));
    assert_eq!(off.cases.len(), plain.cases.len() - 1);
    let own = built(&with("[build.case.pothole]\nup = 4\nwhy = \"the hairpin\"\n"));
    let pothole = own.cases.iter().find(|case| case.name == "pothole").unwrap();
    assert_eq!(pothole.why, "the hairpin");
    let bump = own.cases.iter().find(|case| case.name == "bump").unwrap();
    assert!((pothole.wheels[1][0].road.z / bump.wheels[1][0].road.z - 4.0 / 3.0).abs() < 1e-12);
    assert!((pothole.wheels[1][0].road.z / pothole.wheels[1][1].road.z - 4.0).abs() < 1e-12);
    // A thicker tube never holds less.
    let of = |out: &Build| {
        out.parts
            .iter()
            .find(|p| p.kind == PartKind::Link && p.name == "link.toe")
            .map(|p| p.holds())
            .unwrap()
    };
    let thick = built(&with("[build.rear.link.toe]\nsection = \"tube 30x4\"\n"));
    assert!(of(&thick) > of(&plain));
    // A higher hole loads the links otherwise.
    let holds: Vec<f64> =
        positions(&read(WHOLE), End::Rear).unwrap().iter().map(|p| p.least.as_ref().unwrap().holds).collect();
    assert!(holds.iter().any(|h| (h - holds[0]).abs() > 0.05), "{holds:?}");
}

/// The give of the frame moves toe as it does when the pickups are moved and the links keep their lengths: solved anew by
/// another way, the corner's own solver, with the spring at its length.
#[test]
fn the_give_of_the_frame_turns_the_wheel_as_moved_pickups_do() {
    let car = read(WHOLE);
    let out = build(&car, End::Rear, &[]);
    let frame = out.frame.as_ref().unwrap();
    let flex = out.positions[0].flex.unwrap();
    let axle = car.rear.as_ref().unwrap();
    assert_eq!(frame.gives.len(), 5);
    let mut toe = 0.0;
    for give in &frame.gives {
        let point = axle.scheme.point(give.name.strip_prefix("rear ").unwrap()).unwrap();
        let moved = give.moved[flex.toe_case];
        toe += (0..3).map(|k| toe_by_moving(&car, point, k) * moved[k]).sum::<f64>();
    }
    // There the wheel is held at its height, here by its spring: bump steer makes the little between them.
    assert!((toe - flex.toe).abs() < 0.03 * flex.toe.abs(), "{toe} {}", flex.toe);
}

/// Toe by moving a pickup along an axis, the links keeping their lengths [rad/m].
fn toe_by_moving(car: &Car, point: usize, axis: usize) -> f64 {
    let axle = car.rear.as_ref().unwrap();
    let scheme = axle.scheme.legs_as_rods();
    let drawn: Vec<_> = axle.points.iter().map(|p| p.at).collect();
    let wheel = Wheel {
        centre: axle.wheel.centre.at,
        toe: axle.wheel.toe.value,
        camber: axle.wheel.camber.value,
        loaded_radius: axle.wheel.loaded_radius.value,
    };
    let step = 1e-5;
    let toe = |by: f64| {
        let mut points = drawn.clone();
        points[point][axis] += by;
        let mut corner = Corner::new(&scheme, &points, &wheel).unwrap();
        let lengths: Vec<(usize, f64)> = scheme
            .joints
            .iter()
            .enumerate()
            .filter_map(|(i, joint)| {
                let (_, a, b) = scheme.lengths().find(|(name, ..)| *name == joint.name)?;
                Some((i, (drawn[a] - drawn[b]).norm()))
            })
            .collect();
        for (joint, length) in lengths {
            assert!(corner.linkage_mut().set_rod_length(joint, length));
        }
        let mut mover = Mover::new(&corner);
        mover.assemble().unwrap();
        mover.at(0.0, 0.0).unwrap().toe
    };
    (toe(step) - toe(-step)) / (2.0 * step)
}

/// What is proposed holds when it is written into the file.
#[test]
fn sizes_hold_when_they_are_written_into_the_file() {
    let out = built(WHOLE);
    let link =
        out.proposals.iter().find(|p| p.kind == PartKind::Link && p.name == "link.lower-fore").unwrap();
    let lightest = link.lightest.as_ref().unwrap();
    let tried = built(&with(&format!("[build.rear.link.lower-fore]\nsection = \"{lightest}\"\n")));
    let part = tried.parts.iter().find(|p| p.kind == PartKind::Link && p.name == "link.lower-fore").unwrap();
    assert!(part.holds() >= out.wanted, "{lightest}: {}", part.holds());
    assert!(link.lighter.unwrap() > 0.0);
    for group in out.proposals.iter().filter(|p| p.kind == PartKind::Tube) {
        assert!(group.holds.unwrap() >= out.wanted, "{group:?}");
    }
    let mut text = WHOLE.to_string();
    for group in out.proposals.iter().filter(|p| p.kind == PartKind::Tube) {
        text = text.replace(
            &format!("section = \"{}\"", group.now),
            &format!("section = \"{}\"", group.lightest.as_ref().unwrap()),
        );
    }
    let lighter = built(&text);
    let tubes = lighter.parts.iter().filter(|p| p.kind == PartKind::Tube);
    for tube in tubes {
        assert!(tube.holds() >= out.wanted, "{} {}", tube.name, tube.holds());
    }
    assert!(lighter.cuts.mass < out.cuts.mass);
    for group in lighter.proposals.iter().filter(|p| p.kind == PartKind::Tube) {
        assert!(group.now_holds.unwrap() >= out.wanted, "{group:?}");
    }
}

const FRAME: &str = "
[build]
grade = \"S355\"
[build.frame]
mirror = false
[build.frame.nodes]
a = [2000, 0, 300]
b = [2000, 500, 300]
c = [2000, 500, 700]
d = [2300, 0, 300]
e = [2000, -500, 300]
[[build.frame.tube]]
from = \"e\"
to = \"a\"
section = \"tube 60x3\"
[[build.frame.tube]]
from = \"a\"
to = \"b\"
section = \"tube 60x3\"
[[build.frame.tube]]
from = \"b\"
to = \"c\"
section = \"tube 60x3\"
[[build.frame.tube]]
from = \"a\"
to = \"d\"
section = \"tube 30x2\"
[[build.frame.foot]]
at = \"e\"
hold = \"fixed\"
[build.frame.carries]
\"rear.link.toe.body\" = \"d\"
";

/// A run in line is one piece; two alike meet in half of the angle; a branch square onto a round main has a saddle of
/// `R - sqrt(R^2 - r^2)` (two cylinders whose axes meet).
#[test]
fn cuts_are_those_by_hand() {
    let start = WHOLE.find("[build]").unwrap();
    let out = built(&format!("{}{FRAME}", &WHOLE[..start]));
    let pieces = &out.cuts.pieces;
    assert_eq!(pieces.len(), 3, "{pieces:#?}");
    let run = pieces.iter().find(|p| (p.between - 1.0).abs() < 1e-9).unwrap();
    assert_eq!(run.count, 1);
    let mitre = run.ends.iter().find_map(|end| match end {
        EndCut::Mitre { angle, .. } => Some(*angle),
        _ => None,
    });
    assert!((mitre.unwrap().to_degrees() - 45.0).abs() < 1e-9);
    // Long point of a mitre of 45 deg: half of the diameter beyond the node.
    assert!((run.length - 1.030).abs() < 1e-9, "{}", run.length);
    let branch = pieces.iter().find(|p| p.section == "tube 30x2").unwrap();
    let (big, small) = (0.030_f64, 0.015_f64);
    let depth = big - (big * big - small * small).sqrt();
    let EndCut::Saddle { depth: found, angle, .. } = &branch.ends[0] else { panic!("{:?}", branch.ends) };
    assert!((found - depth).abs() < 1e-9 && angle.abs() < 1e-9, "{found} {depth}");
    assert!((branch.length - (0.300 - (big - depth))).abs() < 1e-9, "{}", branch.length);
    // Steel of 7850 kg/m^3: area of the tube times its length.
    let area = std::f64::consts::PI / 4.0 * (0.030_f64.powi(2) - 0.026_f64.powi(2));
    assert!((branch.mass - area * branch.length * 7850.0).abs() < 1e-9);
    assert_eq!(out.cuts.stock.len(), 2);
    // Two tabs a bracket, five links, both sides, of one size: 5 x 45 x 60 mm.
    let whole = built(WHOLE);
    let plates =
        |name: &str| -> Vec<_> { whole.cuts.pieces.iter().filter(|p| p.name.contains(name)).collect() };
    let tabs = plates("tabs");
    assert_eq!((tabs.len(), tabs[0].count), (1, 20));
    assert!((tabs[0].mass - 0.005 * 0.045 * 0.060 * 7850.0).abs() < 1e-12);
    // One doubler a side, as wide as the box of 60 and by that longer than the weld of 60.
    let doublers = plates("doublers");
    assert_eq!((doublers.len(), doublers[0].count), (1, 2));
    assert!((doublers[0].mass - 0.005 * 0.060 * 0.120 * 7850.0).abs() < 1e-12);
}

/// Cars that lack something are told what to write; loads are worked out all the same.
#[test]
fn what_is_lacking_is_told() {
    let start = WHOLE.find("[build]").unwrap();
    let out = build(&read(&WHOLE[..start]), End::Rear, &[]);
    assert!(out.lacks.iter().any(|l| l.hint.contains("`[build]`")), "{:?}", out.lacks);
    assert!(out.parts.is_empty() && out.axles.len() == 2);
    let plain = include_str!("../../../examples/plover/car.toml");
    let out = build(&read(plain), End::Rear, &[]);
    assert!(!out.lacks.is_empty() && out.axles.is_empty());
    let loose = built_lacks(
        &WHOLE.replace("hold = \"fixed\"\n", "rate = 0\n").replace("hold = \"ball\"", "rate = 0"),
    );
    assert!(loose.contains("can"), "{loose}");
}

fn built_lacks(text: &str) -> String {
    let out = build(&read(text), End::Rear, &[]);
    out.lacks.iter().map(|lack| format!("{lack}: {}", lack.hint)).collect::<Vec<_>>().join("; ")
}

/// The frame in the ledger weighs the car.
#[test]
fn the_ledger_takes_the_frame_where_the_file_wants_it() {
    let heavy = WHOLE.replace("wanted = 1.5 ", "in-ledger = true\nwanted = 1.5 ");
    let (with, without) = (read(&heavy), read(WHOLE));
    let frame = built(WHOLE).frame.unwrap().mass;
    let more = value_of_weight(&with) - value_of_weight(&without);
    assert!((more - frame).abs() < 1e-9, "{more} {frame}");
}

/// EN 1993-1-8 table 7.13, a plate along a box: N = k f_y t_0^2 (2 h_1/b_0 + 4 sqrt(1 - t_1/b_0)); the pickup's force is taken
/// apart by hand, along the tab (from the weld to the link's far end) and along the weld.
#[test]
fn the_wall_under_a_tab_is_checked_and_a_doubler_takes_its_place() {
    const DOUBLER: &str = "doubler = 5 ";
    assert!(WHOLE.contains(DOUBLER), "the demo has one");
    let bare = built(&WHOLE.replace(DOUBLER, "# "));
    let wall = |out: &Build, point: &str| {
        let part = out.parts.iter().find(|p| p.kind == PartKind::Wall && p.name == point);
        part.unwrap_or_else(|| panic!("no wall under {point}")).worst().unwrap().clone()
    };
    let point = "link.lower-aft.body";
    let own = wall(&bare, point);
    assert!(own.check.holds() < bare.wanted, "{}", own.check.holds());
    let term = |judged: &study::build::Judged, symbol: &str| {
        judged.check.terms.iter().find(|t| t.symbol == symbol).unwrap_or_else(|| panic!("no {symbol}")).value
    };
    let k = term(&own, "k");
    assert!(k > 0.0 && k <= 1.0);
    let by_hand = k * 355e6 * 0.003_f64.powi(2) * (2.0 * 60.0 / 60.0 + 4.0 * (1.0 - 5.0 / 60.0_f64).sqrt());
    assert!((own.check.capacity / by_hand - 1.0).abs() < 1e-9, "{} {by_hand}", own.check.capacity);

    // The hole is 35 mm over the weld of 60 mm; the tabs stand 10 + 2 + 2.5 mm beside the middle.
    let car = read(WHOLE);
    let axle = car.axle(End::Rear).unwrap();
    let at = |name: &str| axle.points[axle.scheme.point(name).unwrap()].at;
    let link = (at("link.lower-aft.upright") - at(point)).normalize();
    let bolt = link.cross(&Vector3::z()).normalize();
    let (_, cases) = bare.axles.iter().find(|(end, _)| *end == End::Rear).unwrap();
    let side = &cases[own.case].sides[usize::from(own.right)];
    let mut force: Vector3<f64> =
        side.pickups.iter().filter(|p| Some(p.point) == axle.scheme.point(point)).map(|p| p.force).sum();
    force.y *= if own.right { -1.0 } else { 1.0 };
    let demand = force.dot(&link).abs()
        + force.dot(&bolt).abs() * 0.035 / 0.0145
        + 4.0 * force.dot(&bolt.cross(&link)).abs() * 0.035 / 0.060;
    assert!((own.check.demand / demand - 1.0).abs() < 1e-9, "{} {demand}", own.check.demand);

    // The same tube and the same forces: only the thickness is another one.
    let held = wall(&built(WHOLE), point);
    assert!((held.check.capacity / own.check.capacity - 25.0 / 9.0).abs() < 1e-9);
    assert!((held.check.demand / own.check.demand - 1.0).abs() < 1e-9);
    // A doubler of weaker steel than the tube's 355 MPa counts as that steel, of 235 MPa.
    let weak = built(&WHOLE.replace(DOUBLER, "grade = \"S235\"\ndoubler = 5 "));
    let (weak, sound) = (wall(&weak, point).check.capacity / 235.0, held.check.capacity / 355.0);
    assert!((weak / sound - 1.0).abs() < 1e-9, "{weak} {sound}");
    let pieces = |out: &Build| {
        out.cuts.pieces.iter().filter(|p| p.name == "rear doublers").map(|p| p.count).sum::<usize>()
    };
    assert_eq!((pieces(&bare), pieces(&built(WHOLE))), (0, 2));

    // Sizes of the tubes are those that the walls on them ask for: thicker than with the doubler.
    let wall_of = |out: &Build| {
        let size = out
            .proposals
            .iter()
            .find(|p| p.kind == PartKind::Tube && p.name.contains("box 60"))
            .cloned()
            .unwrap();
        size.lightest.unwrap_or_else(|| panic!("nothing holds: {}", size.name))
    };
    assert_ne!(wall_of(&bare), wall_of(&built(WHOLE)));
}

/// Every candidate hole brings its own forces.
#[test]
fn every_position_has_the_forces_of_its_own_holes() {
    let out = built(WHOLE);
    let car = read(WHOLE);
    for position in &out.positions {
        let holes: Vec<(End, usize)> = position.holes.iter().map(|hole| (End::Rear, *hole)).collect();
        let alone = build(&car, End::Rear, &holes);
        let (_, cases) = alone.axles.iter().find(|(end, _)| *end == End::Rear).unwrap();
        assert_eq!(position.forces.len(), out.cases.len(), "{}", position.name);
        if !position.setups.is_empty() {
            continue; // A setup changes more than holes.
        }
        for (own, other) in position.forces.iter().zip(cases) {
            for (a, b) in own.sides[0].legs.iter().zip(&other.sides[0].legs) {
                assert!(
                    (a.tension - b.tension).abs() < 1e-6 * (1.0 + b.tension.abs()),
                    "{}: {}",
                    position.name,
                    a.name
                );
            }
        }
    }
}

//! Files without mistakes: what they come to in SI and ISO 8855 axes.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use linkage::Frame;
use nalgebra::{Vector3, vector};
use project::model::{Axle, Car, Driven, End, Mounting};
use project::{KINDS, Severity, read, starter};
use suspension::scheme::JointKind;
use units::{LengthUnit, UnitSystem};

const SKETCH: &str = include_str!("mistakes/sketch.toml");

/// Metres: the rounding of a few sums of lengths near one metre.
const ROUNDING: f64 = 1e-12;

#[track_caller]
fn car(text: &str) -> Car {
    let loaded = read(text);
    let errors: Vec<_> = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");
    loaded.car.expect("a car")
}

#[track_caller]
fn edited(edits: &[(&str, &str)]) -> Car {
    let mut text = SKETCH.to_string();
    for (what, by) in edits {
        assert!(text.contains(what), "the sketch has no `{what}`");
        text = text.replace(what, by);
    }
    car(&text)
}

fn rear(car: &Car) -> &Axle {
    car.rear.as_ref().expect("a rear axle")
}

#[track_caller]
fn point(axle: &Axle, name: &str) -> Vector3<f64> {
    axle.points[axle.scheme.point(name).expect("a known point")].at
}

#[track_caller]
fn near(found: Vector3<f64>, expect: Vector3<f64>) {
    assert!((found - expect).amax() < ROUNDING, "{found} is not {expect}");
}

#[track_caller]
fn same(car: &Car, other: &Car) {
    for end in [End::Front, End::Rear] {
        let axle = car.axle(end).expect("both axles");
        let twin = other.axle(end).expect("both axles");
        assert_eq!(axle.scheme, twin.scheme);
        for (point, twin) in axle.points.iter().zip(&twin.points) {
            near(point.at, twin.at);
            near(point.uncertainty, twin.uncertainty);
        }
        for (hole, twin) in axle.holes.iter().zip(&twin.holes) {
            near(hole.at.at, twin.at.at);
        }
        near(axle.wheel.centre.at, twin.wheel.centre.at);
        assert!((axle.wheel.loaded_radius.value - twin.wheel.loaded_radius.value).abs() < ROUNDING);
    }
}

#[test]
fn the_sketch_reads_right_in_iso_axes() {
    let car = car(SKETCH);
    assert_eq!((car.name.as_str(), car.driven), ("Plover", Driven::Rear));
    let front = car.front.as_ref().expect("a front axle");
    near(front.wheel.centre.at, vector![0.0, 0.760, 0.300]);
    near(point(front, "upper-arm.body-fore"), vector![0.120, 0.400, 0.400]);
    near(point(front, "lower-arm.body-aft"), vector![-0.180, 0.310, 0.180]);
    near(point(front, "tie-rod.upright"), vector![-0.120, 0.670, 0.250]);
    assert!((front.wheel.camber.value.to_degrees() + 1.2).abs() < ROUNDING);
    assert_eq!(front.rack_travel, Some(0.068));
    assert_eq!(front.scheme.rack_axis, Some([0.0, 1.0, 0.0]));
    let rear = rear(&car);
    assert_eq!(
        (rear.kind.as_str(), rear.brakes, rear.final_drive),
        ("five-link", Mounting::Outboard, Mounting::Inboard)
    );
    near(rear.wheel.centre.at, vector![-2.600, 0.735, 0.305]);
    near(point(rear, "link.lower-fore.body"), vector![-2.100, 0.420, 0.280]);
    near(rear.points[0].uncertainty, Vector3::repeat(0.0015));
    let holes: Vec<&str> = rear.holes.iter().map(|hole| hole.name.as_str()).collect();
    assert_eq!(holes, ["A", "B"]);
    near(rear.holes[1].at.at, vector![-2.108, 0.420, 0.310]);
    let wheelbase = car.wheelbase.expect("both axles");
    assert!((wheelbase.value - 2.6).abs() < ROUNDING);
    assert!((wheelbase.uncertainty - 0.0015 * 2_f64.sqrt()).abs() < ROUNDING);
    assert_eq!(car.choose.travels, [-0.050, 0.050]);
}

#[test]
fn the_same_car_in_inches_is_the_same() {
    let mut inches = String::new();
    for line in SKETCH.lines() {
        let (code, _) = line.split_once('#').unwrap_or((line, ""));
        let (key, value) = code.split_once('=').unwrap_or((code, ""));
        let is_length = value.contains('[') || ["loaded-radius", "travel", "accuracy"].contains(&key.trim());
        if !is_length || key.contains('[') {
            inches += &format!("{}\n", code.replace("\"mm\"", "\"in\""));
            continue;
        }
        let convert =
            |number: &str| format!("\"{:.12}\"", number.trim().parse::<f64>().expect("a number") / 25.4);
        let numbers: Vec<String> = value.trim().trim_matches(['[', ']']).split(',').map(convert).collect();
        let joined = numbers.join(", ");
        inches += &format!("{key} = {}\n", if value.contains('[') { format!("[{joined}]") } else { joined });
    }
    let twin = car(&inches);
    assert_eq!(twin.units.length, LengthUnit::Inch);
    same(&car(SKETCH), &twin);
    assert!((twin.choose.travels[1] - 0.0508).abs() < ROUNDING);
}

#[test]
fn each_survey_frame_leads_to_the_same_car() {
    let plain = car(SKETCH);
    // Turns every point of the sketch by a rule, and says so in `[survey]`.
    let turned = |survey: &str, rule: &dyn Fn([f64; 3]) -> [f64; 3]| {
        let mut text = String::new();
        for line in SKETCH.lines() {
            let code = line.split_once('#').map_or(line, |(code, _)| code);
            let numbers = code.split_once("= [").and_then(|(key, list)| {
                let list = list.trim().trim_end_matches(']');
                let numbers: Vec<f64> = list.split(',').filter_map(|n| n.trim().parse().ok()).collect();
                Some((key, <[f64; 3]>::try_from(numbers).ok()?))
            });
            match numbers {
                Some((key, numbers)) => text += &format!("{key} = {:?}\n", rule(numbers)),
                None if ["x =", "y =", "z ="].iter().any(|axis| code.starts_with(axis)) => {}
                None if code.starts_with("accuracy") => text += &format!("{code}\n{survey}\n"),
                None => text += &format!("{code}\n"),
            }
        }
        car(&text)
    };
    let forward = turned(
        "x = \"Forward from  the rear axle\"\ny = \"RIGHT from centerline\"\nz = \"up from ground\"",
        &|[x, y, z]| [2600.0 - x, -y, z],
    );
    same(&plain, &forward);
    assert!(!rear(&forward).mirrored);
    assert_eq!(
        forward.frame.description(),
        "x forward from rear axle, y right from centreline, z up from ground"
    );
    let right = turned(
        "x = \"rearward from front axle\"\ny = \"right from centreline\"\nz = \"up from ground\"",
        &|point| point,
    );
    same(&plain, &right);
    assert!(rear(&right).mirrored);
    let datum = turned(
        "x = \"rearward from bulkhead\"\ny = \"left from centreline\"\nz = \"down from sill rail\"\n\
         [survey.datum.bulkhead]\nx = 410\n[survey.datum.\"sill rail\"]\nz = 190",
        &|[x, y, z]| [x - 410.0, y, 190.0 - z],
    );
    same(&plain, &datum);
    let written = datum.frame.to_survey(point(rear(&datum), "link.lower-fore.body"));
    near(written, vector![1.690, 0.420, -0.090]);
    // The front wheels need not stand at 0 of the tape.
    same(
        &plain,
        &turned(
            "x = \"rearward from front axle\"\ny = \"left from centreline\"\nz = \"up from ground\"",
            &|[x, y, z]| [x + 33.0, y, z],
        ),
    );
}

#[test]
fn one_axle_is_enough() {
    let at = SKETCH.find("[front]").expect("a front axle");
    let rear_at = SKETCH.find("[rear]").expect("a rear axle");
    let alone = |head: &str, x: &str| {
        let head = SKETCH[..at].replace("driven = \"rear\"", head).replace("rearward from front axle", x);
        read(&(head + &SKETCH[rear_at..]))
    };
    let car = alone("driven = \"rear\"", "rearward from front axle").car.expect("a car");
    assert!(car.front.is_none());
    assert!(car.wheelbase.is_some_and(|wheelbase| (wheelbase.value - 2.6).abs() < ROUNDING));
    near(rear(&car).wheel.centre.at, vector![-2.600, 0.735, 0.305]);

    let stated = alone("driven = \"rear\"\nwheelbase = 2500", "rearward from rear axle").car.expect("a car");
    assert_eq!(stated.wheelbase.map(|wheelbase| wheelbase.value), Some(2.5));
    near(rear(&stated).wheel.centre.at, vector![-2.500, 0.735, 0.305]);

    let unknown = alone("driven = \"rear\"", "rearward from rear axle");
    let note = unknown.diagnostics.iter().find(|d| d.message.contains("wheelbase")).expect("a note");
    assert_eq!(note.severity, Severity::Note);
    let car = unknown.car.expect("a car");
    assert_eq!(car.wheelbase, None);
    near(rear(&car).wheel.centre.at, vector![0.0, 0.735, 0.305]);
    near(point(rear(&car), "link.lower-fore.body"), vector![0.500, 0.420, 0.280]);
}

#[test]
fn a_point_is_as_sure_as_it_says() {
    let car = edited(&[
        ("[2520, 660, 220]", "{ at = [\"2520 ± 4\", 660, \"22 cm ± 3 mm\"], accuracy = 0.5 }"),
        ("at   = [2108, 420, 310]", "at   = [2108, 420, \"310 ± 1\"]\naccuracy = 0.25"),
        ("toe           = 0.1\n", "toe           = \"0.1 ± 0.02\"\n"),
    ]);
    let rear = rear(&car);
    near(rear.points[1].at, vector![-2.520, 0.660, 0.220]);
    near(rear.points[1].uncertainty, vector![0.004, 0.0005, 0.003]);
    near(rear.holes[1].at.uncertainty, vector![0.00025, 0.00025, 0.001]);
    assert!((rear.wheel.toe.uncertainty.to_degrees() - 0.02).abs() < ROUNDING);
}

#[test]
fn threads_and_mountings_are_understood() {
    let car = edited(&[
        ("[rear.link.upper-aft]", "[rear.link.upper-aft]\nthread = \"M14x1.5\"\nsleeve = \"left-right\""),
        ("[rear.link.toe]", "[rear.link.toe]\nthread = \"20 tpi\""),
        (
            "[[rear.holes]]                       #",
            "[rear.spring]\nbody = [2640, 480, 450]\nmount = [2640, 500, 225]\non = \"link.lower-aft\"\nrate = \"60 N/mm\"\n\
             [rear.damper]\nbody = [2660, 560, 560]\nmount = [2660, 640, 240]\non = \"upright\"\n[[rear.holes]] #",
        ),
        ("driven = \"rear\"", "cg-height = \"48 cm ± 20 mm\"\ndriven = \"all\""),
        ("[front.wheel]", "brakes = \"inboard\"\n[front.wheel]"),
    ]);
    let rear = rear(&car);
    let turns: Vec<_> =
        rear.adjusters.iter().map(|a| (a.joint.as_str(), (a.per_turn * 1e6).round())).collect();
    assert_eq!(turns, [("link.upper-aft", 3000.0), ("link.toe", 1270.0)]);
    assert_eq!(rear.scheme.bodies, ["upright", "link.lower-aft"]);
    let [spring, damper] = rear.scheme.elements.as_slice() else { panic!("two elements") };
    assert_eq!((spring.inner.frame, spring.outer.frame), (Frame::Ground, Frame::Body(1)));
    assert_eq!((spring.rate, damper.outer.frame), (Some(60e3), Frame::Body(0)));
    assert_eq!(rear.scheme.points[spring.outer.point], "spring.mount");
    assert_eq!(car.front.as_ref().map(|front| front.brakes), Some(Mounting::Inboard));
    assert_eq!(car.drive_front_share.value, 0.5);
    let height = car.cg_height.expect("a height");
    assert!((height.value - 0.48).abs() < ROUNDING && (height.uncertainty - 0.02).abs() < ROUNDING);
}

#[test]
fn every_kind_has_its_bodies_and_joints() {
    let shape = |kind: &str| {
        let car = car(&starter(kind, &UnitSystem::default()).expect("a known kind"));
        let axle = car.front.or(car.rear).expect("an axle");
        assert_eq!(axle.kind, kind);
        let rods = axle.scheme.joints.iter().filter(|j| matches!(j.kind, JointKind::Rod { .. })).count();
        (axle.scheme.bodies.len(), axle.scheme.joints.len(), rods, axle.scheme.points.len())
    };
    // Bodies, joints, rods among them, points. Where the spring stands on a link, that one is a body: its rod has
    // become two balls and a level; of an arm, the two legs a hinge and a ball.
    let expect = [(2, 7, 4, 12), (2, 5, 3, 10), (1, 4, 3, 9), (2, 6, 2, 9), (1, 1, 0, 4), (2, 7, 6, 16)];
    for (kind, expect) in KINDS.into_iter().zip(expect) {
        assert_eq!(shape(kind), expect, "{kind}");
    }
}

#[test]
fn weights_read_in_si_and_in_the_cars_axes() {
    let text = include_str!("../../../examples/plover/whole.toml");
    let whole = car(text);
    let tyre = whole.front.as_ref().and_then(|axle| axle.tyre.as_ref()).and_then(|tyre| tyre.vertical_rate);
    let weighing = whole.weigh.expect("a weighing");
    let level = weighing.level.expect("scales");
    let scales = level.scales.map(|scale| scale.value);
    assert_eq!(scales, [304.5, 297.0, 272.0, 276.5]);
    assert!(level.scales.iter().all(|scale| scale.uncertainty == 0.5));
    assert!((level.wheelbase.expect("as found").uncertainty - 0.002).abs() < ROUNDING);
    let raised = weighing.raised.expect("one end raised");
    assert_eq!(raised.end, End::Rear);
    // Two scales of 0.5 kg each.
    assert!((raised.low.expect("a reading").uncertainty - 0.5_f64.sqrt()).abs() < ROUNDING);
    // Rearward in the file is negative x; a part on the right stays there.
    let battery = &weighing.parts_in[4];
    assert_eq!(battery.name, "battery");
    near(battery.at.at, vector![-1.950, -0.350, 0.260]);
    near(battery.at.uncertainty, Vector3::repeat(0.020));
    near(weighing.parts_out[2].at.uncertainty, Vector3::repeat(0.060));
    near(battery.size.expect("a size"), vector![0.240, 0.175, 0.190]);
    assert!((weighing.front.perch.expect("a thread").value - 0.002).abs() < ROUNDING);
    // Weighed on the tyres that it runs on: one figure for both.
    assert!(tyre.is_some_and(|rate| rate.value > 100e3));
    assert_eq!(weighing.front.tyre_rate, tyre);
    let pounds = text.replace("mass   = \"kg\"", "mass   = \"lb\"");
    let level = car(&pounds).weigh.and_then(|w| w.level).expect("scales");
    assert!((level.scales[0].value - 304.5 * 0.453_592_37).abs() < ROUNDING);
}

//! The tables of Drive: what they read, and what they say to mistakes.
#![expect(clippy::expect_used, reason = "a fixture that cannot be made ends the test")]

use std::f64::consts::PI;

use project::model::{Car, PathReading, PieceShape};

const DEMO: &str = include_str!("../../../examples/plover/whole.toml");

fn read(text: &str) -> Car {
    project::read(text).car.expect("a car")
}

/// What is said of the demo with one part of its text in another's place.
fn said(from: &str, to: &str) -> String {
    assert!(DEMO.contains(from), "{from}");
    let text = DEMO.replacen(from, to, 1);
    let list = project::read(&text).diagnostics;
    list.iter()
        .map(|d| format!("{}: {}", d.message, d.hint.as_deref().unwrap_or_default()))
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn the_demo_is_read() {
    let car = read(DEMO);
    let engine = car.engine.expect("an engine");
    assert!((engine.most - 7000.0 * PI / 30.0).abs() < 1e-9 && engine.torque.len() == 8);
    assert!((engine.scale.uncertainty - 0.02).abs() < 1e-12);
    let gears = car.gearbox.expect("gears");
    assert_eq!(gears.ratios.len(), 5);
    assert!(!gears.open && (gears.efficiency.value - 0.9).abs() < 1e-12);
    let hand = car.in_hand.expect("in hand");
    assert!((hand.rear_reserve.value - 0.15).abs() < 1e-12);
    let air = car.air.expect("air");
    assert!(air.parts.len() == 2 && air.parts.iter().all(|p| p.fitted));
    assert_eq!(car.venues.len(), 2);
    let PathReading::Pieces(pieces) = &car.venues[0].path else { unreachable!("pieces") };
    assert!(
        matches!(pieces[0].shape, PieceShape::Straight(l) if (l - 400.95).abs() < 1e-9),
        "bare lengths are metres"
    );
    assert!(
        matches!(pieces[1].shape, PieceShape::Corner { angle, .. } if (angle + 78f64.to_radians()).abs() < 1e-9)
    );
    assert!(car.venues[0].closed && !car.venues[0].standing);
    let PathReading::Gates(gates) = &car.venues[1].path else { unreachable!("gates") };
    assert!(gates.len() == 35 && gates.iter().filter(|g| g.standing == [true, false]).count() > 3);
    assert!(car.venues[1].standing && (car.venues[1].car_width - 1.75).abs() < 1e-12);
}

#[test]
fn mistakes_are_told_with_what_to_write() {
    for (from, to, wants) in [
        ("redline = 7000", "redline = 700", "does not fit the torque curve"),
        ("redline = 7000", "redlin = 7000", "write `redline`"),
        ("[[1500, 150], [2500, 185]", "[[2500, 150], [1500, 185]", "must rise in engine speed"),
        ("[[1500, 150], [2500, 185]", "[[1500], [2500, 185]", "an engine speed in rpm and a torque"),
        ("[3.30, 2.11, 1.58, 1.24, 1.00]", "[3.30, 2.11, 2.58, 1.24, 1.00]", "fall from gear to gear"),
        ("differential       = \"limited\"", "differential = \"limitd\"", "did you mean \"limited\""),
        ("rear-reserve = \"0.15 ± 0.03\"", "rear-reserve = 15", "write \"15 %\""),
        ("rear-reserve = \"0.15 ± 0.03\"", "rear-reserve = 0.99", "leaves nothing to brake with"),
        ("straight = 400.95, width = 11", "straight = -4, width = 11", "must be more than zero"),
        ("right = 95, angle = 78, easing = 30", "right = 95, easing = 30", "how far the corner turns"),
        (
            "right = 95, angle = 78, easing = 30",
            "right = 95, angle = 78, easing = 300",
            "longer than the corner",
        ),
        (
            "right = 95, angle = 78, easing = 30",
            "right = 95, left = 3, angle = 78",
            "either a straight or a corner",
        ),
        ("bank = \"4 deg\"", "bank = \"4 m\"", "bank"),
        ("grip   = \"1.00 ± 0.02\"", "grip = 100", "multiplies the tyres' friction"),
        ("closed = true\ngrip", "points = [[0, 0]]\ngrip", "more than one path"),
        ("[aero.part.wing]", "[aero.part.wing]\nfitted = true", "fitted"),
        ("car-width = 1750", "car-width = 1750\ngate = 3", "gate"),
        ("final-drive        = 3.50", "final-drive = 350", "no ratio of a final drive"),
    ] {
        let said = said(from, to);
        assert!(said.contains(wants), "{to}: {said}");
    }
    let said = said("[aero.part.wing]", "[setup.high.aero]\nwithout = [\"wnig\"]\n\n[aero.part.wing]");
    assert!(said.contains("there is no `[aero.part.wnig]`") && said.contains("wing"), "{said}");
}

/// A setup may take a part off and change the final drive; not what is welded, nor a venue.
#[test]
fn setups_change_what_the_paddock_can() {
    let text = format!("{DEMO}\n[setup.drag]\ngearbox.final-drive = 3.2\naero.without = [\"wing\"]\n");
    let car = read(&text);
    let own = car.setup("drag").and_then(|s| s.car.clone()).expect("a car of its own");
    assert!((own.gearbox.as_ref().expect("gears").final_drive - 3.2).abs() < 1e-12);
    let wing = own.air.as_ref().and_then(|a| a.parts.iter().find(|p| p.name == "wing")).expect("a wing");
    assert!(!wing.fitted && car.air.expect("air").parts.iter().all(|p| p.fitted));
    let wrong = project::read(&format!("{DEMO}\n[setup.drag]\nvenue.marrow-heath.closed = false\n"));
    assert!(wrong.diagnostics.iter().any(|d| d.message.contains("venue")), "{:?}", wrong.diagnostics);
}

#[test]
fn centrelines_in_files() {
    let rows: String = (0..20).map(|i| format!("{i};0,5;3,5;3;;\n")).collect();
    let (list, degrees) =
        project::centre_rows(&format!("x_m;y_m;left;right;bank;note\n{rows}")).expect("rows");
    assert!(list.len() == 20 && !degrees && list[3].at == [3.0, 0.5] && list[3].room == Some([3.5, 3.0]));
    let rows: String = (0..9).map(|i| format!("51.{i:03},-0.1,{i}\n")).collect();
    let (list, degrees) = project::centre_rows(&format!("\u{feff}Lat,Lon,Section\n{rows}")).expect("rows");
    assert!(degrees && list[2].section.as_deref() == Some("2"));
    for (text, wants) in [
        ("", "empty"),
        ("a,b\n1,2\n", "must name the columns"),
        ("x,y\n1,2\n", "at least 8"),
        ("x,y\n1,2\n3,\n", "line 3 has no place"),
        ("x,y\n1,nan\n", "line 2, column `y`"),
    ] {
        let error = project::centre_rows(text).expect_err(text);
        assert!(error.contains(wants), "{error}");
    }
}

/// 3,000 files with a character changed, dropped or doubled: never a panic.
#[test]
fn mutated_files_do_not_panic() {
    let start = DEMO.find("[engine]").expect("the tables");
    let head: String = DEMO[..start].lines().take(60).map(|l| format!("{l}\n")).collect();
    let tail: Vec<char> = DEMO[start..].chars().collect();
    let mut seed = 1u64;
    let mut random = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    let marks: Vec<char> = "[]{}=,.\"'\n-e0179± ntrue".chars().collect();
    for _ in 0..3000 {
        let mut text = tail.clone();
        let at = random(text.len());
        match random(3) {
            0 => text[at] = marks[random(marks.len())],
            1 => drop(text.remove(at)),
            _ => text.insert(at, marks[random(marks.len())]),
        }
        let text: String = head.chars().chain(text).collect();
        drop(project::read(&text));
    }
}

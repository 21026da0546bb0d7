//! The jig sheet against cars that are built wrong on purpose and solved again, and against lengths worked out by hand.
#![expect(clippy::expect_used, clippy::panic, reason = "a test may panic, its helpers too")]

mod support;

use linkage::Frame;
use nalgebra::Vector3;
use project::model::{Allowed, Car, End};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use study::{
    Consequence, Exactness, Facts, Jig, JigRole, JigRow, Limit, Quantity, Side, StudyError, TAPE_IS_ENOUGH,
    jig,
};
use support::{car, subject};
use suspension::scheme::JointKind;
use suspension::{Mover, angle_rates};

/// The demo cars' axles and the starters' whose kinds they lack.
const AXLES: [(&str, End); 8] = [
    ("plover/car.toml", End::Front),
    ("plover/car.toml", End::Rear),
    ("plover/before.toml", End::Rear),
    ("dunlin/car.toml", End::Front),
    ("dunlin/car.toml", End::Rear),
    ("wren/car.toml", End::Front),
    ("wren/car.toml", End::Rear),
    ("links", End::Rear),
];

#[track_caller]
fn sheet(car: &Car, end: End) -> Jig {
    jig(car, end).expect("a sheet")
}

/// Index of a row's point, and of its hole.
fn of(car: &Car, end: End, row: &JigRow) -> (usize, Option<usize>) {
    let axle = car.axle(end).expect("the axle");
    let point = axle.scheme.point(&row.point).expect("the point");
    let hole = row
        .hole
        .as_ref()
        .map(|name| axle.holes.iter().position(|h| h.point == point && h.name == *name).expect("the hole"));
    (point, hole)
}

/// The car with a place moved by a step in the car's axes [m].
fn moved(car: &Car, end: End, (point, hole): (usize, Option<usize>), step: Vector3<f64>) -> Car {
    let mut car = car.clone();
    let axle = if end == End::Front { car.front.as_mut() } else { car.rear.as_mut() }.expect("the axle");
    match hole {
        Some(hole) => axle.holes[hole].at.at += step,
        None => axle.points[point].at += step,
    }
    car
}

/// A consequence as a number, by solving.
fn solved(car: &Car, end: End, hole: Option<usize>, what: Consequence) -> f64 {
    let subject = subject(car, end);
    let holes: Vec<usize> = hole.into_iter().collect();
    let inputs = subject.nominal(&holes);
    let corner = subject.corner(&inputs).expect("a corner");
    let mut mover = Mover::new(&corner);
    let mut value = |quantity: Quantity, travel: f64| {
        mover.reset();
        let measures = mover.at(travel, 0.0).expect("reached");
        let facts = Facts {
            measures,
            ratios: (0..corner.elements().len()).filter_map(|e| mover.ratio(e)).collect(),
            figures: inputs.figures,
            end: subject.end(),
            braking: subject.braking_reaction(),
            driving: subject.driving_reaction(),
            driven: subject.driven(),
        };
        quantity.value(&facts).expect("a value")
    };
    match what {
        Consequence::ToeChange(t) => value(Quantity::Toe, t) - value(Quantity::Toe, 0.0),
        Consequence::CamberChange(t) => value(Quantity::Camber, t) - value(Quantity::Camber, 0.0),
        Consequence::RollCentre => value(Quantity::RollCentre, 0.0),
        Consequence::AntiBraking => value(Quantity::AntiBraking, 0.0),
        Consequence::AntiDriving => value(Quantity::AntiDriving, 0.0),
        Consequence::MotionRatio(e) => value(Quantity::MotionRatio(e), 0.0),
        Consequence::Toe | Consequence::Camber => panic!("solved by `as_built`"),
    }
}

/// Toe and camber at ride height of a car that is built with a place off and every link as long as drawn, by solving;
/// its adjusters turned until toe is back, where there is one. `None` where the kind has joints that are not rods.
fn as_built(drawn: &Car, built: &Car, end: End, hole: Option<usize>) -> Option<[f64; 2]> {
    let (before, after) = (subject(drawn, end), subject(built, end));
    let holes: Vec<usize> = hole.into_iter().collect();
    let (old, new) = (before.nominal(&holes), after.nominal(&holes));
    let reference = before.corner_of_rods(&old).expect("a corner");
    let mut corner = after.corner_of_rods(&new).expect("a corner");
    let count = reference.linkage().joints().len();
    for joint in 0..count {
        match reference.linkage().rod_length(joint) {
            Some(length) => assert!(corner.linkage_mut().set_rod_length(joint, length)),
            // The drive comes last.
            None if joint + 1 == count => {}
            None => return None,
        }
    }
    let adjusters: Vec<usize> =
        before.axle().adjusters.iter().filter_map(|a| corner.linkage().joint(&a.joint)).collect();
    let wheel = before.axle().wheel.clone();
    for _ in 0..30 {
        let mut mover = Mover::new(&corner);
        mover.assemble().expect("assembled");
        let m = mover.at(0.0, 0.0).expect("ride height");
        let off = [m.toe - wheel.toe.value, m.camber - wheel.camber.value];
        // The adjuster that does most to toe brings it back.
        let spin = m.spin;
        let responses: Vec<(usize, f64)> = adjusters
            .iter()
            .map(|joint| {
                let row = corner.linkage().joints()[*joint].rows.start;
                let twist = mover.solver().response(row).expect("regular")[0];
                (*joint, angle_rates(&spin, &twist.w).0)
            })
            .collect();
        let best = responses.into_iter().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        let Some((joint, toe)) = best else { return Some(off) };
        if off[0].abs() < 1e-13 {
            return Some(off);
        }
        let length = corner.linkage().rod_length(joint).expect("a rod");
        assert!(corner.linkage_mut().set_rod_length(joint, length - off[0] / toe));
    }
    panic!("the adjuster does not bring toe back");
}

/// A first-order tolerance holds to this share of the allowance.
const FIRST_ORDER: f64 = 0.10;

/// Moves a place by its tolerance along one coordinate of the file and solves again; gives what share of the allowance
/// the deciding result moved by.
fn share(car: &Car, end: End, row: &JigRow, axis: usize, limit: &Limit) -> Option<f64> {
    let place = of(car, end, row);
    let mut step = Vector3::zeros();
    step[axis] = limit.tolerance;
    let step = car.frame.direction_to_car(step);
    let allowed = limit.decides.allowed(&car.jig.allowed);
    // Both ways, so that what is left is the first order and not the curvature.
    let (more, less) = (moved(car, end, place, step), moved(car, end, place, -step));
    let pair = match limit.decides {
        Consequence::Toe | Consequence::Camber => {
            let part = usize::from(limit.decides == Consequence::Camber);
            [as_built(car, &more, end, place.1)?[part], as_built(car, &less, end, place.1)?[part]]
        }
        what => [solved(&more, end, place.1, what), solved(&less, end, place.1, what)],
    };
    let moved = (pair[0] - pair[1]) / 2.0;
    assert!(moved * limit.slope > 0.0, "{} {axis}: {limit:?} moved by {moved}", row.point);
    Some(moved.abs() / allowed)
}

/// Checks the left rows of a sheet; gives how many tolerances were, the worst share, and who decided.
fn check(car: &Car, end: End, words: &str) -> (usize, f64, Vec<Consequence>) {
    let sheet = sheet(car, end);
    let (mut count, mut worst, mut decided) = (0, 0.0_f64, Vec::new());
    for row in sheet.rows.iter().filter(|row| row.side == Side::Left) {
        let Some(need) = &row.need else { continue };
        for (axis, limit) in need.along.iter().enumerate() {
            // Beyond a tape's reach the class is the same whatever the curvature says.
            let Some(limit) = limit.as_ref().filter(|limit| limit.tolerance <= TAPE_IS_ENOUGH) else {
                continue;
            };
            let Some(share) = share(car, end, row, axis, limit) else { continue };
            assert!(
                (share - 1.0).abs() < FIRST_ORDER,
                "{words} {} {:?} {axis}: {limit:?} moved it by {share} of the allowance",
                row.point,
                row.hole
            );
            count += 1;
            worst = worst.max((share - 1.0).abs());
            decided.push(limit.decides);
        }
    }
    (count, worst, decided)
}

#[test]
fn a_place_off_by_its_tolerance_moves_the_result_by_what_is_allowed() {
    let mut decided = Vec::new();
    for (name, end) in AXLES {
        let car = car(name);
        if car.axle(end).is_none() {
            continue;
        }
        let (count, _, by) = check(&car, end, name);
        // What hangs on one hinge is judged in a test of its own.
        let hinged = name == "plover/before.toml";
        assert!(count >= 3 || hinged, "{name} {end:?}: only {count} tolerances of a few millimetres");
        decided.extend(by);
    }
    // The test would say little if one result decided everything.
    let any = |test: fn(&Consequence) -> bool| decided.iter().any(test);
    assert!(any(|c| matches!(c, Consequence::ToeChange(_))));
    assert!(any(|c| matches!(c, Consequence::MotionRatio(_))));
    assert!(any(|c| matches!(c, Consequence::Toe | Consequence::Camber)));
}

#[test]
fn the_same_for_cars_with_every_point_elsewhere() {
    let mut random = StdRng::seed_from_u64(17);
    let mut total = 0;
    for round in 0..50 {
        let (name, end) =
            [("plover/car.toml", End::Rear), ("wren/car.toml", End::Rear), ("dunlin/car.toml", End::Rear)]
                [round % 3];
        let mut car = car(name);
        let axle = car.rear.as_mut().expect("a rear axle");
        for point in &mut axle.points {
            point.at += Vector3::from_fn(|_, _| random.random_range(-0.008..0.008));
        }
        car.jig.allowed = Allowed {
            toe_change: random.random_range(0.0001..0.0005),
            roll_centre: random.random_range(0.001..0.006),
            ..Allowed::default()
        };
        total += check(&car, end, name).0;
    }
    assert!(total > 500, "only {total} tolerances of a few millimetres");
}

/// The rigid turn that takes an arm with its hinge line to where its pivots are, then about that line until the wheel
/// centre is at its height again: toe and camber of the wheel.
fn re_hung(axle: &project::model::Axle, pivots: [Vector3<f64>; 2], built: [Vector3<f64>; 2]) -> [f64; 2] {
    let (old, new) = ((pivots[1] - pivots[0]).normalize(), (built[1] - built[0]).normalize());
    let turn = nalgebra::Rotation3::rotation_between(&old, &new).expect("not opposite");
    let (middle, at) = ((pivots[0] + pivots[1]) / 2.0, (built[0] + built[1]) / 2.0);
    let centre = axle.wheel.centre.at;
    let placed = at + turn * (centre - middle);
    let mut angle = 0.0;
    for _ in 0..30 {
        let swing = nalgebra::Rotation3::from_scaled_axis(new * angle);
        let there = at + swing * (placed - at);
        let rate = new.cross(&(there - at)).z;
        angle -= (there.z - centre.z) / rate;
    }
    let swing = nalgebra::Rotation3::from_scaled_axis(new * angle);
    let (toe, camber) = (axle.wheel.toe.value, axle.wheel.camber.value);
    let spin = Vector3::new(toe.sin() * camber.cos(), toe.cos() * camber.cos(), -camber.sin());
    let spin = swing * (turn * spin);
    [spin.x.atan2(spin.y) - toe, -spin.z.asin() - camber]
}

#[test]
fn an_arm_without_adjusters_is_judged_by_where_it_hangs_the_wheel() {
    let car = car("semi-trailing-arm");
    let axle = car.axle(End::Rear).expect("a rear axle");
    assert!(axle.scheme.joints.iter().any(|j| matches!(j.kind, JointKind::Hinge { a, b, .. }
        if a == Frame::Ground || b == Frame::Ground)));
    let sheet = sheet(&car, End::Rear);
    let point = |name: &str| axle.scheme.point(name).expect("a pivot");
    let drawn = ["arm.pivot-inner", "arm.pivot-outer"].map(|name| axle.points[point(name)].at);
    let mut checked = 0;
    for row in sheet.rows.iter().filter(|r| r.side == Side::Left && r.point.starts_with("arm.pivot")) {
        let need = row.need.as_ref().expect("on the body");
        for (axis, limit) in need.along.iter().enumerate() {
            let Some(limit) = limit else { continue };
            let part = match limit.decides {
                Consequence::Toe => 0,
                Consequence::Camber => 1,
                _ => continue,
            };
            let mut step = Vector3::zeros();
            step[axis] = limit.tolerance;
            let step = car.frame.direction_to_car(step);
            let which = usize::from(row.point == "arm.pivot-outer");
            let mut pivots = drawn;
            if let Some(hole) = of(&car, End::Rear, row).1 {
                pivots[which] = axle.holes[hole].at.at;
            }
            let mut built = pivots;
            built[which] += step;
            let moved = re_hung(axle, pivots, built)[part];
            let allowed = limit.decides.allowed(&car.jig.allowed);
            assert!(
                (moved.abs() / allowed - 1.0).abs() < FIRST_ORDER,
                "{} {axis} {limit:?} {moved}",
                row.point
            );
            assert!(moved * limit.slope > 0.0);
            checked += 1;
        }
    }
    assert!(checked >= 3, "only {checked} coordinates are decided by toe or camber at ride height");
}

/// Camber shift at ride height of a strut that is built with its top, or an arm's or tie-rod's body end, off by a step,
/// every length as drawn but the tie-rod's, which is turned until toe is back: Newton on the seven equations as they
/// stand on paper, with differences for derivatives.
fn strut_as_built(axle: &project::model::Axle, off: &str, step: Vector3<f64>) -> f64 {
    let drawn = |name: &str| axle.points[axle.scheme.point(name).expect("a point")].at;
    let built = |name: &str| if name == off { drawn(name) + step } else { drawn(name) };
    let centre = axle.wheel.centre.at;
    let (toe, camber) = (axle.wheel.toe.value, axle.wheel.camber.value);
    let spin = Vector3::new(toe.sin() * camber.cos(), toe.cos() * camber.cos(), -camber.sin());
    let along = (drawn("strut.top") - drawn("strut.lower")).normalize();
    let (one, two) = (along.cross(&Vector3::x()).normalize(), along.cross(&Vector3::y()).normalize());
    let rods = [
        ("lower-arm.body-fore", "lower-arm.ball"),
        ("lower-arm.body-aft", "lower-arm.ball"),
        ("tie-rod.body", "tie-rod.upright"),
    ];
    type Seven = nalgebra::SVector<f64, 7>;
    let place = |q: &Seven, p: Vector3<f64>| {
        let turn = nalgebra::Rotation3::from_scaled_axis(Vector3::new(q[3], q[4], q[5]));
        centre + Vector3::new(q[0], q[1], q[2]) + turn * (p - centre)
    };
    let turned = |q: &Seven, d: Vector3<f64>| {
        nalgebra::Rotation3::from_scaled_axis(Vector3::new(q[3], q[4], q[5])) * d
    };
    let equations = |q: &Seven| {
        let mut e = Seven::zeros();
        for (i, (inner, outer)) in rods.iter().enumerate() {
            let length = (drawn(inner) - drawn(outer)).norm() + if i == 2 { q[6] } else { 0.0 };
            e[i] = (built(inner) - place(q, drawn(outer))).norm() - length;
        }
        // The top is on the tube's axis, which goes with the upright.
        let from_tube = built("strut.top") - place(q, drawn("strut.lower"));
        e[3] = turned(q, one).dot(&from_tube);
        e[4] = turned(q, two).dot(&from_tube);
        e[5] = place(q, centre).z - centre.z;
        let s = turned(q, spin);
        e[6] = s.x.atan2(s.y) - toe;
        e
    };
    let mut q = Seven::zeros();
    for _ in 0..30 {
        let here = equations(&q);
        let h = 1e-6;
        let mut slope = nalgebra::SMatrix::<f64, 7, 7>::zeros();
        for k in 0..7 {
            let mut more = q;
            more[k] += h;
            slope.set_column(k, &((equations(&more) - here) / h));
        }
        q -= slope.try_inverse().expect("regular") * here;
    }
    assert!(equations(&q).amax() < 1e-12);
    -turned(&q, spin).z.asin() - camber
}

#[test]
fn a_strut_is_judged_by_where_it_hangs_the_wheel() {
    let car = car("dunlin/car.toml");
    let axle = car.axle(End::Front).expect("a front axle");
    let sheet = sheet(&car, End::Front);
    let mut checked = 0;
    for row in sheet.rows.iter().filter(|r| r.side == Side::Left && r.hole.is_none()) {
        for (axis, limit) in row.need.iter().flat_map(|need| need.along.iter().enumerate()) {
            let Some(limit) = limit.as_ref().filter(|l| l.decides == Consequence::Camber) else { continue };
            let mut step = Vector3::zeros();
            step[axis] = limit.tolerance;
            let moved = strut_as_built(axle, &row.point, car.frame.direction_to_car(step));
            let share = moved / (limit.slope * limit.tolerance);
            assert!((share - 1.0).abs() < FIRST_ORDER, "{} {axis} {limit:?} {moved}", row.point);
            checked += 1;
        }
    }
    assert!(checked >= 3, "only {checked} coordinates are decided by camber at ride height");
}

#[test]
fn lengths_are_those_of_a_tape() {
    let car = car("plover/car.toml");
    let sheet = sheet(&car, End::Rear);
    let row = |side: Side| {
        sheet
            .rows
            .iter()
            .find(|r| r.point == "link.toe.body" && r.side == side && r.hole.is_none())
            .expect("a row")
    };
    let left = row(Side::Left);
    assert_eq!(left.role, JigRole::Pickup);
    // As the file has it, and its mirror.
    assert!((left.at - Vector3::new(2.760, 0.300, 0.262)).amax() < 1e-12);
    assert!((row(Side::Right).at - Vector3::new(2.760, -0.300, 0.262)).amax() < 1e-12);
    // By hand, in the file's own frame; the front axle is at 0, the rear one at 2600, 735 to the side.
    let mut found = 0;
    for (name, at) in [
        ("floor under the rear left wheel centre", [2.600, 0.735, 0.0]),
        ("floor under the rear right wheel centre", [2.600, -0.735, 0.0]),
        ("floor under the front left wheel centre", [0.0, 0.760, 0.0]),
        ("floor under the middle of the rear axle", [2.600, 0.0, 0.0]),
        ("floor, middle, ahead of the rear axle", [2.100, 0.0, 0.0]),
        ("floor, middle, behind the rear axle", [3.100, 0.0, 0.0]),
    ] {
        let Some(index) = sheet.datums.iter().position(|d| d.name == name) else { continue };
        found += 1;
        assert!((sheet.datums[index].at - Vector3::from(at)).amax() < 1e-12, "{name}");
        let tape = left.tapes.iter().find(|t| t.datum == index).expect("a tape");
        let [dx, dy, dz] = [2.760 - at[0], 0.300 - at[1], 0.262 - at[2]];
        assert!((tape.length - (dx * dx + dy * dy + dz * dz).sqrt()).abs() < 1e-12, "{name}");
        // Every coordinate is sure to 1.5 mm, so that the length is too, whichever way it runs.
        assert!((tape.uncertainty - 0.0015).abs() < 1e-12, "{name}");
    }
    assert!(found >= 3, "{:?}", sheet.datums);
    // 160 mm behind, 435 mm beside, 262 mm above the cross under the wheel: 532.4 mm by Pythagoras.
    assert!(((0.160_f64.powi(2) + 0.435_f64.powi(2) + 0.262_f64.powi(2)).sqrt() - 0.5324).abs() < 5e-5);
}

#[test]
fn a_car_that_is_its_own_mirror_is_square() {
    for (name, end) in AXLES {
        let car = car(name);
        let sheet = sheet(&car, end);
        for diagonal in &sheet.diagonals {
            assert!(diagonal.difference().abs() < 1e-12, "{name}: {diagonal:?}");
        }
        let pickups = sheet
            .rows
            .iter()
            .filter(|r| {
                r.side == Side::Left && r.hole.is_none() && matches!(r.role, JigRole::Pickup | JigRole::Rack)
            })
            .count();
        assert_eq!(sheet.diagonals.len(), pickups * (pickups - 1) / 2, "{name}");
        // The first tells most: a left side that stands ahead shows in it.
        let first = &sheet.diagonals[0];
        let at = |point: &str, side: Side| {
            let row = sheet.rows.iter().find(|r| r.point == *point && r.side == side && r.hole.is_none());
            row.expect("a row").in_car
        };
        let ahead = Vector3::new(1e-6, 0.0, 0.0);
        let long = (at(&first.a, Side::Left) + ahead - at(&first.b, Side::Right)).norm();
        let other = (at(&first.a, Side::Right) - at(&first.b, Side::Left) - ahead).norm();
        assert!(((long - other) / 1e-6 - first.per_ahead).abs() < 1e-4, "{name}: {first:?}");
    }
}

#[test]
fn every_place_is_fixed_by_the_marks_that_are_chosen() {
    for (name, end) in AXLES {
        let car = car(name);
        let sheet = sheet(&car, end);
        assert!((3..=5).contains(&sheet.datums.len()), "{name}");
        for row in &sheet.rows {
            let fix = row.fix.as_ref().unwrap_or_else(|| panic!("{name} {} is not fixed", row.point));
            assert!(fix.total.is_finite() && fix.total >= 3f64.sqrt() - 1e-12);
            assert!(row.tapes.len() >= 3, "{name} {}", row.point);
        }
        let bad = sheet.rows.iter().filter(|r| r.role.is_on_body()).filter_map(|r| r.fix.as_ref());
        let (bad, all) = bad.fold((0, 0), |(b, n), f| (b + usize::from(f.is_ill_conditioned()), n + 1));
        assert!(bad * 3 <= all, "{name} {end:?}: {bad} of {all} places are fixed badly");
    }
}

#[test]
fn marks_of_the_file_take_the_place_of_the_floor() {
    let text = support::text_of("plover/car.toml");
    let marks = "\n[jig]\ntoe-change = \"0.04 deg\"\n[[jig.datum]]\nname = \"rail left\"\nat = [2000, 400, 600]\n\
        [[jig.datum]]\nname = \"rail right\"\nat = [2000, -400, 600]\n[[jig.datum]]\nname = \"beam\"\nat = [3000, 0, 300]\n";
    let plain = sheet(&support::car_of(&text), End::Rear);
    let marked = sheet(&support::car_of(&format!("{text}{marks}")), End::Rear);
    let names: Vec<&str> = marked.datums.iter().map(|d| d.name.as_str()).collect();
    assert_eq!(names, ["rail left", "rail right", "beam"]);
    assert!(marked.datums.iter().all(|d| d.of_file) && plain.datums.iter().all(|d| !d.of_file));
    // Twice the change of toe is allowed: what toe decided grows twofold, unless another result decides now.
    let mut doubled = 0;
    for (before, after) in plain.rows.iter().zip(&marked.rows) {
        let (Some(before), Some(after)) = (&before.need, &after.need) else { continue };
        for (before, after) in before.along.iter().zip(&after.along) {
            let (Some(before), Some(after)) = (before, after) else { continue };
            let ratio = after.tolerance / before.tolerance;
            assert!((1.0 - 1e-12..=2.0 + 1e-12).contains(&ratio));
            doubled += usize::from(ratio > 2.0 - 1e-9);
        }
    }
    assert!(doubled > 0);
}

#[test]
fn holes_and_mounts_are_on_the_sheet_and_uprights_have_no_tolerance() {
    let car = car("plover/car.toml");
    let sheet = sheet(&car, End::Rear);
    let holes: Vec<&str> =
        sheet.rows.iter().filter(|r| r.side == Side::Right).filter_map(|r| r.hole.as_deref()).collect();
    assert_eq!(holes, ["A", "B", "C", "D"]);
    for row in &sheet.rows {
        assert_eq!(row.need.is_some(), row.role.is_on_body(), "{}", row.point);
        if row.role == JigRole::Mount {
            let need = row.need.as_ref().expect("a need");
            for limit in need.along.iter().flatten() {
                assert!(matches!(limit.decides, Consequence::MotionRatio(_)), "{}: {limit:?}", row.point);
            }
        }
    }
    let role = |point: &str| sheet.rows.iter().find(|r| r.point == point).map(|r| r.role);
    assert_eq!(role("link.toe.upright"), Some(JigRole::Reference));
    assert_eq!(role("wheel.centre"), Some(JigRole::WheelCentre));
    assert!(sheet.notes.iter().any(|n| n.contains("licensed engineer")));
    assert!(matches!(jig(&support::car("semi-trailing-arm"), End::Front), Err(StudyError::NoAxle(_))));
}

#[test]
fn every_kind_has_a_sheet_and_both_sides_are_alike() {
    for kind in project::KINDS {
        let car = car(kind);
        for end in [End::Front, End::Rear].into_iter().filter(|end| car.axle(*end).is_some()) {
            let sheet = sheet(&car, end);
            assert!(sheet.rows.iter().any(|row| row.role == JigRole::Pickup), "{kind}");
            for pair in sheet.rows.chunks(2) {
                let [left, right] = pair else { panic!("{kind}: a row without its mirror") };
                assert_eq!((left.side, right.side), (Side::Left, Side::Right));
                assert_eq!((&left.point, &left.hole), (&right.point, &right.hole));
                let (Some(one), Some(other)) = (&left.need, &right.need) else { continue };
                assert_eq!(one.class, other.class);
                for (axis, (one, other)) in one.along.iter().zip(&other.along).enumerate() {
                    let slopes = one.as_ref().map(|l| l.slope).zip(other.as_ref().map(|l| l.slope));
                    let Some((one, other)) = slopes else { continue };
                    assert_eq!(one, if axis == 1 { -other } else { other }, "{kind} {}", left.point);
                }
                // With marks of the floor on both sides the worse of the two is not far from the better.
                let totals = [left, right].map(|row| row.fix.expect("fixed").total);
                assert!(
                    totals[0].max(totals[1]) < 3.0 * totals[0].min(totals[1]),
                    "{kind} {}: {totals:?}",
                    left.point
                );
            }
        }
    }
}

#[test]
fn classes_are_rounded_down() {
    for (tolerance, class) in [
        (0.0004, Exactness::Finer),
        (0.0005, Exactness::Half),
        (0.0019, Exactness::One),
        (0.002, Exactness::Two),
        (0.0049, Exactness::Two),
        (0.005, Exactness::Five),
        (1.0, Exactness::Five),
    ] {
        assert_eq!(Exactness::of(tolerance), class, "{tolerance}");
    }
    let metric = units::UnitSystem::default();
    let words = [Exactness::Finer, Exactness::One, Exactness::Five].map(|class| class.words(&metric));
    assert_eq!(words, ["finer than 0.5 mm", "within 1.0 mm", "tape is enough (within 5.0 mm)"]);
    let inch = units::UnitSystem { length: units::LengthUnit::Inch, ..metric };
    assert_eq!(Exactness::Half.words(&inch), "within 0.02 in");
}

#[test]
fn all_together_is_what_sampling_gives() {
    let car = car("plover/car.toml");
    let sheet = sheet(&car, End::Rear);
    let what = Consequence::RollCentre;
    let told = sheet.together.iter().find(|t| t.result == what).expect("the roll centre").spread;
    let mut random = StdRng::seed_from_u64(3);
    let nominal = solved(&car, End::Rear, None, what);
    let normal = rand_distr::StandardNormal;
    let samples = 600;
    let mut square = 0.0;
    for _ in 0..samples {
        let mut built = car.clone();
        for row in sheet.rows.iter().filter(|r| r.side == Side::Left && r.hole.is_none()) {
            let Some(need) = &row.need else { continue };
            let least = need.along.iter().flatten().map(|l| l.tolerance).fold(TAPE_IS_ENOUGH, f64::min);
            let deviation = need.class.bound().unwrap_or(least) / 2.0;
            let step = Vector3::from_fn(|_, _| random.sample::<f64, _>(normal) * deviation);
            built = moved(&built, End::Rear, of(&car, End::Rear, row), step);
        }
        square += (solved(&built, End::Rear, None, what) - nominal).powi(2);
    }
    let sampled = (square / f64::from(samples)).sqrt();
    // A deviation from 600 samples is sure to 3 % (one standard deviation).
    assert!((sampled / told - 1.0).abs() < 0.12, "{sampled} {told}");
}

#[test]
fn what_cannot_be_worked_out_is_said() {
    let text = support::text_of("plover/car.toml").replace("cg-height = ", "# cg-height = ");
    let sheet = sheet(&support::car_of(&text), End::Rear);
    assert!(
        sheet.notes.iter().any(|n| n.contains("Not looked at") && n.to_lowercase().contains("anti")),
        "{:?}",
        sheet.notes
    );
    assert!(!sheet.together.iter().any(|t| t.result == Consequence::AntiBraking));
    assert!(sheet.rows.iter().any(|r| r.need.is_some()));
}

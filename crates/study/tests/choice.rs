//! The choice table: what it asks of the links, its anti-features, what is missing, tied or ruled out.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed, and clippy sees tests only in functions marked so"
)]

mod support;

use linkage::{Frame, Loads, Row as Equation, reactions};
use nalgebra::{Matrix6, Rotation3, SMatrix, Vector3, Vector6};
use project::model::{Car, End};
use study::{Candidate, Choice, Quantity, Row, Subject, choose, sweep};
use support::{car, car_of, subject, text_of};
use suspension::scheme::UPRIGHT;
use suspension::{AxleEnd, Mover};

/// Positions and angles of two solvers [m, rad]: Newton stops both at rounding, 1e-14 of metres through a
/// linkage whose worst leverage loses two or three digits.
const SOLVERS: f64 = 1e-10;

/// What adjusters leave behind [m, rad]: the program turns them until a step is below a nanometre.
const ADJUSTERS: f64 = 2e-9;

/// Closed forms: a few rounding steps of double precision, as a share.
const ROUNDING: f64 = 1e-12;

/// Half of the last digit of the figures below, worked out to three decimals, in percent.
const LAST_DIGIT: f64 = 5.001e-4;

// ------------------------------------------------------------------------------------------ an own solver

/// A wheel on five rods, solved with nothing of the program's: the upright's shift and turning vector by Newton
/// on differences. Source: the five length equations and the height of the wheel centre, written out.
struct FiveRods {
    names: Vec<String>,
    body: Vec<Vector3<f64>>,
    upright: Vec<Vector3<f64>>,
    lengths: Vec<f64>,
    centre: Vector3<f64>,
    spin: Vector3<f64>,
}

/// Wheel centre, toe and camber.
struct Stand {
    centre: Vector3<f64>,
    toe: f64,
    camber: f64,
}

impl FiveRods {
    fn of(subject: &Subject<'_>, points: &[Vector3<f64>]) -> Self {
        let axle = subject.axle();
        let legs = &axle.scheme.legs;
        assert_eq!(legs.len(), 5, "a wheel on five rods");
        let body: Vec<_> = legs.iter().map(|l| points[l.inner.point]).collect();
        let upright: Vec<_> = legs.iter().map(|l| points[l.outer.point]).collect();
        let lengths = body.iter().zip(&upright).map(|(a, b)| (a - b).norm()).collect();
        let (toe, camber) = (axle.wheel.toe.value, axle.wheel.camber.value);
        let spin = Vector3::new(camber.cos() * toe.sin(), camber.cos() * toe.cos(), -camber.sin());
        let names = legs.iter().map(|l| l.name.clone()).collect();
        Self { names, body, upright, lengths, centre: axle.wheel.centre.at, spin }
    }

    fn index(&self, name: &str) -> usize {
        self.names.iter().position(|n| n == name).unwrap_or_else(|| panic!("no link {name}"))
    }

    fn place(&self, x: &Vector6<f64>, p: &Vector3<f64>) -> Vector3<f64> {
        let turn = Rotation3::new(Vector3::new(x[3], x[4], x[5]));
        self.centre + Vector3::new(x[0], x[1], x[2]) + turn * (p - self.centre)
    }

    fn misses(&self, x: &Vector6<f64>) -> Vector6<f64> {
        let rod = |i: usize| (self.place(x, &self.upright[i]) - self.body[i]).norm() - self.lengths[i];
        Vector6::new(rod(0), rod(1), rod(2), rod(3), rod(4), x[2])
    }

    /// The stand with the wheel centre at its height, from a start that is a little off.
    fn solve(&self) -> Stand {
        let mut x = Vector6::new(1e-3, -1e-3, 1e-3, 1e-3, -1e-3, 1e-3);
        for _ in 0..60 {
            let (f, h) = (self.misses(&x), 1e-6);
            let mut jacobian: Matrix6<f64> = SMatrix::zeros();
            for k in 0..6 {
                let mut step = Vector6::zeros();
                step[k] = h;
                jacobian.set_column(k, &((self.misses(&(x + step)) - self.misses(&(x - step))) / (2.0 * h)));
            }
            let step = jacobian.lu().solve(&f).expect("five rods hold the wheel");
            x -= step;
            if step.amax() < 1e-14 {
                break;
            }
        }
        assert!(self.misses(&x).amax() < 1e-13, "the own solver settles");
        let s = Rotation3::new(Vector3::new(x[3], x[4], x[5])) * self.spin;
        Stand { centre: self.place(&x, &self.centre), toe: s.x.atan2(s.y), camber: -s.z.asin() }
    }
}

/// Wheelbase, toe and camber off, longer and toe-in positive.
fn misfit(subject: &Subject<'_>, stand: &Stand) -> [f64; 3] {
    let wheel = &subject.axle().wheel;
    let ahead = stand.centre.x - wheel.centre.at.x;
    let longer = if subject.axle().end == End::Front { ahead } else { -ahead };
    [longer, stand.toe - wheel.toe.value, stand.camber - wheel.camber.value]
}

fn table<'a>(subject: &Subject<'a>) -> Choice {
    choose(subject, &[], &[-0.03, 0.03], |_, _| {}).unwrap()
}

#[track_caller]
fn row<'c>(choice: &'c Choice, name: &str) -> &'c Row {
    let named = |r: &&Row| r.candidate.name == name;
    choice.rows.iter().find(named).unwrap_or_else(|| panic!("there is a row {name}"))
}

#[track_caller]
fn value(choice: &Choice, row: &Row, quantity: Quantity) -> f64 {
    let column = choice.columns.iter().position(|c| c.quantity == quantity && c.travel.is_none());
    row.values[column.expect("there is such a column")].as_ref().expect("it has a value").value
}

// -------------------------------------------------------------------------------------- what links ask for

/// Every row of an axle on five rods: left as it is, at the length to set, and with the adjusters turned.
#[track_caller]
fn check_links(text: &str, end: End) {
    let car = car_of(text);
    let subject = subject(&car, end);
    let axle = subject.axle();
    let drawn: Vec<_> = axle.points.iter().map(|p| p.at).collect();
    let choice = table(&subject);
    let mut checked = 0;
    for row in choice.rows.iter().filter(|r| !r.candidate.holes.is_empty()) {
        let name = &row.candidate.name;
        let mut points = drawn.clone();
        for hole in &row.candidate.holes {
            points[axle.holes[*hole].point] = axle.holes[*hole].at.at;
        }
        let mut rods = FiveRods::of(&subject, &points);
        assert!(!row.links.is_empty(), "{name}: a link changes");
        for link in &row.links {
            let i = rods.index(&link.joint);
            let leg = &axle.scheme.legs[i];
            assert!((link.drawn - (drawn[leg.inner.point] - drawn[leg.outer.point]).norm()).abs() < ROUNDING);
            assert!((link.length.value - link.drawn - link.change.value).abs() < ROUNDING);
            rods.lengths[i] = link.drawn;
        }
        // Left as it is.
        let shift = row.left_as_is.as_ref().unwrap_or_else(|| panic!("{name}: there is a shift"));
        let off = misfit(&subject, &rods.solve());
        for (own, theirs) in off.iter().zip([&shift.wheelbase, &shift.toe, &shift.camber]) {
            assert!(
                (own - theirs.value).abs() < SOLVERS,
                "{name}: {own} alone, {} in the table",
                theirs.value
            );
        }
        // With the adjusters turned as said.
        let before = rods.lengths.clone();
        for (joint, turns) in &shift.put_back.turns {
            let adjuster =
                axle.adjusters.iter().find(|a| &a.joint == joint).expect("an adjuster of the file");
            let i = rods.index(joint);
            rods.lengths[i] += turns * adjuster.per_turn;
        }
        let after = misfit(&subject, &rods.solve());
        for (own, theirs) in after.iter().zip(shift.put_back.left) {
            assert!((own - theirs).abs() < ADJUSTERS, "{name}: {own} left alone, {theirs} in the table");
        }
        // No turn of any adjuster does better: 50 mm of wheelbase weigh as much as 2.5 deg.
        let weight = |m: [f64; 3]| {
            let angle = 0.05 / 2.5f64.to_radians();
            m[0].hypot(m[1] * angle).hypot(m[2] * angle)
        };
        for (joint, _) in &shift.put_back.turns {
            for nudge in [-1e-4, 1e-4] {
                let i = rods.index(joint);
                rods.lengths[i] += nudge;
                let other = weight(misfit(&subject, &rods.solve()));
                rods.lengths[i] -= nudge;
                assert!(other > weight(after), "{name}: {joint} off by {nudge} m is no better");
            }
        }
        // At the length to set, and the adjusters where they were, the wheel is back.
        rods.lengths = before;
        for link in &row.links {
            let i = rods.index(&link.joint);
            rods.lengths[i] = link.length.value;
            if let (Some(turns), Some(adjuster)) =
                (&link.turns, axle.adjusters.iter().find(|a| a.joint == link.joint))
            {
                assert!((turns.value * adjuster.per_turn - link.change.value).abs() < ROUNDING);
            }
        }
        let back = misfit(&subject, &rods.solve());
        assert!(back.iter().all(|m| m.abs() < SOLVERS), "{name}: {back:?} off at the length to set");
        checked += 1;
    }
    assert!(checked >= 3, "rows with links");
}

#[test]
fn links_keep_the_wheel_where_it_is_or_shift_it_as_said() {
    check_links(&text_of("plover/car.toml"), End::Rear);
    check_links(&text_of("wren/car.toml"), End::Rear);
    // Holes at the upright's end, at two ends at once, and on a link that a spring stands on.
    let more = text_of("plover/car.toml")
        + "[[rear.holes]]\nend = \"link.upper-aft.upright\"\nname = \"U\"\nat = [2642, 640, 464]\n\
           [[rear.holes]]\nend = \"link.lower-aft.body\"\nname = \"S\"\nat = [2672, 306, 232]\n\
           [setup.both]\nholes = { \"rear.link.lower-fore.body\" = \"B\", \"rear.link.upper-aft.upright\" = \"U\" }\n";
    check_links(&more, End::Rear);
    // At the front the wheelbase grows the other way.
    check_links(
        &text_of("double-wishbone").replace(
            "[[front.holes]]\nend  = \"upper-arm.body-aft\"\nname = \"B\"",
            "[[front.holes]]\nend = \"tie-rod.upright\"\nname = \"T\"\nat = [118, 672, 243]\n\
         [[front.holes]]\nend  = \"upper-arm.body-aft\"\nname = \"B\"",
        ),
        End::Front,
    );
}

// ------------------------------------------------------------------------------------------ anti-features

/// A whole car file with one pure trailing (or leading) arm whose hinge stands where the example's side-view
/// instant centre is. `x` is the distance from the wheel toward the other axle.
fn arm_car(end: &str, x: f64, z: f64, extra: (&str, &str)) -> Car {
    let (centre, forward) = if end == "rear" { (2.60, 1.0) } else { (0.0, -1.0) };
    let pivot = centre - forward * x;
    car_of(&format!(
        "soapstone = 1\n[car]\nname = \"Arm\"\nwheelbase = 2.60\ncg-height = 0.50\n{}\n[brakes]\nfront-share = 0.65\n\
         [units]\nlength = \"m\"\n\
         [survey]\nx = \"rearward from front axle\"\ny = \"left from centreline\"\nz = \"up from ground\"\naccuracy = 0.001\n\
         [{end}]\nkind = \"semi-trailing-arm\"\n{}\n[{end}.wheel]\ncentre = [{centre}, 0.735, 0.31]\nloaded-radius = 0.31\ntoe = 0\n\
         camber = 0\n[{end}.arm]\npivot-inner = [{pivot}, 0.3, {z}]\npivot-outer = [{pivot}, 0.6, {z}]\n",
        extra.0, extra.1
    ))
}

/// Anti-features worked out by hand from the formula of T. D. Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 7
/// (remembered); its form for drive was read in D. C. Barton & J. D. Fieldhouse, Automotive Chassis Engineering
/// (2018), eq. 3.69.
#[track_caller]
fn check_anti(end: End, at: (f64, f64), extra: (&str, &str), quantity: Quantity, percent: Option<f64>) {
    let car = arm_car(end.name(), at.0, at.1, extra);
    let subject = subject(&car, end);
    let choice = choose(&subject, &[], &[], |_, _| {}).unwrap();
    if let Some(percent) = percent {
        let own = value(&choice, &choice.rows[0], quantity) * 100.0;
        assert!((own - percent).abs() < LAST_DIGIT, "{own} %, by the formula {percent} %");
    } else {
        assert!(!choice.columns.iter().any(|c| c.quantity == quantity), "no such column");
        assert!(!choice.missing.iter().any(|m| m.0 == quantity), "and nothing is missing");
    }
}

const REAR: &str = "driven = \"rear\"";
const FRONT: &str = "driven = \"front\"";
/// A quarter of the drive at the front.
const ALL: &str = "driven = \"all\"\n[drive]\nfront-share = 0.25";

#[test]
fn rear_anti_features_are_those_of_the_formula() {
    use Quantity::{AntiBraking, AntiDriving};
    let (inboard, beam) = ("brakes = \"inboard\"", "final-drive = \"axle\"");
    for (x, z, outboard, body, independent, live) in [
        (0.60, 0.31, 94.033, 0.000, 0.000, 268.667),
        (0.60, 0.36, 109.200, 15.167, 43.333, 312.000),
        (0.45, 0.36, 145.600, 20.222, 57.778, 416.000),
        (0.60, 0.25, 75.833, -18.200, -52.000, 216.667),
        (1.20, 0.45, 68.250, 21.233, 60.667, 195.000),
    ] {
        let at = (x, z);
        check_anti(End::Rear, at, (REAR, ""), AntiBraking, Some(outboard));
        check_anti(End::Rear, at, (REAR, inboard), AntiBraking, Some(body));
        check_anti(End::Rear, at, (REAR, ""), AntiDriving, Some(independent));
        check_anti(End::Rear, at, (REAR, beam), AntiDriving, Some(live));
        check_anti(End::Rear, at, (ALL, ""), AntiDriving, Some(0.75 * independent));
        check_anti(End::Rear, at, (ALL, beam), AntiDriving, Some(0.75 * live));
        check_anti(End::Rear, at, (FRONT, ""), AntiDriving, None);
    }
    // The inverse of E4: 60 % asks for a slope of 0.329670.
    check_anti(End::Rear, (1.0, 0.329_670), (REAR, ""), AntiBraking, Some(60.0));
}

#[test]
fn front_anti_features_are_those_of_the_formula() {
    use Quantity::{AntiBraking, AntiDriving};
    // The page gives two decimals here: 67.60 and so on.
    for (x, z, outboard, body, driving) in [
        (1.50, 0.30, 67.60, -2.253, -3.467),
        (2.00, 0.25, 42.25, -10.14, -15.60),
        (1.00, 0.31, 104.78, 0.0, 0.0),
    ] {
        let at = (x, z);
        check_anti(End::Front, at, (FRONT, ""), AntiBraking, Some(outboard));
        check_anti(End::Front, at, (FRONT, "brakes = \"inboard\""), AntiBraking, Some(body));
        check_anti(End::Front, at, (FRONT, ""), AntiDriving, Some(driving));
        check_anti(End::Front, at, (ALL, ""), AntiDriving, Some(0.25 * driving));
        check_anti(End::Front, at, (REAR, ""), AntiDriving, None);
    }
}

/// The table against hand arithmetic from the sweep's slopes: `share x slope x L / h`, with every place of brakes
/// and final drive. Source: PHYSICS of the product, "Anti-features" (formula as above).
#[track_caller]
fn check_slopes(text: &str, end: End, brakes: &str, final_drive: &str) {
    let header = format!("[{}]\n", end.name());
    let cut = |t: &str| -> String {
        let own = |l: &&str| !(l.starts_with("brakes ") || l.starts_with("final-drive "));
        t.lines().filter(own).collect::<Vec<_>>().join("\n") + "\n"
    };
    let text = cut(text)
        .replace("\"rear\"                   # front", "\"all\" # front")
        .replace("driven = \"rear\"", "driven = \"all\"")
        .replace("driven    = \"rear\"", "driven = \"all\"")
        .replace("driven    = \"front\"", "driven = \"all\"")
        .replace(&header, &format!("{header}brakes = \"{brakes}\"\nfinal-drive = \"{final_drive}\"\n"))
        + "[drive]\nfront-share = 0.4\n";
    let car = car_of(&text);
    let subject = subject(&car, end);
    let choice = table(&subject);
    let wheelbase = car.wheelbase.unwrap().value;
    let height = car.cg_height.unwrap().value;
    let braking = car.brake_front_share.unwrap().value;
    for row in &choice.rows {
        let station = sweep(&subject, &row.candidate.holes, &[0.0], 0.0).unwrap().stations.remove(0);
        let m = station.measures;
        let (contact, centre) =
            (m.contact_velocity.x / m.contact_velocity.z, m.centre_velocity.x / m.centre_velocity.z);
        let (sign, share, drive) =
            if end == End::Rear { (-1.0, 1.0 - braking, 0.6) } else { (1.0, braking, 0.4) };
        let slope = |at_wheel: bool| sign * if at_wheel { contact } else { centre };
        let by_hand = |share: f64, at_wheel: bool| share * slope(at_wheel) * wheelbase / height;
        for (quantity, expect) in [
            (Quantity::AntiBraking, by_hand(share, brakes == "outboard")),
            (Quantity::AntiDriving, by_hand(drive, final_drive == "axle")),
            (Quantity::SideViewAngle, slope(true).atan()),
            (Quantity::Recession, -centre),
            (Quantity::RollCentre, m.contact.y * m.contact_velocity.y / m.contact_velocity.z),
        ] {
            let own = value(&choice, row, quantity);
            assert!(
                (own - expect).abs() < ROUNDING * (1.0 + expect.abs()),
                "{quantity:?}: {own}, {expect} by hand"
            );
        }
    }
}

#[test]
fn anti_features_follow_from_the_slopes_of_the_sweep() {
    for (name, end) in [
        ("plover/car.toml", End::Rear),
        ("plover/car.toml", End::Front),
        ("dunlin/car.toml", End::Rear),
        ("dunlin/car.toml", End::Front),
        ("wren/car.toml", End::Rear),
    ] {
        for brakes in ["outboard", "inboard"] {
            for final_drive in ["body", "axle"] {
                check_slopes(&text_of(name), end, brakes, final_drive);
            }
        }
    }
}

/// The steady stop by statics of the upright: under the rear's share of the braking force and the load transfer
/// `m a h / L`, what the spring (in place of the travel drive) must give is what the anti-lift leaves of it, and
/// spring and links together carry the whole transfer in every row. Source: equilibrium of a rigid body; the
/// reactions come from the linkage's transposed Jacobian, not from the slopes of the table.
#[track_caller]
fn check_steady_stop(name: &str, brakes: &str) {
    let text = text_of(name).replace("brakes      = \"outboard\"", &format!("brakes = \"{brakes}\""));
    let car = car_of(&text);
    let subject = subject(&car, End::Rear);
    let choice = table(&subject);
    let (wheelbase, height) = (car.wheelbase.unwrap().value, car.cg_height.unwrap().value);
    let rear = 1.0 - car.brake_front_share.unwrap().value;
    // One wheel's half of a car that brakes with 1000 N for every rear wheel's half.
    let force = 1000.0;
    let transfer = force * height / wheelbase;
    for row in &choice.rows {
        let corner = subject.corner_of_rods(&subject.nominal(&row.candidate.holes)).unwrap();
        let mut mover = Mover::new(&corner);
        let m = mover.at(0.0, 0.0).unwrap();
        let linkage = corner.linkage();
        let mut loads = Loads::none(linkage.bodies());
        let centre = *corner.centre();
        let contact = linkage::End { frame: Frame::Body(UPRIGHT), at: m.contact };
        // Braking pulls the tyre rearward; the load that leaves it is a pull downward on the wheel.
        let brake_at = if brakes == "outboard" { &contact } else { &centre };
        let q = mover.solver().position().clone();
        loads.add_force(linkage, &q, brake_at, Vector3::new(-force * rear, 0.0, 0.0));
        loads.add_force(linkage, &q, &contact, Vector3::new(0.0, 0.0, -transfer));
        let hold: Vec<Equation<f64>> = linkage.rows()[linkage.joint_rows().len()..].to_vec();
        assert_eq!(hold.len(), 1, "the travel drive alone");
        let result = reactions(linkage, &q, &loads, &hold).unwrap();
        assert!(result.unbalanced < 1e-9 * force, "the upright is in balance");
        let spring = *result.values.last().unwrap();
        let springs = spring / (transfer * if brakes == "outboard" { m.contact_velocity.z } else { 1.0 });
        let anti = value(&choice, row, Quantity::AntiBraking);
        if brakes == "outboard" {
            assert!((1.0 - anti - springs).abs() < 1e-9, "{}: {anti} + {springs} make 1", row.candidate.name);
        } else {
            // The vertical load acts at the contact point, which rises a little unlike the centre.
            let own = 1.0 - anti + (m.contact_velocity.z - 1.0);
            assert!((own - springs).abs() < 1e-9, "{}: {own} and {springs}", row.candidate.name);
        }
        // Vertical balance: the links carry what the spring does not, and both carry the transfer.
        let links: f64 = (0..linkage.joints().len())
            .filter_map(|j| {
                let tension = result.tension(linkage, j)?;
                let leg = subject.axle().scheme.legs.iter().find(|l| l.name == linkage.joints()[j].name)?;
                let points = subject.nominal(&row.candidate.holes).points;
                let along = (points[leg.inner.point] - points[leg.outer.point]).normalize();
                Some(tension * along.z)
            })
            .sum();
        assert!(
            (links + spring - transfer).abs() < 1e-9 * force,
            "{}: {links} + {spring}",
            row.candidate.name
        );
    }
}

#[test]
fn a_steady_stop_moves_the_same_load_in_every_row() {
    check_steady_stop("plover/car.toml", "outboard");
    check_steady_stop("plover/car.toml", "inboard");
    for end in [AxleEnd::Front, AxleEnd::Rear] {
        let about = Quantity::AntiBraking.about(end);
        assert!(about.does_not.contains("m a h / L"), "it says so: {}", about.does_not);
    }
}

// -------------------------------------------------------------------------- missing, tied, merged, ruled out

/// Which columns a file without some lines lacks, and what the table asks for.
#[track_caller]
fn check_missing(drop: &[&str], end: End, driven: &str, expect: &[(Quantity, &[&str])]) {
    // One axle alone: a trailing arm at the rear, the same one leading at the front.
    let pivot = if end == End::Rear { 2.0 } else { 0.6 };
    let wheel = if end == End::Rear { 2.6 } else { 0.0 };
    let text = format!(
        "soapstone = 1\n[car]\nname = \"Arm\"\nwheelbase = 2.6\ncg-height = 0.5\ndriven = \"{driven}\"\n\
         [brakes]\nfront-share = 0.65\n[units]\nlength = \"m\"\n[survey]\nx = \"rearward from front axle\"\n\
         y = \"left from centreline\"\nz = \"up from ground\"\naccuracy = 0.001\n\
         [{0}]\nkind = \"semi-trailing-arm\"\n[{0}.wheel]\ncentre = [{wheel}, 0.735, 0.31]\nloaded-radius = 0.31\n\
         toe = 0\ncamber = 0\n[{0}.arm]\npivot-inner = [{pivot}, 0.3, 0.36]\npivot-outer = [{pivot}, 0.6, 0.36]\n",
        end.name()
    );
    let kept = |l: &&str| !drop.iter().any(|d| l.starts_with(d));
    let car = car_of(&text.lines().filter(kept).collect::<Vec<_>>().join("\n"));
    let subject = subject(&car, end);
    let choice = choose(&subject, &[], &[], |_, _| {}).unwrap();
    let missing: Vec<Quantity> = choice.missing.iter().map(|m| m.0).collect();
    assert_eq!(missing, expect.iter().map(|e| e.0).collect::<Vec<_>>(), "without {drop:?}");
    for ((_, reason), (quantity, words)) in choice.missing.iter().zip(expect) {
        assert!(words.iter().all(|w| reason.contains(w)), "{reason}");
        let names = ["`wheelbase`", "`cg-height`", "`front-share`"];
        let named = names.iter().filter(|n| reason.contains(*n)).count();
        assert_eq!(named, words.len(), "and nothing else: {reason}");
        assert!(!choice.columns.iter().any(|c| c.quantity == *quantity), "no column of dashes");
    }
}

#[test]
fn missing_figures_are_asked_for_by_name() {
    use Quantity::{AntiBraking, AntiDriving};
    let (wheelbase, height, share) = ("`wheelbase`", "`cg-height`", "`front-share`");
    let (front, rear) = (End::Front, End::Rear);
    check_missing(&[], rear, "rear", &[]);
    check_missing(&["cg-height"], rear, "rear", &[(AntiBraking, &[height]), (AntiDriving, &[height])]);
    check_missing(&["front-share", "[brakes]"], rear, "rear", &[(AntiBraking, &[share])]);
    check_missing(
        &["wheelbase"],
        front,
        "front",
        &[(AntiBraking, &[wheelbase]), (AntiDriving, &[wheelbase])],
    );
    check_missing(
        &["front-share", "[brakes]", "cg-height", "wheelbase"],
        front,
        "all",
        &[(AntiBraking, &[wheelbase, height, share]), (AntiDriving, &[wheelbase, height])],
    );
    // An axle without drive has no drive to lack figures for.
    check_missing(&["cg-height"], front, "rear", &[(AntiBraking, &[height])]);
    check_missing(&["cg-height"], rear, "front", &[(AntiBraking, &[height])]);
    // A tape hooked to the front axle has measured the wheelbase with the rear wheel.
    check_missing(&["wheelbase"], rear, "rear", &[]);
}

/// Plover's rear with other holes for its lower fore link.
fn with_holes(holes: &str) -> String {
    let text = text_of("plover/car.toml");
    let (before, after) = text.split_once("[[rear.holes]]").unwrap();
    let (_, choose) = after.split_once("[choose]").unwrap();
    format!("{before}{holes}\n[choose]{choose}")
}

fn hole(name: &str, at: [f64; 3], accuracy: f64) -> String {
    format!(
        "[[rear.holes]]\nend = \"link.lower-fore.body\"\nname = \"{name}\"\nat = {at:?}\naccuracy = {accuracy}\n"
    )
}

#[test]
fn rows_tie_exactly_where_the_difference_is_within_its_own_doubt() {
    for name in ["plover/car.toml", "wren/car.toml", "dunlin/car.toml"] {
        let car = car(name);
        let subject = subject(&car, End::Rear);
        let choice = table(&subject);
        let mut tied = 0;
        for column in 0..choice.columns.len() {
            for a in 0..choice.rows.len() {
                for b in a + 1..choice.rows.len() {
                    let (x, y) = (&choice.rows[a].values[column], &choice.rows[b].values[column]);
                    let (x, y) = (x.as_ref().unwrap(), y.as_ref().unwrap());
                    let square: f64 =
                        x.contributions.iter().zip(&y.contributions).map(|(p, q)| (p - q).powi(2)).sum();
                    // Two standard uncertainties, about 95 %: JCGM 100:2008, 6.3.3.
                    let expect = (x.value - y.value).abs() <= 2.0 * square.sqrt();
                    let found = choice.ties.iter().find(|t| (t.a, t.b, t.column) == (a, b, column));
                    assert_eq!(found.is_some(), expect, "{name}: rows {a} and {b}, column {column}");
                    if let Some(tie) = found {
                        tied += 1;
                        assert_eq!(tie.difference, x.value - y.value);
                        assert!((tie.uncertainty - square.sqrt()).abs() <= ROUNDING * square.sqrt());
                    }
                }
            }
        }
        assert_eq!(tied, choice.ties.len(), "{name}");
        assert!(tied > 0, "{name} has ties");
    }
}

#[test]
fn holes_a_hair_apart_cannot_be_told_apart_and_far_ones_can() {
    // The two near holes are on a plate-less axle end: without the plate nothing forbids them.
    let text = with_holes(
        &(hole("A", [2100.0, 420.0, 260.0], 1.0)
            + &hole("near A", [2100.2, 420.0, 260.2], 1.0)
            + &hole("far", [2100.0, 420.0, 340.0], 0.1)),
    );
    let (before, after) = text.split_once("[rear.plate.lower-fore]").unwrap();
    let (_, after) = after.split_once("\n\n").map_or(("", ""), |(a, b)| (a, b));
    let text = format!("{before}\n{}", after.find("[[rear.holes]]").map_or(after, |i| &after[i..]));
    let car = car_of(&text);
    let subject = subject(&car, End::Rear);
    let choice = table(&subject);
    let index = |name: &str| choice.rows.iter().position(|r| r.candidate.name == name).unwrap();
    let pairs = choice.indistinguishable();
    assert!(pairs.contains(&(index("A"), index("near A"))), "{pairs:?}");
    assert!(!pairs.contains(&(index("A"), index("far"))), "{pairs:?}");
}

#[test]
fn a_setup_that_equals_a_hole_is_a_name_and_not_a_row() {
    let car = car("plover/car.toml");
    let subject = subject(&car, End::Rear);
    let choice = table(&subject);
    for (i, a) in choice.rows.iter().enumerate() {
        for b in &choice.rows[i + 1..] {
            assert_ne!(a.candidate.holes, b.candidate.holes, "one row for one choice of holes");
        }
    }
    assert!(!car.setups.is_empty(), "the demo has setups");
    for setup in &car.setups {
        let holes: Vec<usize> = setup.holes.iter().map(|(_, h)| *h).collect();
        let same = choice.rows.iter().find(|r| r.candidate.holes == holes).expect("a row of these holes");
        assert!(same.candidate.setups.contains(&setup.name), "{} is a name of that row", setup.name);
    }
}

/// A row that cannot be used says why; the others stay.
#[track_caller]
fn check_ruled_out(holes: &str, travels: &[f64], name: &str, ruled_out: bool, words: &[&str]) {
    let text = with_holes(holes);
    let text = text
        .replace("end         = \"link.lower-fore.body\"\ncorners", "end = \"link.upper-aft.body\"\ncorners");
    let loaded = project::read(&text);
    let car = loaded.car.unwrap_or_else(|| panic!("{:#?}", loaded.diagnostics));
    let subject = subject(&car, End::Rear);
    let choice = choose(&subject, &[], travels, |_, _| {}).unwrap();
    let bad = row(&choice, name);
    assert_eq!(bad.ruled_out, ruled_out, "{:?}", bad.notes);
    let notes = bad.notes.join("; ");
    assert!(!notes.is_empty() && words.iter().all(|w| notes.contains(w)), "{notes}");
    if ruled_out {
        assert!(bad.values.iter().all(Option::is_none), "no number of a row that cannot be");
    }
    let good = &choice.rows[0];
    assert!(!good.ruled_out && good.values[0].is_some(), "the car as drawn stays");
}

#[test]
fn rows_that_cannot_be_say_why() {
    let good = hole("good", [2100.0, 420.0, 300.0], 0.5);
    // At the link's own other end.
    let there = good.clone() + &hole("there", [2462.0, 622.0, 215.0], 0.5);
    check_ruled_out(&there, &[], "there", true, &["lower-fore"]);
    // On the line of another link, from its body end to the same ball: the wheel is not held fore and aft.
    let travels = [-0.5, 0.5];
    check_ruled_out(&good, &travels, "good", false, &["the wheel stops at"]);
    let car = car_of(&with_holes(&good));
    let choice = choose(&subject(&car, End::Rear), &[], &travels, |_, _| {}).unwrap();
    for row in &choice.rows {
        let far = choice.columns.iter().zip(&row.values).filter(|(c, _)| c.travel.is_some());
        for (column, value) in far {
            assert!(value.is_none(), "{column:?} is out of reach");
        }
        let ride = choice.columns.iter().zip(&row.values).filter(|(c, _)| c.travel.is_none());
        assert!(ride.clone().count() > 5 && ride.into_iter().all(|(_, v)| v.is_some()));
    }
}

#[test]
fn a_candidate_of_no_such_hole_does_no_harm() {
    let car = car("plover/car.toml");
    let subject = subject(&car, End::Rear);
    let extra = Candidate::new("nowhere", vec![999]);
    let choice = choose(&subject, &[extra], &[], |_, _| {}).unwrap();
    let (drawn, odd) = (&choice.rows[0], row(&choice, "nowhere"));
    assert_eq!(drawn.values, odd.values, "it is the car as drawn");
}

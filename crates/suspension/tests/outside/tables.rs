//! Tables of a textbook's double wishbone, of a rear five-link, of single axes, and the anti-features of
//! worked examples.
//!
//! The wishbone: points read in open copies of the listing of G. Rill & A. Arrieta Castro, Road Vehicle
//! Dynamics, 2nd ed. (2020), ch. 5; its results were worked out by the book's algorithm and by a second solver,
//! six decimals, neither of them this code. The five-link was worked out by a position solver and by
//! integrating velocities, neither of them this code.

use linkage::{Dual64, End, Frame, Linkage, Solver};
use nalgebra::Vector3;
use serde_json::{Value, json};
use suspension::{
    AxisSource, AxleEnd, Corner, Measures, Mover, TorqueReaction, Wheel, anti, kinds, slope, steering_axis,
};

use crate::support::{corner, load, number, scheme, vector};

/// Half of the last printed digit, and a little.
const POSITION: f64 = 6e-7;
const ANGLE: f64 = 6e-6;
const SLOPE: f64 = 6e-7;

fn section(name: &str) -> Value {
    load("closed-forms.json")[name].clone()
}

#[track_caller]
fn near(what: &str, ours: f64, theirs: f64, tolerance: f64) {
    assert!((ours - theirs).abs() <= tolerance, "{what}: {ours} against {theirs}");
}

/// The table's camber is the projected angle `-atan2(s_z, s_y)`; it is taken from the attitude.
fn projected_camber(corner: &Corner<f64>, rot: &nalgebra::Matrix3<f64>) -> f64 {
    let s = rot * corner.spin();
    -s.z.atan2(s.y).to_degrees()
}

/// The columns of both tables; the contact columns follow the upright's point that is at the road at rest.
#[track_caller]
fn check_table(kind: &str, data: &Value) {
    let corner = corner(&scheme(kind), data);
    let mut mover = Mover::new(&corner);
    let foot = End { frame: Frame::Body(0), at: mover.at(0.0, 0.0).unwrap().contact };
    for row in data["cases"].as_array().unwrap() {
        let travel = number(&row["travel"]);
        let m = mover.at(travel, 0.0).unwrap();
        let foot = mover.solver().track(&foot);
        let rot = mover.solver().position().poses[0].rot;
        let columns = [
            ("centre_x", m.centre.x, POSITION),
            ("centre_y", m.centre.y, POSITION),
            ("contact_x", foot.p.x, POSITION),
            ("contact_y", foot.p.y, POSITION),
            ("contact_z", foot.p.z, POSITION),
            ("toe_deg", m.toe.to_degrees(), ANGLE),
            ("camber_projected_deg", projected_camber(&corner, &rot), ANGLE),
            ("contact_dx_dz", foot.v.x / foot.v.z, SLOPE),
            ("contact_dy_dz", foot.v.y / foot.v.z, SLOPE),
            ("centre_dx_dz", m.centre_dx_dz(), SLOPE),
        ];
        let mut compared = 0;
        for (name, ours, tolerance) in columns {
            if let Some(theirs) = row.get(name) {
                near(&format!("{kind} at {travel}: {name}"), ours, number(theirs), tolerance);
                compared += 1;
            }
        }
        assert!(compared >= 7);
    }
}

#[test]
fn the_textbook_wishbone_follows_its_travel_table() {
    check_table("double-wishbone", &section("wishbone-table"));
}

#[test]
fn the_rear_five_link_follows_its_travel_table() {
    check_table("five-link", &section("five-link-table"));
}

/// Rates, angles and offsets at rest. Angles and trail are printed with ten figures in the collection.
#[test]
fn the_textbook_wishbone_at_rest() {
    let data = section("wishbone-table");
    let corner = corner(&scheme("double-wishbone"), &data);
    let mut mover = Mover::new(&corner);
    let m = mover.at(0.0, 0.0).unwrap();
    let design = &data["design"];
    near("contact dx/dz", m.contact_dx_dz(), number(&design["contact_dx_dz"]), SLOPE);
    near("contact dy/dz", m.contact_dy_dz(), number(&design["contact_dy_dz"]), SLOPE);
    near("centre dx/dz", m.centre_dx_dz(), number(&design["centre_dx_dz"]), SLOPE);
    near("centre dy/dz", m.centre_dy_dz(), number(&design["centre_dy_dz"]), SLOPE);
    near("toe gain", m.toe_gain.to_degrees(), number(&design["toe_gain_deg_per_m"]), ANGLE);
    // The table differentiates the projected angle; at zero toe camber gain is the same to first order.
    near("camber gain", m.camber_gain.to_degrees(), number(&design["camber_gain_deg_per_m"]), ANGLE);
    near("roll centre height", m.roll_centre_height(), 0.086_013_1, SLOPE);
    for (ours, theirs) in m.spin_of_upright.iter().zip([-0.16572, -0.596_846, -0.035_748]) {
        near("angular velocity", *ours, theirs, ANGLE);
    }
    let axis = steering_axis(&mut mover, None).unwrap();
    assert_eq!(axis.source, AxisSource::Balls);
    // The last digit printed is off by one: atan(57/307) = 10.518 207 022 deg.
    near("inclination", axis.inclination.to_degrees(), 10.518_207_03, 1e-8);
    near("inclination", axis.inclination.to_degrees(), f64::atan(57.0 / 307.0).to_degrees(), 1e-11);
    near("caster", axis.caster.to_degrees(), 7.056_096_04, 6e-9);
    near("trail", axis.trail, 0.030_325_552_0, 6e-11);
    near("scrub radius", axis.scrub_radius, 0.001_032_709_1, 6e-11);
}

/// The lower arm driven by its angle, the rack by its travel: the inputs of the book's own algorithm.
#[test]
fn the_textbook_wishbone_by_arm_angle_and_rack() {
    let data = section("wishbone-table");
    let at = |name: &str| vector(&data["points"][name]);
    let (ground, mut linkage) = (Frame::Ground, Linkage::new());
    let centre = vector(&data["wheel"]["centre"]);
    let upright = linkage.add_body("upright", centre);
    let arm = linkage.add_body("lower arm", at("lower-arm.ball"));
    let (phi, rack) = (linkage.add_input(), linkage.add_input());
    let carriage = linkage.add_carriage(Vector3::y(), rack);
    let on = |frame, at| End { frame, at };
    let (aft, fore) = (at("lower-arm.body-aft"), at("lower-arm.body-fore"));
    linkage.hinge("lower arm", ground, arm, aft, fore).unwrap();
    linkage.ball("lower ball", arm, upright, at("lower-arm.ball")).unwrap();
    for leg in ["upper-arm.body-aft", "upper-arm.body-fore"] {
        linkage.rod(leg, on(ground, at(leg)), on(upright, at("upper-arm.ball"))).unwrap();
    }
    linkage.rod("tie rod", on(carriage, at("tie-rod.body")), on(upright, at("tie-rod.upright"))).unwrap();
    linkage.drive_turn("arm angle", arm, fore - aft, phi).unwrap();
    let mut solver = Solver::new(&linkage);
    let spin = vector(&data["wheel"]["spin"]);

    // Collected with the points (toe and camber here with the project's signs).
    let by_angle = [
        (-10.0, [0.003567, 0.747389, -0.070199], -0.23856, -0.99892),
        (-4.0, [0.001432, 0.762003, -0.028507], -0.07905, 0.37246),
        (2.0, [-0.000716, 0.769953, 0.014406], 0.03507, 0.90119),
        (10.0, [-0.003558, 0.771059, 0.072592], 0.15952, 0.67197),
    ];
    let mut rows: Vec<(f64, f64, Vector3<f64>, f64, f64)> =
        by_angle.map(|(angle, w, toe, camber)| (angle, 0.0, Vector3::from(w), toe, camber)).to_vec();
    for row in data["rack_at_design_arm"].as_array().unwrap() {
        let n = |name: &str| number(&row[name]);
        let w = Vector3::new(n("centre_x"), n("centre_y"), n("centre_z"));
        rows.push((0.0, n("rack"), w, n("toe_deg"), n("camber_projected_deg")));
    }
    assert_eq!(rows.len(), 10);
    for (angle, rack, w, toe, camber) in rows {
        solver.go_to(&[f64::to_radians(angle), rack]).unwrap();
        let off = (solver.track(&on(upright, centre)).p - w).amax();
        assert!(off < POSITION, "arm {angle}, rack {rack}: centre off by {off}");
        let s = solver.position().poses[0].rot * spin;
        near("toe", s.x.atan2(s.y).to_degrees(), toe, ANGLE);
        near("camber", -s.z.atan2(s.y).to_degrees(), camber, ANGLE);
    }
    // Rotation about the line of the balls: for a rack at 50 mm it is 20.73012 deg, to the right of the driver.
    for (rack, turn) in [(0.05, 20.73012), (-0.0745, 41.24258)] {
        solver.go_to(&[0.0, rack]).unwrap();
        let rot = solver.position().poses[0].rot;
        near("turn", ((rot.trace() - 1.0) * 0.5).acos().to_degrees(), turn, ANGLE);
    }
}

/// Joint points of the table's ends.
#[test]
fn the_textbook_wishbone_carries_its_joints_along() {
    let data = section("wishbone-table");
    let corner = corner(&scheme("double-wishbone"), &data);
    let mut mover = Mover::new(&corner);
    let rows = [
        (
            0.06,
            [0.015125, 0.740676, -0.084447],
            [-0.033839, 0.683780, 0.221016],
            [-0.136888, 0.693959, -0.032798],
        ),
        (
            -0.06,
            [0.010857, 0.724163, -0.206069],
            [-0.015814, 0.659809, 0.100671],
            [-0.136841, 0.675278, -0.144802],
        ),
    ];
    for (travel, lower, upper, tie) in rows {
        mover.at(travel, 0.0).unwrap();
        for (name, theirs) in [("lower-arm.ball", lower), ("upper-arm.ball", upper), ("tie-rod.upright", tie)]
        {
            let end = End { frame: Frame::Body(0), at: vector(&data["points"][name]) };
            let off = (mover.solver().track(&end).p - Vector3::from(theirs)).amax();
            assert!(off < POSITION, "{name} off by {off} at {travel}");
        }
    }
}

/// A wheel that hangs on a pivot across the car at (x, z): its side-view instant centre is that pivot.
fn wheel_on_pivot(end: AxleEnd, x: f64, z: f64) -> Measures<f64> {
    const RADIUS: f64 = 0.31;
    let ahead = match end {
        AxleEnd::Rear => x,
        AxleEnd::Front => -x,
    };
    let pivots = [Vector3::new(ahead, 0.2, z), Vector3::new(ahead, 0.6, z)];
    let wheel =
        Wheel { centre: Vector3::new(0.0, 0.7, RADIUS), toe: 0.0, camber: 0.0, loaded_radius: RADIUS };
    let corner = Corner::new(&kinds::semi_trailing_arm(), &pivots, &wheel).unwrap();
    Mover::new(&corner).at(0.0, 0.0).unwrap()
}

/// Worked here from the definitions in T. D. Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 7
/// (remembered): L = 2.60 m, h = 0.50 m, rolling radius 0.31 m, 65 % of the braking at the front.
#[test]
fn anti_features_of_a_known_instant_centre() {
    use AxleEnd::{Front, Rear};
    use TorqueReaction::{Body, Upright};
    const PERCENT: f64 = 6e-4;
    let percent =
        |m: &Measures<f64>, end, reaction, share| 100.0 * anti(share, slope(m, end, reaction), 2.60, 0.50);
    let rear = [
        (0.60, 0.31, 94.033, 0.000, 0.000, 268.667),
        (0.60, 0.36, 109.200, 15.167, 43.333, 312.000),
        (0.45, 0.36, 145.600, 20.222, 57.778, 416.000),
        (0.60, 0.25, 75.833, -18.200, -52.000, 216.667),
        (1.20, 0.45, 68.250, 21.233, 60.667, 195.000),
    ];
    for (x, z, outboard, inboard, independent, beam) in rear {
        let m = wheel_on_pivot(Rear, x, z);
        near("anti-lift, outboard", percent(&m, Rear, Upright, 0.35), outboard, PERCENT);
        near("anti-lift, inboard", percent(&m, Rear, Body, 0.35), inboard, PERCENT);
        near("anti-squat, half-shafts", percent(&m, Rear, Body, 1.0), independent, PERCENT);
        near("anti-squat, beam axle", percent(&m, Rear, Upright, 1.0), beam, PERCENT);
    }
    // The last row of the collection is printed to two decimals.
    for (x, z, outboard, inboard, drive) in [
        (1.50, 0.30, 67.60, -2.253, -3.467),
        (2.00, 0.25, 42.25, -10.14, -15.60),
        (1.00, 0.31, 104.78, 0.0, 0.0),
    ] {
        let m = wheel_on_pivot(Front, x, z);
        near("anti-dive, outboard", percent(&m, Front, Upright, 0.65), outboard, PERCENT);
        near("anti-dive, inboard", percent(&m, Front, Body, 0.65), inboard, PERCENT);
        near("anti-lift, driven front", percent(&m, Front, Body, 1.0), drive, PERCENT);
    }
    // Inverse: 60 % of rear anti-lift asks for a slope of 18.2459 deg.
    near("inverse", 0.6 / anti(0.35, 1.0, 2.60, 0.50), 18.2459f64.to_radians().tan(), 1e-6);
}

/// D. C. Barton & J. D. Fieldhouse, Automotive Chassis Engineering (2018), eqs 3.63 and 3.69 (read): with drive
/// reacted by the axle the rear springs take `k_r dr = m a (h/l - e/d)`, and the body keeps its pitch where
/// `e/d = (h/l)(1 + k_r/k_f)`.
#[test]
fn zero_pitch_under_power_as_in_the_book() {
    let (mass, pull, h, l): (f64, f64, f64, f64) = (1100.0, 3.5, 0.52, 2.55);
    for (k_f, k_r) in [(36e3, 44e3), (50e3, 30e3)] {
        let slope_needed = h / l * (1.0 + k_r / k_f);
        let arm = 1.3;
        let m = wheel_on_pivot(AxleEnd::Rear, arm, arm * slope_needed);
        let carried = anti(1.0, slope(&m, AxleEnd::Rear, TorqueReaction::Upright), l, h);
        let rear_squat = mass * pull * h / l * (1.0 - carried) / k_r;
        near("eq. 3.63", k_r * rear_squat, mass * pull * (h / l - slope_needed), 1e-8);
        let front_lift = mass * pull * h / l / k_f;
        near("both ends rise alike", -rear_squat, front_lift, 1e-12);
    }
}

/// The slope form of the same numbers for spatial linkages, and for a single axis by hand.
#[test]
fn slopes_of_the_tables() {
    let rest = |data: &Value, kind: &str| Mover::new(&corner(&scheme(kind), data)).at(0.0, 0.0).unwrap();
    let front = rest(&section("wishbone-table"), "double-wishbone");
    near("front patch", slope(&front, AxleEnd::Front, TorqueReaction::Upright), 0.119_969, SLOPE);
    near("front hub", slope(&front, AxleEnd::Front, TorqueReaction::Body), -0.049_894, SLOPE);
    let rear = rest(&section("five-link-table"), "five-link");
    near("rear patch", slope(&rear, AxleEnd::Rear, TorqueReaction::Upright), 0.462_501, SLOPE);
    near("rear hub", slope(&rear, AxleEnd::Rear, TorqueReaction::Body), 0.114_552, SLOPE);
    let arm = rest(&section("single-axis")["cases"][0], "semi-trailing-arm");
    near("arm patch", slope(&arm, AxleEnd::Rear, TorqueReaction::Upright), 0.36 / 0.45, 1e-12);
    near("arm hub", slope(&arm, AxleEnd::Rear, TorqueReaction::Body), 0.06 / 0.45, 1e-12);
    // In dual numbers the same formula: d(anti)/d(h) = -anti/h.
    let one = |x: f64| Dual64::from(x);
    let lowered = anti(one(0.35), one(0.8), one(2.6), Dual64::new(0.5, 1.0));
    near("d(anti)/d(h)", lowered.eps, -lowered.re / 0.5, 1e-12);
}

/// Worked here, exact: the semi-trailing arm of the collection, six decimals.
#[test]
fn a_semi_trailing_arm_as_collected() {
    let case = json!({
        "points": { "arm.pivot-inner": [0.35, 0.15, 0.30], "arm.pivot-outer": [0.45, 0.60, 0.30] },
        "wheel": { "centre": [0.0, 0.7, 0.3], "spin": [0.0, 1.0, 0.0], "radius": 0.3 },
    });
    let corner = corner(&scheme("semi-trailing-arm"), &case);
    let mut mover = Mover::new(&corner);
    // Toe is printed about +z and camber about +x: on a left wheel both change sign.
    for (travel, w, about_z, about_x) in [
        (-0.06, [0.003828, 0.699149, 0.24], -0.103256, -1.617981),
        (-0.03, [0.000954, 0.699788, 0.27], -0.025724, -0.808909),
        (0.03, [0.000954, 0.699788, 0.33], -0.025724, 0.808909),
        (0.06, [0.003828, 0.699149, 0.36], -0.103256, 1.617981),
    ] {
        let m = mover.at(travel, 0.0).unwrap();
        assert!((m.centre - Vector3::from(w)).amax() < POSITION, "{:?}", m.centre);
        near("toe", m.toe.to_degrees(), -about_z, 1e-6);
        let rot = mover.solver().position().poses[0].rot;
        near("camber", projected_camber(&corner, &rot), -about_x, 1e-6);
    }
}

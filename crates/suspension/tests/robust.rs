//! Random corners of every kind, sound, degenerate and absurd: no call may panic, hang or answer with NaN.

#![expect(clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

use linkage::{Dual64, Frame};
use nalgebra::Vector3;
use suspension::scheme::{Element, ElementRole, JointKind, PointOn, Scheme};
use suspension::{AxleMover, Corner, Measures, Mover, Wheel, diagnose, kinds, steering_axis};

const CORNERS: usize = 10_000;

/// Newton iterations one travel may take: the solver's own limit and the last position's.
const MOST_ITERATIONS_A_CALL: usize = 570;

struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.unit() * n as f64) as usize).min(n - 1)
    }

    fn poison(&mut self) -> f64 {
        [f64::NAN, f64::INFINITY, -1e300, 1e6, 999.0, 5e-324, 0.0][self.below(7)]
    }
}

fn scheme(dice: &mut Dice) -> Scheme {
    let (three, five) = (["a", "b", "c"].map(String::from), ["a", "b", "c", "d", "e"].map(String::from));
    let mut s = match dice.below(6) {
        0 => kinds::five_link(&five, None),
        1 => kinds::five_link(&five, Some(2)),
        2 => kinds::double_wishbone(dice.below(2) == 0),
        3 => kinds::strut(dice.below(2) == 0),
        4 => kinds::trailing_blade(&three),
        _ => kinds::semi_trailing_arm(),
    };
    for name in ["lower-arm", "upper-arm", "tie-rod", "link.a", "link.c"] {
        if dice.below(4) == 0 {
            let _ = kinds::carry_on_link(&mut s, name);
        }
    }
    // Something too many, or too few.
    if dice.below(8) == 0 && !s.joints.is_empty() {
        let joint = s.joints[dice.below(s.joints.len())].clone();
        s.add_joint(format!("{} again", joint.name), joint.kind);
    }
    if dice.below(8) == 0 && !s.joints.is_empty() {
        s.joints.remove(dice.below(s.joints.len()));
    }
    if dice.below(20) == 0 {
        let point = dice.below(40);
        let a = PointOn { frame: Frame::Body(dice.below(4)), point };
        s.add_joint("stray", JointKind::Rod { a, b: PointOn { frame: Frame::Carriage(0), point: 0 } });
    }
    if s.points.len() > 1 && dice.below(2) == 0 {
        let inner = PointOn { frame: Frame::Ground, point: dice.below(s.points.len()) };
        let outer = PointOn { frame: Frame::Body(0), point: dice.below(s.points.len()) };
        let (role, name) = (ElementRole::Spring, "spring".into());
        s.elements.push(Element { role, name, inner, outer, rate: Some(5e4), force: None });
    }
    s
}

/// Points about where a car would have them, spoilt in some way.
fn points(dice: &mut Dice, count: usize) -> Vec<Vector3<f64>> {
    let spread = [0.02, 0.3, 0.3, 0.3, 0.0, 50.0][dice.below(6)];
    let mut points: Vec<_> = (0..count)
        .map(|i| {
            let y = if i % 2 == 0 { 0.35 } else { 0.65 };
            Vector3::new(dice.unit() - 0.5, y + 0.2 * (dice.unit() - 0.5), 0.4 + spread * (dice.unit() - 0.5))
        })
        .collect();
    match dice.below(10) {
        0 if count > 1 => points[1] = points[0],
        1 => points.iter_mut().for_each(|p| p.x = 0.0),
        2 => points.iter_mut().for_each(|p| p.z = 0.3),
        3 if count > 3 => points[3] = points[1] + (points[1] - points[0]) * 0.5,
        4 => {
            let (i, k) = (dice.below(count), dice.below(3));
            points[i][k] = dice.poison();
        }
        5 => {
            points.pop();
        }
        _ => {}
    }
    points
}

fn wheel(dice: &mut Dice) -> Wheel<f64> {
    let mut w = Wheel {
        centre: Vector3::new(0.2 * (dice.unit() - 0.5), 0.72, 0.3),
        toe: 0.02 * (dice.unit() - 0.5),
        camber: 0.06 * (dice.unit() - 0.5),
        loaded_radius: 0.3,
    };
    match dice.below(40) {
        0 => w.centre.z = dice.poison(),
        1 => w.toe = dice.poison(),
        2 => w.camber = dice.poison(),
        3 => w.loaded_radius = dice.poison(),
        4 => w.camber = std::f64::consts::FRAC_PI_2,
        _ => {}
    }
    w
}

fn finite(m: &Measures<f64>) -> bool {
    [m.centre, m.contact, m.contact_rate, m.contact_velocity, m.centre_velocity, m.spin_of_upright]
        .iter()
        .all(|v| v.iter().all(|c| c.is_finite()))
        && [m.travel, m.toe, m.camber, m.toe_gain, m.camber_gain, m.toe_curvature]
            .iter()
            .all(|c| c.is_finite())
}

fn exercise(dice: &mut Dice, scheme: &Scheme, at: &[Vector3<f64>], w: &Wheel<f64>) -> bool {
    let Ok(corner) = Corner::new(scheme, at, w) else { return false };
    for finding in diagnose(&corner) {
        assert!(!finding.message.is_empty() && !finding.message.ends_with('.'), "{finding:?}");
        assert!(!finding.message.contains("NaN") && !finding.message.contains("  "), "{finding:?}");
    }
    let mut mover = Mover::new(&corner);
    let mut works = false;
    let far = [0.2, dice.unit() - 0.5, f64::NAN][dice.below(3)];
    for travel in [0.03, -0.06, far] {
        let rack = if dice.below(3) == 0 { 0.05 * (dice.unit() - 0.5) } else { 0.0 };
        let before = mover.solver().effort().iterations;
        let found = mover.at(travel, rack);
        assert!(mover.solver().effort().iterations - before <= MOST_ITERATIONS_A_CALL);
        match found {
            Ok(m) => {
                works = true;
                assert!(finite(&m), "{m:?}");
                for e in 0..corner.elements().len() {
                    let _ = mover.ratio(e);
                }
                assert!(mover.ratio(99).is_none());
                if let Some(axis) = steering_axis(&mut mover, Some(dice.below(8))) {
                    let all = [axis.caster, axis.inclination, axis.trail, axis.scrub_radius];
                    assert!(all.iter().all(|x| x.is_finite()), "{axis:?}");
                }
            }
            Err(e) => assert!((0.0..=1.0).contains(&e.share) && e.reached.iter().all(|u| u.is_finite())),
        }
    }
    if mover.at(0.01, 0.0).is_ok() {
        let lifted: Vec<_> = at.iter().map(|p| p.map(|c| Dual64::new(c, 1.0))).collect();
        let dual = Corner::new(scheme, &lifted, &w.lift()).unwrap();
        if let Some(m) = mover.sensitivity(&dual) {
            assert!(
                [m.toe, m.camber, m.toe_gain, m.toe_curvature]
                    .iter()
                    .all(|d| d.re.is_finite() && d.eps.is_finite())
            );
        }
    }
    let mut axle = AxleMover::new(&corner);
    for roll in [0.02, [-0.3, 5.0][dice.below(2)]] {
        if let Ok(state) = axle.roll(roll, 0.01) {
            assert!(state.roll.is_finite() && finite(&state.left) && finite(&state.right));
            let _ = (state.roll_centre(), state.track(), state.camber_to_road());
        }
    }
    works
}

#[test]
fn random_corners_never_panic_hang_or_answer_nan() {
    let mut working = 0;
    for n in 0..CORNERS {
        let mut dice = Dice(n as u64);
        let scheme = scheme(&mut dice);
        let at = points(&mut dice, scheme.points.len());
        let w = wheel(&mut dice);
        working += usize::from(exercise(&mut dice, &scheme, &at, &w));
    }
    // The dice are good for something.
    assert!(working > CORNERS / 4, "{working} of {CORNERS} move");
}

//! Ten thousand random linkages, sound, degenerate and absurd: no call may panic, hang or answer with NaN.

use linkage::{
    Dual64, End, Frame, Linkage, Loads, Position, Solver, StopReason, freedoms, reactions, rods_on_one_line,
};
use nalgebra::Vector3;

const LINKAGES: usize = 10_000;

/// Newton iterations one call may take: the solver's own limit and the last position's.
const MOST_ITERATIONS_A_CALL: usize = 570;

/// Numbers and points from a fixed seed; some are poison.
struct Dice {
    state: u64,
    points: Vec<Vector3<f64>>,
    poison: bool,
}

impl Dice {
    fn unit(&mut self) -> f64 {
        self.state =
            self.state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.state >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.unit() * n as f64) as usize).min(n - 1)
    }

    fn number(&mut self) -> f64 {
        let x = 2.0 * self.unit() - 1.0;
        match self.below(60) {
            0..=9 => 0.0,
            10 => x * 1e-9,
            11 => x * 1e3,
            12 if self.poison => {
                [f64::NAN, f64::INFINITY, -f64::INFINITY, 1e300, -0.0, 5e-324][self.below(6)]
            }
            _ => x,
        }
    }

    /// A new point, an old one, one near an old one, one on a line with two old ones.
    fn point(&mut self) -> Vector3<f64> {
        let n = self.points.len();
        let fresh = Vector3::new(self.number(), self.number(), self.number());
        let p = match self.below(10) {
            0 if n > 0 => self.old(),
            1 if n > 0 => self.old() + fresh * 1e-7,
            2 if n > 1 => {
                let (a, b) = (self.old(), self.old());
                a + (b - a) * self.unit()
            }
            _ => fresh,
        };
        self.points.push(p);
        p
    }

    fn old(&mut self) -> Vector3<f64> {
        let i = self.below(self.points.len());
        self.points[i]
    }

    fn frame(&mut self, bodies: usize) -> Frame {
        match self.below(12) {
            0..=4 => Frame::Ground,
            5 => Frame::Carriage(self.below(2)),
            6 if self.poison => Frame::Body(bodies + self.below(3)),
            _ => Frame::Body(self.below(bodies)),
        }
    }

    fn end(&mut self, bodies: usize) -> End<f64> {
        End { frame: self.frame(bodies), at: self.point() }
    }
}

/// The joints that could be built of what the dice gave; those that could not are left out.
fn random(dice: &mut Dice) -> Linkage<f64> {
    let bodies = 1 + dice.below(4);
    let mut l = Linkage::new();
    for b in 0..bodies {
        l.add_body(format!("body {b}"), dice.point());
    }
    let inputs = [l.add_input(), l.add_input()];
    if dice.below(2) == 0 {
        let along = dice.point();
        let _ = l.add_carriage(along, inputs[1] + if dice.poison { dice.below(2) } else { 0 });
    }
    for j in 0..=dice.below(6 * bodies) {
        let name = format!("joint {j}");
        let (a, b) = (dice.end(bodies), dice.end(bodies));
        let (p, q) = (dice.point(), dice.point());
        let _ = match dice.below(9) {
            0 => l.ball(&name, a.frame, b.frame, p),
            1 => l.hinge(&name, a.frame, b.frame, p, q),
            2 => l.point_on_line(&name, a.frame, p, b),
            3 => l.point_in_plane(&name, a.frame, p, b),
            4 => l.keep_angle(&name, a.frame, p, b.frame, q),
            _ => l.rod(&name, a, b),
        };
    }
    let (point, along) = (dice.end(bodies), dice.point());
    let _ = match dice.below(3) {
        0 => l.drive_turn("turn", point.frame, along, inputs[0]),
        _ => l.drive_point("lift", point, along, inputs[0]),
    };
    l
}

fn finite<'a>(numbers: impl IntoIterator<Item = &'a f64>) -> bool {
    numbers.into_iter().all(|x| x.is_finite())
}

fn sound(solver: &Solver<'_>) -> bool {
    let q = solver.position();
    q.poses.iter().all(|p| finite(p.rot.iter().chain(p.shift.iter()))) && finite(&q.inputs)
}

fn exercise(l: &Linkage<f64>, dice: &mut Dice) {
    if let Some(count) = freedoms(l, 0, &[End { frame: Frame::Body(0), at: dice.point() }]) {
        assert!(!count.leverage.is_nan() && count.redundant <= l.rows().len());
        for t in count.motions.iter().flat_map(|m| &m.twists) {
            assert!(finite(t.v.iter().chain(t.w.iter())));
        }
    }
    let _ = (rods_on_one_line(l), freedoms(l, 99, &[]));
    let mut solver = Solver::new(l);
    for _ in 0..2 {
        let before = solver.effort();
        let target = [0.3 * dice.number(), 0.1 * dice.number()];
        let arrived = solver.go_to(&target);
        let used = solver.effort().iterations - before.iterations;
        assert!(used <= MOST_ITERATIONS_A_CALL, "{used} iterations");
        assert!(sound(&solver));
        match arrived {
            Ok(()) => {
                assert_eq!(&solver.position().inputs[..], &target[..]);
                let mut residuals = vec![0.0; l.rows().len()];
                l.residuals(solver.position(), &mut residuals);
                let size =
                    dice.points.iter().filter(|p| finite(p.iter())).map(|p| p.amax()).fold(1.0, f64::max);
                let worst = residuals.iter().fold(0.0f64, |m, r| m.max(r.abs()));
                assert!(worst < 1e-9 * size.min(1e3).powi(2), "residual {worst}");
            }
            Err(e) => {
                assert!((0.0..=1.0).contains(&e.share) && finite(&e.reached), "{e:?}");
                assert!(!e.to_string().contains("NaN"));
            }
        }
        if solver.differentiate(&[1.0, 0.0]).is_ok() {
            for t in &solver.motion().twists {
                assert!(finite(t.v.iter().chain(t.w.iter())), "{t:?}");
            }
            for c in solver.curvature() {
                assert!(finite(c.a.iter().chain(c.alpha.iter())), "{c:?}");
            }
        }
        let row = dice.below(l.rows().len() + 1);
        if let Some(response) = solver.response(row) {
            assert!(response.iter().all(|t| finite(t.v.iter().chain(t.w.iter()))));
        }
        let mut loads = Loads::none(l.bodies());
        let at = dice.end(l.bodies());
        let force = Vector3::new(dice.unit(), dice.unit(), dice.unit()) * 1e3;
        if finite(at.at.iter()) {
            loads.add_force(l, solver.position(), &at, force);
        }
        if let Some(found) = reactions(l, solver.position(), &loads, &[]) {
            assert!(finite(&found.values) && found.unbalanced.is_finite());
        }
    }
    let _ = solver.assemble();
    assert!(sound(&solver));
    solver.reset();
    assert_eq!(*solver.position(), Position::design(l.bodies(), l.inputs()));
}

#[test]
fn random_linkages_never_panic_hang_or_answer_nan() {
    let (mut moved, mut most) = (0, 0);
    for n in 0..LINKAGES {
        let mut dice = Dice { state: n as u64, points: Vec::new(), poison: n % 4 == 0 };
        let l = random(&mut dice);
        exercise(&l, &mut dice);
        let mut solver = Solver::new(&l);
        moved += usize::from(solver.go_to(&[0.01, 0.0]).is_ok());
        most = most.max(solver.effort().iterations);
    }
    // The dice are good for something: a fair share of them moves.
    assert!(moved > LINKAGES / 20, "{moved} of {LINKAGES} move; at most {most} iterations");
}

#[test]
fn rates_that_are_not_one_for_each_input_are_refused() {
    let mut dice = Dice { state: 5, points: Vec::new(), poison: false };
    let l = random(&mut dice);
    let expected = l.inputs();
    let mut solver = Solver::new(&l);
    for found in [0, 1, 2, 3, 7].into_iter().filter(|n| *n != expected) {
        let refused = solver.differentiate(&vec![1.0; found]).unwrap_err();
        assert_eq!(refused.reason, StopReason::Rates { expected, found });
        assert!(refused.to_string().contains(&format!("{found} rates")), "{refused}");
        assert!(sound(&solver));
    }
}

/// A rod of any length, also an unusable one.
#[test]
fn rods_of_any_length_assemble_or_say_why_not() {
    let mut tried = 0;
    for n in 0..2_000 {
        let mut dice = Dice { state: 77 + n, points: Vec::new(), poison: false };
        let mut l = random(&mut dice);
        let Some(joint) = (0..l.joints().len()).find(|j| l.rod_length(*j).is_some()) else { continue };
        let length = l.rod_length(joint).unwrap();
        for new in [length * (1.0 + 0.2 * dice.number()), length + 1e-4, f64::NAN, -1.0, 0.0, 1e9] {
            if !l.set_rod_length(joint, new) {
                assert!(!(new > 1e-6 && new < 1e3), "{new} is usable");
                continue;
            }
            let mut solver = Solver::new(&l);
            let _ = solver.assemble();
            assert!(sound(&solver) && solver.effort().iterations <= MOST_ITERATIONS_A_CALL);
            tried += 1;
        }
    }
    assert!(tried > 1_000);
}

/// Sensitivities of random rods on one body: an answer has no NaN, and a twin of another shape is refused.
#[test]
fn sensitivities_have_no_nan() {
    for n in 0..1_000 {
        let mut dice = Dice { state: 9_000 + n, points: Vec::new(), poison: false };
        let (body, centre) = (Frame::Body(0), dice.point());
        let ends: Vec<_> = (0..5).map(|_| (dice.point(), dice.point())).collect();
        let mut plain = Linkage::new();
        let mut dual: Linkage<Dual64> = Linkage::new();
        plain.add_body("body", centre);
        dual.add_body("body", centre);
        let (u, w) = (plain.add_input(), dual.add_input());
        let lift = |v: &Vector3<f64>| v.map(|c| Dual64::new(c, 1.0));
        for (a, b) in &ends {
            let (g, b0) = (End { frame: Frame::Ground, at: *a }, End { frame: body, at: *b });
            let one = plain.rod("rod", g, b0);
            let two = dual.rod(
                "rod",
                End { frame: Frame::Ground, at: lift(a) },
                End { frame: body, at: b.map(Dual64::from) },
            );
            assert_eq!(one.is_ok(), two.is_ok());
        }
        plain.drive_point("lift", End { frame: body, at: centre }, Vector3::z(), u).unwrap();
        let z = Vector3::<f64>::z().map(Dual64::from);
        dual.drive_point("lift", End { frame: body, at: centre.map(Dual64::from) }, z, w).unwrap();
        let mut solver = Solver::new(&plain);
        let _ = solver.go_to(&[0.01]);
        if solver.differentiate(&[1.0]).is_err() {
            continue;
        }
        if let Some(course) = solver.sensitivity(&dual) {
            for p in &course.position.poses {
                assert!(p.shift.iter().all(|c| c.re.is_finite() && c.eps.is_finite()));
            }
        }
        assert!(solver.sensitivity(&Linkage::new()).is_none());
    }
}

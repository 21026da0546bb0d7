//! Nothing that can be put into a frame makes it panic or answer with what is no number.

use steel::frame::{Foot, Frame, Hold, Joint, Load, Node, Tie, Tube, TubeEnd, UNBALANCED};

use super::common::{Random, oblong, round, steel};

const FRAMES: usize = 2000;

/// Now and then a figure that cannot be.
fn figure(random: &mut Random, usual: f64) -> f64 {
    match random.below(1500) {
        0 => f64::NAN,
        1 => f64::INFINITY,
        2 => 0.0,
        3 => -usual,
        4 => usual * 1e9,
        5 => usual * 1e-9,
        6 => f64::MAX,
        7 => f64::MIN_POSITIVE,
        _ => usual,
    }
}

/// On a coarse grid, so that nodes fall together and tubes into line.
fn anything(random: &mut Random) -> Frame {
    let count = 2 + random.below(6);
    let mut frame = Frame::default();
    for k in 0..count {
        let at = random.vector(2.5).map(f64::round);
        let at = at.map(|c| figure(random, c));
        frame.nodes.push(Node { name: format!("n{k}"), at });
    }
    // Mostly a chain of tubes so that something hangs together.
    for k in 1..count + random.below(2 * count) {
        let (a, b) =
            if k < count { (random.below(k), k) } else { (random.below(count), random.below(count)) };
        let mut section = if random.below(2) == 0 { oblong() } else { round(0.03, 0.002) };
        section.area = figure(random, section.area);
        section.torsion = figure(random, section.torsion);
        section.shear_y = figure(random, section.shear_y);
        let ends = [a, b].map(|node| TubeEnd {
            node: if random.below(900) == 0 { 99 } else { node },
            offset: if random.below(5) == 0 { random.vector(0.1) } else { nalgebra::Vector3::zeros() },
            joint: if random.below(6) == 0 { Joint::Ball } else { Joint::Welded },
        });
        let up = (random.below(5) == 0).then(|| random.vector(1.5).map(f64::round));
        frame.tubes.push(Tube { name: format!("t{k}"), ends, up, section, grade: steel() });
    }
    if random.below(4) == 0 {
        let nodes = (0..2 + random.below(2)).map(|_| random.below(count)).collect();
        frame.ties.push(Tie { name: "plate".to_owned(), nodes });
    }
    for node in 0..count {
        if random.below(3) > 0 {
            continue;
        }
        let mut foot = Foot::fixed(node);
        for hold in &mut foot.hold {
            *hold = match random.below(8) {
                0 => Hold::Free,
                1 => Hold::Spring(figure(random, 1e6)),
                2 => Hold::Spring(random.between(0.0, 10.0).exp()),
                _ => Hold::Fixed,
            };
        }
        frame.feet.push(foot);
    }
    frame
}

#[test]
fn no_frame_brings_the_solver_down() {
    let mut random = Random(21);
    let (mut held, mut loose, mut answered, mut rough) = (0, 0, 0, 0);
    for index in 0..FRAMES {
        let frame = anything(&mut random);
        let count = frame.nodes.len();
        let load = Load {
            node: random.below(count),
            arm: random.vector(0.2),
            force: random.vector(1000.0).map(|c| figure(&mut random, c)),
            moment: random.vector(100.0),
        };
        let factored = match frame.factor() {
            Ok(factored) => factored,
            Err(error) => {
                let words = error.to_string();
                assert!(!words.is_empty() && !error.hint().is_empty());
                if words.contains("nothing to hold it") {
                    loose += 1;
                    assert!(!words.contains("NaN"), "{index}: {words}");
                }
                continue;
            }
        };
        held += 1;
        let Ok(found) = factored.solve(&[vec![load], Vec::new()]) else { continue };
        answered += 1;
        for response in &found {
            assert!(
                response.moves.iter().all(|m| m.shift.iter().chain(m.turn.iter()).all(|c| c.is_finite()))
            );
            assert!(
                response.feet.iter().all(|f| f.force.iter().chain(f.moment.iter()).all(|c| c.is_finite()))
            );
            for tube in &response.tubes {
                let cut = tube.at(0.3);
                let figures = [cut.axial, cut.torque, cut.shear_y, cut.shear_z, cut.moment_y, cut.moment_z];
                assert!(figures.iter().all(|c| c.is_finite()), "{index}: {cut:?}");
            }
            assert!(response.unbalanced <= UNBALANCED, "{index}: {}", response.unbalanced);
            rough += usize::from(response.unbalanced > 1e-9);
        }
        // Without a load nothing moves.
        assert!(found[1].moves.iter().all(|m| m.shift.norm() == 0.0 && m.turn.norm() == 0.0));
        for node in 0..count {
            if let Ok(give) = factored.give(node, &load.arm) {
                assert!(give.iter().all(|c| c.is_finite()) && give.diagonal().min() >= 0.0, "{index}");
            }
        }
    }
    // Only springs of a few N/m beside steel, or figures a thousand million times apart, leave that much.
    assert!(rough <= answered / 50, "{rough} of {answered} out of balance");
    // Of each kind there must be enough for the test to mean something.
    assert!(held > 350 && loose > 200 && answered > 350, "{held} held, {loose} loose, {answered} answered");
}

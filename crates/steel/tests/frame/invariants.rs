//! What holds for every frame: balance, reciprocity, no matter where it stands or how it lies.

use nalgebra::{DMatrix, DVector, Rotation3, Vector3};
use steel::frame::{Foot, Hold, Load, TubeEnd};

use super::common::{Random, random_frame, round, steel, tube};

const FRAMES: usize = 40;

/// On nodes that are no feet.
fn loads(random: &mut Random, count: usize) -> Vec<Load> {
    (0..3)
        .map(|_| Load {
            node: 3 + random.below(count - 3),
            arm: random.vector(0.1),
            force: random.vector(5000.0),
            moment: random.vector(500.0),
        })
        .collect()
}

#[test]
fn loads_and_feet_balance_and_so_does_every_node() {
    let mut random = Random(11);
    for _ in 0..FRAMES {
        let count = 4 + random.below(8);
        let mut frame = random_frame(&mut random, count);
        frame.feet[1].hold = [Hold::Spring(2e6); 6];
        let mut loads = loads(&mut random, count);
        loads.push(Load::force(random.below(3), random.vector(1000.0)));
        let size: f64 = loads.iter().map(|load| load.force.norm()).sum();
        let found = frame.factor().unwrap().solve(std::slice::from_ref(&loads)).unwrap().remove(0);
        assert!(found.unbalanced < 1e-11, "{}", found.unbalanced);

        // The whole, about the origin.
        let mut force = Vector3::zeros();
        let mut moment = Vector3::zeros();
        let mut act = |at: Vector3<f64>, f: Vector3<f64>, m: Vector3<f64>| {
            force += f;
            moment += m + at.cross(&f);
        };
        for load in &loads {
            act(frame.nodes[load.node].at + load.arm, load.force, load.moment);
        }
        for (foot, given) in frame.feet.iter().zip(&found.feet) {
            act(frame.nodes[foot.node].at, given.force, given.moment);
        }
        assert!(force.norm() < 1e-9 * size && moment.norm() < 1e-9 * size, "{force:?} {moment:?}");

        // Every node by what the cuts of its tubes carry.
        for (index, node) in frame.nodes.iter().enumerate() {
            let mut force = Vector3::zeros();
            let mut moment = Vector3::zeros();
            let mut act = |at: Vector3<f64>, f: Vector3<f64>, m: Vector3<f64>| {
                force += f;
                moment += m + (at - node.at).cross(&f);
            };
            for load in loads.iter().filter(|load| load.node == index) {
                act(node.at + load.arm, load.force, load.moment);
            }
            for (foot, given) in frame.feet.iter().zip(&found.feet).filter(|(foot, _)| foot.node == index) {
                act(frame.nodes[foot.node].at, given.force, given.moment);
            }
            for (k, tube) in frame.tubes.iter().enumerate() {
                let axes = frame.axes(k).unwrap();
                let line = frame.line(k).unwrap();
                for (end, t, sign) in [(0, 0.0, 1.0), (1, 1.0, -1.0)] {
                    if tube.ends[end].node == index {
                        let cut = found.tubes[k].at(t);
                        let f = axes.tr_mul(&Vector3::new(cut.axial, cut.shear_y, cut.shear_z));
                        let m = axes.tr_mul(&Vector3::new(cut.torque, cut.moment_y, cut.moment_z));
                        act(line[end], f * sign, m * sign);
                    }
                }
            }
            assert!(force.norm() < 1e-9 * size && moment.norm() < 1e-9 * size, "{force:?} {moment:?}");
        }
    }
}

#[test]
fn a_frame_does_the_same_wherever_it_stands_and_however_it_lies() {
    let mut random = Random(12);
    for _ in 0..FRAMES {
        let count = 4 + random.below(6);
        let frame = random_frame(&mut random, count);
        let load = loads(&mut random, count);
        let turn = Rotation3::from_scaled_axis(random.vector(3.0));
        let away = random.vector(5.0);
        let mut other = frame.clone();
        for node in &mut other.nodes {
            node.at = turn * node.at + away;
        }
        for (index, tube) in other.tubes.iter_mut().enumerate() {
            tube.up = Some(turn * frame.axes(index).unwrap().row(2).transpose());
            for end in &mut tube.ends {
                end.offset = turn * end.offset;
            }
        }
        let turned: Vec<Load> = load
            .iter()
            .map(|l| Load { arm: turn * l.arm, force: turn * l.force, moment: turn * l.moment, ..*l })
            .collect();
        let found = frame.factor().unwrap().solve(&[load]).unwrap().remove(0);
        let other = other.factor().unwrap().solve(&[turned]).unwrap().remove(0);
        let most = found.moves.iter().map(|m| m.shift.norm()).fold(0.0, f64::max);
        for (a, b) in found.moves.iter().zip(&other.moves) {
            assert!((turn * a.shift - b.shift).norm() < 1e-9 * most);
        }
        let most = found.tubes.iter().map(|t| t.axial.abs()).fold(0.0, f64::max);
        for (a, b) in found.tubes.iter().zip(&other.tubes) {
            assert!((a.axial - b.axial).abs() < 1e-9 * most && (a.shear_y - b.shear_y).abs() < 1e-9 * most);
            assert!((a.moment_y[0] - b.moment_y[0]).abs() < 1e-9 * most);
        }
    }
}

/// E. Betti's theorem (1872): the work of one load along the movements by another is that of the other along the first's.
#[test]
fn work_of_two_loads_is_mutual() {
    let mut random = Random(13);
    for _ in 0..FRAMES {
        let count = 4 + random.below(6);
        let frame = random_frame(&mut random, count);
        let cases = [loads(&mut random, count), loads(&mut random, count)];
        let found = frame.factor().unwrap().solve(&cases).unwrap();
        let work = |loads: &[Load], k: usize| -> f64 {
            let along = |l: &Load| {
                let moves = &found[k].moves[l.node];
                l.force.dot(&moves.at(&l.arm)) + l.moment.dot(&moves.turn)
            };
            loads.iter().map(along).sum()
        };
        let (one, other) = (work(&cases[0], 1), work(&cases[1], 0));
        let size = work(&cases[0], 0).max(work(&cases[1], 1));
        assert!((one - other).abs() < 1e-10 * size, "{one} {other}");
    }
}

#[test]
fn the_give_of_a_point_is_what_its_loads_do_there() {
    let mut random = Random(14);
    let frame = random_frame(&mut random, 6);
    let factored = frame.factor().unwrap();
    for node in 0..6 {
        let (arm, force, moment) = (random.vector(0.2), random.vector(1000.0), random.vector(100.0));
        let give = factored.give(node, &arm).unwrap();
        let found = factored.solve(&[vec![Load { node, arm, force, moment }]]).unwrap().remove(0).moves[node];
        let shift = give.fixed_view::<3, 3>(0, 0) * force + give.fixed_view::<3, 3>(0, 3) * moment;
        let turn = give.fixed_view::<3, 3>(3, 0) * force + give.fixed_view::<3, 3>(3, 3) * moment;
        assert!((shift - found.at(&arm)).norm() <= 1e-10 * shift.norm());
        assert!((turn - found.turn).norm() <= 1e-10 * turn.norm());
    }
}

/// Tubes on balls at both ends are the bars of a truss: against bars alone, by full elimination.
#[test]
fn a_frame_of_balls_is_a_truss() {
    let mut random = Random(15);
    let section = round(0.03, 0.002);
    for _ in 0..FRAMES {
        // A foot of three nodes, then each node on three earlier ones.
        let count = 5 + random.below(6);
        let mut frame = random_frame(&mut random, count);
        frame.tubes.clear();
        for k in 3..count {
            for back in 1..=3 {
                let mut bar = tube(k - back, k, section, &steel());
                bar.ends = bar.ends.map(|end| TubeEnd::ball(end.node));
                frame.tubes.push(bar);
            }
        }
        frame.feet = [0, 1, 2].map(Foot::pinned).to_vec();
        let force = random.vector(1000.0);
        let load = vec![Load::force(count - 1, force)];
        let Ok(factored) = frame.factor() else { continue };
        let found = factored.solve(&[load]).unwrap().remove(0);

        let mut stiffness = DMatrix::zeros(3 * count, 3 * count);
        for (index, bar) in frame.tubes.iter().enumerate() {
            let [start, end] = frame.line(index).unwrap();
            let along = (end - start).normalize();
            let block = along * along.transpose() * (steel().young * section.area / (end - start).norm());
            let [a, b] = bar.ends.map(|end| end.node);
            for (row, column, sign) in [(a, a, 1.0), (b, b, 1.0), (a, b, -1.0), (b, a, -1.0)] {
                let mut view = stiffness.fixed_view_mut::<3, 3>(3 * row, 3 * column);
                view += block * sign;
            }
        }
        let free = stiffness.view((9, 9), (3 * count - 9, 3 * count - 9)).into_owned();
        let mut right = DVector::zeros(3 * count - 9);
        right.fixed_rows_mut::<3>(3 * count - 12).copy_from(&force);
        let expected = free.lu().solve(&right).unwrap();
        let most = expected.amax();
        for node in 3..count {
            let expected = expected.fixed_rows::<3>(3 * (node - 3));
            assert!((found.moves[node].shift - expected).norm() < 1e-8 * most);
        }
        assert!(found.unbalanced < 1e-9);
    }
}

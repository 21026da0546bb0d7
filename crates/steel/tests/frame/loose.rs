//! What is wrong with a frame is said in words, at the node where it is.

use nalgebra::Vector3;
use steel::frame::{Foot, Frame, FrameError, Hold, Joint, Load, Motion, Tie, TubeEnd};

use super::common::{nodes, oblong, round, steel, tube};

/// Nodes 0 and 1 on the ground, 2 and 3 above them: a goal.
fn goal() -> Frame {
    let section = round(0.04, 0.002);
    Frame {
        nodes: nodes([[0.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 1.0]]),
        tubes: [(0, 2), (1, 3), (2, 3)].map(|(a, b)| tube(a, b, section, &steel())).to_vec(),
        feet: vec![Foot::fixed(0), Foot::fixed(1)],
        ..Frame::default()
    }
}

#[track_caller]
fn says(frame: &Frame, expected: &str) {
    let error = frame.factor().unwrap_err();
    assert_eq!(error.to_string(), expected);
    assert!(!error.hint().is_empty());
}

#[test]
fn faults_are_named() {
    assert!(goal().factor().is_ok());
    says(&Frame::default(), "the frame has no tube");
    says(&Frame { feet: Vec::new(), ..goal() }, "the frame stands on no foot");
    let free = Foot { node: 0, hold: [Hold::Free; 6] };
    says(&Frame { feet: vec![free], ..goal() }, "the frame stands on no foot");

    let mut frame = goal();
    frame.tubes[1].ends[1].node = 7;
    says(&frame, "tube `t1-3` asks for node number 7, and there are 4");

    let mut frame = goal();
    frame.nodes.extend(nodes([[0.0; 3]; 5]).into_iter().skip(4));
    says(&frame, "no tube reaches node `n4`");

    let mut frame = goal();
    frame.nodes[3].at = frame.nodes[2].at;
    says(&frame, "tube `t2-3` has no length: it goes from node `n2` to node `n3`");

    let mut frame = goal();
    frame.tubes[2].up = Some(Vector3::y());
    says(&frame, "the direction that turns the section of tube `t2-3` lies along the tube");
    frame.tubes[2].up = Some(Vector3::zeros());
    assert!(matches!(frame.factor(), Err(FrameError::Up { .. })));

    let mut frame = goal();
    frame.tubes[0].section.area = 0.0;
    says(&frame, "the area of tube `t0-2` is 0, which no tube has");
    let mut frame = goal();
    frame.tubes[0].grade.young = f64::NAN;
    says(&frame, "the modulus of elasticity of tube `t0-2` is NaN, which no tube has");

    let mut frame = goal();
    frame.nodes[2].at.x = 2500.0;
    says(&frame, "a coordinate of node `n2` is 2500, which cannot be");

    let mut frame = goal();
    frame.feet.push(Foot::pinned(0));
    says(&frame, "node `n0` has two feet");
    let mut frame = goal();
    frame.feet[0].hold[1] = Hold::Spring(-1.0);
    says(&frame, "the rate of a spring under node `n0` is -1, which cannot be");

    let mut frame = goal();
    frame.ties.push(Tie { name: "plate".to_owned(), nodes: vec![2, 2] });
    says(&frame, "tie `plate` joins fewer than two nodes");

    let mut frame = goal();
    frame.tubes.remove(2);
    frame.feet.pop();
    says(&frame, "node `n1` and what hangs on it (2 nodes) is joined to no foot");
}

#[test]
fn what_can_move_is_named_with_its_movement() {
    // All four feet of the goal on balls: it falls over about the line of its feet.
    let mut frame = goal();
    frame.feet = vec![Foot::pinned(0), Foot::pinned(1)];
    says(&frame, "node `n2` can move along x with nothing to hold it, and 3 other nodes with it");

    // Post on a ball at its foot and a ball at its head: the head's beam held by the other post alone, which is welded.
    let mut frame = goal();
    frame.tubes[0].ends = [TubeEnd::ball(0), TubeEnd::ball(2)];
    assert!(frame.factor().is_ok());

    // A tube on balls at both feet of a beam that is welded to nothing else.
    let mut frame = goal();
    frame.tubes[0].ends[1].joint = Joint::Ball;
    frame.tubes[2].ends = [TubeEnd::welded(2), TubeEnd::ball(3)];
    let error = frame.factor().unwrap_err();
    let FrameError::Loose { node, motion, others } = &error else { panic!("{error}") };
    assert_eq!((node.as_str(), *others), ("n2", 0), "{error}");
    assert!(matches!(motion, Motion::Turn(axis) if (axis - Vector3::y()).norm() < 1e-6), "{error}");
    assert_eq!(error.to_string(), "node `n2` can turn about y with nothing to hold it");

    // A foot that lets go of one turning.
    let mut foot = Foot::fixed(0);
    foot.hold[3] = Hold::Free;
    let frame = Frame {
        nodes: nodes([[0.0; 3], [1.0, 0.0, 0.0]]),
        tubes: vec![tube(0, 1, oblong(), &steel())],
        feet: vec![foot],
        ..Frame::default()
    };
    says(&frame, "node `n0` can turn about x with nothing to hold it, and one other node with it");

    // A joint of balls in a straight line of tubes moves across it.
    let mut frame = Frame {
        nodes: nodes([[0.0; 3], [0.6, 0.6, 0.0], [1.2, 1.2, 0.0]]),
        tubes: [(0, 1), (1, 2)].map(|(a, b)| tube(a, b, oblong(), &steel())).to_vec(),
        feet: [0, 2].map(Foot::fixed).to_vec(),
        ..Frame::default()
    };
    for tube in &mut frame.tubes {
        tube.ends = tube.ends.map(|end| TubeEnd::ball(end.node));
    }
    let error = frame.factor().unwrap_err();
    let FrameError::Loose { node, motion: Motion::Shift(along), others: 0 } = &error else {
        panic!("{error}")
    };
    assert_eq!(node, "n1");
    assert!(along.dot(&Vector3::new(1.0, 1.0, 0.0)).abs() < 1e-6, "{error}");
}

#[test]
fn nearly_loose_is_not_loose() {
    // The same line of balls, its middle 5 mm out of line and held upright by a third tube: soft, but held.
    let mut frame = Frame {
        nodes: nodes([[0.0; 3], [1.0, 0.005, 0.0], [2.0, 0.0, 0.0], [1.0, 0.0, 1.0]]),
        tubes: [(0, 1), (1, 2), (1, 3)].map(|(a, b)| tube(a, b, round(0.03, 0.002), &steel())).to_vec(),
        feet: [0, 2, 3].map(Foot::fixed).to_vec(),
        ..Frame::default()
    };
    for tube in &mut frame.tubes {
        tube.ends = tube.ends.map(|end| TubeEnd::ball(end.node));
    }
    let found =
        frame.factor().unwrap().solve(&[vec![Load::force(1, Vector3::new(0.0, -10.0, 0.0))]]).unwrap();
    // Balance of the moved joint, the third tube apart: 2 N sin = 10.
    let sine = 0.005 / (1.0f64 + 0.005 * 0.005).sqrt();
    let steep = Vector3::new(0.0, 0.005, -1.0).normalize();
    let pull = found[0].tubes[2].axial;
    let balance = 2.0 * found[0].tubes[0].axial * -sine + pull * -steep.y - 10.0;
    assert!(balance.abs() < 1e-6 && found[0].unbalanced < 1e-9, "{balance} {}", found[0].unbalanced);
}

#[test]
fn balls_take_no_moment() {
    let mut frame = goal();
    for tube in &mut frame.tubes {
        for end in &mut tube.ends {
            if end.node == 3 {
                end.joint = Joint::Ball;
            }
        }
    }
    frame.tubes[2].ends[0].joint = Joint::Welded;
    let factored = frame.factor().unwrap();
    let error = factored.solve(&[vec![Load::moment(3, Vector3::new(0.0, 0.0, 5.0))]]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "node `n3` is held by balls alone and takes no moment, but 5.000e0 N m acts there"
    );
    assert!(factored.give(3, &Vector3::x()).is_err());
    assert!(factored.solve(&[vec![Load::force(3, Vector3::new(1.0, 2.0, 3.0))]]).is_ok());
    let error = factored.solve(&[vec![Load::force(9, Vector3::x())]]).unwrap_err();
    assert_eq!(error.to_string(), "a load asks for node number 9, and there are 4");
    assert!(factored.solve(&[vec![Load::force(3, Vector3::new(f64::NAN, 0.0, 0.0))]]).is_err());
}

//! Beams with closed answers (J. M. Gere and S. P. Timoshenko, Mechanics of Materials; W. C. Young, Roark's Formulas for
//! Stress and Strain; remembered) with their shear: a force over the shear stiffness `G A_s`.

use nalgebra::Vector3;
use steel::frame::{Foot, Frame, Hold, Joint, Load, Node, Tie, TubeEnd};
use steel::grade::{SHEAR, YOUNG};

use super::common::{figures, grade, nodes, oblong, round, steel, tube, up};

#[track_caller]
fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-10 * expected.abs(), "{found} for {expected}");
}

#[test]
fn a_cantilever_bends_shears_and_stretches() {
    let section = oblong();
    let (l, p) = (0.8, 1000.0);
    let frame = Frame {
        nodes: nodes([[0.0; 3], [l, 0.0, 0.0]]),
        tubes: vec![tube(0, 1, section, &steel())],
        feet: vec![Foot::fixed(0)],
        ..Frame::default()
    };
    let loads = [[p, 0.0, 0.0], [0.0, p, 0.0], [0.0, 0.0, p]].map(|f| vec![Load::force(1, f.into())]);
    let found = frame.factor().unwrap().solve(&loads).unwrap();
    close(found[0].moves[1].shift.x, p * l / (YOUNG * section.area));
    let bend = |second: f64, shear: f64| p * l.powi(3) / (3.0 * YOUNG * second) + p * l / (SHEAR * shear);
    close(found[1].moves[1].shift.y, bend(section.second_z, section.shear_y));
    close(found[2].moves[1].shift.z, bend(section.second_y, section.shear_z));
    // Bent up, it turns about -y; its upper side at the wall is pressed, and the cut pulls no more than it shears.
    close(found[2].moves[1].turn.y, -p * l * l / (2.0 * YOUNG * section.second_y));
    let root = found[2].tubes[0].at(0.0);
    close(root.moment_y, -p * l);
    close(root.shear_z, p);
    close(found[1].tubes[0].at(0.0).moment_z, p * l);
    close(found[2].feet[0].force.z, -p);
    close(found[2].feet[0].moment.y, p * l);
}

#[test]
fn a_load_in_the_middle_of_a_beam() {
    let section = oblong();
    let (l, p) = (1.2, 5000.0);
    let force = |p: f64| vec![vec![Load::force(1, Vector3::new(0.0, 0.0, -p))]];
    let mut frame = Frame {
        nodes: nodes([[0.0; 3], [l / 2.0, 0.0, 0.0], [l, 0.0, 0.0]]),
        tubes: vec![tube(0, 1, section, &steel()), tube(1, 2, section, &steel())],
        feet: vec![Foot::fixed(0), Foot::fixed(2)],
        ..Frame::default()
    };
    let shear = p * l / (4.0 * SHEAR * section.shear_z);
    let bend = p * l.powi(3) / (YOUNG * section.second_y);
    let built_in = frame.factor().unwrap().solve(&force(p)).unwrap();
    close(built_in[0].moves[1].shift.z, -(bend / 192.0 + shear));
    close(built_in[0].tubes[0].at(1.0).moment_y, -built_in[0].tubes[0].at(0.0).moment_y);
    close(built_in[0].tubes[0].at(1.0).moment_y.abs(), p * l / 8.0);

    // On balls, one of which holds the twist; then on balls in the tubes themselves.
    let mut pinned = Foot::pinned(0);
    pinned.hold[3] = Hold::Fixed;
    frame.feet = vec![pinned, Foot::pinned(2)];
    let supported = frame.factor().unwrap().solve(&force(p)).unwrap();
    close(supported[0].moves[1].shift.z, -(bend / 48.0 + shear));
    frame.feet = vec![Foot::fixed(0), Foot::fixed(2)];
    frame.tubes[1].ends[1].joint = Joint::Ball;
    let propped = frame.factor().unwrap().solve(&force(p)).unwrap();
    let slender = {
        let mut frame = frame.clone();
        for tube in &mut frame.tubes {
            (tube.section.shear_y, tube.section.shear_z) = (f64::INFINITY, f64::INFINITY);
        }
        frame.factor().unwrap().solve(&force(p)).unwrap()
    };
    // Propped cantilever: 7 P L^3/(768 E I), 3 P L/16 at the wall, 5 P/16 at the prop.
    close(slender[0].moves[1].shift.z, -bend * 7.0 / 768.0);
    close(slender[0].feet[0].moment.y.abs(), 3.0 * p * l / 16.0);
    close(slender[0].feet[1].force.z, 5.0 * p / 16.0);
    assert_eq!(slender[0].feet[1].moment, Vector3::zeros());
    assert!(propped[0].moves[1].shift.z < slender[0].moves[1].shift.z);
}

/// R. Wentzell, Topics in Mechanical Design, ex. 3.2 p. 43 (read in open code that transcribes the book): 2 x 2 in, 36 in
/// between supports, 3000 lb in the middle, E = 30e6: 0.0729 in, 20 250 psi.
#[test]
fn wentzell_example_3_2() {
    let (section, grade) = (figures(4.0, 16.0 / 12.0, 16.0 / 12.0, 2.25), grade(30e6, 11.5e6));
    let mut twist = Foot::pinned(0);
    twist.hold[3] = Hold::Fixed;
    let frame = Frame {
        nodes: nodes([[0.0; 3], [18.0, 0.0, 0.0], [36.0, 0.0, 0.0]]),
        tubes: vec![tube(0, 1, section, &grade), tube(1, 2, section, &grade)],
        feet: vec![twist, Foot::pinned(2)],
        ..Frame::default()
    };
    let load = vec![Load::force(1, Vector3::new(0.0, 0.0, -3000.0))];
    let found = frame.factor().unwrap().solve(&[load]).unwrap();
    close(found[0].moves[1].shift.z, -0.0729);
    // Lowest fibre, z = -1: tension.
    let stress = -found[0].tubes[0].at(1.0).moment_y / section.second_y;
    close(stress, 20_250.0);
}

/// Pieces this small are where rounding and the search for what is loose come nearest to a sound frame.
#[test]
fn a_hundred_pieces_are_one_tube() {
    let (section, l, p) = (round(0.03, 0.002), 2.0, 100.0);
    let frame = Frame {
        nodes: nodes::<101>(std::array::from_fn(|k| [0.0, l * k as f64 / 100.0, 0.0])),
        tubes: (0..100).map(|k| tube(k, k + 1, section, &steel())).collect(),
        feet: vec![Foot::fixed(0)],
        ..Frame::default()
    };
    let found = frame.factor().unwrap().solve(&[vec![Load::force(100, Vector3::new(0.0, 0.0, p))]]).unwrap();
    let expected = p * l.powi(3) / (3.0 * YOUNG * section.second_y) + p * l / (SHEAR * section.shear_z);
    assert!((found[0].moves[100].shift.z / expected - 1.0).abs() < 1e-8);
    assert!((found[0].feet[0].moment.x + p * l).abs() < 1e-6 && found[0].unbalanced < 1e-9);
}

/// R. C. Hibbeler, Mechanics of Materials, ex. 5.12 p. 228 (read in open code that transcribes the book): a tube 60 x 40 with
/// walls of 5 and 3 mm, 60 N m over 0.5 m and 35 N m over 1.5 m, G = 38 GPa: 0.00629 rad.
#[test]
fn hibbeler_example_5_12() {
    let within: f64 = 0.057 * 0.035;
    let torsion = 4.0 * within * within / (2.0 * (0.057 / 0.005 + 0.035 / 0.003));
    let (section, grade) = (figures(1e-3, 1e-7, 1e-7, torsion), grade(100e9, 38e9));
    let frame = Frame {
        nodes: nodes([[0.0; 3], [0.5, 0.0, 0.0], [2.0, 0.0, 0.0]]),
        tubes: vec![tube(0, 1, section, &grade), tube(1, 2, section, &grade)],
        feet: vec![Foot::fixed(0)],
        ..Frame::default()
    };
    let loads = [(1, 25.0), (2, 35.0)].map(|(node, m)| Load::moment(node, Vector3::new(m, 0.0, 0.0)));
    let found = frame.factor().unwrap().solve(&[loads.to_vec()]).unwrap();
    assert!((found[0].moves[2].turn.x - 0.00629).abs() < 5e-6, "{}", found[0].moves[2].turn.x);
    close(found[0].tubes[0].torque, 60.0);
    close(found[0].tubes[1].torque, 35.0);
}

#[test]
fn a_round_and_a_box_in_series_twist_one_after_the_other() {
    let (first, second) = (round(0.05, 0.003), oblong());
    let frame = Frame {
        nodes: nodes([[0.0; 3], [0.0, 0.4, 0.3], [0.0, 0.8, 0.6]]),
        tubes: vec![tube(0, 1, first, &steel()), tube(1, 2, second, &steel())],
        feet: vec![Foot::fixed(0)],
        ..Frame::default()
    };
    let axis = Vector3::new(0.0, 0.8, 0.6);
    let found = frame.factor().unwrap().solve(&[vec![Load::moment(2, axis * 100.0)]]).unwrap();
    let twist = 100.0 * 0.5 / SHEAR * (1.0 / first.torsion + 1.0 / second.torsion);
    close(found[0].moves[2].turn.dot(&axis), twist);
}

#[test]
fn springs_under_a_foot_add_to_the_give() {
    let section = round(0.05, 0.003);
    let (l, p, rate, turning) = (0.6, 800.0, 2e6, 3e4);
    let mut foot = Foot::fixed(0);
    foot.hold[2] = Hold::Spring(rate);
    foot.hold[4] = Hold::Spring(turning);
    let frame = Frame {
        nodes: nodes([[0.0; 3], [l, 0.0, 0.0]]),
        tubes: vec![tube(0, 1, section, &steel())],
        feet: vec![foot],
        ..Frame::default()
    };
    let factored = frame.factor().unwrap();
    let found = factored.solve(&[vec![Load::force(1, Vector3::new(0.0, 0.0, p))]]).unwrap();
    let own = l.powi(3) / (3.0 * YOUNG * section.second_y) + l / (SHEAR * section.shear_z);
    let give = own + 1.0 / rate + l * l / turning;
    close(found[0].moves[1].shift.z, p * give);
    close(found[0].feet[0].force.z, -p);
    close(found[0].feet[0].moment.y, p * l);
    let point = factored.give(1, &Vector3::zeros()).unwrap();
    close(point[(2, 2)], give);
    assert_eq!(point, point.transpose());
}

#[test]
fn the_drawn_line_is_where_the_pieces_of_the_tube_go() {
    drawn(Joint::Welded, Vector3::new(50.0, 20.0, -70.0), Vector3::new(0.0, 0.1, 0.0));
    drawn(Joint::Ball, Vector3::zeros(), Vector3::zeros());
}

/// A cantilever whole and in eight pieces, loaded at its tip, which is joined as told.
#[track_caller]
fn drawn(joint: Joint, moment: Vector3<f64>, arm: Vector3<f64>) {
    let (start, end) = (Vector3::new(0.1, 0.2, 0.3), Vector3::new(0.9, -0.1, 0.7));
    let frame = |pieces: usize| {
        let place = |k: usize| start + (end - start) * (k as f64 / pieces as f64);
        let mut frame = Frame {
            nodes: (0..=pieces).map(|k| Node { name: format!("n{k}"), at: place(k) }).collect(),
            tubes: (0..pieces).map(|k| up(tube(k, k + 1, oblong(), &steel()), [0.3, 1.0, 0.2])).collect(),
            feet: vec![Foot::fixed(0)],
            ..Frame::default()
        };
        frame.tubes[pieces - 1].ends[1].joint = joint;
        frame.factor().unwrap()
    };
    let load = |node| vec![vec![Load { node, arm, force: Vector3::new(500.0, -300.0, 900.0), moment }]];
    let (whole, pieces) = (frame(1), frame(8));
    let found = whole.solve(&load(1)).unwrap().remove(0);
    let expected = pieces.solve(&load(8)).unwrap().remove(0);
    for (k, expected) in expected.moves.iter().enumerate() {
        let t = k as f64 / 8.0;
        let point = whole.moved(&found, 0, t).unwrap();
        assert!((point - expected.shift).norm() <= 1e-10 * expected.shift.norm() + 1e-18, "{t}: {point:?}");
        assert!((whole.rest(0, t).unwrap() - (start + (end - start) * t)).norm() < 1e-15);
    }
}

#[test]
fn a_stiff_arm_is_a_tie_to_a_node_at_its_end() {
    let arm = Vector3::new(0.05, -0.03, 0.08);
    let far = Vector3::new(1.0, 0.3, 0.2);
    let mut with_arm = Frame {
        nodes: nodes([[0.0; 3], far.into()]),
        tubes: vec![tube(0, 1, oblong(), &steel())],
        feet: vec![Foot::fixed(0)],
        ..Frame::default()
    };
    with_arm.tubes[0].ends[1] = TubeEnd { offset: arm, ..TubeEnd::welded(1) };
    let with_tie = Frame {
        nodes: nodes([[0.0; 3], (far + arm).into(), far.into()]),
        tubes: vec![tube(0, 1, oblong(), &steel())],
        ties: vec![Tie { name: "plate".to_owned(), nodes: vec![1, 2] }],
        feet: vec![Foot::fixed(0)],
    };
    let force = Vector3::new(300.0, 700.0, -200.0);
    let found = with_arm.factor().unwrap().solve(&[vec![Load::force(1, force)]]).unwrap().remove(0);
    let other = with_tie.factor().unwrap().solve(&[vec![Load::force(2, force)]]).unwrap().remove(0);
    assert!((found.moves[1].shift - other.moves[2].shift).norm() < 1e-12 * found.moves[1].shift.norm());
    assert!((found.moves[1].turn - other.moves[1].turn).norm() < 1e-12 * found.moves[1].turn.norm());
    assert!((found.feet[0].moment - other.feet[0].moment).norm() < 1e-9);
}

#[test]
fn a_plate_on_three_pins_is_a_foot() {
    let section = oblong();
    let on_pins = Frame {
        nodes: nodes([[0.0; 3], [0.2, 0.0, 0.0], [0.0, 0.2, 0.0], [0.1, 0.1, 0.9]]),
        tubes: vec![tube(0, 3, section, &steel())],
        ties: vec![Tie { name: "plate".to_owned(), nodes: vec![0, 1, 2] }],
        feet: [0, 1, 2].map(Foot::pinned).to_vec(),
    };
    let fixed = Frame { feet: vec![Foot::fixed(0)], ..on_pins.clone() };
    let load = vec![vec![Load::force(3, Vector3::new(400.0, -600.0, 100.0))]];
    let found = on_pins.factor().unwrap().solve(&load).unwrap().remove(0);
    let expected = fixed.factor().unwrap().solve(&load).unwrap().remove(0);
    assert!((found.moves[3].shift - expected.moves[3].shift).norm() < 1e-12 * expected.moves[3].shift.norm());
    assert!(found.unbalanced < 1e-12, "{}", found.unbalanced);
    let sum: Vector3<f64> = found.feet.iter().map(|foot| foot.force).sum();
    assert!((sum - expected.feet[0].force).norm() < 1e-9);
    // Two pins leave it its hinge, held by the tube to a second foot; nothing moves along or across the line of the pins.
    let hinged = Frame { feet: vec![Foot::pinned(0), Foot::pinned(1), Foot::fixed(3)], ..on_pins };
    let load = vec![vec![Load::force(2, Vector3::new(0.0, 0.0, 100.0))]];
    let found = hinged.factor().unwrap().solve(&load).unwrap().remove(0);
    assert!(found.moves[0].shift.norm() < 1e-16 && found.moves[1].shift.norm() < 1e-16);
    assert!(found.moves[2].shift.z > 0.0 && found.unbalanced < 1e-12);
}

#[test]
fn a_frame_weighs_what_its_tubes_weigh() {
    let section = round(0.04, 0.002);
    let frame = Frame {
        nodes: nodes([[0.0; 3], [1.0, 0.0, 0.0], [1.0, 2.0, 0.0]]),
        tubes: vec![tube(0, 1, section, &steel()), tube(1, 2, section, &steel())],
        ..Frame::default()
    };
    let found = frame.mass();
    close(found.mass, 3.0 * section.area * 7850.0);
    assert!((found.centre - Vector3::new(2.5 / 3.0, 2.0 / 3.0, 0.0)).norm() < 1e-12);
}

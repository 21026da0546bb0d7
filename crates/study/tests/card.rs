//! The setup card: what it says of the links, and the jobs from one setup to another.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use project::model::{Car, End};
use study::{Card, Set, Subject, Work, card, cards, steps};
use suspension::Mover;

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

fn demo() -> Car {
    project::read(WHOLE).car.unwrap()
}

/// With the lengths of the card the wheel stands as the card says: the linkage solved anew with them.
#[test]
fn the_lengths_of_the_card_set_its_toe_and_camber() {
    let car = demo();
    for (name, hole) in [("cones", "A"), ("circuit", "C")] {
        let card = card(&car, Some(name)).unwrap();
        let subject = Subject::new(&car, End::Rear).unwrap();
        let holes = [subject.axle().holes.iter().position(|h| h.name == hole).unwrap()];
        let mut corner = subject.corner_of_rods(&subject.nominal(&holes)).unwrap();
        let mut set = 0;
        for item in card.items.iter().filter(|item| item.work == Work::Link) {
            let Some(link) = item.what.strip_prefix("rear ") else { continue };
            let Set::Link { length, .. } = item.set else { panic!("a length") };
            let joint =
                corner.linkage().joint(&format!("link.{link}")).or_else(|| corner.linkage().joint(link));
            assert!(corner.linkage_mut().set_rod_length(joint.unwrap(), length));
            set += 1;
        }
        assert_eq!(set, 3, "the links that can be turned");
        let mut mover = Mover::new(&corner);
        mover.assemble().unwrap();
        let there = mover.at(0.0, 0.0).unwrap();
        let wheel = &car.with_setup(Some(name)).rear.as_ref().unwrap().wheel;
        assert!((there.toe - wheel.toe.value).abs() < 1e-7, "{name}: {}", there.toe - wheel.toe.value);
        assert!((there.camber - wheel.camber.value).abs() < 1e-7);
        assert!((there.centre.x - wheel.centre.at.x).abs() < 1e-7, "the wheelbase stays");
    }
}

#[test]
fn the_jobs_between_setups_are_what_differs_and_come_in_order() {
    let car = demo();
    let all: Vec<Card> = cards(&car);
    let [circuit, cones] = all.as_slice() else { panic!("two setups") };
    assert!(steps(cones, cones, &car.units).is_empty());
    let there = steps(circuit, cones, &car.units);
    let works: Vec<Work> = there.iter().map(|step| step.work).collect();
    assert!(works.is_sorted(), "{works:?}");
    for work in [Work::Hole, Work::Link, Work::Bar, Work::Fuel, Work::Toe, Work::Pressure, Work::Bias] {
        assert!(works.contains(&work), "{work:?} of {works:?}");
    }
    assert!(
        !works.contains(&Work::Spring) && !works.contains(&Work::Camber),
        "what stays is no job: {works:?}"
    );
    let words: Vec<&str> = there.iter().map(|step| step.words.as_str()).collect();
    assert!(words.contains(&"rear lower-fore body: from hole C to hole A"), "{words:#?}");
    let back = steps(cones, circuit, &car.units);
    assert_eq!(back.len(), there.len());
    // What is made longer on the way there is made as much shorter on the way back.
    let turns = |words: &str| {
        let mut parts = words.split(' ');
        let at = parts.position(|word| word == "turns")?;
        let number: f64 = words.split(' ').nth(at - 1)?.parse().ok()?;
        Some(if words.contains("longer") { number } else { -number })
    };
    let sum = |steps: &[study::Step]| steps.iter().filter_map(|s| turns(&s.words)).sum::<f64>();
    assert!(sum(&there) != 0.0 && (sum(&there) + sum(&back)).abs() < 1e-9);
}

#[test]
fn a_card_shows_toe_in_degrees_and_across_the_rim() {
    let car = demo();
    let circuit = card(&car, Some("circuit")).unwrap();
    let value = |work: Work, what: &str| {
        let item =
            circuit.items.iter().find(|item| item.work == work && item.what.starts_with(what)).unwrap();
        item.value(&car.units)
    };
    // sin(0.1 deg) x 381 mm = 0.665 mm, by hand.
    assert_eq!(value(Work::Toe, "rear"), "0.10 deg in, 0.66 mm in across the 381 mm rim");
    assert_eq!(value(Work::Bar, "rear"), "solid 16 mm, 820 mm long, arm 190 mm");
    assert!(value(Work::RideHeight, "rear").starts_with("164.0 mm, at: underside of the sill"));
    assert!(card(&car, Some("nowhere")).is_none());
    assert_eq!(card(&car, None).unwrap().name, "as drawn");
}

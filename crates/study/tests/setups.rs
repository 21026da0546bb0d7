//! Setups that change more than holes, as rows of the choice table.
#![expect(clippy::panic, clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use project::model::{Car, End};
use study::{Choice, Estimate, InStop, Quantity, Row, Subject, balance, choose, settle};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

/// The demo with these setups beside its own.
fn car(setups: &str) -> Car {
    let mut car = project::read(&WHOLE.replace("[choose]", &format!("{setups}\n[choose]"))).car.unwrap();
    settle(&mut car);
    car
}

fn table(car: &Car) -> Choice {
    choose(&Subject::new(car, End::Rear).unwrap(), &[], &[], |_, _| {}).unwrap()
}

fn row<'a>(choice: &'a Choice, name: &str, with: Option<&str>) -> &'a Row {
    let found = |row: &&Row| row.candidate.name == name && row.candidate.with.as_deref() == with;
    choice.rows.iter().find(found).unwrap_or_else(|| panic!("no row {name} with {with:?}"))
}

fn value<'a>(choice: &Choice, row: &'a Row, quantity: Quantity) -> &'a Estimate {
    let column = choice.columns.iter().position(|c| c.quantity == quantity).unwrap();
    row.values[column].as_ref().unwrap()
}

/// A pressure is for the card alone: every figure is that of the same hole, and what is uncertain is the same too.
#[test]
fn a_setup_that_changes_nothing_that_counts_is_the_same_car() {
    let car =
        car("[setup.card]\ntyre.pressure = \"1.7 bar\"\nholes = { \"rear.link.lower-fore.body\" = \"B\" }");
    let choice = table(&car);
    let (plain, card) = (row(&choice, "B", None), row(&choice, "B", Some("card")));
    for (a, b) in plain.values.iter().zip(&card.values) {
        let (difference, doubt) = a.as_ref().unwrap().difference(b.as_ref().unwrap());
        assert_eq!((difference, doubt), (0.0, 0.0));
    }
    assert!(
        card.notes[0].contains("setup card also changes tyre.pressure (2.1 bar to 1.7 bar)"),
        "{:?}",
        card.notes
    );
}

/// What both rows share cancels in their difference; a bar and a bias of its own do not.
#[test]
fn a_setups_own_figures_move_its_own_row() {
    let car =
        car("[setup.rearward]\npedal.bias = \"48 %\"\nholes = { \"rear.link.lower-fore.body\" = \"B\" }");
    let choice = table(&car);
    let (plain, own) = (row(&choice, "B", None), row(&choice, "B", Some("rearward")));
    let reserve = Quantity::InStop(InStop::Reserve);
    let (a, b) = (value(&choice, plain, reserve), value(&choice, own, reserve));
    // More of the braking at the rear leaves the rear axle less.
    assert!(b.value < a.value - 0.01, "{} {}", a.value, b.value);
    let (_, doubt) = b.difference(a);
    assert!(doubt < 0.6 * a.uncertainty().hypot(b.uncertainty()), "{doubt}");
    // What a bias cannot touch.
    let (difference, doubt) =
        value(&choice, own, Quantity::RollCentre).difference(value(&choice, plain, Quantity::RollCentre));
    assert_eq!((difference, doubt), (0.0, 0.0));
    assert!(!choice.rows[1].notes.iter().any(|n| n.contains("also changes")));
}

/// A stiffer rear bar takes load transfer to the rear, so the car understeers less (W. Milliken & D. Milliken, Race Car
/// Vehicle Dynamics, 1995, ch. 18, remembered); an unhooked one the other way.
#[test]
fn bars_of_setups_reach_the_stage_balance() {
    let car = car("[setup.stiff]\nrear.bar.diameter = 22\n[setup.none]\nrear.bar.unhooked = true");
    let share = |name: Option<&str>| {
        let stage = balance(car.with_setup(name), &[]);
        let (_, finding) = stage.find("roll-stiffness-share").unwrap();
        finding.cells[0].estimate.as_ref().unwrap().value
    };
    assert!(share(Some("stiff")) < share(None) && share(None) < share(Some("none")));
}

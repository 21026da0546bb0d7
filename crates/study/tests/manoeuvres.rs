//! The manoeuvres of every choice: they agree with the stages that work in other ways, tell what cannot be driven, and know
//! a difference only where there is one.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

use std::sync::atomic::AtomicBool;

use project::model::Car;
use study::{Estimate, Stage, Way};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

fn car(more: &str) -> Car {
    let mut car = project::read(&format!("{WHOLE}\n{more}")).car.unwrap();
    study::settle(&mut car);
    car
}

fn run(car: &Car, draws: usize) -> Stage {
    study::manoeuvres(car, &[], draws, &Way::default())
}

fn row(stage: &Stage, key: &str) -> Vec<Estimate> {
    let (_, row) = stage.find(key).unwrap_or_else(|| unreachable!("no {key}"));
    row.cells.iter().map(|c| c.estimate.clone().unwrap()).collect()
}

/// The stop's mean deceleration is the stated one but for its onset; its pitch that of the stop as it unfolds in the plane of
/// pitch; the slopes of the steady turn are those of the balance by formulas, which know no linkage steer and take one rate:
/// near, not alike.
#[test]
fn they_agree_with_the_other_stages() {
    let car = car("");
    let stage = run(&car, 0);
    assert!(stage.lacks.is_empty(), "{:?}", stage.lacks);
    let greatest = row(&stage, "manoeuvre-greatest")[0].value;
    assert!((greatest / car.stop.deceleration - 1.0).abs() < 0.06, "{greatest}");
    let balance = study::balance(&car, &[]);
    let (_, roll) = balance.find("roll-gradient").unwrap();
    let roll = roll.cells.iter().find_map(|c| c.estimate.as_ref()).unwrap().value;
    let own = row(&stage, "turn-roll")[0].value;
    assert!((own / roll - 1.0).abs() < 0.15, "{own} {roll}");
    // A car on its tyres alone would sit near an end's friction: the demo's is 1.1 to 1.2.
    let most = row(&stage, "turn-most")[0].value;
    assert!((9.0..12.5).contains(&most), "{most}");
}

/// More anti-lift at the rear keeps the tail down: pitch and rear load in the order that the choice table has of the holes.
#[test]
fn holes_come_in_the_order_of_their_anti_features() {
    let car = car("");
    let stage = run(&car, 0);
    let pitch: Vec<f64> = row(&stage, "manoeuvre-pitch").iter().map(|e| e.value).collect();
    let subject = study::Subject::new(&car, project::model::End::Rear).unwrap();
    let table = study::choose(&subject, &[], &car.choose.travels, |_, _| {}).unwrap();
    let column = table.columns.iter().position(|c| c.quantity == study::Quantity::AntiBraking).unwrap();
    let anti: Vec<f64> = table
        .rows
        .iter()
        .filter(|r| r.candidate.with.is_none())
        .map(|r| r.values[column].as_ref().unwrap().value)
        .collect();
    let mut order: Vec<usize> = (0..anti.len()).collect();
    order.sort_by(|a, b| anti[*a].total_cmp(&anti[*b]));
    for pair in order.windows(2) {
        assert!(pitch[pair[1]] <= pitch[pair[0]] + 1e-4, "{anti:?} {pitch:?}");
    }
}

#[test]
fn samples_give_each_figure_its_doubt() {
    let stage = run(&car(""), 6);
    let ratios = row(&stage, "braked-yaw");
    assert!(ratios.iter().all(|r| r.contributions.len() == 6 && r.uncertainty() > 0.0));
    // What all choices share cancels in their difference.
    let (_, apart) = ratios[2].difference(&ratios[0]);
    assert!(apart < 0.5 * ratios[0].uncertainty(), "{apart}");
    // As drawn is hole A but for its own survey error: no difference.
    let (by, apart) = ratios[1].difference(&ratios[0]);
    assert!(by.abs() < 1e-6 && apart < 0.2 * ratios[0].uncertainty(), "{by} {apart}");
    let words: String = stage.groups.iter().flat_map(|g| &g.words).cloned().collect();
    assert!(words.contains("does not tell A"), "{words}");
    assert_eq!(stage.charts.len(), 5);
    assert!(
        stage
            .charts
            .iter()
            .flat_map(|c| &c.series)
            .flat_map(|s| &s.points)
            .all(|p| p.0.is_finite() && p.1.is_finite())
    );
}

#[test]
fn what_is_asked_is_driven_and_what_cannot_be_is_told() {
    let hard = car(
        "[manoeuvre]\nturn-radius = 60\nturn-acceleration = 0.6\nbrakes = [0.3]\nstep-speed = 70\nstep-acceleration = 1.8",
    );
    let stage = run(&hard, 0);
    assert!(
        stage.groups[1].title.starts_with("Brakes in a turn: 60 m radius, 0.60 g"),
        "{}",
        stage.groups[1].title
    );
    let (_, step) = stage.find("step-rise").unwrap();
    assert!(
        step.cells[0].estimate.is_none()
            && step.cells[0].outside.as_ref().unwrap().contains("no steady motion")
    );
    let mut bare = car("");
    if let Some(axle) = &mut bare.rear {
        axle.dampers.clear();
    }
    assert!(run(&bare, 0).lacks[0].what.contains("rear dampers"));
    let stop = AtomicBool::new(true);
    let none = study::manoeuvres(&car(""), &[], 4, &Way { stop: &stop, ..Way::default() });
    assert!(none.lacks[0].what.contains("stopped"));
}

/// A setup that lacks a figure is told; the others stand, each under its own name.
#[test]
fn one_choice_that_cannot_be_driven_leaves_the_others() {
    let mut lame = car("");
    let names = run(&lame, 0).groups[0].columns.clone();
    let setup = lame.setups.iter_mut().find(|s| s.name == "cones").unwrap();
    if let Some(axle) = &mut std::sync::Arc::make_mut(setup.car.as_mut().unwrap()).rear {
        axle.dampers.clear();
    }
    let stage = run(&lame, 2);
    assert!(stage.lacks[0].what.starts_with("setup cones: the rear dampers"), "{:?}", stage.lacks);
    let left: Vec<String> = names.into_iter().filter(|name| name != "setup cones").collect();
    assert_eq!(stage.groups[0].columns, left);
    assert!(row(&stage, "braked-yaw").iter().all(|r| r.contributions.len() == 2));
}

/// A car that is written in inches reads of miles and feet.
#[test]
fn titles_are_in_the_file_s_units() {
    let mut car = car("");
    car.units.length = units::LengthUnit::Inch;
    let titles: Vec<String> = run(&car, 0).groups.into_iter().map(|g| g.title).collect();
    assert!(titles[0].starts_with("Straight stop: from 118 mph"), "{titles:?}");
    assert!(titles[1].contains("328 ft radius") && titles[3].contains("328 ft"), "{titles:?}");
}

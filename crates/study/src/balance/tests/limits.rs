//! Limits that the stage must meet, and agreement with `vehicle`'s own figures.

use vehicle::balance::{roll_stiffness_from_springs, with_tyres};

use super::super::charts::slip_angles;
use super::super::{Asked, Case, asked};
use super::*;
use crate::whole::WholeCar;

fn case_of<R>(car: &Car, look: impl FnOnce(&Case<'_>) -> R) -> R {
    let whole_car = WholeCar::new(car).unwrap();
    let whole = whole_car.at(&[]).unwrap();
    let asked: Asked = asked(&whole, car);
    look(&Case { car: &whole_car, holes: &[], whole: &whole, asked })
}

/// Without bars the share is that of the springs, tyres in series (own).
#[test]
fn without_bars_the_springs_share() {
    let stage = without(|car| {
        car.front.as_mut().unwrap().bar = None;
        car.rear.as_mut().unwrap().bar = None;
    });
    assert!(stage.find("bar-end-rate").is_none());
    assert_eq!(value(&stage, "roll-stiffness-bar", 0), 0.0);
    let tracks = case_of(&fixture::whole(), |case| {
        case.whole.axles.each_ref().map(|axle| 2.0 * axle.measures.contact.y)
    });
    let one = |i: usize, tyre: f64| {
        with_tyres(roll_stiffness_from_springs(value(&stage, "corner-rate", i), tracks[i]), tyre, tracks[i])
    };
    let (front, rear) = (one(0, 212e3), one(1, 212e3));
    assert!((value(&stage, "roll-stiffness-share", 0) - front / (front + rear)).abs() < 1e-12);
    // Freeing has no bars to offer.
    assert!(stage.find("frees-below-front-bar-off").is_none());
    assert!(stage.find("frees-below-front-springs-softer").is_some());
}

/// Friction that does not fall with load: both axles let go at mu g, and no load transfer frees anything at the limit
/// (limit, own).
#[test]
fn even_friction_is_neutral_at_the_limit() {
    use project::model::TyreModel;
    let stage = without(|car| {
        for axle in [car.front.as_mut().unwrap(), car.rear.as_mut().unwrap()] {
            if let Some(TyreModel::Simple(tyre)) = axle.tyre.as_mut().map(|tyre| &mut tyre.model) {
                tyre.load_sensitivity = fixture::v(0.0, 0.0);
            }
        }
    });
    for column in 0..2 {
        assert!((value(&stage, "lateral-limit", column) / (1.25 * vehicle::GRAVITY) - 1.0).abs() < 1e-9);
    }
    let (_, first) = stage.find("gives-up-first").unwrap();
    assert_eq!(first.cells[2].word.as_deref(), Some("both"));
    assert!(value(&stage, "frees-at-limit-front-bar-off", 2).abs() < 1e-9);
    assert!((value(&stage, "frees-at-limit-front-grip-more", 2) - 0.05).abs() < 1e-9);
}

/// Tyres whose stiffness goes in proportion to load are neutral, wherever the weight is (limit, own): far below the
/// stiffest load, `C ~ load`.
#[test]
fn stiffness_in_proportion_to_load_is_neutral() {
    use project::model::TyreModel;
    let stage = without(|car| {
        for axle in [car.front.as_mut().unwrap(), car.rear.as_mut().unwrap()] {
            if let Some(TyreModel::Simple(tyre)) = axle.tyre.as_mut().map(|tyre| &mut tyre.model) {
                tyre.stiffest_load = fixture::v(1e8, 0.0);
            }
        }
    });
    assert!(value(&stage, "understeer", 0).abs() < 1e-9);
    assert!(value(&stage, "static-margin", 0).abs() < 1e-7);
}

/// The three parts and both axles add up; shares to one; moments about the road balance (invariants).
#[test]
fn load_transfer_adds_up() {
    let stage = balance(&fixture::whole(), &[]);
    for column in 0..3 {
        let parts = ["moved-geometric", "moved-elastic", "moved-unsprung"];
        let sum: f64 = parts.iter().map(|key| value(&stage, key, column)).sum();
        assert!((sum / value(&stage, "moved", column) - 1.0).abs() < 1e-12);
    }
    assert!((value(&stage, "moved-share", 0) + value(&stage, "moved-share", 1) - 1.0).abs() < 1e-12);
    case_of(&fixture::whole(), |case| {
        let rolling = case.whole.rolling().unwrap();
        let t = rolling.at(case.asked.lateral).unwrap();
        let moved = t.front.total() * rolling.front.track + t.rear.total() * rolling.rear.track;
        let loads = case.whole.loads;
        let lean = rolling.sprung_mass * vehicle::GRAVITY * rolling.roll_lever() * t.roll;
        let overturning = loads.mass * case.asked.lateral * loads.height + lean;
        assert!((moved / overturning - 1.0).abs() < 1e-9, "{moved} {overturning}");
        // A wheel lifts where its axle has moved half its load.
        let lifts = value(&stage, "lifts-at", 1);
        let at_lift = rolling.at(lifts).unwrap().rear.total();
        let mass = rolling.sprung_mass * (1.0 - rolling.front_share) + rolling.rear.unsprung_mass;
        assert!((at_lift / (0.5 * mass * vehicle::GRAVITY) - 1.0).abs() < 1e-9);
    });
}

/// The chart of the steering starts with the gradient of the table, and ends where an axle lets go (invariants). Its
/// slope differs by the wheel centres' and contact points' places, which the axle loads take apart: below a tenth of a
/// per cent of either axle's part.
#[test]
fn the_chart_starts_with_the_gradient() {
    let stage = balance(&fixture::whole(), &[]);
    let gradient = value(&stage, "understeer", 0);
    case_of(&fixture::whole(), |case| {
        let rolling = case.whole.rolling().unwrap();
        let [front, rear] = slip_angles(case, &rolling, 1e-3).unwrap();
        assert!(((front - rear) / 1e-3 - gradient).abs() < 1e-3 * front / 1e-3, "{front} {rear}");
        let turn = value(&stage, "understeer-in-turn", 0);
        let car = case.whole.cornering(&rolling).unwrap();
        assert_eq!(turn, car.understeer_gradient(case.asked.lateral).unwrap());
        let limit = car.limit().unwrap();
        let lower = limit.front.min(limit.rear);
        assert!(slip_angles(case, &rolling, 0.999 * lower).is_some());
        assert!(slip_angles(case, &rolling, 1.001 * lower).is_none());
    });
    let use_at_end = stage.charts[1].series.iter().map(|curve| curve.points.last().unwrap().1);
    assert!((use_at_end.fold(0.0, f64::max) - 0.98).abs() < 0.01);
}

/// The map's first row is the response's steady state: a margin that the air and the drive shift little; with brakes it
/// falls (W. Milliken & D. Milliken (1995), ch. 8, remembered: braking takes stability).
#[test]
fn brakes_take_stability() {
    let stage = balance(&fixture::whole(), &[]);
    let map = &stage.maps[0];
    assert_eq!(map.values.len(), map.xs.len() * map.ys.len());
    let at = |row: usize, column: usize| map.values[row * map.xs.len() + column];
    let (still, braking) = (at(0, 8).unwrap(), at(8, 8).unwrap());
    assert!(braking < still, "{still} {braking}");
    assert!((at(0, 0).unwrap() - value(&stage, "static-margin", 0)).abs() < 0.02);
    let reserve = &stage.maps[1];
    assert!(reserve.values[0].unwrap() > 0.99);
    assert!(reserve.values.iter().flatten().all(|v| (0.0..=1.0).contains(v)));
}

/// Brakes too weak for a deceleration leave the map blank there (limit).
#[test]
fn weak_brakes_leave_blanks() {
    use project::model::TorqueMaker;
    let stage = without(|car| {
        car.pedal = Some(project::model::PedalReading {
            ratio: fixture::v(5.0, 0.0),
            efficiency: fixture::v(0.9, 0.0),
            masters: project::model::Masters::Tandem(fixture::v(0.0222, 0.0)),
            valve: None,
            span: 0..0,
        });
        for axle in [car.front.as_mut().unwrap(), car.rear.as_mut().unwrap()] {
            axle.brake.as_mut().unwrap().maker = TorqueMaker::Measured(fixture::v(2e-5, 0.0));
        }
    });
    let map = &stage.maps[0];
    assert!(map.values[0].is_some(), "{:?}", stage.lacks);
    assert!(map.values.last().unwrap().is_none());
}

/// Sizes: the present diameter at the present rate, and what a larger one does is what the freeing says (own).
#[test]
fn sizes_of_the_bar() {
    use project::model::BarReading;
    let stage = without(|car| {
        if let Some(BarReading::Made { bore, .. }) = &mut car.rear.as_mut().unwrap().bar {
            bore.value = 0.010;
        }
    });
    let present = 2;
    assert!((value(&stage, "sized-solid", present) - 0.020).abs() < 1e-9);
    assert!(value(&stage, "sized-balance", present).abs() < 1e-9);
    assert!((value(&stage, "sized-stress", present) / value(&stage, "bar-stress", 0) - 1.0).abs() < 1e-9);
    assert!(value(&stage, "sized-tube", present) > 0.020);
    // Half as stiff again: a tenth in diameter, for the fourth power (arms and torsion alike).
    let tenth = value(&stage, "sized-solid", 4) / 0.020;
    assert!((tenth - 1.5f64.powf(0.25)).abs() < 1e-6, "{tenth}");
    let rear = stage.groups.iter().filter(|g| g.title.contains("Sizes")).nth(1).unwrap();
    let tube = rear.rows.iter().find(|row| row.key == "sized-tube").unwrap();
    assert!((tube.cells[present].estimate.as_ref().unwrap().value - 0.016).abs() < 1e-9);
}

/// Other holes: four in the file, none of them in use, for the place in use is hole A itself.
#[test]
fn other_holes() {
    let stage = balance(&fixture::whole(), &[]);
    let (group, finding) = stage.find("hole-rear-roll-centre").unwrap();
    assert_eq!(group.columns.len(), 3, "{:?}", group.columns);
    // As the choice table has it: the roll centre with hole B in use.
    let other = balance(&fixture::whole(), &[(project::model::End::Rear, 1)]);
    let change = value(&other, "roll-axis", 1) - value(&stage, "roll-axis", 1);
    assert!((finding.cells[0].estimate.as_ref().unwrap().value - change).abs() < 1e-12);
    assert!(finding.cells.iter().any(|cell| cell.estimate.as_ref().unwrap().value.abs() > 1e-5));
}

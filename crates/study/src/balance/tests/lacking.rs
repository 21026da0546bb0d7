//! Cars that lack one thing: the stage still comes, says what is missing, and keeps what does not need it.

use project::model::{Axle, BarReading, Car};

use super::*;

/// Takes something away; what must be named among the lacks, a row that must stay, and one that must go.
type Row = (&'static str, fn(&mut Car), &'static str, Option<&'static str>, Option<&'static str>);

fn rear(car: &mut Car) -> &mut Axle {
    car.rear.as_mut().unwrap()
}

fn front(car: &mut Car) -> &mut Axle {
    car.front.as_mut().unwrap()
}

#[test]
fn one_thing_at_a_time() {
    let rows: [Row; 15] = [
        ("weights", |c| c.weigh = None, "weigh", None, Some("ride-frequency")),
        ("front axle", |c| c.front = None, "front", None, Some("ride-frequency")),
        ("rear axle", |c| c.rear = None, "rear", None, Some("ride-frequency")),
        ("front tyres", |c| front(c).tyre = None, "front tyres", Some("roll-axis"), Some("understeer")),
        ("rear tyres", |c| rear(c).tyre = None, "rear tyres", Some("ride-frequency"), Some("lateral-limit")),
        (
            "tyre rate",
            |c| rear(c).tyre.as_mut().unwrap().vertical_rate = None,
            "vertical rate",
            Some("ride-frequency"),
            Some("lateral-limit"),
        ),
        ("front springs", |c| front(c).springs.clear(), "front springs", Some("understeer"), Some("moved")),
        ("rear springs", |c| rear(c).springs.clear(), "rear springs", Some("yaw-rise"), Some("moved")),
        ("dampers", |c| front(c).dampers.clear(), "front dampers", Some("ride-frequency"), None),
        ("bar", |c| front(c).bar = None, "no bar", Some("bar-end-rate"), None),
        (
            "bar sizes",
            |c| rear(c).bar = Some(BarReading::Rate { rate: fixture::v(12_000.0, 500.0), span: 0..0 }),
            "sizes of the rear bar",
            Some("sized-solid"),
            None,
        ),
        (
            "brakes",
            |c| {
                c.brake_front_share = None;
                rear(c).brake = None;
            },
            "brakes share",
            Some("yaw-rise"),
            None,
        ),
        (
            "unsprung mass",
            |c| c.weigh.as_mut().unwrap().front.unsprung = None,
            "unsprung mass",
            None,
            Some("understeer"),
        ),
        (
            "above the ground",
            |c| {
                c.weigh.as_mut().unwrap().raised = None;
                c.weigh.as_mut().unwrap().stated_height = None;
                c.cg_height = None;
            },
            "above the ground",
            None,
            Some("understeer"),
        ),
        (
            "bar link",
            |c| {
                use suspension::scheme::ElementRole;
                rear(c).scheme.elements.retain(|e| e.role != ElementRole::BarLink);
            },
            "no link",
            Some("roll-gradient"),
            None,
        ),
    ];
    for (what, take, named, stays, goes) in rows {
        let stage = without(take);
        let lacks: Vec<_> = stage.lacks.iter().map(|lack| lack.what.as_str()).collect();
        assert!(lacks.iter().any(|lack| lack.contains(named)), "{what}: {lacks:?}");
        assert!(stage.lacks.iter().all(|lack| !lack.hint.is_empty()), "{what}");
        if let Some(key) = stays {
            assert!(stage.find(key).is_some(), "{what}: `{key}` is gone; {lacks:?}");
        }
        if let Some(key) = goes {
            assert!(stage.find(key).is_none(), "{what}: `{key}` is still there");
        }
    }
}

/// Figures that no car has are told, and nothing breaks.
#[test]
fn absurd_figures() {
    let takes: [fn(&mut Car); 7] = [
        |c| front(c).springs[0].rate.value = -1.0,
        |c| front(c).springs[0].rate.value = f64::NAN,
        |c| rear(c).springs[0].rate.value = 1.0,
        |c| rear(c).tyre.as_mut().unwrap().vertical_rate = Some(fixture::v(0.0, 0.0)),
        |c| {
            if let Some(BarReading::Made { bore, .. }) = &mut rear(c).bar {
                bore.value = 1.0;
            }
        },
        |c| c.brake_front_share = Some(fixture::v(7.0, 0.0)),
        |c| c.stop.from = 500.0,
    ];
    for (number, take) in takes.into_iter().enumerate() {
        let mut car = fixture::whole();
        take(&mut car);
        if number == 5 {
            rear(&mut car).brake = None;
        }
        let stage = balance(&car, &[]);
        assert!(!stage.lacks.is_empty() || number == 2, "{number}");
        let finite = |e: &crate::Estimate| e.value.is_finite() && e.uncertainty().is_finite();
        let cells = stage.groups.iter().flat_map(|g| &g.rows).flat_map(|r| &r.cells);
        assert!(cells.filter_map(|c| c.estimate.as_ref()).all(finite), "{number}");
    }
}

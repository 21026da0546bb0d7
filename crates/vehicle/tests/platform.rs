//! The platform against the textbook formulas that it must become where everything is small, and balances that must
//! hold everywhere.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use common::demo::{self, car, element};
use nalgebra::Vector3;
use suspension::scheme::ElementRole;
use suspension::{AxleEnd, Corner, Mover, TorqueReaction, anti, slope};
use vehicle::GRAVITY;
use vehicle::aero::{Aero, AeroMap};
use vehicle::platform::{Car, Demand, Platform, PlatformError, Rig, Stop};

/// Mass and height of the whole car's centre.
fn whole(car: &Car<'_>) -> (f64, f64, f64) {
    let mut mass = car.sprung;
    let mut moment = car.sprung_centre * car.sprung;
    for rig in &car.axles {
        let mut mover = Mover::new(rig.corner);
        let m = mover.at(0.0, 0.0).expect("ride height");
        mass += 2.0 * rig.unsprung;
        moment += Vector3::new(m.centre.x, 0.0, m.centre.z) * (2.0 * rig.unsprung);
    }
    (mass, moment.z / mass, moment.x / mass)
}

fn with_demos(run: impl Fn(&[Corner<f64>; 2])) {
    for name in demo::NAMES {
        run(&demo::corners(name));
    }
}

fn near(a: f64, b: f64, by: f64, what: &str) {
    assert!((a - b).abs() <= by, "{what}: {a} against {b}");
}

#[test]
fn at_rest_it_stands_at_ride_height() {
    with_demos(|corners| {
        let car = car(corners);
        let (mass, _, centre) = whole(&car);
        let mut platform = Platform::new(car).expect("a car");
        let state = platform.solve(&Demand::default()).expect("rest");
        assert_eq!(state.steps, 0);
        let total: f64 = state.wheels.iter().map(|w| w.load).sum();
        near(total, mass * GRAVITY, 1e-6, "weight");
        assert!(state.wheels.iter().all(|w| w.travel.abs() < 1e-12));
        assert!(centre < 0.0);
    });
}

/// Perches turned for another ride height: the body stands there, its air follows, and gently loaded it does what a body
/// drawn there would (invariants, own).
#[test]
fn turned_perches_set_the_ride_height() {
    with_demos(|corners| {
        let car = car(corners);
        let mut platform = Platform::new(car.clone()).expect("a car");
        let rest = platform.solve(&Demand::default()).expect("rest");
        let stands = corners.each_ref().map(|c| Mover::new(c).at(0.0, 0.0).expect("ride height").contact.x);
        for rise in [[0.012, -0.015], [-0.02, -0.02], [0.0, 0.01]] {
            platform.set_ride(rise).expect("a ride height");
            let state = platform.solve(&Demand::default()).expect("rest");
            for i in 0..2 {
                near(state.attitude.rise_at(stands[i]), rise[i], 2e-5, "rise");
                near(state.wheels[2 * i].travel, -rise[i], 1e-3, "travel");
                near(
                    state.wheels[2 * i].load,
                    rest.wheels[2 * i].load,
                    0.01 * rest.wheels[2 * i].load,
                    "load",
                );
            }
        }
        platform.set_ride([0.0; 2]).expect("ride height");
        let back = platform.solve(&Demand::default()).expect("rest");
        assert!((0..4).all(|i| (back.wheels[i].load - rest.wheels[i].load).abs() < 1e-3));
        assert!(matches!(platform.set_ride([0.9, 0.0]), Err(PlatformError::Unreachable { .. })));
    });
}

/// D. C. Barton and J. D. Fieldhouse, Automotive Chassis Engineering (2018), eq. 3.63 and the definition of the
/// anti-features: the links carry their share of `m a h / L`, the springs the rest (formula from memory of T. D.
/// Gillespie, ch. 7, and read in Barton).
#[test]
fn a_gentle_stop_is_the_textbook_s() {
    with_demos(|corners| {
        let car = car(corners);
        let (mass, height, _) = whole(&car);
        let figures = [0, 1].map(|i: usize| {
            let rig = &car.axles[i];
            let mut mover = Mover::new(rig.corner);
            let m = mover.at(0.0, 0.0).expect("ride height");
            let spring = rig.springs[0];
            let r = mover.ratio(spring.0).expect("a ratio");
            (m, r, spring.1.rate)
        });
        let length = figures[0].0.contact.x - figures[1].0.contact.x;
        let mut platform = Platform::new(car.clone()).expect("a car");
        let rest = platform.solve(&Demand::default()).expect("rest");
        // Small enough that what bends stays away, large enough to stay above rounding.
        let pull = -1e-4;
        let state = platform.solve(&Demand { along: pull, ..Demand::default() }).expect("a stop");
        let moved = mass * -pull * height / length;
        let per = |i: usize| (state.wheels[i].load - rest.wheels[i].load) / moved * 2.0;
        near(per(0), per(1), 1e-9, "left and right");
        // The textbook's car does not pitch: on springs a thousand times as stiff this one hardly does.
        let mut stiff = car.clone();
        for rig in &mut stiff.axles {
            rig.tyre_rate *= 1e3;
            rig.springs[0].1.rate *= 1e3;
        }
        let mut platform = Platform::new(stiff).expect("a car");
        let hard = platform.solve(&Demand { along: pull, ..Demand::default() }).expect("a stop");
        near((hard.wheels[0].load - rest.wheels[0].load) / moved * 2.0, 1.0, 1e-4, "load on the front tyres");
        near((hard.wheels[2].load - rest.wheels[2].load) / moved * 2.0, -1.0, 1e-4, "load on the rear tyres");
        for (i, end) in [(0, AxleEnd::Front), (2, AxleEnd::Rear)] {
            let (m, r, rate) = &figures[i / 2];
            let share = if i == 0 { 0.64 } else { 0.36 };
            let anti = anti(share, slope(m, end, TorqueReaction::Upright), length, height);
            let spring = (per(i) - anti * if i == 0 { 1.0 } else { -1.0 }) * moved / 2.0;
            // Load x v_z of the contact point = spring work: the wheel's travel is that of the springs' share. The
            // unsprung mass is braked by the road, not by the body, and its weight is not transferred: a term of its
            // own, `m_u a v_x` of the centre against the same at the contact point.
            let wheel_rate = rate * r.ratio * r.ratio + platform_preload(&rest, i, r.ratio) * r.ratio_rate
                - load_geometry(rest.wheels[i].load, &car.axles[i / 2], m);
            let own = car.axles[i / 2].unsprung * -pull * m.centre_velocity.x;
            // The road leans against the body by the pitch, and the standing load with it; its line goes through the
            // wheel centre all the same. So does the wheel's own weight.
            let standing = rest.wheels[i].load - car.axles[i / 2].unsprung * GRAVITY;
            let lean = -state.attitude.pitch * standing * m.centre_velocity.x;
            let expected = (spring * m.contact_velocity.z + own + lean) / wheel_rate;
            let travel = state.wheels[i].travel;
            near(travel / expected, 1.0, 2e-3, &format!("travel of wheel {i}: anti {anti:.3}"));
        }
    });
}

/// Force of the spring at ride height.
fn platform_preload(rest: &vehicle::platform::State, i: usize, ratio: f64) -> f64 {
    rest.wheels[i].carried / ratio
}

/// Change per travel of the work that a standing load does: the contact point's vertical velocity changes on the way.
fn load_geometry(load: f64, rig: &Rig<'_>, _: &suspension::Measures<f64>) -> f64 {
    let step = 1e-5;
    let at = |t: f64| {
        let mut mover = Mover::new(rig.corner);
        let m = mover.at(t, 0.0).expect("near ride height");
        load * m.contact_velocity.z
    };
    (at(step) - at(-step)) / (2.0 * step)
}

/// Lateral load transfer of both axles together is `m a h / t` where the tracks are equal (D. C. Barton and J. D.
/// Fieldhouse, p. 174: the sum of the geometric, elastic and unsprung parts).
#[test]
fn a_gentle_turn_moves_m_a_h() {
    with_demos(|corners| {
        let car = car(corners);
        let (mass, height, _) = whole(&car);
        let tracks = [&car.axles[0], &car.axles[1]]
            .map(|rig| 2.0 * Mover::new(rig.corner).at(0.0, 0.0).expect("ride height").contact.y);
        let mut platform = Platform::new(car).expect("a car");
        let rest = platform.solve(&Demand::default()).expect("rest");
        let pull = 1e-4;
        let state = platform.solve(&Demand { across: pull, ..Demand::default() }).expect("a turn");
        let moment: f64 = [0, 1, 2, 3]
            .map(|i: usize| {
                let more = state.wheels[i].load - rest.wheels[i].load;
                more * tracks[i / 2] / 2.0 * if i.is_multiple_of(2) { -1.0 } else { 1.0 }
            })
            .iter()
            .sum();
        // To the left: the right wheels are pressed. What the body's lean adds is the weight's own overturning moment.
        let asked = mass * pull * height;
        let lean = mass * GRAVITY * height * state.attitude.roll.abs();
        assert!(
            asked <= moment && moment <= asked + 1.2 * lean,
            "{moment} against {asked} to {}",
            asked + lean
        );
        assert!(state.attitude.roll > 0.0, "right side down");
    });
}

#[test]
fn hard_manoeuvres_balance() {
    with_demos(|corners| {
        let mut car = car(corners);
        let rest = Aero { density: 1.2, drag_area: 0.7, drag_height: 0.5, front_area: 0.3, rear_area: 0.5 };
        car.air =
            Some(AeroMap { front_per_rise: [-1.0, 0.0], rear_per_rise: [0.0, -1.0], ..AeroMap::from(rest) });
        for rig in &mut car.axles {
            if let Some(damper) = element(rig.corner, ElementRole::Damper) {
                rig.stops.push((damper, Stop { gap: 0.03, rate: 60e3, rise: 4e6 }));
            }
        }
        let (mass, ..) = whole(&car);
        let mut platform = Platform::new(car.clone()).expect("a car");
        let mut most = 0;
        for (speed, along, across) in
            [(20.0, -9.0, 0.0), (60.0, -11.0, 1.0), (30.0, 4.0, 0.0), (25.0, 0.0, 8.0), (40.0, -5.0, -7.0)]
        {
            let demand = Demand { speed, along, across, rack: 0.0 };
            let state = match platform.solve(&demand) {
                Ok(state) => state,
                Err(PlatformError::Lifts { .. }) => continue,
                Err(e) => unreachable!("{demand:?}: {e}"),
            };
            most = most.max(state.steps);
            let sum =
                |f: &dyn Fn(&vehicle::platform::WheelState) -> f64| state.wheels.iter().map(f).sum::<f64>();
            near(sum(&|w| w.load), mass * GRAVITY + state.air.front + state.air.rear, 1e-4, "up");
            near(sum(&|w| w.along), mass * along + state.air.drag, 1e-4, "along");
            near(sum(&|w| w.across), mass * across, 1e-4, "across");
            // The mirror of the demand is the mirror of the state.
            let mirrored = Platform::new(car.clone())
                .and_then(|mut p| p.solve(&Demand { across: -across, ..demand }))
                .expect("the mirror image");
            for (i, wheel) in state.wheels.iter().enumerate() {
                near(wheel.load, mirrored.wheels[i ^ 1].load, 1e-3, "mirror image");
                near(wheel.travel, mirrored.wheels[i ^ 1].travel, 1e-8, "mirror image");
            }
        }
        assert!((2..=6).contains(&most), "{most} looks at the linkages");
    });
}

#[test]
fn cars_that_cannot_be_are_told() {
    let corners = demo::corners("plover");
    let refuse = |change: &dyn Fn(&mut Car<'_>)| {
        let mut car = car(&corners);
        change(&mut car);
        Platform::new(car).err().map(|e| e.to_string()).expect("refused")
    };
    assert!(refuse(&|c| c.sprung = -1.0).contains("sprung mass"));
    assert!(refuse(&|c| c.sprung_centre.x = -4.0).contains("not between the axles"));
    assert!(refuse(&|c| c.axles[1].tyre_rate = f64::NAN).contains("tyre rate"));
    assert!(refuse(&|c| c.axles[0].springs.clear()).contains("no spring"));
    assert!(refuse(&|c| c.brake_front = 1.4).contains("front share"));
    let mut platform = Platform::new(car(&corners)).expect("a car");
    let lifted = platform.solve(&Demand { across: 30.0, ..Demand::default() });
    assert!(lifted.is_err(), "{lifted:?}");
    assert!(platform.solve(&Demand::default()).is_ok(), "and it stands again");
}

//! What a map or a choice table calls thousands of times allocates nothing.

mod common;

use allocation_counter::measure;
use common::{reference, tyres};
use vehicle::aero::Aero;
use vehicle::balance::TrimCar;
use vehicle::brake::{Effort, Grip, StoppingCar};
use vehicle::platform::{Demand, Platform};
use vehicle::tyre::Slip;

#[test]
fn nothing_is_allocated() {
    let t = tyres::magic();
    let aero = Aero { density: 1.2, drag_area: 0.8, drag_height: 0.5, front_area: 0.4, rear_area: 0.9 };
    let car = StoppingCar { mass: 1100.0, wheelbase: 2.5, cg_behind_front: 1.25, cg_height: 0.45, aero };
    let grip = Grip::Tyres { front: &t, rear: &t };
    let trim = TrimCar {
        car: &car,
        yaw_inertia: 1400.0,
        front: &t,
        rear: &t,
        brakes: Effort::Share(0.62),
        front_drive: 0.0,
    };
    let mut sum = 0.0;
    let used = measure(|| {
        for i in 1..50 {
            let v = f64::from(i);
            sum += t.force(&Slip { kappa: -0.02, alpha: 0.01 * v, inclination: 0.0, load: 100.0 * v }).fy;
            sum += car.first_lock(v, &grip, &Effort::Share(0.62)).unwrap().deceleration;
            sum += trim.at(v, -0.1 * v).unwrap().static_margin;
        }
    });
    assert!(sum.is_finite());
    assert_eq!(used.count_total, 0, "{} bytes in {} allocations", used.bytes_total, used.count_total);
}

/// An equilibrium, from the last one or from rest, where each corner is one body (more than one is more than the linkage
/// moves without allocating).
#[test]
fn an_equilibrium_allocates_nothing() {
    let case = &reference::cases("whole-car")[0];
    let corners = reference::corners(case);
    let mut platform = Platform::new(reference::car(case, &corners)).unwrap();
    let mut sum = 0.0;
    let used = measure(|| {
        for i in 0..20 {
            let pull = 0.3 * f64::from(i);
            sum += platform.solve(&Demand { along: -pull, ..Demand::default() }).unwrap().attitude.pitch;
            sum += platform.solve(&Demand { across: pull, ..Demand::default() }).unwrap().attitude.roll;
            platform.reset();
        }
    });
    assert!(sum > 0.0);
    assert_eq!(used.count_total, 0, "{} bytes in {} allocations", used.bytes_total, used.count_total);
}

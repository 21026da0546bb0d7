//! What a map or a choice table calls thousands of times allocates nothing.

#![expect(clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

use allocation_counter::measure;
use vehicle::aero::Aero;
use vehicle::balance::TrimCar;
use vehicle::brake::{Effort, Grip, StoppingCar};
use vehicle::tyre::{Parameters, Slip, Tyre};

fn tyre() -> Tyre {
    let mut p = Parameters {
        fnomin: 4000.0,
        unloaded_radius: 0.31,
        fzmin: 200.0,
        fzmax: 9000.0,
        ..Parameters::default()
    };
    for (name, value) in [
        ("PCX1", 1.64),
        ("PDX1", 1.17),
        ("PKX1", 22.3),
        ("PCY1", 1.35),
        ("PDY1", 1.05),
        ("PKY1", -21.9),
        ("PKY2", 2.0),
        ("RBX1", 13.3),
        ("RCX1", 1.0),
        ("RBY1", 7.1),
        ("RCY1", 1.0),
    ] {
        p.set(name, value).unwrap();
    }
    Tyre::Magic(Box::new(p))
}

#[test]
fn nothing_is_allocated() {
    let t = tyre();
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

//! Random cars, sound, degenerate and absurd: no call may panic, hang or answer with a number that is none.

use nalgebra::{Matrix3, Vector3};
use vehicle::aero::Aero;
use vehicle::balance::{
    Arms, AxleRoll, Bar, Change, CorneringCar, RideCorner, RollingCar, SingleTrack, TrimCar, effects, map,
    quarter_car,
};
use vehicle::brake::{
    Caliper, CaliperKind, Cooling, Disc, Driver, Effort, Foundation, Grip, Heating, Pad, Phase, Split,
    StopRun, StoppingCar, System, Valve, WheelBrake, curves, locks_together, stop,
};
use vehicle::mass::{
    Entry, Gyration, Held, Level, Lift, Load, Lump, OwnInertia, PerchCorner, Perches, Raised, RaisedReading,
    Springing, Squash, estimate,
};
use vehicle::tyre::{Parameters, SimpleTyre, Slip, SlipConvention, Tyre};
use vehicle::{AxleEnd, Corners, Footprint};

const CARS: usize = 20_000;

/// Fewer where one case costs thousands of evaluations.
const STOPS: usize = 1_000;

struct Dice {
    state: u64,
    /// How often a figure is poisoned: one in this many.
    rarity: usize,
}

impl Dice {
    fn new(seed: u64) -> Self {
        Self { state: seed, rarity: 40 }
    }

    fn unit(&mut self) -> f64 {
        self.state =
            self.state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.state >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.unit() * n as f64) as usize).min(n - 1)
    }

    /// Usually between the two, sometimes poison.
    fn of(&mut self, least: f64, most: f64) -> f64 {
        if self.below(self.rarity) == 0 {
            return [f64::NAN, f64::INFINITY, -1e300, 1e12, -1.0, 5e-324, 0.0, 1e-12, -1e12][self.below(9)];
        }
        least + (most - least) * self.unit()
    }

    fn end(&mut self) -> AxleEnd {
        if self.below(2) == 0 { AxleEnd::Front } else { AxleEnd::Rear }
    }
}

#[track_caller]
fn sound(what: &str, values: &[f64]) {
    assert!(values.iter().all(|v| v.is_finite()), "{what}: {values:?}");
}

fn footprint(d: &mut Dice) -> Footprint<f64> {
    Footprint { wheelbase: d.of(2.0, 3.0), front_track: d.of(1.2, 1.7), rear_track: d.of(1.2, 1.7) }
}

#[test]
fn weighing() {
    let mut d = Dice::new(1);
    let mut solved = 0;
    for _ in 0..CARS {
        let scales = Corners::from_array([0; 4].map(|_| d.of(150.0, 350.0)));
        let level = Level { scales, footprint: footprint(&mut d) };
        if let Ok(r) = level.solve() {
            sound(
                "level",
                &[r.mass, r.x, r.y, r.front_share, r.left_share, r.cross_share, r.rear_left_share],
            );
        }
        let lift = match d.below(3) {
            0 => Lift::Angle(d.of(0.0, 0.4)),
            1 => Lift::Pads(d.of(0.0, 0.8)),
            _ => Lift::Hubs(d.of(0.0, 0.8)),
        };
        let reading = match d.below(3) {
            0 => RaisedReading::Low(d.of(400.0, 700.0)),
            1 => RaisedReading::Raised(d.of(400.0, 700.0)),
            _ => RaisedReading::Both { low: d.of(500.0, 600.0), raised: d.of(400.0, 500.0) },
        };
        let raised = Raised {
            front_mass: d.of(400.0, 600.0),
            rear_mass: d.of(400.0, 600.0),
            wheelbase: d.of(2.0, 3.0),
            front_radius: d.of(0.25, 0.35),
            rear_radius: d.of(0.25, 0.35),
            end: d.end(),
            lift,
            reading,
            held: [Held::None, Held::OneAxle, Held::All][d.below(3)],
            squash: if d.below(2) == 0 {
                Squash::Rigid
            } else {
                Squash::Rates { front: d.of(1e5, 3e5), rear: d.of(1e5, 3e5) }
            },
            springing: if d.below(2) == 0 {
                Springing::Locked
            } else {
                Springing::Free {
                    front_rate: d.of(1e3, 1e5),
                    rear_rate: d.of(1e3, 1e5),
                    front_unsprung: d.of(40.0, 120.0),
                    rear_unsprung: d.of(40.0, 120.0),
                }
            },
        };
        if let Ok(t) = raised.solve() {
            solved += 1;
            sound("height", &[t.height, t.tilt, t.moved, t.low_travel, t.raised_travel]);
        }
    }
    assert!(solved > CARS / 4, "{solved}");
}

#[test]
fn ledgers_and_perches() {
    let mut d = Dice::new(2);
    for _ in 0..CARS {
        let mut car = Lump {
            mass: d.of(500.0, 1500.0),
            centre: Vector3::new(d.of(-2.0, 0.0), d.of(-0.1, 0.1), d.of(0.2, 0.7)),
            inertia: Some(Matrix3::from_diagonal(&Vector3::new(400.0, 1400.0, 1500.0))),
            estimated: false,
        };
        for _ in 0..d.below(5) {
            let load = Load {
                name: "part".into(),
                mass: d.of(0.0, 200.0),
                place: Vector3::new(d.of(-3.0, 1.0), d.of(-0.7, 0.7), d.of(0.1, 1.0)),
                own: match d.below(3) {
                    0 => OwnInertia::Point,
                    1 => OwnInertia::Block(Vector3::new(d.of(0.0, 1.0), d.of(0.0, 1.0), d.of(0.0, 1.0))),
                    _ => OwnInertia::Known(Matrix3::from_fn(|_, _| d.of(-1.0, 5.0))),
                },
            };
            let entry = if d.below(2) == 0 { Entry::In(load) } else { Entry::Out(load) };
            if let Ok(after) = car.after(&entry) {
                car = after;
                if car.centre.iter().all(|c| c.is_finite()) && car.mass.is_finite() {
                    let i = car.inertia.unwrap();
                    sound("ledger", i.as_slice());
                }
            }
        }
        let of = Gyration {
            mass: d.of(500.0, 1500.0),
            front: d.of(0.5, 2.0),
            rear: d.of(0.5, 2.0),
            width: d.of(1.0, 2.0),
            height: d.of(0.5, 1.5),
            index: d.of(0.5, 1.2),
        };
        if let Ok(i) = estimate(&of) {
            sound("estimate", i.as_slice());
        }
        let corner = |d: &mut Dice| PerchCorner {
            wheel_rate: d.of(1e4, 1e5),
            tyre_rate: d.of(1e5, 3e5),
            motion_ratio: d.of(0.4, 1.2),
            pitch: d.of(0.001, 0.003),
        };
        let perches = Perches {
            corners: Corners {
                front_left: corner(&mut d),
                front_right: corner(&mut d),
                rear_left: corner(&mut d),
                rear_right: corner(&mut d),
            },
            footprint: footprint(&mut d),
            front_bar: d.of(0.0, 3e4),
            rear_bar: d.of(0.0, 3e4),
        };
        let present = Corners::from_array([0; 4].map(|_| d.of(200.0, 300.0)));
        let wish = Corners::from_array([0; 4].map(|_| d.of(200.0, 300.0)));
        if let Ok(p) = perches.plan(&present, &wish) {
            sound("plan", &p.turns.to_array());
            sound("plan", &p.single.to_array());
            sound("plan", &p.missed.to_array());
        }
    }
}

fn simple(d: &mut Dice) -> Tyre {
    Tyre::Simple(SimpleTyre {
        nominal_load: d.of(2000.0, 5000.0),
        friction_x: d.of(0.5, 2.0),
        friction_y: d.of(0.5, 2.0),
        load_sensitivity: d.of(0.0, 0.3),
        cornering_stiffness: d.of(2e4, 2e5),
        stiffest_load: d.of(4000.0, 12_000.0),
        slip_stiffness: d.of(2e4, 2e5),
        lateral_rate: d.of(5e4, 3e5),
        vertical_rate: d.of(1e5, 4e5),
        least_load: d.of(0.0, 500.0),
        most_load: d.of(6000.0, 9000.0),
    })
}

fn magic(d: &mut Dice) -> Tyre {
    let mut p = Parameters {
        fnomin: 4000.0,
        unloaded_radius: 0.3,
        fzmin: 200.0,
        fzmax: 9000.0,
        ..Parameters::default()
    };
    for name in Parameters::NAMES.iter().skip(32) {
        let size = [0.1, 1.0, 10.0, 100.0][d.below(4)];
        let _ = p.set(name, d.of(-size, size));
    }
    for (name, least, most) in [
        ("PCX1", 0.8, 1.8),
        ("PDX1", 0.8, 1.5),
        ("PKX1", 10.0, 40.0),
        ("PCY1", 0.8, 1.8),
        ("PDY1", 0.8, 1.5),
        ("PKY2", 1.0, 3.0),
    ] {
        let _ = p.set(name, d.of(least, most));
    }
    let _ = p.set("PKY1", d.of(-40.0, -5.0));
    p.convention = [SlipConvention::Iso, SlipConvention::ReversedSlip, SlipConvention::BookAxes][d.below(3)];
    Tyre::Magic(Box::new(p))
}

fn tyre(d: &mut Dice) -> Tyre {
    if d.below(2) == 0 { simple(d) } else { magic(d) }
}

#[test]
fn tyres() {
    let mut d = Dice { state: 3, rarity: 400 };
    let mut sane = 0;
    for _ in 0..CARS {
        let t = tyre(&mut d);
        if t.check().is_err() {
            continue;
        }
        sane += 1;
        let slip = Slip {
            kappa: d.unit() * 4.0 - 2.0,
            alpha: d.unit() * 3.0 - 1.5,
            inclination: d.unit() - 0.5,
            load: d.unit() * 20_000.0 - 2000.0,
        };
        let f = t.force(&slip);
        sound("force", &[f.fx, f.fy, f.mz.unwrap_or(0.0)]);
        sound(
            "figures",
            &[
                t.cornering_stiffness(slip.load),
                t.slip_stiffness(slip.load),
                t.braking_peak(slip.load).0,
                t.braking_peak(slip.load).1,
                t.lateral_peak(slip.load),
                t.braking_slip(slip.load, 1000.0).unwrap_or(0.0),
                t.stiffness_while_braking(slip.load, 1000.0).unwrap_or(0.0),
                t.relaxation_length(slip.load).unwrap_or(0.0),
            ],
        );
    }
    assert!(sane > CARS / 4, "{sane}");
}

fn aero(d: &mut Dice) -> Aero {
    Aero {
        density: d.of(1.0, 1.3),
        drag_area: d.of(0.3, 1.5),
        drag_height: d.of(0.2, 0.8),
        front_area: d.of(-0.5, 2.0),
        rear_area: d.of(-0.5, 3.0),
    }
}

fn stopping_car(d: &mut Dice) -> StoppingCar {
    StoppingCar {
        mass: d.of(500.0, 1500.0),
        wheelbase: d.of(2.0, 3.0),
        cg_behind_front: d.of(0.8, 1.6),
        cg_height: d.of(0.3, 0.7),
        aero: aero(d),
    }
}

fn system(d: &mut Dice) -> Option<System> {
    let mut brake = || {
        let rows = (0..=d.below(4)).map(|i| (300.0 + 150.0 * i as f64, d.of(0.2, 0.6))).collect();
        let foundation = if d.below(4) == 0 {
            Foundation::Gain(d.of(1e-4, 4e-4))
        } else {
            Foundation::Disc {
                caliper: Caliper {
                    piston_area: d.of(1e-3, 6e-3),
                    kind: if d.below(2) == 0 { CaliperKind::Opposed } else { CaliperKind::Floating },
                },
                calipers: d.below(3) as u8,
                radius: d.of(0.1, 0.16),
                pad: Pad::new(rows).ok()?,
            }
        };
        Some(WheelBrake { foundation, threshold: d.of(0.0, 1e5), loaded_radius: d.of(0.25, 0.35) })
    };
    let (front, rear) = (brake()?, brake()?);
    Some(System {
        pedal_ratio: d.of(3.0, 6.0),
        efficiency: d.of(0.6, 1.0),
        master_front: d.of(1e-4, 4e-4),
        master_rear: d.of(1e-4, 4e-4),
        split: if d.below(3) == 0 { Split::Tandem } else { Split::BiasBar { front_share: d.of(0.3, 0.7) } },
        front,
        rear,
        valve: if d.below(2) == 0 {
            Some(Valve { knee: d.of(1e6, 3e6), slope: d.of(0.0, 1.0) })
        } else {
            None
        },
    })
}

#[test]
fn stops() {
    let mut d = Dice { state: 4, rarity: 150 };
    let mut stopped = 0;
    for _ in 0..STOPS {
        let car = stopping_car(&mut d);
        let Some(s) = system(&mut d) else { continue };
        let (front, rear) = (tyre(&mut d), tyre(&mut d));
        if s.check(900.0).is_err() || front.check().is_err() || rear.check().is_err() {
            continue;
        }
        let grip = if d.below(2) == 0 {
            Grip::Constant { front: d.of(0.1, 2.0), rear: d.of(0.1, 2.0) }
        } else {
            Grip::Tyres { front: &front, rear: &rear }
        };
        let effort = if d.below(3) == 0 {
            Effort::Share(d.of(0.0, 1.0))
        } else {
            Effort::Pedal(&s, [d.of(300.0, 900.0); 2])
        };
        let speed = d.of(5.0, 80.0);
        if let Ok(l) = car.first_lock(speed, &grip, &effort) {
            sound(
                "limit",
                &[l.deceleration, l.effort, l.front_force, l.rear_force, l.loads.front, l.loads.rear],
            );
            sound("limit", &[l.use_of_grip.front, l.use_of_grip.rear]);
        }
        if let Ok(Some(row)) = locks_together(&car, &s, [400.0; 2], &grip, speed) {
            sound("bias", &[row.bar_share, row.limit.deceleration]);
        }
        let driver = if d.below(2) == 0 {
            Driver::Verge
        } else {
            Driver::Steady { effort: d.of(50.0, 900.0), sliding: d.of(0.5, 1.0) }
        };
        let run = StopRun {
            car: &car,
            grip,
            effort,
            driver,
            from: speed,
            to: d.of(0.0, 2.0),
            reaction: d.of(0.0, 1.0),
        };
        if let Ok(r) = stop(&run) {
            stopped += 1;
            sound("stop", &[r.distance, r.time, r.mean_developed, r.front_heat, r.rear_heat, r.drag_work]);
        }
        if let Ok(points) = curves(&car, &effort, speed, &[d.of(0.5, 8.0), d.of(8.0, 15.0)]) {
            for p in points {
                sound("curve", &[p.deceleration, p.ideal_share, p.actual_share.unwrap_or(0.0)]);
            }
        }
        let trim = TrimCar {
            car: &car,
            yaw_inertia: d.of(500.0, 2500.0),
            front: &front,
            rear: &rear,
            brakes: effort,
            front_drive: d.of(0.0, 1.0),
        };
        if let Ok(all) = map(&trim, &[speed, d.of(5.0, 80.0)], &[d.of(-15.0, 5.0), 0.0]) {
            for t in all.into_iter().flatten() {
                sound("trim", &[t.front_stiffness, t.rear_stiffness, t.rear_reserve, t.rear_reserve_share]);
                sound("trim", &[t.understeer_gradient, t.static_margin, t.modes.real[0], t.modes.real[1]]);
                sound(
                    "trim",
                    &[t.modes.imaginary, t.modes.natural, t.modes.damping, t.front_use, t.rear_use],
                );
            }
        }
    }
    assert!(stopped > STOPS / 20, "{stopped}");
}

#[test]
fn discs() {
    let mut d = Dice::new(5);
    for _ in 0..STOPS {
        let disc = Disc {
            mass: d.of(3.0, 10.0),
            specific_heat: d.of(400.0, 900.0),
            area: d.of(0.05, 0.3),
            emissivity: d.of(0.0, 1.0),
            cooling: match d.below(3) {
                0 => Cooling::None,
                1 => Cooling::Linear { still: d.of(5.0, 50.0), rise: d.of(0.0, 5.0) },
                _ => Cooling::Rotating { diameter: d.of(0.2, 0.4), vents: d.of(1.0, 3.0) },
            },
        };
        let heating = Heating {
            mass: d.of(500.0, 1500.0),
            share: d.of(0.1, 0.5),
            into_disc: d.of(0.8, 1.0),
            aero: aero(&mut d),
            air: d.of(260.0, 320.0),
        };
        let phases = [
            Phase::Stop { from: d.of(30.0, 80.0), to: d.of(0.0, 20.0), deceleration: d.of(3.0, 15.0) },
            Phase::Run { time: d.of(0.0, 60.0), from: d.of(0.0, 20.0), to: d.of(30.0, 80.0) },
        ];
        if let Ok(all) = disc.over(&heating, d.of(270.0, 900.0), &phases) {
            for p in all {
                sound("disc", &[p.start, p.peak, p.end, p.heat_in, p.heat_out]);
            }
        }
    }
}

#[test]
fn balance() {
    let mut d = Dice::new(6);
    for _ in 0..CARS {
        let bar = Bar {
            outer: d.of(0.01, 0.04),
            inner: d.of(0.0, 0.02),
            length: d.of(0.4, 1.2),
            arm: d.of(0.1, 0.3),
            link_angle: d.of(0.5, 2.5),
            shear: d.of(7e10, 8.5e10),
            arms: match d.below(3) {
                0 => Arms::Rigid,
                1 => Arms::Bent { young: d.of(6e10, 2.1e11) },
                _ => Arms::Blades { young: d.of(6e10, 2.1e11), second_moment: d.of(1e-9, 1e-8) },
            },
        };
        if let Ok(k) = bar.end_rate() {
            sound("bar", &[k]);
            if let Ok(b) = bar.sized_for(d.of(1e3, 1e5)) {
                sound("sized", &[b.outer]);
            }
        }
        let corner = RideCorner {
            spring_rate: d.of(1e4, 2e5),
            spring_force: d.of(0.0, 6000.0),
            spring_ratio: d.of(0.4, 1.2),
            spring_ratio_rate: d.of(-2.0, 2.0),
            damping: d.of(500.0, 8000.0),
            damper_ratio: d.of(0.4, 1.2),
            tyre_rate: d.of(1e5, 4e5),
            sprung_mass: d.of(100.0, 400.0),
            unsprung_mass: d.of(20.0, 60.0),
        };
        if let (Ok(r), Ok(q)) = (corner.ride(), quarter_car(&corner)) {
            sound(
                "ride",
                &[r.wheel_rate, r.ride_rate, r.frequency, r.damping_ratio, r.hop_frequency, q.0, q.1],
            );
        }
        let axle = |d: &mut Dice| AxleRoll {
            roll_stiffness: d.of(1e4, 1e5),
            roll_centre: d.of(-0.1, 0.4),
            track: d.of(1.2, 1.7),
            unsprung_mass: d.of(50.0, 150.0),
            unsprung_height: d.of(0.25, 0.35),
        };
        let rolling = RollingCar {
            sprung_mass: d.of(500.0, 1500.0),
            sprung_height: d.of(0.3, 0.7),
            front_share: d.of(0.3, 0.7),
            front: axle(&mut d),
            rear: axle(&mut d),
        };
        if let Ok(t) = rolling.at(d.of(-15.0, 15.0)) {
            sound(
                "transfer",
                &[t.roll, t.front.total(), t.rear.total(), t.front_share, t.front_stiffness_share],
            );
        }
        let (front, rear) = (simple(&mut d), simple(&mut d));
        if let Ok(l) = (CorneringCar { rolling: &rolling, front: &front, rear: &rear }).limit() {
            sound("cornering", &[l.front, l.rear]);
        }
        let car = CorneringCar { rolling: &rolling, front: &front, rear: &rear };
        let end = d.end();
        let change = [
            Change::RollStiffness(end, d.of(0.5, 2.0)),
            Change::RollCentre(end, d.of(-0.1, 0.1)),
            Change::Friction(end, d.of(0.9, 1.1)),
            Change::TyreStiffness(end, d.of(0.8, 1.2)),
        ][d.below(4)];
        if let Ok(all) = effects(&car, d.of(-10.0, 10.0), &[change]) {
            for e in all {
                sound("effect", &[e.gradient, e.front_limit, e.rear_limit]);
            }
        }
        let track = SingleTrack {
            mass: d.of(500.0, 1500.0),
            yaw_inertia: d.of(500.0, 2500.0),
            front: d.of(0.8, 1.6),
            rear: d.of(0.8, 1.6),
            front_stiffness: d.of(5e4, 2e5),
            rear_stiffness: d.of(5e4, 2e5),
        };
        let speed = d.of(1.0, 100.0);
        if let (Ok(s), Ok(m)) = (track.steady(speed), track.modes(speed, d.of(-15.0, 5.0))) {
            sound(
                "track",
                &[s.yaw, s.lateral, s.sideslip, m.real[0], m.real[1], m.imaginary, m.natural, m.damping],
            );
        }
    }
}

use super::*;

fn disc(cooling: Cooling, emissivity: f64) -> Disc {
    Disc { mass: 7.0, specific_heat: 460.0, area: 0.12, emissivity, cooling }
}

fn heating() -> Heating {
    Heating { mass: 1000.0, share: 0.65 / 2.0, into_disc: 0.9, aero: Aero::NONE, air: 293.0 }
}

/// Worked out independently: 1000 kg from 50 m/s, front share 0.65, two discs of 7 kg, c 460, 90 % into the disc:
/// 113.548 K a disc.
#[test]
fn one_stop_without_cooling() {
    let d = disc(Cooling::None, 0.0);
    assert!((d.adiabatic_rise(&heating(), 50.0, 0.0) - 113.548).abs() < 5e-4);
    let stop = Phase::Stop { from: 50.0, to: 0.0, deceleration: 9.0 };
    let p = d.over(&heating(), 293.0, &[stop]).unwrap()[0];
    assert!((p.end - 293.0 - 113.548).abs() < 1e-3);
    assert!((p.heat_in - 0.325 * 0.9 * 1.25e6).abs() < 1e-3 && p.heat_out.abs() < 1e-3);
}

/// A worked page "How hot do brakes get" (read): 3000 lb from 60 mph, four iron rotors of 10 lb, c = 0.13 Btu/(lb F):
/// it prints 90.3 F with rounded factors (361 306 ft-lb, 0.0013 Btu/ft-lb); with g = 32.174 and 778.17 ft-lb/Btu it is
/// 89.2 F.
#[test]
fn a_worked_page() {
    let (pound, fahrenheit) = (0.453_592_37, 5.0 / 9.0);
    let d = Disc { mass: 10.0 * pound, specific_heat: 0.13 * 4186.8, ..disc(Cooling::None, 0.0) };
    let h = Heating { mass: 3000.0 * pound, share: 0.25, into_disc: 1.0, ..heating() };
    let rise = d.adiabatic_rise(&h, 88.0 * 0.3048, 0.0) / fahrenheit;
    assert!((rise - 89.2).abs() < 0.1, "{rise}");
    assert!((rise / 90.3 - 1.0).abs() < 0.015);
}

/// Newton's cooling in closed form (own).
#[test]
fn cooling_in_closed_form() {
    let d = disc(Cooling::Linear { still: 20.0, rise: 2.0 }, 0.0);
    let run = Phase::Run { time: 100.0, from: 30.0, to: 30.0 };
    let p = d.over(&heating(), 600.0, &[run]).unwrap()[0];
    let expected = 293.0 + 307.0 * (-(0.12 * 80.0) * 100.0 / (7.0 * 460.0f64)).exp();
    assert!((p.end - expected).abs() < 1e-7, "{} {expected}", p.end);
}

/// Radiation alone: time from T1 to T2 in closed form with air far below (own), `t = m c/(3 A eps sigma) (T2^-3 -
/// T1^-3)` holds for no air; the air's part is below a percent here.
#[test]
fn radiation_nearly_in_closed_form() {
    let d = disc(Cooling::None, 0.5);
    let h = Heating { air: 200.0, ..heating() };
    let p = d.over(&h, 1100.0, &[Phase::Run { time: 60.0, from: 0.0, to: 0.0 }]).unwrap()[0];
    let b = 3.0 * 0.12 * 0.5 * STEFAN_BOLTZMANN / (7.0 * 460.0);
    let expected = (1100f64.powi(-3) + b * 60.0).powf(-1.0 / 3.0);
    assert!((p.end - expected).abs() < 0.01 * (1100.0 - expected), "{} {expected}", p.end);
}

/// Repeated stops climb toward a steady cycle in which what goes in comes out (energy, own).
#[test]
fn repeated_stops_settle() {
    let d = disc(Cooling::Rotating { diameter: 0.3, vents: 2.0 }, 0.5);
    let lap = [
        Phase::Stop { from: 55.0, to: 15.0, deceleration: 10.0 },
        Phase::Run { time: 18.0, from: 15.0, to: 55.0 },
    ];
    let phases: Vec<Phase> = lap.iter().cycle().take(200).copied().collect();
    let all = d.over(&heating(), 293.0, &phases).unwrap();
    let peaks: Vec<f64> = all.iter().step_by(2).map(|p| p.peak).collect();
    assert!(peaks.windows(2).all(|w| w[1] >= w[0] - 1e-9));
    let last = &all[198..];
    let (heat_in, heat_out) = (last[0].heat_in + last[1].heat_in, last[0].heat_out + last[1].heat_out);
    assert!((heat_in / heat_out - 1.0).abs() < 1e-3, "{heat_in} {heat_out}");
    assert!(peaks[99] > 400.0 && peaks[99] < 1200.0);
}

#[test]
fn drag_takes_its_part() {
    let d = disc(Cooling::None, 0.0);
    let aero = Aero { density: 1.2, drag_area: 1.0, ..Aero::NONE };
    let h = Heating { aero, ..heating() };
    let stop = Phase::Stop { from: 60.0, to: 0.0, deceleration: 9.0 };
    let p = d.over(&h, 293.0, &[stop]).unwrap()[0];
    // Drag work k v^4/(4 a), k = rho C_x S/2.
    let drag = 0.6 * 60f64.powi(4) / (4.0 * 9.0);
    assert!((p.heat_in - 0.325 * 0.9 * (1.8e6 - drag)).abs() < 1.0);
}

#[test]
fn a_small_disc_melts() {
    let d = Disc { mass: 0.4, ..disc(Cooling::None, 0.0) };
    let stop = Phase::Stop { from: 60.0, to: 0.0, deceleration: 9.0 };
    assert_eq!(d.over(&heating(), 293.0, &[stop]), Err(VehicleError::DiscTooHot { phase: 1 }));
}

#[test]
fn absurd_discs_are_refused() {
    let d = Disc { mass: 1e-6, ..disc(Cooling::Linear { still: 20.0, rise: 2.0 }, 0.5) };
    assert!(d.over(&heating(), 300.0, &[]).is_err());
    let d = disc(Cooling::None, 0.0);
    assert!(d.over(&heating(), 300.0, &[Phase::Run { time: 1e9, from: 1.0, to: 1.0 }]).is_err());
    assert!(d.over(&heating(), 300.0, &[Phase::Stop { from: 10.0, to: 20.0, deceleration: 5.0 }]).is_err());
}

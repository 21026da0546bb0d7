use super::*;
use num_dual::Dual64;

/// A 205/60R15-class set; coefficients read in an open program by F. Seybold (HLRS, 2009) that follows Pacejka, 2nd
/// ed.; nominal load 4000 N remembered. `PKY1` is positive there: the slip angle has the opposite sign.
pub(crate) fn open_set() -> Parameters {
    let mut p = Parameters {
        convention: SlipConvention::ReversedSlip,
        fnomin: 4000.0,
        unloaded_radius: 0.313,
        fzmin: 200.0,
        fzmax: 9000.0,
        ..Parameters::default()
    };
    for (name, value) in [
        ("PCX1", 1.6411),
        ("PDX1", 1.1739),
        ("PDX2", -0.16395),
        ("PEX1", 0.46403),
        ("PEX2", 0.25022),
        ("PEX3", 0.067842),
        ("PEX4", -3.7604e-5),
        ("PKX1", 22.303),
        ("PKX2", 0.48896),
        ("PKX3", 0.21253),
        ("PHX1", 0.0012297),
        ("PHX2", 0.0004318),
        ("PVX1", -8.8098e-6),
        ("PVX2", 1.862e-5),
        ("PCY1", 1.3507),
        ("PDY1", 1.0489),
        ("PDY2", -0.18033),
        ("PDY3", -2.8821),
        ("PEY1", -0.0074722),
        ("PEY2", -0.0063208),
        ("PEY3", -9.9935),
        ("PEY4", -760.14),
        ("PKY1", 21.92),
        ("PKY2", 2.0012),
        ("PKY3", -0.024778),
        ("PHY1", 0.0026747),
        ("PHY2", 8.9094e-5),
        ("PHY3", 0.031415),
        ("PVY1", 0.037318),
        ("PVY2", -0.010049),
        ("PVY3", -0.32931),
        ("PVY4", -0.69553),
        ("RBX1", 13.276),
        ("RBX2", -13.778),
        ("RCX1", 1.2568),
        ("REX1", 0.65225),
        ("REX2", -0.24948),
        ("RHX1", 0.0050722),
        ("RBY1", 7.1433),
        ("RBY2", 9.1916),
        ("RBY3", -0.027856),
        ("RCY1", 1.0719),
        ("REY1", -0.27572),
        ("REY2", 0.32802),
        ("RHY1", 5.7448e-6),
        ("RVY1", -0.027825),
        ("RVY2", 0.053604),
        ("RVY3", -0.27568),
        ("RVY4", 12.12),
        ("RVY5", 1.9),
        ("RVY6", -10.704),
    ] {
        p.set(name, value).unwrap();
    }
    p
}

/// The set without shifts and without E's asymmetry.
fn symmetric_set() -> Parameters {
    Parameters {
        phx1: 0.0,
        phx2: 0.0,
        pvx1: 0.0,
        pvx2: 0.0,
        pex4: 0.0,
        phy1: 0.0,
        phy2: 0.0,
        phy3: 0.0,
        pvy1: 0.0,
        pvy2: 0.0,
        pvy3: 0.0,
        pvy4: 0.0,
        pey3: 0.0,
        pey4: 0.0,
        rhx1: 0.0,
        rhy1: 0.0,
        rby3: 0.0,
        rvy1: 0.0,
        rvy2: 0.0,
        rvy3: 0.0,
        ..open_set()
    }
}

/// Longitudinal force with all shifts: forces, friction, stiffness and peaks worked out independently from the set
/// above.
#[test]
fn longitudinal_force_of_the_open_set() {
    let p = open_set();
    for (load, kappa, force) in [
        (4000.0, -0.1, -4519.11),
        (4000.0, -0.05, -3413.90),
        (4000.0, 0.0, 109.65),
        (4000.0, 0.02, 1794.18),
        (4000.0, 0.05, 3513.97),
        (4000.0, 0.10, 4539.86),
        (2000.0, 0.05, 1679.86),
        (2000.0, 0.10, 2343.92),
        (6000.0, 0.05, 5364.58),
        (6000.0, 0.10, 6451.25),
        (4000.0, 0.14911, 4695.56),
        (2000.0, 0.16929, 2511.71),
        (6000.0, 0.13610, 6551.55),
    ] {
        let f: f64 = longitudinal(&p, kappa, load);
        assert!((f - force).abs() < 0.006, "{load} {kappa}: {f} {force}");
    }
    let tyre = crate::tyre::Tyre::Magic(Box::new(symmetric_set()));
    assert!((tyre.slip_stiffness(4000.0) - 89_212.0).abs() < 0.5);
    assert!((tyre.slip_stiffness(6000.0) - 150_452.55).abs() < 0.01);
    let (most, at) = tyre.braking_peak(4000.0);
    assert!((most - 4695.6).abs() < 1e-6 && (at - 0.15034).abs() < 5e-4, "{most} {at}");
}

/// Side force without shifts and asymmetry: worked out independently from the set above.
#[test]
fn side_force_of_the_open_set() {
    let p = symmetric_set();
    let degrees = [1.0f64, 2.0, 4.0, 6.0, 8.0, 10.0];
    for (load, stiffness, row) in [
        (2000.0, 41_239.3, [695.80, 1269.69, 1937.05, 2186.60, 2264.11, 2278.09]),
        (4000.0, 70_118.8, [1188.91, 2196.18, 3444.66, 3961.70, 4144.57, 4193.31]),
        (6000.0, 84_158.7, [1436.52, 2699.40, 4417.07, 5244.69, 5593.05, 5721.45]),
    ] {
        for (deg, expected) in degrees.into_iter().zip(row) {
            let f = lateral(&p, -deg.to_radians(), load);
            assert!((f - expected).abs() < 0.006, "{load} {deg}: {f} {expected}");
        }
        let tyre = crate::tyre::Tyre::Magic(Box::new(p.clone()));
        assert!((tyre.cornering_stiffness(load) - stiffness).abs() < 0.06);
    }
}

/// What any implementation must meet (properties of the formula, Pacejka, 2nd ed., section 4.3, remembered): odd
/// without shifts, slope BCD at zero, peak D, friction falling with load, combined force within the pure peaks.
#[test]
fn properties() {
    let p = symmetric_set();
    let at = |kappa: f64, alpha: f64, load: f64| force(&p, &Slip { kappa, alpha, inclination: 0.0, load });
    for load in [1000.0, 4000.0, 8000.0] {
        let df = load / 4000.0 - 1.0;
        let (mx, my) = ((1.1739 - 0.16395 * df) * load, (1.0489 - 0.18033 * df) * load);
        let (mut most_x, mut most_y): (f64, f64) = (0.0, 0.0);
        for i in -100..=100 {
            for j in -60..=60 {
                let (kappa, alpha) = (f64::from(i) / 100.0, f64::from(j) / 100.0);
                let f = at(kappa, alpha, load);
                let g = at(-kappa, -alpha, load);
                assert!((f.fx + g.fx).abs() < 1e-9 && (f.fy + g.fy).abs() < 1e-9);
                assert!(f.fx.abs() <= mx + 1e-9 && f.fy.abs() <= my + 1e-9);
                assert!(f.fx * kappa >= -1e-9 && f.fy * alpha <= 1e-9);
                most_x = most_x.max(f.fx);
                most_y = most_y.max(f.fy);
            }
        }
        assert!(most_x > 0.995 * mx && most_y > 0.995 * my);
    }
    // Half a degree of side slip costs little; much of it costs much, and likewise the other way about.
    assert!(at(-0.05, 0.2, 4000.0).fx.abs() < 0.7 * at(-0.05, 0.0, 4000.0).fx.abs());
    assert!(at(-0.15, 0.05, 4000.0).fy.abs() < 0.7 * at(0.0, 0.05, 4000.0).fy.abs());
}

/// The dual parts are the slopes (own), in the full set with shifts, inclination and combined slip.
#[test]
fn derivatives_are_those_of_differences() {
    let mut p = open_set();
    for (name, v) in
        [("QBZ1", 10.904), ("QCZ1", 1.18), ("QDZ1", 0.10), ("QDZ6", 1e-3), ("QBZ9", 5.0), ("QEZ1", -1.5)]
    {
        p.set(name, v).unwrap();
    }
    let base = [-0.04, 0.03, 0.02, 3500.0];
    let f = |v: [f64; 4]| force(&p, &Slip { kappa: v[0], alpha: v[1], inclination: v[2], load: v[3] });
    for i in 0..4 {
        let d = if i == 3 { 1e-2 } else { 1e-6 };
        let mut duals = base.map(Dual64::from_re);
        duals[i].eps = 1.0;
        let exact =
            force(&p, &Slip { kappa: duals[0], alpha: duals[1], inclination: duals[2], load: duals[3] });
        let (mut hi, mut lo) = (base, base);
        hi[i] += d;
        lo[i] -= d;
        let check = |name: &str, e: f64, a: f64, b: f64| {
            let n = (a - b) / (2.0 * d);
            assert!((e - n).abs() < 1e-5 * (1.0 + n.abs()), "{name} by {i}: {e} {n}");
        };
        check("fx", exact.fx.eps, f(hi).fx, f(lo).fx);
        check("fy", exact.fy.eps, f(hi).fy, f(lo).fy);
        check("mz", exact.mz.unwrap().eps, f(hi).mz.unwrap(), f(lo).mz.unwrap());
    }
}

/// The moment turns the wheel toward where it goes, and vanishes with the trail at large slip (signs, ISO).
#[test]
fn the_moment_aligns() {
    let mut p = symmetric_set();
    for (name, v) in [("QBZ1", 10.904), ("QCZ1", 1.18), ("QDZ1", 0.10), ("QEZ1", -1.5)] {
        p.set(name, v).unwrap();
    }
    let f = force(&p, &Slip { kappa: 0.0, alpha: 0.03, inclination: 0.0, load: 4000.0 });
    assert!(f.fy < 0.0 && f.mz.unwrap() > 0.0);
    // Small slip: trail D_t = F_z 0.10 R_0/F_z0, moment t C alpha.
    let f = force::<f64>(&p, &Slip { kappa: 0.0, alpha: 1e-6, inclination: 0.0, load: 4000.0 });
    assert!((f.mz.unwrap() / -f.fy - 0.10 * 0.313).abs() < 1e-9);
}

/// The same tyre in each convention (own): reversing the set's sense by hand and by mark gives the same forces.
#[test]
fn conventions_agree() {
    let reversed = symmetric_set();
    let iso = Parameters { convention: SlipConvention::Iso, pky1: -21.92, ..symmetric_set() };
    let book = Parameters { convention: SlipConvention::BookAxes, ..symmetric_set() };
    for alpha in [-0.1, 0.02, 0.2] {
        let of = |p: &Parameters| -> f64 { lateral(p, alpha, 4000.0) };
        assert!((of(&iso) - of(&reversed)).abs() < 1e-9 && (of(&iso) - of(&book)).abs() < 1e-9);
    }
    assert!(iso.check().is_ok() && reversed.check().is_ok() && book.check().is_ok());
    let wrong = Parameters { convention: SlipConvention::Iso, ..reversed };
    assert_eq!(wrong.check(), Err(crate::VehicleError::WrongSlipSign));
}

#[test]
fn ranges_are_marked_and_demanded() {
    let p = open_set();
    assert!(force(&p, &Slip::rolling(12_000.0)).outside.load);
    assert!(!force(&p, &Slip::rolling(4000.0)).outside.any());
    assert_eq!(Parameters { fzmax: 0.0, ..open_set() }.check(), Err(crate::VehicleError::NoLoadRange));
    assert!(matches!(open_set().set("PXX9", 1.0), Err(crate::VehicleError::UnknownParameter { .. })));
    assert_eq!(p.get("pky2"), Some(2.0012));
}

/// The closed-form peaks against a fine sampling of the forces (own), with all shifts and asymmetries.
#[test]
fn peaks_against_sampling() {
    let p = open_set();
    let tyre = crate::tyre::Tyre::Magic(Box::new(p.clone()));
    for load in [1000.0, 4000.0, 8000.0, 11_000.0] {
        let highest = |f: &dyn Fn(f64) -> f64, most: f64| {
            (0..=20_000).map(|i| f(most * f64::from(i) / 20_000.0)).fold(f64::MIN, f64::max)
        };
        let braking = highest(&|s| -longitudinal(&p, -s, load), 1.0);
        let side =
            0.5 * (highest(&|a| lateral(&p, -a, load), 0.5) + highest(&|a| -lateral(&p, a, load), 0.5));
        let (most, at) = tyre.braking_peak(load);
        assert!((most / braking - 1.0).abs() < 1e-6, "{load}: {most} {braking}");
        assert!((-longitudinal(&p, -at, load) / most - 1.0).abs() < 1e-9);
        assert!(
            (tyre.lateral_peak(load) / side - 1.0).abs() < 1e-6,
            "{load}: {} {side}",
            tyre.lateral_peak(load)
        );
    }
}

/// Combined slip with inclination and moment: the set above with `PKY1` negative (ISO) and a made-up moment; forces
/// worked out independently by a second writing of the same remembered equations (no published figures were found, so
/// this guards the writing, not the equations).
#[test]
fn combined_slip_of_the_open_set() {
    let mut p = Parameters { convention: SlipConvention::Iso, ..open_set() };
    for (name, value) in [
        ("PKY1", -21.92),
        ("QBZ1", 10.0),
        ("QBZ2", -1.0),
        ("QBZ3", -0.5),
        ("QBZ4", 0.2),
        ("QBZ5", -0.3),
        ("QBZ9", 5.0),
        ("QBZ10", 0.4),
        ("QCZ1", 1.15),
        ("QDZ1", 0.11),
        ("QDZ2", -0.003),
        ("QDZ3", -0.05),
        ("QDZ4", 0.3),
        ("QDZ6", 0.002),
        ("QDZ7", -0.001),
        ("QDZ8", -0.13),
        ("QDZ9", -0.01),
        ("QEZ1", -1.3),
        ("QEZ2", 0.4),
        ("QEZ3", -0.2),
        ("QEZ4", 0.2),
        ("QEZ5", -2.5),
        ("QHZ1", 0.005),
        ("QHZ2", -0.002),
        ("QHZ3", 0.15),
        ("QHZ4", 0.05),
        ("SSZ1", 0.03),
        ("SSZ2", 0.005),
        ("SSZ3", 0.4),
        ("SSZ4", 0.1),
    ] {
        p.set(name, value).unwrap();
    }
    assert!(p.check().is_ok());
    for ([kappa, alpha, inclination, load], [fx, fy, mz]) in [
        ([-0.05, 0.03, 0.0, 4000.0], [-3084.8032, -1922.0978, 18.9503]),
        ([-0.1, -0.06, 0.03, 5500.0], [-5273.3311, 2896.8349, -114.5960]),
        ([0.04, 0.12, -0.05, 2500.0], [922.9956, -2540.4258, 26.5668]),
        ([0.0, 0.05, 0.02, 3000.0], [52.7530, -2314.3378, 46.7014]),
        ([-0.02, 0.02, 0.0, 7000.0], [-2957.2269, -1662.0273, 64.3743]),
    ] {
        let f: TyreForce<f64> = force(&p, &Slip { kappa, alpha, inclination, load });
        let m = f.mz.unwrap();
        assert!((f.fx - fx).abs() < 1e-4 && (f.fy - fy).abs() < 1e-4, "{f:?}");
        assert!((m - mz).abs() < 1e-4, "{m} {mz}");
    }
}

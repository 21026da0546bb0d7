//! A flat bar. Torsion by St Venant's series for a rectangle, long side `a`, short side `b` (Timoshenko and Goodier,
//! Theory of Elasticity, 3rd ed. (1970), art. 109; remembered), over odd n:
//! `J = a b^3/3 (1 - 192 b/(pi^5 a) sum tanh(n pi a/2b)/n^5)`,
//! `tau = G theta' b (1 - 8/pi^2 sum 1/(n^2 cosh(n pi a/2b)))` in the middle of the long side.

use std::f64::consts::PI;

use super::{Section, Shape, shear};

/// Terms of the series, all odd: the first that is left out is below 1e-8 of the sum.
const TERMS: i32 = 20;

pub(super) fn section(height: f64, width: f64) -> Section {
    let area = height * width;
    let second_y = width * height.powi(3) / 12.0;
    let second_z = height * width.powi(3) / 12.0;
    let (long, short) = (height.max(width), height.min(width));

    let (mut twist, mut stress) = (0.0, 0.0);
    for n in (0..TERMS).map(|k| f64::from(2 * k + 1)) {
        let argument = n * PI * long / (2.0 * short);
        twist += argument.tanh() / n.powi(5);
        stress += 1.0 / (n * n * argument.cosh());
    }
    let torsion = long * short.powi(3) / 3.0 * (1.0 - 192.0 * short / (PI.powi(5) * long) * twist);
    let greatest = short * (1.0 - 8.0 / (PI * PI) * stress);

    let shear = area * shear::rectangle(shear::POISSON);
    Section {
        shape: Shape::Flat { height, width },
        area,
        second_y,
        second_z,
        torsion,
        modulus_y: 2.0 * second_y / height,
        modulus_z: 2.0 * second_z / width,
        torsion_modulus: torsion / greatest,
        shear_y: shear,
        shear_z: shear,
    }
}

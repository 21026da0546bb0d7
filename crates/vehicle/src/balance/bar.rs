//! Anti-roll bars, solid or tubular, straight torsion part with two arms.
//!
//! `J = pi/32 (D^4 - d^4)`. Rate at one end with the other held `k = G J/(L R^2)`, each bending arm adds `R^3/(3 E I)`
//! of give. Roll stiffness at the wheels `k T^2 K^2`, K bar-end travel per wheel travel (torsion theory, any text;
//! A. Staniforth, Race and Rally Car Source Book, quoted in a forum post, read: the same in inches with a rounded
//! factor). A link that is not square to its arm works on `R sin(angle)`.

use linkage::scalar::{Real, constant};

use crate::error::{VehicleError, positive, within};
use crate::root::root;

/// Shear modulus of steel [Pa] taken where none is given (tables: 79 to 81 GPa; remembered).
pub const STEEL_SHEAR: f64 = 80e9;

/// Young's modulus of steel [Pa] (tables: 200 to 210 GPa; remembered).
pub const STEEL_YOUNG: f64 = 206e9;

/// Least angle between arm and link [rad]: 10 deg; flatter, the link goes over centre.
pub const LEAST_LINK_ANGLE: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// How the arms give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arms<T> {
    /// Blades on edge or plates: rigid.
    Rigid,
    /// The bar bent round: its own section bends.
    Bent {
        /// Young's modulus [Pa].
        young: T,
    },
    /// Blades of a second moment of area [m^4].
    Blades {
        /// Young's modulus [Pa].
        young: T,
        /// Second moment about the bending axis [m^4].
        second_moment: T,
    },
}

/// A bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar<T> {
    /// Outer diameter [m].
    pub outer: T,
    /// Inner diameter [m], zero for a solid bar.
    pub inner: T,
    /// Length in torsion between the arms [m].
    pub length: T,
    /// Arm from the bar's axis to the link joint [m].
    pub arm: T,
    /// Angle between arm and link [rad]; a right angle is pi/2.
    pub link_angle: T,
    /// Shear modulus [Pa].
    pub shear: T,
    /// Arms.
    pub arms: Arms<T>,
}

impl<T: Real> Bar<T> {
    /// Polar second moment [m^4].
    pub fn polar(&self) -> T {
        (self.outer.powi(4) - self.inner.powi(4)) * (std::f64::consts::PI / 32.0)
    }

    /// # Errors
    /// Sizes that no bar has.
    pub fn check(&self) -> Result<(), VehicleError> {
        positive("bar diameter", self.outer.re())?;
        within("bar bore", self.inner.re(), 0.0, self.outer.re() * (1.0 - 1e-6))?;
        positive("bar length", self.length.re())?;
        positive("bar arm", self.arm.re())?;
        within(
            "link angle",
            self.link_angle.re(),
            LEAST_LINK_ANGLE,
            std::f64::consts::PI - LEAST_LINK_ANGLE,
        )?;
        positive("shear modulus", self.shear.re())?;
        match self.arms {
            Arms::Rigid => Ok(()),
            Arms::Bent { young } => positive("Young's modulus", young.re()).map(drop),
            Arms::Blades { young, second_moment } => {
                positive("Young's modulus", young.re())?;
                positive("second moment of the arm", second_moment.re() * 1e9).map(drop)
            }
        }
    }

    /// Rate at one end along its link with the other end held [N/m].
    ///
    /// # Errors
    /// Sizes that no bar has.
    pub fn end_rate(&self) -> Result<T, VehicleError> {
        self.check()?;
        let twist = self.length * self.arm * self.arm / (self.shear * self.polar());
        let cantilever = |stiffness: T| self.arm.powi(3) * 2.0 / (stiffness * 3.0);
        let bend = match self.arms {
            Arms::Rigid => constant(0.0),
            Arms::Bent { young } => cantilever(young * self.polar() / 2.0),
            Arms::Blades { young, second_moment } => cantilever(young * second_moment),
        };
        let sine = self.link_angle.sin();
        Ok(((twist + bend) * sine * sine).recip())
    }

    /// Twist per opposite wheel travel [rad/m]: both ends move, one up, one down. `ratio` is bar-end travel per wheel
    /// travel. Arms taken as rigid: an upper bound.
    pub fn twist_by_travel(&self, ratio: T) -> T {
        ratio * 2.0 / (self.arm * self.link_angle.sin())
    }

    /// Shear stress at the surface for a twist [Pa].
    pub fn shear_stress(&self, twist: T) -> T {
        self.shear * twist * self.outer / (self.length * 2.0)
    }
}

impl Bar<f64> {
    /// Outer diameter [m] that gives an end rate [N/m], the bore keeping its share of the diameter.
    ///
    /// # Errors
    /// Sizes that no bar has, or a rate that no diameter below the arm's length gives.
    pub fn sized_for(&self, rate: f64) -> Result<Self, VehicleError> {
        positive("bar rate", rate)?;
        self.end_rate()?;
        let share = self.inner / self.outer;
        let with = |outer: f64| Self { outer, inner: share * outer, ..*self };
        let (least, most) = (1e-4, self.arm.max(2e-4));
        let at = |outer: f64| with(outer).end_rate().unwrap_or(0.0);
        within("bar rate", rate, at(least), at(most))?;
        Ok(with(root(|outer| at(outer) / rate - 1.0, least, most)))
    }
}

/// Roll stiffness of an axle from a bar [Nm/rad]: `k T^2 K^2`.
pub fn roll_stiffness_from_bar<T: Real>(end_rate: T, track: T, ratio: T) -> T {
    end_rate * track * track * ratio * ratio
}

/// Roll stiffness of an axle from its springs [Nm/rad]: `k_w T^2/2`.
pub fn roll_stiffness_from_springs<T: Real>(wheel_rate: T, track: T) -> T {
    wheel_rate * track * track / 2.0
}

/// Roll stiffness with the tyres in series [Nm/rad], tyre rate of one wheel [N/m].
pub fn with_tyres<T: Real>(roll_stiffness: T, tyre_rate: T, track: T) -> T {
    let tyres = roll_stiffness_from_springs(tyre_rate, track);
    roll_stiffness * tyres / (roll_stiffness + tyres)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(arms: Arms<f64>) -> Bar<f64> {
        Bar {
            outer: 0.020,
            inner: 0.0,
            length: 0.9,
            arm: 0.2,
            link_angle: std::f64::consts::FRAC_PI_2,
            shear: 80e9,
            arms,
        }
    }

    /// Worked out independently: 20 mm, 0.9 m, arms 0.2 m, G 80 GPa, E 206 GPa.
    #[test]
    fn a_solid_bar() {
        let rigid = bar(Arms::Rigid);
        assert!((rigid.polar() - 1.570_796e-8).abs() < 1e-14);
        assert!((rigid.shear * rigid.polar() / rigid.length - 1396.263).abs() < 1e-3);
        let k = rigid.end_rate().unwrap();
        assert!((k - 34_906.6).abs() < 0.05);
        assert!((bar(Arms::Bent { young: 206e9 }).end_rate().unwrap() - 31_304.5).abs() < 0.05);
        let roll = roll_stiffness_from_bar(k, 1.4, 0.6);
        assert!((roll - 24_630.1).abs() < 0.05 && (roll.to_radians() - 429.876).abs() < 5e-4);
    }

    /// A. Staniforth's formula in inches, `Q = 1e4 T^2 K^2 (D^4 - d^4)/(R^2 L/2)` lb-in/deg (read, quoted in a forum
    /// post): its 1e4 is rounded; with G = 11.5e6 psi it is 9852.5.
    #[test]
    fn a_trade_formula_in_inches() {
        let (pound, inch) = (4.448_221_615_260_5, 0.0254);
        let psi = pound / (inch * inch);
        let (t, k, d, b, r, l): (f64, f64, f64, f64, f64, f64) = (56.0, 0.6, 0.875, 0.5, 8.0, 36.0);
        let printed = 1e4 * t * t * k * k * (d.powi(4) - b.powi(4)) / (r * r * l / 2.0);
        let of = Bar {
            outer: d * inch,
            inner: b * inch,
            length: l * inch,
            arm: r * inch,
            shear: 11.5e6 * psi,
            ..bar(Arms::Rigid)
        };
        let roll = roll_stiffness_from_bar(of.end_rate().unwrap(), t * inch, k).to_radians() / (pound * inch);
        assert!((roll / printed - 0.98525).abs() < 1e-5, "{}", roll / printed);
    }

    /// F. Puhn's formula (remembered), lb/in: `500 000 D^4/(0.4244 A^2 B + 0.2264 C^3)`. Its torsion part is G = 12.0e6
    /// psi (to 0.1 %), its arm part two cantilevers of the bar's section (to 2 %).
    #[test]
    fn a_remembered_trade_formula() {
        let (pound, inch) = (4.448_221_615_260_5, 0.0254);
        let psi = pound / (inch * inch);
        let (d, a, b): (f64, f64, f64) = (0.9, 8.0, 36.0);
        let of =
            |arms| Bar { outer: d * inch, length: b * inch, arm: a * inch, shear: 12.0e6 * psi, ..bar(arms) };
        let per = |arms| of(arms).end_rate().unwrap() * inch / pound;
        let torsion = 500_000.0 * d.powi(4) / (0.4244 * a * a * b);
        assert!((per(Arms::Rigid) / torsion - 1.0).abs() < 1e-3);
        let both = 500_000.0 * d.powi(4) / (0.4244 * a * a * b + 0.2264 * a.powi(3));
        assert!((per(Arms::Bent { young: 30e6 * psi }) / both - 1.0).abs() < 0.01);
    }

    #[test]
    fn sizing_and_stress() {
        let tube = Bar { inner: 0.014, link_angle: 1.3, ..bar(Arms::Bent { young: 206e9 }) };
        let rate = tube.end_rate().unwrap();
        let sized = Bar { outer: 0.035, inner: 0.0245, ..tube }.sized_for(rate).unwrap();
        assert!((sized.outer - 0.020).abs() < 1e-9);
        // A flat link works on a shorter arm: stiffer.
        assert!(rate > Bar { link_angle: std::f64::consts::FRAC_PI_2, ..tube }.end_rate().unwrap());
        // tau = T r/J with T = G J twist/L.
        let (twist, b) = (0.1, bar(Arms::Rigid));
        let torque = b.shear * b.polar() * twist / b.length;
        assert!((b.shear_stress(twist) - torque * 0.01 / b.polar()).abs() < 1e-3);
        assert!(Bar { inner: 0.02, ..tube }.end_rate().is_err());
        assert!(tube.sized_for(1e12).is_err());
    }
}

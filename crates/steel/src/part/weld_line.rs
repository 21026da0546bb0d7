//! Lines of fillet weld in space.

use std::f64::consts::{PI, TAU};

use nalgebra::{Matrix3, Vector3};

use super::figure::{direction, positive, vector};
use crate::error::SteelError;

/// Straight pieces of a weld all round.
const PIECES: u32 = 72;

/// Throat of a fillet over its leg [-]: `cos 45 deg`.
const THROAT: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// A straight line of fillet weld, along its root.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeldLine {
    /// One end.
    pub(super) from: Vector3<f64>,
    /// The other end.
    pub(super) to: Vector3<f64>,
    /// Throat [m].
    pub(super) throat: f64,
    /// Length of the whole run of which this is a piece [m].
    pub(super) run: f64,
    /// Along the weld, from the root to the middle of its face, and square to both (the normal of the throat); the latter two
    /// only where the face is known.
    pub(super) along: Vector3<f64>,
    /// See `along`.
    pub(super) face: Option<(Vector3<f64>, Vector3<f64>)>,
}

impl WeldLine {
    /// A straight weld from end to end [m] with that throat [m]. `face`: the direction from the root to the middle of the
    /// weld's face, half way between the two plates; where none is given the direction of the stress is taken at its worst.
    ///
    /// # Errors
    /// A weld without length or throat, or a face along the weld.
    pub fn straight(
        from: Vector3<f64>,
        to: Vector3<f64>,
        throat: f64,
        face: Option<Vector3<f64>>,
    ) -> Result<Self, SteelError> {
        vector("an end of the weld", from)?;
        vector("an end of the weld", to)?;
        positive("the throat of the weld", throat)?;
        let run = positive("the length of the weld", (to - from).norm())?;
        let along = direction("the weld", to - from)?;
        let face = match face {
            Some(face) => {
                let face = direction("the face of the weld", face)?;
                let face = direction("the face of the weld", face - face.dot(&along) * along)?;
                Some((face, along.cross(&face)))
            }
            None => None,
        };
        Ok(Self { from, to, throat, run, along, face })
    }

    /// A weld all round a tube that stands on a face: middle, radius and throat [m]; `axis` leads along the tube away from the
    /// face. The circle is taken as straight pieces of the same length altogether.
    ///
    /// # Errors
    /// A weld without radius or throat, or an axis of no length.
    pub fn round(
        middle: Vector3<f64>,
        axis: Vector3<f64>,
        radius: f64,
        throat: f64,
    ) -> Result<Vec<Self>, SteelError> {
        positive("the radius of the weld", radius)?;
        let axis = direction("the axis of the tube", axis)?;
        let first = direction("the axis of the tube", axis.cross(&least_axis(axis)))?;
        let second = axis.cross(&first);
        let half = PI / f64::from(PIECES);
        let corner = radius * half / half.sin();
        let spoke = |turns: f64| {
            let angle = TAU * turns / f64::from(PIECES);
            first * angle.cos() + second * angle.sin()
        };
        (0..PIECES)
            .map(|piece| {
                let at = f64::from(piece);
                let line = Self::straight(
                    middle + corner * spoke(at),
                    middle + corner * spoke(at + 1.0),
                    throat,
                    Some(spoke(at + 0.5) + axis),
                )?;
                Ok(Self { run: TAU * radius, ..line })
            })
            .collect()
    }

    /// Throat of a fillet by its leg [m]: 0.707 of it.
    pub fn throat_of_leg(leg: f64) -> f64 {
        THROAT * leg
    }

    /// Length [m].
    pub(super) fn length(&self) -> f64 {
        (self.to - self.from).norm()
    }

    /// Area of its throat [m^2].
    pub(super) fn area(&self) -> f64 {
        self.throat * self.length()
    }

    /// `a * integral of (r.r E - r r^T) ds` about a point [m^4].
    pub(super) fn inertia(&self, about: Vector3<f64>) -> Matrix3<f64> {
        let (p, q) = (self.from - about, self.to - about);
        let mixed = p * q.transpose();
        let outer =
            (p * p.transpose() + q * q.transpose() + (mixed + mixed.transpose()) / 2.0) / 3.0 * self.area();
        Matrix3::identity() * outer.trace() - outer
    }
}

/// The axis that lies least along a direction.
fn least_axis(direction: Vector3<f64>) -> Vector3<f64> {
    let [x, y, z] = [direction.x.abs(), direction.y.abs(), direction.z.abs()];
    if x <= y && x <= z {
        Vector3::x()
    } else if y <= z {
        Vector3::y()
    } else {
        Vector3::z()
    }
}

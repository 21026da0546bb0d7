//! The ledger: parts out, parts in, driver and fuel; mass, centre and inertia before and after.
//!
//! `m = sum(m_i)`, `c = sum(m_i c_i)/m`, and by parallel axes (Huygens-Steiner, any mechanics text)
//! `I = sum(I_i + m_i (d.d 1 - d d'))` with d from the new centre. A part taken out counts negative.

use linkage::scalar::{Real, constant};
use nalgebra::{Matrix3, Vector3};

use crate::error::{VehicleError, finite, not_negative, positive, within};
use crate::wheels::{Corners, Footprint};

/// How far rounding may take an inertia past what a body can have, as a share of its trace (own).
pub const INERTIA_SLACK: f64 = 1e-9;

/// A mass with its place and inertia.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lump<T: Real> {
    /// Mass [kg].
    pub mass: T,
    /// Centre of gravity in car axes [m].
    pub centre: Vector3<T>,
    /// Inertia tensor about its own centre along car axes [kg m^2], off-diagonal terms `-sum(m x y)`; `None` where
    /// nobody knows.
    pub inertia: Option<Matrix3<T>>,
    /// Whether any part of the inertia is an estimate.
    pub estimated: bool,
}

/// What is known of a part's inertia about its own centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OwnInertia<T: Real> {
    /// Nothing: counted as a point, which is an estimate from below.
    Point,
    /// A uniform block of length (x), width (y), height (z) [m]: an estimate.
    Block(Vector3<T>),
    /// Measured or computed tensor [kg m^2].
    Known(Matrix3<T>),
}

/// A named part.
#[derive(Clone, Debug, PartialEq)]
pub struct Load<T: Real> {
    /// Name, for messages.
    pub name: String,
    /// Mass [kg].
    pub mass: T,
    /// Place of its centre [m].
    pub place: Vector3<T>,
    /// Its own inertia.
    pub own: OwnInertia<T>,
}

/// A line of the ledger.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry<T: Real> {
    /// Taken out of the car.
    Out(Load<T>),
    /// Put in.
    In(Load<T>),
}

impl<T: Real> Load<T> {
    /// The part as a lump.
    ///
    /// # Errors
    /// A negative mass, an unusable place, or an impossible inertia.
    pub fn lump(&self) -> Result<Lump<T>, VehicleError> {
        not_negative("part mass", self.mass.re())?;
        for c in self.place.iter() {
            finite("part place", c.re())?;
        }
        let (inertia, estimated) = match &self.own {
            OwnInertia::Point => (Matrix3::zeros(), true),
            OwnInertia::Block(size) => {
                for s in size.iter() {
                    not_negative("part size", s.re())?;
                }
                let [x, y, z] = [size.x * size.x, size.y * size.y, size.z * size.z];
                let m = self.mass / 12.0;
                (Matrix3::from_diagonal(&Vector3::new(m * (y + z), m * (x + z), m * (x + y))), true)
            }
            OwnInertia::Known(tensor) => (*tensor, false),
        };
        check_inertia(&self.name, &inertia)?;
        Ok(Lump { mass: self.mass, centre: self.place, inertia: Some(inertia), estimated })
    }
}

/// Inertia of a point of unit mass at `d` about the origin: `d.d 1 - d d'`.
fn steiner<T: Real>(d: &Vector3<T>) -> Matrix3<T> {
    Matrix3::from_diagonal_element(d.dot(d)) - d * d.transpose()
}

/// A tensor is that of a body where `tr/2 1 - I = sum(m r r')` has no negative principal minor.
fn check_inertia<T: Real>(part: &str, tensor: &Matrix3<T>) -> Result<(), VehicleError> {
    let t = tensor.map(|c| c.re());
    let impossible = || VehicleError::ImpossibleInertia { part: part.into() };
    for c in t.iter() {
        finite("inertia", *c).map_err(|_| impossible())?;
    }
    let trace = t.trace();
    let s = Matrix3::from_diagonal_element(trace / 2.0) - t;
    let symmetric = (t - t.transpose()).amax() <= INERTIA_SLACK * trace;
    let least = -INERTIA_SLACK * trace.abs().max(f64::MIN_POSITIVE);
    let [xx, yy, zz] = [s.m11, s.m22, s.m33];
    let minors = [xx * yy - s.m12 * s.m12, yy * zz - s.m23 * s.m23, xx * zz - s.m13 * s.m13];
    let fits = [xx, yy, zz].iter().all(|d| *d >= least)
        && minors.iter().all(|m| *m >= least * trace)
        && s.determinant() >= least * trace * trace;
    if trace >= 0.0 && symmetric && fits { Ok(()) } else { Err(impossible()) }
}

impl<T: Real> Lump<T> {
    /// This lump after a line of the ledger.
    ///
    /// # Errors
    /// A part that no body can be; taking out as much as there is, or more inertia than there is.
    pub fn after(&self, entry: &Entry<T>) -> Result<Self, VehicleError> {
        match entry {
            Entry::In(load) => self.combine(&load.lump()?, constant(1.0), &load.name),
            Entry::Out(load) => self.combine(&load.lump()?, constant(-1.0), &load.name),
        }
    }

    /// This lump after all lines. In and out are first summed in the order given; only the end need be possible.
    ///
    /// # Errors
    /// As [`Self::after`].
    pub fn after_all(&self, entries: &[Entry<T>]) -> Result<Self, VehicleError> {
        // Parts in first: a heavy part out before its heavier successor is in must not fail.
        let ins = entries.iter().filter(|e| matches!(e, Entry::In(_)));
        let outs = entries.iter().filter(|e| matches!(e, Entry::Out(_)));
        ins.chain(outs).try_fold(*self, |car, entry| car.after(entry))
    }

    /// With another lump added (`sign` 1) or taken away (-1).
    fn combine(&self, other: &Self, sign: T, part: &str) -> Result<Self, VehicleError> {
        let mass = self.mass + other.mass * sign;
        if positive("mass", mass.re()).is_err() {
            return Err(VehicleError::NoMassLeft { part: part.into() });
        }
        let centre = (self.centre * self.mass + other.centre * (other.mass * sign)) / mass;
        let about =
            |lump: &Self| lump.inertia.map(|tensor| tensor + steiner(&(lump.centre - centre)) * lump.mass);
        let inertia = match (about(self), about(other)) {
            (Some(a), Some(b)) => {
                let sum = a + b * sign;
                check_inertia(part, &sum)?;
                Some(sum)
            }
            _ => None,
        };
        Ok(Self { mass, centre, inertia, estimated: self.estimated || other.estimated })
    }

    /// Roll, pitch and yaw moment of inertia [kg m^2], where known.
    pub fn principal(&self) -> Option<Vector3<T>> {
        self.inertia.map(|t| t.diagonal())
    }

    /// Mass on the front and on the rear axle [kg] for a wheelbase [m].
    ///
    /// # Errors
    /// No wheelbase.
    pub fn axle_masses(&self, wheelbase: T) -> Result<(T, T), VehicleError> {
        positive("wheelbase", wheelbase.re())?;
        let rear = -self.mass * self.centre.x / wheelbase;
        Ok((self.mass - rear, rear))
    }

    /// Corner masses [kg] for a footprint and a cross-weight share (front right and rear left): the inverse of the
    /// level weighing. Negative where the centre of gravity cannot be carried with that cross weight.
    ///
    /// # Errors
    /// No wheelbase or track.
    pub fn corner_masses(&self, at: &Footprint<T>, cross_share: T) -> Result<Corners<T>, VehicleError> {
        positive("front track", at.front_track.re())?;
        positive("rear track", at.rear_track.re())?;
        let (front, rear) = self.axle_masses(at.wheelbase)?;
        let cross = self.mass * cross_share;
        // y m = t_f (fl - f/2) + t_r (rl - r/2) with rl = cross - (f - fl).
        let (tf, tr) = (at.front_track, at.rear_track);
        let moment = self.mass * self.centre.y + tf * front / 2.0 + tr * rear / 2.0 - tr * (cross - front);
        let front_left = moment / (tf + tr);
        let front_right = front - front_left;
        let rear_left = cross - front_right;
        Ok(Corners { front_left, front_right, rear_left, rear_right: rear - rear_left })
    }
}

/// The car in its states: as it stands dry, with driver, with fuel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct States<T: Real> {
    /// Without driver and fuel.
    pub dry: Lump<T>,
    /// The driver in his seat.
    pub driver: Lump<T>,
    /// A full tank. A part-full one keeps its centre (fuel cells are foamed; sloshing is not modelled).
    pub full_tank: Lump<T>,
}

impl<T: Real> States<T> {
    /// The car with or without driver, the tank filled to a share.
    ///
    /// # Errors
    /// A share outside 0 to 1; lumps that no car has.
    pub fn at(&self, driver: bool, fuel_share: T) -> Result<Lump<T>, VehicleError> {
        within("fuel share", fuel_share.re(), 0.0, 1.0)?;
        let mut car = self.dry;
        if driver {
            car = car.combine(&self.driver, constant(1.0), "driver")?;
        }
        let fuel = Lump {
            mass: self.full_tank.mass * fuel_share,
            inertia: self.full_tank.inertia.map(|t| t * fuel_share),
            ..self.full_tank
        };
        car.combine(&fuel, constant(1.0), "fuel")
    }
}

/// The sprung mass: the car less both axles' unsprung masses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sprung<T> {
    /// Mass [kg].
    pub mass: T,
    /// Centre of gravity [m].
    pub centre: Vector3<T>,
    /// Share of it that the front springs carry [-].
    pub front_share: T,
}

/// Splits off the unsprung masses, each axle's as a point on the centre plane at its axle.
///
/// # Errors
/// Unsprung masses that leave nothing, or no wheelbase.
pub fn sprung<T: Real>(
    car: &Lump<T>,
    wheelbase: T,
    (front_mass, front_height): (T, T),
    (rear_mass, rear_height): (T, T),
) -> Result<Sprung<T>, VehicleError> {
    not_negative("front unsprung mass", front_mass.re())?;
    not_negative("rear unsprung mass", rear_mass.re())?;
    let at = |mass, x: T, z| Lump {
        mass,
        centre: Vector3::new(x, constant(0.0), z),
        inertia: None,
        estimated: true,
    };
    let minus = constant::<T>(-1.0);
    let rest = car
        .combine(&at(front_mass, constant(0.0), front_height), minus, "front unsprung mass")?
        .combine(&at(rear_mass, -wheelbase, rear_height), minus, "rear unsprung mass")?;
    let (front, _) = rest.axle_masses(wheelbase)?;
    Ok(Sprung { mass: rest.mass, centre: rest.centre, front_share: front / rest.mass })
}

#[cfg(test)]
#[path = "ledger_tests.rs"]
mod tests;

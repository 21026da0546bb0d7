//! A weighing with one end raised: what was read, and under which conditions.

use linkage::scalar::Real;
use num_dual::Dual64;
use suspension::AxleEnd;

use super::scales::{Input, SCALE_MISMATCH, agree};
use crate::error::{VehicleError, not_negative, positive, within};

/// How the lift was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lift<T> {
    /// Change of the body's tilt [rad], by an inclinometer on the body: no tyre or spring correction enters but
    /// the springs' own place of the wheels.
    Angle(T),
    /// Height of the pads under the tyres of the raised end [m].
    Pads(T),
    /// Rise of the wheel centres of the raised end above the floor, against their height when level [m].
    Hubs(T),
}

/// What was read with the end raised [kg], sum of both wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RaisedReading<T> {
    /// Scales under the low end only.
    Low(T),
    /// Scales under the raised end only.
    Raised(T),
    /// Scales under both ends: the mismatch with the level mass is shared by half.
    Both {
        /// Under the low end.
        low: T,
        /// Under the raised end.
        raised: T,
    },
}

/// Which wheels cannot turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// All roll (the car is kept by chocks on rolling pads, or by nothing).
    None,
    /// One axle is braked, the other rolls: no horizontal force, for nothing balances it.
    OneAxle,
    /// All wheels braked, or in gear and braked: horizontal forces of unknown size.
    All,
}

/// How tyres give under the changed load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Squash<T> {
    /// Rigid, or the difference is not wanted.
    Rigid,
    /// Vertical rate of one tyre at the front and at the rear [N/m].
    Rates {
        /// Front tyre.
        front: T,
        /// Rear tyre.
        rear: T,
    },
}

/// Whether the suspension moved when the end was raised.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Springing<T> {
    /// Blocked: solid struts in place of dampers.
    Locked,
    /// Free: wheels move along the body's z against their springs.
    Free {
        /// Wheel rate of the front axle, both wheels together [N/m].
        front_rate: T,
        /// Wheel rate of the rear axle, both wheels together [N/m].
        rear_rate: T,
        /// Unsprung mass of the front axle [kg].
        front_unsprung: T,
        /// Unsprung mass of the rear axle [kg].
        rear_unsprung: T,
    },
}

/// A weighing with one end raised, with what the level weighing said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Raised<T> {
    /// Mass on the front axle, level [kg].
    pub front_mass: T,
    /// Mass on the rear axle, level [kg].
    pub rear_mass: T,
    /// Wheelbase [m].
    pub wheelbase: T,
    /// Loaded radius of the front tyres, level [m].
    pub front_radius: T,
    /// Loaded radius of the rear tyres, level [m].
    pub rear_radius: T,
    /// Which end was raised.
    pub end: AxleEnd,
    /// By how much.
    pub lift: Lift<T>,
    /// What the scales said.
    pub reading: RaisedReading<T>,
    /// Wheels that could not turn.
    pub held: Held,
    /// Tyres under the changed load.
    pub squash: Squash<T>,
    /// Springs under the changed load.
    pub springing: Springing<T>,
}

impl<T: Real> Raised<T> {
    pub(super) fn check(&self) -> Result<(), VehicleError> {
        positive("front axle mass", self.front_mass.re())?;
        positive("rear axle mass", self.rear_mass.re())?;
        positive("wheelbase", self.wheelbase.re())?;
        not_negative("front loaded radius", self.front_radius.re())?;
        not_negative("rear loaded radius", self.rear_radius.re())?;
        if let Squash::Rates { front, rear } = self.squash {
            positive("front tyre rate", front.re())?;
            positive("rear tyre rate", rear.re())?;
        }
        if let Springing::Free { front_rate, rear_rate, front_unsprung, rear_unsprung } = self.springing {
            positive("front axle rate", front_rate.re())?;
            positive("rear axle rate", rear_rate.re())?;
            within("front unsprung mass", front_unsprung.re(), 0.0, self.front_mass.re())?;
            within("rear unsprung mass", rear_unsprung.re(), 0.0, self.rear_mass.re())?;
        }
        let mass = (self.front_mass + self.rear_mass).re();
        let reading = |name, value: T| within(name, value.re(), 0.0, mass * (1.0 + SCALE_MISMATCH));
        match self.reading {
            RaisedReading::Low(low) => reading("reading under the low end", low).map(drop),
            RaisedReading::Raised(raised) => reading("reading under the raised end", raised).map(drop),
            RaisedReading::Both { low, raised } => {
                reading("reading under the low end", low)?;
                reading("reading under the raised end", raised)?;
                agree(mass, (low + raised).re())
            }
        }?;
        if self.held == Held::All { Err(VehicleError::AllWheelsHeld) } else { Ok(()) }
    }
}

impl Raised<f64> {
    /// The same weighing with a unit derivative on one reading; the dual part of the solution is its derivative.
    /// Either level scale of an axle is a reading of its own and moves the axle's mass alike.
    pub fn seeded(&self, by: Input) -> Raised<Dual64> {
        let seed = |on: bool, value: f64| Dual64::new(value, f64::from(u8::from(on)));
        let on = |input, value: f64| seed(input == by, value);
        Raised {
            front_mass: seed(matches!(by, Input::FrontLeft | Input::FrontRight), self.front_mass),
            rear_mass: seed(matches!(by, Input::RearLeft | Input::RearRight), self.rear_mass),
            wheelbase: on(Input::Wheelbase, self.wheelbase),
            front_radius: on(Input::FrontRadius, self.front_radius),
            rear_radius: on(Input::RearRadius, self.rear_radius),
            end: self.end,
            lift: match self.lift {
                Lift::Angle(v) => Lift::Angle(on(Input::Lift, v)),
                Lift::Pads(v) => Lift::Pads(on(Input::Lift, v)),
                Lift::Hubs(v) => Lift::Hubs(on(Input::Lift, v)),
            },
            reading: match self.reading {
                RaisedReading::Low(v) => RaisedReading::Low(on(Input::LowReading, v)),
                RaisedReading::Raised(v) => RaisedReading::Raised(on(Input::RaisedReading, v)),
                RaisedReading::Both { low, raised } => RaisedReading::Both {
                    low: on(Input::LowReading, low),
                    raised: on(Input::RaisedReading, raised),
                },
            },
            held: self.held,
            squash: match self.squash {
                Squash::Rigid => Squash::Rigid,
                Squash::Rates { front, rear } => Squash::Rates {
                    front: on(Input::FrontTyreRate, front),
                    rear: on(Input::RearTyreRate, rear),
                },
            },
            springing: match self.springing {
                Springing::Locked => Springing::Locked,
                Springing::Free { front_rate, rear_rate, front_unsprung, rear_unsprung } => Springing::Free {
                    front_rate: on(Input::FrontAxleRate, front_rate),
                    rear_rate: on(Input::RearAxleRate, rear_rate),
                    front_unsprung: on(Input::FrontUnsprung, front_unsprung),
                    rear_unsprung: on(Input::RearUnsprung, rear_unsprung),
                },
            },
        }
    }

    /// What each reading's standard uncertainty adds to the height [m], signed: `dh/dx u(x)`. Their root of the sum of
    /// squares is the height's (JCGM 100:2008, 5.1.2).
    ///
    /// # Errors
    /// As [`Raised::solve`], or a negative uncertainty.
    pub fn contributions(&self, readings: &[(Input, f64)]) -> Result<Vec<(Input, f64)>, VehicleError> {
        readings
            .iter()
            .map(|&(input, u)| {
                not_negative("standard uncertainty", u)?;
                Ok((input, self.seeded(input).solve()?.height.eps * u))
            })
            .collect()
    }
}

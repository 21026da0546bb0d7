//! Balance: rates and frequencies, bars, load transfer, understeer, stability over speed and deceleration.
//!
//! [`ride`] for one corner, [`spring`] and [`bar`] for rates from sizes, [`transfer`] for the load moved in a turn, [`cornering`] for
//! the axle that gives up first and [`changes`] for what single changes do to that, [`handling`] for the single-track model, [`trim`] for that model at a speed and a
//! longitudinal acceleration.

pub mod bar;
pub mod changes;
pub mod cornering;
pub mod handling;
pub mod ride;
pub mod spring;
pub mod transfer;
pub mod trim;

pub use bar::{Arms, Bar, roll_stiffness_from_bar, roll_stiffness_from_springs, with_tyres};
pub use changes::{Change, Effect, effects};
pub use cornering::{CorneringCar, CorneringLimit};
pub use handling::{Modes, SingleTrack, Steady};
pub use ride::{Ride, RideCorner, quarter_car};
pub use spring::{coil_rate, leaf_rate};
pub use transfer::{AxleRoll, AxleTransfer, RollingCar, Transferred};
pub use trim::{Trim, TrimCar, map};

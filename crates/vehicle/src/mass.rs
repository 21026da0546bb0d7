//! Weigh: mass, its place, its inertia, and how the springs share it.
//!
//! [`scales`] for the level car, [`raised`] and [`height`] with one end raised, [`ledger`] for parts out and in, [`inertia`] for
//! estimates, [`perch`] for spring-perch turns.

pub mod height;
pub mod inertia;
pub mod ledger;
pub mod perch;
pub mod raised;
pub mod scales;

pub use height::Tilted;
pub use inertia::{Gyration, estimate};
pub use ledger::{Entry, Load, Lump, OwnInertia, Sprung, States, sprung};
pub use perch::{PerchCorner, PerchPlan, Perches, Settled};
pub use raised::{Held, Lift, Raised, RaisedReading, Springing, Squash};
pub use scales::{Input, Level, LevelResult};

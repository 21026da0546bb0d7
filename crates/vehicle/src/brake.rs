//! Stop: from the pedal to the road, to distance and to heat.
//!
//! [`foundation`] is the brake of one wheel, [`hydraulics`] the system of parts, [`limit`] the car at a deceleration and
//! its first lock (`greatest` what its tyres could give at best), [`stopping`] the stop as it runs, [`bias`] what to set the bar to, [`heat`] the discs.

pub mod bias;
pub mod foundation;
mod greatest;
pub mod heat;
pub mod hydraulics;
pub mod limit;
pub mod stopping;

pub use bias::{
    BiasRow, CurvePoint, bias_chart, curves, lock_order, locks_together, rear_first_from, share_by_pedal,
};
pub use foundation::{Caliper, CaliperKind, Foundation, Pad, PadState, WheelBrake, effective_radius};
pub use heat::{Cooling, Disc, Heating, Phase, PhaseHeat};
pub use hydraulics::{Applied, Split, System, Valve};
pub use limit::{AxleLoads, Effort, Grip, Limit, StoppingCar, Utilisation};
pub use stopping::{Driver, StopRun, Stopped, stop};

//! Tyres as the file gives them.

use std::ops::Range;

use vehicle::tyre::Parameters;

use super::Value;

/// The tyres of an axle.
#[derive(Clone, Debug, PartialEq)]
pub struct TyreReading {
    /// Which model, with its figures.
    pub model: TyreModel,
    /// Pressure \[Pa\] that is set, for the setup card: nothing follows from it.
    pub pressure: Option<AsEntered>,
    /// Vertical rate of one tyre \[N/m\].
    pub vertical_rate: Option<Value>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// A figure that is only handed on, in the words in which it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct AsEntered {
    /// What it is, SI.
    pub value: f64,
    /// As written, with a unit.
    pub words: String,
}

/// Figures of a tyre.
#[derive(Clone, Debug, PartialEq)]
pub enum TyreModel {
    /// A handful of figures.
    Simple(SimpleReading),
    /// A published parameter set.
    Magic(Box<Parameters>),
}

/// A tyre by a handful of figures, as `vehicle::tyre::SimpleTyre` takes them.
#[derive(Clone, Debug, PartialEq)]
pub struct SimpleReading {
    /// Load at which the following hold \[N\].
    pub nominal_load: Value,
    /// Peak friction along.
    pub friction_along: Value,
    /// Peak friction across.
    pub friction_across: Value,
    /// Share of friction lost when the load doubles.
    pub load_sensitivity: Value,
    /// Cornering stiffness \[N/rad\].
    pub cornering_stiffness: Value,
    /// Load at which cornering stiffness is greatest \[N\].
    pub stiffest_load: Value,
    /// Slip stiffness \[N\].
    pub slip_stiffness: Value,
    /// Side rate of the carcass at the contact \[N/m\].
    pub lateral_rate: Value,
    /// Least and greatest load for which the figures hold \[N\].
    pub loads: (f64, f64),
    /// Keys that the file leaves out and that are taken from common practice.
    pub assumed: Vec<&'static str>,
}

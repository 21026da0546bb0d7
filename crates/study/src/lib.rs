//! Positions against consequences: the choice table with its ±, the search for holes, sweeps, worked numbers.
//!
//! A [`Subject`] is one axle of a car with everything uncertain about it as a list of parameters; every result
//! is an [`Estimate`] that keeps its derivative by each of them, so that differences between rows carry their
//! own ±, smaller than that of either row.

mod align;
mod arm;
mod balance;
pub mod build;
mod card;
mod check;
mod choice;
mod curve;
mod drive;
mod estimate;
mod evaluate;
mod explain;
mod facts;
mod fit;
mod in_stop;
mod jig;
mod manoeuvres;
mod plate;
mod present;
mod quantity;
mod search;
mod settle;
mod stage;
mod stop;
mod subject;
mod summary;
mod sweep;
mod weigh;
pub mod weights;
mod whole;
pub mod words;

pub use arm::{arm_is_long, long_arm_words, short_arm_words};
pub use balance::balance;
pub use card::{Card, Item, Set, Step, Work, card, cards, steps};
pub use check::check;
pub use choice::{Candidate, Choice, Column, Missing, Row, Tie, candidates, choose, quick_row, row};
pub use curve::{CHARTED, Curve, chart_places, chart_travel, charted, curves, sweep_rack};
pub use drive::{Draws, Search, Setting, Tried, Way, cores, drive};
pub use estimate::Estimate;
pub use explain::{Term, Worked, explain};
pub use facts::{Facts, Figures};
pub use fit::{Adjustment, LinkFit, Shift};
pub use jig::{
    Consequence, Datum, Diagonal, Exactness, Fix, ILL_CONDITIONED, Jig, JigRole, JigRow, Limit, Need, Side,
    TAPE_IS_ENOUGH, Tape, Together, jig,
};
pub use manoeuvres::{CAUTION as MANOEUVRES_CAUTION, manoeuvres};
pub use plate::PlateFrame;
pub use present::{Shown, shown, shown_alike};
pub use quantity::{About, Built, InStop, Quantity, Scale};
pub use search::{Found, Overlap, Placed, Remedy, SearchError, Unmet, Wish, as_hole, find_holes, overlaps};
pub use settle::settle;
pub use stage::{
    Cell, Chart, ChartAxis, Curve as ChartCurve, Finding, Group, Map, Motion, MotionMoment, Stage, Track,
};
pub use stop::stop;
pub use subject::{Inputs, Parameter, StudyError, Subject};
pub use summary::summary;
pub use sweep::{RollStation, RollSweep, Station, Stop, Sweep, sweep, sweep_roll};
pub use weigh::{
    EXPLAINED, Input, LoadState, PerchAdvice, WeighError, Weighed, Weight, about_weight, explain_weight,
    weigh,
};
pub use whole::Lack;

//! Forces in links, arms and pickups: in balance at every body, in keeping with the motion of the wheel, and against
//! statics by hand and another solver. The scripts are in `reference/`.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod arms;
mod balance;
mod exudyn;
mod planes;
mod refusals;
mod statics;
mod support;

//! Mechanisms whose positions are known in closed form or from states printed in a textbook. The data are made by
//! `reference/closed_forms.py`; each test names its source and whether it was read or remembered.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod four_bar;
mod freedom;
mod slider_crank;
mod squeezer;
mod support;
mod truss;

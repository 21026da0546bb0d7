//! Checks of single parts against worked examples, and what must hold of them whatever the figures.

#![allow(missing_docs, reason = "tests")]
#![expect(clippy::unwrap_used, reason = "a fault in a helper fails its test")]

mod bolt;
mod common;
mod faults;
mod invariants;
mod link;
mod member;
mod tab;
mod wall;
mod weld;

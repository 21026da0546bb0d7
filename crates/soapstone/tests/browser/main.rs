//! The page as its reader meets it: the real program, a real Chromium.
//!
//! Pictures of every state are left in `target/tmp/screens`. Without Chromium and chromedriver the tests say that
//! they are skipped; where `CI=true` they fail instead.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test that cannot go on has failed and says so, and clippy sees tests only in functions marked so"
)]

mod begin;
#[path = "../common/chromium.rs"]
mod chromium;
mod drag;
mod keep;
mod load;
mod looks;
mod measure;
mod motion;
mod numbers;
mod reach;
#[path = "../common/served.rs"]
mod served;
mod solid;
mod stage;
mod sync;
mod tab;
mod weigh;

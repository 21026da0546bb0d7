//! The program as its user meets it: the real binary, its output, its messages and its exit codes.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed, and clippy sees tests only in functions marked so"
)]

mod build;
mod drive;
mod exits;
mod figures;
mod manoeuvres;
mod mistakes;
mod open;
mod paper;
mod run;
mod search;
mod shell;
mod stage;
mod tables;
mod weigh;

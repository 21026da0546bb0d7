//! The server as a stranger meets it: raw HTTP to the real program. What is not ours gets nothing, what is malformed
//! does no harm, what was accepted survives a kill.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed, and clippy sees tests only in functions marked so"
)]

mod build;
mod files;
mod http;
mod kill;
mod lan;
mod malformed;
mod markup;
mod measure;
mod origin;
mod paper;
#[path = "../common/served.rs"]
mod served;
mod stage;
mod weigh;

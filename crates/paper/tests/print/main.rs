//! Pages as they come out of a printer: scale measured on pictures, words where they are seen, text that can be
//! found.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::print_stderr)]

mod book;
mod files;
mod flow;
mod picture;
mod scale;
mod tools;

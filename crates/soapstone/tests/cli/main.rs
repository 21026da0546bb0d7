//! The program as its user meets it: the real binary, its output, its messages and its exit codes.

mod exits;
mod figures;
mod mistakes;
mod run;
mod shell;

//! The space frame against handbooks, another solver, closed forms and itself.

#![expect(clippy::unwrap_used, reason = "a test stops where it cannot go on")]

mod beams;
mod common;
mod handbook;
mod invariants;
mod loose;
mod reference;
mod robust;

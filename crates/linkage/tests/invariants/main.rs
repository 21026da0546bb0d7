//! What must hold for any linkage: derivatives against differences, virtual work against reactions, and that
//! nothing depends on where the axes stand. One mechanism with every kind of joint serves for all.

#![expect(clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod derivatives;
mod placement;
mod work;
mod zoo;

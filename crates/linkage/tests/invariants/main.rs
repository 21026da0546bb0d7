//! What must hold for any linkage: derivatives against differences, virtual work against reactions, and that
//! nothing depends on where the axes stand. One mechanism with every kind of joint serves for all.

mod derivatives;
mod placement;
mod work;
mod zoo;

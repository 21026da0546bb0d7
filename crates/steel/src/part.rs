//! Single parts under one load: straight members, links with rod ends, bolts and groups of them, tabs, welds, and the wall
//! of a tube under a tab.
//!
//! Each part is a plain struct whose `checks` gives one [`crate::Check`] for every way in which it may give way. Where a
//! standard of building construction is followed, its partial factor is already in the capacity.

mod bolt;
mod bolt_group;
mod figure;
mod link;
mod member;
mod rod_end;
mod stress;
mod tab;
mod thread;
mod wall;
mod weld;
mod weld_line;

pub use bolt::{Bolt, BoltLoad, Clamp, Planes, Spread};
pub use bolt_group::{BoltGroup, GroupLoad};
pub use link::{Link, LinkEnd};
pub use member::{BALL_ENDS, Internal, Member};
pub use rod_end::{EndLoad, RodEnd};
pub use tab::{Root, Tab, TabLoad};
pub use thread::Thread;
pub use wall::{TubeWall, WallLoad};
pub use weld::{WeldGroup, WeldLoad};
pub use weld_line::WeldLine;

/// Partial factor of sections, gamma M0 (EN 1993-1-1 6.1; remembered). National annexes may differ.
pub const GAMMA_M0: f64 = 1.0;

/// Partial factor of bolts, welds, plates in bearing and net sections, gamma M2 (EN 1993-1-8 table 2.1; read in open guides).
/// National annexes may differ.
pub const GAMMA_M2: f64 = 1.25;

/// Partial factor of slip, gamma M3 (EN 1993-1-8 table 2.1; remembered). National annexes may differ.
pub const GAMMA_M3: f64 = 1.25;

/// Partial factor of hollow sections under a plate, gamma M5 (EN 1993-1-8 table 2.1; remembered). National annexes may
/// differ.
pub const GAMMA_M5: f64 = 1.0;

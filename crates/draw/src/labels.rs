//! Where the words of a drawing go: never over one another, over a mark or off the page.
//!
//! The most important label chooses first among places around its anchor, near ones before far ones; one that
//! had to move away gets a leader. What finds no room is tried in its short form, then left out.

mod place;
mod width;

pub(crate) use place::{Label, Layout};
pub use width::text_width;
pub(crate) use width::{LINE, elide};

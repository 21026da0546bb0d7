//! What can be wrong with what is handed to this crate.

use thiserror::Error;

/// Why a part, a section or a frame cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SteelError {
    /// A figure that no part has.
    #[error("{what} is {value}, which no part has")]
    Figure {
        /// Which figure.
        what: &'static str,
        /// Its value, SI.
        value: f64,
    },
    /// No spring or damper of that number carries the corner.
    #[error("no spring or damper carries the corner")]
    NoHolder,
    /// Numbers that are not finite went in or came out.
    #[error("the forces are not finite numbers")]
    NotFinite,
    /// The joints cannot carry the load.
    #[error("the joints do not hold the load: {left:.1} N are left over")]
    GivesWay {
        /// Largest force [N], or moment over a metre, left over.
        left: f64,
    },
    /// A figure that must not be less than zero.
    #[error("{what} is {value}: it must not be negative")]
    Negative {
        /// Which figure.
        what: &'static str,
        /// Its value, SI.
        value: f64,
    },
    /// A tensile strength below the yield strength.
    #[error(
        "{what} breaks at {:.0} MPa before it yields at {:.0} MPa: were the two strengths exchanged?",
        breaks / 1e6, yields / 1e6
    )]
    Strengths {
        /// Which part.
        what: &'static str,
        /// Yield strength [Pa].
        yields: f64,
        /// Tensile strength [Pa].
        breaks: f64,
    },
    /// A hole that leaves nothing beside it.
    #[error(
        "a hole of {:.1} mm leaves nothing of a tab {:.1} mm wide: make the tab wider or the hole smaller",
        hole * 1e3, width * 1e3
    )]
    HoleTooWide {
        /// Hole [m].
        hole: f64,
        /// Width of the tab [m].
        width: f64,
    },
    /// A hole that breaks out of the end.
    #[error(
        "a hole of {:.1} mm breaks out of an end {:.1} mm from its centre: leave more beyond the hole",
        hole * 1e3, edge * 1e3
    )]
    HoleAtEdge {
        /// Hole [m].
        hole: f64,
        /// Centre of the hole to the end [m].
        edge: f64,
    },
    /// A bolt thicker than its hole.
    #[error(
        "a bolt of {:.1} mm does not go through a hole of {:.1} mm: enlarge the hole or take a thinner bolt",
        bolt * 1e3, hole * 1e3
    )]
    BoltInHole {
        /// Bolt [m].
        bolt: f64,
        /// Hole [m].
        hole: f64,
    },
    /// A wall that fills its tube.
    #[error(
        "a wall of {:.2} mm fills a tube of {:.1} mm: take a thinner wall, or write a bar or a flat",
        wall * 1e3, size * 1e3
    )]
    WallTooThick {
        /// Wall [m].
        wall: f64,
        /// Least outer size [m].
        size: f64,
    },
    /// A text that names no section.
    #[error("`{text}` names no section: {reason}; write for instance `{example}`")]
    NotAShape {
        /// The text.
        text: String,
        /// What is wrong with it.
        reason: &'static str,
        /// How it is written.
        example: &'static str,
    },
    /// A grade that is not in the table.
    #[error("`{name}` is not in the table of {kind}: see its list of names, or give its strengths yourself")]
    Unknown {
        /// The name.
        name: String,
        /// Which table.
        kind: &'static str,
    },
    /// No welds, or no bolts.
    #[error("there are no {what} to carry the load: give at least one")]
    None {
        /// What is missing.
        what: &'static str,
    },
    /// Welds or bolts in one line that are to take a moment about that line.
    #[error(
        "the {what} lie in one line or one point and cannot take a moment about it: add one beside the line"
    )]
    InLine {
        /// What lies in line.
        what: &'static str,
    },
    /// A direction without length, or one that lies along another.
    #[error("{what} gives no direction: give one that is not zero, and not along the line it stands on")]
    Direction {
        /// Which direction.
        what: &'static str,
    },
    /// Corners that are rounder than the tube is wide.
    #[error("corners of radius {corner} m do not fit on a tube of {size} m: at most half of that")]
    Corner {
        /// Outer radius of the corners [m].
        corner: f64,
        /// Least outer size [m].
        size: f64,
    },
}

//! What can be wrong with a frame, in words for who builds it.

use std::fmt;

use nalgebra::Vector3;
use thiserror::Error;

/// Why a frame cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FrameError {
    /// No tube at all.
    #[error("the frame has no tube")]
    Empty,
    /// Nothing holds the frame.
    #[error("the frame stands on no foot")]
    NoFoot,
    /// A part of the frame that no foot holds and that hangs on nothing.
    #[error("node `{node}` and what hangs on it ({count} nodes) is joined to no foot")]
    Adrift {
        /// A node of that part.
        node: String,
        /// Nodes of that part.
        count: usize,
    },
    /// A node that is not there.
    #[error("{what} asks for node number {node}, and there are {count}")]
    UnknownNode {
        /// What asks for it.
        what: String,
        /// Its index.
        node: usize,
        /// Nodes that there are.
        count: usize,
    },
    /// A node to which neither tube nor tie comes.
    #[error("no tube reaches node `{node}`")]
    Unreached {
        /// The node.
        node: String,
    },
    /// A tube without length.
    #[error("tube `{tube}` has no length: it goes from node `{first}` to node `{second}`")]
    NoLength {
        /// The tube.
        tube: String,
        /// Node of its first end.
        first: String,
        /// Node of its second end.
        second: String,
    },
    /// A direction for the section's z that lies along the tube.
    #[error("the direction that turns the section of tube `{tube}` lies along the tube")]
    Up {
        /// The tube.
        tube: String,
    },
    /// A figure of a section or a steel that is no positive number, or out of all range.
    #[error("the {figure} of tube `{tube}` is {value}, which no tube has")]
    Figure {
        /// The tube.
        tube: String,
        /// Which figure.
        figure: &'static str,
        /// Its value, SI.
        value: f64,
    },
    /// A place or a load that is not a number, or out of all range.
    #[error("{what} is {value}, which cannot be")]
    Number {
        /// What it is.
        what: String,
        /// Its value, SI.
        value: f64,
    },
    /// Two feet on one node.
    #[error("node `{node}` has two feet")]
    TwoFeet {
        /// The node.
        node: String,
    },
    /// A tie of fewer than two nodes.
    #[error("tie `{tie}` joins fewer than two nodes")]
    LoneTie {
        /// The tie.
        tie: String,
    },
    /// Something that can move with nothing to hold it.
    #[error("node `{node}` can {motion} with nothing to hold it{}", company(*.others))]
    Loose {
        /// The node that moves most.
        node: String,
        /// How it moves.
        motion: Motion,
        /// Other nodes that move with it.
        others: usize,
    },
    /// A moment where all tubes come on balls.
    #[error("node `{node}` is held by balls alone and takes no moment, but {moment:.3e} N m acts there")]
    MomentOnBalls {
        /// The node.
        node: String,
        /// The moment [N m].
        moment: f64,
    },
    /// Stiffnesses so far apart that the figures cannot be trusted.
    #[error("the stiffest and the softest of the frame are too far apart to be worked out together")]
    TooFarApart,
}

/// A movement that nothing holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Motion {
    /// Along a direction of length 1.
    Shift(Vector3<f64>),
    /// About a direction of length 1.
    Turn(Vector3<f64>),
}

impl FrameError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Empty => "add tubes",
            Self::NoFoot => "hold at least one node",
            Self::Adrift { .. } => "join it to the rest by a tube, or hold one of its nodes",
            Self::UnknownNode { .. } => "name a node that is there, or add it",
            Self::Unreached { .. } => "take the node out, or bring a tube to it",
            Self::NoLength { .. } => "take the tube out and use one node, or move a node",
            Self::Up { .. } => "give a direction across the tube, or none",
            Self::Figure { .. } | Self::Number { .. } => "look at the figure and at its unit",
            Self::TwoFeet { .. } => "put what both hold into one foot",
            Self::LoneTie { .. } => "take the tie out, or add the nodes of the plate",
            Self::Loose { .. } => "brace it with a tube, weld a ball joint, or hold it by a foot",
            Self::MomentOnBalls { .. } => "weld one of its tubes, or let the load act at the node itself",
            Self::TooFarApart => "use a tie for what is stiff, a foot that is fixed for a very stiff spring",
        }
    }
}

impl fmt::Display for Motion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shift(direction) => write!(f, "move along {}", Direction(direction)),
            Self::Turn(axis) => write!(f, "turn about {}", Direction(axis)),
        }
    }
}

/// Names an axis of the car, or writes the direction out.
struct Direction<'a>(&'a Vector3<f64>);

/// Largest part across an axis of the car at which a direction still goes by its name.
const NAMED: f64 = 0.005;

impl fmt::Display for Direction<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let v = self.0;
        for (name, axis) in [("x", Vector3::x()), ("y", Vector3::y()), ("z", Vector3::z())] {
            if v.cross(&axis).norm() < NAMED {
                return f.write_str(name);
            }
        }
        // Adding 0 turns -0.00 into 0.00.
        let [x, y, z] = [v.x, v.y, v.z].map(|c| (c * 100.0).round() / 100.0 + 0.0);
        write!(f, "({x:.2}, {y:.2}, {z:.2})")
    }
}

fn company(others: usize) -> String {
    match others {
        0 => String::new(),
        1 => ", and one other node with it".to_owned(),
        more => format!(", and {more} other nodes with it"),
    }
}

//! What carries the loads: load cases, links, brackets, the frame.

use std::ops::Range;

use nalgebra::Vector3;
use steel::grade::{Class, Grade};
use steel::section::Shape;
use steel::stock::BoltSize;

use super::{End, SurveyPoint};

/// `[build]`.
#[derive(Clone, Debug)]
pub struct BuildReading {
    /// How many times the loads of every case each part is to hold.
    pub wanted: f64,
    /// Steel of whatever states no other.
    pub grade: Grade,
    /// Whether frame and brackets count in the ledger of the weights.
    pub in_ledger: bool,
    /// Load cases of the file: changes of usual ones, and own ones.
    pub cases: Vec<CaseReading>,
    /// Parts of the front axle, where the file says anything of them.
    pub front: Option<AxleBuild>,
    /// Parts of the rear axle.
    pub rear: Option<AxleBuild>,
    /// What the pickups hang from.
    pub frame: Option<FrameReading>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// How many times its loads a part is to hold where the file states nothing (common practice in the trade: 1.5 on yield).
pub(crate) const WANTED: f64 = 1.5;

/// Steel of a part that states none (common practice: the softest that a shop may hand out).
pub(crate) const GRADE: &str = "S235";

impl BuildReading {
    /// What a file without `[build]` has: nothing but usual figures. `None` if the table of steels lacks the usual one.
    pub fn usual() -> Option<Self> {
        Some(Self {
            wanted: WANTED,
            grade: Grade::named(GRADE).ok().cloned()?,
            in_ledger: false,
            cases: Vec::new(),
            front: None,
            rear: None,
            frame: None,
            span: 0..0,
        })
    }
}

/// What links and brackets of an axle are made of.
#[derive(Clone, Debug, Default)]
pub struct AxleBuild {
    /// What links have that state nothing of their own.
    pub links: LinkReading,
    /// The same for brackets.
    pub brackets: BracketReading,
    /// Links and arms by name (`link.lower-fore`, `lower-arm`), usual figures filled in.
    pub own_links: Vec<(String, LinkReading)>,
    /// Brackets by point (that of `link.lower-fore.body`), usual figures filled in.
    pub own_brackets: Vec<(usize, BracketReading)>,
}

impl BuildReading {
    /// The parts of an axle.
    pub fn axle(&self, end: End) -> Option<&AxleBuild> {
        match end {
            End::Front => self.front.as_ref(),
            End::Rear => self.rear.as_ref(),
        }
    }
}

impl AxleBuild {
    /// What a link or an arm is made of; the legs of an arm share its name.
    pub fn link(&self, name: &str) -> &LinkReading {
        let own = self.own_links.iter().find(|(own, _)| is_of(name, own));
        own.map_or(&self.links, |(_, reading)| reading)
    }

    /// The same with another section.
    #[must_use]
    pub fn with_section(&self, name: &str, section: (String, Shape)) -> Self {
        let mut changed = self.clone();
        let reading = LinkReading { section: Some(section), ..self.link(name).clone() };
        changed.own_links.retain(|(own, _)| !is_of(name, own));
        changed.own_links.push((name.to_string(), reading));
        changed
    }

    /// The bracket at a point, and whether it has a table of its own.
    pub fn bracket(&self, point: usize) -> (&BracketReading, bool) {
        let own = self.own_brackets.iter().find(|(own, _)| *own == point);
        own.map_or((&self.brackets, false), |(_, reading)| (reading, true))
    }

    /// The same with another bracket there.
    #[must_use]
    pub fn with_bracket(&self, point: usize, reading: BracketReading) -> Self {
        let mut changed = self.clone();
        changed.own_brackets.retain(|(own, _)| *own != point);
        changed.own_brackets.push((point, reading));
        changed
    }
}

/// Whether a link or a leg is what a table is about.
fn is_of(name: &str, own: &str) -> bool {
    name.strip_prefix(own).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
}

/// How hard: as far as the car can, or stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ask {
    /// A share of what tyres, brakes and loads let.
    Limit(f64),
    /// An acceleration \[m/s^2\].
    Stated(f64),
}

/// A load case as the file has it: what it leaves out is as in the usual case of that name, or nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CaseReading {
    /// Its name.
    pub name: String,
    /// Taken out.
    pub off: bool,
    /// Braking.
    pub braking: Option<Ask>,
    /// Cornering; the outer wheel is on the left and on the right in turn.
    pub cornering: Option<Ask>,
    /// Driving.
    pub driving: Option<Ask>,
    /// Speed, for the air \[m/s\].
    pub speed: Option<f64>,
    /// Upright force on the struck wheel, in its loads at rest.
    pub up: Option<f64>,
    /// Force on the struck wheel toward the car, in its loads at rest.
    pub inward: Option<f64>,
    /// Force on the struck wheel rearward, in its loads at rest.
    pub rearward: Option<f64>,
    /// Height above the road at which those two strike \[m\].
    pub height: Option<f64>,
    /// Pickup under which a jack stands: axle and point.
    pub jack: Option<(End, usize)>,
    /// What the jack lifts, in loads of that axle at rest.
    pub lifts: Option<f64>,
    /// Factor on all of it.
    pub factor: Option<f64>,
    /// Where it comes from, in the user's words.
    pub why: Option<String>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// What a link or a leg of an arm is made of.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LinkReading {
    /// Tube or bar.
    pub section: Option<(String, Shape)>,
    /// Its steel.
    pub grade: Option<Grade>,
    /// Threads of its ends.
    pub thread: Option<&'static BoltSize>,
    /// Its balls sit in housings, not on threaded shanks.
    pub housed: Option<bool>,
    /// Property class of the threaded shanks, where their maker states one.
    pub shank: Option<&'static Class>,
    /// From the middle of a ball to the nut that holds its shank \[m\].
    pub ball_to_nut: Option<f64>,
    /// Static rating of its bearings across the hole \[N\], from their maker.
    pub radial: Option<f64>,
    /// Static rating of its bearings along the hole \[N\], from their maker.
    pub axial: Option<f64>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// The bracket of a pickup: bolt, tabs, weld.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BracketReading {
    /// Bolt.
    pub bolt: Option<&'static BoltSize>,
    /// Its property class.
    pub class: Option<&'static Class>,
    /// Tabs: two hold the end between them, one has it at its side.
    pub double: Option<bool>,
    /// Whether the thread lies in a shear plane.
    pub thread_in_shear: Option<bool>,
    /// Between the end's ball or sleeve and a tab, each side \[m\].
    pub gap: Option<f64>,
    /// Width of the end's ball or sleeve along the bolt \[m\].
    pub grip: Option<f64>,
    /// Whether the bolt is torqued so that it clamps.
    pub torqued: Option<bool>,
    /// Thickness of a tab \[m\].
    pub tab: Option<f64>,
    /// Width of a tab across the load \[m\].
    pub width: Option<f64>,
    /// From the hole's middle to the tab's end \[m\].
    pub edge: Option<f64>,
    /// Hole \[m\].
    pub hole: Option<f64>,
    /// From the hole's middle to the weld \[m\].
    pub reach: Option<f64>,
    /// Steel of the tabs.
    pub grade: Option<Grade>,
    /// Leg of the fillet welds \[m\].
    pub weld: Option<f64>,
    /// Length of the weld on each face of a tab \[m\].
    pub weld_length: Option<f64>,
    /// Thickness of a plate between the tabs and the wall of the tube, as wide as its face \[m\].
    pub doubler: Option<f64>,
    /// Direction of the bolt, left side.
    pub bolt_along: Option<Vector3<f64>>,
    /// Direction in which the tab stands, from its weld to the hole, left side.
    pub tab_along: Option<Vector3<f64>>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// What the pickups hang from, both sides of the car.
#[derive(Clone, Debug)]
pub struct FrameReading {
    /// Nodes; those of the right have a name that ends in [`RIGHT`].
    pub nodes: Vec<FrameNode>,
    /// Tubes.
    pub tubes: Vec<FrameTube>,
    /// Plates that make some nodes one stiff piece.
    pub plates: Vec<FramePlate>,
    /// Where it meets the shell.
    pub feet: Vec<FrameFoot>,
    /// Which node a pickup hangs from, left: axle, point, node; and the same node of the right.
    pub carries: Vec<FramePickup>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// Ends the name of what stands on the right.
pub const RIGHT: &str = ".right";

/// A node.
#[derive(Clone, Debug)]
pub struct FrameNode {
    /// Its name.
    pub name: String,
    /// Where it is.
    pub at: SurveyPoint,
    /// Its mirror image; itself in the middle of the car.
    pub twin: usize,
}

/// A tube from node to node.
#[derive(Clone, Debug)]
pub struct FrameTube {
    /// Its name.
    pub name: String,
    /// Nodes.
    pub ends: [usize; 2],
    /// Whether each end is a ball that takes no moment.
    pub balls: [bool; 2],
    /// Its section as written, and read.
    pub section: (String, Shape),
    /// Its steel.
    pub grade: Option<Grade>,
    /// Direction of the section's height.
    pub up: Option<Vector3<f64>>,
    /// Whether it is the mirror image of another one.
    pub mirrored: bool,
    /// Place in the file.
    pub span: Range<usize>,
}

/// A plate.
#[derive(Clone, Debug)]
pub struct FramePlate {
    /// Its name.
    pub name: String,
    /// Nodes.
    pub nodes: Vec<usize>,
}

/// Where the frame meets the shell.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameFoot {
    /// Node.
    pub node: usize,
    /// Rate along x, y, z \[N/m\]; infinite where it does not give, zero where nothing holds.
    pub rate: [f64; 3],
    /// Rate about x, y, z \[N m/rad\].
    pub turn_rate: [f64; 3],
}

/// A pickup and the nodes that carry it.
#[derive(Clone, Debug, PartialEq)]
pub struct FramePickup {
    /// Axle.
    pub end: End,
    /// Point of its scheme.
    pub point: usize,
    /// Node on the left; that on the right is its twin.
    pub node: usize,
}

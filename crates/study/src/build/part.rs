//! A part with the checks that were made of it: per way of giving way the worst over all cases.

use project::model::{Axle, AxleBuild, End};
use steel::Check;
use steel::grade::Grade;

/// An axle with what its parts are made of.
#[derive(Clone, Copy)]
pub(super) struct Made<'a> {
    pub axle: &'a Axle,
    pub parts: &'a AxleBuild,
    /// Of whatever states no steel of its own.
    pub grade: &'a Grade,
}

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PartKind {
    /// Tube or bar of a link.
    Link,
    /// Rod ends of a link.
    RodEnd,
    /// Bolt of a pickup.
    Bolt,
    /// Tabs of a pickup.
    Tab,
    /// Welds of a pickup's tabs.
    Weld,
    /// Wall of the frame's tube under a pickup's tabs.
    Wall,
    /// Tube of the frame.
    Tube,
}

/// A part that was checked, or that lacks what a check needs.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is.
    pub kind: PartKind,
    /// Axle; `None` for the frame.
    pub end: Option<End>,
    /// Its name in the file: `link.lower-fore`, `link.lower-fore.body`, a tube.
    pub name: String,
    /// What it is made of, as written.
    pub made_of: String,
    /// Worst check of each way to give way, the weakest first.
    pub checks: Vec<Judged>,
    /// What could not be checked, with what to write.
    pub lacks: Vec<String>,
}

/// A check with where it comes from.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The check.
    pub check: Check,
    /// Load case, by its index.
    pub case: usize,
    /// On the right of the car, where the left is the outer and the struck side.
    pub right: bool,
}

impl PartKind {
    /// In a word.
    pub fn words(self) -> &'static str {
        match self {
            Self::Link => "link",
            Self::RodEnd => "rod end",
            Self::Bolt => "bolt",
            Self::Tab => "tab",
            Self::Weld => "weld",
            Self::Wall => "wall",
            Self::Tube => "tube",
        }
    }
}

impl Part {
    /// A part without checks yet.
    pub(super) fn new(kind: PartKind, end: Option<End>, name: &str, made_of: impl Into<String>) -> Self {
        Self {
            kind,
            end,
            name: name.to_string(),
            made_of: made_of.into(),
            checks: Vec::new(),
            lacks: Vec::new(),
        }
    }

    /// Its name with its axle, as the file has it: `rear link.lower-fore`.
    pub fn full_name(&self) -> String {
        match self.end {
            Some(end) => format!("{} {}", end.name(), self.name),
            None => self.name.clone(),
        }
    }

    /// Takes checks up, keeping the worst of each kind.
    pub(super) fn take(&mut self, checks: Vec<Check>, case: usize, right: bool) {
        for check in checks {
            match self.checks.iter_mut().find(|own| own.check.failure == check.failure) {
                Some(own) if own.check.holds() <= check.holds() => {}
                Some(own) => *own = Judged { check, case, right },
                None => self.checks.push(Judged { check, case, right }),
            }
        }
    }

    /// Sorts the weakest first.
    pub(super) fn sorted(mut self) -> Self {
        self.checks.sort_by(|a, b| a.check.holds().total_cmp(&b.check.holds()));
        self
    }

    /// The weakest.
    pub fn worst(&self) -> Option<&Judged> {
        self.checks.first()
    }

    /// How many times its loads it holds; infinite where nothing could be checked or nothing is asked.
    pub fn holds(&self) -> f64 {
        self.worst().map_or(f64::INFINITY, |judged| judged.check.holds())
    }
}

/// The weakest first; those that could not be checked last.
pub(super) fn weakest_first(parts: &mut [Part]) {
    parts.sort_by(|a, b| a.holds().total_cmp(&b.holds()));
}

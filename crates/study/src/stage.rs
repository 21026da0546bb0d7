//! The results of a stage as plain data: groups of figures, charts and maps, and what is missing for more. The
//! terminal, the page, the JSON and the paper lay out this one thing.

use std::borrow::Cow;

use units::UnitSystem;

use crate::estimate::Estimate;
use crate::explain::{Term, Worked};
use crate::present::{Shown, shown, shown_alike};
use crate::quantity::{About, Scale};
use crate::whole::{Lack, WholeCar};

/// All that a stage has to say of a car.
#[derive(Clone, Debug, Default)]
pub struct Stage {
    /// Tables of figures, the headline first.
    pub groups: Vec<Group>,
    /// Charts.
    pub charts: Vec<Chart>,
    /// Maps of a figure over two others.
    pub maps: Vec<Map>,
    /// Courses with a figure along them.
    pub tracks: Vec<Track>,
    /// Cars in a manoeuvre.
    pub motions: Vec<Motion>,
    /// What is assumed, and what to beware of.
    pub notes: Vec<String>,
    /// Results that had to be left out, with what to write.
    pub lacks: Vec<Lack>,
}

/// A table of figures.
#[derive(Clone, Debug, Default)]
pub struct Group {
    /// What it is about.
    pub title: String,
    /// Names of the columns; one empty name for a single column.
    pub columns: Vec<String>,
    /// Rows.
    pub rows: Vec<Finding>,
    /// What is said below it, in plain words.
    pub words: Vec<String>,
}

/// One result.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Name in JSON and for `explain`.
    pub key: &'static str,
    /// A name of its own, where the same result stands more than once.
    pub label: Option<String>,
    /// What there is to say about it.
    pub about: About,
    /// How it is shown.
    pub scale: Scale,
    /// A value for each column.
    pub cells: Vec<Cell>,
    /// This car's figures in the formula, of the first column.
    pub terms: Vec<Term>,
}

/// One value of a result.
#[derive(Clone, Debug, Default)]
pub struct Cell {
    /// The value; `None` where it is not known, or a word says it.
    pub estimate: Option<Estimate>,
    /// A word in the value's place: `front`, `none`.
    pub word: Option<String>,
    /// Why the value is past what the model can say; shown beside the number.
    pub outside: Option<String>,
    /// Which figures the ± comes from, largest first, with their share of the variance.
    pub doubts: Vec<(String, f64)>,
}

/// What one axis shows.
#[derive(Clone, Debug)]
pub struct ChartAxis {
    /// What is measured along it.
    pub label: String,
    /// How its values are shown.
    pub scale: Scale,
}

/// Curves over one quantity.
#[derive(Clone, Debug)]
pub struct Chart {
    /// Name in JSON.
    pub key: Cow<'static, str>,
    /// What it shows.
    pub title: String,
    /// How to read it.
    pub words: String,
    /// Along the page.
    pub x: ChartAxis,
    /// Up the page.
    pub y: ChartAxis,
    /// The curves.
    pub series: Vec<Curve>,
    /// Places worth a word, along x.
    pub marks: Vec<(f64, String)>,
}

/// A curve, SI; a gap where a value is not finite.
#[derive(Clone, Debug)]
pub struct Curve {
    /// Its name.
    pub name: String,
    /// Places and values.
    pub points: Vec<(f64, f64)>,
}

/// A figure over two others, row by row.
#[derive(Clone, Debug)]
pub struct Map {
    /// Name in JSON.
    pub key: &'static str,
    /// What it shows.
    pub title: String,
    /// How to read it.
    pub words: String,
    /// Along the page.
    pub x: ChartAxis,
    /// Up the page.
    pub y: ChartAxis,
    /// The figure.
    pub of: ChartAxis,
    /// Places along x, SI.
    pub xs: Vec<f64>,
    /// Places along y, SI.
    pub ys: Vec<f64>,
    /// Values, `ys` outside, `xs` inside; `None` where there is no such state.
    pub values: Vec<Option<f64>>,
    /// Border values worth a line, with a word each: `0`, `unstable`.
    pub borders: Vec<(f64, String)>,
}

/// A course as seen from above, with a figure along it.
#[derive(Clone, Debug)]
pub struct Track {
    /// Name in JSON.
    pub key: String,
    /// What it shows.
    pub title: String,
    /// How to read it.
    pub words: String,
    /// The figure.
    pub of: ChartAxis,
    /// Way from one place to the next [m].
    pub step: f64,
    /// Whether the end leads to the start.
    pub closed: bool,
    /// Places [m] and the figure there, SI.
    pub places: Vec<([f64; 2], f64)>,
    /// Edges of the road, where they are known [m]: left and right of each place.
    pub edges: Vec<[[f64; 2]; 2]>,
    /// Cones [m].
    pub cones: Vec<[f64; 2]>,
    /// Where a section begins, by the index of its place.
    pub sections: Vec<(usize, String)>,
}

/// Cars in a manoeuvre over time, one over the other.
#[derive(Clone, Debug)]
pub struct Motion {
    /// Name in files.
    pub key: &'static str,
    /// What it shows.
    pub title: String,
    /// How to read it.
    pub words: String,
    /// Wheelbase, front and rear track, radius of a tyre, height of the centre of gravity [m].
    pub sizes: [f64; 5],
    /// Runs with their names.
    pub runs: Vec<(String, Vec<MotionMoment>)>,
}

/// A car at one time.
#[derive(Clone, Copy, Debug, Default)]
pub struct MotionMoment {
    /// Since the start [s].
    pub time: f64,
    /// Place of the middle of the front axle [m].
    pub place: [f64; 2],
    /// Heading, pitch (nose down) [rad], rise [m], heading of the front wheels against the body [rad].
    pub yaw: f64,
    /// See [`Self::yaw`].
    pub pitch: f64,
    /// See [`Self::yaw`].
    pub rise: f64,
    /// See [`Self::yaw`].
    pub steer: f64,
    /// Loads as shares of the weight: front left, front right, rear left, rear right.
    pub load: [f64; 4],
}

impl Stage {
    /// The result of this name, with its group.
    pub fn find(&self, key: &str) -> Option<(&Group, &Finding)> {
        self.groups.iter().find_map(|group| Some((group, group.rows.iter().find(|row| row.key == key)?)))
    }

    /// Takes a group up, or notes what it lacks, once.
    pub(crate) fn take(&mut self, group: Result<Group, Lack>) {
        match group {
            Ok(group) => self.groups.push(group),
            Err(lack) => self.lack(lack),
        }
    }

    /// Notes something that is lacking, once.
    pub(crate) fn lack(&mut self, lack: Lack) {
        if !self.lacks.contains(&lack) {
            self.lacks.push(lack);
        }
    }
}

impl Group {
    /// Why values of it are past the model, each reason once: what stands below a table, under its number from 1.
    pub fn reasons(&self) -> Vec<&str> {
        let mut reasons: Vec<&str> = Vec::new();
        for why in self.rows.iter().flat_map(|row| &row.cells).filter_map(|cell| cell.outside.as_deref()) {
            if !reasons.contains(&why) {
                reasons.push(why);
            }
        }
        reasons
    }
}

impl Cell {
    /// The mark beside a value that is past the model, by the reasons of its group: `[1]`.
    pub fn mark(&self, reasons: &[&str]) -> Option<String> {
        let why = self.outside.as_deref()?;
        Some(format!("[{}]", 1 + reasons.iter().position(|known| *known == why)?))
    }
}

impl Finding {
    /// With a value for each column.
    pub(crate) fn new(key: &'static str, about: About, scale: Scale, cells: Vec<Cell>) -> Self {
        Self { key, label: None, about, scale, cells, terms: Vec::new() }
    }

    /// Under a name of its own.
    #[must_use]
    pub(crate) fn named(mut self, label: impl Into<String>) -> Self {
        self.label = Some(label.into());
        self
    }

    /// Its name for people.
    pub fn title(&self) -> &str {
        self.label.as_deref().unwrap_or(self.about.title)
    }

    /// The worked number of one column.
    pub fn worked(&self, column: usize, units: &UnitSystem) -> Worked {
        let cell = self.cells.get(column).cloned().unwrap_or_default();
        let shown = cell.estimate.as_ref().map(|e| shown(e, self.scale, units));
        let text = shown.as_ref().map(Shown::text).or(cell.word).unwrap_or_else(|| "not known".into());
        Worked {
            about: self.about,
            terms: if column == 0 { self.terms.clone() } else { Vec::new() },
            substituted: text,
            result: cell.estimate,
            shown,
            sources_of_doubt: cell.doubts,
            remarks: cell.outside.into_iter().collect(),
        }
    }

    /// What each column shows: numbers to the same decimals, words, or a dash.
    pub fn texts(&self, units: &UnitSystem) -> Vec<String> {
        let values: Vec<Option<&Estimate>> = self.cells.iter().map(|cell| cell.estimate.as_ref()).collect();
        let shown = shown_alike(&values, self.scale, units);
        let texts = self.cells.iter().zip(shown).map(|(cell, shown)| match (shown, &cell.word) {
            (Some(shown), _) => shown.figure(),
            (None, Some(word)) => word.clone(),
            (None, None) => "–".into(),
        });
        texts.collect()
    }
}

impl Cell {
    /// A value with its ±, and where that comes from.
    pub(crate) fn of(car: &WholeCar, estimate: Option<Estimate>) -> Self {
        let doubts = estimate.as_ref().map(|e| car.doubts(e)).unwrap_or_default();
        let doubts = doubts.into_iter().take(5).map(|(name, share)| (name.to_string(), share)).collect();
        Self { estimate, doubts, ..Self::default() }
    }

    /// A value without ±.
    pub(crate) fn plain(value: f64) -> Self {
        Self { estimate: Some(Estimate { value, contributions: Vec::new() }), ..Self::default() }
    }

    /// A word.
    pub(crate) fn word(word: impl Into<String>) -> Self {
        Self { word: Some(word.into()), ..Self::default() }
    }

    /// Marked as past what the model can say.
    #[must_use]
    pub(crate) fn marked(mut self, outside: bool, why: &str) -> Self {
        self.outside = outside.then(|| why.to_string());
        self
    }
}

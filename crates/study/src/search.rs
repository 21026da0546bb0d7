//! The inverse of the choice table: hole places on a plate for wanted values.
//!
//! The plate and a border around it are sampled on a grid; the level line of each wish is traced through the
//! grid; places on it that keep the plate's rules are the wish's candidates; a branch-and-bound search takes one
//! candidate for each wish so that spacings hold and the link lengths differ least from the drawn one. What
//! cannot be met is explained by the rule that would have to give.

use nalgebra::{Vector2, Vector3};
use project::model::{Hole, Plate, SurveyPoint};
use suspension::{Corner, Measures, Mover};
use thiserror::Error;

use crate::evaluate::facts;
use crate::plate::PlateFrame;
use crate::quantity::Quantity;
use crate::subject::{Inputs, Subject};

mod overlap;
mod pick;
mod remedy;

pub use overlap::{Overlap, overlaps};

use pick::{Choice, pick};

/// Grid cells along the longer side of the sampled area.
const CELLS: usize = 90;

/// Border sampled around the plate, as a share of its size: how far "a larger plate" is looked at.
const BORDER: f64 = 0.6;

/// Places that a wish keeps for the combination search, thinned evenly along its level line.
const PLACES: usize = 120;

/// Steps of the root search along one grid edge.
const ROOT_STEPS: usize = 60;

/// A wanted value of a quantity at ride height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// What.
    pub quantity: Quantity,
    /// How much, SI.
    pub value: f64,
}

/// A hole found on the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Index of the wish.
    pub wish: usize,
    /// What it gives, SI.
    pub value: f64,
    /// Place in the car's axes [m].
    pub at: Vector3<f64>,
    /// Place on the plate: along its first edge, and square to it [m].
    pub on_plate: Vector2<f64>,
    /// Distance from the centre to the plate's edge [m].
    pub margin: f64,
    /// Distance to the nearest other hole placed [m]; infinite for a single hole.
    pub spacing: f64,
    /// Length of the link [m], where a rod ends here.
    pub link_length: Option<f64>,
    /// Change of the value per metre along the first edge and square to it: what a drill that wanders costs.
    pub slope: Vector2<f64>,
}

/// A wish that the plate cannot meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// Index of the wish.
    pub wish: usize,
    /// Smallest and largest value that the plate's rules allow, SI; `None` where no place is allowed at all.
    pub reachable: Option<(f64, f64)>,
    /// Nearest place that the rules allow.
    pub nearest: Option<Placed>,
    /// What would have to give.
    pub remedies: Vec<Remedy>,
}

/// A rule that, relaxed by itself, lets a wish be met.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Remedy {
    /// Edge distance down to this many bolt diameters.
    Edge(f64),
    /// Plate larger by this much [m] at this place [m].
    LargerPlate(f64, Vector3<f64>),
    /// A link of this length [m].
    LinkLength(f64),
}

/// What the search found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// One hole for each wish that can be met, spacings kept; empty if the wishes clash.
    pub placed: Vec<Placed>,
    /// Wishes that cannot be met by themselves.
    pub unmet: Vec<Unmet>,
    /// Where wishes can be met one by one but not together: the nearest set that keeps the spacing.
    pub instead: Option<Vec<Placed>>,
    /// Link length as drawn [m], where a rod ends here.
    pub drawn_length: Option<f64>,
}

/// A search that cannot start.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SearchError {
    /// The outline encloses nothing.
    #[error("the plate `{0}` has no area")]
    NoArea(String),
    /// Nothing was wished.
    #[error("no value is wished for")]
    NoWish,
    /// A wish is not a number.
    #[error("a wished value is not a usable number")]
    NotFinite,
    /// No place on or near the plate gives the quantity a value.
    #[error(
        "no place on or near the plate `{0}` gives a wheel that works; check the plate's corners and the link's other end"
    )]
    NothingThere(String),
}

/// One sampled place.
#[derive(Clone, Copy, Debug)]
struct Sample {
    at: Vector2<f64>,
    value: f64,
    margin: f64,
    length: Option<f64>,
}

/// The plate with what its places give.
struct Field<'s, 'a> {
    subject: &'s Subject<'a>,
    plate: &'s Plate,
    frame: PlateFrame,
    inputs: Inputs<f64>,
    other: Option<usize>,
    quantity: Quantity,
}

/// Finds holes on a plate for the wishes (all of one quantity).
///
/// # Errors
/// If there is nothing to search.
pub fn find_holes(subject: &Subject<'_>, plate: &Plate, wishes: &[Wish]) -> Result<Found, SearchError> {
    let quantity = wishes.first().ok_or(SearchError::NoWish)?.quantity;
    if !wishes.iter().all(|w| w.value.is_finite()) {
        return Err(SearchError::NotFinite);
    }
    let frame = PlateFrame::new(&plate.outline).ok_or_else(|| SearchError::NoArea(plate.name.clone()))?;
    let other = subject.axle().scheme.legs_at(plate.point).next().map(|(_, o)| o);
    let field = Field { subject, plate, frame, inputs: subject.nominal(&[]), other, quantity };
    let grid = field.grid();
    if grid.nodes.iter().all(Option::is_none) {
        return Err(SearchError::NothingThere(plate.name.clone()));
    }
    let drawn_length = other.map(|o| (field.inputs.drawn[plate.point] - field.inputs.drawn[o]).norm());

    let allowed_range =
        grid.nodes.iter().flatten().filter(|s| field.allows(s)).fold(None, |range: Option<(f64, f64)>, s| {
            Some(range.map_or((s.value, s.value), |(lo, hi)| (lo.min(s.value), hi.max(s.value))))
        });
    let mut unmet = Vec::new();
    let mut met = Vec::new();
    for (i, wish) in wishes.iter().enumerate() {
        let line = field.level_line(&grid, wish.value);
        let mut places: Vec<Sample> = line.iter().copied().filter(|s| field.allows(s)).collect();
        if places.is_empty() {
            places = field.fitting_lengths(&line, grid.step, wish.value);
        }
        if places.is_empty() {
            let nearest = grid
                .nodes
                .iter()
                .flatten()
                .filter(|s| field.allows(s))
                .min_by(|a, b| (a.value - wish.value).abs().total_cmp(&(b.value - wish.value).abs()))
                .map(|s| field.placed(i, s));
            unmet.push(Unmet {
                wish: i,
                reachable: allowed_range,
                nearest,
                remedies: remedy::remedies(&field, &line),
            });
        } else {
            met.push((i, thin(places, PLACES)));
        }
    }
    let spacing = plate.spacing * plate.bolt;
    let cost = |s: &Sample| {
        let longer = match (s.length, drawn_length) {
            (Some(l), Some(d)) => (l - d) * 1e3,
            _ => 0.0,
        };
        // Millimetres of link length first; then, weakly, distance from the edge.
        longer * longer - s.margin.min(2.0 * plate.edge * plate.bolt)
    };
    let choices: Vec<Vec<Choice>> = met
        .iter()
        .map(|(_, places)| places.iter().map(|s| Choice { at: s.at, cost: cost(s) }).collect())
        .collect();
    let mut placed = Vec::new();
    let mut instead = None;
    if let Some(chosen) = pick(&choices, spacing) {
        placed = chosen.iter().zip(&met).map(|(c, (i, places))| field.placed(*i, &places[*c])).collect();
    } else {
        instead = field.nearest_set(&grid, wishes, &met.iter().map(|m| m.0).collect::<Vec<_>>(), spacing);
    }
    set_spacings(&mut placed);
    if let Some(set) = &mut instead {
        set_spacings(set);
    }
    Ok(Found { placed, unmet, instead, drawn_length })
}

/// A hole on the plate, to be added to the axle and put into the choice table with its ±.
pub fn as_hole(plate: &Plate, name: String, at: Vector3<f64>) -> Hole {
    Hole {
        name,
        point: plate.point,
        at: SurveyPoint { at, uncertainty: Vector3::repeat(plate.uncertainty), span: plate.span.clone() },
    }
}

struct Grid {
    step: f64,
    columns: usize,
    nodes: Vec<Option<Sample>>,
}

impl Field<'_, '_> {
    fn sample(&self, at: Vector2<f64>) -> Option<Sample> {
        let mut inputs = self.inputs.clone();
        let place = self.frame.place(&at);
        *inputs.points.get_mut(self.plate.point)? = place;
        let corner: Corner<f64> = match self.quantity {
            Quantity::MotionRatio(_) | Quantity::WheelRate(_) => self.subject.corner(&inputs),
            _ => self.subject.corner_of_rods(&inputs),
        }
        .ok()?;
        let mut mover = Mover::new(&corner);
        let measures: Measures<f64> = mover.at(0.0, 0.0).ok()?;
        let course = mover.solver().course();
        let value = self.quantity.value(&facts(self.subject, &inputs, &corner, measures, &course))?;
        let length = self.other.map(|o| (inputs.points[o] - place).norm());
        Some(Sample { at, value, margin: self.frame.margin(&at), length })
    }

    /// Whether the plate's rules allow a hole here (spacing apart).
    fn allows(&self, s: &Sample) -> bool {
        self.edge_holds(s) && self.length_holds(s)
    }

    fn edge_holds(&self, s: &Sample) -> bool {
        s.margin >= self.plate.edge * self.plate.bolt - 1e-9
    }

    fn length_holds(&self, s: &Sample) -> bool {
        match (s.length, self.plate.link_length) {
            (Some(l), Some((least, most))) => (least - 1e-9..=most + 1e-9).contains(&l),
            _ => true,
        }
    }

    fn grid(&self) -> Grid {
        let (lo, hi) = self.frame.bounds();
        let border = (hi - lo) * BORDER;
        let (lo, size) = (lo - border, hi - lo + border * 2.0);
        let step = size.max() / CELLS as f64;
        let (columns, rows) = ((size.x / step).ceil() as usize + 1, (size.y / step).ceil() as usize + 1);
        let nodes = (0..columns * rows)
            .map(|i| self.sample(lo + Vector2::new((i % columns) as f64, (i / columns) as f64) * step))
            .collect();
        Grid { step, columns, nodes }
    }

    /// Places where the value is as wished, one on every grid edge that the level line crosses.
    fn level_line(&self, grid: &Grid, wish: f64) -> Vec<Sample> {
        let mut line = Vec::new();
        for (i, node) in grid.nodes.iter().enumerate() {
            let Some(a) = node else { continue };
            let right = (i % grid.columns + 1 < grid.columns).then_some(i + 1);
            for b in [right, Some(i + grid.columns)].into_iter().flatten() {
                let Some(b) = grid.nodes.get(b).copied().flatten() else { continue };
                if (a.value - wish) * (b.value - wish) <= 0.0 && a.value != b.value {
                    line.extend(self.root(a, &b, wish));
                }
            }
        }
        line
    }

    /// Between two places on either side of a wish, the place that meets it (regula falsi, Illinois variant).
    fn root(&self, a: &Sample, b: &Sample, wish: f64) -> Option<Sample> {
        let (mut ta, mut fa, mut tb, mut fb) = (0.0, a.value - wish, 1.0, b.value - wish);
        let mut best = if fa.abs() < fb.abs() { *a } else { *b };
        for _ in 0..ROOT_STEPS {
            if (best.value - wish).abs() <= 1e-9 * (1.0 + wish.abs()) || fa == fb {
                break;
            }
            let t = (ta * fb - tb * fa) / (fb - fa);
            let s = self.sample(a.at + (b.at - a.at) * t)?;
            let f = s.value - wish;
            best = s;
            if f * fb < 0.0 {
                (ta, fa) = (tb, fb);
            } else {
                fa *= 0.5;
            }
            (tb, fb) = (t, f);
        }
        // A jump across the wish (a pole of the quantity) is no place that meets it.
        ((best.value - wish).abs() <= 1e-6 * (1.0 + wish.abs())).then_some(best)
    }

    /// Places on the level line where the link has the middle of its range of lengths: what is left where the
    /// range is so narrow that no place found on the grid falls into it.
    fn fitting_lengths(&self, line: &[Sample], step: f64, wish: f64) -> Vec<Sample> {
        let Some((shortest, longest)) = self.plate.link_length else { return Vec::new() };
        let middle = 0.5 * (shortest + longest);
        let mut found = Vec::new();
        for (i, a) in line.iter().enumerate() {
            for b in &line[i + 1..] {
                let (Some(la), Some(lb)) = (a.length, b.length) else { continue };
                if (b.at - a.at).norm() > 1.5 * step || (la - middle) * (lb - middle) > 0.0 {
                    continue;
                }
                let (mut near, mut far) = (*a, *b);
                for _ in 0..ROOT_STEPS {
                    let Some(between) = self.onto_line(&near, &far, wish) else { break };
                    let same_side = (between.length.unwrap_or(middle) - middle)
                        * (near.length.unwrap_or(middle) - middle);
                    if same_side > 0.0 {
                        near = between;
                    } else {
                        far = between;
                    }
                    if (far.at - near.at).norm() < 1e-8 {
                        break;
                    }
                }
                found.extend([near].into_iter().filter(|s| self.allows(s)));
            }
        }
        found
    }

    /// The place of the level line beside the middle of two neighbours on it (secant square to their chord).
    fn onto_line(&self, a: &Sample, b: &Sample, wish: f64) -> Option<Sample> {
        let chord = b.at - a.at;
        let square = Vector2::new(-chord.y, chord.x).try_normalize(1e-12)?;
        let middle = a.at + chord * 0.5;
        let mut last = self.sample(middle)?;
        let (mut s0, mut f0) = (0.0, last.value - wish);
        let mut s1 = 0.1 * chord.norm();
        for _ in 0..ROOT_STEPS {
            if f0.abs() <= 1e-9 * (1.0 + wish.abs()) {
                return Some(last);
            }
            let next = self.sample(middle + square * s1)?;
            let f1 = next.value - wish;
            if f1 == f0 {
                return None;
            }
            let s2 = s1 - f1 * (s1 - s0) / (f1 - f0);
            (s0, f0, s1, last) = (s1, f1, s2, next);
        }
        None
    }

    fn placed(&self, wish: usize, s: &Sample) -> Placed {
        let step = 1e-4;
        let slope = |d: Vector2<f64>| match (self.sample(s.at + d), self.sample(s.at - d)) {
            (Some(a), Some(b)) => (a.value - b.value) / (2.0 * step),
            _ => f64::NAN,
        };
        Placed {
            wish,
            value: s.value,
            at: self.frame.place(&s.at),
            on_plate: s.at,
            margin: s.margin,
            spacing: f64::INFINITY,
            link_length: s.length,
            slope: Vector2::new(slope(Vector2::new(step, 0.0)), slope(Vector2::new(0.0, step))),
        }
    }

    /// The set of allowed places, one per wish, that keeps the spacing and misses the wishes least (sum of
    /// squares), on the grid.
    fn nearest_set(
        &self,
        grid: &Grid,
        wishes: &[Wish],
        which: &[usize],
        spacing: f64,
    ) -> Option<Vec<Placed>> {
        let allowed: Vec<Sample> = grid.nodes.iter().flatten().copied().filter(|s| self.allows(s)).collect();
        let allowed = thin(allowed, 4 * PLACES);
        let choices: Vec<Vec<Choice>> = which
            .iter()
            .map(|i| {
                let miss = |s: &Sample| (s.value - wishes[*i].value).powi(2);
                allowed.iter().map(|s| Choice { at: s.at, cost: miss(s) }).collect()
            })
            .collect();
        let chosen = pick(&choices, spacing)?;
        Some(chosen.iter().zip(which).map(|(c, i)| self.placed(*i, &allowed[*c])).collect())
    }
}

/// Keeps at most `most` of the places, evenly.
fn thin(places: Vec<Sample>, most: usize) -> Vec<Sample> {
    let n = places.len();
    if n <= most {
        return places;
    }
    (0..most).map(|i| places[i * n / most]).collect()
}

fn set_spacings(placed: &mut [Placed]) {
    let places: Vec<Vector2<f64>> = placed.iter().map(|p| p.on_plate).collect();
    for (i, p) in placed.iter_mut().enumerate() {
        p.spacing = places
            .iter()
            .enumerate()
            .filter(|(j, _)| *j != i)
            .map(|(_, o)| (o - p.on_plate).norm())
            .fold(f64::INFINITY, f64::min);
    }
}

//! The car as the page has it: the file's, with holes chosen and points moved on trial, at an attitude.

use draw::Scene;
use nalgebra::Vector3;
use project::model::{Axle, Car, End};
use study::{Candidate, Choice, Row, StudyError, Subject};
use suspension::{AxleMover, Mover, diagnose};

use super::hold;
use crate::web::desk::Kept;
use crate::web::shown::{Share, Shown};
use crate::web::trial::{Move, Pin, Trial};

/// The car as the page has it.
pub(crate) struct Stand<'a> {
    /// The file's car.
    pub base: &'a Car,
    /// What is shown, a drag that is going on made part of the trial.
    pub shown: Shown,
    /// The car on trial.
    pub car: Car,
    /// Holes in use on it.
    pub holes: Vec<usize>,
    /// The file's own table.
    pub choice: Option<&'a Kept>,
    /// Why there are none.
    pub wrong: Option<StudyError>,
    /// Row of the car on trial; `None` where the file has a row for it.
    pub row: Option<Row>,
    /// The same with every moved point as a hole, for what it asks of the links; not while a point is dragged.
    pub asks: Option<Row>,
    /// Rows of the pinned variants.
    pub pinned: Vec<Row>,
    /// The drawing at the attitude; `None` where it cannot be built.
    pub scene: Option<Standing>,
    /// Drawings of the pinned variants.
    pub pinned_scenes: Vec<(String, Scene)>,
    /// Drawing of the state before the drag.
    pub ghost: Option<Scene>,
    /// Why the car on trial cannot be drawn, or what was not reached.
    pub remarks: Vec<String>,
}

/// A drawing with where it really stands.
pub(crate) struct Standing {
    pub scene: Scene,
    /// What binds, where the attitude cannot be reached.
    pub stopped: Option<String>,
}

impl<'a> Stand<'a> {
    /// Works out everything that the page shows.
    pub fn new(base: &'a Car, mut shown: Shown, choice: Option<&'a Kept>, wrong: Option<StudyError>) -> Self {
        let end = shown.axle;
        let mut before = None;
        if let Some(drag) = shown.drag.clone() {
            before = Some(shown.trial.clone());
            let to = hold::held(base, &shown, &drag);
            shown.point = Some(drag.to.what.clone());
            shown.trial.put(Move { what: drag.to.what, to });
        }
        let car = shown.trial.apply(base, end);
        let holes = shown.trial.holes(&car, end);
        let mut remarks = Vec::new();
        if shown.share == Some(Share::Car) {
            return Self::of_rows(base, shown, car, holes, choice);
        }
        let scene = match standing(&car, end, &holes, &shown) {
            Ok(standing) => {
                remarks.extend(standing.stopped.clone());
                Some(standing)
            }
            Err(error) => {
                remarks.push(error.to_string());
                None
            }
        };
        let work_out = |trial: &Trial| {
            let car = trial.apply(base, end);
            let holes = trial.holes(&car, end);
            standing(&car, end, &holes, &shown).ok().map(|s| s.scene)
        };
        let of = |trial: &Trial| match choice {
            Some(kept) => {
                let question = format!("{trial} at {} {} {}", shown.travel, shown.roll, shown.rack);
                kept.memory.scenes.of(question, || work_out(trial))
            }
            None => work_out(trial),
        };
        let ghost = before.as_ref().and_then(of);
        let pinned_scenes = shown.pins.iter().filter_map(|p| Some((p.name.clone(), of(&p.trial)?))).collect();
        let mut stand = Self {
            base,
            car,
            holes,
            choice,
            wrong,
            row: None,
            asks: None,
            pinned: Vec::new(),
            scene,
            pinned_scenes,
            ghost,
            remarks,
            shown,
        };
        stand.work_out_rows();
        stand
    }

    /// Without drawings: of the row on trial, those figures that take the whole car.
    fn of_rows(base: &'a Car, shown: Shown, car: Car, holes: Vec<usize>, choice: Option<&'a Kept>) -> Self {
        let mut stand = Self {
            base,
            shown,
            car,
            holes,
            choice,
            wrong: None,
            row: None,
            asks: None,
            pinned: Vec::new(),
            scene: None,
            pinned_scenes: Vec::new(),
            ghost: None,
            remarks: Vec::new(),
        };
        stand.work_out_trial();
        stand
    }

    /// Whether figures are left for an answer behind this one.
    pub fn answers_later(&self) -> bool {
        let follows = |choice: &Kept| choice.columns.iter().any(|column| self.shown.follows(column.quantity));
        self.shown.share == Some(Share::Axle) && self.choice.is_some_and(follows)
    }

    /// The axle on trial; the parser of the address makes sure that it is there.
    pub fn axle(&self) -> Option<&Axle> {
        self.car.axle(self.shown.axle)
    }

    /// Index of the file's row that is in use.
    pub fn in_use(&self) -> Option<usize> {
        let rows = self.choice?;
        if !self.shown.trial.moves.is_empty() {
            return None;
        }
        let with = &self.shown.trial.with;
        rows.rows.iter().position(|r| r.candidate.holes == self.holes && r.candidate.with == *with)
    }

    /// Name of the state on trial: what was moved, how far.
    pub fn trial_name(&self) -> String {
        name_of(self.base, self.shown.axle, &self.shown.trial)
    }

    fn work_out_trial(&mut self) {
        let Some(rows) = self.choice else { return };
        if self.shown.trial.is_empty() || self.in_use().is_some() {
            return;
        }
        let end = self.shown.axle;
        let depth = match (&self.shown.drag, self.shown.share) {
            (None, _) => Depth::Full,
            (Some(_), Some(Share::Axle)) => Depth::Axle,
            (Some(_), _) => Depth::Quick,
        };
        self.row = row_of(&self.car, end, &self.holes, self.trial_name(), rows, depth);
        if depth == Depth::Full {
            // Of this row nothing but what it asks of the links is shown.
            let (car, holes) = self.shown.trial.as_holes(self.base, end);
            self.asks = row_of(&car, end, &holes, self.trial_name(), rows, Depth::Axle);
        }
    }

    fn work_out_rows(&mut self) {
        self.work_out_trial();
        let Some(rows) = self.choice else { return };
        let end = self.shown.axle;
        let pins: Vec<Pin> = self.shown.pins.clone();
        self.pinned = pins
            .into_iter()
            .filter_map(|pin| {
                rows.memory.rows.of(pin.to_string(), || {
                    let car = pin.trial.apply(self.base, end);
                    let holes = pin.trial.holes(&car, end);
                    row_of(&car, end, &holes, pin.name.clone(), rows, Depth::Full)
                })
            })
            .collect();
    }
}

/// How much of a row is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Depth {
    Full,
    /// Without the ± of the whole car's figures, which takes many equilibria.
    Quick,
    /// Without those figures.
    Axle,
}

fn row_of(car: &Car, end: End, holes: &[usize], name: String, rows: &Choice, depth: Depth) -> Option<Row> {
    let subject = Subject::new(car, end).ok()?;
    let candidate = Candidate::new(name, holes.to_vec());
    Some(match depth {
        Depth::Full => study::row(&subject, candidate, rows),
        Depth::Quick | Depth::Axle => study::quick_row(&subject, candidate, rows, depth == Depth::Axle),
    })
}

/// The scene of a car at the shown attitude.
pub(crate) fn standing(car: &Car, end: End, holes: &[usize], shown: &Shown) -> Result<Standing, StudyError> {
    let subject = Subject::new(car, end)?;
    let inputs = subject.nominal(holes);
    let corner = subject.corner(&inputs)?;
    if let Some(f) = diagnose(&corner).into_iter().find(|f| f.fatal) {
        return Err(StudyError::Held { message: f.message, hint: f.hint });
    }
    let rack = if corner.has_rack() { shown.rack } else { 0.0 };
    let mut left = Mover::new(&corner);
    let mut stopped = None;
    let draw = |left: &mut Mover<'_>, right: Option<&mut Mover<'_>>| match right {
        None => Scene::new(car, subject.axle(), &corner, left, &inputs.points),
        Some(right) => Scene::with_right(car, subject.axle(), &corner, left, right, &inputs.points),
    };
    if shown.roll == 0.0 {
        if left.at(shown.travel, rack).is_err() {
            stopped = Some(why(&subject, holes, shown.travel, rack));
        }
        return Ok(Standing { scene: draw(&mut left, None), stopped });
    }
    let mut right = Mover::new(&corner);
    match AxleMover::new(&corner).roll(shown.roll, rack) {
        Ok(state) => {
            let (l, r) = (state.left.travel + shown.travel, state.right.travel + shown.travel);
            if left.at(l, rack).is_err() || right.at(r, -rack).is_err() {
                let farthest = if l.abs() > r.abs() { l } else { r };
                stopped = Some(why(&subject, holes, farthest, rack));
            }
        }
        Err(_) => {
            let sweep = study::sweep_roll(&subject, holes, &[shown.roll], rack);
            stopped = sweep.ok().and_then(|s| s.stops.into_iter().next()).map(|s| s.words);
        }
    }
    let scene = draw(&mut left, Some(&mut right));
    Ok(Standing { scene, stopped })
}

/// What binds on the way to a travel, in words.
fn why(subject: &Subject<'_>, holes: &[usize], travel: f64, rack: f64) -> String {
    let sweep = study::sweep(subject, holes, &[travel], rack);
    sweep
        .ok()
        .and_then(|s| s.stops.into_iter().next())
        .map_or_else(|| "this attitude is out of reach".into(), |stop| stop.words)
}

/// A point's name for people: `lower-fore, body end` for `link.lower-fore.body`.
pub(crate) fn point_name(scene: Option<&Standing>, what: &str) -> String {
    let (key, hole) = what.split_once('#').map_or((what, None), |(k, h)| (k, Some(h)));
    let label = scene
        .and_then(|s| s.scene.point(key).and_then(|i| s.scene.points.get(i)))
        .map_or_else(|| key.replace('.', " "), |p| p.label.clone());
    match hole {
        Some(hole) => format!("hole {hole} of {label}"),
        None => label,
    }
}

/// What a trial changes, in a few words: `lower-fore body 15 up`.
fn name_of(base: &Car, end: End, trial: &Trial) -> String {
    let mut words: Vec<String> = trial.with.iter().map(|name| format!("setup {name}")).collect();
    for place in &trial.uses {
        if let Some((_, hole)) = place.rsplit_once('=') {
            words.push(format!("hole {hole}"));
        }
    }
    for m in &trial.moves {
        let (key, hole) = m.parts();
        let short = key.strip_prefix("link.").unwrap_or(key).replace('.', " ");
        let name = hole.map_or(short, |h| format!("hole {h}"));
        let from = project::edit::place_at(base, &m.place(end));
        words.push(match from {
            Some(from) => format!("{name} {}", shift_words(base, &(m.to - from))),
            None => name,
        });
    }
    words.join(", ")
}

/// A shift in the car's words: `15 up, 4 back`.
pub(crate) fn shift_words(car: &Car, shift: &Vector3<f64>) -> String {
    use study::Scale;
    use units::{Dimension, show};
    let decimals = Scale::Length.decimals(&car.units);
    let mut words = Vec::new();
    for (value, along, against) in
        [(shift.z, "up", "down"), (shift.x, "forward", "back"), (shift.y, "out", "in")]
    {
        let n = show::number(value.abs(), Dimension::Length, &car.units, decimals);
        let n = if n.contains('.') { n.trim_end_matches('0').trim_end_matches('.') } else { &n };
        if n != "0" {
            words.push(format!("{n} {}", if value > 0.0 { along } else { against }));
        }
    }
    if words.is_empty() { "in place".into() } else { words.join(", ") }
}

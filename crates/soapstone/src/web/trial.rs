//! A car with holes chosen and points moved on trial: what the address says beyond the file.

use std::fmt;

use nalgebra::Vector3;
use project::edit::{At, Edit, Place};
use project::model::{Axle, Car, End, Hole, SurveyPoint};

use super::shown::parse_place;

/// A point put somewhere else.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Move {
    /// Point of the shown axle by its key (`link.lower-fore.body`), or `key#HOLE` for a candidate hole of it.
    pub what: String,
    /// Where to, in the car's axes [m].
    pub to: Vector3<f64>,
}

/// Setup and holes in use, and points moved.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Trial {
    /// The setup whose changes beside this axle's holes are made.
    pub with: Option<String>,
    /// END=HOLE.
    pub uses: Vec<String>,
    /// Moves, at most one a point.
    pub moves: Vec<Move>,
}

/// A trial with a name, shown beside the car.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pin {
    pub name: String,
    pub trial: Trial,
}

impl Move {
    /// Reads `KEY@x,y,z`.
    pub fn parse(text: &str) -> Option<Self> {
        let (what, at) = text.rsplit_once('@')?;
        let to = parse_place(at)?;
        (!what.is_empty()).then(|| Self { what: what.to_string(), to })
    }

    /// Key of the point, and the hole's name where a hole is moved.
    pub fn parts(&self) -> (&str, Option<&str>) {
        self.what.split_once('#').map_or((self.what.as_str(), None), |(key, hole)| (key, Some(hole)))
    }

    /// The place by the name that edits use.
    pub fn place(&self, end: End) -> Place {
        let (key, hole) = self.parts();
        let point = format!("{}.{key}", end.name());
        match hole {
            None => Place::Point(point),
            Some(name) => Place::Hole { point, name: name.to_string() },
        }
    }
}

impl fmt::Display for Move {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A hundredth of a millimetre: finer than any drill.
        write!(f, "{}@{:.5},{:.5},{:.5}", self.what, self.to.x, self.to.y, self.to.z)
    }
}

impl Pin {
    /// Reads NAME~use=END=HOLE~move=POINT@x,y,z: the tilde is taken out of names.
    pub fn parse(text: &str) -> Self {
        let mut parts = text.split('~');
        let mut pin = Self { name: parts.next().unwrap_or_default().to_string(), trial: Trial::default() };
        for part in parts {
            if let Some(name) = part.strip_prefix("with=") {
                pin.trial.with = Some(name.to_string());
            } else if let Some(place) = part.strip_prefix("use=") {
                pin.trial.uses.push(place.to_string());
            } else if let Some(m) = part.strip_prefix("move=") {
                pin.trial.moves.extend(Move::parse(m));
            }
        }
        pin
    }
}

impl fmt::Display for Pin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name.replace('~', "-"))?;
        self.trial.fmt(f)
    }
}

impl fmt::Display for Trial {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(name) = &self.with {
            write!(f, "~with={}", name.replace('~', "-"))?;
        }
        for place in &self.uses {
            write!(f, "~use={place}")?;
        }
        self.moves.iter().try_for_each(|m| write!(f, "~move={m}"))
    }
}

impl Trial {
    /// Whether the car is as the file has it.
    pub fn is_empty(&self) -> bool {
        self.with.is_none() && self.uses.is_empty() && self.moves.is_empty()
    }

    /// Puts a point somewhere. Moving a point takes it out of the hole it was in; moving a hole puts the point
    /// into it, so that the consequences show.
    pub fn put(&mut self, m: Move) {
        let (key, hole) = m.parts();
        let of_key = format!("{key}=");
        self.uses.retain(|u| !u.starts_with(&of_key));
        if let Some(hole) = hole {
            self.uses.push(format!("{key}={hole}"));
        }
        self.moves.retain(|old| old.what != m.what);
        self.moves.push(m);
    }

    /// The car in its setup with the moves made. Moves of points that it does not have are left out.
    pub fn apply(&self, car: &Car, end: End) -> Car {
        let mut car = car.with_setup(self.with.as_deref()).clone();
        let axle = match end {
            End::Front => car.front.as_mut(),
            End::Rear => car.rear.as_mut(),
        };
        if let Some(axle) = axle {
            self.moves.iter().for_each(|m| make(axle, m));
        }
        car
    }

    /// Indices of the holes in use, rising; unknown ones are left out.
    pub fn holes(&self, car: &Car, end: End) -> Vec<usize> {
        let Some(axle) = car.axle(end) else { return Vec::new() };
        let mut chosen: Vec<usize> = Vec::new();
        for place in &self.uses {
            let Some((key, name)) = place.rsplit_once('=') else { continue };
            let point = axle.scheme.point(key);
            if let Some(hole) = axle.holes.iter().position(|h| h.name == name && Some(h.point) == point) {
                chosen.retain(|h| axle.holes.get(*h).map(|h| h.point) != point);
                chosen.push(hole);
            }
        }
        chosen.sort_unstable();
        chosen
    }

    /// Holes in use on the axle that is shown, and those that the setup has on the other one.
    pub fn all_holes(&self, base: &Car, car: &Car, end: End) -> Vec<(End, usize)> {
        let setup = self.with.as_deref().and_then(|name| base.setup(name));
        let others = setup.map_or(&[][..], |setup| &setup.holes).iter().filter(|(at, _)| *at != end).copied();
        self.holes(car, end).into_iter().map(|hole| (end, hole)).chain(others).collect()
    }

    /// The car with each moved point as a candidate hole, and the holes that make it the car on trial: so the study
    /// says what the links ask for, as it does for drilled holes.
    pub fn as_holes(&self, car: &Car, end: End) -> (Car, Vec<usize>) {
        let holes_only = Self { moves: Vec::new(), ..self.clone() };
        let mut holes = holes_only.holes(car, end);
        let moved = Self {
            with: self.with.clone(),
            uses: Vec::new(),
            moves: self.moves.iter().filter(|m| m.parts().1.is_some()).cloned().collect(),
        };
        let mut car = moved.apply(car, end);
        let axle = match end {
            End::Front => car.front.as_mut(),
            End::Rear => car.rear.as_mut(),
        };
        let Some(axle) = axle else { return (car, holes) };
        for m in &self.moves {
            let (key, None) = m.parts() else { continue };
            let Some(point) = axle.scheme.point(key) else { continue };
            let Some(drawn) = axle.points.get(point).cloned() else { continue };
            holes.push(axle.holes.len());
            axle.holes.push(Hole { name: "trial".into(), point, at: SurveyPoint { at: m.to, ..drawn } });
        }
        (car, holes)
    }

    /// The edit that makes the file's car this one: moves as they are, and for a hole in use the point put there. A setup
    /// is in the file already, with its holes: of it only moves are kept.
    pub fn adopt(&self, car: &Car, end: End, label: &str) -> Option<Edit> {
        let moved = self.apply(car, end);
        let axle = moved.axle(end)?;
        let mut edits: Vec<Edit> =
            self.moves.iter().map(|m| Edit::Move { place: m.place(end), to: At::Car(m.to.into()) }).collect();
        let holes = if self.with.is_some() { Vec::new() } else { self.holes(&moved, end) };
        for hole in holes {
            let hole = axle.holes.get(hole)?;
            let key = axle.scheme.points.get(hole.point)?;
            let place = Place::Point(format!("{}.{key}", end.name()));
            edits.push(Edit::Move { place, to: At::Car(hole.at.at.into()) });
        }
        (!edits.is_empty()).then(|| Edit::Several { label: label.to_string(), edits })
    }
}

fn make(axle: &mut Axle, m: &Move) {
    let (key, hole) = m.parts();
    if key == "wheel.centre" {
        axle.wheel.centre.at = m.to;
        return;
    }
    let Some(index) = axle.scheme.point(key) else { return };
    match hole {
        None => {
            if let Some(point) = axle.points.get_mut(index) {
                point.at = m.to;
            }
        }
        Some(name) => {
            for hole in axle.holes.iter_mut().filter(|h| h.point == index && h.name == name) {
                hole.at.at = m.to;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEY: &str = "link.lower-fore.body";

    fn at(what: &str, z: f64) -> Move {
        Move { what: what.into(), to: Vector3::new(-2.1, 0.42, z) }
    }

    #[test]
    fn a_setup_is_in_the_file_already() {
        let car = project::read(include_str!("../../../../examples/plover/whole.toml")).car.unwrap();
        let uses = vec![format!("{KEY}=A")];
        let setup = Trial { with: Some("cones".into()), uses: uses.clone(), ..Trial::default() };
        assert!(setup.adopt(&car, End::Rear, "").is_none());
        assert!(Trial { uses, ..Trial::default() }.adopt(&car, End::Rear, "").is_some());
    }

    #[test]
    fn moving_a_point_takes_it_out_of_its_hole() {
        let mut trial = Trial { uses: vec![format!("{KEY}=B")], ..Trial::default() };
        trial.put(at(KEY, 0.3));
        assert_eq!(trial.uses, Vec::<String>::new());
        trial.put(at(&format!("{KEY}#C"), 0.31));
        assert_eq!(trial.uses, [format!("{KEY}=C")]);
        trial.put(at(KEY, 0.32));
        assert_eq!((trial.uses.len(), trial.moves.len()), (0, 2));
    }

    #[test]
    fn a_moved_point_as_a_hole_is_the_same_car() {
        let car = project::read(crate::cli::DEMO).car.unwrap();
        let mut trial = Trial { uses: vec![format!("{KEY}=C")], ..Trial::default() };
        trial.put(at("link.upper-aft.body", 0.45));
        let (as_holes, holes) = trial.as_holes(&car, End::Rear);
        let subject = study::Subject::new(&as_holes, End::Rear).unwrap();
        let tried = trial.apply(&car, End::Rear);
        let own = study::Subject::new(&tried, End::Rear).unwrap();
        let points = own.nominal(&trial.holes(&tried, End::Rear)).points;
        assert_eq!(subject.nominal(&holes).points, points);
        assert_eq!(holes.len(), 2);
    }

    #[test]
    fn what_is_adopted_is_the_car_on_trial() {
        let text = crate::cli::DEMO;
        let car = project::read(text).car.unwrap();
        let mut trial = Trial::default();
        trial.put(at("link.upper-aft.body", 0.45));
        trial.put(at(&format!("{KEY}#C"), 0.31));
        let edit = trial.adopt(&car, End::Rear, "trial").unwrap();
        let after = project::read(&project::edit::apply(text, &edit).unwrap()).car.unwrap();
        let tried = trial.apply(&car, End::Rear);
        let (after, tried) = (after.rear.unwrap(), tried.rear.unwrap());
        let place = |axle: &Axle, key: &str| axle.points[axle.scheme.point(key).unwrap()].at;
        let near = |a: Vector3<f64>, b: Vector3<f64>| assert!((a - b).norm() < 2e-5, "{a} {b}");
        near(place(&after, "link.upper-aft.body"), place(&tried, "link.upper-aft.body"));
        near(place(&after, KEY), Vector3::new(-2.1, 0.42, 0.31));
        assert_eq!(Trial::default().adopt(&car, End::Rear, ""), None);
    }
}

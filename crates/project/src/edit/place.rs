//! Names of the places that can be moved.

use std::fmt;

use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

use super::error::EditError;
use crate::model::{Axle, Car, End};
use crate::suggest;

/// A place in the file that has coordinates.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// A point by its name with its axle in front: `rear.link.lower-fore.body`, `front.wheel.centre`.
    Point(String),
    /// A candidate hole.
    Hole {
        /// The point that it is for: `rear.link.lower-fore.body`.
        point: String,
        /// Its name: `A`.
        name: String,
    },
    /// A corner of a plate.
    Corner {
        /// The plate with its axle in front: `rear.plate.lower-fore`.
        plate: String,
        /// Which corner, from 0.
        index: usize,
    },
}

impl fmt::Display for Place {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Point(name) => formatter.write_str(name),
            Self::Hole { point, name } => write!(formatter, "hole {name} of {point}"),
            Self::Corner { plate, index } => write!(formatter, "corner {} of {plate}", index + 1),
        }
    }
}

/// The axle, and the rest of the name.
pub(crate) fn split(name: &str) -> Result<(End, &str), EditError> {
    match name.split_once('.') {
        Some(("front", rest)) => Ok((End::Front, rest)),
        Some(("rear", rest)) => Ok((End::Rear, rest)),
        _ => Err(EditError::NotThere {
            name: name.to_string(),
            hint: Some("the name begins with its axle, `front.` or `rear.`".into()),
        }),
    }
}

impl Place {
    /// The axle that it is on, if its name says so.
    pub fn axle(&self) -> Option<End> {
        let (Self::Point(name) | Self::Hole { point: name, .. } | Self::Corner { plate: name, .. }) = self;
        split(name).ok().map(|(end, _)| end)
    }
}

/// Where a place is at present, in the car's axes on the left side \[m\]; `None` where the car has no such place.
pub fn place_at(car: &Car, place: &Place) -> Option<Vector3<f64>> {
    let axle = car.axle(place.axle()?)?;
    match place {
        Place::Point(name) => {
            let (_, name) = split(name).ok()?;
            if name == "wheel.centre" {
                return Some(axle.wheel.centre.at);
            }
            axle.points.get(axle.scheme.point(name)?).map(|point| point.at)
        }
        Place::Hole { point, name } => {
            let point = axle.scheme.point(split(point).ok()?.1)?;
            axle.holes.iter().find(|hole| hole.point == point && hole.name == *name).map(|hole| hole.at.at)
        }
        Place::Corner { plate, index } => {
            let (_, name) = split(plate).ok()?;
            let name = name.strip_prefix("plate.")?;
            axle.plates.iter().find(|plate| plate.name == name)?.outline.get(*index).copied()
        }
    }
}

/// There is no such place; says what was probably meant.
pub(crate) fn not_there(name: &str, car: Option<&Car>) -> EditError {
    let axles = car.into_iter().flat_map(|car| [car.front.as_ref(), car.rear.as_ref()]).flatten();
    let known: Vec<String> =
        axles.flat_map(|axle| names(axle).map(|p| format!("{}.{p}", axle.end.name()))).collect();
    let hint = suggest::nearest(name, known.iter().map(String::as_str));
    EditError::NotThere { name: name.to_string(), hint: hint.map(|near| format!("did you mean `{near}`?")) }
}

/// The names of an axle's points.
pub(crate) fn names(axle: &Axle) -> impl Iterator<Item = &str> {
    axle.scheme.points.iter().map(String::as_str).chain(["wheel.centre"])
}

//! The demo car on disk, and edits of it.

use std::path::Path;

use project::edit::{At, Edit, Place};
use project::store::Store;

use super::files;

pub fn plover() -> String {
    files().into_iter().find(|(name, _)| name == "plover/car.toml").expect("the demo car").1
}

pub fn open(path: &Path) -> Store {
    Store::open(path).expect("a car file").0
}

pub fn toe(text: &str) -> Edit {
    Edit::Value { path: "rear.wheel.toe".into(), text: Some(text.into()) }
}

pub fn height(z: f64) -> Edit {
    let place = Place::Point("rear.link.lower-fore.body".into());
    Edit::Move { place, to: At::Car([-2.1, 0.42, z]) }
}

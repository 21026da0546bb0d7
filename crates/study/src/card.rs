//! The setup card: all that is set in one state of the car, and the jobs from one state to another.

mod items;
mod steps;

use project::model::Car;

pub use items::{Item, Set, Work};
pub use steps::{Step, steps};

/// What is set in one state of the car.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Name of the setup; `as drawn` for the car without one.
    pub name: String,
    /// What is set, in the order of the work.
    pub items: Vec<Item>,
    /// What to know about it.
    pub notes: Vec<String>,
}

/// The card of a setup of the car; of the car as drawn without a name. `None` where there is no such setup.
pub fn card(car: &Car, name: Option<&str>) -> Option<Card> {
    let setup = match name {
        Some(name) => Some(car.setup(name)?),
        None => None,
    };
    let mut notes = Vec::new();
    let holes = setup.map_or(&[][..], |setup| &setup.holes);
    let items = items::all(car, car.with_setup(name), holes, &mut notes);
    Some(Card { name: name.unwrap_or("as drawn").to_string(), items, notes })
}

/// The cards of every setup, the car as drawn where it has none.
pub fn cards(car: &Car) -> Vec<Card> {
    if car.setups.is_empty() {
        return card(car, None).into_iter().collect();
    }
    car.setups.iter().filter_map(|setup| card(car, Some(&setup.name))).collect()
}

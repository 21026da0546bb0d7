//! Rows of different setups beside each other: what is uncertain about each car, brought into one order, so that an
//! input that two rows share cancels in their difference and one that a setup changes does not.

use crate::estimate::Estimate;

/// The uncertain inputs of all rows so far.
#[derive(Clone, Debug)]
pub(crate) struct Universe<K> {
    keys: Vec<K>,
}

impl<K: Clone + PartialEq> Universe<K> {
    /// Begins with the inputs of the file's own car.
    pub fn new(keys: Vec<K>) -> Self {
        Self { keys }
    }

    /// Where each input of another car stands among them. One that is the same in name, value and ± is the same input;
    /// any other is appended, and is that car's own.
    pub fn places(&mut self, own: &[K]) -> Vec<usize> {
        let shared = self.keys.len();
        let mut used = vec![false; shared];
        own.iter()
            .map(|key| {
                let free = |i: &usize| used.get(*i) == Some(&false) && self.keys.get(*i) == Some(key);
                let found = (0..shared).find(free);
                if let Some(slot) = found.and_then(|i| used.get_mut(i)) {
                    *slot = true;
                }
                found.unwrap_or_else(|| {
                    self.keys.push(key.clone());
                    self.keys.len() - 1
                })
            })
            .collect()
    }
}

impl Estimate {
    /// The same with its contributions at other places.
    pub(crate) fn moved_to(mut self, places: &[usize]) -> Self {
        let count = places.iter().take(self.contributions.len()).map(|p| p + 1).max().unwrap_or(0);
        let mut moved = vec![0.0; count];
        for (place, contribution) in places.iter().zip(&self.contributions) {
            if let Some(slot) = moved.get_mut(*place) {
                *slot = *contribution;
            }
        }
        self.contributions = moved;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_two_cars_share_cancels_and_what_one_changes_does_not() {
        let mut universe = Universe::new(vec![("mass", 900.0), ("bar", 16.0)]);
        let places = universe.places(&[("bar", 20.0), ("mass", 900.0)]);
        assert_eq!(places, [2, 0]);
        let other = universe.places(&[("bar", 20.0), ("mass", 900.0)]);
        assert_eq!(other, [2, 0], "two setups with the same bar have the same bar");
        let base = Estimate { value: 1.0, contributions: vec![0.3, 0.4] };
        let changed = Estimate { value: 2.0, contributions: vec![0.5, 0.3] }.moved_to(&places);
        assert_eq!(changed.contributions, [0.3, 0.0, 0.5]);
        let (difference, doubt) = changed.difference(&base);
        assert_eq!(difference, 1.0);
        assert!((doubt - 0.5f64.hypot(0.4)).abs() < 1e-12, "{doubt}");
    }

    #[test]
    fn inputs_of_one_name_stay_apart_within_a_car() {
        let mut universe = Universe::new(vec!["a", "a"]);
        assert_eq!(universe.places(&["a", "a", "a"]), [0, 1, 2]);
    }
}

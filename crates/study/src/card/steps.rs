//! From one setup to another: what has to be done, in an order in which nothing is done twice.

use units::UnitSystem;

use super::Card;
use super::items::{EVEN, Item, Set, Work, length_words};

/// One job.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Which job it is.
    pub work: Work,
    /// What to do.
    pub words: String,
}

/// The jobs that make the second state of the first: only what differs, what needs stands first.
pub fn steps(from: &Card, to: &Card, units: &UnitSystem) -> Vec<Step> {
    let was = |item: &Item| from.items.iter().find(|old| old.work == item.work && old.what == item.what);
    let mut list: Vec<Step> = to
        .items
        .iter()
        .filter_map(|item| Some(Step { work: item.work, words: job(was(item), item, units)? }))
        .collect();
    let gone = from
        .items
        .iter()
        .filter(|old| !to.items.iter().any(|item| item.work == old.work && item.what == old.what));
    list.extend(gone.map(|old| Step { work: old.work, words: format!("{}: take it off", old.what) }));
    list.sort_by_key(|step| step.work);
    list
}

/// What to do to one item; `None` where it stays.
fn job(from: Option<&Item>, to: &Item, units: &UnitSystem) -> Option<String> {
    let what = &to.what;
    match (from.map(|old| &old.set), &to.set) {
        (Some(Set::Words(old)), Set::Words(new)) if old == new => None,
        (Some(Set::Words(old)), Set::Words(new)) => Some(format!("{what}: from {old} to {new}")),
        (Some(Set::Link { length: old, .. }), Set::Link { length, per_turn, .. }) => {
            let by = length - old;
            if by.abs() < EVEN {
                return None;
            }
            let way = if by > 0.0 { "longer" } else { "shorter" };
            let (size, to) = (length_words(by.abs(), units), length_words(*length, units));
            Some(match per_turn {
                Some(turn) => format!("{what}: {:.2} turns {way} ({size}), to {to}", (by / turn).abs()),
                None => format!("{what}: another link, {size} {way}, of {to}"),
            })
        }
        (_, _) => Some(format!("{what}: {}", to.value(units))),
    }
}

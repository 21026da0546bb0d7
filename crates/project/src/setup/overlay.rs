//! What a setup changes beside its holes: tables named as the car's own, put in place of what the car has there. The car
//! is then read once more, so that a setup's figures are checked as any other's, at their own lines.

use std::sync::Arc;

use toml_edit::{Item, Table, TableLike, Value as TomlValue};

use crate::car::read_table;
use crate::diagnostic::Diagnostic;
use crate::model::{Car, Change};

/// What may be changed in a table.
#[derive(Clone, Copy)]
pub(super) enum Keys {
    /// All of it.
    All,
    /// All but these.
    But(&'static [&'static str]),
    /// These alone.
    Only(&'static [&'static str]),
}

/// Places that only a welder moves.
const PLACES: Keys = Keys::But(&["body", "mount", "on", "body-on"]);

/// Tables of the car that a setup may change.
const TABLES: [(&str, Keys); 7] = [
    ("tyre", Keys::All),
    ("pedal", Keys::All),
    ("aero", Keys::But(&["part"])),
    ("fuel", Keys::Only(&["share"])),
    ("engine", Keys::Only(&["scale", "redline"])),
    ("gearbox", Keys::All),
    ("in-hand", Keys::All),
];

/// Tables of an axle that a setup may change.
const OF_AXLE: [(&str, Keys); 8] = [
    ("tyre", Keys::All),
    ("bar", Keys::All),
    ("spring", PLACES),
    ("damper", PLACES),
    ("disc", Keys::All),
    ("drum", Keys::All),
    ("wheel", Keys::Only(&["toe", "camber"])),
    ("ride-height", Keys::Only(&["height"])),
];

/// The tables that may stand at this place of a setup, by name: `""` for the setup itself, `front` or `rear` below it.
pub(super) fn tables(axle: bool) -> &'static [(&'static str, Keys)] {
    if axle { &OF_AXLE } else { &TABLES }
}

impl Keys {
    /// Whether a key may be changed.
    pub(super) fn allow(self, key: &str) -> bool {
        match self {
            Self::All => true,
            Self::But(keys) => !keys.contains(&key),
            Self::Only(keys) => keys.contains(&key),
        }
    }
}

/// Gives every setup that changes more than holes the car that it makes, and tells what is wrong with that.
pub(crate) fn changed_cars(text: &str, root: &Table, car: &mut Car, diagnostics: &mut Vec<Diagnostic>) {
    let known = diagnostics.clone();
    for setup in &mut car.setups {
        let own = root.get("setup").and_then(Item::as_table_like).and_then(|all| all.get(&setup.name));
        let Some(own) = own.and_then(Item::as_table_like) else { continue };
        let mut merged = root.clone();
        merged.remove("setup");
        setup.changes = put(&mut merged, own);
        if setup.changes.is_empty() {
            continue;
        }
        forget_weighed_tyres(&mut merged);
        let loaded = read_table(text, &merged);
        let with =
            |d: Diagnostic| Diagnostic { message: format!("setup `{}`: {}", setup.name, d.message), ..d };
        diagnostics.extend(loaded.diagnostics.into_iter().filter(|d| !known.contains(d)).map(with));
        let mut own = loaded.car;
        if let Some((own, base)) = own.as_mut().and_then(|own| own.weigh.as_mut()).zip(car.weigh.as_ref()) {
            // It was weighed once, on the tyres that it then stood on.
            (own.front.tyre_rate, own.rear.tyre_rate) = (base.front.tyre_rate, base.rear.tyre_rate);
        }
        setup.car = own.map(Arc::new);
    }
    diagnostics.sort_by_key(|d| (d.span.as_ref().map_or(0, |span| span.start), d.severity));
}

/// The tyres of a setup are not those that the car was weighed on: that is no mistake to tell of.
fn forget_weighed_tyres(root: &mut Table) {
    for axle in ["front", "rear"] {
        let weigh = root.get_mut("weigh").and_then(Item::as_table_like_mut);
        let own = weigh.and_then(|weigh| weigh.get_mut(axle)).and_then(Item::as_table_like_mut);
        own.and_then(|own| own.remove("tyre-rate"));
    }
}

/// Puts a setup's tables in place and lists what they change.
fn put(root: &mut Table, own: &dyn TableLike) -> Vec<Change> {
    let mut changes = Vec::new();
    for (name, item) in own.iter() {
        let Some(table) = item.as_table_like() else { continue };
        match name {
            "holes" => {}
            "front" | "rear" => {
                for (part, item) in table.iter() {
                    let Some(table) = item.as_table_like() else { continue };
                    if part == "tyre" {
                        give_own_tyre(root, name);
                    }
                    let home = root.get_mut(name).and_then(Item::as_table_like_mut);
                    let Some(home) = home.filter(|_| OF_AXLE.iter().any(|(known, _)| *known == part)) else {
                        continue;
                    };
                    put_table(home, part, table, &format!("{name}.{part}"), &mut changes);
                }
            }
            "tyre" => {
                put_table(root, name, table, name, &mut changes);
                // An axle with tyres of its own gets the change too: a setup's tyres are those that are fitted.
                for axle in ["front", "rear"] {
                    let home = root.get_mut(axle).and_then(Item::as_table_like_mut);
                    if let Some(home) = home.filter(|home| home.contains_key("tyre")) {
                        put_table(home, "tyre", table, &format!("{axle}.tyre"), &mut changes);
                    }
                }
            }
            _ if TABLES.iter().any(|(known, _)| *known == name) => {
                put_table(root, name, table, name, &mut changes);
            }
            _ => {}
        }
    }
    changes
}

/// An axle whose tyre a setup changes has one of its own from then on.
fn give_own_tyre(root: &mut Table, axle: &str) {
    let Some(both) = root.get("tyre").cloned() else { return };
    let home = root.get_mut(axle).and_then(Item::as_table_like_mut);
    if let Some(home) = home.filter(|home| !home.contains_key("tyre")) {
        home.insert("tyre", both);
    }
}

/// Replaces key by key; a table that answers the same question in another way is replaced whole.
fn put_table(
    home: &mut dyn TableLike,
    name: &str,
    own: &dyn TableLike,
    path: &str,
    changes: &mut Vec<Change>,
) {
    let before = home.get(name).cloned();
    let had = before.as_ref().and_then(Item::as_table_like);
    let differs = |key: &str| had.is_some_and(|had| had.contains_key(key) != own.contains_key(key));
    let other_bar =
        name == "bar" && (own.contains_key("rate") || (own.contains_key("diameter") && differs("rate")));
    let other_tyre = name == "tyre" && own.contains_key("model");
    for (key, item) in own.iter() {
        let from = had.and_then(|had| had.get(key)).map(written);
        let to = written(item);
        if from.as_deref() != Some(&to) {
            changes.push(Change { key: format!("{path}.{key}"), from, to });
        }
    }
    let target = match home.get_mut(name).and_then(Item::as_table_like_mut) {
        Some(target) if !other_bar && !other_tyre => target,
        _ => {
            home.insert(name, Item::Table(Table::new()));
            let Some(target) = home.get_mut(name).and_then(Item::as_table_like_mut) else { return };
            target
        }
    };
    for (key, item) in own.iter() {
        target.remove(key);
        // The key goes along with its place in the file, so that a mistake is told at its own line.
        match own.key(key) {
            Some(key) => target.entry_format(key).or_insert(item.clone()),
            None => target.entry(key).or_insert(item.clone()),
        };
    }
}

/// A value as it is written, without what stands around it.
fn written(item: &Item) -> String {
    match item {
        Item::Value(TomlValue::String(text)) => text.value().trim().to_string(),
        other => other.to_string().trim().to_string(),
    }
}

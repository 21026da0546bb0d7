//! A table of the file that remembers which keys were asked for, so that every other key is an error.

use std::cell::RefCell;
use std::ops::Range;

use toml_edit::{Item, TableLike};
use units::{Dimension, UnitSystem};

use crate::diagnostic::Sink;
use crate::entry::{Entry, Node};
use crate::model::Value;
use crate::suggest;
use crate::vocabulary;

/// One table, `[rear.wheel]` or `{ at = … }`.
pub(crate) struct Section<'d> {
    pub(crate) sink: &'d Sink<'d>,
    /// What bare numbers in it mean.
    pub(crate) units: UnitSystem,
    /// Its place in the file: the header, or the key that holds it.
    pub(crate) span: Range<usize>,
    /// `rear.wheel`; empty for the whole file.
    pub(crate) path: String,
    table: &'d dyn TableLike,
    asked: RefCell<Vec<String>>,
}

impl<'d> Section<'d> {
    /// The whole file.
    pub(crate) fn root(sink: &'d Sink<'d>, table: &'d dyn TableLike, units: UnitSystem) -> Self {
        Self { sink, units, span: 0..0, path: String::new(), table, asked: RefCell::default() }
    }

    /// A table inside this one.
    pub(crate) fn of(entry: &Entry<'d>, table: &'d dyn TableLike) -> Self {
        Self {
            sink: entry.sink,
            units: entry.units,
            span: entry.span.clone(),
            path: entry.path.clone(),
            table,
            asked: RefCell::default(),
        }
    }

    /// `[rear.wheel]` in backticks, or words for the whole file.
    pub(crate) fn title(&self) -> String {
        if self.path.is_empty() { "the file".into() } else { format!("`[{}]`", self.path) }
    }

    /// Whether a key is there. Does not count as asking for it.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// The names of the keys that are there, in the order of the file.
    pub(crate) fn keys(&self) -> impl Iterator<Item = &'d str> {
        self.table.iter().map(|(key, _)| key)
    }

    /// Place of a key, or of the table when it is not there.
    pub(crate) fn span_of(&self, key: &str) -> Range<usize> {
        self.table.key(key).and_then(|key| key.span()).unwrap_or_else(|| self.span.clone())
    }

    /// What a key holds, if it is there.
    pub(crate) fn entry(&self, key: &str) -> Option<Entry<'d>> {
        self.asked.borrow_mut().push(key.to_string());
        let (found, item) = self.table.get_key_value(key)?;
        let key_span = found.span().unwrap_or_else(|| self.span.clone());
        self.wrap(key, key_span, item)
    }

    /// What a key must hold; `what` says it in plain words.
    pub(crate) fn need(&self, key: &str, what: &str) -> Option<Entry<'d>> {
        let entry = self.entry(key);
        if entry.is_none() && !self.misspelt(key) {
            self.missing(&format!("`{key}`"), what);
        }
        entry
    }

    /// Says that something is missing from this table; `key` is in backticks.
    pub(crate) fn missing(&self, key: &str, what: &str) {
        self.sink.error(&self.span, format!("{} needs {key}: {what}", self.title()), None);
    }

    /// Whether `key` is there with a slip in its name; says so in place of its being missing and unknown.
    pub(crate) fn misspelt(&self, key: &str) -> bool {
        let others = self.table.iter().map(|(name, _)| name).filter(|name| !vocabulary::is_known(name));
        let Some(found) = suggest::nearest(key, others).filter(|found| *found != key) else { return false };
        let title = self.title();
        let message = format!("{title} needs `{key}`, and `{found}` is not known");
        self.sink.error(&self.span_of(found), message, format!("write `{key}`"));
        self.asked.borrow_mut().push(found.to_string());
        true
    }

    /// A table inside this one, if it is there.
    pub(crate) fn section(&self, key: &str) -> Option<Section<'d>> {
        self.entry(key)?.table()
    }

    /// A table that must be there.
    pub(crate) fn need_section(&self, key: &str, what: &str) -> Option<Section<'d>> {
        let entry = self.entry(key);
        if entry.is_none() && !self.misspelt(key) {
            let path = self.child_path(key);
            self.missing(&format!("`[{path}]`"), what);
        }
        entry?.table()
    }

    /// The tables of `[rear.link.NAME]`, in the order of the file.
    pub(crate) fn named_sections(&self, key: &str) -> Vec<(String, Section<'d>)> {
        let Some(parent) = self.section(key) else { return Vec::new() };
        let mut found = Vec::new();
        for (name, item) in parent.table.iter() {
            let span =
                parent.table.key(name).and_then(|key| key.span()).unwrap_or_else(|| parent.span.clone());
            let Some(entry) = parent.wrap(name, span, item) else { continue };
            match &entry.node {
                Node::Table(table) => found.push((name.to_string(), Section::of(&entry, *table))),
                _ => self.sink.error(
                    &entry.key_span,
                    format!("`{name}` stands in `[{}]`, where only named tables may stand", parent.path),
                    format!(
                        "give it a name of its own: `[{}.NAME]`, and put `{name}` below that",
                        parent.path
                    ),
                ),
            }
        }
        found
    }

    /// The tables of `[[rear.holes]]`.
    pub(crate) fn array_of_sections(&self, key: &str) -> Vec<Section<'d>> {
        let Some(entry) = self.entry(key) else { return Vec::new() };
        entry.tables()
    }

    /// A quantity, if it is there.
    pub(crate) fn quantity(&self, key: &str, dimension: Dimension) -> Option<Value> {
        self.entry(key)?.quantity(dimension)
    }

    /// A quantity that must be more than zero, if it is there.
    pub(crate) fn positive(&self, key: &str, dimension: Dimension) -> Option<Value> {
        self.entry(key)?.positive(dimension)
    }

    /// One of a few words, if it is there.
    pub(crate) fn word(&self, key: &str, words: &[&'static str]) -> Option<&'static str> {
        self.entry(key)?.word(words)
    }

    /// Reports every key that was not asked for. `kind` is the kind of the axle, where the table is an axle.
    pub(crate) fn finish(self, kind: Option<&str>) {
        let asked = self.asked.borrow();
        for (key, item) in self.table.iter() {
            if item.is_none() || asked.iter().any(|name| name == key) {
                continue;
            }
            let span = self.table.key(key).and_then(|key| key.span()).unwrap_or_else(|| self.span.clone());
            let table = item.is_table_like() || item.is_array_of_tables();
            let title = self.title();
            let place = if self.path.is_empty() { "here".to_string() } else { format!("in {title}") };
            let message = match kind.filter(|_| table) {
                Some(kind) => format!("`[{}]` is not part of a {kind}", self.child_path(key)),
                None if table => format!("`[{}]` is not known", self.child_path(key)),
                None => format!("`{key}` is not known {place}"),
            };
            self.sink.error(&span, message, self.hint_for(key, table, kind, &asked));
        }
    }

    /// What an unknown key was probably meant to be.
    fn hint_for(&self, key: &str, table: bool, kind: Option<&str>, asked: &[String]) -> Option<String> {
        if let Some(home) = kind.and_then(|kind| vocabulary::kinds_with(key, kind)) {
            return Some(home);
        }
        if let Some(home) = vocabulary::home(key, &self.path) {
            return Some(format!("`{key}` belongs in {home}"));
        }
        let names = || asked.iter().map(String::as_str);
        if let Some(near) = suggest::nearest(key, names()) {
            let taken = self.table.contains_key(near);
            let near = if table { format!("[{}]", self.child_path(near)) } else { near.to_string() };
            return Some(if taken {
                format!("`{near}` is given already: take this one out")
            } else {
                format!("did you mean `{near}`?")
            });
        }
        // Homes are those of keys: a table that is like one is no slip for it.
        if let Some((near, home)) = vocabulary::near_home(key, &self.path).filter(|_| !table) {
            return Some(format!("did you mean `{near}`? it belongs in {home}"));
        }
        let mut unique: Vec<&str> = Vec::new();
        for name in names() {
            if !unique.contains(&name) {
                unique.push(name);
            }
        }
        (!unique.is_empty()).then(|| format!("what may stand here: {}", suggest::list(unique)))
    }

    /// Leaves the keys that were not asked for unreported: what may stand here is not known.
    pub(crate) fn leave(self) {}

    fn child_path(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_string() } else { format!("{}.{key}", self.path) }
    }

    fn wrap(&self, key: &str, key_span: Range<usize>, item: &'d Item) -> Option<Entry<'d>> {
        let node = match item {
            Item::None => return None,
            Item::Value(value) => Node::of(value),
            Item::Table(table) => Node::Table(table),
            Item::ArrayOfTables(tables) => Node::Tables(tables),
        };
        // The span of a table without a header of its own is unknown or empty: its key stands for it.
        let span = item.span().filter(|span| !span.is_empty()).unwrap_or_else(|| key_span.clone());
        Some(Entry { sink: self.sink, units: self.units, node, path: self.child_path(key), key_span, span })
    }
}

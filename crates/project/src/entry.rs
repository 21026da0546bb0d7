//! What one key holds, and its reading as a quantity, a word or a table.

use std::ops::Range;

use toml_edit::{ArrayOfTables, TableLike, Value as TomlValue};
use units::{Dimension, LengthUnit, UnitSystem};

use crate::diagnostic::Sink;
use crate::model::Value;
use crate::reader::Section;
use crate::source::source_span;
use crate::suggest;

/// Greatest length or coordinate that is read \[m\]. Longer than any car; more is a slip.
pub(crate) const FARTHEST: f64 = 100.0;

/// Greatest other quantity that is read (SI): its square is still far from overflow.
const GREATEST: f64 = 1e12;

/// Farthest place and longest straight of a course \[m\].
const LONGEST_WAY: f64 = 1e5;

/// What a key holds.
pub(crate) enum Node<'d> {
    /// A number, a text, an array.
    Value(&'d TomlValue),
    /// A table of either form.
    Table(&'d dyn TableLike),
    /// `[[…]]`.
    Tables(&'d ArrayOfTables),
}

impl<'d> Node<'d> {
    pub(crate) fn of(value: &'d TomlValue) -> Self {
        match value {
            TomlValue::InlineTable(table) => Self::Table(table),
            _ => Self::Value(value),
        }
    }
}

/// A key with what it holds and where.
pub(crate) struct Entry<'d> {
    pub(crate) sink: &'d Sink<'d>,
    pub(crate) units: UnitSystem,
    pub(crate) node: Node<'d>,
    /// `rear.wheel.centre`.
    pub(crate) path: String,
    pub(crate) key_span: Range<usize>,
    /// Place of the value; of the header for a table.
    pub(crate) span: Range<usize>,
}

impl<'d> Entry<'d> {
    /// Reports an error at the value.
    pub(crate) fn error(&self, message: String, hint: impl Into<Option<String>>) {
        self.sink.error(&self.span, message, hint);
    }

    /// The table, or an error.
    pub(crate) fn table(&self) -> Option<Section<'d>> {
        if let Node::Table(table) = &self.node {
            return Some(Section::of(self, *table));
        }
        let hint = match self.node {
            Node::Tables(_) => {
                format!("write `[{0}]` once, with one bracket, in place of `[[{0}]]`", self.path)
            }
            _ => format!("put `[{}]` on a line of its own and its keys below it", self.path),
        };
        self.error(format!("`{}` is {}, where a table is wanted", self.path, self.found()), hint);
        None
    }

    /// The tables of `[[…]]`, also when written as an array of `{ … }`.
    pub(crate) fn tables(&self) -> Vec<Section<'d>> {
        if let Node::Tables(tables) = &self.node {
            return tables
                .iter()
                .map(|table| {
                    let mut section = Section::of(self, table);
                    section.span = table.span().unwrap_or_else(|| self.span.clone());
                    section
                })
                .collect();
        }
        if let Some(items) = self.items() {
            return items.iter().filter_map(Entry::table).collect();
        }
        self.error(
            format!("`{}` is {}, where a list of tables is wanted", self.path, self.found()),
            format!("begin each one with `[[{}]]`", self.path),
        );
        Vec::new()
    }

    /// The members, if this is an array.
    pub(crate) fn items(&self) -> Option<Vec<Entry<'d>>> {
        let Node::Value(TomlValue::Array(array)) = &self.node else { return None };
        let entry = |value: &'d TomlValue| {
            let span = value.span().unwrap_or_else(|| self.span.clone());
            Entry {
                sink: self.sink,
                units: self.units,
                node: Node::of(value),
                path: self.path.clone(),
                key_span: span.clone(),
                span,
            }
        };
        Some(array.iter().map(entry).collect())
    }

    /// The text, or an error; `what` says what the text is for.
    pub(crate) fn text(&self, what: &str) -> Option<&'d str> {
        if let Node::Value(TomlValue::String(text)) = &self.node {
            return Some(text.value());
        }
        self.error(
            format!("`{}` is {}, where {what} is wanted", self.path, self.found()),
            "put quotes around it".to_string(),
        );
        None
    }

    /// The text, if this is one.
    pub(crate) fn text_if_any(&self) -> Option<&'d str> {
        match &self.node {
            Node::Value(TomlValue::String(text)) => Some(text.value()),
            _ => None,
        }
    }

    /// The whole number, if this is one.
    pub(crate) fn integer(&self) -> Option<i64> {
        match &self.node {
            Node::Value(TomlValue::Integer(number)) => Some(*number.value()),
            _ => None,
        }
    }

    /// Several quantities, as a list or as a text with commas between them, as a page writes it: `38, 38`. `None` with an
    /// error where one of them is none; empty where there is no list at all.
    pub(crate) fn list(&self, dimension: Dimension) -> Option<Vec<Value>> {
        let Some(text) = self.text_if_any() else {
            return self.items().unwrap_or_default().iter().map(|item| item.quantity(dimension)).collect();
        };
        let inner = text.trim().trim_start_matches('[').trim_end_matches(']');
        inner
            .split(',')
            .filter(|part| !part.trim().is_empty())
            .map(|part| self.written(part, dimension))
            .collect()
    }

    /// Whether it is true, if it is one of the two; or an error.
    pub(crate) fn truth(&self) -> Option<bool> {
        match &self.node {
            Node::Value(TomlValue::Boolean(truth)) => Some(*truth.value()),
            // As a page writes it.
            Node::Value(TomlValue::String(text)) if text.value() == "true" => Some(true),
            Node::Value(TomlValue::String(text)) if text.value() == "false" => Some(false),
            _ => {
                self.error(format!("`{}` must be true or false", self.path), None);
                None
            }
        }
    }

    /// One of a few words, or an error that names them.
    pub(crate) fn word(&self, words: &[&'static str]) -> Option<&'static str> {
        let text = self.text("a word")?;
        let plain = text.trim().to_lowercase().replace(['_', ' '], "-");
        let found = words.iter().find(|word| **word == plain).copied();
        if found.is_none() {
            let all = words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
            let near = suggest::nearest(text, words.iter().copied());
            let near = near.map_or(String::new(), |near| format!("did you mean \"{near}\"? "));
            self.error(
                format!("`{}` cannot be `{}`", self.path, shorten(text)),
                format!("{near}it may be {all}"),
            );
        }
        found
    }

    /// A share between 0 and 1; or an error that says what its ends mean.
    pub(crate) fn share(&self, ends: &str) -> Option<Value> {
        let share = self.quantity(Dimension::Ratio)?;
        if (0.0..=1.0).contains(&share.value) {
            return Some(share);
        }
        let hint = if 1.0 < share.value && share.value <= 100.0 {
            format!("for per cent write \"{} %\"", share.value)
        } else {
            ends.to_string()
        };
        self.error(format!("`{}` must lie between 0 and 1", self.path), hint);
        None
    }

    /// A length on a course \[m\]: bare numbers are metres, or feet where the file's lengths are inches or feet.
    pub(crate) fn way(&self) -> Option<f64> {
        let feet = matches!(self.units.length, LengthUnit::Inch | LengthUnit::Foot);
        let length = if feet { LengthUnit::Foot } else { LengthUnit::Metre };
        let units = UnitSystem { length, ..self.units };
        let value = match &self.node {
            Node::Value(TomlValue::Integer(number)) => {
                self.bare_in(&units, *number.value() as f64, Dimension::Length)
            }
            Node::Value(TomlValue::Float(number)) => self.bare_in(&units, *number.value(), Dimension::Length),
            Node::Value(TomlValue::String(text)) => self.written_in(&units, text.value(), Dimension::Length),
            _ => {
                self.error(
                    format!("`{}` is {}, where a length is wanted", self.path, self.found()),
                    "bare lengths on a course are metres, or feet where the file's lengths are inches"
                        .to_string(),
                );
                None
            }
        }?
        .value;
        if value.is_finite() && value.abs() <= LONGEST_WAY {
            return Some(value);
        }
        self.error(format!("`{}` is too far for a course", self.path), None);
        None
    }

    /// A number in the file's units, or a text with a unit, as SI; or an error.
    pub(crate) fn quantity(&self, dimension: Dimension) -> Option<Value> {
        let reading = match &self.node {
            Node::Value(TomlValue::Integer(number)) => self.bare(*number.value() as f64, dimension),
            Node::Value(TomlValue::Float(number)) => self.bare(*number.value(), dimension),
            Node::Value(TomlValue::String(text)) => self.written(text.value(), dimension),
            _ => {
                self.error(
                    format!(
                        "`{}` is {}, where {} is wanted",
                        self.path,
                        self.found(),
                        dimension.with_article()
                    ),
                    format!("write it like {}", example(dimension)),
                );
                None
            }
        }?;
        self.in_range(reading, dimension)
    }

    /// The same, and it must be more than zero.
    pub(crate) fn positive(&self, dimension: Dimension) -> Option<Value> {
        let value = self.quantity(dimension)?;
        if value.value > 0.0 {
            return Some(value);
        }
        self.error(format!("`{}` must be more than zero", self.path), None);
        None
    }

    fn bare(&self, number: f64, dimension: Dimension) -> Option<Value> {
        self.bare_in(&self.units, number, dimension)
    }

    fn bare_in(&self, units: &UnitSystem, number: f64, dimension: Dimension) -> Option<Value> {
        match units::from_bare(number, dimension, units) {
            Ok(value) => Some(Value { value, uncertainty: 0.0 }),
            Err(error) => {
                self.error(format!("`{}`: {error}", self.path), error.hint());
                None
            }
        }
    }

    fn written(&self, text: &str, dimension: Dimension) -> Option<Value> {
        self.written_in(&self.units, text, dimension)
    }

    fn written_in(&self, units: &UnitSystem, text: &str, dimension: Dimension) -> Option<Value> {
        match units::parse(text, dimension, units) {
            Ok(reading) => {
                Some(Value { value: reading.value, uncertainty: reading.uncertainty.unwrap_or(0.0) })
            }
            Err(error) => {
                let span = source_span(self.sink.text(), &self.span, text, &error.at());
                self.sink.error(&span, format!("`{}`: {error}", self.path), error.hint());
                None
            }
        }
    }

    fn in_range(&self, value: Value, dimension: Dimension) -> Option<Value> {
        let limit = if dimension == Dimension::Length { FARTHEST } else { GREATEST };
        let within = |x: f64| x.is_finite() && x.abs() <= limit;
        if within(value.value) && within(value.uncertainty) {
            return Some(value);
        }
        let message = if !value.value.is_finite() {
            format!("`{}` is not an ordinary number", self.path)
        } else if dimension == Dimension::Length {
            format!("`{}` is more than {FARTHEST} m: that is no length on a car", self.path)
        } else {
            format!("`{}` is too large to be true", self.path)
        };
        self.error(message, None);
        None
    }

    /// What is there, in plain words.
    pub(crate) fn found(&self) -> &'static str {
        match &self.node {
            Node::Table(_) => "a table",
            Node::Tables(_) => "a list of tables",
            Node::Value(value) => match value {
                TomlValue::String(_) => "a text",
                TomlValue::Integer(_) | TomlValue::Float(_) => "a number",
                TomlValue::Boolean(_) => "true or false",
                TomlValue::Datetime(_) => "a date or time",
                TomlValue::Array(_) => "a list",
                TomlValue::InlineTable(_) => "a table",
            },
        }
    }
}

fn example(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length => "`305` or `\"12 1/2 in\"`",
        Dimension::Mass => "`12.5` or `\"27 lb\"`",
        Dimension::Force => "`3200` or `\"720 lbf\"`",
        Dimension::Angle => "`-1.2` or `\"1.2 deg\"`",
        Dimension::Rate => "`35` or `\"200 lbf/in\"`",
        Dimension::Torque => "`90` or `\"66 lbf ft\"`",
        Dimension::Pressure => "`200` or `\"29 psi\"`",
        Dimension::Pitch => "`\"M14x1.5\"` or `\"18 tpi\"`",
        Dimension::Speed => "`180` or `\"112 mph\"`",
        Dimension::Acceleration => "`0.9` or `\"8.8 m/s2\"`",
        Dimension::Time => "`0.15` or `\"150 ms\"`",
        Dimension::Damping => "`2400` or `\"14 lbf s/in\"`",
        Dimension::CorneringStiffness => "`1100` or `\"250 lbf/deg\"`",
        Dimension::Area => "`0.7` or `\"7.5 ft2\"`",
        Dimension::Inertia => "`0.9` or `\"21 lb ft2\"`",
        Dimension::Density => "`1.2` or `\"1.2 kg/m3\"`",
        Dimension::Temperature => "`20` or `\"68 deg F\"`",
        Dimension::Ratio => "`0.64` or `\"64 %\"`",
    }
}

/// Longest piece of the file that is quoted in a message, in characters.
const QUOTED: usize = 40;

/// A text short enough to quote in a message, on one line.
pub(crate) fn shorten(text: &str) -> String {
    let mut short: String = text.chars().take(QUOTED).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(QUOTED).is_some() {
        short.push('…');
    }
    short
}

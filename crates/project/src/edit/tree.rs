//! A file's text with the places of its keys, and the change of a few of its bytes.

use std::ops::Range;

use toml_edit::{ArrayOfTables, Document, InlineTable, Item, Table, TableLike, Value};

use super::error::EditError;
use super::spell;
use crate::car::read;

/// Some bytes of a text and what stands there instead.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Splice {
    pub(crate) range: Range<usize>,
    pub(crate) text: String,
}

impl Splice {
    pub(crate) fn new(range: Range<usize>, text: impl Into<String>) -> Self {
        Self { range, text: text.into() }
    }
}

/// A text that is TOML.
pub(crate) struct Tree<'t> {
    pub(crate) text: &'t str,
    document: Document<&'t str>,
}

/// Where keys of a table are written.
pub(crate) enum Home<'a> {
    /// On lines of their own below a header (or at the top of the file), behind `prefix`.
    Lines { table: &'a Table, prefix: String },
    /// Within braces.
    Braces(&'a InlineTable),
}

impl<'t> Tree<'t> {
    pub(crate) fn parse(text: &'t str) -> Result<Self, EditError> {
        match Document::parse(text) {
            Ok(document) => Ok(Self { text, document }),
            Err(_) => Err(EditError::NotToml { diagnostics: read(text).diagnostics }),
        }
    }

    pub(crate) fn root(&self) -> &Table {
        self.document.as_table()
    }

    /// What stands at a path; a name in it may itself have dots, and a table of several is told by its number:
    /// `build.frame.tube.0.section`.
    pub(crate) fn find(&self, path: &str) -> Option<&Item> {
        find_in(self.root(), path)
    }

    /// The text at a path, if one is there.
    pub(crate) fn text_at(&self, path: &str) -> Option<&str> {
        self.find(path)?.as_str()
    }

    /// Where the keys of the table at a path are written; `None` where it has no line of its own. An empty path is
    /// the top of the file.
    pub(crate) fn home(&self, path: &str) -> Option<Home<'_>> {
        let top = Home::Lines { table: self.root(), prefix: String::new() };
        if path.is_empty() { Some(top) } else { home_in(self.root(), path, Some(top)) }
    }

    /// The text with some of its bytes replaced. Places must not overlap; they may come in any order.
    pub(crate) fn spliced(&self, mut splices: Vec<Splice>) -> String {
        splices.sort_by_key(|splice| (splice.range.start, splice.range.end));
        let mut out = String::with_capacity(self.text.len() + 64);
        let mut at = 0;
        for splice in splices {
            out.push_str(self.text.get(at..splice.range.start).unwrap_or_default());
            out.push_str(&splice.text);
            at = splice.range.end.max(at);
        }
        out.push_str(self.text.get(at..).unwrap_or_default());
        out
    }

    /// The bytes of a place.
    pub(crate) fn slice(&self, range: &Range<usize>) -> &'t str {
        self.text.get(range.clone()).unwrap_or_default()
    }

    /// How the file ends its lines.
    pub(crate) fn line_end(&self) -> &'static str {
        match self.text.find('\n') {
            Some(at) if at > 0 && self.text.as_bytes().get(at - 1) == Some(&b'\r') => "\r\n",
            _ => "\n",
        }
    }

    /// Start of the line that a byte is on.
    pub(crate) fn line_start(&self, at: usize) -> usize {
        self.text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1)
    }

    /// Start of the next line, or the end of the text.
    pub(crate) fn next_line(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        rest.find('\n').map_or(self.text.len(), |newline| at + newline + 1)
    }

    /// New lines to begin at the start of a line, or at the end of a text whose last line is open.
    pub(crate) fn lines_at(&self, at: usize, lines: &str) -> Splice {
        let before = self.text.get(..at).unwrap_or_default();
        let (line_end, mut text) = (self.line_end(), String::new());
        if !before.is_empty() && !before.ends_with('\n') {
            text.push_str(line_end);
            text.push_str(lines.strip_suffix(line_end).unwrap_or(lines));
        } else {
            text.push_str(lines);
        }
        Splice::new(at..at, text)
    }

    /// Takes whole lines out: those of `range`, and the line end before them where they end the text openly.
    pub(crate) fn without_lines(&self, range: Range<usize>) -> Splice {
        let (mut start, end) = (self.line_start(range.start), self.next_line(range.end));
        if end == self.text.len() && !self.text.ends_with('\n') && start > 0 {
            start -= 1;
            if start > 0 && self.text.as_bytes().get(start - 1) == Some(&b'\r') {
                start -= 1;
            }
        }
        Splice::new(start..end, "")
    }

    /// Adds a key to a table.
    pub(crate) fn with_key(&self, home: &Home<'_>, key: &str, value: &str) -> Option<Splice> {
        match home {
            Home::Lines { table, prefix } => {
                let key = format!("{prefix}{}", spell::key(key));
                let width = self.key_width(table);
                let line = format!("{key:<width$} = {value}{}", self.line_end());
                let at = lines_end(table).map_or(0, |end| self.next_line(end));
                Some(self.lines_at(at, &line))
            }
            Home::Braces(table) => {
                let pair = format!("{} = {value}", spell::key(key));
                let last = table.iter().filter_map(|(_, value)| value.span()).map(|span| span.end).max();
                match last {
                    Some(end) => Some(Splice::new(end..end, format!(", {pair}"))),
                    None => Some(Splice::new(table.span()?, format!("{{ {pair} }}"))),
                }
            }
        }
    }

    /// Takes a key out of a table.
    pub(crate) fn without_key(&self, home: &Home<'_>, key: &str) -> Option<Splice> {
        match home {
            Home::Lines { table, .. } => {
                let (name, item) = table.get_key_value(key)?;
                Some(self.without_lines(name.span()?.start..deep_end(item)?))
            }
            Home::Braces(table) => {
                let spans: Vec<(&str, Range<usize>)> = table
                    .iter()
                    .filter_map(|(name, value)| {
                        Some((name, table.key(name)?.span()?.start..value.span()?.end))
                    })
                    .collect();
                let index = spans.iter().position(|(name, _)| *name == key)?;
                let (_, own) = spans.get(index)?;
                let range = match (index.checked_sub(1).and_then(|i| spans.get(i)), spans.get(index + 1)) {
                    (Some((_, before)), _) => before.end..own.end,
                    (None, Some((_, after))) => own.start..after.start,
                    (None, None) => own.clone(),
                };
                Some(Splice::new(range, ""))
            }
        }
    }

    /// Column of the equals signs in a table whose keys are aligned; 0 where it has none.
    pub(crate) fn key_width(&self, table: &Table) -> usize {
        let mut width = 0;
        for (name, item) in table.iter() {
            let Some(span) = table.key(name).and_then(|key| key.span()).filter(|_| item.is_value()) else {
                continue;
            };
            let line = self.slice(&(self.line_start(span.start)..self.next_line(span.start)));
            let Some(equals) = line.find('=') else { continue };
            width = width.max(line.get(..equals).unwrap_or_default().chars().count().saturating_sub(1));
        }
        width
    }
}

fn find_in<'a>(table: &'a dyn TableLike, path: &str) -> Option<&'a Item> {
    table.iter().find_map(|(key, item)| match path.strip_prefix(key)? {
        "" => Some(item),
        rest => {
            let rest = rest.strip_prefix('.')?;
            match item.as_array_of_tables() {
                Some(several) => {
                    let (index, rest) = rest.split_once('.')?;
                    find_in(several.get(index.parse().ok()?)?, rest)
                }
                None => find_in(item.as_table_like()?, rest),
            }
        }
    })
}

fn home_in<'a>(table: &'a dyn TableLike, path: &str, own: Option<Home<'a>>) -> Option<Home<'a>> {
    table.iter().find_map(|(key, item)| {
        let rest = path.strip_prefix(key)?;
        let home = match item {
            Item::Table(inner) if inner.is_dotted() => match &own {
                Some(Home::Lines { table, prefix }) => {
                    Some(Home::Lines { table, prefix: format!("{prefix}{}.", spell::key(key)) })
                }
                _ => None,
            },
            Item::Table(inner) if inner.is_implicit() => None,
            Item::Table(inner) => Some(Home::Lines { table: inner, prefix: String::new() }),
            Item::Value(Value::InlineTable(inner)) => Some(Home::Braces(inner)),
            _ => return None,
        };
        if rest.is_empty() {
            return home;
        }
        home_in(item.as_table_like()?, rest.strip_prefix('.')?, home)
    })
}

/// End of the last value that is written below a table's own header, or of the header.
fn lines_end(table: &Table) -> Option<usize> {
    let values = table.iter().filter_map(|(_, item)| match item {
        Item::Value(value) => value.span().map(|span| span.end),
        Item::Table(inner) if inner.is_dotted() => lines_end(inner),
        _ => None,
    });
    let header = table.span().filter(|span| !span.is_empty()).map(|span| span.end);
    values.chain(header.filter(|_| !table.is_dotted() && table.position().is_some())).max()
}

/// End of the last thing that belongs to an item, tables inside it included.
pub(crate) fn deep_end(item: &Item) -> Option<usize> {
    match item {
        Item::None => None,
        Item::Value(value) => value.span().map(|span| span.end),
        Item::Table(table) => table_end(table),
        Item::ArrayOfTables(tables) => tables_end(tables),
    }
}

pub(crate) fn table_end(table: &Table) -> Option<usize> {
    let header = table.span().map(|span| span.end);
    table.iter().filter_map(|(_, item)| deep_end(item)).chain(header).max()
}

pub(crate) fn tables_end(tables: &ArrayOfTables) -> Option<usize> {
    tables.iter().filter_map(table_end).max()
}

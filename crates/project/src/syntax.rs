//! Text that is not TOML: what slipped, in plain words.

use std::ops::Range;

use toml_edit::TomlError;

use crate::diagnostic::Sink;
use crate::entry::shorten;

/// Reports a syntax error: the parser knows the place, the line shows what slipped.
pub(crate) fn report(sink: &Sink<'_>, error: &TomlError) {
    let text = sink.text();
    let span = error.span().unwrap_or(text.len()..text.len());
    let line = Line::around(text, span.start);
    let (message, hint, span) = if error.message().contains("duplicate key") {
        twice(sink, &line, span)
    } else {
        line.slip().or_else(|| open_list(text, &line, error)).unwrap_or_else(|| {
            let message = format!("this line cannot be read: {}", error.message().trim_end_matches('.'));
            (message, "a line is `key = value`, `[table]`, or begins with `#`".to_string(), span)
        })
    };
    sink.fatal(&span, message, hint);
}

/// Most lines that one list is spread over.
const LIST_LINES: usize = 40;

/// A list that was left open: the parser stumbles over what comes below it.
fn open_list(text: &str, line: &Line<'_>, error: &TomlError) -> Option<(String, String, Range<usize>)> {
    if !error.message().contains("array") {
        return None;
    }
    let before = text.get(..line.start)?;
    let mut end = before.len();
    for above in before.split_inclusive('\n').rev().take(LIST_LINES) {
        let start = end - above.len();
        let code = code_of(above).trim_end();
        if code.contains('=') {
            let open = code.matches('[').count() > code.matches(']').count();
            let at = start + code.find('[')?;
            let found = "the closing bracket of this list is missing".to_string();
            return open.then(|| (found, "end the list with `]`".to_string(), at..start + code.len()));
        }
        end = start;
    }
    None
}

/// A key or a table that is given twice.
fn twice(sink: &Sink<'_>, line: &Line<'_>, span: Range<usize>) -> (String, String, Range<usize>) {
    let name = line.code.trim();
    let name = if name.starts_with('[') { name } else { name.split('=').next().unwrap_or(name).trim() };
    let same = |other: &str| {
        let other = code_of(other).trim();
        other == name || other.split('=').next().is_some_and(|key| key.trim() == name)
    };
    // The nearest one before it is the one meant: `body` stands in many tables.
    let before = sink.text().get(..line.start).unwrap_or_default();
    let first = before.lines().enumerate().filter(|(_, other)| same(other)).last();
    let place = first.map_or(String::new(), |(index, _)| format!("; the first is on line {}", index + 1));
    let hint =
        if name.starts_with('[') { "join the two, or rename one of them" } else { "take one of them out" };
    (format!("`{}` is given twice{place}", shorten(name)), hint.to_string(), span)
}

/// One line of the file.
struct Line<'t> {
    /// Without its comment.
    code: &'t str,
    start: usize,
}

impl<'t> Line<'t> {
    fn around(text: &'t str, offset: usize) -> Self {
        let offset = offset.min(text.len());
        let at = |byte: usize| text.as_bytes().get(byte).copied();
        // A fault found at the line's end belongs to the line that it ends.
        let mut start = offset;
        while start > 0 && at(start - 1) != Some(b'\n') {
            start -= 1;
        }
        let rest = text.get(start..).unwrap_or_default();
        let line = rest.lines().next().unwrap_or_default();
        Self { code: code_of(line), start }
    }

    /// The slip that this line shows, with its remedy and its place.
    fn slip(&self) -> Option<(String, String, Range<usize>)> {
        let code = self.code;
        let trimmed = code.trim();
        let all = self.place(trimmed);
        if let Some(quote) = code.find(['\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}']) {
            let place = self.start + quote;
            let length = code.get(quote..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8);
            let found = "curly quotes do not hold a text here".to_string();
            return Some((found, "use straight quotes: \"".to_string(), place..place + length));
        }
        if trimmed.starts_with('[') && !code.contains('=') {
            return self.header(trimmed, all);
        }
        let Some((key, value)) = code.split_once('=') else {
            return self.without_equals(trimmed, all);
        };
        let (key, value) = (key.trim(), value.trim());
        if key.contains(char::is_whitespace) && !key.contains(['"', '\'', '{', '[']) {
            let joined = key.split_whitespace().collect::<Vec<_>>().join("-");
            let found = format!("the key `{}` has a space in it", shorten(key));
            return Some((found, format!("write `{}`", shorten(&joined)), self.place(key)));
        }
        let place = self.place(value);
        if value.is_empty() {
            let found = format!("`{}` has no value", shorten(key));
            return Some((found, "write something after the `=`, or take the line out".to_string(), all));
        }
        if value.starts_with('[') {
            return self.list(value, place);
        }
        let quotes = value.matches('"').count();
        if value.starts_with('"') || value.starts_with('\'') {
            let mark = if quotes >= 3 { inner_quote(value) } else { None };
            return match mark {
                Some(mended) => Some((
                    "an inch mark ends the text too early".to_string(),
                    format!("write it as {mended}, or use `in`"),
                    place,
                )),
                None if quotes == 1 => {
                    let found = "the closing quote is missing".to_string();
                    Some((found, "end the text with the quote that it began with".to_string(), place))
                }
                None => None,
            };
        }
        if value.starts_with('{') {
            return None;
        }
        bare(value).map(|(message, hint)| (message, hint, place))
    }

    fn header(&self, trimmed: &str, all: Range<usize>) -> Option<(String, String, Range<usize>)> {
        let double = trimmed.starts_with("[[");
        let name = trimmed.trim_matches(['[', ']']).trim();
        let closed = if double { trimmed.ends_with("]]") } else { trimmed.ends_with(']') };
        let right = if double { format!("[[{name}]]") } else { format!("[{name}]") };
        if name.is_empty() {
            return Some(("a table needs a name".to_string(), "for example `[rear.wheel]`".to_string(), all));
        }
        if !closed || trimmed.matches(']').count() != trimmed.matches('[').count() {
            let found = format!("the brackets of `{}` do not match", shorten(trimmed));
            return Some((found, format!("write `{}`", shorten(&right)), all));
        }
        if name.contains(char::is_whitespace) {
            let joined = name.split_whitespace().collect::<Vec<_>>().join("-");
            let found = format!("the table's name `{}` has a space in it", shorten(name));
            return Some((
                found,
                format!("write `[{}]`, or a dot for a table in a table", shorten(&joined)),
                all,
            ));
        }
        None
    }

    fn without_equals(&self, trimmed: &str, all: Range<usize>) -> Option<(String, String, Range<usize>)> {
        let mut words = trimmed.splitn(2, [' ', '\t', ':']);
        let key = words.next().filter(|key| !key.is_empty())?;
        let value = words.next().unwrap_or_default().trim_start_matches([':', ' ']).trim();
        let plain = key.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_' || c == '.');
        if !plain || key.chars().all(|c| c.is_ascii_digit()) {
            return None;
        }
        let hint = if value.is_empty() {
            format!("write `{} = value`, or begin a comment with `#`", shorten(key))
        } else {
            format!("write `{} = {}`, or begin a comment with `#`", shorten(key), shorten(value))
        };
        Some(("`=` is missing on this line".to_string(), hint, all))
    }

    /// A list, such as a point.
    fn list(&self, value: &str, place: Range<usize>) -> Option<(String, String, Range<usize>)> {
        let inner = value.trim_matches(['[', ']']);
        for part in inner.split(',') {
            let part = part.trim();
            if part.is_empty() || part.contains(['"', '\'', '[', ']', '{']) {
                continue;
            }
            let at = self.place(part);
            let words: Vec<&str> = part.split_whitespace().collect();
            if words.len() > 1 && words.iter().all(|word| word.parse::<f64>().is_ok()) {
                let found = format!("a comma is missing in `{}`", shorten(part));
                return Some((found, format!("write `{}`", shorten(&words.join(", "))), at));
            }
            if let Some((message, hint)) = bare(part) {
                return Some((message, hint, at));
            }
        }
        if value.matches('[').count() > value.matches(']').count() {
            let found = "the closing bracket of this list is missing".to_string();
            return Some((found, "end the list with `]`".to_string(), place));
        }
        // `["24 in" "12 in"]`: two texts without a comma between them.
        let gap = inner.split('"').skip(2).step_by(2).any(|gap| !gap.trim().is_empty() && !gap.contains(','));
        let touching = inner.contains("\" \"") || inner.contains("\"\"");
        (gap || touching).then(|| {
            ("a comma is missing in this list".to_string(), "part its members with commas".to_string(), place)
        })
    }

    /// Place in the file of a part of this line's code.
    fn place(&self, part: &str) -> Range<usize> {
        let at = self.code.find(part).unwrap_or(0);
        self.start + at..self.start + at + part.len()
    }
}

/// A value without quotes that is not a number TOML knows.
fn bare(value: &str) -> Option<(String, String)> {
    let quoted = format!("\"{}\"", shorten(value));
    let number = |text: &str| text.parse::<f64>().is_ok();
    if let Some((whole, part)) = value.split_once(',')
        && number(whole.trim())
        && !part.is_empty()
        && part.bytes().all(|byte| byte.is_ascii_digit())
    {
        let found = format!("`{}` has a decimal comma", shorten(value));
        return Some((found, format!("write `{}.{part}`", whole.trim())));
    }
    if value.starts_with(['\u{2212}', '\u{2013}', '\u{2014}']) {
        let rest: String = value.chars().skip(1).collect();
        let found = format!("`{}` begins with a dash that is not a minus sign", shorten(value));
        return Some((found, format!("write `-{}`", shorten(&rest))));
    }
    if value == "true" || value == "false" {
        return None;
    }
    if number(value) {
        let digits = value.trim_start_matches(['+', '-']);
        let sign = if value.starts_with('-') { "-" } else { "" };
        let mended = if digits.starts_with('.') {
            format!("{sign}0{digits}")
        } else if digits.ends_with('.') {
            format!("{sign}{digits}0")
        } else if digits.len() > 1 && digits.starts_with('0') {
            format!("{sign}{}", digits.trim_start_matches('0'))
        } else {
            return None;
        };
        return Some((
            format!("`{}` is not written as TOML wants a number", shorten(value)),
            format!("write `{mended}`"),
        ));
    }
    if value.contains(';') {
        return Some((
            format!("`{}` is parted by semicolons", shorten(value)),
            format!("write commas: `{}`", value.replace(';', ",")),
        ));
    }
    let begins = value.starts_with(|c: char| c.is_alphanumeric() || ['+', '-', '.', '\u{b1}'].contains(&c));
    begins.then(|| (format!("`{}` needs quotes around it", shorten(value)), format!("write `{quoted}`")))
}

/// `"5' 2 1/2""` with its inch mark guarded, if that is what it is.
fn inner_quote(value: &str) -> Option<String> {
    let inner = value.strip_prefix('"')?.trim_end().strip_suffix('"')?;
    (inner.contains('"') && !inner.contains('\\'))
        .then(|| format!("\"{}\"", shorten(&inner.replace('"', "\\\""))))
}

/// The line without its comment.
fn code_of(line: &str) -> &str {
    let mut quote = None;
    for (at, letter) in line.char_indices() {
        match (quote, letter) {
            (None, '#') => return line.get(..at).unwrap_or(line),
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), close) if open == close => quote = None,
            _ => {}
        }
    }
    line
}

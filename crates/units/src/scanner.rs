//! A cursor over part of a text. All positions are byte offsets into the whole text, on character boundaries.

use std::ops::Range;

/// Cursor over `text[..end]`.
#[derive(Clone)]
pub(crate) struct Scanner<'a> {
    text: &'a str,
    position: usize,
    end: usize,
}

impl<'a> Scanner<'a> {
    /// A cursor at the start of `part`, which must lie on character boundaries of `text`; otherwise it is at the end.
    pub(crate) fn new(text: &'a str, part: Range<usize>) -> Self {
        Self { text, position: part.start, end: part.end }
    }

    pub(crate) fn position(&self) -> usize {
        self.position
    }

    /// Goes back (or on) to a position this cursor has had.
    pub(crate) fn go_to(&mut self, position: usize) {
        self.position = position;
    }

    pub(crate) fn rest(&self) -> &'a str {
        self.text.get(self.position..self.end).unwrap_or_default()
    }

    /// The part of the text in this range; empty where the range is none.
    pub(crate) fn slice(&self, range: Range<usize>) -> &'a str {
        self.text.get(range).unwrap_or_default()
    }

    /// What is left, without spaces around it.
    pub(crate) fn rest_trimmed(&self) -> Range<usize> {
        trimmed(self.text, self.position..self.end)
    }

    pub(crate) fn is_at_end(&self) -> bool {
        self.rest().is_empty()
    }

    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// The character after the next one.
    pub(crate) fn peek_second(&self) -> Option<char> {
        self.rest().chars().nth(1)
    }

    /// Steps over the next character if it fits.
    pub(crate) fn eat(&mut self, fits: impl Fn(char) -> bool) -> Option<char> {
        let next = self.peek().filter(|next| fits(*next))?;
        self.position += next.len_utf8();
        Some(next)
    }

    /// Steps over all characters that fit and returns where they were.
    pub(crate) fn eat_while(&mut self, fits: impl Fn(char) -> bool) -> Range<usize> {
        let start = self.position;
        while self.eat(&fits).is_some() {}
        start..self.position
    }

    /// Steps over white space, also the no-break and thin kinds; true if there was some.
    pub(crate) fn skip_space(&mut self) -> bool {
        !self.eat_while(char::is_whitespace).is_empty()
    }
}

/// The range without the white space at its ends; an all-blank range shrinks to its start.
pub(crate) fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let part = text.get(range.clone()).unwrap_or_default();
    let inner = part.trim();
    if inner.is_empty() {
        return range.start..range.start;
    }
    let start = range.start + (part.len() - part.trim_start().len());
    start..start + inner.len()
}

/// True for every character that people and their word processors use as a minus sign or hyphen.
pub(crate) fn is_minus(character: char) -> bool {
    matches!(character, '-' | '\u{2010}' | '\u{2011}' | '\u{2012}' | '\u{2013}' | '\u{2212}')
}

pub(crate) fn is_sign(character: char) -> bool {
    character == '+' || is_minus(character)
}

pub(crate) fn is_slash(character: char) -> bool {
    matches!(character, '/' | '\u{2044}' | '\u{2215}')
}

pub(crate) fn is_digit(character: char) -> bool {
    character.is_ascii_digit()
}

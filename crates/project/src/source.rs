//! The way back from a decoded text to its place in the file.

use std::ops::Range;

/// Place in the file of a part of a quoted text. Falls back to the whole where the way back is not plain
/// (texts over several lines).
pub(crate) fn source_span(file: &str, span: &Range<usize>, text: &str, part: &Range<usize>) -> Range<usize> {
    let whole = span.clone();
    let Some(source) = file.get(whole.clone()) else { return whole };
    if source.starts_with("\"\"\"") || source.starts_with("'''") {
        return whole;
    }
    let literal = source.starts_with('\'');
    let Some(inner) = source.get(1..source.len().saturating_sub(1)) else { return whole };
    // `places[i]` is where in the file the i-th byte of the text comes from.
    let mut places = Vec::with_capacity(text.len() + 1);
    let mut letters = inner.char_indices();
    while let Some((at, letter)) = letters.next() {
        let mut bytes = letter.len_utf8();
        if letter == '\\' && !literal {
            let (skip, decoded) = match letters.next() {
                Some((_, 'u')) => (4, None),
                Some((_, 'U')) => (8, None),
                Some((_, 'x')) => (2, None),
                _ => (0, Some(1)),
            };
            let digits: String = letters.by_ref().take(skip).map(|(_, digit)| digit).collect();
            let code = u32::from_str_radix(&digits, 16).ok().and_then(char::from_u32);
            bytes = decoded.unwrap_or_else(|| code.map_or(1, char::len_utf8));
        }
        places.extend(std::iter::repeat_n(whole.start + 1 + at, bytes));
    }
    places.push(whole.start + 1 + inner.len());
    if places.len() != text.len() + 1 {
        return whole;
    }
    match (places.get(part.start), places.get(part.end)) {
        (Some(start), Some(end)) if start <= end => *start..*end,
        _ => whole,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(file: &str, text: &str, part: &str, expect: &str) {
        let at = text.find(part).expect("part of the text");
        let span = source_span(file, &(0..file.len()), text, &(at..at + part.len()));
        assert_eq!(&file[span], expect);
    }

    #[test]
    fn finds_the_way_back_into_the_file() {
        check(r#""24 1/2 ni""#, "24 1/2 ni", "ni", "ni");
        check(r#""5' 2 1/2\" x""#, "5' 2 1/2\" x", "x", "x");
        check(r#""1 \u00b1 ?""#, "1 \u{b1} ?", "?", "?");
        check("'1 \u{b1} ?'", "1 \u{b1} ?", "?", "?");
        check(r#"""""a""""#, "a", "a", r#"""""a""""#);
    }
}

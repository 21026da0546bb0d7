//! Spells keys and texts as TOML.

/// A key, in quotes where it needs them.
pub(crate) fn key(name: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !name.is_empty() && name.chars().all(bare) { name.to_string() } else { text(name, None) }
}

/// A text in quotes, in those that `old` (the source of a text) has where that can be.
pub(crate) fn text(text: &str, old: Option<&str>) -> String {
    let literal = old.is_some_and(|old| old.starts_with('\'') && !old.starts_with("'''"));
    if literal && !text.contains(|c: char| c == '\'' || (c.is_control() && c != '\t')) {
        return format!("'{text}'");
    }
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            letter if letter.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(letter))),
            letter => out.push(letter),
        }
    }
    out.push('"');
    out
}

/// Whether a text is a decimal number as TOML writes one, so that it can stand without quotes.
pub(crate) fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    let (whole, part) = match digits.split_once('.') {
        Some((whole, part)) => (whole, Some(part)),
        None => (digits, None),
    };
    let plain = |text: &str| !text.is_empty() && text.len() <= 15 && text.bytes().all(|b| b.is_ascii_digit());
    plain(whole) && (whole.len() == 1 || !whole.starts_with('0')) && part.is_none_or(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_and_texts() {
        assert_eq!(key("lower-fore"), "lower-fore");
        assert_eq!(key("sill rail"), "\"sill rail\"");
        assert_eq!(key("a.b"), "\"a.b\"");
        assert_eq!(text("5' 2\"", None), "\"5' 2\\\"\"");
        assert_eq!(text("24 1/2", Some("'24'")), "'24 1/2'");
        assert_eq!(text("5'", Some("'24'")), "\"5'\"");
        assert_eq!(text("a\u{1}b", Some("'24'")), "\"a\\u0001b\"");
    }

    #[test]
    fn numbers_that_need_no_quotes() {
        for good in ["0", "-1", "+2.5", "0.05", "2100"] {
            assert!(is_number(good), "{good}");
        }
        for bad in ["", "-", ".5", "5.", "007", "1e3", "1,5", "24 1/2", "1_000", "\u{2212}5"] {
            assert!(!is_number(bad), "{bad}");
        }
    }
}

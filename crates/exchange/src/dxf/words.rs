//! Words as DXF writes them.

/// A line of text. What would begin a new line becomes a blank; `^` and `%%`, which command the letters that follow,
/// are written so that they mean themselves.
pub(super) fn text_words(text: &str) -> String {
    let mut written = String::new();
    // A percent sign commands only beside another.
    let commanding = text.contains("%%");
    for letter in text.trim().chars() {
        match letter {
            '^' => written.push_str("^ "),
            '%' if commanding => written.push_str("%%%"),
            letter if letter.is_control() => written.push(' '),
            letter => written.push(letter),
        }
    }
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_commands() {
        assert_eq!(text_words("Ø 12 ± 0,2"), "Ø 12 ± 0,2");
        assert_eq!(text_words("a\nb\tc"), "a b c");
        assert_eq!(text_words("100 %"), "100 %");
        assert_eq!(text_words("%%d"), "%%%%%%d");
        assert_eq!(text_words("a^b"), "a^ b");
    }
}

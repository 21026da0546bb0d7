//! Words in the clear text of ISO 10303-21.

use std::fmt::Write as _;

/// A string in quotes: quotes and backslashes are doubled; letters outside ASCII are `\X2\…\X0\` in UTF-16 units up to
/// the basic plane, `\X4\…\X0\` beyond it. Control signs become blanks.
pub(super) fn quoted(text: &str) -> String {
    let mut written = String::from("'");
    for letter in text.chars() {
        // Writing to a String cannot fail.
        match letter {
            '\'' => written.push_str("''"),
            '\\' => written.push_str("\\\\"),
            letter if letter.is_control() => written.push(' '),
            letter if letter.is_ascii() => written.push(letter),
            letter if u32::from(letter) <= 0xFFFF => {
                let _ = write!(written, "\\X2\\{:04X}\\X0\\", u32::from(letter));
            }
            letter => {
                let _ = write!(written, "\\X4\\{:08X}\\X0\\", u32::from(letter));
            }
        }
    }
    written.push('\'');
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_letters_and_quotes() {
        assert_eq!(quoted("lower-fore"), "'lower-fore'");
        assert_eq!(quoted("5' \\ 2"), "'5'' \\\\ 2'");
        assert_eq!(quoted("± Ä"), "'\\X2\\00B1\\X0\\ \\X2\\00C4\\X0\\'");
        assert_eq!(quoted("🔧"), "'\\X4\\0001F527\\X0\\'");
        assert_eq!(quoted("a\nb"), "'a b'");
    }
}

//! Breaking a text into lines.

use super::{Fonts, clean};

impl Fonts {
    /// Breaks a text into lines of at most `width` [mm], set in `size` [mm]: at words, and inside a word only where
    /// it is longer than a line. At least one line, which may be empty; no character is lost but the blanks at
    /// breaks.
    pub fn wrap(&self, text: &str, bold: bool, size: f64, width: f64) -> Vec<String> {
        let room = width / size.max(1e-6);
        let blank = self.width(" ", bold);
        let mut lines: Vec<String> = Vec::new();
        let mut line = String::new();
        let mut used = 0.0;
        for word in clean(text).split(breaks).filter(|word| !word.is_empty()) {
            let wide = self.width(word, bold);
            if !line.is_empty() && used + blank + wide <= room {
                line.push(' ');
                line.push_str(word);
                used += blank + wide;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            if wide <= room {
                line.push_str(word);
                used = wide;
            } else {
                let mut pieces = self.pieces(word, bold, room);
                line = pieces.pop().unwrap_or_default();
                used = self.width(&line, bold);
                lines.append(&mut pieces);
            }
        }
        if !line.is_empty() || lines.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// The text, or as much of it as goes into `width` [mm] with an ellipsis behind.
    pub fn elide(&self, text: &str, bold: bool, size: f64, width: f64) -> String {
        let text = clean(text);
        let room = width / size.max(1e-6);
        if self.width(&text, bold) <= room {
            return text;
        }
        let room = room - self.width("…", bold);
        let mut kept = self.pieces(&text, bold, room).into_iter().next().unwrap_or_default();
        if self.width(&kept, bold) > room {
            kept.clear();
        }
        kept.truncate(kept.trim_end().len());
        kept.push('…');
        kept
    }

    /// Width of the longest word of a text [mm], set in `size` [mm].
    pub(crate) fn longest_word(&self, text: &str, bold: bool, size: f64) -> f64 {
        clean(text).split(breaks).map(|word| self.width(word, bold) * size).fold(0.0, f64::max)
    }

    /// A word in pieces of at most `room` [em]; a piece has at least one character.
    fn pieces(&self, word: &str, bold: bool, room: f64) -> Vec<String> {
        let mut pieces = Vec::new();
        let mut rest = word;
        while !rest.is_empty() {
            let (piece, behind) = rest.split_at(self.first_piece(rest, bold, room));
            pieces.push(piece.to_string());
            rest = behind;
        }
        pieces
    }

    /// Where the first piece of a word ends [bytes].
    fn first_piece(&self, word: &str, bold: bool, room: f64) -> usize {
        let mut used = 0.0;
        let mut end = word.len();
        // Where a reader would break it, and the width up to there.
        let mut good: Option<(usize, f64)> = None;
        for (at, c) in word.char_indices() {
            let wide = if joins(c) { 0.0 } else { self.single(c, bold) };
            if used + wide > room && at > 0 && !joins(c) {
                end = good.filter(|(_, width)| *width > 0.5 * room).map_or(at, |(good, _)| good);
                break;
            }
            used += wide;
            if matches!(c, '-' | '/' | '_' | ',' | ';' | ' ' | '\u{200b}') {
                good = Some((at + c.len_utf8(), used));
            }
        }
        // Set together some characters are wider than one by one.
        while let Some(piece) = word.get(..end).filter(|piece| self.width(piece, bold) > room) {
            let before = piece.char_indices().rev().find(|(at, c)| *at > 0 && !joins(*c));
            let Some((at, _)) = before else { break };
            end = at;
        }
        end
    }

    /// Width of one character by itself [em].
    fn single(&self, c: char, bold: bool) -> f64 {
        let mut text = [0_u8; 4];
        self.width(c.encode_utf8(&mut text), bold)
    }
}

/// Blanks at which a line may end; the ones that join do not.
fn breaks(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{202f}' | '\u{2007}')
}

/// Whether a character belongs to the one before it.
pub(super) fn joins(c: char) -> bool {
    matches!(c, '\u{300}'..='\u{36f}' | '\u{483}'..='\u{489}' | '\u{591}'..='\u{5bd}' | '\u{64b}'..='\u{65f}'
        | '\u{200c}' | '\u{200d}' | '\u{20d0}'..='\u{20ff}' | '\u{fe00}'..='\u{fe0f}' | '\u{1f3fb}'..='\u{1f3ff}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn breaks_at_words_and_keeps_joined_ones() {
        let fonts = Fonts::new();
        let lines = fonts.wrap("The forward link carries 4.5\u{a0}kN under the brakes", false, 3.0, 30.0);
        assert!(lines.len() > 2, "{lines:?}");
        assert!(lines.iter().any(|line| line.contains("4.5\u{a0}kN")), "{lines:?}");
        assert_eq!(fonts.wrap("", false, 3.0, 30.0), [""]);
        assert_eq!(fonts.wrap("  \n ", false, 3.0, 30.0), [""]);
    }

    #[test]
    fn elides_to_the_room_there_is() {
        let fonts = Fonts::new();
        let text = "A title that is much too long for the head of a page";
        let short = fonts.elide(text, true, 3.0, 40.0);
        assert!(short.ends_with('…') && fonts.width(&short, true) * 3.0 <= 40.0, "{short}");
        assert_eq!(fonts.elide("short", true, 3.0, 40.0), "short");
        assert_eq!(fonts.elide(text, true, 3.0, 0.5), "…");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        /// No line is wider than asked where a single character is not; nothing is lost.
        #[test]
        fn lines_fit_and_nothing_is_lost(text in "[ -~±°²·−→Ωλжשć漢]{0,160}", bold: bool, width in 6.0..120.0_f64) {
            let fonts = Fonts::new();
            let lines = fonts.wrap(&text, bold, 3.0, width);
            for line in &lines {
                prop_assert!(fonts.width(line, bold) * 3.0 <= width * 1.01 + 0.1, "{line:?}");
            }
            let bare = |t: &str| t.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(bare(&lines.concat()), bare(&text));
        }
    }
}

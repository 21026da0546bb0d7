//! The colours of each theme.

use std::fmt::Write;

/// A set of colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Theme {
    /// Dark lines on light paper.
    Light,
    /// Light lines on dark paper.
    Dark,
    /// Black on white: dashes carry the meaning.
    Print,
}

/// Name; light, dark, print. Words have at least 4.5:1 against the paper and lines that matter 3:1 (WCAG 2.2,
/// 1.4.3 and 1.4.11; the test works it out). The six hues stay apart for red-, green- and blue-blind eyes: blue,
/// orange, green, rose, sky and brown of differing lightness, our own values after the order of hues that M. Okabe
/// and K. Ito gave in Color Universal Design (2002, from memory). The five colours of use, least to most, were sought
/// by us to lie far apart for all these eyes (the test works that out too); on paper they are greys.
const COLOURS: [(&str, [&str; 3]); 20] = [
    ("--paper", ["#fbfaf6", "#15181a", "#ffffff"]),
    ("--ink", ["#22272b", "#e8e6df", "#000000"]),
    ("--faint", ["#5d656b", "#9fa7ab", "#333333"]),
    ("--line", ["#4a535a", "#b9c0c2", "#000000"]),
    ("--pale", ["#a4abae", "#5c666b", "#777777"]),
    ("--tint", ["#efede6", "#1f2427", "#f4f4f4"]),
    ("--accent", ["#a63d12", "#ff9d66", "#000000"]),
    ("--accent-tint", ["#f3ddd0", "#4a2c1c", "#e4e4e4"]),
    ("--second", ["#1d5f8a", "#7fbfe6", "#000000"]),
    ("--s0", ["#a63d12", "#ff9d66", "#000000"]),
    ("--s1", ["#1d5f8a", "#7fbfe6", "#000000"]),
    ("--s2", ["#2f7d4f", "#7fd09b", "#000000"]),
    ("--s3", ["#a0467f", "#eb9dcd", "#000000"]),
    ("--s4", ["#7a6a00", "#e0cf62", "#000000"]),
    ("--s5", ["#4d4d8f", "#b3b3f2", "#000000"]),
    ("--use-0", ["#727ba4", "#6c7599", "#8a8a8a"]),
    ("--use-1", ["#3067f4", "#1b9bf2", "#6f6f6f"]),
    ("--use-2", ["#8b4b00", "#dfa913", "#505050"]),
    ("--use-3", ["#d06a05", "#e7634d", "#262626"]),
    ("--use-4", ["#8c0030", "#ffc0e0", "#000000"]),
];

impl Theme {
    fn column(self) -> usize {
        match self {
            Self::Light => 0,
            Self::Dark => 1,
            Self::Print => 2,
        }
    }

    /// The value of a variable, such as `--ink`, as `#rrggbb`.
    pub fn colour(self, name: &str) -> Option<&'static str> {
        let (_, values) = COLOURS.iter().find(|(n, _)| *n == name)?;
        values.get(self.column()).copied()
    }
}

/// All variables of a theme, as declarations.
pub(crate) fn variables(theme: Theme) -> String {
    let mut out = String::new();
    for (name, _) in &COLOURS {
        let _ = write!(out, "{name}:{};", theme.colour(name).unwrap_or_default());
    }
    out
}

/// Rules with every `var(--name)` replaced by its value.
pub(crate) fn resolve(rules: &str, theme: Theme) -> String {
    let mut out = String::with_capacity(rules.len());
    let mut parts = rules.split("var(");
    out.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let (name, rest) = part.split_once(')').unwrap_or((part, ""));
        out.push_str(theme.colour(name).unwrap_or("none"));
        out.push_str(rest);
    }
    out
}

#[cfg(test)]
mod eyes;

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance as WCAG 2.2 defines it.
    fn luminance(colour: &str) -> f64 {
        let [red, green, blue] = eyes::linear(colour);
        0.2126 * red + 0.7152 * green + 0.0722 * blue
    }

    fn contrast(a: &str, b: &str) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn words_and_lines_stand_out() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
        for theme in [Theme::Light, Theme::Dark, Theme::Print] {
            let colour = |name| theme.colour(name).unwrap();
            for ground in ["--paper", "--tint", "--accent-tint"] {
                for name in ["--ink", "--faint", "--accent", "--second"] {
                    let c = contrast(colour(name), colour(ground));
                    assert!(c >= 4.5, "{theme:?} {name} on {ground}: {c:.2}");
                }
                for name in ["--line", "--s0", "--s1", "--s2", "--s3", "--s4", "--s5"] {
                    let c = contrast(colour(name), colour(ground));
                    assert!(c >= 3.0, "{theme:?} {name} on {ground}: {c:.2}");
                }
            }
        }
    }

    /// The lines of a loaded frame, on the grounds that they are drawn on; the last colour is also one of words.
    #[test]
    fn use_stands_out() {
        for theme in [Theme::Light, Theme::Dark, Theme::Print] {
            let colour = |name| theme.colour(name).unwrap();
            for ground in ["--paper", "--tint"] {
                for (name, least) in
                    [("--use-0", 3.0), ("--use-1", 3.0), ("--use-2", 3.0), ("--use-3", 3.0), ("--use-4", 4.5)]
                {
                    let c = contrast(colour(name), colour(ground));
                    assert!(c >= least, "{theme:?} {name} on {ground}: {c:.2}");
                }
            }
        }
    }
}

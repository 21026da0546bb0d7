//! The one stylesheet: light, dark and print from the same rules.
//!
//! Drawings carry classes only. Colours are variables, so a page may use them too: `--ink`, `--paper`, `--accent`,
//! `--faint`, `--line`, `--pale`, `--tint`, and `--s0` to `--s5` for curves and variants.

mod theme;

use std::sync::LazyLock;

pub use theme::Theme;

/// Lines and words; the same in every theme. Plain selectors, so that simple renderers understand them.
const RULES: &str = include_str!("style/rules.css");

/// What only a live page has: pointer, focus, hover.
const LIVE: &str = include_str!("style/live.css");

/// The stylesheet for pages: follows the reader's preference, overridden by `data-theme="light"` or `"dark"` on the
/// page's root element; black and white on paper.
pub static CSS: LazyLock<String> = LazyLock::new(|| {
    let [light, dark, print] = [Theme::Light, Theme::Dark, Theme::Print].map(theme::variables);
    format!(
        ":root{{color-scheme:light;{light}}}\n\
         @media (prefers-color-scheme:dark){{:root:not([data-theme=\"light\"]){{color-scheme:dark;{dark}}}}}\n\
         :root[data-theme=\"dark\"]{{color-scheme:dark;{dark}}}\n\
         {RULES}{LIVE}\
         @media print{{:root:root:root{{color-scheme:light;{print}}}}}\n"
    )
});

/// A drawing that stands by itself: with the stylesheet inside, so that it follows the reader's preference.
pub fn standalone(svg: &str) -> String {
    with_style(svg, &CSS)
}

/// A drawing in one theme with every colour resolved: for renderers that know no variables.
pub fn standalone_in(svg: &str, theme: Theme) -> String {
    with_style(svg, &rules_in(theme))
}

/// The rules of one theme with every colour resolved: for a sheet that holds several drawings.
pub fn rules_in(theme: Theme) -> String {
    theme::resolve(RULES, theme)
}

/// Puts a style and a sheet of paper behind the drawing, just inside the root element.
fn with_style(svg: &str, css: &str) -> String {
    let Some(end) = svg.find('>').filter(|end| svg.starts_with("<svg") && svg.get(..*end).is_some()) else {
        return svg.to_string();
    };
    let (root, rest) = svg.split_at(end + 1);
    format!("{root}<style>{css}</style><rect class=\"paper\" width=\"100%\" height=\"100%\"/>{rest}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_style_goes_just_inside_the_root() {
        let whole = standalone_in("<svg class=\"draw\"><g/></svg>", Theme::Print);
        assert!(whole.starts_with("<svg class=\"draw\"><style>") && whole.ends_with("<g/></svg>"));
        assert!(!whole.contains("var("), "{whole}");
        assert_eq!(standalone("not a drawing"), "not a drawing");
    }

    #[test]
    fn every_variable_of_the_rules_is_defined() {
        for part in format!("{RULES}{LIVE}").split("var(").skip(1) {
            let name = part.split(')').next().unwrap();
            assert!(CSS.contains(&format!("{name}:")), "{name}");
        }
    }
}

//! The file as text: for a file that makes no tables, and for whatever has no cell. No mistake is a dead end.

use maud::{Markup, html};
use project::Diagnostic;
use project::store::StoreError;

use super::mistakes::Mistakes;
use crate::web::App;

/// A text that was refused.
pub(crate) struct Text {
    pub text: String,
    wrong: Vec<Diagnostic>,
}

impl Text {
    /// With what is wrong with it.
    pub fn refused(text: String, error: &StoreError) -> Self {
        Self { text, wrong: super::told(error) }
    }

    /// What is wrong, by line.
    pub fn mistakes(&self) -> Mistakes {
        Mistakes::of(&self.text, self.wrong.iter().cloned())
    }
}

/// A text as a browser sends it, with the line ends of the file.
pub(crate) fn line_ends(sent: &str, file: &str) -> String {
    let plain = sent.replace("\r\n", "\n");
    if file.contains("\r\n") { plain.replace('\n', "\r\n") } else { plain }
}

/// The page.
pub(crate) fn page(app: &App, text: &str, mistakes: &Mistakes, address: &str) -> Markup {
    html! {
        div.measure {
            section.mend id="part-mend" data-sheet="" {
                h1 { "The file as text" }
                @if mistakes.errors() > 0 {
                    p { "The file cannot be used as it is. Mend what stands below, and save." }
                }
                (mistakes.rest())
                form method="post" action={ "/measure?token=" (app.guard.token()) } {
                    input type="hidden" name="back" value=(address);
                    label.unseen for="text" { "The file's text" }
                    // The first line end of a text area is not part of its text.
                    textarea id="text" name="text" rows="28" spellcheck="false" autocomplete="off" { "\n" (text) }
                    p { button.main { "Save the file" } " " a.button href=(address) { "Back to the tables" } }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn line_ends_stay_as_the_file_has_them() {
        assert_eq!(line_ends("a\r\nb\r\n", "x\ny\n"), "a\nb\n");
        assert_eq!(line_ends("a\r\nb", "x\r\n"), "a\r\nb");
    }
}

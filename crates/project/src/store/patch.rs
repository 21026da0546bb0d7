//! The difference of two texts as one place: what stood there, and what stands there instead.

use serde::{Deserialize, Serialize};

/// One place of a text, before and after.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Patch {
    /// First byte.
    at: usize,
    /// What stood there.
    out: String,
    /// What stands there instead.
    #[serde(rename = "in")]
    inside: String,
}

impl Patch {
    /// From one text to another: what is alike before and behind is left out.
    pub(crate) fn between(before: &str, after: &str) -> Self {
        let alike = before.bytes().zip(after.bytes()).take_while(|(a, b)| a == b).count();
        let at = (0..=alike).rev().find(|at| before.is_char_boundary(*at)).unwrap_or(0);
        let (old, new) = (before.get(at..).unwrap_or_default(), after.get(at..).unwrap_or_default());
        let alike = old.bytes().rev().zip(new.bytes().rev()).take_while(|(a, b)| a == b).count();
        let fits =
            |tail: &usize| old.is_char_boundary(old.len() - tail) && new.is_char_boundary(new.len() - tail);
        let tail = (0..=alike).rev().find(fits).unwrap_or(0);
        let part = |text: &str| text.get(..text.len() - tail).unwrap_or_default().to_string();
        Self { at, out: part(old), inside: part(new) }
    }

    /// About how much it takes to write it down \[bytes\].
    pub(crate) fn size(&self) -> u64 {
        (self.out.len() + self.inside.len() + 128) as u64
    }

    /// The way back.
    pub(crate) fn inverse(&self) -> Self {
        Self { at: self.at, out: self.inside.clone(), inside: self.out.clone() }
    }

    /// The text after the change; `None` where it is not the one that the change was made from.
    pub(crate) fn applied(&self, text: &str) -> Option<String> {
        let tail = text.get(self.at..)?.strip_prefix(self.out.as_str())?;
        Some([text.get(..self.at)?, self.inside.as_str(), tail].concat())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn goes_there_and_back() {
        let texts = ["", "a", "ab", "aab", "aaab", "± 1", "² 1", "x ± 1", "x ² 1", "a±b", "a±±b", "a²b"];
        for before in texts {
            for after in texts {
                let patch = Patch::between(before, after);
                assert_eq!(patch.applied(before).as_deref(), Some(after), "{before} {after} {patch:?}");
                assert_eq!(patch.inverse().applied(after).as_deref(), Some(before), "{before} {after}");
            }
        }
    }

    #[test]
    fn is_not_made_on_another_text() {
        assert_eq!(Patch::between("abc", "axc").applied("acc"), None);
        assert_eq!(Patch::between("abc", "abd").applied("±"), None);
    }
}

//! The nearest right name.

/// Least Jaro-Winkler likeness at which a name is offered when it is more than two slips away.
const LIKENESS: f64 = 0.86;

/// Longest name that is compared; the comparison is quadratic and no name in the format is as long.
const LONGEST: usize = 80;

/// The candidate that was probably meant: the one with the fewest slips of the finger (a letter wrong, missing,
/// extra, or two swapped), or else one that starts alike. `None` when nothing is near.
pub(crate) fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.trim().to_lowercase().replace(['_', ' '], "-");
    if word.is_empty() || word.len() > LONGEST {
        return None;
    }
    candidates
        .into_iter()
        .filter(|candidate| candidate.len() <= LONGEST)
        .map(|candidate| {
            let lower = candidate.to_lowercase();
            (strsim::damerau_levenshtein(&word, &lower), strsim::jaro_winkler(&word, &lower), candidate)
        })
        .filter(|(slips, likeness, candidate)| {
            let allowed = if candidate.len() <= 3 { 1 } else { 2 };
            (*slips <= allowed && *slips < candidate.len()) || *likeness >= LIKENESS
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)))
        .map(|(_, _, candidate)| candidate)
}

/// "did you mean `…`?" or the list of what there is.
pub(crate) fn hint<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str> + Clone) -> Option<String> {
    match nearest(word, candidates.clone()) {
        Some(near) => Some(format!("did you mean `{near}`?")),
        None => {
            let all = list(candidates);
            (!all.is_empty()).then(|| format!("one of {all}"))
        }
    }
}

/// Most names that a list in a message shows.
const SHOWN: usize = 16;

/// "`a`, `b`, `c`".
pub(crate) fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let mut names = names.into_iter();
    let mut shown: Vec<String> = names.by_ref().take(SHOWN).map(|name| format!("`{name}`")).collect();
    let rest = names.count();
    if rest > 0 {
        shown.push(format!("and {rest} more"));
    }
    shown.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(word: &str, expect: Option<&str>) {
        let names = ["centre", "camber", "loaded-radius", "toe", "rim-diameter"];
        assert_eq!(nearest(word, names), expect);
    }

    #[test]
    fn finds_what_was_meant() {
        check("center", Some("centre"));
        check("cmaber", Some("camber"));
        check("loaded_radius", Some("loaded-radius"));
        check("Toe", Some("toe"));
        check("loaded-rad", Some("loaded-radius"));
        check("offset", None);
        check("", None);
        check(&"x".repeat(10_000), None);
    }
}

//! The known word nearest to a mistyped one.

/// Longer words than this get no suggestion: no unit is as long, and the comparison is quadratic.
const LONGEST: usize = 24;

/// The candidate that needs the fewest slips of the finger (a letter wrong, missing, extra, or two swapped) to
/// become `word`, the first of equals. `None` when even that one is as far away as a random word would be: more
/// than two slips, or as many slips as the candidate has letters.
pub(crate) fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word: Vec<char> = word.chars().flat_map(char::to_lowercase).collect();
    if word.len() > LONGEST {
        return None;
    }
    candidates
        .map(|candidate| {
            let letters: Vec<char> = candidate.chars().flat_map(char::to_lowercase).collect();
            (distance(&word, &letters), letters.len(), candidate)
        })
        .filter(|(slips, length, _)| *slips <= 2 && slips < length)
        .min_by_key(|(slips, ..)| *slips)
        .map(|(_, _, candidate)| candidate)
}

/// Optimal string alignment distance, by rows: `row[j]` is the distance of the letters of `a` so far to `b[..j]`.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, letter) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (j, other) in b.iter().enumerate() {
            let at = |line: &[usize], index: usize| line.get(index).copied().unwrap_or(usize::MAX - 1);
            let mut least =
                (at(&row, j) + usize::from(letter != other)).min(at(&row, j + 1) + 1).min(at(&next, j) + 1);
            let swapped = i > 0 && j > 0 && a.get(i - 1) == Some(other) && b.get(j - 1) == Some(letter);
            if swapped {
                least = least.min(at(&before, j - 1) + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut row, next);
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(word: &str, expect: Option<&str>) {
        assert_eq!(nearest(word, ["mm", "cm", "m", "in", "inch", "ft"].into_iter()), expect);
    }

    #[test]
    fn suggests_what_was_meant() {
        check("mn", Some("mm"));
        check("MM", Some("mm"));
        check("ni", Some("in"));
        check("imch", Some("inch"));
        check("xyz", None);
        check(&"m".repeat(1000), None);
    }
}

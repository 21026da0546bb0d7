//! What was worked out for the last few questions. While one point is dragged the pinned variants stay as they are: to
//! work them out again at every move would cost more than the move itself.

use std::sync::{Mutex, PoisonError};

/// Answers that are kept: of the most variants that can be pinned and of the car as drawn, twice over.
const MOST: usize = 12;

/// Answers by question, the latest last.
pub(crate) struct Memory<T>(Mutex<Vec<(String, T)>>);

impl<T> Default for Memory<T> {
    fn default() -> Self {
        Self(Mutex::new(Vec::new()))
    }
}

impl<T: Clone> Memory<T> {
    /// The answer to a question; `make` works it out where it is not kept.
    pub fn of(&self, question: String, make: impl FnOnce() -> T) -> T {
        // Nothing can be left half done under this lock, so that a panic elsewhere spoils nothing.
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, answer)) = kept.iter().find(|(q, _)| *q == question) {
            return answer.clone();
        }
        let answer = make();
        if kept.len() >= MOST {
            kept.remove(0);
        }
        kept.push((question, answer.clone()));
        answer
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_is_worked_out_once_until_it_is_forgotten() {
        let memory = Memory::default();
        let ask = |question: usize| {
            let mut worked = false;
            let answer = memory.of(question.to_string(), || {
                worked = true;
                question * 2
            });
            assert_eq!(answer, question * 2);
            worked
        };
        assert!(ask(1));
        assert!(!ask(1));
        (2..2 + MOST).for_each(|q| assert!(ask(q)));
        assert!(ask(1), "the oldest goes first");
        assert!(!ask(1 + MOST));
    }
}

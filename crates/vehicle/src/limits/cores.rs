//! The same work for one index after the other, on several cores.

use std::thread;

/// `work` for every index below `count`, in their order, on at most so many cores; each has its own copy of `state`. Every
/// copy begins as `state` is, so that the results do not depend on how many there are.
pub(super) fn each<S: Clone + Send, T: Send>(
    count: usize,
    cores: usize,
    state: &S,
    work: impl Fn(&mut S, usize) -> T + Sync,
) -> Vec<T> {
    let one = |i: usize| work(&mut state.clone(), i);
    let cores = cores.clamp(1, count.max(1));
    if cores == 1 {
        return (0..count).map(one).collect();
    }
    let state = state.clone();
    let each = count.div_ceil(cores);
    let mut out = Vec::with_capacity(count);
    thread::scope(|scope| {
        let handles: Vec<_> = (0..cores)
            .map(|core| {
                let (state, work) = (state.clone(), &work);
                scope.spawn(move || {
                    let range = core * each..((core + 1) * each).min(count);
                    range.map(|i| work(&mut state.clone(), i)).collect::<Vec<T>>()
                })
            })
            .collect();
        for handle in handles {
            match handle.join() {
                Ok(part) => out.extend(part),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
    });
    out
}

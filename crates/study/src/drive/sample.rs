//! Samples of what is uncertain, alike for every variant of the car: common random numbers.
//!
//! A deviate is a function of the sample's number and of the figure's name alone. So the same survey error, the same tyre,
//! the same surface go through every setup, whatever else it has, and what they share cancels in a difference (any text on
//! simulation; JCGM 101:2008 draws so for one result).

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;

/// The normal deviate of a figure in a sample.
pub(crate) fn deviate(sample: u64, name: &str) -> f64 {
    // FNV-1a over the name, then SplitMix64 for two even numbers (G. Fowler et al.; G. Steele et al. (2014); remembered).
    let mut hash = 0xcbf2_9ce4_8422_2325u64;
    for byte in name.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    let mut state = hash ^ sample.wrapping_add(1).wrapping_mul(0xd134_2543_de82_ef95);
    let mut even = || {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    };
    let (u, v) = (even(), even());
    // Box & Muller (1958); what never comes is a deviate beyond eight.
    (-2.0 * (1.0 - u).max(1e-15).ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}

/// How long work is gone about.
#[derive(Clone, Copy)]
pub struct Way<'a> {
    /// Cores to use.
    pub cores: usize,
    /// Set to end with what there is.
    pub stop: &'a AtomicBool,
    /// Gets how much is done of how much.
    pub progress: &'a (dyn Fn(usize, usize) + Sync),
}

/// Nobody stops what nobody watches.
static NEVER: AtomicBool = AtomicBool::new(false);

impl Default for Way<'_> {
    /// On all cores, to its end, without a word.
    fn default() -> Self {
        Self { cores: cores(), stop: &NEVER, progress: &|_, _| {} }
    }
}

impl<'a> Way<'a> {
    /// To be called for each that is done of so many: tells how many are.
    pub(crate) fn counted(&self, total: usize) -> impl Fn() + Sync + use<'a> {
        let (progress, done) = (self.progress, AtomicUsize::new(0));
        move || progress(1 + done.fetch_add(1, Ordering::Relaxed), total)
    }
}

/// `work` for every number below `count`, in their order; those that were not reached when it was stopped are `None`.
pub(crate) fn spread<T: Send>(
    count: usize,
    &Way { cores, stop, .. }: &Way<'_>,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<Option<T>> {
    let next = AtomicUsize::new(0);
    let one = || {
        let mut done = Vec::new();
        while !stop.load(Ordering::Relaxed) {
            let i = next.fetch_add(1, Ordering::Relaxed);
            if i >= count {
                break;
            }
            done.push((i, work(i)));
        }
        done
    };
    let mut out: Vec<Option<T>> = (0..count).map(|_| None).collect();
    let mut put = |done: Vec<(usize, T)>| {
        for (i, value) in done {
            if let Some(slot) = out.get_mut(i) {
                *slot = Some(value);
            }
        }
    };
    if cores <= 1 || count <= 1 {
        put(one());
        return out;
    }
    thread::scope(|scope| {
        let handles: Vec<_> = (0..cores.min(count)).map(|_| scope.spawn(one)).collect();
        for handle in handles {
            match handle.join() {
                Ok(done) => put(done),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
    });
    out
}

/// Cores of this machine.
pub fn cores() -> usize {
    thread::available_parallelism().map_or(1, usize::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean 0, variance 1, no two names alike (moments of the normal distribution).
    #[test]
    fn deviates_are_normal() {
        let n = 20_000u64;
        for name in ["mass", "x of rear hole A", ""] {
            let all: Vec<f64> = (0..n).map(|i| deviate(i, name)).collect();
            let mean = all.iter().sum::<f64>() / n as f64;
            let square = all.iter().map(|z| z * z).sum::<f64>() / n as f64;
            let fourth = all.iter().map(|z| z.powi(4)).sum::<f64>() / n as f64;
            assert!(mean.abs() < 0.03 && (square - 1.0).abs() < 0.04 && (fourth - 3.0).abs() < 0.3, "{name}");
        }
        let both = (0..n).map(|i| deviate(i, "a") * deviate(i, "b")).sum::<f64>() / n as f64;
        assert!(both.abs() < 0.03);
        assert_eq!(deviate(3, "mass"), deviate(3, "mass"));
    }

    #[test]
    fn work_is_spread_and_stopped() {
        let go = AtomicBool::new(false);
        let way = |cores| Way { cores, stop: &go, ..Way::default() };
        let all = spread(100, &way(3), |i| i * i);
        assert!(all.iter().enumerate().all(|(i, v)| *v == Some(i * i)));
        let some = spread(100, &way(2), |i| {
            if i == 10 {
                go.store(true, Ordering::Relaxed);
            }
            i
        });
        assert!(some.iter().flatten().count() < 100 && some.first() == Some(&Some(0)));
    }
}

//! A progress bar for whatever takes more than a second; shorter work shows none.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// How long to wait before showing that work is going on.
const PATIENCE: Duration = Duration::from_secs(1);

/// Shows progress on standard error once work has taken [`PATIENCE`]; never if that is not a terminal.
pub(crate) struct Progress {
    started: Instant,
    bar: ProgressBar,
    what: &'static str,
    shown: AtomicBool,
}

impl Progress {
    pub(crate) fn new(what: &'static str) -> Self {
        Self { started: Instant::now(), bar: ProgressBar::hidden(), what, shown: AtomicBool::new(false) }
    }

    /// Told from any thread.
    pub(crate) fn at(&self, done: usize, total: usize) {
        if self.started.elapsed() >= PATIENCE && !self.shown.swap(true, Ordering::Relaxed) {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
            if let Ok(style) = ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len}") {
                self.bar.set_style(style);
            }
            self.bar.set_message(self.what);
        }
        self.bar.set_length(total as u64);
        self.bar.set_position(done as u64);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

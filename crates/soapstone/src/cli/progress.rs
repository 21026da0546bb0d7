//! A progress bar for whatever takes more than a second; shorter work shows none.

use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// How long to wait before showing that work is going on.
const PATIENCE: Duration = Duration::from_secs(1);

/// Shows progress on standard error once work has taken [`PATIENCE`]; never if that is not a terminal.
pub(crate) struct Progress {
    started: Instant,
    bar: ProgressBar,
    what: &'static str,
    shown: bool,
}

impl Progress {
    pub(crate) fn new(what: &'static str) -> Self {
        Self { started: Instant::now(), bar: ProgressBar::hidden(), what, shown: false }
    }

    pub(crate) fn at(&mut self, done: usize, total: usize) {
        if !self.shown && self.started.elapsed() >= PATIENCE {
            self.shown = true;
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

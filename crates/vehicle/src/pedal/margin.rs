//! How much harder the brakes may go on before the rear wheels' hop no longer dies away.

use super::PedalError;
use super::model::{State, Stopper, at};
use super::steady::MOST_TORQUE;
use crate::AxleEnd;
use crate::error::within;

/// How far the stated brake torques may rise, front and rear alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HopMargin {
    /// Factor on the stated torques at which the first of [`HopEnd`] comes [-]: below 1 the stated stop is past it
    /// already, 0 where the hop does not die away even without brakes; [`MOST_FACTOR`] where none comes.
    pub factor: f64,
    /// What comes first.
    pub ends: HopEnd,
    /// Damping ratio of the hop just below that factor [-]; `None` where the rear wheels are damped too well to swing.
    pub damping: Option<f64>,
}

/// What ends the rise of the brake torques.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HopEnd {
    /// The rear wheels' hop no longer dies away: its damping ratio is zero. Beyond, it grows by itself.
    Undamped,
    /// The tyres of this axle give no more force: beyond, its wheels lock.
    Slides(AxleEnd),
    /// The wheels of this axle leave the road.
    Lifts(AxleEnd),
    /// The travel of this axle finds no hold: its linkage comes to its end, or the brakes jack it up (side-view arm too
    /// short) by more than its springs hold.
    Travel(AxleEnd),
    /// None of these up to [`MOST_FACTOR`].
    Beyond,
}

/// Factor at which the search ends [-]: no pedal makes five times of a stop that is worth stating.
pub const MOST_FACTOR: f64 = 5.0;

/// Factors tried upwards from none are so far apart [-]: a damping that dips below zero and comes back within less is
/// not seen.
const STRIDE: f64 = 0.1;

/// Halvings of one stride: the factor is found to 1e-7.
const HALVINGS: usize = 20;

/// A load below this share of the one at the stated speed without brakes is none: the wheels are about to leave the
/// road [-].
const NO_LOAD: f64 = 0.02;

/// Share of the grip in use above which it is sliding that ends the steady states [-]: they end at 1.
const NEARLY_ALL: f64 = 0.98;

/// The car with the torques at one factor.
#[derive(Clone, Copy)]
struct Braked {
    state: State,
    damping: Option<f64>,
    load: [f64; 2],
    /// Share of each axle's tyres' greatest braking force in use, past its peak above 1.
    used: [f64; 2],
    /// Travel of each axle [m], and whether it is beyond what its linkage was followed to.
    travel: [f64; 2],
    beyond: [bool; 2],
}

impl Stopper<'_> {
    /// How far brake torques at one wheel of each axle [Nm] may rise together at a speed [m/s] before the rear hop is
    /// undamped, or an axle slides, leaves the road or finds no hold. Factors are tried from none upwards, so that the
    /// first end is found also where the stated stop is past it; then the stride in which it comes is halved.
    ///
    /// # Errors
    /// Figures that no stop has; a car that does not roll steadily without brakes.
    pub fn hop_margin(&self, speed: f64, torque: [f64; 2]) -> Result<HopMargin, PedalError> {
        for t in torque {
            within("brake torque at one wheel", t, 0.0, MOST_TORQUE)?;
        }
        let free = self.braked(&self.steady_state(speed, [0.0; 2])?, [0.0; 2])?;
        // From the nearest steady state known, each factor's is a few steps away.
        let at = |factor: f64, near: &Braked| {
            let torque = torque.map(|t| t * factor);
            self.braked(&self.steady_near(&near.state, torque)?, torque)
        };
        let (mut below, mut good) = (0.0, free);
        let mut above = None;
        if !good.holds() {
            above = Some((0.0, Some(good)));
        }
        let strides = (MOST_FACTOR / STRIDE).round() as usize;
        for i in 1..=strides {
            if above.is_some() {
                break;
            }
            let factor = STRIDE * i as f64;
            match at(factor, &good) {
                Ok(b) if b.holds() => (below, good) = (factor, b),
                b => above = Some((factor, b.ok())),
            }
        }
        let Some((mut over, mut bad)) = above else {
            return Ok(HopMargin { factor: MOST_FACTOR, ends: HopEnd::Beyond, damping: good.damping });
        };
        for _ in 0..HALVINGS {
            let middle = (below + over) / 2.0;
            match at(middle, &good) {
                Ok(b) if b.holds() => (below, good) = (middle, b),
                b => (over, bad) = (middle, b.ok()),
            }
        }
        Ok(HopMargin { factor: below, ends: end(&free, &good, bad.as_ref()), damping: good.damping })
    }

    fn braked(&self, y: &State, torque: [f64; 2]) -> Result<Braked, PedalError> {
        let damping = match self.swing_about(y, torque) {
            Ok((_, damping)) => Some(damping),
            Err(PedalError::NoSwing) => None,
            Err(e) => return Err(e),
        };
        let wheels = self.look(y, torque).wheels;
        let used = [0, 1].map(|i: usize| {
            let (most, slip) = self.axles[i].tyre.braking_peak(wheels[i].load);
            // By force up to the peak, by slip past it: there is a steady state on the falling side too, but the wheels
            // do not stay in it.
            let past = -y[at::SLIP + i] / slip;
            if past >= 1.0 { past } else { -wheels[i].along / most }
        });
        let travel = [0, 1].map(|i: usize| y[at::TRAVEL + i]);
        let beyond = [0, 1].map(|i: usize| {
            let [lowest, highest] = self.axles[i].table.range();
            !(lowest <= travel[i] && travel[i] <= highest)
        });
        Ok(Braked { state: *y, damping, load: wheels.map(|w| w.load), used, travel, beyond })
    }
}

impl Braked {
    fn holds(&self) -> bool {
        self.damping.is_none_or(|d| d > 0.0)
            && self.used.iter().all(|u| *u < 1.0)
            && self.beyond == [false; 2]
    }
}

/// What came between a factor that holds and one that does not, `None` where that one has no steady state.
fn end(free: &Braked, good: &Braked, bad: Option<&Braked>) -> HopEnd {
    let axle = |rear: bool| if rear { AxleEnd::Rear } else { AxleEnd::Front };
    if bad.is_some_and(|b| b.damping.is_some_and(|d| d <= 0.0)) {
        return HopEnd::Undamped;
    }
    if let Some(i) = (0..2).find(|i| good.load[*i] < NO_LOAD * free.load[*i]) {
        return HopEnd::Lifts(axle(i == 1));
    }
    let (used, least) = bad.map_or((good.used, NEARLY_ALL), |b| (b.used, 1.0));
    if used[0].max(used[1]) >= least {
        return HopEnd::Slides(axle(used[1] > used[0]));
    }
    match bad.map(|b| b.beyond) {
        Some(beyond) => HopEnd::Travel(axle(beyond[1])),
        None => HopEnd::Travel(axle(good.travel[1].abs() > good.travel[0].abs())),
    }
}

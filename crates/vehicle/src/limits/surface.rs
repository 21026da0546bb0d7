//! The limits as a table over speed and the share of the lateral limit in use: what a run over a venue looks up.

use super::cores::each;
use super::driver::Held;
use super::{Edge, LimitCar, LimitError};
use crate::power::Power;

/// Nodes over speed and over the angle whose sine is the share of the lateral limit in use.
const SPEEDS: usize = 13;
const SHARES: usize = 13;

/// Slowest speed of the table [m/s]: below it nothing changes any more but the drag, which is then nothing.
const SLOWEST: f64 = 3.0;

/// What a run over a venue asks of a car. Accelerations [m/s^2] in the plane of the road at one g of load; the lateral ones
/// positive; `grip` a share of the tyres' friction.
pub trait Limits {
    /// Greatest lateral acceleration at constant speed.
    fn across(&self, speed: f64, grip: f64) -> f64;
    /// Greatest longitudinal acceleration that the tyres give while turning; the engine may give less.
    fn traction(&self, speed: f64, across: f64, grip: f64) -> f64;
    /// Least longitudinal acceleration while turning, negative.
    fn braking(&self, speed: f64, across: f64, grip: f64) -> f64;
    /// Longitudinal acceleration without drive and brakes, the wheels' inertia included.
    fn coast(&self, speed: f64, across: f64, grip: f64) -> f64;
    /// What the engine adds to coasting in a gear, the first being 0; `None` above its highest speed.
    fn push(&self, gear: usize, speed: f64) -> Option<f64>;
    /// The gear that pushes hardest.
    fn best_gear(&self, speed: f64) -> usize;
    /// Time of a change up [s].
    fn shift(&self) -> f64;
    /// A speed that it cannot pass [m/s].
    fn fastest(&self) -> f64;
    /// Whether the driver, not the car, ends the braking there.
    fn held(&self, _speed: f64, _across: f64, _grip: f64) -> Option<Held> {
        None
    }
}

/// At one grip.
#[derive(Clone, Debug)]
struct Sheet {
    grip: f64,
    across: [f64; SPEEDS],
    /// Traction, braking, coasting.
    along: [[[f64; 3]; SHARES]; SPEEDS],
    held: [[Option<Held>; SHARES]; SPEEDS],
}

/// The limits of a car, ready to be looked up.
#[derive(Clone, Debug)]
pub struct Surface {
    fastest: f64,
    sheets: Vec<Sheet>,
    power: Option<Power>,
    /// Mass with what the wheels add to it [kg].
    mass: f64,
}

impl Surface {
    /// Finds the limits of a car at the grips of a road, each a share of the tyres' friction, on so many cores (the result
    /// is the same on any number).
    ///
    /// # Errors
    /// Figures that no car has; a car that does not stand, or that can do nothing.
    pub fn new(car: LimitCar<'_>, grips: &[f64], cores: usize) -> Result<Self, LimitError> {
        let fastest = fastest(&car);
        let edge = Edge::new(car, fastest, cores)?;
        Self::of(&edge, fastest, grips, cores)
    }

    fn of(edge: &Edge<'_>, fastest: f64, grips: &[f64], cores: usize) -> Result<Self, LimitError> {
        let mut sheets: Vec<Sheet> = grips.iter().map(|grip| sheet(edge, fastest, *grip, cores)).collect();
        sheets.sort_by(|a, b| a.grip.total_cmp(&b.grip));
        let stands = |sheet: &Sheet| sheet.across.iter().all(|a| *a > 0.0);
        if sheets.is_empty() || !sheets.iter().all(stands) {
            return Err(LimitError::Nothing);
        }
        Ok(Self { fastest, sheets, power: edge.car().power.cloned(), mass: edge.mass_with_wheels() })
    }

    /// Greatest speed on the level, where the drive is used up by what resists [m/s].
    pub fn top_speed(&self) -> f64 {
        let left = |v: f64| {
            let push = self.push(self.best_gear(v), v).unwrap_or(f64::NEG_INFINITY);
            self.coast(v, 0.0, 1.0) + push
        };
        let (mut lo, mut hi) = (0.0, self.fastest);
        if left(hi) >= 0.0 {
            return hi;
        }
        // A gear too short may leave a hole below the top: from above, the first speed that can be held.
        let steps = 200;
        for i in (0..steps).rev() {
            let v = self.fastest * f64::from(i) / f64::from(steps);
            if left(v) >= 0.0 {
                lo = v;
                break;
            }
            hi = v;
        }
        for _ in 0..40 {
            let mid = 0.5 * (lo + hi);
            if left(mid) >= 0.0 { lo = mid } else { hi = mid }
        }
        lo
    }

    /// The sheets beside a grip and the weight of the second.
    #[inline]
    fn between(&self, grip: f64) -> (&Sheet, &Sheet, f64) {
        let above = self.sheets.partition_point(|s| s.grip < grip).min(self.sheets.len() - 1);
        let below = above.saturating_sub(1);
        let (a, b) = (&self.sheets[below], &self.sheets[above]);
        let gap = b.grip - a.grip;
        (a, b, if gap > 0.0 { ((grip - a.grip) / gap).clamp(0.0, 1.0) } else { 1.0 })
    }

    #[inline]
    fn along(&self, speed: f64, across: f64, grip: f64, which: usize) -> f64 {
        let (a, b, t) = self.between(grip);
        let one = |sheet: &Sheet| sheet.along(place(self.fastest, speed), across, which);
        if t >= 1.0 { one(b) } else { one(a) * (1.0 - t) + one(b) * t }
    }
}

/// A speed that the car cannot pass: that of its gears, or where its power is used up by the drag alone.
fn fastest(car: &LimitCar<'_>) -> f64 {
    let Some(power) = car.power else { return crate::aero::FASTEST * 0.6 };
    let geared = power.geared_speed().min(crate::aero::FASTEST);
    let drag = |v: f64| car.car.air.map_or(0.0, |air| air.forces(v, [0.0; 2]).drag);
    let most = power.greatest();
    let mut v = geared;
    while v > 2.0 * SLOWEST && drag(v) * v > 1.2 * most {
        v *= 0.98;
    }
    v.max(2.0 * SLOWEST)
}

#[inline]
fn place(fastest: f64, speed: f64) -> (usize, f64) {
    let at = ((speed - SLOWEST) / (fastest - SLOWEST) * (SPEEDS - 1) as f64).clamp(0.0, (SPEEDS - 1) as f64);
    let i = (at as usize).min(SPEEDS - 2);
    (i, at - i as f64)
}

fn sheet(edge: &Edge<'_>, fastest: f64, grip: f64, cores: usize) -> Sheet {
    let mut sheet = Sheet {
        grip,
        across: [0.0; SPEEDS],
        along: [[[0.0; 3]; SHARES]; SPEEDS],
        held: [[None; SHARES]; SPEEDS],
    };
    let rows = each(SPEEDS, cores, &(), |(), i| {
        let v = SLOWEST + (fastest - SLOWEST) * i as f64 / (SPEEDS - 1) as f64;
        let most = edge.across(v, grip);
        let row: [_; SHARES] = std::array::from_fn(|j| {
            let angle = std::f64::consts::FRAC_PI_2 * j as f64 / (SHARES - 1) as f64;
            let across = most * angle.sin();
            let (braking, held) = edge.braking(v, across, grip);
            let coast = edge.coast(v, across, grip).unwrap_or(0.0) * edge.mass() / edge.mass_with_wheels();
            ([edge.traction(v, across, grip), braking, coast], held)
        });
        (most, row)
    });
    for (i, (most, row)) in rows.into_iter().enumerate() {
        sheet.across[i] = most;
        sheet.along[i] = row.map(|cell| cell.0);
        sheet.held[i] = row.map(|cell| cell.1);
    }
    sheet
}

impl Sheet {
    #[inline]
    fn across(&self, (i, t): (usize, f64)) -> f64 {
        self.across[i] + (self.across[i + 1] - self.across[i]) * t
    }

    /// The angle whose sine is the share of the lateral limit, in nodes.
    #[inline]
    fn angle(&self, at: (usize, f64), across: f64) -> f64 {
        let share = (across / self.across(at)).min(1.0);
        share.asin() / std::f64::consts::FRAC_PI_2 * (SHARES - 1) as f64
    }

    #[inline]
    fn along(&self, at: (usize, f64), across: f64, which: usize) -> f64 {
        let y = self.angle(at, across);
        let j = ((y + 0.5) as usize).clamp(1, SHARES - 2);
        let t = y - j as f64;
        let w = [0.5 * t * (t - 1.0), 1.0 - t * t, 0.5 * t * (t + 1.0)];
        let row = |i: usize| {
            let n = [0, 1, 2].map(|k: usize| self.along[i][j - 1 + k][which]);
            let smooth = n[0] * w[0] + n[1] * w[1] + n[2] * w[2];
            // Where a driver's rule sets in there is a kink: no value beyond those beside it.
            smooth.clamp(n[0].min(n[1]).min(n[2]), n[0].max(n[1]).max(n[2]))
        };
        let (i, t) = at;
        row(i) * (1.0 - t) + row(i + 1) * t
    }
}

impl Limits for Surface {
    #[inline]
    fn across(&self, speed: f64, grip: f64) -> f64 {
        let (a, b, t) = self.between(grip);
        let at = place(self.fastest, speed);
        a.across(at) * (1.0 - t) + b.across(at) * t
    }

    #[inline]
    fn traction(&self, speed: f64, across: f64, grip: f64) -> f64 {
        self.along(speed, across, grip, 0)
    }

    #[inline]
    fn braking(&self, speed: f64, across: f64, grip: f64) -> f64 {
        self.along(speed, across, grip, 1)
    }

    #[inline]
    fn coast(&self, speed: f64, across: f64, grip: f64) -> f64 {
        self.along(speed, across, grip, 2)
    }

    #[inline]
    fn push(&self, gear: usize, speed: f64) -> Option<f64> {
        self.power.as_ref().map_or(Some(f64::INFINITY), |power| Some(power.push(gear, speed)? / self.mass))
    }

    #[inline]
    fn best_gear(&self, speed: f64) -> usize {
        self.power.as_ref().map_or(0, |power| power.best_gear(speed))
    }

    fn shift(&self) -> f64 {
        self.power.as_ref().map_or(0.0, |power| power.shift)
    }

    fn fastest(&self) -> f64 {
        self.fastest
    }

    fn held(&self, speed: f64, across: f64, grip: f64) -> Option<Held> {
        let (_, sheet, _) = self.between(grip);
        let (i, t) = place(self.fastest, speed);
        let at = (i, t);
        let j = (sheet.angle(at, across) + 0.5) as usize;
        sheet.held[if t < 0.5 { i } else { i + 1 }][j.min(SHARES - 1)]
    }
}

//! The limits as a table over speed and the share of the lateral limit in use: what a run over a venue looks up.

use std::f64::consts::FRAC_PI_2;

use super::attitude::Detail;
use super::cores::each;
use super::driver::Held;
use super::{Edge, LimitCar, LimitError};
use crate::power::Power;

impl Detail {
    /// Nodes over speed and over the angle whose sine is the share of the lateral limit in use.
    fn table(self) -> (usize, usize) {
        match self {
            Self::Fine => (13, 13),
            Self::Coarse => (5, 6),
        }
    }
}

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

/// At one grip: rows over speed, cells over the angle.
#[derive(Clone, Debug)]
struct Sheet {
    grip: f64,
    across: Vec<f64>,
    /// Traction, braking, coasting.
    along: Vec<[f64; 3]>,
    held: Vec<Option<Held>>,
}

/// The limits of a car, ready to be looked up.
#[derive(Clone, Debug)]
pub struct Surface {
    detail: Detail,
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
        Self::of(car, grips, fastest, Detail::Fine, cores)
    }

    /// The limits up to a speed [m/s], as closely as is asked.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn of(
        car: LimitCar<'_>,
        grips: &[f64],
        fastest: f64,
        detail: Detail,
        cores: usize,
    ) -> Result<Self, LimitError> {
        let edge = Edge::new(car, fastest, detail, cores)?;
        let mut sheets: Vec<Sheet> =
            grips.iter().map(|grip| sheet(&edge, fastest, *grip, detail, cores)).collect();
        sheets.sort_by(|a, b| a.grip.total_cmp(&b.grip));
        let stands = |sheet: &Sheet| sheet.across.iter().all(|a| *a > 0.0);
        if sheets.is_empty() || !sheets.iter().all(stands) {
            return Err(LimitError::Nothing);
        }
        let (power, mass) = (edge.car().power.cloned(), edge.mass_with_wheels());
        Ok(Self { detail, fastest, sheets, power, mass })
    }

    /// These limits, changed by what a small change of the car does to them at few places: `before` and `after` are those
    /// of the car without and with the change, alike in speed and grips. What a change does varies slowly over speed and
    /// accelerations, so a few places tell it.
    #[must_use]
    pub fn changed(&self, before: &Self, after: &Self) -> Self {
        let (speeds, shares) = self.detail.table();
        let sheets =
            self.sheets.iter().zip(before.sheets.iter().zip(&after.sheets)).map(|(own, (from, to))| {
                let mut sheet = own.clone();
                for i in 0..speeds {
                    let v = node(self.fastest, i, speeds);
                    let at = place(self.fastest, v, before.detail);
                    sheet.across[i] += to.across(at) - from.across(at);
                    for j in 0..shares {
                        let angle = j as f64 / (shares - 1) as f64;
                        for which in 0..3 {
                            let cell = |sheet: &Sheet| sheet.cell(at, angle, which, before.detail);
                            sheet.along[i * shares + j][which] += cell(to) - cell(from);
                        }
                    }
                }
                sheet
            });
        Self { sheets: sheets.collect(), power: after.power.clone(), mass: after.mass, ..self.clone() }
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

    /// Speed up to which they were found [m/s].
    pub fn found_to(&self) -> f64 {
        self.fastest
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
        let one =
            |sheet: &Sheet| sheet.along(place(self.fastest, speed, self.detail), across, which, self.detail);
        if t >= 1.0 { one(b) } else { one(a) * (1.0 - t) + one(b) * t }
    }
}

/// A speed that the car cannot pass: that of its gears, or where its power is used up by the drag alone.
fn fastest(car: &LimitCar<'_>) -> f64 {
    let Some(power) = car.power else { return crate::aero::FASTEST * 0.6 };
    let geared = power.geared_speed().min(crate::aero::FASTEST);
    let drag = |v: f64| car.car.air.map_or(0.0, |air| air.forces(v, car.ride).drag);
    let most = power.greatest();
    let mut v = geared;
    while v > 2.0 * SLOWEST && drag(v) * v > 1.2 * most {
        v *= 0.98;
    }
    v.max(2.0 * SLOWEST)
}

#[inline]
fn place(fastest: f64, speed: f64, detail: Detail) -> (usize, f64) {
    let last = (detail.table().0 - 1) as f64;
    let at = ((speed - SLOWEST) / (fastest - SLOWEST) * last).clamp(0.0, last);
    let i = (at as usize).min(detail.table().0 - 2);
    (i, at - i as f64)
}

/// Speed of a node [m/s].
fn node(fastest: f64, i: usize, speeds: usize) -> f64 {
    SLOWEST + (fastest - SLOWEST) * i as f64 / (speeds - 1) as f64
}

fn sheet(edge: &Edge<'_>, fastest: f64, grip: f64, detail: Detail, cores: usize) -> Sheet {
    let (speeds, shares) = detail.table();
    let rows = each(speeds, cores, &(), |(), i| {
        let v = node(fastest, i, speeds);
        let most = edge.across(v, grip);
        let cells: Vec<_> = (0..shares)
            .map(|j| {
                let angle = FRAC_PI_2 * j as f64 / (shares - 1) as f64;
                let across = most * angle.sin();
                let (braking, held) = edge.braking(v, across, grip);
                let coast =
                    edge.coast(v, across, grip).unwrap_or(0.0) * edge.mass() / edge.mass_with_wheels();
                ([edge.traction(v, across, grip), braking, coast], held)
            })
            .collect();
        (most, cells)
    });
    let mut sheet = Sheet { grip, across: Vec::new(), along: Vec::new(), held: Vec::new() };
    for (most, cells) in rows {
        sheet.across.push(most);
        sheet.along.extend(cells.iter().map(|cell| cell.0));
        sheet.held.extend(cells.iter().map(|cell| cell.1));
    }
    sheet
}

impl Sheet {
    #[inline]
    fn across(&self, (i, t): (usize, f64)) -> f64 {
        self.across[i] + (self.across[i + 1] - self.across[i]) * t
    }

    /// The angle whose sine is the share of the lateral limit, as a share of a right angle.
    #[inline]
    fn angle(&self, at: (usize, f64), across: f64) -> f64 {
        (across / self.across(at)).min(1.0).asin() / FRAC_PI_2
    }

    #[inline]
    fn along(&self, at: (usize, f64), across: f64, which: usize, detail: Detail) -> f64 {
        self.cell(at, self.angle(at, across), which, detail)
    }

    #[inline]
    fn cell(&self, (i, t): (usize, f64), angle: f64, which: usize, detail: Detail) -> f64 {
        let shares = detail.table().1;
        let y = angle * (shares - 1) as f64;
        let j = ((y + 0.5) as usize).clamp(1, shares - 2);
        let s = y - j as f64;
        let w = [0.5 * s * (s - 1.0), 1.0 - s * s, 0.5 * s * (s + 1.0)];
        let row = |i: usize| {
            let first = i * shares + j - 1;
            let n = [0, 1, 2].map(|k: usize| self.along[first + k][which]);
            let smooth = n[0] * w[0] + n[1] * w[1] + n[2] * w[2];
            // Where a driver's rule sets in there is a kink: no value beyond those beside it.
            smooth.clamp(n[0].min(n[1]).min(n[2]), n[0].max(n[1]).max(n[2]))
        };
        row(i) * (1.0 - t) + row(i + 1) * t
    }
}

impl Limits for Surface {
    #[inline]
    fn across(&self, speed: f64, grip: f64) -> f64 {
        let (a, b, t) = self.between(grip);
        let at = place(self.fastest, speed, self.detail);
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
        let (i, t) = place(self.fastest, speed, self.detail);
        let shares = self.detail.table().1;
        let j = (sheet.angle((i, t), across) * (shares - 1) as f64 + 0.5) as usize;
        sheet.held[(if t < 0.5 { i } else { i + 1 }) * shares + j.min(shares - 1)]
    }
}

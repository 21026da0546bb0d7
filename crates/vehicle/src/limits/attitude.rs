//! Loads and inclinations of the tyres over speed and both accelerations, between places where the platform was solved.

use super::cores::each;
use crate::brake::Effort;
use crate::platform::{Demand, Platform, PlatformError, State};

/// How closely a car is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// For results.
    Fine,
    /// For what a small change of the car does to them.
    Coarse,
}

impl Detail {
    /// Nodes along the square of speed and along the lateral acceleration.
    fn speeds(self) -> usize {
        if self == Self::Fine { 3 } else { 2 }
    }

    fn across(self) -> usize {
        if self == Self::Fine { 7 } else { 4 }
    }

    /// Nodes along the longitudinal acceleration, as shares of the greatest one; zero among them, three or more to either
    /// side.
    fn along(self) -> &'static [f64] {
        match self {
            Self::Fine => &[-1.0, -0.72, -0.45, -0.2, 0.0, 0.3, 0.63, 1.0],
            Self::Coarse => &[-1.0, -0.5, 0.0, 0.5, 1.0],
        }
    }

    /// The node of no longitudinal acceleration.
    fn level(self) -> usize {
        if self == Self::Fine { 4 } else { 2 }
    }
}

/// How the grid narrows towards the greatest lateral acceleration: no tyre gives both at once. The greatest longitudinal
/// acceleration is `1 - NARROWS w^2` of that without turning, `w` the share of the lateral one; a parabola, so that loads
/// that go with it are met exactly between nodes.
const NARROWS: f64 = 0.75;

/// What the platform says at one place: load and inclination (top to the right positive) of each wheel, drag.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Stance {
    pub load: [f64; 4],
    pub inclination: [f64; 4],
    pub drag: f64,
}

/// The grid. Loads are nearly plane between its nodes (load transfer is linear but for the attitude's own change, the
/// air goes with the square of speed): straight lines along speed, parabolas along the accelerations. Where the platform
/// finds no balance (a car that tips, a linkage at its end) its neighbours' trend goes on.
#[derive(Clone, Debug)]
pub(super) struct Stances {
    detail: Detail,
    /// Greatest speed squared [m^2/s^2].
    fastest: f64,
    /// Greatest longitudinal acceleration without turning, greatest lateral one [m/s^2].
    along: f64,
    across: f64,
    nodes: Vec<Stance>,
}

/// What the grid covers.
pub(super) struct Extent {
    pub fastest: f64,
    /// Greatest longitudinal and lateral acceleration [m/s^2].
    pub along: f64,
    pub across: f64,
}

impl Stance {
    fn of(state: &State) -> Self {
        Self {
            load: state.wheels.map(|w| w.load),
            // The top of the left wheel leans out to the left.
            inclination: std::array::from_fn(|w| {
                if w % 2 == 0 { -state.wheels[w].camber } else { state.wheels[w].camber }
            }),
            drag: state.air.drag,
        }
    }

    fn add(&mut self, weight: f64, other: &Self) {
        for w in 0..4 {
            self.load[w] += weight * other.load[w];
            self.inclination[w] += weight * other.inclination[w];
        }
        self.drag += weight * other.drag;
    }

    /// One step beyond `near`, as far as that is from `far`.
    fn beyond(near: &Self, far: &Self) -> Self {
        let mut out = Self::default();
        out.add(2.0, near);
        out.add(-1.0, far);
        out
    }
}

impl Stances {
    pub fn new(
        platform: &mut Platform<'_>,
        mass: f64,
        brakes: &Effort<'_>,
        extent: &Extent,
        (detail, cores): (Detail, usize),
    ) -> Result<Self, PlatformError> {
        // At rest the car stands: where it does not, the reason is told.
        platform.reset();
        platform.solve(&Demand::default())?;
        let (speeds, along, count) = (detail.speeds(), detail.along(), detail.across());
        let sheets = each(speeds, cores, platform, |platform, i| {
            let speed = (extent.fastest * extent.fastest * i as f64 / (speeds - 1) as f64).sqrt();
            let mut sheet: Vec<Option<Result<Stance, PlatformError>>> = vec![None; along.len() * count];
            for (j, share) in along.iter().enumerate() {
                for k in 0..count {
                    // There and back, so that each search begins beside the last one.
                    let k = if j % 2 == 0 { k } else { count - 1 - k };
                    let w = k as f64 / (count - 1) as f64;
                    let along = share * extent.along * (1.0 - NARROWS * w * w);
                    platform.share_brakes(front_share(brakes, mass * -along.min(0.0)));
                    let demand = Demand { speed, along, across: extent.across * w, rack: 0.0 };
                    sheet[j * count + k] =
                        Some(platform.solve_lifting(&demand).map(|state| Stance::of(&state)));
                }
            }
            filled(&sheet, detail)
        });
        let mut nodes = Vec::with_capacity(speeds * along.len() * count);
        for sheet in sheets {
            nodes.extend(sheet?);
        }
        Ok(Self {
            detail,
            fastest: extent.fastest * extent.fastest,
            along: extent.along,
            across: extent.across,
            nodes,
        })
    }

    /// The stance at a speed squared [m^2/s^2] and accelerations [m/s^2], the lateral one positive (to the left); `None`
    /// where the car tips, or beyond the grid.
    #[inline]
    pub fn at(&self, speed: f64, along: f64, across: f64) -> Option<Stance> {
        let (speeds, nodes, count) = (self.detail.speeds(), self.detail.along().len(), self.detail.across());
        let q = (speed / self.fastest * (speeds - 1) as f64).clamp(0.0, (speeds - 1) as f64);
        let q0 = (q as usize).min(speeds - 2);
        let tq = q - q0 as f64;
        let w = across / self.across;
        let u = along / (self.along * (1.0 - NARROWS * w * w));
        if !(0.0..=1.0).contains(&w) || !(-1.0..=1.0).contains(&u) {
            return None;
        }
        let (j0, wj) = parabola(self.detail, u);
        let y = w * (count - 1) as f64;
        let k0 = (y as usize).min(count - 3);
        let t = y - k0 as f64;
        let wk = [0.5 * (t - 1.0) * (t - 2.0), -t * (t - 2.0), 0.5 * t * (t - 1.0)];
        let mut out = Stance::default();
        for (dq, wq) in [(0, 1.0 - tq), (1, tq)] {
            for (dj, wj) in wj.iter().enumerate() {
                for (dk, wk) in wk.iter().enumerate() {
                    let node = &self.nodes[((q0 + dq) * nodes + j0 + dj) * count + k0 + dk];
                    out.add(wq * wj * wk, node);
                }
            }
        }
        // No load is left on the inner side: it tips.
        if out.load[0] + out.load[2] <= 0.0 {
            return None;
        }
        for load in &mut out.load {
            *load = load.max(0.0);
        }
        Some(out)
    }
}

/// Fills the places without balance from those further in.
fn filled(
    sheet: &[Option<Result<Stance, PlatformError>>],
    detail: Detail,
) -> Result<Vec<Stance>, PlatformError> {
    let (nodes, count, level) = (detail.along().len(), detail.across(), detail.level());
    let mut out = vec![Stance::default(); nodes * count];
    // From the middle outward, so that what is further in is there.
    let order = (0..nodes).flat_map(|d| [level.checked_sub(d), (d > 0).then_some(level + d)]);
    for j in order.flatten().filter(|j| *j < nodes) {
        for k in 0..count {
            let at = |j: usize, k: usize| out[j * count + k];
            let stance = match &sheet[j * count + k] {
                Some(Ok(stance)) => *stance,
                _ if k >= 2 => Stance::beyond(&at(j, k - 1), &at(j, k - 2)),
                _ if j + 1 < level => Stance::beyond(&at(j + 1, k), &at(j + 2, k)),
                _ if j > level + 1 => Stance::beyond(&at(j - 1, k), &at(j - 2, k)),
                Some(Err(error)) => return Err(error.clone()),
                None => Stance::default(),
            };
            out[j * count + k] = stance;
        }
    }
    Ok(out)
}

/// The first of three nodes about a share of the longitudinal acceleration, and their weights (Lagrange). Nodes on one
/// side of zero alone: there braking turns into driving, and the links carry other moments.
fn parabola(detail: Detail, at: f64) -> (usize, [f64; 3]) {
    let (nodes, level) = (detail.along(), detail.level());
    let above = nodes.partition_point(|n| *n < at).clamp(1, nodes.len() - 1);
    let first = if above <= level { (above - 1).min(level - 2) } else { (above - 1).min(nodes.len() - 3) };
    let [a, b, c] = [nodes[first], nodes[first + 1], nodes[first + 2]];
    let weights = [
        (at - b) * (at - c) / ((a - b) * (a - c)),
        (at - a) * (at - c) / ((b - a) * (b - c)),
        (at - a) * (at - b) / ((c - a) * (c - b)),
    ];
    (first, weights)
}

/// Front share of a braking force [N]; at none, that of a light touch.
pub(super) fn front_share(brakes: &Effort<'_>, total: f64) -> f64 {
    let share = |total: f64| {
        let (front, rear) = brakes.forces(brakes.effort_for(total)?);
        (front + rear > 0.0).then(|| front / (front + rear))
    };
    // Beyond the greatest pedal force: as there.
    share(total.max(1.0)).or_else(|| share(LIGHT)).unwrap_or(0.5)
}

/// A light touch of the brakes [N].
const LIGHT: f64 = 500.0;

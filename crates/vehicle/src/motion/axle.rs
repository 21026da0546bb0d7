//! One axle of the moving car: its linkage, and what its springs, stops, dampers and bar do there.

use suspension::TorqueReaction;

use super::table::{Point, Table};
use super::{MotionError, Rolling};
use crate::error::{not_negative, positive};
use crate::pedal::Damper;
use crate::platform::wheel::Wheel;
use crate::platform::{Rig, Spring, Stop};
use crate::tyre::Tyre;

/// One axle, by its left wheel.
#[derive(Clone, Debug)]
pub(super) struct Axle<'t> {
    pub table: Table,
    /// Springs (with their force at ride height), stops and dampers by their column of the table.
    springs: Vec<(usize, Spring, f64)>,
    stops: Vec<(usize, Stop)>,
    dampers: Vec<(usize, Damper)>,
    /// Column of the bar's link, and rate at one end with the other one held [N/m].
    pub bar: Option<(usize, f64)>,
    pub tyre: &'t Tyre,
    pub tyre_rate: f64,
    pub free_radius: f64,
    pub unsprung: f64,
    pub spin_inertia: f64,
    /// Relaxation lengths along and across [m].
    pub relaxation: [f64; 2],
    pub braking: TorqueReaction,
    pub driving: TorqueReaction,
}

impl<'t> Axle<'t> {
    /// The axle of a rig, `wheel` being its left one at ride height, `most` the rack's greatest travel [m].
    ///
    /// # Errors
    /// Figures that no car has, a linkage that cannot move.
    pub fn new(
        rig: &Rig<'_>,
        rolling: Rolling<'t>,
        wheel: &Wheel<'_>,
        most: f64,
    ) -> Result<Self, MotionError> {
        let (axle, along) = (rig.name(), rolling.along);
        along.tyre.check()?;
        positive("spin inertia", along.spin_inertia)?;
        positive("relaxation length along", along.relaxation)?;
        positive("relaxation length across", rolling.across)?;
        positive("unsprung mass", rig.unsprung)?;
        let count = rig.corner.elements().len();
        for damper in &along.dampers {
            not_negative("damping in bump", damper.bump)?;
            not_negative("damping in rebound", damper.rebound)?;
            if damper.element >= count {
                return Err(MotionError::NoElement { axle, element: damper.element });
            }
        }
        let mut elements = Vec::new();
        let mut column = |element: usize| {
            elements.iter().position(|e| *e == element).unwrap_or_else(|| {
                elements.push(element);
                elements.len() - 1
            })
        };
        let springs = wheel.springs.iter().map(|(e, s, f)| (column(*e), *s, *f)).collect();
        let stops = rig.stops.iter().filter(|(e, _)| *e < count).map(|(e, s)| (column(*e), *s)).collect();
        let dampers = along.dampers.iter().map(|d| (column(d.element), *d)).collect();
        let bar = rig.bar.filter(|(e, rate)| *e < count && *rate > 0.0).map(|(e, rate)| (column(e), rate));
        Ok(Self {
            table: Table::new(rig, &elements, most)?,
            springs,
            stops,
            dampers,
            bar,
            tyre: along.tyre,
            tyre_rate: rig.tyre_rate,
            free_radius: wheel.free_radius,
            unsprung: rig.unsprung,
            spin_inertia: along.spin_inertia,
            relaxation: [along.relaxation, rolling.across],
            braking: rig.braking,
            driving: rig.driving,
        })
    }

    /// Springs and stops of one wheel: work per travel [N] and energy stored since ride height [J].
    #[inline]
    pub fn spring(&self, point: &Point) -> (f64, f64) {
        let (mut work, mut stored) = (0.0, 0.0);
        for (column, spring, rest) in &self.springs {
            let [x, ratio] = point.elements[*column];
            work += (spring.at(x).0 + rest) * ratio;
            stored += x * (rest + x * (spring.rate / 2.0 + x * spring.rise / 6.0));
        }
        for (column, stop) in &self.stops {
            let [x, ratio] = point.elements[*column];
            let force = stop.at(x).0;
            if force != 0.0 {
                work += force * ratio;
                let way = (x - stop.gap).abs();
                stored += way * way * (stop.rate / 2.0 + way * stop.rise / 6.0);
            }
        }
        (work, stored)
    }

    /// Dampers of one wheel: work per travel [N] and power lost [W] at a rate of travel [m/s].
    #[inline]
    pub fn damper(&self, point: &Point, rate: f64) -> (f64, f64) {
        let (mut work, mut lost) = (0.0, 0.0);
        for (column, damper) in &self.dampers {
            let ratio = point.elements[*column][1];
            let speed = rate * ratio + point.steered_elements[*column];
            let force = speed * if speed > 0.0 { damper.bump } else { damper.rebound };
            work += force * ratio;
            lost += force * speed;
        }
        (work, lost)
    }

    /// What springs, stops and dampers take from the rack that shortens them [W].
    pub fn against_rack(&self, point: &Point, rate: f64) -> f64 {
        let by = |column: usize| point.steered_elements[column];
        let mut power = 0.0;
        for (column, spring, rest) in &self.springs {
            power += (spring.at(point.elements[*column][0]).0 + rest) * by(*column);
        }
        for (column, stop) in &self.stops {
            power += stop.at(point.elements[*column][0]).0 * by(*column);
        }
        for (column, damper) in &self.dampers {
            let speed = rate * point.elements[*column][1] + by(*column);
            power += speed * if speed > 0.0 { damper.bump } else { damper.rebound } * by(*column);
        }
        power
    }
}

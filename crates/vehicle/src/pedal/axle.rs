//! One axle of the moving car: its linkage over travel, and what its springs, stops and dampers do there.

use suspension::TorqueReaction;

use super::table::{Place, Table};
use super::{Damper, PedalError, Rolling};
use crate::error::{not_negative, positive};
use crate::platform::wheel::Wheel;
use crate::platform::{Rig, Spring, Stop};
use crate::tyre::Tyre;

/// One axle, by its left wheel.
#[derive(Clone, Debug)]
pub(crate) struct Axle<'t> {
    pub table: Table,
    /// Springs, stops and dampers by their column of the table; springs with their force at ride height.
    springs: Vec<(usize, Spring, f64)>,
    stops: Vec<(usize, Stop)>,
    dampers: Vec<(usize, Damper)>,
    pub tyre: &'t Tyre,
    pub tyre_rate: f64,
    pub free_radius: f64,
    pub unsprung: f64,
    pub spin_inertia: f64,
    pub relaxation: f64,
    pub braking: TorqueReaction,
}

impl<'t> Axle<'t> {
    /// The axle of a rig, `wheel` being its left one at ride height.
    ///
    /// # Errors
    /// Figures that no car has, a linkage that cannot move.
    pub fn new(rig: &Rig<'_>, rolling: Rolling<'t>, wheel: &Wheel<'_>) -> Result<Self, PedalError> {
        let axle = rig.name();
        rolling.tyre.check()?;
        positive("spin inertia", rolling.spin_inertia)?;
        positive("relaxation length", rolling.relaxation)?;
        positive("unsprung mass", rig.unsprung)?;
        let count = rig.corner.elements().len();
        for damper in &rolling.dampers {
            not_negative("damping in bump", damper.bump)?;
            not_negative("damping in rebound", damper.rebound)?;
            if damper.element >= count {
                return Err(PedalError::NoElement { axle, element: damper.element });
            }
        }
        let mut elements = Vec::new();
        let mut column = |element: usize| {
            elements.push(element);
            elements.len() - 1
        };
        let springs = wheel.springs.iter().map(|(e, s, f)| (column(*e), *s, *f)).collect();
        let stops = rig.stops.iter().filter(|(e, _)| *e < count).map(|(e, s)| (column(*e), *s)).collect();
        let dampers = rolling.dampers.iter().map(|d| (column(d.element), *d)).collect();
        Ok(Self {
            table: Table::new(rig, &elements, axle)?,
            springs,
            stops,
            dampers,
            tyre: rolling.tyre,
            tyre_rate: rig.tyre_rate,
            free_radius: wheel.free_radius,
            unsprung: rig.unsprung,
            spin_inertia: rolling.spin_inertia,
            relaxation: rolling.relaxation,
            braking: rig.braking,
        })
    }

    /// Springs and stops of one wheel: work per travel [N] and energy stored since ride height [J].
    #[inline]
    pub fn spring(&self, place: &Place) -> (f64, f64) {
        let (mut work, mut stored) = (0.0, 0.0);
        for (column, spring, rest) in &self.springs {
            let (x, ratio) = self.table.shortening(place, *column);
            work += (spring.at(x).0 + rest) * ratio;
            stored += x * (rest + x * (spring.rate / 2.0 + x * spring.rise / 6.0));
        }
        for (column, stop) in &self.stops {
            let (x, ratio) = self.table.shortening(place, *column);
            let force = stop.at(x).0;
            work += force * ratio;
            if force != 0.0 {
                let way = (x - stop.gap).abs();
                stored += way * way * (stop.rate / 2.0 + way * stop.rise / 6.0);
            }
        }
        (work, stored)
    }

    /// Dampers of one wheel: work per travel [N] and power lost [W].
    #[inline]
    pub fn damper(&self, place: &Place, rate: f64) -> (f64, f64) {
        let (mut work, mut lost) = (0.0, 0.0);
        for (column, damper) in &self.dampers {
            let (_, ratio) = self.table.shortening(place, *column);
            let speed = rate * ratio;
            let force = speed * if speed > 0.0 { damper.bump } else { damper.rebound };
            work += force * ratio;
            lost += force * speed;
        }
        (work, lost)
    }
}

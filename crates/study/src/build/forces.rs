//! Forces of every link and pickup in every case, both axles, both sides.

use nalgebra::Vector3;
use project::model::{Axle, Car, End};
use steel::load::{Acting, Forces, Push, forces};
use suspension::TorqueReaction;
use vehicle::GRAVITY;

use super::case::{Case, WheelLoad, reaction};
use super::wheel::{self, Stand};
use crate::whole::{Lack, Whole, WholeAxle};

/// One axle in one case.
#[derive(Clone, Debug)]
pub struct AxleForces {
    /// Left and right side of the car, each where it is.
    pub sides: [Forces; 2],
    /// Travel of each wheel [m].
    pub travel: [f64; 2],
    /// Whether a wheel's travel ends before springs and stops carry it.
    pub bottomed: [bool; 2],
}

/// An axle whose forces can be worked out, with the points that its corner was built from.
pub(super) struct Loaded<'a> {
    pub end: End,
    axle: &'a Axle,
    whole: &'a WholeAxle,
    points: Vec<Vector3<f64>>,
    /// Load of one wheel at rest [N].
    at_rest: f64,
}

impl<'a> Loaded<'a> {
    /// # Errors
    /// The axle is not in the file, or has no spring.
    pub fn new(car: &'a Car, whole: &'a Whole, end: End, holes: &[(End, usize)]) -> Result<Self, Lack> {
        let axle = car.axle(end).ok_or_else(|| Lack {
            what: format!("the file has no `[{}]` axle", end.name()),
            hint: "the whole car needs both: its kind, its wheel and its points".into(),
        })?;
        let mut points: Vec<Vector3<f64>> = axle.points.iter().map(|p| p.at).collect();
        for (_, hole) in holes.iter().filter(|(at, _)| *at == end) {
            if let Some(hole) = axle.holes.get(*hole)
                && let Some(point) = points.get_mut(hole.point)
            {
                *point = hole.at.at;
            }
        }
        let loads = whole.stopping().loads(0.0, 0.0);
        let at_rest = if end == End::Front { loads.front } else { loads.rear } / 2.0;
        Ok(Self { end, axle, whole: whole.axle(end.into()), points, at_rest })
    }

    /// Points of the axle with the chosen holes in place, left side [m].
    pub fn points(&self) -> &[Vector3<f64>] {
        &self.points
    }

    /// Scheme and corner.
    pub fn corner(&self) -> (&Axle, &WholeAxle) {
        (self.axle, self.whole)
    }

    /// Where a point of the axle is, the chosen holes in place, left side [m].
    pub fn point(&self, point: usize) -> Option<Vector3<f64>> {
        self.points.get(point).copied()
    }

    /// The axle in a case; nothing but its weight hangs on it while a jack lifts the car.
    ///
    /// # Errors
    /// No spring, or joints that cannot carry it.
    pub fn in_case(&self, case: &Case) -> Result<AxleForces, Lack> {
        let which = usize::from(self.end == End::Rear);
        let loads = case.wheels.get(which).copied().unwrap_or_default();
        let stands = wheel::stand(self.whole, self.at_rest, &loads).ok_or_else(|| Lack {
            what: format!(
                "nothing carries the {} wheels: no spring that their travel compresses",
                self.end.name()
            ),
            hint: format!("write `rate` in `[{}.spring]`, with the spring's two ends", self.end.name()),
        })?;
        let [left, right] = &stands;
        let even = loads[0] == loads[1];
        let one = self.side(&loads[0], left, case)?;
        let other = if even { one.mirrored() } else { self.side(&loads[1], right, case)?.mirrored() };
        Ok(AxleForces {
            sides: [one, other],
            travel: [left.travel, right.travel],
            bottomed: [left.bottomed, right.bottomed],
        })
    }

    fn side(&self, load: &WheelLoad, stand: &Stand, case: &Case) -> Result<Forces, Lack> {
        let whole = self.whole;
        let weight = Vector3::z() * (-whole.unsprung * GRAVITY * load.weight);
        let wheel = [
            Push {
                at: stand.contact,
                force: load.road,
                torque: reaction(load, whole.braking, whole.driving),
            },
            Push {
                at: stand.contact + Vector3::z() * load.height,
                force: load.strike,
                torque: TorqueReaction::Body,
            },
            Push { at: stand.hub, force: weight, torque: TorqueReaction::Upright },
        ];
        let acting = Acting { wheel: &wheel, elements: &stand.elements, holder: stand.holder };
        forces(&self.axle.scheme, &self.points, &whole.corner, &stand.position, &acting).map_err(|e| Lack {
            what: format!("the {} axle in `{}`: {e}", self.end.name(), case.title),
            hint: "look at the load of this case in `[build.case]`, and at the springs".into(),
        })
    }
}

//! Makes a scene of a car, an axle and a corner that stands somewhere.

use linkage::{End, Position};
use nalgebra::Vector3;
use project::model::{Axle, Car, End as AxleEnd};
use suspension::{Corner, Measures, Mover, RACK_TRAVEL};

use super::carried::{Carried, role};
use super::figures::Figures;
use super::topology::Topology;
use super::{ASSUMED_TYRE_WIDTH, Far, Hole, Plate, Point, Scene, Side, Wheel};

/// A point within this of a hole is in it \[m\]: a hundredth of a millimetre.
const IN_HOLE: f64 = 1e-5;

impl Scene {
    /// The scene at the mover's present position, both wheels at the same travel. `points` are the scheme's
    /// points with the chosen holes in place, those that `corner` was made of; the mover belongs to that corner.
    ///
    /// With the rack off its middle the right wheel steers with it; where it cannot be found it is drawn as the
    /// left one's mirror image.
    pub fn new(
        car: &Car,
        axle: &Axle,
        corner: &Corner<f64>,
        mover: &mut Mover<'_>,
        points: &[Vector3<f64>],
    ) -> Self {
        let travel = mover.measures().travel;
        let rack = mover.solver().position().inputs.get(RACK_TRAVEL).copied().unwrap_or(0.0);
        let mut right = mover.clone();
        if corner.has_rack() && rack != 0.0 && right.at(travel, -rack).is_err() {
            right = mover.clone();
        }
        Self::with_right(car, axle, corner, mover, &mut right, points)
    }

    /// The same with the right wheel where a second mover of the same corner stands: in roll. In the right
    /// corner's mirrored frame the rack moves the other way.
    pub fn with_right(
        car: &Car,
        axle: &Axle,
        corner: &Corner<f64>,
        left: &mut Mover<'_>,
        right: &mut Mover<'_>,
        points: &[Vector3<f64>],
    ) -> Self {
        let scheme = &axle.scheme;
        let given = points.get(..scheme.points.len()).unwrap_or(points);
        let carried = Carried::new(scheme);
        let topology = Topology::new(scheme, &carried, given, corner.centre());
        let (measures, measures_right) = (left.measures(), right.measures());
        let rim = axle.wheel.rim_diameter.map(|d| d / 2.0);
        let mut figures = Figures::new(car, axle, &measures, &measures_right);
        figures.steering_axis = corner.steering_axis().map(|(low, high)| {
            let (frames, q) = (corner.linkage().frames(), left.solver().position());
            (frames.point(q, low), frames.point(q, high))
        });
        let side =
            |measures: &Measures<f64>, q: &Position<f64>| side(corner, &topology.vertices, measures, q, rim);
        let left = side(&measures, left.solver().position());
        let right = side(&measures_right, right.solver().position()).mirrored();
        let points = scheme.points.iter().zip(given).enumerate().map(|(i, (key, design))| Point {
            key: key.clone(),
            label: point_label(key),
            role: role(carried.frame(i)),
            design: *design,
        });
        let holes = axle.holes.iter().map(|h| Hole {
            name: h.name.clone(),
            point: h.point,
            at: h.at.at,
            in_use: given.get(h.point).is_some_and(|p| (p - h.at.at).norm() < IN_HOLE),
        });
        let plates = axle.plates.iter().map(|p| Plate {
            name: p.name.clone(),
            point: p.point,
            outline: p.outline.clone(),
        });
        Self {
            car: car.name.clone(),
            end: axle.end,
            kind: axle.kind.clone(),
            points: points.collect(),
            far: far(car, axle, left.contact.z),
            left,
            right,
            holes: holes.collect(),
            plates: plates.collect(),
            wheelbase: car.wheelbase.map(|v| v.value),
            cg_height: car.cg_height.map(|v| v.value),
            lines: topology.lines,
            figures,
        }
    }
}

fn side(
    corner: &Corner<f64>,
    vertices: &[End<f64>],
    measures: &Measures<f64>,
    q: &Position<f64>,
    rim: Option<f64>,
) -> Side {
    let frames = corner.linkage().frames();
    Side {
        wheel: Wheel {
            centre: measures.centre,
            spin: measures.spin,
            radius: corner.loaded_radius(),
            width: ASSUMED_TYRE_WIDTH,
            rim,
        },
        contact: measures.contact,
        at: vertices.iter().map(|v| frames.point(q, v)).collect(),
    }
}

impl Side {
    /// The same on the other side of the car.
    pub fn mirrored(mut self) -> Self {
        self.wheel = self.wheel.mirrored();
        self.contact = mirror(self.contact);
        for at in &mut self.at {
            *at = mirror(*at);
        }
        self
    }
}

impl Wheel {
    /// The same on the other side of the car.
    pub fn mirrored(self) -> Self {
        Self { centre: mirror(self.centre), spin: mirror(self.spin), ..self }
    }
}

pub(crate) fn mirror(v: Vector3<f64>) -> Vector3<f64> {
    Vector3::new(v.x, -v.y, v.z)
}

/// The other axle's wheels. Both axles are taken to have moved alike, so that the ground stays level.
fn far(car: &Car, axle: &Axle, ground: f64) -> Option<Far> {
    let (other, toward) = match axle.end {
        AxleEnd::Front => (car.rear.as_ref(), -1.0),
        AxleEnd::Rear => (car.front.as_ref(), 1.0),
    };
    let lift = |at: Vector3<f64>, z: f64| Vector3::new(at.x, at.y, z + ground);
    let wheel = match other {
        Some(other) => {
            let w = &other.wheel;
            let lifted = suspension::Wheel {
                centre: w.centre.at,
                toe: w.toe.value,
                camber: w.camber.value,
                loaded_radius: w.loaded_radius.value,
            };
            Wheel {
                centre: lift(w.centre.at, w.centre.at.z),
                spin: lifted.spin_axis(),
                radius: w.loaded_radius.value,
                width: ASSUMED_TYRE_WIDTH,
                rim: w.rim_diameter.map(|d| d / 2.0),
            }
        }
        None => {
            let w = &axle.wheel;
            let at = w.centre.at + Vector3::x() * (toward * car.wheelbase?.value);
            Wheel {
                centre: lift(at, at.z),
                spin: Vector3::y(),
                radius: w.loaded_radius.value,
                width: ASSUMED_TYRE_WIDTH,
                rim: None,
            }
        }
    };
    Some(Far { wheels: [wheel, wheel.mirrored()], assumed: other.is_none() })
}

/// `link.lower-fore.body` as `lower-fore, body end`.
fn point_label(key: &str) -> String {
    let plain = key.strip_prefix("link.").or_else(|| key.strip_prefix("joint.")).unwrap_or(key);
    match plain.rsplit_once('.') {
        Some((part, "body")) => format!("{part}, body end"),
        Some((part, "upright")) => format!("{part}, upright end"),
        Some((part, place)) => format!("{part}, {place}"),
        None => plain.to_string(),
    }
}

//! What keeps a point on its way while it is dragged.

use nalgebra::Vector3;
use project::model::{Axle, Car};

use crate::web::shown::{Drag, Hold, Shown};

/// A plate seen at less than this sine is met square to itself: along the view the point would run away.
const LEAST_SINE: f64 = 0.2;

/// Where the dragged point goes: what the pointer asks for, held as the reader wishes.
pub(crate) fn held(car: &Car, shown: &Shown, drag: &Drag) -> Vector3<f64> {
    let to = drag.to.to;
    let (key, hole) = drag.to.parts();
    let moved = shown.trial.apply(car, shown.axle);
    let Some(axle) = moved.axle(shown.axle) else { return to };
    let Some(index) = axle.scheme.point(key) else { return to };
    let holes = shown.trial.holes(&moved, shown.axle);
    let used = holes.iter().filter_map(|h| axle.holes.get(*h)).find(|h| h.point == index);
    let from = match hole {
        Some(name) => axle.holes.iter().find(|h| h.point == index && h.name == name).map(|h| h.at.at),
        None => used.map(|h| h.at.at).or_else(|| axle.points.get(index).map(|p| p.at)),
    };
    let Some(from) = from else { return to };
    match shown.hold {
        Hold::Free => to,
        Hold::Axis(axis) => {
            let mut at = from;
            if let (Some(at), Some(to)) = (at.get_mut(axis), to.get(axis)) {
                *at = *to;
            }
            at
        }
        Hold::Plate => on_plate(axle, index, from, to, &drag.view),
        Hold::Length => at_length(axle, index, from, to),
    }
}

/// The point's plate, else the plane through the place where it is, square to nothing: free.
fn on_plate(axle: &Axle, point: usize, from: Vector3<f64>, to: Vector3<f64>, view: &str) -> Vector3<f64> {
    let Some(plate) = axle.plates.iter().find(|p| p.point == point) else { return to };
    let [a, b, c, ..] = plate.outline.as_slice() else { return to };
    let normal = (b - a).cross(&(c - a));
    let Some(normal) = normal.try_normalize(1e-12) else { return to };
    let depth = match view {
        "side" => Vector3::y(),
        "rear" => Vector3::x(),
        "top" => Vector3::z(),
        _ => normal,
    };
    let off = normal.dot(&(from - to));
    let sine = normal.dot(&depth);
    if sine.abs() < LEAST_SINE { to + normal * off } else { to + depth * (off / sine) }
}

/// As far from the link's other end as it was.
fn at_length(axle: &Axle, point: usize, from: Vector3<f64>, to: Vector3<f64>) -> Vector3<f64> {
    let other = axle.scheme.legs_at(point).next().and_then(|(_, other)| axle.points.get(other));
    let Some(other) = other.map(|p| p.at) else { return to };
    match (to - other).try_normalize(1e-9) {
        Some(direction) => other + direction * (from - other).norm(),
        None => from,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::trial::Move;

    const KEY: &str = "link.lower-fore.body";

    fn drag(hold: &str, to: Vector3<f64>, view: &str) -> (Vector3<f64>, Vector3<f64>) {
        let car = project::read(crate::cli::DEMO).car.unwrap();
        let shown = Shown::parse(&format!("hold={hold}"), &car);
        let drag = Drag { to: Move { what: KEY.into(), to }, view: view.into() };
        let outer = {
            let axle = car.rear.as_ref().unwrap();
            axle.points[axle.scheme.point("link.lower-fore.upright").unwrap()].at
        };
        (held(&car, &shown, &drag), outer)
    }

    #[test]
    fn holds_keep_what_they_say() {
        let to = Vector3::new(-2.08, 0.45, 0.29);
        assert_eq!(drag("free", to, "side").0, to);
        assert_eq!(drag("z", to, "side").0, Vector3::new(-2.1, 0.42, 0.29));
        assert!((drag("plate", to, "side").0 - Vector3::new(-2.08, 0.42, 0.29)).norm() < 1e-12);
        // Seen from behind the plate stands on edge: the point stays in it.
        assert!((drag("plate", to, "rear").0.y - 0.42).abs() < 1e-12);
        let (at, outer) = drag("length", to, "side");
        let drawn = (Vector3::new(-2.1, 0.42, 0.255) - outer).norm();
        assert!(((at - outer).norm() - drawn).abs() < 1e-12);
        assert_eq!(drag("length", outer, "side").0, Vector3::new(-2.1, 0.42, 0.255));
    }
}

//! Which part of the car fills the page.

use nalgebra::Vector3;

use super::map::{Direction, ViewMap};
use super::options::ViewOptions;
use crate::scene::{Scene, Wheel};

/// The region that a view shows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Fit {
    /// The left corner.
    #[default]
    Corner,
    /// The whole car: both wheels, both axles.
    Car,
    /// The map of an earlier view: nothing jumps while a point is dragged.
    Held(ViewMap),
}

/// The region grows in steps of this, so that a small move does not shift the whole drawing \[m\].
const STEP: f64 = 0.05;

/// Room at the edges for words \[px\]: left and right, top, bottom.
const MARGIN: (f64, f64, f64) = (16.0, 34.0, 40.0);

/// A region right and up \[m\].
struct Region {
    lo: (f64, f64),
    hi: (f64, f64),
}

/// The map for a view.
pub(crate) fn fit(direction: Direction, scene: &Scene, options: &ViewOptions<'_>) -> ViewMap {
    let whole = match options.region {
        Fit::Held(map) if map.direction == direction && map.mm_per_px > 0.0 => return map,
        Fit::Car => true,
        Fit::Corner | Fit::Held(_) => false,
    };
    let mut region =
        Region { lo: (f64::INFINITY, f64::INFINITY), hi: (f64::NEG_INFINITY, f64::NEG_INFINITY) };
    let mut add = |at: &Vector3<f64>| region.add(direction.flat(at));
    around_wheel(&scene.left.wheel, &mut add);
    scene.left.at.iter().for_each(&mut add);
    if options.show.holes {
        scene.holes.iter().for_each(|h| add(&h.at));
        scene.plates.iter().flat_map(|p| &p.outline).for_each(&mut add);
    }
    if direction != Direction::FromAbove {
        add(&Vector3::new(scene.left.wheel.centre.x, scene.left.wheel.centre.y, scene.left.contact.z));
    }
    if direction == Direction::FromBehind {
        // The middle of the car, where the roll centre is.
        add(&Vector3::new(0.0, -0.06, 0.1));
    }
    if whole {
        around_wheel(&scene.right.wheel, &mut add);
        scene.right.at.iter().for_each(&mut add);
        if direction != Direction::FromBehind {
            for wheel in scene.far.iter().flat_map(|f| &f.wheels) {
                around_wheel(wheel, &mut add);
            }
        }
        if let Some(height) = scene.cg_height.filter(|_| direction != Direction::FromAbove) {
            add(&Vector3::new(scene.left.wheel.centre.x, scene.left.wheel.centre.y, height));
        }
    }
    region.map(direction, options.width_px, options.height_px)
}

fn around_wheel(wheel: &Wheel, add: &mut impl FnMut(&Vector3<f64>)) {
    let flat = (wheel.spin.x * wheel.spin.x + wheel.spin.y * wheel.spin.y).sqrt();
    let reach = |s: f64| wheel.radius * (1.0 - s * s).max(0.0).sqrt() + wheel.width / 2.0 * s.abs();
    let (x, y) = (reach(wheel.spin.x), reach(wheel.spin.y));
    let z = wheel.radius * flat + wheel.width / 2.0 * wheel.spin.z.abs();
    let reach = Vector3::new(x, y, z);
    add(&(wheel.centre + reach));
    add(&(wheel.centre - reach));
}

impl Region {
    fn add(&mut self, (right, up): (f64, f64)) {
        if right.is_finite() && up.is_finite() {
            self.lo = (self.lo.0.min(right), self.lo.1.min(up));
            self.hi = (self.hi.0.max(right), self.hi.1.max(up));
        }
    }

    fn map(&self, direction: Direction, width: f64, height: f64) -> ViewMap {
        let down = |v: f64| (v / STEP).floor() * STEP;
        let up = |v: f64| (v / STEP).ceil() * STEP;
        let (lo, hi) = ((down(self.lo.0), down(self.lo.1)), (up(self.hi.0), up(self.hi.1)));
        let (wide, high) = ((hi.0 - lo.0).max(STEP), (hi.1 - lo.1).max(STEP));
        let room = ((width - 2.0 * MARGIN.0).max(1.0), (height - MARGIN.1 - MARGIN.2).max(1.0));
        let mm_per_px = (wide / room.0).max(high / room.1) * 1000.0;
        let px = 1000.0 / mm_per_px;
        let left = MARGIN.0 + (room.0 - wide * px) / 2.0;
        let top = MARGIN.1 + (room.1 - high * px) / 2.0;
        ViewMap { direction, mm_per_px, origin: (left - lo.0 * px, top + hi.1 * px) }
    }
}

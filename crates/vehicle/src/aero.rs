//! Air forces by constant areas: drag at its own height, downforce at each axle.

use crate::error::{VehicleError, finite, not_negative, within};

/// Air forces proportional to the square of speed. An area here is a coefficient times its reference area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aero {
    /// Density of the air [kg/m^3].
    pub density: f64,
    /// Drag area `C_x S` [m^2], rearward positive.
    pub drag_area: f64,
    /// Height at which the drag acts [m].
    pub drag_height: f64,
    /// Downforce area at the front axle `C_zf S` [m^2]; negative for lift. The drag's own pitching moment is *not* in
    /// it: it follows from the height. Set `drag_height` to zero for axle figures measured at the ground, which have
    /// it already.
    pub front_area: f64,
    /// Downforce area at the rear axle [m^2].
    pub rear_area: f64,
}

/// Air forces at one speed [N].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirForces {
    /// Drag, rearward positive.
    pub drag: f64,
    /// Downforce at the front axle.
    pub front: f64,
    /// Downforce at the rear axle.
    pub rear: f64,
}

/// Greatest speed of any formula here [m/s]: beyond it the air is compressible, and a unit was mistaken.
pub const FASTEST: f64 = 150.0;

impl Aero {
    /// No air at all.
    pub const NONE: Self =
        Self { density: 0.0, drag_area: 0.0, drag_height: 0.0, front_area: 0.0, rear_area: 0.0 };

    /// `q S C` with `q = density v^2 / 2`.
    #[inline]
    pub fn forces(&self, speed: f64) -> AirForces {
        let q = 0.5 * self.density * speed * speed;
        AirForces { drag: q * self.drag_area, front: q * self.front_area, rear: q * self.rear_area }
    }

    /// # Errors
    /// A figure that no car has.
    pub fn check(&self) -> Result<(), VehicleError> {
        within("air density", self.density, 0.0, 2.0)?;
        not_negative("drag area", self.drag_area)?;
        within("drag height", self.drag_height, -1.0, 5.0)?;
        finite("front downforce area", self.front_area)?;
        finite("rear downforce area", self.rear_area)?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Drag of a car of 2.6 m^2 and coefficient 0.30 at 120 km/h in air of 1.2 kg/m^3: inputs of a question of an
    /// Indian engineering entrance examination (read; its answer in horsepower only remembered), 520.0 N and 17 333 W
    /// worked out independently.
    #[test]
    fn drag_of_an_examination_question() {
        let aero = Aero { density: 1.2, drag_area: 2.6 * 0.30, ..Aero::NONE };
        let v = 120.0 / 3.6;
        let drag = aero.forces(v).drag;
        assert!((drag - 520.0).abs() < 1e-9);
        assert!((drag * v - 17_333.333).abs() < 1e-3);
    }
}

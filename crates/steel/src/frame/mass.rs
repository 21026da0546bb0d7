//! What a frame weighs.

use nalgebra::Vector3;

use super::Frame;

/// Mass of the tubes and its centre. Centre lines count: what notching takes off at the joints and welds add is left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mass {
    /// Mass [kg].
    pub mass: f64,
    /// Its centre [m]; the origin where nothing weighs.
    pub centre: Vector3<f64>,
}

impl Frame {
    /// Mass of all tubes; those that hang on no node are left out.
    pub fn mass(&self) -> Mass {
        let mut mass = 0.0;
        let mut first = Vector3::zeros();
        for (index, tube) in self.tubes.iter().enumerate() {
            let Some([start, end]) = self.line(index) else { continue };
            let part = (end - start).norm() * tube.section.mass_per_metre(tube.grade.density);
            mass += part;
            first += (start + end) / 2.0 * part;
        }
        let centre = if mass > 0.0 { first / mass } else { Vector3::zeros() };
        Mass { mass, centre }
    }
}

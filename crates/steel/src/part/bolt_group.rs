//! A bracket bolted on: a group of like bolts under a force beside its middle.

use nalgebra::Vector2;

use super::figure::finite;
use super::{Bolt, BoltLoad};
use crate::check::Check;
use crate::error::SteelError;

/// Squared distance below which bolts count as one on another [m^2].
const TOGETHER: f64 = 1e-10;

/// Like bolts in one plane.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltGroup {
    /// One of them.
    pub bolt: Bolt,
    /// Where they are in the plane [m].
    pub at: Vec<Vector2<f64>>,
}

/// What acts on the group.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GroupLoad {
    /// Force in the plane [N].
    pub force: Vector2<f64>,
    /// Where that force and the pull act, in the plane [m].
    pub at: Vector2<f64>,
    /// Moment about the normal of the plane, beside that of the force, from first axis to second [N m].
    pub twist: f64,
    /// Force that pulls the bracket off the plane [N]; a push is carried by the faces, but still bends where it is off the middle.
    pub pull: f64,
    /// Force in the plane times its height above the plane: moment that tips the bracket [N m], in the direction in which the
    /// force points. It pulls the bolts on the other side.
    pub tip: Vector2<f64>,
}

impl BoltGroup {
    /// Force across each bolt and along it [N]: `F/n + T x r/sum r^2` and `N/n + M r/sum r^2` about the middle of the bolts.
    ///
    /// # Errors
    /// No bolts, a figure that is none, or a moment on bolts that cannot take it.
    pub fn forces(&self, load: &GroupLoad) -> Result<Vec<BoltLoad>, SteelError> {
        self.sane(load)?;
        if self.at.is_empty() {
            return Err(SteelError::None { what: "bolts" });
        }
        let count = self.at.len() as f64;
        let middle = self.at.iter().sum::<Vector2<f64>>() / count;
        let arms: Vec<_> = self.at.iter().map(|place| place - middle).collect();
        let square = |part: fn(&Vector2<f64>) -> f64| arms.iter().map(part).sum::<f64>();
        let (polar, xx, yy, xy) = (
            square(|arm| arm.norm_squared()),
            square(|arm| arm.x * arm.x),
            square(|arm| arm.y * arm.y),
            square(|arm| arm.x * arm.y),
        );
        let off = load.at - middle;
        let twist = load.twist + off.x * load.force.y - off.y * load.force.x;
        // Tension rises along k: sum (k.r) r = (pull off the middle) - tip.
        let tip = load.pull * off - load.tip;
        let spin = turning(twist, polar)?;
        let determinant = xx * yy - xy * xy;
        let tilt = if determinant > TOGETHER * polar {
            Vector2::new(yy * tip.x - xy * tip.y, xx * tip.y - xy * tip.x) / determinant
        } else {
            self.tilt_in_line(&arms, tip, polar)?
        };
        Ok(arms
            .iter()
            .map(|arm| BoltLoad {
                shear: (load.force / count + spin * Vector2::new(-arm.y, arm.x)).norm(),
                tension: (load.pull / count + tilt.dot(arm)).max(0.0),
            })
            .collect())
    }

    /// The checks of the bolt that is worst off, by its least check.
    ///
    /// # Errors
    /// As [`BoltGroup::forces`], or a figure that no bolt has.
    pub fn checks(&self, load: &GroupLoad) -> Result<Vec<Check>, SteelError> {
        let mut worst: Option<(f64, Vec<Check>)> = None;
        for force in self.forces(load)? {
            let checks = self.bolt.checks(&force)?;
            let least = checks.iter().map(Check::holds).fold(f64::INFINITY, f64::min);
            if worst.as_ref().is_none_or(|(held, _)| least < *held) {
                worst = Some((least, checks));
            }
        }
        Ok(worst.map(|(_, checks)| checks).unwrap_or_default())
    }

    /// Tilt of bolts in one line: they take no moment about that line.
    fn tilt_in_line(
        &self,
        arms: &[Vector2<f64>],
        tip: Vector2<f64>,
        polar: f64,
    ) -> Result<Vector2<f64>, SteelError> {
        let longest = arms.iter().copied().fold(Vector2::zeros(), |longest: Vector2<f64>, arm| {
            if arm.norm() > longest.norm() { arm } else { longest }
        });
        let Some(line) = longest.try_normalize(TOGETHER.sqrt()) else {
            return if tip.norm() > 0.0 {
                Err(SteelError::InLine { what: "bolts" })
            } else {
                Ok(Vector2::zeros())
            };
        };
        let along = tip.dot(&line);
        if (tip - along * line).norm() > 1e-9 * (1.0 + tip.norm()) {
            return Err(SteelError::InLine { what: "bolts" });
        }
        Ok(line * (along / polar))
    }

    fn sane(&self, load: &GroupLoad) -> Result<(), SteelError> {
        for place in &self.at {
            finite("the place of a bolt", place.x)?;
            finite("the place of a bolt", place.y)?;
        }
        for (what, part) in
            [("the force", load.force), ("the place of the force", load.at), ("the tipping moment", load.tip)]
        {
            finite(what, part.x)?;
            finite(what, part.y)?;
        }
        finite("the twist", load.twist)?;
        finite("the pull", load.pull)?;
        Ok(())
    }
}

/// Moment over sum of squares; bolts on one spot take no moment.
fn turning(moment: f64, square: f64) -> Result<f64, SteelError> {
    if square > TOGETHER {
        Ok(moment / square)
    } else if moment.abs() > 0.0 {
        Err(SteelError::InLine { what: "bolts" })
    } else {
        Ok(0.0)
    }
}

//! Engine and gears: what pushes the car at a speed.
//!
//! ```text
//! F = eta M(w) i_g i_f / R          w = v i_g i_f / R
//! ```
//!
//! `M` the engine's full-load torque, `i_g` and `i_f` the ratios of gear and final drive, `R` the rolling radius, `eta`
//! the efficiency of the driveline (T. Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 2, remembered). The inertia
//! of the engine is left out; that of the wheels is with whoever divides by the mass. Below the lowest engine speed of the
//! curve the clutch slips: the engine stays there.

use crate::error::{VehicleError, finite, positive, within};

/// How the two wheels of a driven axle share its torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Differential {
    /// Both alike: the wheel with less grip sets the other one too.
    Open,
    /// Each as it can: a limited-slip or locked one.
    Limited,
}

/// Engine, gears and what joins them to the wheels.
#[derive(Clone, Debug, PartialEq)]
pub struct Power {
    /// Full-load torque [Nm] over engine speed [rad/s], rising in speed; straight lines between.
    pub curve: Vec<(f64, f64)>,
    /// Highest engine speed [rad/s].
    pub most: f64,
    /// Ratios of the gears, falling.
    pub ratios: Vec<f64>,
    /// Ratio of the final drive.
    pub final_drive: f64,
    /// Efficiency from the engine to the wheels [-].
    pub efficiency: f64,
    /// Time without drive at each change up [s].
    pub shift: f64,
    /// Rolling radius of the driven wheels [m].
    pub radius: f64,
    /// How a driven axle shares its torque.
    pub differential: Differential,
}

impl Power {
    /// # Errors
    /// Figures that no car has.
    pub fn check(&self) -> Result<(), VehicleError> {
        if self.curve.is_empty() || self.curve.windows(2).any(|w| !matches!(w, [a, b] if a.0 < b.0)) {
            return Err(VehicleError::TableOrder { name: "torque over engine speed" });
        }
        for (speed, torque) in &self.curve {
            positive("engine speed", *speed)?;
            finite("torque", *torque)?;
        }
        let last = self.curve.last().map_or(0.0, |row| row.0);
        within("highest engine speed", self.most, self.lowest(), 1.5 * last)?;
        if self.ratios.is_empty() || self.ratios.windows(2).any(|w| !matches!(w, [a, b] if a > b)) {
            return Err(VehicleError::TableOrder { name: "ratios of the gears, the first one first" });
        }
        for ratio in &self.ratios {
            within("ratio of a gear", *ratio, 0.1, 20.0)?;
        }
        within("ratio of the final drive", self.final_drive, 0.5, 20.0)?;
        within("efficiency of the driveline", self.efficiency, 0.3, 1.0)?;
        within("time of a gear change", self.shift, 0.0, 5.0)?;
        within("rolling radius", self.radius, 0.05, 2.0)?;
        Ok(())
    }

    /// Lowest engine speed of the curve [rad/s].
    fn lowest(&self) -> f64 {
        self.curve.first().map_or(0.0, |row| row.0)
    }

    /// Full-load torque at an engine speed [Nm]; as at its ends beyond them.
    pub fn torque(&self, speed: f64) -> f64 {
        let above = self.curve.partition_point(|row| row.0 < speed);
        let at = |i: usize| self.curve.get(i);
        match (above.checked_sub(1).and_then(at), at(above)) {
            (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (speed - a.0) / (b.0 - a.0),
            (Some(end), None) | (None, Some(end)) => end.1,
            (None, None) => 0.0,
        }
    }

    /// Force at the wheels' contact [N] in a gear (the first is 0) at a speed [m/s]; `None` above the highest engine
    /// speed, or without that gear.
    pub fn push(&self, gear: usize, speed: f64) -> Option<f64> {
        let ratio = self.ratios.get(gear)? * self.final_drive / self.radius;
        let engine = speed * ratio;
        (engine <= self.most).then(|| self.efficiency * self.torque(engine.max(self.lowest())) * ratio)
    }

    /// The gear that pushes hardest at a speed; the last one beyond all.
    pub fn best_gear(&self, speed: f64) -> usize {
        let mut best = (self.ratios.len().saturating_sub(1), f64::NEG_INFINITY);
        for gear in 0..self.ratios.len() {
            if let Some(force) = self.push(gear, speed).filter(|force| *force > best.1) {
                best = (gear, force);
            }
        }
        best.0
    }

    /// Greatest speed that the gears allow [m/s].
    pub fn geared_speed(&self) -> f64 {
        let last = self.ratios.last().copied().unwrap_or(1.0);
        self.most * self.radius / (last * self.final_drive)
    }

    /// Greatest power at the wheels [W].
    pub fn greatest(&self) -> f64 {
        let inside = self.curve.iter().filter(|row| row.0 <= self.most).map(|row| row.0 * row.1);
        self.efficiency * inside.fold(self.most * self.torque(self.most), f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn power() -> Power {
        Power {
            curve: vec![(150.0, 150.0), (400.0, 200.0), (700.0, 170.0)],
            most: 720.0,
            ratios: vec![3.3, 2.0, 1.4, 1.0],
            final_drive: 4.0,
            efficiency: 0.9,
            shift: 0.2,
            radius: 0.3,
            differential: Differential::Limited,
        }
    }

    /// Force times speed is efficiency times torque times engine speed (energy; exact).
    #[test]
    fn no_gear_makes_power() {
        let p = power();
        for gear in 0..4 {
            for v in [5.0, 12.0, 20.0, 40.0, 53.0] {
                let Some(force) = p.push(gear, v) else { continue };
                let engine = v * p.ratios[gear] * p.final_drive / p.radius;
                if engine > 150.0 {
                    assert!((force * v - 0.9 * p.torque(engine) * engine).abs() < 1e-9 * force * v);
                } else {
                    assert!(force * v < 0.9 * p.torque(150.0) * 150.0);
                }
                assert!(force * v <= p.greatest() * (1.0 + 1e-12));
            }
        }
        assert!(p.push(0, 20.0).is_none(), "first gear ends at 16 m/s");
        assert_eq!(p.best_gear(1.0), 0);
        assert_eq!(p.best_gear(50.0), 3);
        assert!((p.geared_speed() - 54.0).abs() < 1e-12);
        // The best gear never pushes less than another one.
        for i in 1..540 {
            let v = f64::from(i) / 10.0;
            let best = p.push(p.best_gear(v), v).unwrap();
            assert!((0..4).filter_map(|g| p.push(g, v)).all(|f| f <= best));
        }
    }

    #[test]
    fn wrong_figures_are_refused() {
        assert!(power().check().is_ok());
        assert!(Power { ratios: vec![1.0, 2.0], ..power() }.check().is_err());
        assert!(Power { curve: vec![(200.0, 1.0), (100.0, 1.0)], ..power() }.check().is_err());
        assert!(Power { most: 1e5, ..power() }.check().is_err());
        assert!(Power { efficiency: f64::NAN, ..power() }.check().is_err());
    }
}

//! A point mass with a friction ellipse, drag and downforce: the car of the closed forms.

use vehicle::GRAVITY;
use vehicle::limits::Limits;

/// The car.
#[derive(Clone, Copy, Debug)]
pub struct Point {
    /// Friction across, braking and driving [-].
    pub across: f64,
    pub braking: f64,
    pub driving: f64,
    /// Downforce and drag over the square of speed and mass [1/m].
    pub down: f64,
    pub drag: f64,
    /// Power over mass [W/kg]; infinite where there is no end of it.
    pub power: f64,
    pub fastest: f64,
}

impl Point {
    /// Friction alone, alike in every direction.
    pub fn of(mu: f64) -> Self {
        Self {
            across: mu,
            braking: mu,
            driving: mu,
            down: 0.0,
            drag: 0.0,
            power: f64::INFINITY,
            fastest: 120.0,
        }
    }

    fn load(&self, speed: f64) -> f64 {
        GRAVITY + self.down * speed * speed
    }

    fn left(&self, speed: f64, across: f64) -> f64 {
        let share = across / (self.across * self.load(speed));
        (1.0 - share * share).max(0.0).sqrt()
    }
}

impl Limits for Point {
    fn across(&self, speed: f64, grip: f64) -> f64 {
        grip * self.across * self.load(speed)
    }
    fn traction(&self, speed: f64, across: f64, grip: f64) -> f64 {
        grip * self.driving * self.load(speed) * self.left(speed, across / grip) - self.drag * speed * speed
    }
    fn braking(&self, speed: f64, across: f64, grip: f64) -> f64 {
        -grip * self.braking * self.load(speed) * self.left(speed, across / grip) - self.drag * speed * speed
    }
    fn coast(&self, speed: f64, _across: f64, _grip: f64) -> f64 {
        -self.drag * speed * speed
    }
    fn push(&self, _gear: usize, speed: f64) -> Option<f64> {
        Some(self.power / speed.max(0.1))
    }
    fn best_gear(&self, _speed: f64) -> usize {
        0
    }
    fn shift(&self) -> f64 {
        0.0
    }
    fn fastest(&self) -> f64 {
        self.fastest
    }
}

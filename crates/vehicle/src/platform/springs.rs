//! What a spring and a stop push with.

/// A spring between two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// Rate along its length at ride height [N/m].
    pub rate: f64,
    /// Change of the rate per compression [N/m^2]: zero for a plain coil, positive for a rising one.
    pub rise: f64,
}

/// A rubber or a second spring that is met on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Shortening of the element from ride height at which it is met [m]; negative for one that stops rebound.
    pub gap: f64,
    /// Rate once it is met [N/m].
    pub rate: f64,
    /// Change of that rate per further way [N/m^2].
    pub rise: f64,
}

impl Spring {
    /// Force beyond that of ride height [N] and rate [N/m] at a shortening from ride height [m].
    pub fn at(&self, shortening: f64) -> (f64, f64) {
        (
            self.rate * shortening + self.rise * shortening * shortening / 2.0,
            self.rate + self.rise * shortening,
        )
    }
}

impl Stop {
    /// Force [N] (compression positive, rebound negative) and rate [N/m] at a shortening from ride height [m].
    pub fn at(&self, shortening: f64) -> (f64, f64) {
        let rebound = self.gap < 0.0;
        let way = if rebound { self.gap - shortening } else { shortening - self.gap };
        if way <= 0.0 {
            return (0.0, 0.0);
        }
        let force = self.rate * way + self.rise * way * way / 2.0;
        (if rebound { -force } else { force }, self.rate + self.rise * way)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forces_rise_with_their_rates() {
        let spring = Spring { rate: 50e3, rise: 2e5 };
        let stop = Stop { gap: 0.03, rate: 100e3, rise: 5e6 };
        let rebound = Stop { gap: -0.05, rate: 200e3, rise: 0.0 };
        for x in [-0.08, -0.01, 0.0, 0.02, 0.05] {
            let step = 1e-6;
            for law in [&|x| spring.at(x) as (f64, f64), &|x| stop.at(x), &|x| rebound.at(x)]
                as [&dyn Fn(f64) -> (f64, f64); 3]
            {
                let slope = (law(x + step).0 - law(x - step).0) / (2.0 * step);
                assert!((slope - law(x).1).abs() < 1.0 + 1e-6 * slope.abs(), "{x} {slope} {:?}", law(x));
            }
        }
        assert_eq!(stop.at(0.02), (0.0, 0.0));
        assert!(stop.at(0.04).0 > 0.0 && rebound.at(-0.06).0 < 0.0);
        assert_eq!(spring.at(0.0).0, 0.0);
    }
}

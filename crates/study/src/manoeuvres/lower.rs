//! A whole car as [`vehicle::motion`] wants it.

use vehicle::AxleEnd;
use vehicle::motion::{MotionError, RELAXATION_ACROSS, Rolling, Runner, Steer};
use vehicle::tyre::Tyre;

use crate::whole::{Lack, Whole, wrong};

/// Greatest rack travel where the file says none [m] (common practice: 60 to 80 mm each way at the lock; half of it is far
/// beyond any of these manoeuvres).
const RACK: f64 = 0.04;

/// What every runner of a car has.
pub(super) struct Base<'w> {
    whole: &'w Whole,
    rolling: [Rolling<'w>; 2],
    inertia: [f64; 3],
    steer: Steer,
}

impl<'w> Base<'w> {
    pub fn new(whole: &'w Whole) -> Result<Self, Lack> {
        let rolling = |end: AxleEnd| -> Result<Rolling<'w>, Lack> {
            let along = whole.rolling_at(end)?;
            let load = whole.loads.mass * vehicle::GRAVITY / 4.0;
            let across = match along.tyre {
                Tyre::Simple(tyre) => Some(tyre.relaxation_length(load)),
                Tyre::Magic(_) => None,
            };
            let across = across.filter(|l| (0.02..3.0).contains(l)).unwrap_or(RELAXATION_ACROSS);
            Ok(Rolling { along, across })
        };
        Ok(Self {
            rolling: [rolling(AxleEnd::Front)?, rolling(AxleEnd::Rear)?],
            inertia: whole.sprung_inertia()?,
            steer: Steer { most_rack: if whole.axle(AxleEnd::Front).corner.has_rack() { RACK } else { 0.0 } },
            whole,
        })
    }

    /// A runner whose brakes share as they do at a deceleration [m/s^2].
    pub fn runner(&self, deceleration: f64) -> Result<Runner<'w, 'w>, Lack> {
        let effort = self.whole.effort()?;
        let share = effort
            .effort_for(self.whole.loads.mass * deceleration)
            .map(|pressed| effort.forces(pressed))
            .map(|(front, rear)| front / (front + rear))
            .ok_or_else(|| {
                Lack::new(
                    format!("the brakes cannot give {deceleration:.1} m/s^2 at the greatest pedal force"),
                    "ask for less in `[stop]` or `[manoeuvre]`, or change the brake parts",
                )
            })?;
        let car = self.whole.on_wheels(share)?;
        let rolling = self.rolling.each_ref().map(Clone::clone);
        Runner::new(&car, rolling, self.inertia, self.steer).map_err(|e| lacking(&e))
    }
}

fn lacking(error: &MotionError) -> Lack {
    match error {
        MotionError::Figure(e) => wrong(e.clone()),
        other => Lack::new(other.to_string(), "`soapstone balance` looks the car over"),
    }
}

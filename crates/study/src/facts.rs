//! What is known at one position of one axle: the ground on which every quantity is computed.

use suspension::{AxleEnd, Measures, Ratio, TorqueReaction, anti, slope};

use linkage::scalar::{Real, constant};

/// Figures of the whole car, where the file states them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures<T> {
    /// Wheelbase [m].
    pub wheelbase: Option<T>,
    /// Height of the centre of gravity [m].
    pub cg_height: Option<T>,
    /// Front share of the braking force.
    pub brake_front_share: Option<T>,
    /// Front share of the drive.
    pub drive_front_share: T,
}

/// Measures of the left wheel at one travel with the car around it.
#[derive(Clone, Debug)]
pub struct Facts<T> {
    /// The wheel.
    pub measures: Measures<T>,
    /// Springs, dampers, bar links, in the scheme's order.
    pub ratios: Vec<Ratio<T>>,
    /// The car.
    pub figures: Figures<T>,
    /// Front or rear.
    pub end: AxleEnd,
    /// What reacts the brake torque.
    pub braking: TorqueReaction,
    /// What reacts the drive torque.
    pub driving: TorqueReaction,
    /// Whether the axle is driven.
    pub driven: bool,
}

impl<T: Real> Facts<T> {
    /// This axle's share of the braking force.
    pub fn brake_share(&self) -> Option<T> {
        let front = self.figures.brake_front_share?;
        Some(self.share(front))
    }

    /// This axle's share of the drive.
    pub fn drive_share(&self) -> T {
        self.share(self.figures.drive_front_share)
    }

    fn share(&self, front: T) -> T {
        match self.end {
            AxleEnd::Front => front,
            AxleEnd::Rear => constant::<T>(1.0) - front,
        }
    }

    /// Slope that the braking force sees.
    pub fn braking_slope(&self) -> T {
        slope(&self.measures, self.end, self.braking)
    }

    /// Slope that the driving force sees.
    pub fn driving_slope(&self) -> T {
        slope(&self.measures, self.end, self.driving)
    }

    /// Anti-dive (front) or anti-lift (rear) under the brakes [-].
    pub fn anti_braking(&self) -> Option<T> {
        let f = &self.figures;
        Some(anti(self.brake_share()?, self.braking_slope(), f.wheelbase?, f.cg_height?))
    }

    /// Anti-lift (front) or anti-squat (rear) under power [-]; none on an axle without drive.
    pub fn anti_driving(&self) -> Option<T> {
        let f = &self.figures;
        self.driven
            .then(|| Some(anti(self.drive_share(), self.driving_slope(), f.wheelbase?, f.cg_height?)))
            .flatten()
    }

    /// Horizontal distance from the contact point to the side-view instant centre [m], positive toward the
    /// other axle.
    pub fn side_view_arm(&self) -> T {
        let ahead = constant::<T>(1.0) / self.measures.side_view_turning();
        match self.end {
            AxleEnd::Front => -ahead,
            AxleEnd::Rear => ahead,
        }
    }

    /// Angle of the line from the contact point to the side-view instant centre [rad], positive rising toward
    /// the other axle.
    pub fn side_view_angle(&self) -> T {
        slope(&self.measures, self.end, TorqueReaction::Upright).atan()
    }
}

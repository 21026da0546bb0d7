//! The manoeuvres, as the open standards have them (remembered; none of them could be read).

/// What the car is put through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Manoeuvre {
    /// A stop from a straight line.
    StraightStop(StraightStop),
    /// Brakes in a steady turn, steering held (ISO 7975, remembered).
    BrakingInTurn(BrakingInTurn),
    /// The steering wheel is turned at once and held (ISO 7401, remembered).
    StepSteer(StepSteer),
    /// A turn whose lateral acceleration grows slowly (ISO 4138, remembered).
    SteadyTurn(SteadyTurn),
}

/// From rolling straight, the brakes come on evenly and stay. A driver keeps the car straight, by its curvature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StraightStop {
    /// Speed before [m/s].
    pub speed: f64,
    /// Deceleration [m/s^2] whose steady torques, at that speed, are put on; positive.
    pub deceleration: f64,
    /// Time in which they rise [s].
    pub rise_time: f64,
}

/// From a steady turn to the left, the engine's push goes and the brakes come on; the steering is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BrakingInTurn {
    /// Speed before [m/s].
    pub speed: f64,
    /// Lateral acceleration before [m/s^2]; negative for a turn to the right.
    pub across: f64,
    /// Deceleration [m/s^2] whose steady torques, straight ahead at that speed, are put on; positive.
    pub deceleration: f64,
    /// Time in which they rise [s].
    pub rise_time: f64,
}

/// From rolling straight, the road-wheel angle goes to that of a steady turn along half a cosine, and is held. The
/// engine's torque stays as it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepSteer {
    /// Speed [m/s].
    pub speed: f64,
    /// Lateral acceleration [m/s^2] of the steady turn at that angle and speed.
    pub across: f64,
    /// Time in which the rack moves [s].
    pub rise_time: f64,
}

/// A slow growth of lateral acceleration, to the left; the driver's speed is held by the engine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SteadyTurn {
    /// A driver keeps the radius while the speed grows.
    Radius {
        /// Radius [m].
        radius: f64,
        /// Speed at first [m/s].
        speed: f64,
        /// Rate of speed [m/s^2]; a tenth or two.
        rate: f64,
    },
    /// The speed is kept while the steering turns.
    Speed {
        /// Speed [m/s].
        speed: f64,
        /// Rate of the road-wheel angle, by the rack about straight ahead [rad/s]; half a degree or so.
        rate: f64,
    },
}

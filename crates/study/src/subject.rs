//! One axle of a car as the thing under study: what is uncertain about it, and its corner with any choice of
//! holes and any deviation of the uncertain inputs.

use linkage::scalar::{Real, constant};
use linkage::{BuildError, Dual64};
use nalgebra::Vector3;
use project::model::{Axle, Car, Driven, End, Mounting, Value};
use suspension::scheme::Scheme;
use suspension::{AxleEnd, Corner, TorqueReaction, Wheel};
use thiserror::Error;

use crate::facts::Figures;

/// Why a study cannot be made.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum StudyError {
    /// The car file has no such axle.
    #[error("the file has no `[{0}]` axle")]
    NoAxle(&'static str),
    /// A joint cannot be built from its points.
    #[error(transparent)]
    Build(#[from] BuildError),
    /// The joints do not leave the wheel exactly its travel.
    #[error("{message}")]
    Held {
        /// What is wrong.
        message: String,
        /// What to do.
        hint: Option<String>,
    },
}

/// An input whose uncertainty is carried through to the results.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Parameter {
    /// Coordinate `axis` (0 x, 1 y, 2 z) of a point as drawn.
    Point(usize, usize),
    /// Coordinate of a candidate hole.
    Hole(usize, usize),
    /// Coordinate of the wheel centre.
    WheelCentre(usize),
    /// Loaded radius.
    LoadedRadius,
    /// Toe set at ride height.
    Toe,
    /// Camber set at ride height.
    Camber,
    /// Wheelbase, apart from this axle's own wheel centre.
    Wheelbase,
    /// Height of the centre of gravity.
    CgHeight,
    /// Front share of the braking force.
    BrakeShare,
    /// Front share of the drive.
    DriveShare,
}

/// Everything a corner is built from, in one number type.
#[derive(Clone, Debug)]
pub struct Inputs<T> {
    /// Points in the scheme's order, with the chosen holes in place.
    pub points: Vec<Vector3<T>>,
    /// Points in the scheme's order as drawn.
    pub drawn: Vec<Vector3<T>>,
    /// The wheel.
    pub wheel: Wheel<T>,
    /// Figures of the whole car.
    pub figures: Figures<T>,
}

/// One axle under study.
#[derive(Clone, Debug)]
pub struct Subject<'a> {
    car: &'a Car,
    axle: &'a Axle,
    parameters: Vec<(Parameter, f64)>,
    /// The scheme with every leg as a rod: all that the wheel's motion needs, in the fewest bodies.
    rods: Scheme,
}

impl<'a> Subject<'a> {
    /// Takes up an axle. Inputs without uncertainty are left out of the parameters.
    ///
    /// # Errors
    /// If the car has no such axle.
    pub fn new(car: &'a Car, end: End) -> Result<Self, StudyError> {
        let axle = car.axle(end).ok_or(StudyError::NoAxle(end.name()))?;
        Ok(Self { car, axle, parameters: parameters(car, axle), rods: axle.scheme.legs_as_rods() })
    }

    /// The car.
    pub fn car(&self) -> &'a Car {
        self.car
    }

    /// The axle.
    pub fn axle(&self) -> &'a Axle {
        self.axle
    }

    /// Uncertain inputs with their standard uncertainties, SI.
    pub fn parameters(&self) -> &[(Parameter, f64)] {
        &self.parameters
    }

    /// Front or rear.
    pub fn end(&self) -> AxleEnd {
        self.axle.end.into()
    }

    /// What reacts the brake torque of this axle.
    pub fn braking_reaction(&self) -> TorqueReaction {
        match self.axle.brakes {
            Mounting::Outboard => TorqueReaction::Upright,
            Mounting::Inboard => TorqueReaction::Body,
        }
    }

    /// What reacts the drive torque of this axle: the body, through half-shafts, unless the axle carries its
    /// final drive.
    pub fn driving_reaction(&self) -> TorqueReaction {
        match self.axle.final_drive {
            Mounting::Outboard => TorqueReaction::Upright,
            Mounting::Inboard => TorqueReaction::Body,
        }
    }

    /// Whether the axle is driven.
    pub fn driven(&self) -> bool {
        match self.car.driven {
            Driven::All => true,
            Driven::Front => self.axle.end == End::Front,
            Driven::Rear => self.axle.end == End::Rear,
        }
    }

    /// Whether a parameter bears on a choice of holes: a hole not chosen does not.
    pub fn concerns(&self, parameter: Parameter, holes: &[usize]) -> bool {
        !matches!(parameter, Parameter::Hole(h, _) if !holes.contains(&h))
    }

    /// Whether a parameter bears on the wheel's motion with a choice of holes: neither does a point on which
    /// only a spring, damper or bar link is mounted.
    pub fn guides(&self, parameter: Parameter, holes: &[usize]) -> bool {
        match parameter {
            Parameter::Point(p, _) => self.rods.guides(p),
            other => self.concerns(other, holes),
        }
    }

    /// The inputs with the given holes in place and every parameter off by `delta(its index)`.
    pub fn inputs<T: Real>(&self, holes: &[usize], delta: impl Fn(usize) -> T) -> Inputs<T> {
        let axle = self.axle;
        let lift = |v: &Vector3<f64>| v.map(T::from);
        let mut drawn: Vec<Vector3<T>> = axle.points.iter().map(|p| lift(&p.at)).collect();
        let mut places: Vec<Vector3<T>> = axle.holes.iter().map(|h| lift(&h.at.at)).collect();
        let mut wheel = Wheel {
            centre: lift(&axle.wheel.centre.at),
            toe: T::from(axle.wheel.toe.value),
            camber: T::from(axle.wheel.camber.value),
            loaded_radius: T::from(axle.wheel.loaded_radius.value),
        };
        let value = |v: &Option<Value>| v.map(|v| T::from(v.value));
        let mut figures = Figures {
            wheelbase: value(&self.car.wheelbase),
            cg_height: value(&self.car.cg_height),
            brake_front_share: value(&self.car.brake_front_share),
            drive_front_share: T::from(self.car.drive_front_share.value),
        };
        let add = |target: &mut Option<T>, d: T| {
            if let Some(t) = target {
                *t += d;
            }
        };
        // Toward the other axle is forward at the rear: the wheelbase shrinks as the wheel centre goes there.
        let lengthens = match axle.end {
            End::Front => constant::<T>(1.0),
            End::Rear => constant(-1.0),
        };
        let both_axles = self.car.front.is_some() && self.car.rear.is_some();
        for (i, (parameter, _)) in self.parameters.iter().enumerate() {
            let d = delta(i);
            match *parameter {
                Parameter::Point(p, k) => drawn[p][k] += d,
                Parameter::Hole(h, k) => places[h][k] += d,
                Parameter::WheelCentre(k) => {
                    wheel.centre[k] += d;
                    if k == 0 && both_axles {
                        add(&mut figures.wheelbase, d * lengthens);
                    }
                }
                Parameter::LoadedRadius => wheel.loaded_radius += d,
                Parameter::Toe => wheel.toe += d,
                Parameter::Camber => wheel.camber += d,
                Parameter::Wheelbase => add(&mut figures.wheelbase, d),
                Parameter::CgHeight => add(&mut figures.cg_height, d),
                Parameter::BrakeShare => add(&mut figures.brake_front_share, d),
                Parameter::DriveShare => figures.drive_front_share += d,
            }
        }
        let mut points = drawn.clone();
        for hole in holes {
            if let (Some(hole), Some(place)) = (axle.holes.get(*hole), places.get(*hole)) {
                points[hole.point] = *place;
            }
        }
        Inputs { points, drawn, wheel, figures }
    }

    /// The inputs as surveyed.
    pub fn nominal(&self, holes: &[usize]) -> Inputs<f64> {
        self.inputs(holes, |_| 0.0)
    }

    /// The inputs with a unit derivative by one parameter.
    pub fn seeded(&self, holes: &[usize], parameter: usize) -> Inputs<Dual64> {
        self.inputs(holes, |i| Dual64::new(0.0, if i == parameter { 1.0 } else { 0.0 }))
    }

    /// The corner made of some inputs.
    ///
    /// # Errors
    /// If a joint cannot be built from its points.
    pub fn corner<T: Real>(&self, inputs: &Inputs<T>) -> Result<Corner<T>, BuildError> {
        Corner::new(&self.axle.scheme, &inputs.points, &inputs.wheel)
    }

    /// The corner with every link and leg of an arm as a rod of its own, so that each has a length, and nothing
    /// mounted. The wheel moves as in [`Self::corner`].
    ///
    /// # Errors
    /// If a joint cannot be built from its points.
    pub fn corner_of_rods<T: Real>(&self, inputs: &Inputs<T>) -> Result<Corner<T>, BuildError> {
        Corner::new(&self.rods, &inputs.points, &inputs.wheel)
    }

    /// The name of a parameter as people know it.
    pub fn parameter_name(&self, parameter: Parameter) -> String {
        let axes = ["x", "y", "z"];
        let axis = |k: usize| axes.get(k).copied().unwrap_or("?");
        match parameter {
            Parameter::Point(p, k) => {
                format!("{} of {}", axis(k), self.axle.scheme.points.get(p).map_or("?", String::as_str))
            }
            Parameter::Hole(h, k) => {
                format!("{} of hole {}", axis(k), self.axle.holes.get(h).map_or("?", |h| h.name.as_str()))
            }
            Parameter::WheelCentre(k) => format!("{} of the wheel centre", axis(k)),
            Parameter::LoadedRadius => "loaded radius".into(),
            Parameter::Toe => "toe".into(),
            Parameter::Camber => "camber".into(),
            Parameter::Wheelbase => "wheelbase".into(),
            Parameter::CgHeight => "height of the centre of gravity".into(),
            Parameter::BrakeShare => "front share of braking".into(),
            Parameter::DriveShare => "front share of the drive".into(),
        }
    }
}

fn parameters(car: &Car, axle: &Axle) -> Vec<(Parameter, f64)> {
    let mut list = Vec::new();
    for (i, p) in axle.points.iter().enumerate() {
        list.extend((0..3).map(|k| (Parameter::Point(i, k), p.uncertainty[k])));
    }
    for (i, h) in axle.holes.iter().enumerate() {
        list.extend((0..3).map(|k| (Parameter::Hole(i, k), h.at.uncertainty[k])));
    }
    let wheel = &axle.wheel;
    list.extend((0..3).map(|k| (Parameter::WheelCentre(k), wheel.centre.uncertainty[k])));
    list.push((Parameter::LoadedRadius, wheel.loaded_radius.uncertainty));
    list.push((Parameter::Toe, wheel.toe.uncertainty));
    list.push((Parameter::Camber, wheel.camber.uncertainty));
    let other = match axle.end {
        End::Front => &car.rear,
        End::Rear => &car.front,
    };
    let uncertainty = |v: &Option<Value>| v.map_or(0.0, |v| v.uncertainty);
    let wheelbase =
        other.as_ref().map_or_else(|| uncertainty(&car.wheelbase), |o| o.wheel.centre.uncertainty.x);
    list.push((Parameter::Wheelbase, wheelbase));
    list.push((Parameter::CgHeight, uncertainty(&car.cg_height)));
    list.push((Parameter::BrakeShare, uncertainty(&car.brake_front_share)));
    list.push((Parameter::DriveShare, car.drive_front_share.uncertainty));
    list.retain(|(_, u)| *u > 0.0);
    list
}

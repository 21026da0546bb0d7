//! The values that the construction lines carry. They are those of `suspension`: nothing is measured off the
//! drawing.

use nalgebra::Vector3;
use project::model::{Axle, Car, Driven, Mounting};
use suspension::{AxleEnd, AxleState, Measures, RollCentre, TorqueReaction, anti, slope};

/// Beyond this distance an instant centre is not placed \[m\]: its lines run parallel for the eye.
const FARTHEST_CENTRE: f64 = 30.0;

/// What the construction lines are made from.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Travel of the left wheel \[m\], jounce positive.
    pub travel: f64,
    /// Travel of the right wheel \[m\].
    pub travel_right: f64,
    /// Body roll \[rad\].
    pub roll: f64,
    /// Toe of the left wheel \[rad\].
    pub toe: f64,
    /// Camber of the left wheel \[rad\].
    pub camber: f64,
    /// Rise of the line from the contact point to the side-view instant centre, per length toward the other axle.
    pub contact_slope: f64,
    /// The same of the line from the wheel centre.
    pub hub_slope: f64,
    /// Side-view instant centre \[m\], in the plane of the contact point.
    pub side_centre: Option<Vector3<f64>>,
    /// Horizontal distance from the contact point to it \[m\], positive toward the other axle; infinite where the
    /// wheel moves without turning.
    pub side_arm: f64,
    /// Front-view instant centres of the left and right wheel \[m\].
    pub front_centres: [Option<Vector3<f64>>; 2],
    /// Where the two front-view lines meet.
    pub roll_centre: Option<RollCentre>,
    /// Anti-dive or anti-lift under the brakes.
    pub braking: Option<Anti>,
    /// Anti-squat or anti-lift under power.
    pub driving: Option<Anti>,
    /// The outer balls, lower and upper \[m\], where the kind has both.
    pub steering_axis: Option<(Vector3<f64>, Vector3<f64>)>,
}

/// An anti-feature and the line that shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Anti {
    /// Its name, such as `anti-squat`.
    pub name: &'static str,
    /// Its value \[-\].
    pub value: f64,
    /// The line that it goes with.
    pub through: Through,
    /// What to print in place of the plain value, such as `62 ± 7 %` from the choice table.
    pub text: Option<String>,
}

/// Which line an anti-feature goes with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Through {
    /// From the contact point: the upright reacts the torque.
    Contact,
    /// From the wheel centre: the body reacts the torque.
    Hub,
}

impl Figures {
    pub(crate) fn new(car: &Car, axle: &Axle, left: &Measures<f64>, right: &Measures<f64>) -> Self {
        let end = AxleEnd::from(axle.end);
        let toward = if end == AxleEnd::Front { -1.0 } else { 1.0 };
        let road = (right.contact.z - left.contact.z).atan2(left.contact.y + right.contact.y);
        let state = AxleState { left: *left, right: *right, roll: road, rack: 0.0 };
        let turning = left.side_view_turning();
        let anti_of = |name, share: Option<f64>, reaction| {
            let value = anti(share?, slope(left, end, reaction), car.wheelbase?.value, car.cg_height?.value);
            let through = if reaction == TorqueReaction::Upright { Through::Contact } else { Through::Hub };
            value.is_finite().then_some(Anti { name, value, through, text: None })
        };
        let share = |front: f64| if end == AxleEnd::Front { front } else { 1.0 - front };
        let reaction = |mounting| match mounting {
            Mounting::Outboard => TorqueReaction::Upright,
            Mounting::Inboard => TorqueReaction::Body,
        };
        let driven = match car.driven {
            Driven::All => true,
            Driven::Front => end == AxleEnd::Front,
            Driven::Rear => end == AxleEnd::Rear,
        };
        let (braking, driving) = match end {
            AxleEnd::Front => ("anti-dive", "anti-lift"),
            AxleEnd::Rear => ("anti-lift", "anti-squat"),
        };
        Self {
            travel: left.travel,
            travel_right: right.travel,
            roll: road,
            toe: left.toe,
            camber: left.camber,
            contact_slope: slope(left, end, TorqueReaction::Upright),
            hub_slope: slope(left, end, TorqueReaction::Body),
            side_centre: side_centre(left),
            side_arm: toward / turning,
            front_centres: [front_centre(left), front_centre(right).map(super::build::mirror)],
            roll_centre: state.roll_centre(),
            braking: anti_of(braking, car.brake_front_share.map(|v| share(v.value)), reaction(axle.brakes)),
            driving: driven
                .then(|| {
                    anti_of(driving, Some(share(car.drive_front_share.value)), reaction(axle.final_drive))
                })
                .flatten(),
            steering_axis: None,
        }
    }
}

/// Where a point of the upright in the plane of the contact point stands still in side view: from
/// `v_x + w_y r_z = 0` and `v_z - w_y r_x = 0`.
fn side_centre(m: &Measures<f64>) -> Option<Vector3<f64>> {
    let (v, w) = (&m.contact_velocity, &m.spin_of_upright);
    near(m, Vector3::new(v.z / w.y, 0.0, -v.x / w.y))
}

/// The same in front view: `v_y - w_x r_z = 0` and `v_z + w_x r_y = 0`.
fn front_centre(m: &Measures<f64>) -> Option<Vector3<f64>> {
    let (v, w) = (&m.contact_velocity, &m.spin_of_upright);
    near(m, Vector3::new(0.0, -v.z / w.x, v.y / w.x))
}

fn near(m: &Measures<f64>, away: Vector3<f64>) -> Option<Vector3<f64>> {
    (away.norm() < FARTHEST_CENTRE).then(|| m.contact + away)
}

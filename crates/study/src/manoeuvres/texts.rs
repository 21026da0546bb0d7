//! What there is to say about each figure of the manoeuvres.

use project::model::Car;

use super::Choice;
use crate::quantity::About;

const MODEL: &str = "the whole car in motion, fourteen freedoms on its linkages (own arrangement; docs/theory-vehicle.md), tyres with \
                     relaxation (H. Pacejka (2006), ch. 7, remembered)";
const TURN_IN: &str =
    "ISO 7975 (remembered): brakes in a turn, steering held, first second; the whole car in motion";
const STEPPED: &str = "ISO 7401 (remembered): step of the steering, times from where it stands half way; the whole car in motion";
const STEADY: &str = "ISO 4138 (remembered): steady turn; the whole car in steady motion";

pub(super) const PITCH: About = About {
    title: "greatest pitch",
    definition: "greatest pitch of the body on the way, nose down",
    formula: "max of pitch over time",
    source: MODEL,
    does: "It says what an anti-feature does to the attitude as the stop begins, not only at its end",
    does_not: "Dampers beyond their two rates are not in it",
};

pub(super) const REAR_LEAST: About = About {
    title: "least load on the rear wheels",
    definition: "least load that both rear wheels together have on the way",
    formula: "min of F_z over time",
    source: MODEL,
    does: "It says how near the rear comes to locking for a moment",
    does_not: "A rough road takes away more",
};

pub(super) const MEAN: About = About {
    title: "mean deceleration",
    definition: "by speed and way of what was followed",
    formula: "(v0^2 - v1^2)/(2 s)",
    source: MODEL,
    does: "It confirms the stated stop with wheels that slip",
    does_not: "The brakes' own fading is not in it: Stop has the heat",
};

pub(super) const GREATEST: About = About {
    title: "greatest deceleration",
    definition: "greatest deceleration of the centre of gravity on the way",
    formula: "max of -dv/dt",
    source: MODEL,
    does: "It stands above the mean by what the body's pitching adds",
    does_not: "It is no more grip",
};

pub(super) const YAW_RATIO: About = About {
    title: "yaw rate over the circle's",
    definition: "yaw rate one second after the brakes over that of the first circle at the speed then",
    formula: "psi'(1 s) R / v(1 s)",
    source: TURN_IN,
    does: "At one the car stays on its circle; above it turns in under the brakes, below it runs wide",
    does_not: "The driver does nothing here: on the road he corrects",
};

pub(super) const SIDE_SLIP: About = About {
    title: "change of side slip",
    definition: "greatest change of the side-slip angle within one second of the brakes; below zero the tail comes out",
    formula: "extreme of beta(t) - beta(0)",
    source: TURN_IN,
    does: "It says how much the tail moves when the driver is frightened into the brakes",
    does_not: "A change of a degree or two is any car's",
};

pub(super) const OUTSIDE: About = About {
    title: "outside its circle",
    definition: "how far the centre of gravity is outside the first circle after one second; below zero inside",
    formula: "distance from the circle's middle - R",
    source: TURN_IN,
    does: "It says how much road the car takes",
    does_not: "The driver does nothing here: on the road he corrects",
};

pub(super) const RISE: About = About {
    title: "yaw rate there in",
    definition: "time from where the steering stands half way to nine tenths of the steady yaw rate",
    formula: "t(0.9 psi'_steady) - t(half steer)",
    source: STEPPED,
    does: "It says how soon the car answers",
    does_not: "Play and wind-up of the steering come on top",
};

pub(super) const ACROSS_RISE: About = About {
    title: "lateral acceleration there in",
    definition: "time from where the steering stands half way to nine tenths of the steady lateral acceleration",
    formula: "t(0.9 a_y) - t(half steer)",
    source: STEPPED,
    does: "It says how soon the car goes where it points",
    does_not: "Play and wind-up of the steering come on top",
};

pub(super) const OVERSHOOT: About = About {
    title: "yaw rate beyond the steady one",
    definition: "greatest yaw rate over the steady one, less one",
    formula: "psi'_max/psi'_steady - 1",
    source: STEPPED,
    does: "Much of it is a car that has to be caught",
    does_not: "None at all may be a car that answers late",
};

pub(super) const STEP_SLIP: About = About {
    title: "side slip in the end",
    definition: "steady side-slip angle at the centre of gravity",
    formula: "beta, mean of the last fifth",
    source: STEPPED,
    does: "Below zero the nose points into the turn",
    does_not: "It hangs on speed more than on the car",
};

pub(super) const UNDERSTEER: About = About {
    title: "understeer gradient",
    definition: "road-wheel angle beyond that of the circle, per lateral acceleration; above zero the car needs more",
    formula: "d(delta - L/R)/d a_y between 1 and 3 m/s^2",
    source: STEADY,
    does: "It is the balance of everyday bends, linkage steer and all",
    does_not: "At the limit the row below counts",
};

pub(super) const ROLL: About = About {
    title: "roll per lateral acceleration",
    definition: "roll of the body on the road",
    formula: "d phi/d a_y",
    source: STEADY,
    does: "It confirms bars and springs with the tyres' own give",
    does_not: "Stops that are met further out change it",
};

pub(super) const TURN_SLIP: About = About {
    title: "side slip per lateral acceleration",
    definition: "side-slip angle at the centre of gravity",
    formula: "d beta/d a_y",
    source: STEADY,
    does: "Small is a rear that stays behind the front",
    does_not: "It hangs on the rear tyres more than on the links",
};

pub(super) const MOST: About = About {
    title: "greatest lateral acceleration",
    definition: "kept for half a second while the steering is turned slowly at one speed",
    formula: "max over time of min over 0.5 s",
    source: STEADY,
    does: "It is the car's own limit in a steady turn, with slip, roll and linkage",
    does_not: "Tyres that heat up have less of it",
};

pub(super) const ENDS: About = About {
    title: "which end lets go",
    definition: "what ended the growth of lateral acceleration",
    formula: "front: the curvature falls behind the steering; rear: the car spins",
    source: STEADY,
    does: "It says what the driver feels first",
    does_not: "A bump or the throttle may make it the other one",
};

pub(super) fn notes(car: &Car, list: &[Choice], draws: usize) -> Vec<String> {
    let mut notes = vec![
        "Each car moves on its own linkages, springs, stops, bars and dampers, with tyres that take a way to build up their \
         force. Links and body are rigid, the road is level, left and right brakes are alike. The standards are named as \
         remembered: their own text decides how they are driven and written down."
            .to_string(),
    ];
    if list.iter().any(|c| c.samples.len() > 1) {
        notes.push(format!(
            "± is the spread of {draws} samples of everything uncertain in the file, the same ones for every choice: itself good to \
             about {:.0} %. The growing turn is driven by the nominal car alone.",
            100.0 / (2.0 * (draws.max(2) - 1) as f64).sqrt()
        ));
    }
    let estimated = crate::whole::WholeCar::new(car).is_ok_and(|whole| whole.estimated_inertia());
    if estimated {
        notes.push(
            "An inertia is estimated from the car's size: how soon it turns is as uncertain as that is (`[weigh.inertia]`)."
                .into(),
        );
    }
    notes
}

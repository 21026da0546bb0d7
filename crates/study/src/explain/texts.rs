//! The words of every quantity.

use suspension::AxleEnd;

use crate::quantity::{About, Quantity};

const PHYSICS: &str = "virtual work on the upright's own motion; the side-view drawing gives the same number \
                       (T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 7; from memory)";
const GEOMETRY: &str =
    "ISO 8855:2011 axes and signs (from memory); exact derivative from the linkage's screw";

const STEADY: &str = "It does not change how much load goes from the rear tyres to the front in a steady stop: that is \
                      m a h / L whatever the links. It says nothing of fatigue or strength, and it holds at the \
                      stated travel only";

const STEADY_DRIVE: &str = "It does not change how much load goes from the front tyres to the rear under steady \
                            power: that is m a h / L whatever the links. It says nothing of fatigue or strength, \
                            and it holds at the stated travel only";

/// What there is to say about a quantity at an axle.
pub(crate) fn about(quantity: Quantity, end: AxleEnd) -> About {
    let front = end == AxleEnd::Front;
    match quantity {
        Quantity::InStop(which) => crate::in_stop::about(which),
        Quantity::Built(which) => crate::build::about(which),
        Quantity::Lap(which) => crate::drive::in_table::about(which),
        Quantity::AntiBraking => About {
            title: if front { "anti-dive under the brakes" } else { "anti-lift under the brakes" },
            definition: "the share of the load transfer at this axle that the links carry instead of the springs \
                         while braking steadily",
            formula: "p b L / h with brakes at the wheel; p d L / h with brakes on the body",
            source: PHYSICS,
            does: if front {
                "Keeps the nose up under the brakes, and with it ride height, camber and toe; the load reaches \
                 the front tyres sooner after the pedal moves"
            } else {
                "Keeps the tail down under the brakes, and with it ride height, camber and toe; the load leaves \
                 the rear tyres sooner after the pedal moves. Much of it means a short or steep side-view arm: \
                 caster wind-up, harshness over bumps under the brakes, brake hop"
            },
            does_not: STEADY,
        },
        Quantity::AntiDriving => About {
            title: if front { "anti-lift under power" } else { "anti-squat under power" },
            definition: "the share of the load transfer at this axle that the links carry instead of the springs \
                         while accelerating steadily",
            formula: "s d L / h with half-shafts from a final drive on the body; s b L / h where the axle carries \
                      its final drive",
            source: PHYSICS,
            does: if front {
                "Keeps the nose down under power"
            } else {
                "Keeps the tail up under power; the load reaches the rear tyres sooner after the throttle opens"
            },
            does_not: STEADY_DRIVE,
        },
        Quantity::SideViewArm => About {
            title: "side-view arm",
            definition: "horizontal distance from the contact point to the side-view instant centre, positive \
                         toward the other axle: the arm on which the wheel seems to swing, seen from the side",
            formula: "v_z / w_y at the rear, -v_z / w_y at the front; v of the contact point, w of the upright",
            source: GEOMETRY,
            does: "A short arm turns the upright much for little travel: caster and the brake torque change fast, \
                   and the wheel hops more readily under the brakes",
            does_not: "A long or endless arm is normal, not a fault: then look at the slope",
        },
        Quantity::SideViewAngle => About {
            title: "side-view angle",
            definition: "angle to the road of the line from the contact point to the side-view instant centre, \
                         positive rising toward the other axle",
            formula: "atan(b), b = -v_x/v_z (rear) or +v_x/v_z (front) of the upright-fixed contact point",
            source: GEOMETRY,
            does: "Together with brake share, wheelbase and height of the centre of gravity it makes the \
                   anti-feature",
            does_not: "It is not the angle of any one link: the links' lines in the wheel's own plane decide",
        },
        Quantity::Recession => About {
            title: "recession",
            definition: "rearward motion of the wheel centre as the wheel goes into jounce",
            formula: "-v_x / v_z of the wheel centre",
            source: GEOMETRY,
            does: "A wheel that gives rearward rides over an edge; one that moves forward into it is harsh",
            does_not: "It leaves out the give of the bushes, which is often larger",
        },
        Quantity::BumpSteer => About {
            title: "bump steer",
            definition: "change of toe with travel, toe-in positive",
            formula: "d(toe)/dz = (s_x' s_y - s_x s_y') / (s_x^2 + s_y^2), s' = w x s",
            source: GEOMETRY,
            does: "At the rear, toe-in in jounce steadies the car in roll; much of it makes it wander on bumps",
            does_not: "It is the slope at this travel: the curve may bend, so look at toe at the stated travels",
        },
        Quantity::CamberGain => About {
            title: "camber gain",
            definition: "change of camber with travel, top outward positive; negative keeps the outer tyre upright \
                         in roll",
            formula: "d(camber)/dz = -s_z' / sqrt(1 - s_z^2), s' = w x s",
            source: GEOMETRY,
            does: "Holds the outer tyre to the road in roll; costs tread on the straight and under the brakes",
            does_not: "It is the slope at this travel, relative to the body, not to the road",
        },
        Quantity::RollCentre => About {
            title: "roll centre height",
            definition: "height above the road of the point at which a lateral force on the body makes no roll, \
                         both wheels at the same travel",
            formula: "(t/2) v_y / v_z of the upright-fixed contact point",
            source: "SAE J670e (1976) definition (from memory); the front-view drawing gives the same point",
            does: "The higher it is, the more of the lateral load goes through links (at once) instead of springs \
                   and bar (with roll); a high one lifts the body in a corner",
            does_not: "In roll it moves, sideways too: use the roll sweep, and mistrust it where the lines near \
                       parallel",
        },
        Quantity::RollSteer => About {
            title: "roll steer",
            definition: "toe-in of the wheel in jounce per angle of body roll, wheels moving equally and \
                         oppositely",
            formula: "d(toe)/dz (t/2) / z', z' the rise of the contact point per wheel-centre travel",
            source: GEOMETRY,
            does: if front {
                "Toe-in of the outer front wheel in roll adds steer: toward oversteer"
            } else {
                "Toe-in of the outer rear wheel in roll takes steer away: toward understeer, steadier"
            },
            does_not: "It leaves out the give of bushes under side force",
        },
        Quantity::RollCamber => About {
            title: "roll camber",
            definition: "change of the jounce wheel's camber to the road per angle of body roll",
            formula: "1 + d(camber)/dz (t/2) / z'",
            source: GEOMETRY,
            does: "1: the wheel leans as much as the body; 0: it stays upright",
            does_not: "It leaves out the give of the tyre and bushes",
        },
        Quantity::TrackChange => About {
            title: "half-track change",
            definition: "outward motion of the lowest point of the wheel with travel",
            formula: "y' of C - R e",
            source: GEOMETRY,
            does: "The tyre slides sideways over every bump by this much: it costs grip and steadiness",
            does_not: "A tyre gives a little sideways before it slides",
        },
        Quantity::Toe => About {
            title: "toe",
            definition: "angle of the wheel to the car's long axis, seen from above, toe-in positive, per wheel",
            formula: "atan2(s_x, s_y), s the spin axis out of the car",
            source: GEOMETRY,
            does: "Toe-in at the rear steadies; toe-out at the front quickens the turn-in",
            does_not: "It leaves out the give of bushes under load",
        },
        Quantity::Camber => About {
            title: "camber",
            definition: "lean of the wheel to the car's upright axis, top outward positive",
            formula: "-asin(s_z), s the spin axis out of the car",
            source: GEOMETRY,
            does: "A few degrees negative on the outer wheel suit a racing tyre in a corner",
            does_not: "It is relative to the body, not to the road",
        },
        Quantity::MotionRatio(_) => About {
            title: "motion ratio",
            definition: "shortening of the spring, damper or bar link per wheel-centre travel",
            formula: "MR = -dL/dz",
            source: "definition; exact derivative from the linkage's screw",
            does: "Springs and dampers act at the wheel with its square",
            does_not: "Some write it the other way up: wheel travel per spring travel",
        },
        Quantity::WheelRate(_) => About {
            title: "wheel rate",
            definition: "vertical force at the wheel centre per travel that the spring alone makes, with F its force at \
                         ride height also at other travels",
            formula: "k MR^2 + F dMR/dz",
            source: "derivative of F MR by travel (virtual work)",
            does: "With the tyre's rate and the mass on it, it sets ride frequency",
            does_not: "The second term needs the spring's force at ride height; bars, bushes and the tyre are apart",
        },
    }
}

//! What there is to say about each result of a stop, and what is assumed.

use vehicle::tyre::{Question, Tyre};

use crate::quantity::About;
use crate::whole::{Whole, WholeCar};

const STATICS: &str = "statics of the car as one body on two axles: T. D. Gillespie, Fundamentals of Vehicle Dynamics (1992), \
                       ch. 3 (remembered); the same curves in UN R13-H, annex 5 (wording read)";

const HYDRAULICS: &str = "R. Limpert, Brake Design and Safety (2nd ed. 1999), ch. 5 (remembered): pressure is force over \
                          area, torque is clamp times twice the friction times the effective radius";

const HEAT: &str = "R. Limpert, Brake Design and Safety (2nd ed. 1999), ch. 3 (remembered): one lump, convection of a \
                    turning disc, radiation";

pub(super) const GREATEST: About = About {
    title: "greatest deceleration before a wheel locks",
    definition: "the deceleration at which the first axle uses all of its tyres' grip, straight ahead on an even road",
    formula: "the least deceleration at which F_i = mu_i(F_zi) F_zi, with F_z by m a h / L and air",
    source: STATICS,
    does: "It is what a driver at the verge can have; with downforce it falls with the speed",
    does_not: "It knows no bumps, no wet, no warm-up and no driver: a real stop is a tenth or two below",
};

pub(super) const FIRST_LOCK: About = About {
    title: "which axle locks first",
    definition: "the axle whose use of grip is one first as the pedal goes down",
    formula: "front if F_f / (mu_f F_zf) > F_r / (mu_r F_zr) there",
    source: STATICS,
    does: "Front first goes straight on and can be let off; rear first turns the car round",
    does_not: "Left and right are taken alike: a turn or a split road locks the light side before",
};

pub(super) const PEDAL: About = About {
    title: "pedal force",
    definition: "force of the foot on the pedal",
    formula: "p = F ratio efficiency share / A_master; torque from pressure; solved for the force",
    source: HYDRAULICS,
    does: "A leg gives 300 to 700 N with feeling (common practice)",
    does_not: "No booster, no flexing pedal box, no hose that swells: those make it longer, not much heavier",
};

pub(super) const FRONT_SHARE: About = About {
    title: "front share of the braking, actual",
    definition: "braking force of the front tyres over that of all",
    formula: "F_f / (F_f + F_r)",
    source: HYDRAULICS,
    does: "Above the ideal share the front locks first",
    does_not: "It moves with pad temperature, and with a valve also with the pedal",
};

pub(super) const IDEAL_SHARE: About = About {
    title: "front share, ideal",
    definition: "the share that uses both axles' grip alike at this deceleration and speed",
    formula: "F_zf / (F_zf + F_zr)",
    source: STATICS,
    does: "It grows with deceleration: what is right for a hard stop is too much front for a soft one",
    does_not: "It takes both axles' tyres to be alike; where they differ the first lock above says which counts",
};

pub(super) const LOAD: About = About {
    title: "load on the axle",
    definition: "vertical force of the road on both tyres of the axle in the stop",
    formula: "W_i +- m a h / L +- drag x its height / L + downforce",
    source: STATICS,
    does: "It sets the grip. The links do not change it: they change how the body stands and how fast load arrives",
    does_not: "It takes the height of the centre of gravity at ride height; the dive lowers it a little",
};

pub(super) const FORCE: About = About {
    title: "braking force",
    definition: "longitudinal force of both tyres of the axle",
    formula: "torque of both brakes / loaded radius, for m a less drag",
    source: HYDRAULICS,
    does: "It loads links, pickups and beam: see the forces in the links",
    does_not: "It is what the brakes ask for; a locked tyre gives less",
};

pub(super) const USE: About = About {
    title: "use of grip",
    definition: "braking force over load: the friction that the tyre would need at least",
    formula: "f_i = F_i / F_zi",
    source: STATICS,
    does: "The axle with more of it locks first on an even road",
    does_not: "What the tyre has is another matter: the reserve below knows",
};

pub(super) const RESERVE: About = About {
    title: "side force that the axle can still make",
    definition: "what the friction ellipse leaves for steering and for catching the tail while braking so",
    formula: "mu_y F_z sqrt(1 - (F_x / (mu_x F_z))^2)",
    source: "friction ellipse: W. Milliken & D. Milliken, Race Car Vehicle Dynamics (1995), ch. 2 (remembered)",
    does: "The rear's reserve is what holds the tail straight",
    does_not: "It is the most there is, not what comes at a small slip angle",
};

pub(super) const PRESSURE: About = About {
    title: "line pressure at the brakes",
    definition: "pressure behind the pistons, at the rear after the valve",
    formula: "F ratio efficiency share / A_master",
    source: HYDRAULICS,
    does: "Compare with a gauge at the caliper: it checks pedal ratio, cylinders and bar in one go",
    does_not: "Lines and calipers have ratings of their own: look them up",
};

pub(super) const TORQUE: About = About {
    title: "brake torque, one wheel",
    definition: "torque of one brake on its wheel",
    formula: "calipers x (p - p_0) A x 2 mu r, A the pistons of one side",
    source: HYDRAULICS,
    does: "Outboard brakes twist the upright with it; bolts of the caliper bracket carry it",
    does_not: "Pad friction is the least sure figure on the car: a tenth up or down is usual",
};

pub(super) const DISTANCE: About = About {
    title: "distance under the brakes",
    definition: "way covered between the two speeds",
    formula: "integral of v dv / a(v), a the greatest deceleration at each speed",
    source: STATICS,
    does: "It compares one car with itself: bias, tyres, mass, wing",
    does_not: "Nobody brakes at the verge of locking from the first metre to the last",
};

pub(super) const TIME: About = About {
    title: "time under the brakes",
    definition: "time between the two speeds",
    formula: "integral of dv / a(v)",
    source: STATICS,
    does: "With the distance it says what a change is worth",
    does_not: "The time until the foot is down is not in it",
};

pub(super) const MEAN: About = About {
    title: "mean deceleration over the way",
    definition: "the even deceleration that would cover the same way",
    formula: "(v_1^2 - v_2^2) / (2 s)",
    source: "definition, as the mean fully developed deceleration of UN R13-H takes it over the way (remembered)",
    does: "Compare with the logger: speeds and distance give the same figure",
    does_not: "A logger's peak is not it",
};

pub(super) const TOGETHER: About = About {
    title: "setting at which both axles lock together",
    definition: "share of the rod force on the front cylinder for which no other setting stops shorter",
    formula: "the share at which both uses of grip are one at once",
    source: STATICS,
    does: "More to the front than this is stable; less brings the tail round",
    does_not: "It is for warm tyres on this road and for pads at the air's temperature; wet wants more rear to be efficient, \
               and less to be safe: leave it at the front",
};

pub(super) const HEAT_BOUND: About = About {
    title: "one stop with all heat kept",
    definition: "temperature after one stop of a disc that gives nothing off",
    formula: "T + share m (v_1^2 - v_2^2) / (2 m_d c)",
    source: HEAT,
    does: "No disc gets hotter in one stop: mass is what helps",
    does_not: "The face is hotter than the lump for a moment",
};

pub(super) const HEAT_ONE: About = About {
    title: "highest in the first stop",
    definition: "temperature of the disc as one lump, cooling while it brakes",
    formula: "m_d c dT/dt = P(t) - A (h(v) (T - T_air) + eps sigma (T^4 - T_air^4))",
    source: HEAT,
    does: "The step of one stop",
    does_not: "An estimate: see the caution",
};

pub(super) const HEAT_MANY: About = About {
    title: "highest in the sequence",
    definition: "temperature of the disc at the hottest moment of the stated stops",
    formula: "m_d c dT/dt = P(t) - A (h(v) (T - T_air) + eps sigma (T^4 - T_air^4))",
    source: HEAT,
    does: "Pads and fluid have limits: compare with theirs",
    does_not: "An estimate: see the caution",
};

const MOTION: &str = "equations of motion of the car in the pitch plane (own derivation, docs/theory-vehicle.md), checked \
                      against SciPy";

pub(super) const SETTLED: About = About {
    title: "rear load settled after",
    definition: "time from the first touch of the pedal until the rear load stays within 5 % of its change of the end",
    formula: "equations of motion, integrated",
    source: MOTION,
    does: "Until then the rear's grip comes and goes",
    does_not: "It knows no bumps and no driver who squeezes the pedal",
};

pub(super) const HOP_FREQUENCY: About = About {
    title: "hop of the rear wheels in the stop",
    definition: "frequency of the mode that moves the rear wheels most, about the steady stated stop",
    formula: "eigenvalues of the linearised equations of motion",
    source: MOTION,
    does: "Bumps in the road at this rate shake the wheels most",
    does_not: "It leaves out bushes and the wind-up of shafts",
};

pub(super) const HOP_FREE: About = About {
    title: "damping of that hop off the brakes",
    definition: "damping ratio of the same mode at the same speed without braking",
    formula: "eigenvalues of the linearised equations of motion",
    source: MOTION,
    does: "Against the one under the brakes it says what braking does to the hop",
    does_not: "It leaves out bushes and the wind-up of shafts",
};

pub(super) const HOP_MARGIN: About = About {
    title: "margin of the rear hop",
    definition: "factor by which the brakes of the stated stop may go on harder, front and rear alike, before the hop of the \
                 rear wheels no longer dies away or a wheel locks, whichever comes first",
    formula: "torque at which the damping ratio is zero, or the axle slides, over the torque of the stated stop",
    source: MOTION,
    does: "Above 1 there is room: the words below say what ends it",
    does_not: "It leaves out bushes, shafts and pads that grab, from which judder comes",
};

/// What is assumed, and what to beware of.
pub(super) fn notes(car: &WholeCar, whole: &Whole) -> Vec<String> {
    let mut notes = Vec::new();
    let stop = &car.car().stop;
    if !stop.stated {
        notes.push("The file states no stop: `[stop]` with `from`, `to` and `deceleration` says which one to look at.".into());
    }
    if whole.system.is_some() && whole.system.as_ref().is_some_and(|s| s.valve.is_none()) {
        notes.push(
            "No valve in the rear line: the share of the braking is the same at any pedal force.".into(),
        );
    }
    notes.push(
        "Pads are at the air's temperature for all that is not about heat, and brakes act at once.".into(),
    );
    notes.push("Straight ahead, left and right alike, an even dry road.".into());
    let simple = whole.axles.iter().any(|axle| matches!(axle.tyre, Some(Tyre::Simple(_))));
    if simple {
        let cannot: Vec<&str> = Question::ALL
            .into_iter()
            .filter_map(|q| whole.axles.iter().find_map(|a| a.tyre.as_ref()?.cannot_answer(q)))
            .collect();
        notes.push(format!("A tyre by a handful of figures: {}.", cannot.join("; ")));
    }
    notes.push(
        "Brakes are tried step by step, on an empty place, away from people, and by someone who has the right to. A change to \
         the brakes must be checked by a licensed engineer and satisfy local road law."
            .into(),
    );
    notes
}

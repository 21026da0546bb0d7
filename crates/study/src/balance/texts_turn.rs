//! The words of understeer, limits, response, freeing and holes.

use crate::quantity::About;

const HANDLING: &str = "ISO 8855 (understeer gradient) and ISO 4138 (steady circular test), from memory; single track (T. D. \
                        Gillespie, 1992, ch. 6; J. Wong, Theory of Ground Vehicles, ch. 5; from memory)";
const RESPONSE: &str = "single track about the trimmed state at this steady speed, with air and drive (T. D. Gillespie, 1992, \
                        ch. 6; from memory)";
const CHANGES: &str = "W. Milliken & D. Milliken, 1995, ch. 7 and 12 (directions, from memory); each change worked out anew (own)";
const HOLES: &str = "the whole worked out anew with the hole (own)";

pub(super) const UNDERSTEER: About = About {
    title: "understeer gradient",
    definition: "rise of the steering angle of the road wheels per lateral acceleration beyond what the bend itself asks, straight ahead",
    formula: "K = m/L (b/C_f - a/C_r), steering angle = L/R + K a_y",
    source: HANDLING,
    does: "Positive understeers, negative oversteers. 1 to 3 deg/g is a common road car, near zero a lively one (common practice)",
    does_not: "Tyres at standing loads alone: no roll steer (its own row), no give of steering and bushes, which often add a degree per g, no camber, toe, air",
};

pub(super) const UNDERSTEER_STATED: About = About {
    title: "understeer gradient in the turn",
    definition: "the same slope with each tyre's stiffness at its load in the turn of the tables",
    formula: "m_f/C_f - m_r/C_r, C of outer and inner tyre at their loads",
    source: HANDLING,
    does: "How load transfer shifts the balance well below the limit: this is where bars and springs act",
    does_not: "The tyres' own fall of slope with slip is left out here; the chart of the steering has it",
};

pub(super) const ROLL_STEER: About = About {
    title: "roll steer's part",
    definition: "what the links' toe change in lean adds to the gradient",
    formula: "(e_r - e_f) d(roll)/d(a_y), e toe-in of the jounce wheel per lean of its springs",
    source: "T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 6 (from memory)",
    does: "Toe-in of the outer rear wheel in lean steadies and may hide a free set of tyres; add it to the gradient",
    does_not: "It is the slope at ride height with the rack held; it comes with the lean, so later than the tyres' part",
};

pub(super) const MARGIN: About = About {
    title: "static margin",
    definition: "how far the neutral point lies behind the centre of gravity, as a share of the wheelbase",
    formula: "(b C_r - a C_f)/(L (C_f + C_r))",
    source: HANDLING,
    does: "Positive: a side gust at the centre of gravity turns the car away from it, and it comes back",
    does_not: "At a steady speed and standing loads; brakes and air shift it: see the map",
};

pub(super) const CHARACTERISTIC: About = About {
    title: "characteristic speed",
    definition: "speed at which an understeering car answers the steering most",
    formula: "sqrt(L/K), K > 0",
    source: HANDLING,
    does: "Low: steady but dull at speed; high: lively",
    does_not: "It has no meaning for an oversteering car, and little where the gradient is nearly zero",
};

pub(super) const CRITICAL: About = About {
    title: "critical speed",
    definition: "speed beyond which an oversteering car diverges",
    formula: "sqrt(L/-K), K < 0",
    source: HANDLING,
    does: "Beyond it the smallest disturbance grows unless it is steered against",
    does_not: "Reached sooner under the brakes: see the maps. Linear tyres: a small disturbance only",
};

pub(super) const LIMIT: About = About {
    title: "lateral limit of the axle",
    definition: "lateral acceleration at which the axle's two tyres, at their loads after transfer, give all their side force",
    formula: "m_i a = mu(N_outer) N_outer + mu(N_inner) N_inner",
    source: "W. Milliken & D. Milliken, 1995, ch. 7 (from memory); worked out anew (own arrangement)",
    does: "The car's limit is the lower one; how far the other is above it is what is left to play with",
    does_not: "No drive or brake force, camber, air or bumps; friction on your road is the least sure figure. Their difference is surer than either, for much of the ± is shared",
};

pub(super) const FIRST: About = About {
    title: "gives up first",
    definition: "the axle with the lower limit",
    formula: "the lower of both",
    source: "W. Milliken & D. Milliken, 1995, ch. 7 (from memory)",
    does: "Front: the car runs wide at the limit; rear: it turns round",
    does_not: "Under power or brakes it may be the other one",
};

pub(super) const YAW_GAIN: About = About {
    title: "yaw gain, deg/s per deg",
    definition: "steady yaw rate per steering angle of the road wheels",
    formula: "v/(L + K v^2)",
    source: RESPONSE,
    does: "High: a small motion of the hand turns the car fast",
    does_not: "At the road wheels: divide by the steering ratio for the hand wheel. Steering give lowers it",
};

pub(super) const STEER_PER_LATERAL: About = About {
    title: "steering for lateral acceleration",
    definition: "steering angle of the road wheels per lateral acceleration in a steady bend at this speed: the inverse of the lateral acceleration gain",
    formula: "L/v^2 + K",
    source: RESPONSE,
    does: "Small: nervous at this speed; large: work",
    does_not: "Small lateral accelerations only; at the road wheels",
};

pub(super) const YAW_FREQUENCY: About = About {
    title: "yaw frequency",
    definition: "undamped natural frequency of yaw and sideslip",
    formula: "sqrt(det A)/(2 pi) of the single track",
    source: RESPONSE,
    does: "About 1 Hz is common; slower feels lazy, and swings with the driver's own corrections (common practice)",
    does_not: "No roll, tyre lag or steering give, which all slow it; goes with the yaw inertia, which is often an estimate",
};

pub(super) const YAW_DAMPING: About = About {
    title: "yaw damping ratio",
    definition: "damping of that mode as a share of the critical one",
    formula: "-(tr A)/(2 sqrt(det A))",
    source: RESPONSE,
    does: "Below about 0.5 the tail swings after a flick; falls with speed in an understeering car",
    does_not: "Of small disturbances about straight running; tyre lag lowers it",
};

pub(super) const YAW_RISE: About = About {
    title: "90 % rise time of the yaw rate",
    definition: "time from a sudden step of the steering to 90 % of the steady yaw rate",
    formula: "first t with r(t) = 0.9 r_ss, from the modes in closed form",
    source: "ISO 7401 (response time; from memory), the step here without its own rise of 0.15 s at most",
    does: "Short: it answers at once",
    does_not: "No tyre lag, roll or steering give: a real car is some hundredths of a second slower",
};

pub(super) const YAW_OVERSHOOT: About = About {
    title: "overshoot of the yaw rate",
    definition: "peak over steady yaw rate after that step, less one",
    formula: "max r(t)/r_ss - 1",
    source: "ISO 7401 (overshoot; from memory)",
    does: "Much of it and the car first turns more than asked, then less",
    does_not: "Linear tyres: a small step only",
};

pub(super) const HOLE_FRONT: About = About {
    title: "front roll centre",
    definition: "change of the front roll centre's height",
    formula: "(t/2) v_y/v_z, new less old",
    source: HOLES,
    does: "Up: more load through the links at the front",
    does_not: "At ride height",
};

pub(super) const HOLE_REAR: About = About {
    title: "rear roll centre",
    definition: "change of the rear roll centre's height",
    formula: "(t/2) v_y/v_z, new less old",
    source: HOLES,
    does: "Up: more load through the links at the rear: freer at the limit",
    does_not: "At ride height",
};

pub(super) const HOLE_ROLL_STEER: About = About {
    title: "roll steer's part of the gradient",
    definition: "change of what the links' toe change in lean adds to the understeer gradient",
    formula: "(e_r - e_f) d(roll)/d(a_y), new less old",
    source: HOLES,
    does: "Positive: steadier",
    does_not: "The slope at ride height; check the toe curve",
};

pub(super) const HOLE_GRADIENT: About = About {
    title: "understeer gradient in the turn",
    definition: "change of the tyres' gradient in the turn of the tables",
    formula: "m_f/C_f - m_r/C_r, new less old",
    source: HOLES,
    does: "Negative: freer below the limit",
    does_not: "Without roll steer, which has its own row",
};

pub(super) const HOLE_BALANCE: About = About {
    title: "limit's balance",
    definition: "change of the front limit less change of the rear one, each in percent of it",
    formula: "d(front)/front - d(rear)/rear",
    source: HOLES,
    does: "Positive: freer at the limit",
    does_not: "Steady turn without brakes: what a hole does under the brakes is in Stop and in the choice table",
};

/// A change's effect below the limit.
pub(super) fn freeing(title: &'static str) -> About {
    About {
        title,
        definition: "change of the understeer gradient in the turn of the tables when this alone is changed",
        formula: "m_f/C_f - m_r/C_r anew, each tyre's stiffness at its load; new less old",
        source: CHANGES,
        does: "Negative frees the car below the limit: it turns in with less steering, and is less steady at speed",
        does_not: "It says nothing of the limit: grip does not enter it. Roll steer, camber and give are left as they are",
    }
}

/// A change's effect at the limit.
pub(super) fn limits(title: &'static str) -> About {
    About {
        title,
        definition: "change of each axle's lateral limit, and of their difference, when this alone is changed; in percent of \
                     the limit as it is",
        formula: "m_i a = side force of both tyres at their loads, anew; new less old",
        source: CHANGES,
        does: "Front less rear, positive: the front holds on longer than it did, so the car is freer at the limit",
        does_not: "Tyre stiffness does not enter a limit in a steady turn: it shifts when the limit comes, not where it is. A \
                   lifted wheel ends the sums: marked",
    }
}

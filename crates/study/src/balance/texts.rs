//! The words of ride, roll, load transfer and bars.

use crate::quantity::About;

const RIDE: &str = "any text (T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 5; from memory); the motion ratio is \
                    the linkage's exact derivative";
const ROLL: &str =
    "any text (W. Milliken & D. Milliken, Race Car Vehicle Dynamics, 1995, ch. 16; from memory)";
const TRANSFER: &str = "D. Barton & J. Fieldhouse, Automotive Chassis Engineering, 2018, p. 174 (read); W. Milliken & D. \
                        Milliken, 1995, ch. 18 (from memory)";
const BARS: &str =
    "torsion and bending of bars, any text; A. Staniforth's formula is the same in inches (read, quoted)";
const CHANGES: &str = "W. Milliken & D. Milliken, 1995, ch. 7 and 12 (directions, from memory); each change worked out anew (own)";

pub(super) const SPRING_PART: About = About {
    title: "spring's part of the rate",
    definition: "force that the spring adds at the wheel per travel by its own rate",
    formula: "k MR^2, MR the spring's shortening per wheel travel",
    source: RIDE,
    does: "Carries the car over bumps; goes with the square of the motion ratio, so a mount moved a little changes it much",
    does_not: "It leaves out the bar, which acts in roll and on one wheel, and the give of rubber mounts",
};

pub(super) const GEOMETRY_PART: About = About {
    title: "geometry's part of the rate",
    definition: "force that the links add at the wheel per travel because the motion ratio changes under the spring's force",
    formula: "F dMR/dz, F what the sprung weight puts on the spring at ride height",
    source: RIDE,
    does: "Positive: the wheel gets stiffer in jounce; negative: softer, and with a heavy load on the spring noticeably so",
    does_not: "F here is from the weighed car's sprung mass, not the `force` of the file, so it may differ a little from the choice table's. It is the slope at ride height only",
};

pub(super) const WHEEL_RATE: About = About {
    title: "wheel rate",
    definition: "vertical force at the wheel per wheel travel, the tyre rigid",
    formula: "k MR^2 + F dMR/dz",
    source: RIDE,
    does: "With the sprung mass it sets how much the body dives, leans and sags",
    does_not: "It is the slope at ride height: stops and progressive springs change it with travel. Friction in bushes and damper adds to it for small motions",
};

pub(super) const RIDE_RATE: About = About {
    title: "ride rate",
    definition: "vertical force at the road per rise of the body: wheel rate and tyre one after the other",
    formula: "k_w k_t/(k_w + k_t)",
    source: RIDE,
    does: "What the body rides on",
    does_not: "A tyre's rate changes with pressure, load and speed; it is the stated one",
};

pub(super) const FREQUENCY: About = About {
    title: "ride frequency",
    definition: "undamped frequency of the body over this axle on its ride rate",
    formula: "sqrt(k_r/m_s)/(2 pi), m_s the sprung mass on the corner",
    source: RIDE,
    does: "1 to 1.5 Hz is a soft road car, 2 to 3 Hz a track car without wings (common practice)",
    does_not: "The ends are taken as independent: true where the pitch inertia is near m_s a b. The body's bending and the seat are not in it",
};

pub(super) const DAMPING: About = About {
    title: "damping ratio of the body",
    definition: "mean of bump and rebound, as a share of the damping at which the body just does not swing",
    formula: "c MR_d^2/(2 sqrt(k_w m_s)), c the mean of both coefficients, tyre rigid",
    source: RIDE,
    does: "0.2 to 0.4 is comfort, 0.5 to 0.8 control (common practice)",
    does_not: "The damper is taken as force in proportion to speed; a real one is curved, so the figure holds near the speed at which the coefficients were read",
};

pub(super) const DAMPING_BUMP: About = About {
    title: "damping ratio in bump",
    definition: "the same with the coefficient in bump alone",
    formula: "c_b MR_d^2/(2 sqrt(k_w m_s))",
    source: RIDE,
    does: "Holds the wheel against a bump's kick: much of it makes the car skip over rough ground",
    does_not: "A whole swing has both strokes: the mean is what decays",
};

pub(super) const DAMPING_REBOUND: About = About {
    title: "damping ratio in rebound",
    definition: "the same with the coefficient in rebound alone",
    formula: "c_r MR_d^2/(2 sqrt(k_w m_s))",
    source: RIDE,
    does: "Holds the body down after a bump",
    does_not: "Far more than in bump, and the car is pulled down over a row of bumps: it takes a calculation over a road, which is not in it",
};

pub(super) const HOP: About = About {
    title: "hop frequency",
    definition: "undamped frequency of the wheel between spring and tyre, the body at rest",
    formula: "sqrt((k_w + k_t)/m_u)/(2 pi)",
    source: RIDE,
    does: "At 8 to 15 Hz: rough ground and brake hop at that rate shake the wheel off the road",
    does_not: "Give of the links along the car, which brake hop needs, is not in it: see the side-view arm",
};

pub(super) const HOP_DAMPING: About = About {
    title: "damping ratio of the hop",
    definition: "damping of that motion as a share of the critical one",
    formula: "c MR_d^2/(2 sqrt((k_w + k_t) m_u))",
    source: RIDE,
    does: "Above 0.2 the wheel settles within two or three hops (common practice)",
    does_not: "The tyre's own damping is left out: a few hundredths",
};

pub(super) const DEFLECTION: About = About {
    title: "static deflection",
    definition: "how far the ride spring would sag under the sprung mass if it were straight",
    formula: "m_s g/k_r",
    source: RIDE,
    does: "Another way to say the frequency: 250 mm is 1 Hz",
    does_not: "It is not the travel in use, nor the spring's preload",
};

pub(super) const QUARTER: About = About {
    title: "body frequency with the wheel free",
    definition: "lower frequency of body and wheel together, undamped",
    formula: "lower root of m_s m_u w^4 - ((k_w + k_t) m_s + k_w m_u) w^2 + k_w k_t = 0",
    source: RIDE,
    does: "A check on the ride frequency: it lies a little below it, and far below where the wheel is heavy",
    does_not: "It has no damping and one corner alone",
};

pub(super) const ROLL_SPRINGS: About = About {
    title: "roll stiffness of the springs",
    definition: "moment of an axle against body roll per angle, from its wheel rates",
    formula: "k_w t^2/2",
    source: ROLL,
    does: "Stiffer in ride is stiffer in roll: a bar is for the rest",
    does_not: "The tyre is rigid here",
};

pub(super) const ROLL_BAR: About = About {
    title: "roll stiffness of the bar",
    definition: "moment of the bar against body roll per angle",
    formula: "k t^2 K^2, k the rate at one end, K bar-end travel per wheel travel",
    source: BARS,
    does: "Resists lean without stiffening the ride of both wheels together",
    does_not: "It stiffens one-wheel bumps, and does nothing for dive",
};

pub(super) const ROLL_STIFFNESS: About = About {
    title: "roll stiffness with tyres",
    definition: "moment of the axle per angle of lean to the road: springs and bar, then the tyres",
    formula: "k_s k_t/(k_s + k_t), k_t = (tyre rate) t^2/2",
    source: ROLL,
    does: "What the lean and the load transfer go by",
    does_not: "Bump stops and a twisting body are not in it; a soft body makes both ends share what the bars would split",
};

pub(super) const ROLL_SHARE: About = About {
    title: "share of the roll stiffness",
    definition: "part of the whole roll stiffness at this axle",
    formula: "k_i/(k_f + k_r)",
    source: ROLL,
    does: "The axle with more of it moves more load and loses grip to the other",
    does_not: "It is not the share of the load moved: roll centres and the wheels' own mass have theirs",
};

pub(super) const ROLL_AXIS: About = About {
    title: "roll centre height",
    definition: "height above the road of the point at which a side force on the body makes no lean; whole car: of the line through both, under the centre of the sprung mass",
    formula: "(t/2) v_y/v_z of the upright-fixed contact point",
    source: "virtual work on the upright's own motion; SAE J670e (1976) definition (from memory)",
    does: "The higher it is, the more load moves through the links at once, and the less the body leans",
    does_not: "It moves as the car leans; one sum for the whole turn is only as good as its first moment",
};

pub(super) const ROLL_LEVER: About = About {
    title: "roll lever",
    definition: "height of the sprung mass's centre above that line",
    formula: "h_s - (share_f h_f + share_r h_r)",
    source: TRANSFER,
    does: "The side force of the sprung mass leans the body on this arm",
    does_not: "Not the height of the centre of gravity: it may be short on a tall car",
};

pub(super) const ROLL_GRADIENT: About = About {
    title: "roll gradient",
    definition: "lean of the body to the road per lateral acceleration",
    formula: "m_s d/(k_f + k_r - m_s g d)",
    source: TRANSFER,
    does: "5 to 7 deg/g is a soft road car, 1 to 3 deg/g a stiff one (common practice). Lean costs camber and, at the links, toe",
    does_not: "Steady turn, small angles; how fast it gets there is the roll frequency and the dampers' matter",
};

pub(super) const ROLL_FREQUENCY: About = About {
    title: "roll frequency",
    definition: "undamped frequency of the sprung mass in roll about the roll axis",
    formula: "sqrt((k_f + k_r - m_s g d)/(I_x + m_s d^2))/(2 pi), I_x the sprung mass's own",
    source: "single mass on a fixed axis, any text; the wheels' share of the car's inertia is taken off at half a track (own)",
    does: "How quickly the body takes its lean in a slalom",
    does_not: "The roll inertia is mostly an estimate; dampers, tyre side give and the axis's motion are not in it",
};

pub(super) const MOVED_GEOMETRIC: About = About {
    title: "through the links",
    definition: "load moved across the axle by the links, at once",
    formula: "m_s,i a_y h_i/t_i, h_i the roll centre",
    source: TRANSFER,
    does: "It is there before the body leans: a high roll centre answers at once and lifts the body (jacking)",
    does_not: "Steady turn and the roll centres of the straight car",
};

pub(super) const MOVED_ELASTIC: About = About {
    title: "through springs and bar",
    definition: "load moved across the axle as the body leans",
    formula: "k_i roll/t_i",
    source: TRANSFER,
    does: "The part that springs and bars split between the ends",
    does_not: "It comes with the lean, so not at once; the leaning body's weight is in it",
};

pub(super) const MOVED_UNSPRUNG: About = About {
    title: "of the wheels' own mass",
    definition: "load moved by axle, wheels and uprights",
    formula: "m_u,i a_y r_i/t_i",
    source: TRANSFER,
    does: "Only less mass or smaller wheels change it",
    does_not: "No spring or bar does",
};

pub(super) const MOVED: About = About {
    title: "moved in all",
    definition: "load from each inner wheel to its outer one",
    formula: "sum of the three",
    source: TRANSFER,
    does: "The tyres' grip falls with load, so the axle that moves more loses more",
    does_not: "In all it is nearly m a h/t, whatever springs and bars do: they only split it",
};

pub(super) const MOVED_SHARE: About = About {
    title: "share of the load moved",
    definition: "part of all the load moved that this axle moves",
    formula: "moved_i/(moved_f + moved_r)",
    source: TRANSFER,
    does: "More than the axle's share of weight at the front: toward understeer at the limit; at the rear: toward oversteer",
    does_not: "Unequal tracks or grips shift the even point: the limits of the axles have the whole of it",
};

pub(super) const LIFTS: About = About {
    title: "inner wheel lifts at",
    definition: "lateral acceleration at which this axle has moved half of its load",
    formula: "a at which moved_i = m_i g/2",
    source: TRANSFER,
    does: "From there on the axle moves no more, and the other one takes it all",
    does_not: "Bumps and curbs lift a wheel sooner. What comes after is not in it",
};

pub(super) const BAR_END: About = About {
    title: "rate at the bar's end",
    definition: "force at one end along its link per travel of that end, the other end held",
    formula: "1/(L R^2/(G J) + 2 R^3/(3 E I)), J = pi/32 (D^4 - d^4); the link's angle to the arm enters as its sine",
    source: BARS,
    does: "What a bench would measure",
    does_not: "The give of its bushes and links is left out: it takes a tenth or more off a stiff bar (common practice)",
};

pub(super) const BAR_WHEEL: About = About {
    title: "bar's rate at the wheel",
    definition: "vertical force of the bar at a wheel per travel of that wheel, the other wheel moving as far the other way",
    formula: "2 k K^2",
    source: BARS,
    does: "Compare it with the wheel rate: it is added to it in roll",
    does_not: "With the other wheel held it is half; with both moving together it is nothing",
};

pub(super) const BAR_STRESS: About = About {
    title: "stress of the bar",
    definition: "shear stress at the bar's surface in the turn of the tables",
    formula: "G (twist) D/(2 L), twist = 2 K z/(R sin), z the wheel's travel in that lean",
    source: BARS,
    does: "Under what its steel bears without taking a set, with room for curbs",
    does_not: "Arms rigid, so an upper bound; bends, welds, splines and fatigue are not in it: welds on a spring steel bar break it",
};

pub(super) const SIZED_STIFFNESS: About = About {
    title: "roll stiffness of such a bar",
    definition: "moment against body roll per angle, tyre rigid",
    formula: "share x present, k t^2 K^2",
    source: BARS,
    does: "What the bar adds to the axle",
    does_not: "The springs' part is apart",
};

pub(super) const SIZED_SOLID: About = About {
    title: "diameter, solid",
    definition: "outer diameter of a solid bar of that rate, with this arm, length and link",
    formula: "D with 1/(L R^2/(G J) + 2 R^3/(3 E I)) = rate, d = 0",
    source: BARS,
    does: "Round to a stock size; rate goes with D^4",
    does_not: "Heat treatment changes strength, not stiffness",
};

pub(super) const SIZED_TUBE: About = About {
    title: "diameter, tube",
    definition: "outer diameter of a tube of that rate; its bore keeps the present bar's share of the diameter, or 0.7 where that is solid",
    formula: "the same with d = share x D",
    source: BARS,
    does: "A tube of the same rate is lighter: at 0.7 by two fifths",
    does_not: "Thin walls dent and buckle where the bushes sit",
};

pub(super) const SIZED_BORE: About = About {
    title: "bore of that tube",
    definition: "its inner diameter",
    formula: "share x D",
    source: BARS,
    does: "Together with the diameter: which tube to look for",
    does_not: "The nearest stock wall changes the rate: put it in the file and look",
};

pub(super) const SIZED_STRESS: About = About {
    title: "stress, solid",
    definition: "shear stress of the solid bar in the turn of the tables, the lean being that of the changed car",
    formula: "G (twist) D/(2 L)",
    source: BARS,
    does: "A thicker bar is stressed more for the same twist",
    does_not: "Arms rigid: an upper bound; not for curbs or fatigue",
};

pub(super) const SIZED_GRADIENT: About = About {
    title: "change of the understeer gradient",
    definition: "gradient in the turn of the tables with this bar, less that of the car as it is",
    formula: "m_f/C_f - m_r/C_r anew, new less old",
    source: CHANGES,
    does: "Negative: freer below the limit",
    does_not: "Only through the bend of cornering stiffness over load",
};

pub(super) const SIZED_BALANCE: About = About {
    title: "change of the limit's balance",
    definition: "change of the front limit less change of the rear one with this bar, each in percent of it",
    formula: "d(front)/front - d(rear)/rear",
    source: CHANGES,
    does: "Positive: the front holds on longer, so the car is freer at the limit",
    does_not: "Zero for tyres whose friction does not fall with load",
};

//! What there is to say about each result of Drive.

use project::model::Car;

use super::Draws;
use crate::quantity::About;

const RUN: &str = "quasi-steady run: own arrangement of forward and backward integration at the limits (J. Bobrow, S. \
                   Dubowsky & J. Gibson, Int. J. Robotics Res. 4 (1985) 3, remembered), limits by the platform";

pub(super) const LAP: About = About {
    title: "time",
    definition: "time over the course at the limits of the car, within what the driver keeps in hand",
    formula: "sum of 2 ds/(v_i + v_(i+1)); v the greatest speed with v^2 k <= a_y(v), d(v^2)/ds between 2 a_brake and 2 a_drive",
    source: RUN,
    does: "It says what a choice is worth against another on the same course, with the same tyres and driver",
    does_not: "It is no forecast of a stopwatch: the car is on its limit everywhere, follows one path, and needs no time to turn \
               in, to roll, or to warm its tyres",
};

pub(super) const DIFFERENCE: About = About {
    title: "against the first",
    definition: "time of this choice less that of the first; below zero is quicker",
    formula: "t - t_1, in every sample of what is uncertain",
    source: "common random numbers: what both share (survey, tyres, surface) cancels in every sample; JCGM 101:2008 (remembered)",
    does: "It is a difference when it is more than twice its ±",
    does_not: "What no model here knows (heat, wear, nerve) is in neither the number nor its ±",
};

pub(super) const IN_HAND: About = About {
    title: "what is kept in hand costs",
    definition: "time of this driver less that of the car's own limit",
    formula: "t(with `[in-hand]`) - t(without)",
    source: "own rule: a share of the rear axle's side grip and of the yaw damping is kept while braking",
    does: "Stability under the brakes pays through this alone: a choice that keeps more rear grip can be braked harder by the \
           same driver",
    does_not: "The shares are the driver's own; calibrate them with a logger before you weld for them",
};

pub(super) const GREATEST: About = About {
    title: "greatest speed",
    definition: "greatest speed on the course",
    formula: "max v(s)",
    source: RUN,
    does: "It says whether the gearing is used",
    does_not: "It is not the top speed: that needs a longer straight",
};

pub(super) const CHANGES: About = About {
    title: "changes up",
    definition: "gear changes up on the course, each without drive for its time",
    formula: "counted where the next gear pushes harder",
    source: RUN,
    does: "It says whether a ratio or the final drive wants changing",
    does_not: "Changes down are taken to cost nothing: they are done while braking",
};

pub(super) const SECTION: About = About {
    title: "section",
    definition: "time from this name on the course to the next one",
    formula: "sum of the steps between",
    source: RUN,
    does: "It says where a choice gains and where it loses",
    does_not: "A slow way out is paid for in the next section",
};

pub(super) const TOP_SPEED: About = About {
    title: "top speed",
    definition: "speed at which the drive is used up by air and rolling, on the level without wind, or where the gears end",
    formula: "eta M(w) i/R = q C_x S + f F_z",
    source: "T. D. Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 2 and 4 (remembered)",
    does: "It says what drag costs at the end of the longest straight",
    does_not: "A long straight that is not quite level or has wind along it moves it by several km/h",
};

pub(super) const WORTH: About = About {
    title: "change",
    definition: "time with the change less time without it, on each venue",
    formula: "t(changed) - t, the change made to the same car in every sample",
    source: "own; common random numbers as above",
    does: "It says what to do next: the largest number for the least work",
    does_not: "It knows no money and no rules of a class; a change far larger than this one is not worth its multiple",
};

pub(super) const SETTING: About = About {
    title: "setting",
    definition: "what is set in this column",
    formula: "found by the search",
    source: "own; samples evenly spread, then along one axis after the other",
    does: "It says what to drill, weld or set",
    does_not: "The best of a model is not exact to its last digit: near it the time hardly changes",
};

pub(super) const AGAINST_FILE: About = About {
    title: "against the file",
    definition: "time of this set less that of the car as the file has it; below zero is quicker",
    formula: "t - t(file), in every sample of what is uncertain",
    source: "common random numbers: what both share cancels in every sample; JCGM 101:2008 (remembered)",
    does: "It is a difference when it is more than twice its ±",
    does_not: "What no model here knows (heat, wear, nerve) is in neither the number nor its ±",
};

pub(super) const ON_FRONT: About = About {
    title: "on the front in",
    definition: "share of the samples of what is uncertain in which no other column beats this one on every venue",
    formula: "count / samples",
    source: "own",
    does: "It says how sure it is that this set is worth having",
    does_not: "It knows only the sets beside it",
};

/// What is assumed of every lap.
pub(super) fn notes(car: &Car) -> Vec<String> {
    let mut notes = vec![
        "At every place the car is in the balance that it would have if it stayed there: springs, air at the attitude, tyres by \
         load, both axles' side forces without yaw moment. It needs no time to get there."
            .to_string(),
        "Both wheels of an axle work at their best slip angle together; toe is not in it. Peaks of braking and driving are taken \
         alike."
            .to_string(),
    ];
    notes.push(match &car.in_hand {
        Some(hand) => format!(
            "The driver keeps {:.0} % of the rear axle's side grip and {:.0} % of the yaw damping in hand while he brakes \
             (`[in-hand]`). Stability pays in time only through this.",
            100.0 * hand.rear_reserve.value,
            100.0 * hand.yaw_damping.value
        ),
        None => "No `[in-hand]` is written: times are those of the car's own limit, and stability under the brakes pays nothing. \
                 Write what a driver keeps, and it does."
            .to_string(),
    });
    notes
}

/// What the ± is.
pub(super) fn spread_of(draws: Draws) -> String {
    format!(
        "± is the spread of {} samples of everything uncertain in the file ({} for each change), the same ones for every choice: \
         itself good to about {:.0} %.",
        draws.choices,
        draws.changes,
        100.0 / (2.0 * (draws.choices.max(2) - 1) as f64).sqrt()
    )
}

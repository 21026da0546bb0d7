//! The figures that the results come from: scales, raised scales, driver, fuel, springs, inertia, the wish. A table
//! that is not in the file yet is begun with the figures that it cannot do without.

use maud::Markup;

use super::super::measure::Survey;
use super::super::measure::groups::{self, Group};
use super::super::measure::values::{Field, unit};

/// All of them.
pub(super) fn part(survey: &Survey<'_>) -> Markup {
    let mass = unit(survey, "mass", "kg");
    let length = unit(survey, "length", "mm");
    let rate = if unit(survey, "force", "N") == "lbf" { "lbf/in" } else { "N/mm" };
    groups::part(survey, &groups(&mass, &length, rate))
}

fn groups(mass: &str, length: &str, rate: &'static str) -> Vec<Group> {
    let body = |top: &'static str| {
        vec![
            Field::new(format!("{top}.mass"), "mass", mass, ""),
            Field::new(format!("{top}.at"), "centre x, y, z", length, "in the survey's frame"),
            Field::new(format!("{top}.accuracy"), "± of the centre", length, "20 mm if empty"),
        ]
    };
    let mut fuel = body("fuel");
    fuel.push(Field::new("fuel.share", "fuel to run with", "", "share of a full tank: 0.5 or 50 %"));
    vec![
        Group {
            path: "weigh.level",
            title: "Scales, car level",
            words: "Level floor, tyres pumped up, rolled back and forth before reading.",
            fields: level(mass, length),
            first: vec!["front-left", "front-right", "rear-left", "rear-right", "accuracy"],
        },
        Group {
            path: "weigh",
            title: "In the car while it was weighed",
            words: "",
            fields: vec![
                Field::one_of("weigh.driver", "driver", &["out", "in"], ""),
                Field::new("weigh.fuel", "fuel", "", "share of a full tank: 0.25 or 25 %"),
                Field::new(
                    "weigh.total",
                    "mass known otherwise",
                    mass,
                    "a weighbridge; the scales must come near it",
                ),
            ],
            first: Vec::new(),
        },
        Group {
            path: "weigh.raised",
            title: "Scales, one end raised",
            words: "Brakes off, out of gear, solid struts for dampers. Both wheels of an axle together.",
            fields: raised(mass, length),
            first: vec!["end", "pads", "low", "suspension"],
        },
        Group {
            path: "driver",
            title: "Driver",
            words: "",
            fields: body("driver"),
            first: vec!["mass", "at"],
        },
        Group { path: "fuel", title: "Full tank", words: "", fields: fuel, first: vec!["mass", "at"] },
        Group {
            path: "unsprung",
            title: "Unsprung, a wheel each",
            words: "Wheel, tyre, upright, brake, half of the links and shafts.",
            fields: vec![
                Field::new("unsprung.front", "front", mass, ""),
                Field::new("unsprung.rear", "rear", mass, ""),
            ],
            first: Vec::new(),
        },
        rates("weigh.front", "Front springs and tyres", rate),
        rates("weigh.rear", "Rear springs and tyres", rate),
        Group {
            path: "weigh.inertia",
            title: "Inertia",
            words: "Measured radii of gyration; what is empty is estimated, and marked so.",
            fields: vec![
                Field::new("weigh.inertia.yaw", "yaw radius", length, ""),
                Field::new("weigh.inertia.pitch", "pitch radius", length, ""),
                Field::new("weigh.inertia.roll", "roll radius", length, ""),
                Field::new(
                    "weigh.inertia.width",
                    "width of the body",
                    length,
                    "wider track and 200 mm if empty",
                ),
                Field::new("weigh.inertia.height", "height of the body", length, "1150 mm if empty"),
            ],
            first: Vec::new(),
        },
        Group {
            path: "weigh.wish",
            title: "Wish",
            words: "",
            fields: vec![Field::new("weigh.wish.cross", "cross weight", "", "front right + rear left: 50 %")],
            first: Vec::new(),
        },
    ]
}

fn level(mass: &str, length: &str) -> Vec<Field> {
    let at = |key: &str| format!("weigh.level.{key}");
    vec![
        Field::new(at("front-left"), "front left", mass, ""),
        Field::new(at("front-right"), "front right", mass, ""),
        Field::new(at("rear-left"), "rear left", mass, ""),
        Field::new(at("rear-right"), "rear right", mass, ""),
        Field::new(at("accuracy"), "± of one scale", mass, "0.5 kg if empty"),
        Field::new(at("wheelbase"), "wheelbase then", length, "only where it was another one"),
        Field::new(at("front-track"), "front track then", length, "likewise"),
        Field::new(at("rear-track"), "rear track then", length, "likewise"),
    ]
}

fn raised(mass: &str, length: &str) -> Vec<Field> {
    let at = |key: &str| format!("weigh.raised.{key}");
    vec![
        Field::one_of(at("end"), "end that was raised", &["rear", "front"], ""),
        Field::new(at("pads"), "height of the pads", length, "under the tyres of the raised end"),
        Field::new(at("hubs"), "or: rise of the hubs", length, "above their height on the level"),
        Field::new(at("angle"), "or: tilt of the body", "deg", ""),
        Field::new(at("low"), "under the low end", mass, "both wheels"),
        Field::new(at("high"), "under the raised end", mass, "both wheels; one of the two will do"),
        Field::new(at("accuracy"), "± of one scale", mass, "0.5 kg if empty"),
        Field::one_of(at("wheels"), "wheels", &["free", "one-axle"], "one-axle: held by its brake"),
        Field::one_of(at("suspension"), "suspension", &["locked", "free"], "free asks for the wheel rates"),
    ]
}

fn rates(path: &'static str, title: &'static str, rate: &'static str) -> Group {
    let at = |key: &str| format!("{path}.{key}");
    Group {
        path,
        title,
        words: "",
        fields: vec![
            Field::new(at("tyre-rate"), "tyre rate", rate, "one tyre"),
            Field::new(
                at("wheel-rate"),
                "wheel rate",
                rate,
                "as weighed; perch turns use the file's own spring",
            ),
            Field::new(at("motion-ratio"), "motion ratio", "", "spring travel per wheel travel"),
            Field::new(at("bar-rate"), "bar at one wheel", rate, "empty while it is unhooked"),
            Field::new(at("perch"), "perch thread", "", "M60x2, or its pitch"),
        ],
        first: Vec::new(),
    }
}

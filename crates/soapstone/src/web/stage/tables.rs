//! The figures that a stage works from: the stop, pedal, discs, tyres, springs, dampers, bars, air.

use super::super::measure::Survey;
use super::super::measure::groups::Group;
use super::super::measure::values::{Field, unit};
use crate::stage::Which;

/// Units of bare numbers, as the file has them.
struct Symbols {
    length: String,
    force: String,
    mass: String,
    inch: bool,
}

impl Symbols {
    fn pick(&self, metric: &'static str, inch: &'static str) -> &'static str {
        if self.inch { inch } else { metric }
    }

    fn by_force(&self, newton: &'static str, pound: &'static str) -> &'static str {
        if self.force == "lbf" { pound } else { newton }
    }
}

/// The tables of a stage.
pub(super) fn groups(which: Which, survey: &Survey<'_>) -> Vec<Group> {
    let length = unit(survey, "length", "mm");
    let symbols = Symbols {
        inch: matches!(length.as_str(), "in" | "ft"),
        force: unit(survey, "force", "N"),
        mass: unit(survey, "mass", "kg"),
        length,
    };
    let s = &symbols;
    let mut all = match which {
        Which::Stop => {
            vec![
                stop(s),
                pedal(s),
                valve(s),
                disc(s, "front.disc", "Front brake"),
                disc(s, "rear.disc", "Rear brake"),
            ]
        }
        Which::Balance => vec![
            spring(s, "front.spring", "Front spring"),
            spring(s, "rear.spring", "Rear spring"),
            damper(s, "front.damper", "Front damper"),
            damper(s, "rear.damper", "Rear damper"),
            bump(s, "front.damper.bump-stop", "Front bump stop"),
            bump(s, "rear.damper.bump-stop", "Rear bump stop"),
            bar(s, "front.bar", "Front bar"),
            bar(s, "rear.bar", "Rear bar"),
        ],
        Which::Drive => vec![engine(), gearbox(), in_hand()],
        Which::Manoeuvres => vec![
            manoeuvre(s),
            damper(s, "front.damper", "Front damper"),
            damper(s, "rear.damper", "Rear damper"),
        ],
    };
    // Tyres of both axles in one table, unless the file has one an axle.
    let apart = ["front.tyre", "rear.tyre"].iter().any(|path| survey.typed.has(path));
    if survey.typed.has("tyre") || !apart {
        all.push(tyre(s, "tyre", "Tyres, front and rear alike"));
    }
    if apart {
        all.push(tyre(s, "front.tyre", "Front tyres"));
        all.push(tyre(s, "rear.tyre", "Rear tyres"));
    }
    all.push(air(s));
    all
}

fn group(path: &'static str, title: &'static str, words: &'static str, fields: Vec<Field>) -> Group {
    Group { path, title, words, fields, first: Vec::new() }
}

fn field(path: &str, key: &str, words: &'static str, unit: &str, hint: &'static str) -> Field {
    Field::new(format!("{path}.{key}"), words, unit, hint)
}

fn stop(s: &Symbols) -> Group {
    let speed = s.pick("km/h", "mph");
    let at = |key, words, unit, hint| field("stop", key, words, unit, hint);
    group(
        "stop",
        "The stop that is looked at",
        "",
        vec![
            at("from", "from", speed, ""),
            at("to", "to", speed, ""),
            at("deceleration", "deceleration", "g", "for attitude, forces and heat"),
            at("rise", "pedal goes down in", "s", ""),
            at("repeats", "stops in the sequence", "", "for the heat"),
            at("pause", "time between them", "s", ""),
            at("air", "temperature of the air", s.pick("deg C", "deg F"), ""),
        ],
    )
}

fn manoeuvre(s: &Symbols) -> Group {
    let at = |key, words, unit, hint| field("manoeuvre", key, words, unit, hint);
    let far = s.pick("m", "ft");
    group(
        "manoeuvre",
        "How the manoeuvres are driven",
        "What is left empty is as the standards are remembered. The decelerations in the turn stand in the file: `brakes`.",
        vec![
            at("turn-radius", "radius of the braked turn", far, "100 m"),
            at("turn-acceleration", "its lateral acceleration", "g", "0.51"),
            at("step-speed", "speed of the step", s.pick("km/h", "mph"), "100 km/h"),
            at("step-acceleration", "its lateral acceleration", "g", "0.41"),
            at("circle", "radius of the steady turn", far, "100 m"),
        ],
    )
}

fn engine() -> Group {
    let at = |key, words, unit, hint| field("engine", key, words, unit, hint);
    group(
        "engine",
        "Engine",
        "The torque over engine speed stands in the file: `torque` in `[engine]`.",
        vec![
            at("scale", "torque curve times", "", "1 with the ± of the curve"),
            at("redline", "highest engine speed", "rpm", ""),
        ],
    )
}

fn gearbox() -> Group {
    let at = |key, words, unit, hint| field("gearbox", key, words, unit, hint);
    group(
        "gearbox",
        "Gears",
        "",
        vec![
            at("final-drive", "final drive", "", ""),
            at("efficiency", "efficiency", "", "from the engine to the wheels"),
            at("shift-time", "a change up takes", "s", "without drive"),
            at("differential", "differential", "", "open or limited"),
            at("rolling-resistance", "rolling resistance", "", "per load"),
        ],
    )
}

fn in_hand() -> Group {
    let at = |key, words, unit, hint| field("in-hand", key, words, unit, hint);
    group(
        "in-hand",
        "What the driver keeps in hand while braking",
        "Stability under the brakes pays in time through these two alone.",
        vec![
            at("rear-reserve", "of the rear side grip", "", "0 to 0.95"),
            at("yaw-damping", "of the yaw damping", "", "0 to 0.95"),
        ],
    )
}

fn pedal(s: &Symbols) -> Group {
    let at = |key, words, unit, hint| field("pedal", key, words, unit, hint);
    Group {
        first: vec!["ratio", "front-master", "rear-master", "bias"],
        ..group(
            "pedal",
            "Pedal and master cylinders",
            "",
            vec![
                at("ratio", "pedal ratio", "", "pad to pivot over rod to pivot"),
                at("efficiency", "efficiency", "", "what friction leaves"),
                at("front-master", "front master cylinder", &s.length, "bore"),
                at("rear-master", "rear master cylinder", &s.length, "bore"),
                at("bias", "bias bar", "", "share of the rod force on the front cylinder"),
                at("tandem", "or: tandem cylinder", &s.length, "bore"),
            ],
        )
    }
}

fn valve(s: &Symbols) -> Group {
    let pressure = s.by_force("kPa", "psi");
    Group {
        first: vec!["knee", "slope"],
        ..group(
            "pedal.valve",
            "Proportioning valve, rear line",
            "",
            vec![
                field("pedal.valve", "knee", "knee", pressure, "where it begins to act; or 25 bar"),
                field("pedal.valve", "slope", "slope beyond", "", "rear rise over front rise"),
            ],
        )
    }
}

fn disc(s: &Symbols, path: &'static str, title: &'static str) -> Group {
    let at = |key, words, unit, hint| field(path, key, words, unit, hint);
    let mut fields = vec![
        at("pistons", "pistons", &s.length, "bores of all pistons of one caliper: [38, 38, 38, 38]"),
        Field::one_of(
            format!("{path}.caliper"),
            "caliper",
            &["fixed", "floating"],
            "fixed: pistons on both sides",
        ),
        at("calipers", "calipers a wheel", "", "1 if empty"),
        at("pad-outer", "pads, outer radius", &s.length, ""),
        at("pad-inner", "pads, inner radius", &s.length, ""),
        at("effective-radius", "or: effective radius", &s.length, ""),
        at("friction", "pad friction", "", "0.42 ± 0.03"),
        at("threshold", "pressure until it moves", s.by_force("kPa", "psi"), ""),
        at("diameter", "disc diameter", &s.length, "for the heat"),
        at("mass", "disc mass", &s.mass, "for the heat"),
    ];
    fields.push(Field::one_of(format!("{path}.vented"), "vented", &["true", "false"], ""));
    Group {
        first: vec!["pistons", "caliper", "effective-radius", "friction"],
        ..group(path, title, "", fields)
    }
}

fn spring(s: &Symbols, path: &'static str, title: &'static str) -> Group {
    group(
        path,
        title,
        "Its ends are on the page Measure.",
        vec![
            field(path, "rate", "rate", s.by_force("N/mm", "lbf/in"), "along the spring"),
            field(path, "force", "force", &s.force, "what it carries at ride height"),
        ],
    )
}

fn damper(s: &Symbols, path: &'static str, title: &'static str) -> Group {
    let unit = s.by_force("N s/m", "lbf s/in");
    group(
        path,
        title,
        "Force over speed along the damper.",
        vec![field(path, "bump", "bump", unit, ""), field(path, "rebound", "rebound", unit, "")],
    )
}

fn bump(s: &Symbols, path: &'static str, title: &'static str) -> Group {
    Group {
        first: vec!["gap", "rate"],
        ..group(
            path,
            title,
            "",
            vec![
                field(path, "gap", "gap at ride height", &s.length, "along the damper"),
                field(path, "rate", "rate once met", s.by_force("N/mm", "lbf/in"), ""),
            ],
        )
    }
}

fn bar(s: &Symbols, path: &'static str, title: &'static str) -> Group {
    let at = |key, words, unit, hint| field(path, key, words, unit, hint);
    let mut fields = vec![
        at("rate", "rate at one end", s.by_force("N/mm", "lbf/in"), "along its link, the other end held"),
        at("diameter", "or: diameter", &s.length, ""),
        at("bore", "bore", &s.length, "empty for a solid bar"),
        at("length", "length in torsion", &s.length, "between the arms"),
        at("arm", "arm", &s.length, "from the bar's axis to the link"),
        at("link-angle", "angle of arm and link", "deg", "90 if empty"),
    ];
    fields.push(Field::one_of(
        format!("{path}.arms"),
        "arms",
        &["rigid", "bent", "blades"],
        "bent: the bar itself",
    ));
    Group { first: vec!["rate"], ..group(path, title, "", fields) }
}

fn tyre(s: &Symbols, path: &'static str, title: &'static str) -> Group {
    let at = |key, words, unit, hint| field(path, key, words, unit, hint);
    Group {
        first: vec![
            "vertical-rate",
            "nominal-load",
            "friction",
            "load-sensitivity",
            "cornering-stiffness",
            "loads",
        ],
        ..group(
            path,
            title,
            "A handful of figures; a published parameter set is written in the file.",
            vec![
                at("vertical-rate", "vertical rate", s.by_force("N/mm", "lbf/in"), "one tyre"),
                at("nominal-load", "nominal load", &s.force, "at which the following hold"),
                at("friction", "peak friction", "", ""),
                at(
                    "load-sensitivity",
                    "load sensitivity",
                    "",
                    "share of friction lost when the load doubles",
                ),
                at("cornering-stiffness", "cornering stiffness", s.by_force("N/deg", "lbf/deg"), "one tyre"),
                at("stiffest-load", "stiffest at", &s.force, "load of the greatest cornering stiffness"),
                at("slip-stiffness", "slip stiffness", &s.force, "per unit of slip"),
                at("lateral-rate", "side rate", s.by_force("N/mm", "lbf/in"), "carcass, at the contact"),
                at("loads", "from, to", &s.force, "loads for which the figures hold: [600, 7500]"),
            ],
        )
    }
}

fn air(s: &Symbols) -> Group {
    let at = |key, words, unit, hint| field("aero", key, words, unit, hint);
    let area = s.pick("m2", "ft2");
    Group {
        first: vec!["drag-area", "drag-height", "front-downforce-area", "rear-downforce-area"],
        ..group(
            "aero",
            "Air",
            "Areas are a coefficient times its reference area.",
            vec![
                at("drag-area", "drag area", area, ""),
                at("drag-height", "height of the drag", &s.length, ""),
                at("front-downforce-area", "downforce area, front axle", area, "negative for lift"),
                at("rear-downforce-area", "downforce area, rear axle", area, "negative for lift"),
                at("density", "density of the air", "kg/m3", ""),
            ],
        )
    }
}

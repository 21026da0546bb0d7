//! Every fixed key of the file and the table it belongs in, to tell people where a stray key should go. What is
//! allowed is decided by the code that reads a table; this list only words hints.

use crate::suggest;

/// Tables and their keys; `AXLE` stands for `front` or `rear`.
const HOMES: [(&str, &[&str]); 52] = [
    ("car", &["name", "driven", "wheelbase", "cg-height"]),
    ("units", &["length", "mass", "force", "angle"]),
    ("survey", &["accuracy"]),
    ("brakes", &["front-share"]),
    ("choose", &["axle", "travels"]),
    ("setup.NAME", &["holes"]),
    ("AXLE", &["kind", "brakes", "final-drive", "steered", "bodies", "steering-axis"]),
    ("AXLE.wheel", &["centre", "loaded-radius", "toe", "camber", "rim-diameter", "spin-inertia"]),
    ("AXLE.rack", &["travel"]),
    ("AXLE.spring", &["rate", "mount", "on", "body-on"]),
    ("AXLE.link.NAME", &["thread", "sleeve"]),
    ("AXLE.lower-arm", &["body-fore", "body-aft", "ball"]),
    ("AXLE.arm", &["pivot-inner", "pivot-outer"]),
    ("AXLE.blade", &["bush"]),
    ("AXLE.plate.NAME", &["corners", "bolt", "spacing", "edge", "link-length"]),
    ("weigh", &["total", "driver", "fuel"]),
    ("weigh.level", &["front-left", "front-right", "rear-left", "rear-right", "front-track", "rear-track"]),
    ("weigh.raised", &["pads", "hubs", "low", "high", "wheels", "suspension"]),
    ("weigh.front", &["tyre-rate", "wheel-rate", "motion-ratio", "bar-rate", "perch"]),
    ("weigh.out.NAME", &["size"]),
    ("weigh.in.NAME", &["size"]),
    ("weigh.inertia", &["yaw", "pitch", "roll", "width", "height"]),
    ("weigh.wish", &["cross"]),
    (
        "AXLE.tyre",
        &[
            "vertical-rate",
            "pressure",
            "nominal-load",
            "friction",
            "friction-along",
            "friction-across",
            "load-sensitivity",
            "cornering-stiffness",
            "stiffest-load",
            "slip-stiffness",
            "lateral-rate",
            "loads",
            "convention",
            "parameters",
        ],
    ),
    (
        "AXLE.disc",
        &[
            "pistons",
            "caliper",
            "calipers",
            "pad-outer",
            "pad-inner",
            "effective-radius",
            "friction-over-temperature",
            "threshold",
            "vented",
        ],
    ),
    ("AXLE.drum", &["torque"]),
    ("AXLE.ride-height", &["height"]),
    ("AXLE.damper", &["bump", "rebound", "bump-stop", "rebound-stop"]),
    ("AXLE.damper.bump-stop", &["gap", "rises-to"]),
    (
        "AXLE.bar",
        &[
            "diameter",
            "bore",
            "length",
            "arm",
            "link-angle",
            "arms",
            "blade-width",
            "blade-thickness",
            "unhooked",
        ],
    ),
    ("pedal", &["ratio", "efficiency", "front-master", "rear-master", "bias", "tandem", "valve"]),
    ("pedal.valve", &["knee", "slope"]),
    (
        "aero",
        &["density", "drag-area", "drag-height", "front-downforce-area", "rear-downforce-area", "without"],
    ),
    ("stop", &["deceleration", "rise", "repeats", "pause", "air"]),
    ("jig", &["toe-change", "camber-change", "roll-centre", "anti"]),
    ("build", &["wanted", "in-ledger"]),
    (
        "build.case.NAME",
        &[
            "off",
            "braking",
            "cornering",
            "driving",
            "up",
            "inward",
            "rearward",
            "jack",
            "lifts",
            "factor",
            "why",
        ],
    ),
    (
        "build.AXLE.links",
        &["section", "grade", "ends", "shank-class", "ball-to-nut", "radial-rating", "axial-rating"],
    ),
    (
        "build.AXLE.brackets",
        &[
            "class",
            "shear",
            "thread-in-shear",
            "grip",
            "torqued",
            "tab",
            "reach",
            "weld",
            "weld-length",
            "doubler",
            "bolt-along",
            "tab-along",
        ],
    ),
    ("build.frame", &["mirror", "nodes", "tube", "foot", "carries"]),
    ("build.frame.tube", &["balls"]),
    ("build.frame.foot", &["hold", "turn-rate"]),
    ("engine", &["torque", "scale", "redline"]),
    ("gearbox", &["ratios", "shift-time", "differential", "rolling-resistance"]),
    ("in-hand", &["rear-reserve", "yaw-damping"]),
    (
        "venue.NAME",
        &[
            "closed",
            "start",
            "car-width",
            "line",
            "resolution",
            "degrees",
            "pieces",
            "points",
            "file",
            "gates",
        ],
    ),
    ("venue.NAME.pieces", &["straight", "left", "right", "angle", "easing", "grade", "bank", "width"]),
    ("venue.NAME.gates", &["towards", "room"]),
    (
        "search",
        &[
            "venues",
            "welded",
            "holes",
            "brake-front",
            "front-bar",
            "rear-bar",
            "front-ride",
            "rear-ride",
            "without",
        ],
    ),
    (
        "manoeuvre",
        &["turn-radius", "turn-acceleration", "brakes", "step-speed", "step-acceleration", "circle"],
    ),
    ("driver", &["mass"]),
    ("fuel", &["share"]),
];

/// Keys and tables that stand in many places.
const COMMON: [&str; 28] = [
    "x", "y", "z", "at", "name", "end", "body", "upright", "top", "lower", "type", "between", "from", "to",
    "through", "along", "normal", "mount", "force", "wheel", "spring", "damper", "bar-link", "plate",
    "holes", "front", "rear", "datum",
];

/// Tables of an axle and the kinds that have them.
const PARTS: [(&str, &[&str]); 9] = [
    ("upper-arm", &["double-wishbone"]),
    ("lower-arm", &["double-wishbone", "strut"]),
    ("tie-rod", &["double-wishbone", "strut"]),
    ("strut", &["strut"]),
    ("link", &["five-link", "trailing-blade"]),
    ("arm", &["semi-trailing-arm"]),
    ("blade", &["trailing-blade"]),
    ("joint", &["links"]),
    ("rack", &["five-link", "double-wishbone", "strut", "links"]),
];

/// Whether a key or a table of this name stands anywhere in the format.
pub(crate) fn is_known(key: &str) -> bool {
    let tables = HOMES.iter().filter_map(|(table, _)| table.split('.').next());
    COMMON.contains(&key)
        || homes().any(|(_, known)| known == key)
        || PARTS.iter().any(|(part, _)| *part == key)
        || tables.into_iter().any(|table| table == key)
        || ["drive", "setup", "unsprung", "level", "raised", "out", "in", "inertia", "wish", "ride-height"]
            .contains(&key)
}

/// The table where a key belongs, if it is another one than `path`, in backticks.
pub(crate) fn home(key: &str, path: &str) -> Option<String> {
    homes().find(|(_, known)| *known == key).map(|(table, _)| resolve(table, path))
}

/// A key like this one, and the table where it belongs.
pub(crate) fn near_home(key: &str, path: &str) -> Option<(&'static str, String)> {
    let near = suggest::nearest(key, homes().map(|(_, known)| known))?;
    let (table, _) = homes().find(|(_, known)| *known == near)?;
    Some((near, resolve(table, path)))
}

/// Which kinds have a part that `kind` has not.
pub(crate) fn kinds_with(part: &str, kind: &str) -> Option<String> {
    let (_, kinds) = PARTS.iter().find(|(name, kinds)| *name == part && !kinds.contains(&kind))?;
    let noun = if kinds.len() == 1 { "kind" } else { "kinds" };
    let kinds = kinds.iter().map(|kind| format!("\"{kind}\"")).collect::<Vec<_>>().join(", ");
    Some(format!("it belongs to the {noun} {kinds}"))
}

fn homes() -> impl Iterator<Item = (&'static str, &'static str)> {
    HOMES.iter().flat_map(|(table, keys)| keys.iter().map(move |key| (*table, *key)))
}

fn resolve(table: &str, path: &str) -> String {
    if !table.starts_with("AXLE") {
        return format!("`[{table}]`");
    }
    match path.split('.').next() {
        Some(axle @ ("front" | "rear")) => format!("`[{}]`", table.replace("AXLE", axle)),
        _ => format!("`[{}]` or `[{}]`", table.replace("AXLE", "front"), table.replace("AXLE", "rear")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn knows_where_keys_belong() {
        assert_eq!(home("camber", "rear.link.toe").as_deref(), Some("`[rear.wheel]`"));
        assert_eq!(home("camber", "car").as_deref(), Some("`[front.wheel]` or `[rear.wheel]`"));
        assert_eq!(home("cg-height", "").as_deref(), Some("`[car]`"));
        assert_eq!(home("colour", "car"), None);
        assert_eq!(near_home("loaded-raduis", "rear"), Some(("loaded-radius", "`[rear.wheel]`".to_string())));
        assert_eq!(
            kinds_with("upper-arm", "strut").as_deref(),
            Some("it belongs to the kind \"double-wishbone\"")
        );
        assert_eq!(kinds_with("lower-arm", "strut"), None);
    }
}

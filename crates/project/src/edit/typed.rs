//! Values as a person typed them, and what the file wants in each place.

use units::{Dimension, ParseError, UnitSystem};

use super::error::EditError;
use super::spell;

/// What a key holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Role {
    /// A number, or a text with a unit.
    Quantity(Dimension),
    /// A list of such.
    List(Dimension),
    /// A word, a name, a sentence.
    Text,
    /// A list of words.
    Words,
    /// A number where the text is one, else a text: what the reader makes of it is seen when it reads.
    Either,
}

/// What the key at a path holds. The reader decides what is right; this only decides what needs quotes and which
/// mistakes are told before the file is touched.
pub(crate) fn role(path: &str) -> Role {
    use Dimension::{Angle, Force, Length, Mass, Pitch, Rate, Ratio};
    let (table, key) = path.rsplit_once('.').unwrap_or(("", path));
    if let Some(of_setup) = path.strip_prefix("setup.") {
        // Tables of a setup are named as the car's own; what is left is the names of its holes.
        let own = of_setup.split_once('.').map(|(_, own)| own).filter(|own| !own.starts_with("holes"));
        return own.map_or(Role::Text, role);
    }
    if table == "units" || table == "survey" && key != "accuracy" {
        return Role::Text;
    }
    if table == "unsprung" {
        return Role::Quantity(Mass);
    }
    if table == "build.frame.nodes" {
        return Role::List(Length);
    }
    if let Some(role) = weights(table, key).or_else(|| whole_car(table, key)) {
        return role;
    }
    match key {
        "wheelbase" | "cg-height" | "loaded-radius" | "rim-diameter" | "travel" | "accuracy" => {
            Role::Quantity(Length)
        }
        "x" | "z" if table.starts_with("survey.datum") => Role::Quantity(Length),
        "toe" | "camber" => Role::Quantity(Angle),
        "rate" => Role::Quantity(Rate),
        "force" => Role::Quantity(Force),
        "front-share" | "spacing" | "edge" => Role::Quantity(Ratio),
        "thread" => Role::Quantity(Pitch),
        "travels" | "link-length" => Role::List(Length),
        "along" | "normal" => Role::List(Ratio),
        "between" | "bodies" | "steering-axis" => Role::Words,
        "name" | "driven" | "kind" | "brakes" | "final-drive" | "steered" | "sleeve" | "on" | "body-on"
        | "end" | "axle" | "type" => Role::Text,
        _ => Role::Either,
    }
}

/// What the keys of the tables about weights hold.
fn weights(table: &str, key: &str) -> Option<Role> {
    use Dimension::{Angle, Length, Mass, Pitch, Rate, Ratio};
    if !["weigh", "driver", "fuel"].iter().any(|top| table.split('.').next() == Some(top)) {
        return None;
    }
    Some(match key {
        "accuracy" if matches!(table, "weigh.level" | "weigh.raised") => Role::Quantity(Mass),
        "front-left" | "front-right" | "rear-left" | "rear-right" | "low" | "high" | "mass" | "total" => {
            Role::Quantity(Mass)
        }
        "pads" | "hubs" | "wheelbase" | "front-track" | "rear-track" | "accuracy" => Role::Quantity(Length),
        "yaw" | "pitch" | "roll" | "width" | "height" => Role::Quantity(Length),
        "angle" => Role::Quantity(Angle),
        "at" | "size" => Role::List(Length),
        "tyre-rate" | "wheel-rate" | "bar-rate" => Role::Quantity(Rate),
        "perch" => Role::Quantity(Pitch),
        "fuel" | "share" | "cross" | "motion-ratio" => Role::Quantity(Ratio),
        "driver" | "end" | "wheels" | "suspension" => Role::Text,
        _ => return None,
    })
}

/// What the keys of tyres, brakes, springs, bars, air and the stop hold.
fn whole_car(table: &str, key: &str) -> Option<Role> {
    use Dimension::{
        Acceleration, Angle, Area, CorneringStiffness, Damping, Density, Force, Length, Mass, Pressure, Rate,
        Ratio, Speed, Temperature, Time, Torque,
    };
    let dimension = match (table.rsplit('.').next().unwrap_or(table), key) {
        ("disc", "pistons") => return Some(Role::List(Length)),
        ("tyre", "loads") => return Some(Role::List(Force)),
        ("tyre", "vertical-rate" | "lateral-rate") => Rate,
        ("tyre", "nominal-load" | "stiffest-load" | "slip-stiffness") => Force,
        ("tyre", "friction" | "friction-along" | "friction-across" | "load-sensitivity") => Ratio,
        ("tyre", "cornering-stiffness") => CorneringStiffness,
        ("tyre", "pressure") | ("valve", "knee") | ("disc" | "drum", "threshold") | ("drum", "at") => {
            Pressure
        }
        ("pedal", "ratio" | "efficiency" | "bias") | ("valve", "slope") | ("disc", "friction") => Ratio,
        ("pedal", "front-master" | "rear-master" | "tandem") => Length,
        ("disc", "pad-outer" | "pad-inner" | "effective-radius" | "diameter") => Length,
        ("disc", "mass") => Mass,
        ("disc", "area") => Area,
        ("drum", "torque") => Torque,
        ("bar", "diameter" | "bore" | "length" | "arm" | "blade-width" | "blade-thickness") => Length,
        ("bar", "link-angle") => Angle,
        ("bump-stop" | "rebound-stop", "gap") => Length,
        ("damper", "bump" | "rebound") => Damping,
        ("aero", "density") => Density,
        ("aero", "drag-height") => Length,
        ("aero", "drag-area" | "front-downforce-area" | "rear-downforce-area") => Area,
        ("stop", "from" | "to") => Speed,
        ("stop", "deceleration") => Acceleration,
        ("stop", "rise" | "pause") => Time,
        ("stop", "air") => Temperature,
        _ => return None,
    };
    Some(Role::Quantity(dimension))
}

/// TOML for what was typed. `old` is the source of what stands there now.
pub(crate) fn toml(
    name: &str,
    text: &str,
    role: Role,
    old: Option<&str>,
    units: &UnitSystem,
) -> Result<String, EditError> {
    let text = text.trim();
    let members = || {
        let inner = text.strip_prefix('[').and_then(|inner| inner.strip_suffix(']')).unwrap_or(text);
        inner.split(',').map(|member| member.trim().trim_matches('"')).filter(|member| !member.is_empty())
    };
    match role {
        Role::Quantity(dimension) => quantity(name, text, dimension, old, units),
        Role::List(dimension) => {
            let written: Result<Vec<_>, _> =
                members().map(|member| quantity(name, member, dimension, None, units)).collect();
            Ok(format!("[{}]", written?.join(", ")))
        }
        Role::Text => Ok(spell::text(text, old)),
        Role::Words => {
            let words: Vec<_> = members().map(|member| spell::text(member, None)).collect();
            Ok(format!("[{}]", words.join(", ")))
        }
        Role::Either => {
            let was_text = old.is_some_and(|old| old.starts_with(['"', '\'']));
            let bare = spell::is_number(text) && !was_text || text == "true" || text == "false";
            Ok(if bare { text.to_string() } else { spell::text(text, old) })
        }
    }
}

/// TOML for a typed quantity.
pub(crate) fn quantity(
    name: &str,
    text: &str,
    dimension: Dimension,
    old: Option<&str>,
    units: &UnitSystem,
) -> Result<String, EditError> {
    let text = text.trim();
    units::parse(text, dimension, units)
        .map_err(|source| EditError::Typed { name: name.to_string(), source })?;
    Ok(if spell::is_number(text) { text.to_string() } else { spell::text(text, old) })
}

/// A typed length, as TOML.
pub(crate) fn length(text: &str, old: Option<&str>, units: &UnitSystem) -> Result<String, ParseError> {
    let text = text.trim();
    units::parse(text, Dimension::Length, units)?;
    Ok(if spell::is_number(text) { text.to_string() } else { spell::text(text, old) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(path: &str, text: &str, expect: &str) {
        let written = toml(path, text, role(path), None, &UnitSystem::default());
        assert_eq!(written.as_deref(), Ok(expect));
    }

    #[test]
    fn writes_what_was_typed() {
        check("rear.wheel.toe", " 0.1 ", "0.1");
        check("rear.wheel.toe", "0° 6'", "\"0° 6'\"");
        check("car.name", "1989", "\"1989\"");
        check("units.force", "lbf", "\"lbf\"");
        check("rear.spring.force", "5200", "5200");
        check("choose.travels", "-50, 50", "[-50, 50]");
        check("choose.travels", "[-2 in, 2 in]", "[\"-2 in\", \"2 in\"]");
        check("rear.link.toe.thread", "M12x1.25", "\"M12x1.25\"");
        check("rear.plate.p.bolt", "M12", "\"M12\"");
        check("rear.plate.p.bolt", "12", "12");
        check("survey.x", "rearward from front axle", "\"rearward from front axle\"");
        check("survey.accuracy", "1.5", "1.5");
        check("rear.joint.j.between", "ground, upright", "[\"ground\", \"upright\"]");
        check("front.disc.pistons", "38, 38", "[38, 38]");
        check("tyre.loads", "[600, 7.5 kN]", "[600, \"7.5 kN\"]");
        check("rear.disc.vented", "true", "true");
        check("stop.from", "120 mph", "\"120 mph\"");
        check("setup.wet.pedal.bias", "0.52", "0.52");
        check("setup.wet.rear.disc.pistons", "36", "[36]");
        check("setup.wet.holes.rear.link.a.body", "1", "\"1\"");
    }

    #[test]
    fn tells_what_cannot_be_read() {
        let error = toml("rear.wheel.toe", "a bit", role("rear.wheel.toe"), None, &UnitSystem::default());
        assert!(matches!(error, Err(EditError::Typed { .. })), "{error:?}");
    }
}

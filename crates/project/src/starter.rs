//! Files to start from, one a kind.

mod begin;

use units::{Dimension, LengthUnit, UnitSystem};

pub use begin::{Beginning, starter_axle};

/// The kinds of suspension that have a name in the file.
pub const KINDS: [&str; 6] =
    ["five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links"];

const HEAD: &str = include_str!("starters/head.toml");

/// A commented file with one axle of a kind, ready to edit and valid as it is, in the units of `units`. `None` for
/// a kind that is not one of [`KINDS`].
pub fn starter(kind: &str, units: &UnitSystem) -> Option<String> {
    let axle = template(kind)?;
    Some(HEAD.lines().chain(axle.lines()).map(|line| fill(line, units) + "\n").collect())
}

/// The axle of a kind, with blanks for its lengths; `[choose]` behind it.
fn template(kind: &str) -> Option<&'static str> {
    Some(match kind {
        "five-link" => include_str!("starters/five-link.toml"),
        "double-wishbone" => include_str!("starters/double-wishbone.toml"),
        "strut" => include_str!("starters/strut.toml"),
        "trailing-blade" => include_str!("starters/trailing-blade.toml"),
        "semi-trailing-arm" => include_str!("starters/semi-trailing-arm.toml"),
        "links" => include_str!("starters/links.toml"),
        _ => return None,
    })
}

/// The head of a car file without any axle: what a car begins with on the screen, before its kind is chosen.
pub fn blank(name: &str) -> String {
    let name: String = name.chars().filter(|c| !c.is_control() && !matches!(c, '"' | '\\')).collect();
    format!("soapstone = 1\n\n[car]\nname = \"{name}\"\n")
}

/// Column in which comments begin.
const COMMENT: usize = 37;

/// Fills the blanks of one line: `{305}` is a length in mm, `{rate:62}` a rate in N/mm, `{load:5200}` a force in N,
/// `{travel:50}` a wheel travel in mm, `{length}` the name of a unit. A blank has no spaces in it, so that inline tables are not taken for one.
fn fill(line: &str, units: &UnitSystem) -> String {
    let mut out = String::new();
    let mut rest = line;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((blank, tail)) = after.split_once('}').filter(|(blank, _)| !blank.contains(' ')) else {
            out.push('{');
            rest = after;
            continue;
        };
        let in_text = out.matches('"').count() % 2 == 1;
        match value(blank, units, in_text) {
            Some(value) => out.push_str(&value),
            None => out.push_str(&format!("{{{blank}}}")),
        }
        rest = tail;
    }
    out.push_str(rest);
    align(&out)
}

/// Puts the comment behind a value back into its column.
fn align(line: &str) -> String {
    match line.rsplit_once('#') {
        Some((code, comment)) if !code.trim().is_empty() => {
            format!("{:<width$}#{comment}", code.trim_end().to_string() + " ", width = COMMENT)
        }
        _ => line.to_string(),
    }
}

fn value(blank: &str, units: &UnitSystem, in_text: bool) -> Option<String> {
    let shown = |number: f64, si: f64, dimension| (number * si / units.factor(dimension)).round().to_string();
    match blank.split_once(':') {
        Some(("rate", number)) => Some(shown(number.parse().ok()?, 1e3, Dimension::Rate)),
        Some(("travel", number)) => Some(travel(number.parse().ok()?, units.length)),
        Some(("load", number)) => Some(shown(number.parse().ok()?, 1.0, Dimension::Force)),
        Some(_) => None,
        None => match blank {
            "length" => Some(units.length.symbol().to_string()),
            "mass" => Some(units.mass.symbol().to_string()),
            "force" => Some(units.force.symbol().to_string()),
            number => Some(length(number, units.length, in_text)).filter(|_| number.parse::<f64>().is_ok()),
        },
    }
}

/// A wheel travel in round figures: 25 mm count as an inch.
fn travel(millimetres: f64, unit: LengthUnit) -> String {
    let inches = millimetres / 25.0;
    match unit {
        LengthUnit::Millimetre => millimetres.to_string(),
        LengthUnit::Metre => (millimetres * 1e-3).to_string(),
        LengthUnit::Inch => inches.to_string(),
        LengthUnit::Foot => format!("\"{inches} in\""),
    }
}

/// A length of whole millimetres in another unit; inches to the nearest 1/16, in quotes where a fraction needs them.
fn length(millimetres: &str, unit: LengthUnit, in_text: bool) -> String {
    let metres = millimetres.parse::<f64>().unwrap_or_default() * 1e-3;
    match unit {
        LengthUnit::Millimetre => millimetres.to_string(),
        LengthUnit::Inch => {
            let shown = units::show::inch_fraction(metres, 16);
            let shown = shown.trim_end_matches('"');
            if shown.contains('/') && !in_text { format!("\"{shown}\"") } else { shown.to_string() }
        }
        LengthUnit::Metre | LengthUnit::Foot => {
            let number = format!("{:.4}", metres / unit.to_si());
            let number = number.trim_end_matches('0').trim_end_matches('.');
            if number == "-0" { "0".to_string() } else { number.to_string() }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::{ForceUnit, MassUnit};

    #[test]
    fn fills_blanks_in_the_units_of_the_car() {
        let metric = UnitSystem::default();
        let inch = UnitSystem {
            length: LengthUnit::Inch,
            mass: MassUnit::Pound,
            force: ForceUnit::PoundForce,
            ..metric
        };
        assert_eq!(fill("a = [{0}, {-120}]", &metric), "a = [0, -120]");
        assert_eq!(fill("a = [{0}, {-120}]", &inch), "a = [0, \"-4 3/4\"]");
        assert_eq!(fill("a = \"{480} ± {20}\"", &inch), "a = \"18 7/8 ± 13/16\"");
        assert_eq!(fill("r = {rate:62}", &inch), "r = 354");
        assert_eq!(fill("h = { \"a\" = \"A\" }", &metric), "h = { \"a\" = \"A\" }");
        assert_eq!(starter("teapot", &metric), None);
    }
}

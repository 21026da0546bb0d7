//! Sections as people write them: `box 60x40x3`, `tube 1 x 0.095 in`, `flat 50x6`.

use crate::error::SteelError;
use crate::section::Shape;

/// Metres an inch.
const INCH: f64 = 0.0254;

/// Least and greatest outer size that is taken for meant [m].
const SIZES: (f64, f64) = (2e-3, 1.0);

/// Least wall that is taken for meant [m].
const LEAST_WALL: f64 = 0.2e-3;

/// Design wall of ASTM A500 tube over its nominal wall (AISC 360 B4.2; read in AISC tables that print both).
const A500_WALL: f64 = 0.93;

/// An example for each kind.
const EXAMPLES: [(&str, &str); 5] = [
    ("tube", "tube 25x2.5"),
    ("box", "box 60x40x3"),
    ("hss", "hss 4x2x1/8 in"),
    ("bar", "bar 12"),
    ("flat", "flat 50x6"),
];

/// Reads a section.
///
/// `tube` outer diameter x wall; `box` height x width x wall (a square one also side x wall); `hss` the same, ASTM A500 by
/// its nominal wall; `bar` diameter; `flat` height x thickness. Millimetres, or inches with `in` or `"` at the end;
/// fractions such as `1/8`, `1-1/2` and `1 1/2` are understood. Corners of boxes: outer radius 2 walls up to 6 mm, 2.5 up
/// to 10 mm, 3 above (EN 10219-2; read in a trade table that quotes it).
///
/// # Errors
/// A text that names no section, or a section that cannot be.
pub fn shape(text: &str) -> Result<Shape, SteelError> {
    let lower = text.trim().to_lowercase().replace('×', "x");
    let wrong = |reason, kind: &str| SteelError::NotAShape {
        text: text.trim().to_owned(),
        reason,
        example: EXAMPLES
            .iter()
            .find(|(name, _)| *name == kind)
            .map_or("box 60x40x3", |(_, example)| example),
    };
    let split = lower.find(|c: char| !c.is_alphabetic()).unwrap_or(lower.len());
    let (word, rest) = lower.split_at(split);
    let kind = match word {
        "tube" | "round" | "pipe" => "tube",
        "box" | "square" | "rectangle" | "rect" => "box",
        "hss" => "hss",
        "bar" | "rod" => "bar",
        "flat" | "plate" => "flat",
        _ => return Err(wrong("it must begin with tube, box, hss, bar or flat", "box")),
    };
    // The unit at the end holds for every size that has none of its own.
    let unit_at_end = unit(rest).1.unwrap_or(1e-3);
    let mut sizes = Vec::new();
    for figure in rest.split('x') {
        let (figure, own) = unit(figure);
        let size = number(figure).ok_or_else(|| wrong("a size in it is not a number", kind))?;
        sizes.push(size * own.unwrap_or(unit_at_end));
    }
    let shape = match (kind, sizes.as_slice()) {
        ("tube", &[diameter, wall]) => Shape::Round { diameter, wall },
        ("box", &[height, width, wall]) => rounded(height, width, wall),
        ("box", &[side, wall]) => rounded(side, side, wall),
        ("hss", &[height, width, wall]) => rounded(height, width, wall * A500_WALL),
        ("hss", &[side, wall]) => rounded(side, side, wall * A500_WALL),
        ("bar", &[diameter]) => Shape::Bar { diameter },
        ("flat", &[height, width]) => Shape::Flat { height, width },
        ("tube", _) => return Err(wrong("a tube has two sizes: outer diameter and wall", kind)),
        ("bar", _) => return Err(wrong("a bar has one size: its diameter", kind)),
        ("flat", _) => return Err(wrong("a flat has two sizes: width and thickness", kind)),
        _ => return Err(wrong("a box has three sizes: height, width and wall", kind)),
    };
    sane(shape).map_err(|fault| fault.unwrap_or_else(|| wrong(reason_of_size(unit_at_end), kind)))
}

/// Why a size is out of reason, by the unit in which it was read.
fn reason_of_size(unit: f64) -> &'static str {
    if unit < INCH {
        "a size is out of all reason in millimetres (write `in` at the end if inches are meant)"
    } else {
        "a size is out of all reason in inches (leave `in` away if millimetres are meant)"
    }
}

/// A box with the corners of EN 10219-2.
fn rounded(height: f64, width: f64, wall: f64) -> Shape {
    let walls = if wall <= 6.0005e-3 {
        2.0
    } else if wall <= 10.0005e-3 {
        2.5
    } else {
        3.0
    };
    // Small boxes with thick walls have no room for such corners.
    let corner = (walls * wall).min(height.min(width) / 2.0);
    Shape::Box { height, width, wall, corner }
}

/// Passes a section that can be; otherwise what is wrong, or nothing where a size is out of reason.
fn sane(shape: Shape) -> Result<Shape, Option<SteelError>> {
    let (sizes, wall) = match shape {
        Shape::Round { diameter, wall } => ([diameter, diameter], Some(wall)),
        Shape::Box { height, width, wall, .. } => ([height, width], Some(wall)),
        Shape::Bar { diameter } => ([diameter, diameter], None),
        Shape::Flat { height, width } => {
            // The thin side of a flat is held to the measure of a wall.
            ([height.max(width), height.max(width)], Some(height.min(width) / 2.0))
        }
    };
    let reason = sizes.iter().all(|size| (SIZES.0..=SIZES.1).contains(size));
    if !reason || wall.is_some_and(|wall| wall < LEAST_WALL) {
        return Err(None);
    }
    let least = sizes.iter().fold(f64::INFINITY, |least, size| least.min(*size));
    match (shape, wall) {
        (Shape::Round { .. } | Shape::Box { .. }, Some(wall)) if wall >= least / 2.0 => {
            Err(Some(SteelError::WallTooThick { wall, size: least }))
        }
        _ => Ok(shape),
    }
}

/// The text before a unit at its end, and that unit [m].
fn unit(text: &str) -> (&str, Option<f64>) {
    let text = text.trim();
    for (end, unit) in [("mm", 1e-3), ("inches", INCH), ("inch", INCH), ("in", INCH), ("\"", INCH)] {
        if let Some(figures) = text.strip_suffix(end) {
            return (figures.trim(), Some(unit));
        }
    }
    (text, None)
}

/// A number as written on a drawing: `2.5`, `2,5`, `1/8`, `1-1/8`, `1 1/8`.
fn number(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let plain =
        |part: &str| part.trim().parse::<f64>().ok().filter(|value| value.is_finite() && *value > 0.0);
    let Some((above, below)) = text.split_once('/') else { return plain(&text) };
    match above.trim().split_once(['-', ' ']) {
        Some((whole, above)) => Some(plain(whole)? + plain(above)? / plain(below)?),
        None => Some(plain(above)? / plain(below)?),
    }
}

//! A drawing as plain data, in millimetres: what DXF and STEP are written from.

use std::borrow::Cow;

use crate::error::ExchangeError;

/// Farthest coordinate of a drawing \[mm\]: a hundred metres, far beyond any car. Coordinates are written to nine
/// decimals, so that they keep fourteen digits.
pub const FARTHEST_MM: f64 = 1e5;

/// What a shape is for: the machine that cuts and the hand that marks pick their shapes by it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Layer {
    name: Cow<'static, str>,
    colour: u8,
}

impl Layer {
    /// Outlines to be cut through.
    pub const CUT: Self = Self::fixed("cut", 7);
    /// Holes to be drilled, at their finished diameter.
    pub const DRILL: Self = Self::fixed("drill", 1);
    /// Lines and crosses to be scribed or centre-punched.
    pub const MARK: Self = Self::fixed("mark", 5);
    /// Lines to bend along.
    pub const BEND: Self = Self::fixed("bend", 3);
    /// Words and figures to be read, not made.
    pub const NOTE: Self = Self::fixed("note", 8);
    /// What stands about the part and is not made from it.
    pub const REFERENCE: Self = Self::fixed("reference", 9);

    const fn fixed(name: &'static str, colour: u8) -> Self {
        Self { name: Cow::Borrowed(name), colour }
    }

    /// A layer of one's own; `colour` is an index of the DXF table of colours, 1 to 255.
    ///
    /// # Errors
    /// A name that is empty, longer than 255, or has other signs than letters, figures, `-`, `_` and blanks; a
    /// colour of 0.
    pub fn new(name: &str, colour: u8) -> Result<Self, ExchangeError> {
        let sound = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | ' ');
        if name.trim() != name || name.is_empty() || name.chars().count() > 255 || !name.chars().all(sound) {
            return Err(ExchangeError::LayerName { name: name.to_string() });
        }
        if colour == 0 {
            return Err(ExchangeError::LayerColour { name: name.to_string(), colour });
        }
        Ok(Self { name: Cow::Owned(name.to_string()), colour })
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its colour, an index of the DXF table of colours.
    pub fn colour(&self) -> u8 {
        self.colour
    }
}

/// A shape of a drawing \[mm\]. A flat drawing has z = 0 throughout.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A place.
    Point {
        /// Where \[mm\].
        at: [f64; 3],
    },
    /// A straight line.
    Line {
        /// One end \[mm\].
        from: [f64; 3],
        /// The other end \[mm\].
        to: [f64; 3],
    },
    /// Straight lines from point to point.
    Polyline {
        /// At least two \[mm\].
        points: Vec<[f64; 3]>,
        /// Whether the last is joined to the first.
        closed: bool,
    },
    /// A circle.
    Circle {
        /// Its centre \[mm\].
        centre: [f64; 3],
        /// The direction that it faces, of any length; `[0, 0, 1]` in a flat drawing.
        normal: [f64; 3],
        /// Its radius \[mm\].
        radius: f64,
    },
    /// Part of a circle in the x-y plane, or parallel to it.
    Arc {
        /// Centre of the circle \[mm\].
        centre: [f64; 3],
        /// Its radius \[mm\].
        radius: f64,
        /// Where it begins \[deg\], counter-clockwise from x.
        from_deg: f64,
        /// Where it ends \[deg\], counter-clockwise from where it begins.
        to_deg: f64,
    },
    /// A line of text in the x-y plane, or parallel to it.
    Text {
        /// Left end of the line that the letters stand on \[mm\].
        at: [f64; 3],
        /// Height of a capital letter \[mm\].
        height: f64,
        /// Direction of reading \[deg\], counter-clockwise from x.
        rotation_deg: f64,
        /// The words. What would begin a new line becomes a blank.
        text: String,
    },
}

/// A shape with its name and its purpose.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is for.
    pub layer: Layer,
    /// What it is, such as the name of a point. STEP carries it; DXF has no place for it.
    pub name: String,
    /// The shape.
    pub shape: Shape,
}

/// A drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Everything in it, in drawing order.
    pub items: Vec<Item>,
}

impl Drawing {
    /// Adds a shape.
    pub fn add(&mut self, layer: Layer, name: impl Into<String>, shape: Shape) {
        self.items.push(Item { layer, name: name.into(), shape });
    }

    /// The layers in use, each once, in order of their first use.
    pub fn layers(&self) -> Vec<&Layer> {
        let mut layers: Vec<&Layer> = Vec::new();
        for item in &self.items {
            if !layers.iter().any(|layer| layer.name() == item.layer.name()) {
                layers.push(&item.layer);
            }
        }
        layers
    }

    /// Least and greatest coordinates of all that is drawn \[mm\], texts by the place where they begin; circles and
    /// arcs by a cube about the whole circle. `None` for an empty drawing.
    pub fn bounds(&self) -> Option<([f64; 3], [f64; 3])> {
        let mut bounds: Option<([f64; 3], [f64; 3])> = None;
        for item in &self.items {
            for (point, reach) in item.shape.places() {
                let (low, high) = bounds.get_or_insert((point, point));
                for ((low, high), p) in low.iter_mut().zip(high.iter_mut()).zip(point) {
                    *low = low.min(p - reach);
                    *high = high.max(p + reach);
                }
            }
        }
        bounds
    }

    /// Whether every shape can be drawn.
    ///
    /// # Errors
    /// The first shape that cannot, by its number and name; an empty drawing.
    pub fn check(&self) -> Result<(), ExchangeError> {
        if self.items.is_empty() {
            return Err(ExchangeError::Nothing);
        }
        self.items.iter().enumerate().try_for_each(|(index, item)| item.check(index + 1))
    }
}

impl Shape {
    /// Its points, each with how far the shape reaches about it.
    fn places(&self) -> Vec<([f64; 3], f64)> {
        match self {
            Self::Point { at } | Self::Text { at, .. } => vec![(*at, 0.0)],
            Self::Line { from, to } => vec![(*from, 0.0), (*to, 0.0)],
            Self::Polyline { points, .. } => points.iter().map(|p| (*p, 0.0)).collect(),
            Self::Circle { centre, radius, .. } | Self::Arc { centre, radius, .. } => {
                vec![(*centre, *radius)]
            }
        }
    }
}

impl Item {
    fn check(&self, item: usize) -> Result<(), ExchangeError> {
        let name = || self.name.clone();
        let near = |v: f64| v.abs() <= FARTHEST_MM;
        let places = self.shape.places();
        if !places.iter().all(|(p, reach)| p.iter().all(|v| near(*v)) && near(*reach)) {
            return Err(ExchangeError::Coordinate { item, name: name() });
        }
        let no_size = |what| Err(ExchangeError::NoSize { item, name: name(), what });
        match &self.shape {
            Shape::Polyline { points, .. } if points.len() < 2 => {
                Err(ExchangeError::TooFewPoints { item, name: name(), found: points.len() })
            }
            Shape::Line { from, to } if from == to => no_size("length"),
            Shape::Circle { radius, .. } | Shape::Arc { radius, .. } if *radius <= 0.0 => no_size("radius"),
            Shape::Circle { normal, .. } if unit(*normal).is_none() => no_size("normal"),
            Shape::Arc { from_deg, to_deg, .. } if !near(*from_deg) || !near(*to_deg) => {
                Err(ExchangeError::Coordinate { item, name: name() })
            }
            Shape::Arc { from_deg, to_deg, .. } if from_deg == to_deg => no_size("sweep"),
            Shape::Text { rotation_deg, height, .. } if !near(*rotation_deg) || !near(*height) => {
                Err(ExchangeError::Coordinate { item, name: name() })
            }
            Shape::Text { height, .. } if *height <= 0.0 => no_size("height"),
            Shape::Text { text, .. } if text.trim().is_empty() => no_size("text"),
            _ => Ok(()),
        }
    }
}

/// The direction of a vector; `None` where it has none.
pub(crate) fn unit([x, y, z]: [f64; 3]) -> Option<[f64; 3]> {
    let length = x.hypot(y).hypot(z);
    (length.is_finite() && length > 1e-12).then(|| [x / length, y / length, z / length])
}

pub(crate) fn cross([a, b, c]: [f64; 3], [x, y, z]: [f64; 3]) -> [f64; 3] {
    [b * z - c * y, c * x - a * z, a * y - b * x]
}

pub(crate) fn dot([a, b, c]: [f64; 3], [x, y, z]: [f64; 3]) -> f64 {
    a * x + b * y + c * z
}

/// The x and y directions of the plane that faces along a unit vector, by the rule of DXF ("arbitrary axis": from
/// the world's y where the normal is within 1/64 of the world's z, else from z), so that both formats turn alike.
pub(crate) fn plane(normal: [f64; 3]) -> [[f64; 3]; 2] {
    let [nx, ny, _] = normal;
    const NEAR_Z: f64 = 1.0 / 64.0;
    let from = if nx.abs() < NEAR_Z && ny.abs() < NEAR_Z { [0.0, 1.0, 0.0] } else { [0.0, 0.0, 1.0] };
    let x = unit(cross(from, normal)).unwrap_or([1.0, 0.0, 0.0]);
    [x, cross(normal, x)]
}

/// A number with up to `decimals` decimals, at least one, and never `-0.0`.
pub(crate) fn decimal(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = text.trim_end_matches('0');
    let text = if text.ends_with('.') { format!("{text}0") } else { text.to_string() };
    if text == "-0.0" { "0.0".into() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(shape: Shape) -> Drawing {
        let mut drawing = Drawing::default();
        drawing.add(Layer::CUT, "it", shape);
        drawing
    }

    #[test]
    fn tells_what_cannot_be_drawn() {
        let check = |shape: Shape, words: &str| {
            let error = drawn(shape).check().expect_err(words);
            assert!(error.to_string().contains(words), "{error}");
            assert!(error.hint().is_some());
        };
        let o = [0.0; 3];
        check(Shape::Point { at: [f64::NAN, 0.0, 0.0] }, "coordinate");
        check(Shape::Point { at: [0.0, 2e5, 0.0] }, "coordinate");
        check(Shape::Line { from: o, to: o }, "length is nothing");
        check(Shape::Polyline { points: vec![o], closed: true }, "1 points");
        check(Shape::Circle { centre: o, normal: [0.0, 0.0, 1.0], radius: 0.0 }, "radius");
        check(Shape::Circle { centre: o, normal: o, radius: 1.0 }, "normal");
        check(Shape::Arc { centre: o, radius: 1.0, from_deg: 3.0, to_deg: 3.0 }, "sweep");
        check(Shape::Text { at: o, height: 5.0, rotation_deg: 0.0, text: " ".into() }, "text");
        assert!(matches!(Drawing::default().check(), Err(ExchangeError::Nothing)));
        assert!(Layer::new("cut|through", 7).is_err());
        assert!(Layer::new("cut", 0).is_err());
        assert_eq!(
            Layer::new("Blech außen", 4).map(|l| l.name().to_string()).ok().as_deref(),
            Some("Blech außen")
        );
    }

    #[test]
    fn bounds_hold_everything() {
        let mut drawing = drawn(Shape::Line { from: [1.0, 2.0, 3.0], to: [-1.0, 5.0, 0.0] });
        drawing.add(
            Layer::DRILL,
            "",
            Shape::Circle { centre: [10.0, 0.0, 0.0], normal: [0.0, 0.0, 1.0], radius: 2.0 },
        );
        let (low, high) = drawing.bounds().expect("something");
        assert_eq!((low, high), ([-1.0, -2.0, -2.0], [12.0, 5.0, 3.0]));
        assert_eq!(drawing.layers().len(), 2);
    }

    #[test]
    fn planes_are_right_handed() {
        for normal in [[0.0, 0.0, 1.0], [0.0, 0.0, -1.0], [1.0, 0.0, 0.0], [0.3, -0.4, 0.86]] {
            let n = unit(normal).expect("a direction");
            let [x, y] = plane(n);
            let z = cross(x, y);
            assert!(z.iter().zip(n).all(|(a, b)| (a - b).abs() < 1e-14), "{normal:?}");
        }
        assert_eq!(decimal(-0.0, 3), "0.0");
        assert_eq!(decimal(-1e-12, 9), "0.0");
        assert_eq!(decimal(12.5, 9), "12.5");
    }
}

//! A drawing or chart of `draw` as something that can be placed on a page.

use std::sync::Arc;

/// A drawing: SVG text with the classes of `draw`'s stylesheet, and its size.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    svg: Arc<str>,
    width: f64,
    height: f64,
}

impl Drawing {
    /// Takes an `<svg>` element with a width and a height in plain numbers; `None` where it has none.
    pub fn new(svg: &str) -> Option<Self> {
        let root = svg.strip_prefix("<svg")?;
        let root = root.get(..root.find('>')?)?;
        let number = |name: &str| -> Option<f64> {
            let from = root.find(&format!(" {name}=\""))? + name.len() + 3;
            let value = root.get(from..)?.split('"').next()?;
            value.trim_end_matches("px").parse().ok().filter(|v: &f64| v.is_finite() && *v > 0.0)
        };
        Some(Self { svg: svg.into(), width: number("width")?, height: number("height")? })
    }

    /// The SVG text.
    pub fn svg(&self) -> &str {
        &self.svg
    }

    /// Width and height in the drawing's own units.
    pub fn size(&self) -> (f64, f64) {
        (self.width, self.height)
    }

    /// Height [mm] when drawn `width` wide [mm].
    pub fn height_at(&self, width: f64) -> f64 {
        width * self.height / self.width
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_the_size_of_the_root() {
        let drawing = Drawing::new("<svg class=\"draw\" width=\"470\" height=\"300.5\"><g/></svg>").unwrap();
        assert_eq!(drawing.size(), (470.0, 300.5));
        assert!((drawing.height_at(94.0) - 60.1).abs() < 1e-12);
        for odd in
            ["", "<g/>", "<svg", "<svg>", "<svg width=\"a\" height=\"1\">", "<svg width=\"0\" height=\"1\">"]
        {
            assert_eq!(Drawing::new(odd), None, "{odd}");
        }
    }
}

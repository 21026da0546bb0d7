//! A page as a picture.

use resvg::tiny_skia::{Color, Pixmap, Transform};

use crate::document::Document;
use crate::error::PaperError;
use crate::font::Fonts;

/// Resolutions that are made [dpi]: below words cannot be read, above a page takes a gigabyte.
const RESOLUTIONS: std::ops::RangeInclusive<f64> = 20.0..=1200.0;

/// A page, by its number from 0, as PNG at a resolution [dpi]; 254 dpi is ten pixels a millimetre.
///
/// # Errors
/// Where there is no such page, a drawing on it is not well formed, or the resolution is out of range.
pub fn png(document: &Document, fonts: &Fonts, page: usize, dpi: f64) -> Result<Vec<u8>, PaperError> {
    let nth = page.saturating_add(1);
    let svg = document.svg(fonts, page)?;
    let size = document.size(page).ok_or(PaperError::NoPage { page: nth, count: document.len() })?;
    let (width, height) = (size.width * dpi / 25.4, size.height * dpi / 25.4);
    picture(&svg, fonts, dpi, (width, height)).map_err(|trouble| match trouble {
        Trouble::Svg(source) => PaperError::Svg { page: nth, source },
        Trouble::Size => PaperError::Size { page: nth, width, height },
        Trouble::Png(reason) => PaperError::Png { page: nth, reason },
    })
}

enum Trouble {
    Svg(usvg::Error),
    Size,
    Png(String),
}

fn picture(svg: &str, fonts: &Fonts, dpi: f64, (width, height): (f64, f64)) -> Result<Vec<u8>, Trouble> {
    if !RESOLUTIONS.contains(&dpi) {
        return Err(Trouble::Size);
    }
    let tree = usvg::Tree::from_str(svg, &fonts.options()).map_err(Trouble::Svg)?;
    let mut pixels = Pixmap::new(width.round() as u32, height.round() as u32).ok_or(Trouble::Size)?;
    pixels.fill(Color::WHITE);
    // The scale is the resolution itself; the last row of pixels may be a part of one.
    let scale = (dpi / 96.0) as f32;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| Trouble::Png(error.to_string()))
}

/// A drawing of [`draw`] as PNG on white, `scale` pixels to each of its own units.
///
/// # Errors
/// Where the drawing has no size or is not well formed, or the picture would be too large or too small.
pub fn drawing(svg: &str, fonts: &Fonts, scale: f64) -> Result<Vec<u8>, PaperError> {
    let of = crate::sheet::Drawing::new(svg);
    let (width, height) = of.map_or((0.0, 0.0), |drawing| drawing.size());
    let svg = draw::style::standalone_in(svg, draw::style::Theme::Print);
    let (width, height) = (width * scale, height * scale);
    picture(&svg, fonts, scale * 96.0, (width, height)).map_err(|trouble| match trouble {
        Trouble::Svg(source) => PaperError::Svg { page: 1, source },
        Trouble::Size => PaperError::Size { page: 1, width, height },
        Trouble::Png(reason) => PaperError::Png { page: 1, reason },
    })
}

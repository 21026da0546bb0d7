//! A pattern on pages at true scale: on one where it goes on one, else in tiles to be joined.

use draw::Rect;
use units::UnitSystem;

use super::drawing::{Drawing, drawing};
use super::list::{Calliper, list};
use super::pattern::{Pattern, TemplateError};
use super::strip;
use crate::document::Document;
use crate::flow::{Flow, pieces, pour};
use crate::font::Fonts;
use crate::sheet::{Align, Dash, Page, Shade, Size, Spot, Stroke, Type};

/// What neighbouring tiles have in common [mm].
const OVERLAP: f64 = 10.0;

/// Most tiles that are made: eight by eight sheets are wider than any car.
const MOST: usize = 64;

/// Least width of the list beside the drawing, and from one to the other [mm].
const LIST: f64 = 62.0;
const BESIDE: f64 = 6.0;

const TITLE: Type = Type::points(13.0).bold();
const WORDS: Type = Type::points(9.0);
const SEAM: Type = Type { size: 2.6, bold: true, shade: Shade::Ink };

/// How a drawing is cut into tiles. Windows are in millimetres from the drawing's upper left corner, y down.
pub(super) struct Tiling {
    /// The drawing's box; `top` is its lesser y, the lower edge.
    pub(super) content: Rect,
    window: Size,
    columns: usize,
    rows: usize,
}

impl Tiling {
    fn new(content: Rect, window: Size) -> Self {
        let along = |length: f64, room: f64| {
            let step = (room - OVERLAP).max(1.0);
            (((length - OVERLAP) / step) - 1e-9).ceil().clamp(1.0, 1e6) as usize
        };
        let columns = along(content.width(), window.width);
        let rows = along(content.height(), window.height);
        Self { content, window, columns, rows }
    }

    pub(super) fn count(&self) -> usize {
        self.columns.saturating_mul(self.rows)
    }

    fn corner(&self, column: usize, row: usize) -> Spot {
        (column as f64 * (self.window.width - OVERLAP), row as f64 * (self.window.height - OVERLAP))
    }

    /// What a tile shows.
    pub(super) fn window(&self, tile: usize) -> Rect {
        let (left, top) = self.corner(tile % self.columns, tile / self.columns);
        Rect {
            left,
            top,
            right: (left + self.window.width).min(self.content.width()),
            bottom: (top + self.window.height).min(self.content.height()),
        }
    }

    /// Crosses on the seams, the same on both tiles, and the seams' lines.
    fn seams(&self) -> Page {
        let mut page = Page::default();
        let line = Stroke::solid(0.13).shaded(Shade::Faint).dashed(Dash::Chain);
        let (width, height) = (self.content.width(), self.content.height());
        let mut crosses = Vec::new();
        for column in 1..self.columns {
            let x = self.corner(column, 0).0 + OVERLAP / 2.0;
            page.line((x, 0.0), (x, height), line);
            crosses.extend((0..self.rows).flat_map(|row| {
                let window = self.window(row * self.columns);
                [0.25, 0.75].map(|share| (x, window.top + share * window.height()))
            }));
        }
        for row in 1..self.rows {
            let y = self.corner(0, row).1 + OVERLAP / 2.0;
            page.line((0.0, y), (width, y), line);
            crosses.extend((0..self.columns).flat_map(|column| {
                let window = self.window(column);
                [0.25, 0.75].map(|share| (window.left + share * window.width(), y))
            }));
        }
        for (i, (x, y)) in crosses.into_iter().enumerate() {
            page.line((x - 4.0, y), (x + 4.0, y), Stroke::solid(0.2));
            page.line((x, y - 4.0), (x, y + 4.0), Stroke::solid(0.2));
            page.circle((x, y), 1.2, Some(Stroke::solid(0.2)), None);
            page.text((x + 1.1, y - 1.3), letters(i), SEAM, Align::Left);
        }
        page
    }
}

/// Names of seam crosses from the end of the alphabet, where no datum and few holes are: Z, Y, … P, then ZA, ZB, …
fn letters(nth: usize) -> String {
    const SINGLE: usize = 11;
    let letter = |from: u8, by: usize| char::from(from.wrapping_add(u8::try_from(by).unwrap_or_default()));
    if nth < SINGLE {
        return letter(b'P', SINGLE - 1 - nth).to_string();
    }
    let rest = nth - SINGLE;
    format!("{}{}", letter(b'P', (SINGLE - 1).saturating_sub(rest / 26)), letter(b'A', rest % 26))
}

/// Adds a pattern's pages to a document: the drawing at 1:1 with the list of its distances, on tiles of one paper where it is
/// larger than that. Lengths in the list are in the reader's millimetres or inches.
///
/// # Errors
/// Where the pattern is no plate, or larger than 64 pages.
pub fn sheets(
    document: &mut Document,
    fonts: &Fonts,
    pattern: &Pattern,
    units: &UnitSystem,
) -> Result<(), TemplateError> {
    let drawing = drawing(fonts, pattern);
    let bounds = drawing.bounds;
    let sound = bounds.width().is_finite() && bounds.height().is_finite() && pattern.outline.len() > 2;
    if !sound {
        return Err(TemplateError::NoArea { plate: pattern.title.clone() });
    }
    let upright = document.head().paper.size();
    let layouts = [upright, upright.turned()].map(|size| Layout::new(fonts, pattern, bounds, size));
    // Fewer tiles win, upright wins where both take as many.
    let [first, second] = layouts;
    let layout = if second.tiling.count() < first.tiling.count() { second } else { first };
    let tiles = layout.tiling.count();
    if tiles > MOST {
        return Err(TemplateError::TooLarge { plate: pattern.title.clone(), tiles, most: MOST });
    }
    let list = list(pattern, Calliper::new(units));
    let mut listed = false;
    for tile in 0..tiles {
        let mut page = Page::default();
        layout.head(&mut page, tile);
        strip::strip(fonts, &mut page, layout.foot, pattern, &layout.tiling, tile);
        if tiles == 1 {
            listed = layout.whole(fonts, &mut page, &drawing, &list);
        } else {
            layout.tile(&mut page, &drawing, tile);
        }
        document.sheet(layout.size, page, 2, if tile == 0 { &pattern.title } else { "" });
    }
    if !listed {
        let mut flow = Flow::new();
        flow.heading(2, format!("{}: distances", pattern.title));
        flow.append(list);
        document.flow(fonts, &flow);
    }
    Ok(())
}

/// What goes where on the pages.
struct Layout {
    size: Size,
    title: Vec<String>,
    words: Vec<String>,
    /// For the drawing.
    area: Rect,
    /// For the bars.
    foot: Rect,
    tiling: Tiling,
}

impl Layout {
    fn new(fonts: &Fonts, pattern: &Pattern, content: Rect, size: Size) -> Self {
        let frame = Document::frame(size);
        let mut title = fonts.wrap(&pattern.title, TITLE.bold, TITLE.size, frame.width());
        if title.len() > 2 {
            title = vec![fonts.elide(&pattern.title, TITLE.bold, TITLE.size, frame.width())];
        }
        let clearance = if pattern.clearance.is_empty() { "" } else { " · hole = " };
        let about = format!(
            "True scale 1:1, {}. {} hole{} for a {} mm bolt{clearance}{}",
            pattern.seen,
            pattern.holes.len(),
            if pattern.holes.len() == 1 { "" } else { "s" },
            Trimmed(pattern.bolt),
            pattern.clearance,
        );
        let words = fonts.wrap(&about, false, WORDS.size, frame.width());
        // One line is kept for the tile's number.
        let lines = words.len().min(3) + 1;
        let top = frame.top + title.len() as f64 * TITLE.size * 1.36 + lines as f64 * WORDS.size * 1.36 + 2.0;
        let foot = Rect { top: frame.bottom - strip::HEIGHT, ..frame };
        let area = Rect { top, bottom: foot.top - 3.0, ..frame };
        let window = Size { width: area.width(), height: area.height() };
        Self { size, title, words, area, foot, tiling: Tiling::new(content, window) }
    }

    fn head(&self, out: &mut Page, tile: usize) {
        let frame = Document::frame(self.size);
        let mut y = frame.top + TITLE.size;
        for line in &self.title {
            out.text((frame.left, y), line.clone(), TITLE, Align::Left);
            y += TITLE.size * 1.36;
        }
        y += WORDS.size - TITLE.size;
        for line in self.words.iter().take(3) {
            out.text((frame.left, y), line.clone(), WORDS, Align::Left);
            y += WORDS.size * 1.36;
        }
        let count = self.tiling.count();
        if count > 1 {
            let words = format!(
                "Tile {} of {count}: lay the crosses of the same letter over one another, edges cut along the thin lines.",
                tile + 1
            );
            out.text((frame.left, y), words, WORDS.bold(), Align::Left);
        }
    }

    /// The whole drawing, and the list beside or below it; whether that found room.
    fn whole(&self, fonts: &Fonts, out: &mut Page, drawing: &Drawing, list: &Flow) -> bool {
        let (area, bounds) = (self.area, drawing.bounds);
        let right = Rect { left: area.left + bounds.width() + BESIDE, ..area };
        let below = Rect { top: area.top + bounds.height() + BESIDE / 2.0, ..area };
        let room = [right, below].into_iter().find_map(|room| {
            if room.width() < LIST || room.height() < LIST / 4.0 {
                return None;
            }
            let size = Size { width: room.width(), height: room.height() };
            let mut poured = pour(&pieces(fonts, list, size), room);
            (poured.pages.len() == 1).then(|| poured.pages.pop()).flatten()
        });
        let left = match &room {
            Some(list) => {
                out.lay(list, (0.0, 0.0));
                area.left
            }
            None => area.left + (area.width() - bounds.width()) / 2.0,
        };
        out.lay(&drawing.page(|at| (left + at.0 - bounds.left, area.top + bounds.bottom - at.1)), (0.0, 0.0));
        room.is_some()
    }

    fn tile(&self, out: &mut Page, drawing: &Drawing, tile: usize) {
        let (area, bounds) = (self.area, drawing.bounds);
        let window = self.tiling.window(tile);
        let mut page = drawing.page(|at| (at.0 - bounds.left, bounds.bottom - at.1));
        page.lay(&self.tiling.seams(), (0.0, 0.0));
        let seen = Rect::sized(area.left, area.top, window.width(), window.height());
        out.window(seen, (area.left - window.left, area.top - window.top), page);
        out.rect(seen, Some(Stroke::solid(0.1).shaded(Shade::Pale)), None);
    }
}

/// A number without zeros at its end.
struct Trimmed(f64);

impl std::fmt::Display for Trimmed {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{:.2}", self.0);
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tiles_cover_the_whole_and_overlap() {
        let content = Rect::sized(0.0, 0.0, 500.0, 410.0);
        let tiling = Tiling::new(content, Size { width: 182.0, height: 210.0 });
        assert_eq!((tiling.columns, tiling.rows), (3, 2));
        let last = tiling.window(5);
        assert_eq!((last.right, last.bottom), (500.0, 410.0));
        let (a, b) = (tiling.window(0), tiling.window(1));
        assert!((a.right - b.left - OVERLAP).abs() < 1e-9);
        let (a, b) = (tiling.window(0), tiling.window(3));
        assert!((a.bottom - b.top - OVERLAP).abs() < 1e-9);
        // Just as large as a page is one page.
        assert_eq!(Tiling::new(Rect::sized(0.0, 0.0, 182.0, 210.0), tiling.window).count(), 1);
        assert_eq!(Tiling::new(Rect::sized(0.0, 0.0, 182.1, 210.0), tiling.window).count(), 2);
    }

    #[test]
    fn seam_names_differ() {
        let names: std::collections::BTreeSet<String> = (0..250).map(letters).collect();
        assert_eq!(names.len(), 250);
        assert_eq!((letters(0), letters(10), letters(11)), ("Z".into(), "P".into(), "ZA".into()));
    }
}

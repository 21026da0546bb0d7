//! A pattern on pages at true scale: on one where it goes on one, else in tiles to be joined.

use draw::Rect;
use units::UnitSystem;

use super::drawing::{Drawing, compass, plate};
use super::list::{Calliper, List, list};
use super::pattern::{Pattern, TemplateError};
use super::strip;
use crate::document::Document;
use crate::flow::{Flow, pieces, pour};
use crate::font::Fonts;
use crate::sheet::{Align, Dash, Item, Page, Shade, Size, Spot, Stroke, Type};

/// What neighbouring tiles have in common [mm].
const OVERLAP: f64 = 10.0;

/// Most tiles that are made: eight by eight sheets are wider than any car.
const MOST: usize = 64;

/// Least width of the list beside the drawing, and from one to the other [mm].
const LIST: f64 = 62.0;
const BESIDE: f64 = 6.0;

/// Narrowest place that anything is set into, and room above each part of the list [mm].
const LEAST: f64 = 40.0;
const APART: f64 = 1.6;

const TITLE: Type = Type::points(13.0).bold();
const WORDS: Type = Type::points(9.0);
/// Height of a line, in font sizes.
const LINE: f64 = 1.36;
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

    /// A tile's own part, up to the middle of each seam.
    pub(super) fn share(&self, tile: usize) -> Rect {
        let mut share = self.window(tile);
        let (column, row) = (tile % self.columns, tile / self.columns);
        let half = |seam: bool| if seam { OVERLAP / 2.0 } else { 0.0 };
        share.left += half(column > 0);
        share.top += half(row > 0);
        share.right -= half(column + 1 < self.columns);
        share.bottom -= half(row + 1 < self.rows);
        share
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
    let drawing = plate(fonts, pattern);
    let bounds = drawing.bounds;
    let sound = bounds.width().is_finite() && bounds.height().is_finite() && pattern.outline.len() > 2;
    if !sound {
        return Err(TemplateError::NoArea { plate: pattern.title.clone() });
    }
    let calliper = Calliper::new(units);
    let upright = document.head().paper.size();
    let layouts = [upright, upright.turned()].map(|size| Layout::new(fonts, pattern, bounds, size, calliper));
    // Fewer tiles win, upright wins where both take as many.
    let [first, second] = layouts;
    let layout = if second.tiling.count() < first.tiling.count() { second } else { first };
    let tiles = layout.tiling.count();
    if tiles > MOST {
        return Err(TemplateError::TooLarge { plate: pattern.title.clone(), tiles, most: MOST });
    }
    let list = list(pattern, calliper);
    let mut listed = false;
    for tile in 0..tiles {
        let mut page = Page::default();
        layout.head(fonts, &mut page, tile);
        strip::strip(fonts, &mut page, layout.foot, pattern, &layout.tiling, tile);
        if tiles == 1 {
            listed = layout.whole(fonts, &mut page, &drawing, &list);
        } else {
            layout.tile(fonts, &mut page, &drawing, tile);
        }
        document.sheet(layout.size, page, 2, if tile == 0 { &pattern.title } else { "" });
    }
    if !listed {
        let mut flow = Flow::new();
        flow.heading(2, format!("{}: distances", pattern.title));
        flow.append(list.whole());
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
    /// Arrows for the upper right corner.
    compass: Drawing,
}

impl Layout {
    fn new(fonts: &Fonts, pattern: &Pattern, content: Rect, size: Size, calliper: Calliper) -> Self {
        let frame = Document::frame(size);
        let compass = compass(fonts, pattern);
        let width = frame.width() - compass.bounds.width() - BESIDE;
        let mut title = fonts.wrap(&pattern.title, TITLE.bold, TITLE.size, width);
        if title.len() > 2 {
            title = vec![fonts.elide(&pattern.title, TITLE.bold, TITLE.size, width)];
        }
        let clearance = if pattern.clearance.is_empty() { "" } else { " · hole = " };
        let about = format!(
            "True scale 1:1, {}. {} hole{} for a {} bolt{clearance}{}",
            pattern.seen,
            pattern.holes.len(),
            if pattern.holes.len() == 1 { "" } else { "s" },
            calliper.diameter(pattern.bolt),
            pattern.clearance,
        );
        let words = fonts.wrap(&about, false, WORDS.size, width);
        // Two lines are kept for the tile's number.
        let lines = words.len().min(3) + 2;
        let text = title.len() as f64 * TITLE.size * LINE + lines as f64 * WORDS.size * LINE;
        let top = frame.top + text.max(compass.bounds.height()) + 2.0;
        let foot = Rect { top: frame.bottom - strip::HEIGHT, ..frame };
        let area = Rect { top, bottom: foot.top - 3.0, ..frame };
        let window = Size { width: area.width(), height: area.height() };
        Self { size, title, words, area, foot, tiling: Tiling::new(content, window), compass }
    }

    fn head(&self, fonts: &Fonts, out: &mut Page, tile: usize) {
        let frame = Document::frame(self.size);
        let mut y = frame.top + TITLE.size;
        for line in &self.title {
            out.text((frame.left, y), line.clone(), TITLE, Align::Left);
            y += TITLE.size * LINE;
        }
        y += WORDS.size - TITLE.size;
        for line in self.words.iter().take(3) {
            out.text((frame.left, y), line.clone(), WORDS, Align::Left);
            y += WORDS.size * LINE;
        }
        let count = self.tiling.count();
        if count > 1 {
            let words = format!(
                "Tile {} of {count}: cut along the thin lines, lay crosses of the same letter over one another.",
                tile + 1
            );
            let face = WORDS.bold();
            let width = frame.width() - self.compass.bounds.width() - BESIDE;
            for line in fonts.wrap(&words, true, face.size, width).into_iter().take(2) {
                out.text((frame.left, y), line, face, Align::Left);
                y += WORDS.size * LINE;
            }
        }
        let b = self.compass.bounds;
        out.lay(
            &self.compass.page(|at| (frame.right - b.right + at.0, frame.top + b.bottom - at.1)),
            (0.0, 0.0),
        );
    }

    /// The whole drawing, and the list beside or below it; whether that found room.
    fn whole(&self, fonts: &Fonts, out: &mut Page, drawing: &Drawing, list: &List) -> bool {
        let (area, bounds) = (self.area, drawing.bounds);
        let right = Rect { left: area.left + bounds.width() + BESIDE, ..area };
        let below = Rect { top: area.top + bounds.height() + BESIDE / 2.0, ..area };
        let room = beside(fonts, list, right).or_else(|| self::below(fonts, list, below));
        let left = match &room {
            Some((page, of)) => {
                out.lay(page, (0.0, 0.0));
                if of.left > area.left {
                    area.left
                } else {
                    area.left + (area.width() - bounds.width()) / 2.0
                }
            }
            None => area.left + (area.width() - bounds.width()) / 2.0,
        };
        out.lay(&drawing.page(|at| (left + at.0 - bounds.left, area.top + bounds.bottom - at.1)), (0.0, 0.0));
        room.is_some()
    }

    fn tile(&self, fonts: &Fonts, out: &mut Page, drawing: &Drawing, tile: usize) {
        let (area, bounds) = (self.area, drawing.bounds);
        let window = self.tiling.window(tile);
        let mut page = drawing.page(|at| (at.0 - bounds.left, bounds.bottom - at.1));
        page.lay(&self.tiling.seams(), (0.0, 0.0));
        // What no part of is seen would only be found again in the file's text.
        page.items.retain(|item| bounds_of(fonts, item).is_none_or(|of| of.meets(&window.grown(1.0))));
        let seen = Rect::sized(area.left, area.top, window.width(), window.height());
        out.window(seen, (area.left - window.left, area.top - window.top), page);
        out.rect(seen, Some(Stroke::solid(0.1).shaded(Shade::Pale)), None);
    }
}

/// The box of a thing of a drawing; `None` for what is always kept.
fn bounds_of(fonts: &Fonts, item: &Item) -> Option<Rect> {
    match item {
        Item::Text { at, words, face, align } => {
            let width = fonts.width(words, face.bold) * face.size;
            let left = match align {
                Align::Left => at.0,
                Align::Middle => at.0 - width / 2.0,
                Align::Right => at.0 - width,
            };
            Some(Rect::sized(left, at.1 - face.size, width, face.size * 1.3))
        }
        Item::Circle { centre, radius, .. } => Some(Rect::around(*centre, *radius)),
        Item::Path { places, .. } => {
            let mut places = places.iter();
            let first = Rect::around(*places.next()?, 0.01);
            Some(places.fold(first, |r, at| Rect {
                left: r.left.min(at.0),
                top: r.top.min(at.1),
                right: r.right.max(at.0),
                bottom: r.bottom.max(at.1),
            }))
        }
        Item::Drawing { .. } | Item::Window { .. } => None,
    }
}

/// The list in one column, where it has room there.
fn beside(fonts: &Fonts, list: &List, room: Rect) -> Option<(Page, Rect)> {
    let parts = [&list.heading, &list.holes, &list.between, &list.end];
    let mut page = Page::default();
    let mut rest = room;
    for part in parts {
        rest.top = set(fonts, &mut page, part, rest)?;
    }
    (room.width() >= LIST).then_some((page, room))
}

/// The list across the page, holes and what is between them side by side, where it has room there.
fn below(fonts: &Fonts, list: &List, room: Rect) -> Option<(Page, Rect)> {
    let mut page = Page::default();
    let top = set(fonts, &mut page, &list.heading, room)?;
    let middle = room.left + room.width() * 0.58;
    let left = set(fonts, &mut page, &list.holes, Rect { top, right: middle - BESIDE, ..room })?;
    let right = set(fonts, &mut page, &list.between, Rect { top, left: middle, ..room })?;
    set(fonts, &mut page, &list.end, Rect { top: left.max(right), ..room })?;
    Some((page, room))
}

/// Sets running matter into one place of a page, and says where it ends; `None` where it does not fit there.
fn set(fonts: &Fonts, out: &mut Page, flow: &Flow, room: Rect) -> Option<f64> {
    let size = Size { width: room.width(), height: room.height() };
    if flow.blocks.is_empty() {
        return Some(room.top);
    }
    if size.width < LEAST || size.height < LEAST / 4.0 {
        return None;
    }
    let pieces = pieces(fonts, flow, size);
    let mut poured = pour(&pieces, Rect { top: room.top + APART, ..room });
    if poured.pages.len() > 1 {
        return None;
    }
    out.lay(&poured.pages.pop()?, (0.0, 0.0));
    // The first piece's room above is not used at the top of a place.
    let used: f64 = pieces.iter().skip(1).map(|piece| piece.space).sum::<f64>()
        + pieces.iter().map(|piece| piece.height).sum::<f64>();
    Some(room.top + APART + used)
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
        // Shares meet at the middle of a seam, and cover the whole.
        assert!((tiling.share(0).right - tiling.share(1).left).abs() < 1e-9);
        let area: f64 = (0..6).map(|tile| tiling.share(tile)).map(|s| s.width() * s.height()).sum();
        assert!((area - 500.0 * 410.0).abs() < 1e-6);
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

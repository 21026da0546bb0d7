//! A pattern on pages at true scale: on one where it goes on one, else in tiles to be joined.

use draw::Rect;
use units::UnitSystem;

use super::drawing::{Drawing, compass, plate};
use super::list::{Calliper, List, list};
use super::pattern::{Pattern, TemplateError};
use super::strip;
use super::tiling::Tiling;
use crate::document::Document;
use crate::flow::{Flow, LINE, pieces, pour};
use crate::font::Fonts;
use crate::sheet::{Align, Item, Page, Shade, Size, Stroke, Type};

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

/// Adds a pattern's pages to a document: the drawing at 1:1 with the list of its distances, on tiles of one paper
/// where it is larger than that. Lengths in the list are in the reader's millimetres or inches.
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
        document.sheet(layout.size, page, 1, if tile == 0 { &pattern.title } else { "" });
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
        let foot = Rect { top: frame.bottom - strip::HEIGHT, ..frame };
        let below = |lines: usize| {
            let text = title.len() as f64 * TITLE.size * LINE + lines as f64 * WORDS.size * LINE;
            let top = frame.top + text.max(compass.bounds.height()) + 2.0;
            Rect { top, bottom: foot.top - 3.0, ..frame }
        };
        let lines = words.len().min(3);
        let goes = |area: &Rect| content.width() <= area.width() && content.height() <= area.height();
        // Two lines more for a tile's number.
        let area = Some(below(lines)).filter(goes).unwrap_or_else(|| below(lines + 2));
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
        let room = beside(fonts, list, right)
            .or_else(|| self::below(fonts, list, below))
            .or_else(|| around(fonts, list, right, below));
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

/// The holes below the drawing, the rest beside it, where they have room there.
fn around(fonts: &Fonts, list: &List, right: Rect, below: Rect) -> Option<(Page, Rect)> {
    let mut page = Page::default();
    let top = set(fonts, &mut page, &list.between, Rect { bottom: below.top, ..right })?;
    set(fonts, &mut page, &list.end, Rect { top, bottom: below.top, ..right })?;
    let top = set(fonts, &mut page, &list.heading, below)?;
    set(fonts, &mut page, &list.holes, Rect { top, ..below })?;
    Some((page, right))
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

//! A drawing that is larger than a page, in tiles that overlap, with crosses by which they are joined.

use draw::Rect;

use crate::sheet::{Align, Dash, Page, Shade, Size, Spot, Stroke, Type};

/// What neighbouring tiles have in common [mm].
const OVERLAP: f64 = 10.0;

/// Letters of the crosses.
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
    pub(super) fn new(content: Rect, window: Size) -> Self {
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
    pub(super) fn seams(&self) -> Page {
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

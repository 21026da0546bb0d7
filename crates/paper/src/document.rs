//! Pages with head and foot, numbered.

use draw::Rect;

use crate::error::PaperError;
use crate::flow::{Flow, LINE, pieces, pour};
use crate::font::Fonts;
use crate::sheet::{Align, Page, Paper, Shade, Size, Stroke, Type, svg};

/// Room at the sides [mm]: printers leave about 5 mm white (common practice).
pub(crate) const SIDE: f64 = 14.0;

/// Where the head's words and its rule are, and where the foot's rule and first line are, from the sheet's edge
/// [mm].
const HEAD: f64 = 9.5;
const HEAD_RULE: f64 = 11.5;
const FOOT_RULE: f64 = 16.0;
const FOOT: f64 = 12.4;

/// From the rules to the matter [mm].
const GAP: f64 = 4.5;

/// Words of head and foot.
const WORDS: Type = Type::points(7.5).shaded(Shade::Faint);
const RULE: Stroke = Stroke::solid(0.2).shaded(Shade::Faint);

/// Lines that the caution may take at the foot.
const CAUTION_LINES: usize = 2;

/// What every page says at its head and foot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Head {
    /// The document's title, at the head of every page.
    pub title: String,
    /// What it is about, in one sentence, for the file's properties.
    pub subject: String,
    /// The day it was made, as it is to be printed; `2026-05-17` is also put into the file's properties.
    pub date: String,
    /// Which version of the car file it was made from; empty for none.
    pub revision: String,
    /// What to beware of, at the foot of every page; what does not go into two lines is cut.
    pub caution: String,
    /// What is in the printer.
    pub paper: Paper,
}

/// A document: pages in order, and bookmarks into them.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    head: Head,
    leaves: Vec<Leaf>,
    bookmarks: Vec<Bookmark>,
}

/// A page before head and foot.
#[derive(Clone, Debug, PartialEq)]
struct Leaf {
    size: Size,
    page: Page,
}

/// A heading's place.
#[derive(Clone, Debug, PartialEq)]
pub struct Bookmark {
    /// 1 to 3.
    pub level: u8,
    /// The heading.
    pub words: String,
    /// Its page, from 0.
    pub page: usize,
    /// How far down the page [mm].
    pub down: f64,
}

impl Document {
    /// Without pages yet.
    pub fn new(head: Head) -> Self {
        Self { head, leaves: Vec::new(), bookmarks: Vec::new() }
    }

    /// What every page says.
    pub fn head(&self) -> &Head {
        &self.head
    }

    /// Number of pages.
    pub fn len(&self) -> usize {
        self.leaves.len()
    }

    /// Whether it has no page yet.
    pub fn is_empty(&self) -> bool {
        self.leaves.is_empty()
    }

    /// The headings' places.
    pub fn bookmarks(&self) -> &[Bookmark] {
        &self.bookmarks
    }

    /// Size of a page [mm], by its number from 0.
    pub fn size(&self, page: usize) -> Option<Size> {
        self.leaves.get(page).map(|leaf| leaf.size)
    }

    /// Where matter goes on a sheet of this size [mm].
    pub fn frame(size: Size) -> Rect {
        Rect {
            left: SIDE,
            top: HEAD_RULE + GAP,
            right: size.width - SIDE,
            bottom: size.height - FOOT_RULE - GAP,
        }
    }

    /// Adds running matter, on pages of its own; none where nothing is said.
    pub fn flow(&mut self, fonts: &Fonts, flow: &Flow) {
        let size = self.head.paper.size();
        let frame = Self::frame(size);
        let inner = Size { width: frame.width(), height: frame.height() };
        let pieces = pieces(fonts, flow, inner);
        if pieces.is_empty() {
            return;
        }
        let poured = pour(&pieces, frame);
        let before = self.leaves.len();
        self.bookmarks.extend(poured.bookmarks.into_iter().map(|(level, words, page, down)| Bookmark {
            level,
            words,
            page: before + page,
            down,
        }));
        self.leaves.extend(poured.pages.into_iter().map(|page| Leaf { size, page }));
    }

    /// Adds a page as it is, with a bookmark unless the words are empty; head and foot are put around it, so it
    /// should keep to [`Document::frame`].
    pub fn sheet(&mut self, size: Size, page: Page, level: u8, words: &str) {
        if !words.is_empty() {
            let (level, words) = (level.clamp(1, 3), words.to_string());
            self.bookmarks.push(Bookmark { level, words, page: self.leaves.len(), down: HEAD_RULE });
        }
        self.leaves.push(Leaf { size, page });
    }

    /// Adds the pages of another document behind, with their bookmarks; head and foot are this one's.
    pub fn join(&mut self, other: Self) {
        let before = self.leaves.len();
        let moved = |mark: Bookmark| Bookmark { page: mark.page + before, ..mark };
        self.bookmarks.extend(other.bookmarks.into_iter().map(moved));
        self.leaves.extend(other.leaves);
    }

    /// A page as SVG in true millimetres, by its number from 0.
    ///
    /// # Errors
    /// Where there is no such page.
    pub fn svg(&self, fonts: &Fonts, page: usize) -> Result<String, PaperError> {
        let leaf = self
            .leaves
            .get(page)
            .ok_or(PaperError::NoPage { page: page.saturating_add(1), count: self.len() })?;
        let mut whole = Page::default();
        self.around(fonts, &mut whole, leaf.size, page);
        whole.lay(&leaf.page, (0.0, 0.0));
        Ok(svg(fonts, leaf.size, &whole))
    }

    /// Head and foot.
    fn around(&self, fonts: &Fonts, out: &mut Page, size: Size, page: usize) {
        let (left, right) = (SIDE, size.width - SIDE);
        let width = |words: &str| fonts.width(words, false) * WORDS.size;
        let revision = if self.head.revision.is_empty() { "" } else { "revision " };
        let parts = [format!("{revision}{}", self.head.revision), self.head.date.clone()];
        let parts: Vec<&str> = parts.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
        let made = fonts.elide(&parts.join(" · "), false, WORDS.size, (right - left) * 0.45);
        out.text((right, HEAD), made.clone(), WORDS, Align::Right);
        let room = right - left - width(&made) - 6.0;
        out.text(
            (left, HEAD),
            fonts.elide(&self.head.title, true, WORDS.size, room),
            WORDS.bold(),
            Align::Left,
        );
        out.line((left, HEAD_RULE), (right, HEAD_RULE), RULE);

        let rule = size.height - FOOT_RULE;
        let foot = size.height - FOOT;
        let number = format!("page {} of {}", page + 1, self.len());
        out.line((left, rule), (right, rule), RULE);
        let room = right - left - width(&number) - 6.0;
        let lines = fonts.wrap(&self.head.caution, false, WORDS.size, room);
        for (i, line) in lines.iter().take(CAUTION_LINES).enumerate() {
            let cut = i + 1 == CAUTION_LINES && lines.len() > CAUTION_LINES;
            let words =
                if cut { fonts.elide(&format!("{line} …"), false, WORDS.size, room) } else { line.clone() };
            out.text((left, foot + i as f64 * WORDS.size * LINE), words, WORDS, Align::Left);
        }
        out.text((right, foot), number, WORDS, Align::Right);
    }
}

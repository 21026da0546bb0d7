//! The face that pages are set in, and how wide words are in it.
//!
//! DejaVu Sans, regular and bold, embedded from the crate `dejavu`: Latin, Greek, Cyrillic, Hebrew, Arabic, arrows
//! and the signs of the trade. Characters it lacks come from the faces that the caller hands over (those of the
//! system, as a rule). With no face for a character either, a box is drawn in its place; its text stays in the
//! file.

mod wrap;

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use rustybuzz::{Face, UnicodeBuffer};
use usvg::fontdb::{Database, ID, Source, Style, Weight};

/// Font weights from here on are set bold (CSS `font-weight`: 600 is semi-bold).
const BOLD_FROM: u16 = 600;

/// Advance of a character that no face has [em]: the box of DejaVu Sans is 0.6 em wide (read from the font, 2.37).
const BOX: f64 = 0.602;

/// The face that stands in for a character and its advance [em], where there is one.
type StandIn = Option<(ID, f64)>;

/// The faces of all pages.
#[derive(Clone)]
pub struct Fonts {
    database: Arc<Database>,
    regular: Option<ID>,
    bold: Option<ID>,
    faces: [Option<Face<'static>>; 2],
    /// Faces that may stand in, in the order in which they are asked.
    others: Arc<Vec<ID>>,
    /// What has been looked up.
    known: Arc<Mutex<HashMap<char, StandIn>>>,
}

impl std::fmt::Debug for Fonts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Fonts").field("faces", &self.database.len()).finish()
    }
}

impl Default for Fonts {
    fn default() -> Self {
        Self::new()
    }
}

impl Fonts {
    /// The embedded face alone.
    pub fn new() -> Self {
        Self::with_fallback(Database::new())
    }

    /// The embedded face, and for what it lacks the faces of this database, by name. Which files those come from is
    /// the caller's affair.
    pub fn with_fallback(mut database: Database) -> Self {
        let mut others: Vec<(String, ID)> = database
            .faces()
            .filter(|face| face.style == Style::Normal)
            .map(|face| {
                (format!("{} {}", face.weight.0.abs_diff(Weight::NORMAL.0), face.post_script_name), face.id)
            })
            .collect();
        // The order of a folder's files is not the same on every machine.
        others.sort();
        let mut load = |bytes: &'static [u8]| {
            let ids = database.load_font_source(Source::Binary(Arc::new(bytes)));
            (ids.first().copied(), Face::from_slice(bytes, 0))
        };
        let (regular, regular_face) = load(dejavu::sans::regular());
        let (bold, bold_face) = load(dejavu::sans::bold());
        Self {
            database: Arc::new(database),
            regular,
            bold,
            faces: [regular_face, bold_face],
            // The bold face lacks some characters that the regular one has.
            others: Arc::new(regular.into_iter().chain(others.into_iter().map(|(_, id)| id)).collect()),
            known: Arc::default(),
        }
    }

    /// Width of one line of text [em].
    pub fn width(&self, text: &str, bold: bool) -> f64 {
        self.runs(text, bold).iter().map(|(_, width)| width).sum()
    }

    /// One line of text in runs of one face each, with their widths [em]. They are set one by one: usvg would set
    /// all of a text in the face that stands in for one character, if that face has the others too.
    pub(crate) fn runs(&self, text: &str, bold: bool) -> Vec<(String, f64)> {
        let Some(face) = self.face(bold) else { return vec![(clean(text), draw::text_width(text, bold))] };
        let mut runs: Vec<(Option<Option<ID>>, String, f64)> = Vec::new();
        for c in clean(text).chars() {
            let (kind, wide) = if face.glyph_index(c).is_some() {
                (None, 0.0)
            } else {
                let other = self.stand_in(c);
                (Some(other.map(|(id, _)| id)), other.map_or(BOX, |(_, advance)| advance))
            };
            match runs.last_mut() {
                // A mark is set with what it belongs to.
                Some((last, run, width)) if *last == kind || wrap::joins(c) => {
                    run.push(c);
                    // A mark that no face has is a box like any other.
                    *width += wide;
                }
                _ => runs.push((kind, c.to_string(), wide)),
            }
        }
        let measured = runs.into_iter().map(|(kind, run, width)| match kind {
            None => {
                let width = advance(face, &run);
                (run, width)
            }
            // What no face has is set in ours too, as boxes: one character may come to several.
            Some(None) => {
                let width = advance(face, &run).max(width);
                (run, width)
            }
            Some(Some(_)) => (run, width),
        });
        measured.collect()
    }

    /// Whether some face has this character.
    pub fn has(&self, c: char) -> bool {
        self.face(false).is_some_and(|face| face.glyph_index(c).is_some()) || self.stand_in(c).is_some()
    }

    /// Settings that make usvg choose the same faces as [`Fonts::width`] does.
    pub(crate) fn options(&self) -> usvg::Options<'static> {
        let (regular, bold) = (self.regular, self.bold);
        let fonts = self.clone();
        usvg::Options {
            fontdb: self.database.clone(),
            font_resolver: usvg::FontResolver {
                select_font: Box::new(move |font, _| if font.weight() >= BOLD_FROM { bold } else { regular }),
                select_fallback: Box::new(move |c, used, _| {
                    fonts.stand_in(c).map(|(id, _)| id).filter(|id| !used.contains(id))
                }),
            },
            ..usvg::Options::default()
        }
    }

    fn face(&self, bold: bool) -> Option<&Face<'static>> {
        self.faces.get(usize::from(bold)).and_then(Option::as_ref)
    }

    /// The face that stands in for a character that ours lacks, and the advance there [em].
    fn stand_in(&self, c: char) -> StandIn {
        // A poisoned lock holds whole entries all the same.
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        *known.entry(c).or_insert_with(|| {
            self.others.iter().find_map(|id| {
                let advance = self.database.with_face_data(*id, |data, index| {
                    let face = Face::from_slice(data, index)?;
                    let glyph = face.glyph_index(c)?;
                    let advance = face.glyph_hor_advance(glyph)?;
                    Some(f64::from(advance) / f64::from(face.units_per_em()))
                })??;
                Some((*id, advance))
            })
        })
    }
}

/// Width of a run that a face has all characters of [em], kerned as usvg kerns it.
fn advance(face: &Face<'_>, run: &str) -> f64 {
    if run.is_empty() {
        return 0.0;
    }
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(run);
    buffer.guess_segment_properties();
    let glyphs = rustybuzz::shape(face, &[], buffer);
    let units: i64 = glyphs.glyph_positions().iter().map(|p| i64::from(p.x_advance)).sum();
    units.abs() as f64 / f64::from(face.units_per_em())
}

/// The text as it is set: one line, without what XML forbids.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' | '\n' | '\r' => ' ',
            '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
            c => c,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Width of a text as usvg sets it [em].
    fn set(fonts: &Fonts, text: &str, bold: bool) -> f64 {
        use crate::sheet::{Align, Page, Shade, Size, Type, svg};
        let mut page = Page::default();
        let face = Type { size: 10.0, bold, shade: Shade::Ink };
        page.text((5.0, 50.0), format!("|{text}|"), face, Align::Left);
        let svg = svg(fonts, Size { width: 2000.0, height: 100.0 }, &page);
        let tree = usvg::Tree::from_str(&svg, &fonts.options()).unwrap();
        let Some(usvg::Node::Text(text)) = tree.root().children().last().map(|node| match node {
            usvg::Node::Group(group) => &group.children()[group.children().len() - 1],
            node => node,
        }) else {
            panic!("no text in {svg}")
        };
        f64::from(text.abs_bounding_box().width()) * 25.4 / 96.0 / 10.0 - 2.0 * fonts.width("|", bold)
    }

    /// Ours against usvg's own setting, for scripts of the face.
    #[test]
    fn words_are_as_wide_as_they_are_set() {
        let fonts = Fonts::new();
        for text in [
            "Wheel rate 24.5 ± 0.3 N/mm",
            "AVAToWa. fi ffi 1/2\" M12×1.25 −12.5° 3·10² → ↑",
            "Подрамник задний, левый",
            "Πλάκα δοκιμής",
            "Łączówka dźwigni, çéñöß",
            "לוחית בדיקה",
            "لوحة",
        ] {
            for bold in [false, true] {
                let (ours, theirs) = (fonts.width(text, bold), set(&fonts, text, bold));
                assert!((ours - theirs).abs() < 0.02 * theirs + 0.05, "{text}: {ours:.3} {theirs:.3}");
            }
        }
    }

    /// The figures that `draw` guesses widths by are those of this face (own).
    #[test]
    fn drawings_guess_by_the_same_face() {
        let fonts = Fonts::new();
        for text in ["caster", "0.72", "in"] {
            for bold in [false, true] {
                assert!((fonts.width(text, bold) - draw::text_width(text, bold)).abs() < 0.06, "{text}");
            }
        }
    }

    /// Another face stands in, for ours and for usvg alike: an arc and a glass, and a sans-serif A that ours has
    /// not in bold.
    #[test]
    fn what_our_face_lacks_comes_from_another() {
        let mut database = Database::new();
        database.load_font_data(dejavu::sans_mono::regular().to_vec());
        let fonts = Fonts::with_fallback(database);
        assert!(!Fonts::new().has('⌕') && fonts.has('⌕') && fonts.has('⌒'));
        for (text, bold) in
            [("arc ⌒ and ⌕ glass", false), ("⌕⌕ 漢 e\u{301}", true), ("bold \u{1d5a0}\u{1d5a1}", true)]
        {
            let (ours, theirs) = (fonts.width(text, bold), set(&fonts, text, bold));
            assert!((ours - theirs).abs() < 0.02, "{text}: {ours:.3} {theirs:.3}");
        }
    }

    /// A server hands the same faces to every request.
    #[test]
    fn faces_may_be_shared() {
        fn shared<T: Send + Sync + 'static>(_: T) {}
        shared(Fonts::new());
    }

    #[test]
    fn what_no_face_has_takes_room_all_the_same() {
        let fonts = Fonts::new();
        assert!(!fonts.has('漢') && fonts.has('±') && fonts.has('→'));
        assert!(fonts.width("漢字", false) > 1.0);
        assert!((fonts.width("漢字", false) - set(&fonts, "漢字", false)).abs() < 0.05);
    }
}

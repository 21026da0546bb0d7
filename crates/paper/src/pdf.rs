//! A document as PDF: fonts embedded, text that can be searched, bookmarks, page labels, true scale.

use std::num::NonZeroU32;

use krilla::destination::XyzDestination;
use krilla::geom::{Point, Size};
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::{NumberingStyle, PageLabel, PageSettings};
use krilla_svg::{SurfaceExt, SvgSettings};

use crate::document::{Bookmark, Document};
use crate::error::PaperError;
use crate::font::Fonts;

/// Points a millimetre: 72 to the inch (ISO 32000-1, 8.3.2.3: default user space; remembered).
const POINTS: f64 = 72.0 / 25.4;

/// The PDF's bytes; the same document gives the same bytes.
///
/// # Errors
/// Where there is no page, a drawing on one is not well formed, or the PDF cannot be written.
pub fn pdf(document: &Document, fonts: &Fonts) -> Result<Vec<u8>, PaperError> {
    if document.is_empty() {
        return Err(PaperError::Empty);
    }
    let options = fonts.options();
    let mut out = krilla::Document::new();
    let pages: Result<Vec<String>, _> = (0..document.len()).map(|page| document.svg(fonts, page)).collect();
    let pages = first_of_none(pages?, fonts);
    for (page, svg) in pages.into_iter().enumerate() {
        let nth = page + 1;
        let tree =
            usvg::Tree::from_str(&svg, &options).map_err(|source| PaperError::Svg { page: nth, source })?;
        let size = document.size(page).ok_or(PaperError::NoPage { page: nth, count: document.len() })?;
        // usvg counts a millimetre as 96/25.4 px; the size in points is said again, or the scale would be that.
        let (width, height) = (size.width * POINTS, size.height * POINTS);
        let wrong = || PaperError::Size { page: nth, width, height };
        let points = Size::from_wh(width as f32, height as f32).ok_or_else(wrong)?;
        let label = PageLabel::new(
            Some(NumberingStyle::Arabic),
            None,
            u32::try_from(nth).ok().and_then(NonZeroU32::new),
        );
        let settings = PageSettings::from_wh(width as f32, height as f32).ok_or_else(wrong)?;
        let mut sheet = out.start_page_with(settings.with_page_label(label));
        let mut surface = sheet.surface();
        surface.draw_svg(&tree, points, SvgSettings::default()).ok_or_else(wrong)?;
        surface.finish();
        sheet.finish();
    }
    out.set_metadata(metadata(document));
    out.set_outline(outline(document.bookmarks()));
    out.finish().map_err(PaperError::Pdf)
}

/// A character of private use that stands for no character of a document.
const NONE: char = '\u{e000}';

/// Characters that no face has are drawn as the face's box, all as one glyph. krilla writes what a glyph stands for
/// where it stands, but for the first time that it meets the glyph: that one would be lost. So where there are such
/// characters, the first one is none of theirs, and nothing is seen of it.
fn first_of_none(mut pages: Vec<String>, fonts: &Fonts) -> Vec<String> {
    let lacking = pages.iter().any(|svg| svg.chars().any(|c| !c.is_ascii() && !fonts.has(c)));
    if let Some(first) = pages.first_mut().filter(|_| lacking)
        && let Some(at) = first.find("<rect")
    {
        let text = ["400", "700"].map(|weight| {
            format!("<text x=\"1\" y=\"1\" font-size=\"0.5\" font-weight=\"{weight}\" fill-opacity=\"0\">{NONE}</text>")
        });
        first.insert_str(at, &text.concat());
    }
    pages
}

fn metadata(document: &Document) -> Metadata {
    let head = document.head();
    let mut metadata =
        Metadata::new().title(head.title.clone()).creator("Soapstone".into()).language("en-GB".into());
    if !head.subject.is_empty() {
        metadata = metadata.description(head.subject.clone());
    }
    match day(&head.date) {
        Some(date) => metadata.creation_date(date),
        None => metadata,
    }
}

/// `2026-05-17` as a date (ISO 8601).
fn day(date: &str) -> Option<DateTime> {
    let mut parts = date.split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let (year, month, day) = (year.parse().ok()?, month.parse().ok()?, day.parse().ok()?);
    let sound = parts.next().is_none() && (1..=12).contains(&month) && (1..=31).contains(&day);
    sound.then(|| DateTime::new(year).month(month).day(day))
}

/// Headings as a tree: each under the last one before it of a level above.
fn outline(bookmarks: &[Bookmark]) -> Outline {
    let mut outline = Outline::new();
    nodes(bookmarks).into_iter().for_each(|(node, _)| outline.push_child(node));
    outline
}

/// The topmost of these headings as nodes, each with what is under it, and how many headings that takes.
fn nodes(bookmarks: &[Bookmark]) -> Vec<(OutlineNode, usize)> {
    let mut out = Vec::new();
    let mut rest = bookmarks;
    while let Some((first, after)) = rest.split_first() {
        let under = after.iter().position(|b| b.level <= first.level).unwrap_or(after.len());
        let (below, beyond) = after.split_at(under);
        let place = Point::from_xy(0.0, (first.down * POINTS) as f32);
        let mut node = OutlineNode::new(first.words.clone(), XyzDestination::new(first.page, place));
        nodes(below).into_iter().for_each(|(child, _)| node.push_child(child));
        out.push((node, under + 1));
        rest = beyond;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_or_left_out() {
        assert!(day("2026-05-17").is_some());
        for odd in ["", "17 May", "2026-13-01", "2026-05-17-3", "2026-5-x"] {
            assert!(day(odd).is_none(), "{odd}");
        }
    }

    #[test]
    fn headings_make_a_tree() {
        let levels = [2_u8, 3, 1, 2, 2, 3, 1];
        let marks: Vec<Bookmark> = levels
            .iter()
            .map(|level| Bookmark { level: *level, words: format!("{level}"), page: 0, down: 0.0 })
            .collect();
        let top: Vec<usize> = nodes(&marks).into_iter().map(|(_, count)| count).collect();
        assert_eq!(top, [2, 4, 1]);
    }
}

//! The files: what other programs find in them.

use paper::flow::Flow;
use paper::sheet::{Drawing, Paper};
use paper::template::sheets;
use paper::{Document, Fonts, PaperError, pdf, png};
use units::UnitSystem;

use crate::scale::{head, large};
use crate::tools::{folder, poppler};

fn book() -> Document {
    let fonts = Fonts::new();
    let mut document = Document::new(head("Book of the Plover: ± and → on every page", Paper::A4));
    let mut flow = Flow::new();
    flow.heading(1, "First chapter");
    flow.say("The rear anti-lift is 62 ± 7 % at 2.5° of camber, −12 mm · 3², Ωμέγα, Щит, 漢字, 🔧.");
    flow.heading(2, "A section");
    flow.caution("Weld away from fuel & batteries <always>.");
    document.flow(&fonts, &flow);
    sheets(&mut document, &fonts, &large(), &UnitSystem::default()).unwrap();
    document
}

#[test]
fn the_same_document_gives_the_same_bytes() {
    let bytes = pdf::pdf(&book(), &Fonts::new()).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    assert!(bytes == pdf::pdf(&book(), &Fonts::new()).unwrap());
}

#[test]
fn text_is_found_and_properties_are_told() {
    let document = book();
    let file = folder("files").join("book.pdf");
    std::fs::write(&file, pdf::pdf(&document, &Fonts::new()).unwrap()).unwrap();
    let file = file.to_str().unwrap();
    if let Some(text) = poppler("pdftotext", &["-layout", file, "-"]) {
        let text = String::from_utf8(text).unwrap();
        let count = document.len();
        for what in [
            "First chapter",
            "62 ± 7 % at 2.5° of camber, −12 mm · 3², Ωμέγα, Щит",
            "漢字",
            "🔧",
            "Weld away from fuel & batteries <always>.",
            "кронштейн-задний-нижний",
            "Measure both bars before drilling",
            "revision 7 · 2026-05-17",
            "Tile 2 of 8",
            &format!("page {count} of {count}"),
        ] {
            assert!(text.contains(what), "`{what}` is not in:\n{text}");
        }
    }
    if let Some(told) = poppler("pdfinfo", &[file]) {
        let told = String::from_utf8_lossy(&told).into_owned();
        for what in ["Book of the Plover: ± and →", "A4", "Soapstone"] {
            assert!(told.contains(what), "{told}");
        }
    }
    // Headings are bookmarks: what the reader's outline shows.
    if let Some(told) = poppler("pdftohtml", &["-xml", "-stdout", "-i", file]) {
        let told = String::from_utf8_lossy(&told).into_owned();
        let (_, outline) = told.split_once("<outline>").unwrap();
        for what in ["First chapter", "A section", "кронштейн-задний-нижний"] {
            assert!(outline.contains(what), "{outline}");
        }
    }
    if let Some(told) = poppler("pdffonts", &[file]) {
        let told = String::from_utf8_lossy(&told).into_owned();
        let faces: Vec<&str> = told.lines().skip(2).collect();
        assert!(!faces.is_empty() && faces.iter().all(|face| face.contains("DejaVu")), "{told}");
        // Columns from the right: object, its generation, unicode, subset, embedded.
        for face in faces {
            let columns: Vec<&str> = face.split_whitespace().rev().collect();
            assert_eq!(columns.get(2..5), Some(&["yes"; 3][..]), "{told}");
        }
    }
}

#[test]
fn a_page_that_is_not_there_and_a_broken_drawing_are_told() {
    let document = book();
    let fonts = Fonts::new();
    let error = png::png(&document, &fonts, 99, 100.0).unwrap_err();
    assert!(matches!(error, PaperError::NoPage { page: 100, .. }), "{error}");
    for dpi in [0.0, -5.0, f64::NAN, 1e9] {
        let error = png::png(&document, &fonts, 0, dpi).unwrap_err();
        assert!(matches!(error, PaperError::Size { .. }), "{error}");
    }
    let error = pdf::pdf(&Document::new(head("Nothing", Paper::A4)), &fonts).unwrap_err();
    assert!(matches!(error, PaperError::Empty), "{error}");
    let mut flow = Flow::new();
    flow.figure(Drawing::new("<svg width=\"9\" height=\"9\"><g></svg>").unwrap(), "broken");
    let mut document = Document::new(head("Broken", Paper::A4));
    document.flow(&fonts, &flow);
    let error = pdf::pdf(&document, &fonts).unwrap_err();
    assert!(matches!(error, PaperError::Svg { page: 1, .. }), "{error}");
}

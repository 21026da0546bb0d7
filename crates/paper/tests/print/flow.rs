//! Running matter under random load: nothing leaves its page, nothing lies over anything else, nothing is lost.

use paper::flow::{Column, Figure, Flow, Table};
use paper::sheet::{Drawing, Paper};
use paper::{Document, Fonts};
use proptest::prelude::*;

use crate::scale::head;

/// Millimetres a pixel of usvg.
const MM: f64 = 25.4 / 96.0;

/// Words of a page with their boxes [mm], set by usvg with the face alone.
fn words(document: &Document, page: usize) -> Vec<(String, [f64; 4])> {
    let svg = document.svg(&Fonts::new(), page).unwrap();
    // What the face lacks is a box of that face, as `Fonts::new` has no other: by default usvg would go on to the bold.
    let mut options = usvg::Options {
        font_resolver: usvg::FontResolver {
            select_fallback: Box::new(|_, _, _| None),
            ..usvg::FontResolver::default()
        },
        ..usvg::Options::default()
    };
    options.fontdb_mut().load_font_data(dejavu::sans::regular().to_vec());
    options.fontdb_mut().load_font_data(dejavu::sans::bold().to_vec());
    let tree = usvg::Tree::from_str(&svg, &options).unwrap();
    let mut out = Vec::new();
    walk(tree.root(), &mut out);
    out
}

fn walk(group: &usvg::Group, out: &mut Vec<(String, [f64; 4])>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => walk(group, out),
            usvg::Node::Text(text) => {
                let b = text.abs_bounding_box();
                let sides = [b.left(), b.top(), b.right(), b.bottom()].map(|v| f64::from(v) * MM);
                let words = text.chunks().iter().map(|chunk| chunk.text()).collect();
                out.push((words, sides));
            }
            _ => {}
        }
    }
}

/// Everything in its page's frame (head and foot in their margins), no two boxes over one another.
#[track_caller]
pub fn check(document: &Document) -> String {
    let mut all = String::new();
    for page in 0..document.len() {
        let size = document.size(page).unwrap();
        let frame = Document::frame(size);
        let list = words(document, page);
        for (i, (text, a)) in list.iter().enumerate() {
            all.push_str(text);
            all.push('\n');
            let sides = frame.left - 0.1 <= a[0] && a[2] <= frame.right + 0.1;
            assert!(sides, "page {page}: `{text}` from {:.2} to {:.2}", a[0], a[2]);
            let margin = a[3] < frame.top || frame.bottom < a[1];
            let inside = frame.top - 0.3 <= a[1] && a[3] <= frame.bottom + 0.3;
            let sheet = 3.0 < a[1] && a[3] < size.height - 3.0;
            assert!(sheet && (margin || inside), "page {page}: `{text}` {a:?}");
            for (other, b) in list.iter().skip(i + 1) {
                let by = 0.15;
                let meet = a[0] + by < b[2] && b[0] + by < a[2] && a[1] + by < b[3] && b[1] + by < a[3];
                assert!(!meet, "page {page}: `{text}` {a:?} over `{other}` {b:?}");
            }
        }
    }
    all
}

fn laid(flow: &Flow, paper: Paper) -> Document {
    let mut document = Document::new(head("A title", paper));
    document.flow(&Fonts::new(), flow);
    document
}

#[test]
fn a_long_table_repeats_its_heading_and_parts_no_row() {
    let mut flow = Flow::new();
    flow.heading(1, "Cut list");
    let mut table =
        Table::new([Column::words("piece"), Column::words("remark"), Column::figures("length, mm")]);
    for i in 0..60 {
        table.row([
            format!("tube{i}"),
            format!("first{i} and a remark that takes more than a single line of its narrow column, last{i}"),
            format!("{}.5", 100 + i),
        ]);
    }
    flow.table(table);
    let document = laid(&flow, Paper::A4);
    assert!(document.len() > 1);
    check(&document);
    let mut seen = 0;
    for page in 0..document.len() {
        let list = words(&document, page);
        let text: Vec<&str> = list.iter().map(|(text, _)| text.as_str()).collect();
        assert!(text.contains(&"length, mm"), "page {page}");
        for i in 0..60 {
            let has = |what: String| text.iter().any(|t| t.split([' ', ',']).any(|w| w == what));
            let parts = [format!("tube{i}"), format!("first{i}"), format!("last{i}")].map(has);
            assert!(parts == [true; 3] || parts == [false; 3], "row {i} on page {page}: {parts:?}");
            seen += usize::from(parts[0]);
        }
    }
    assert_eq!(seen, 60);
}

#[test]
fn a_wide_table_is_laid_out_in_parts() {
    let mut table = Table::new((0..30).map(|i| Column::figures(format!("column{i} of the table"))));
    for row in 0..5 {
        table.row((0..30).map(|i| format!("r{row}c{i} ± 0.25")));
    }
    let mut flow = Flow::new();
    flow.table(table);
    let all = check(&laid(&flow, Paper::Letter));
    for (row, i) in (0..5).flat_map(|row| (0..30).map(move |i| (row, i))) {
        assert!(all.contains(&format!("r{row}c{i} ± 0.25")), "{row} {i}");
    }
    assert!(all.matches("r0c0 ").count() > 2, "the first column is in every part");
}

#[test]
fn a_row_taller_than_a_page_goes_on_and_nothing_is_lost() {
    let long: Vec<String> = (0..2500).map(|i| format!("word{i}")).collect();
    let mut table = Table::new([Column::words("a"), Column::words("b")]);
    table.row(["first", &long.join(" ")]);
    table.row(["second", "short"]);
    let mut flow = Flow::new();
    flow.table(table);
    let all = check(&laid(&flow, Paper::A4));
    assert!(long.iter().all(|word| all.split_whitespace().any(|w| w == word)));
    assert!(all.contains("second"));
}

#[test]
fn a_heading_stays_with_what_follows_and_a_figure_with_its_caption() {
    let drawing =
        Drawing::new("<svg width=\"100\" height=\"60\"><rect width=\"9\" height=\"9\"/></svg>").unwrap();
    for lines in 0..60 {
        let mut flow = Flow::new();
        (0..lines).for_each(|i| flow.say(format!("line {i}")));
        flow.heading(2, "Heading");
        flow.figure(drawing.clone(), "Caption of the figure");
        let document = laid(&flow, Paper::A4);
        check(&document);
        let page_of = |what: &str| {
            (0..document.len()).find(|p| words(&document, *p).iter().any(|(text, _)| text == what)).unwrap()
        };
        assert_eq!(page_of("Heading"), page_of("Caption of the figure"), "{lines}");
        assert_eq!(document.bookmarks()[0].page, page_of("Heading"));
    }
}

#[test]
fn a_tall_figure_is_made_smaller_not_cut() {
    let drawing =
        Drawing::new("<svg width=\"10\" height=\"600\"><text y=\"599\" x=\"5\">end</text></svg>").unwrap();
    let mut flow = Flow::new();
    let figure = Figure { drawing, caption: "long ".repeat(900) };
    flow.figures(vec![figure.clone(), figure], 2);
    assert!(check(&laid(&flow, Paper::A4)).contains("end"));
}

#[test]
fn one_word_is_one_page_with_head_and_foot_and_nothing_is_none() {
    let mut flow = Flow::new();
    assert!(laid(&flow, Paper::A4).is_empty());
    flow.say("");
    let document = laid(&flow, Paper::A4);
    assert_eq!(document.len(), 1);
    assert!(check(&document).contains("page 1 of 1"));
}

/// A text as people and machines write them: words, long ones, other scripts, signs that XML gives a meaning.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[a-zA-Z0-9 ,.±°−()]{0,90}",
        2 => "[a-z<>&\"']{30,200}",
        1 => "[а-я ]{0,60}",
        1 => "[一-龥]{0,60}",
        1 => "[α-ω ]{5,400}",
        1 => "\\PC{0,60}",
    ]
}

#[derive(Clone, Debug)]
enum Part {
    Heading(String),
    Say(String),
    Bullets(Vec<String>),
    Pairs(Vec<(String, String)>),
    Caution(String),
    Table(Vec<Vec<String>>),
    Figure(String),
}

fn part() -> impl Strategy<Value = Part> {
    prop_oneof![
        text().prop_map(Part::Heading),
        text().prop_map(Part::Say),
        prop::collection::vec(text(), 0..8).prop_map(Part::Bullets),
        prop::collection::vec((text(), text()), 0..6).prop_map(Part::Pairs),
        text().prop_map(Part::Caution),
        (1_usize..14, 0_usize..12)
            .prop_flat_map(|(columns, rows)| {
                prop::collection::vec(prop::collection::vec(text(), columns), rows + 1)
            })
            .prop_map(Part::Table),
        text().prop_map(Part::Figure),
    ]
}

/// Every text gets a word of its own in front, by which it is found again.
fn build(parts: &[Part]) -> (Flow, usize) {
    let mut flow = Flow::new();
    let count = std::cell::Cell::new(0);
    let tag = |text: &String| {
        count.set(count.get() + 1);
        format!("q{} {text}", count.get())
    };
    for part in parts {
        match part {
            Part::Heading(text) => flow.heading(2, tag(text)),
            Part::Say(text) => flow.say(tag(text)),
            Part::Bullets(list) => flow.bullets(list.iter().map(tag)),
            Part::Pairs(list) => flow.pairs(list.iter().map(|(a, b)| (tag(a), tag(b)))),
            Part::Caution(text) => flow.caution(tag(text)),
            Part::Table(rows) => {
                let columns = rows[0].iter().enumerate().map(|(i, text)| {
                    if i % 2 == 0 { Column::words(tag(text)) } else { Column::figures(tag(text)) }
                });
                let mut table = Table::new(columns);
                rows.iter().skip(1).for_each(|row| table.row(row.iter().map(tag)));
                flow.table(table);
            }
            Part::Figure(text) => {
                let svg = "<svg width=\"100\" height=\"40\"/>";
                flow.figure(Drawing::new(svg).unwrap(), tag(text));
            }
        }
    }
    (flow, count.get())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn random_matter_keeps_its_place(parts in prop::collection::vec(part(), 1..14), letter: bool) {
        let (flow, count) = build(&parts);
        let all = check(&laid(&flow, if letter { Paper::Letter } else { Paper::A4 }));
        for i in 1..=count {
            let tag = format!("q{i}");
            prop_assert!(all.split_whitespace().any(|word| word == tag), "lost {tag}");
        }
    }
}

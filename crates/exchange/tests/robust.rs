//! Spoilt and random files: an answer or an error, never a panic; and tables that come back as they went out.

use exchange::{Cell, Column, Separator, Sheet, csv_grid, csv_text, xlsx_bytes, xlsx_grid};
use proptest::prelude::*;

fn sheet(texts: &[Vec<String>]) -> Sheet {
    let columns =
        (0..3).map(|i| Column { heading: format!("column {i}"), width: None, decimals: 2 }).collect();
    let rows = texts.iter().map(|row| row.iter().map(|text| Cell::from(text.as_str())).collect()).collect();
    Sheet { name: "it".into(), columns, rows, notes: Vec::new() }
}

/// What a table keeps of a text: a cell's own blanks at its ends are trimmed when it is asked for.
fn kept(text: &str) -> &str {
    text.trim()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    #[test]
    fn any_bytes_as_csv(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = csv_grid(&bytes);
    }

    #[test]
    fn any_text_as_csv(text in "[a-z0-9,;\t\"'\r\n =+@-]{0,200}") {
        let grid = csv_grid(text.as_bytes()).expect("text is a table");
        prop_assert_eq!(grid.sheets.len(), 1);
    }

    #[test]
    fn words_survive_both_formats(texts in prop::collection::vec(prop::collection::vec("[ -~äØ±'=+@-]{0,12}", 3..=3), 1..8)) {
        let sheet = sheet(&texts);
        let book = xlsx_grid(&xlsx_bytes(std::slice::from_ref(&sheet)).expect("a workbook")).expect("a grid");
        let comma = csv_text(&sheet, Separator::Comma).expect("a text");
        // The separator is in every heading line three times; commas in the words may disagree with it.
        let table = csv_grid(comma.as_bytes()).expect("a grid");
        for (row, texts) in texts.iter().enumerate() {
            for (column, text) in texts.iter().enumerate() {
                prop_assert_eq!(book.sheets[0].cell(row + 1, column), kept(text));
                if !comma.contains(';') {
                    prop_assert_eq!(table.sheets[0].cell(row + 1, column), kept(text));
                }
            }
        }
    }
}

#[test]
fn spoilt_workbooks_do_not_panic() {
    let bytes = xlsx_bytes(&[sheet(&[vec!["a".into(), "b".into(), "c".into()]])]).expect("a workbook");
    // A fixed, well-mixed sequence: the multiplier of Knuth's MMIX generator (remembered).
    let mut state = 1_u64;
    let mut next = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).expect("31 bits") % below
    };
    let mut refused = 0;
    for _ in 0..1500 {
        let mut spoilt = bytes.clone();
        for _ in 0..=next(4) {
            let place = next(spoilt.len());
            match next(3) {
                0 => spoilt[place] = u8::try_from(next(256)).expect("a byte"),
                1 => drop(spoilt.drain(place..(place + 1 + next(20)).min(spoilt.len()))),
                _ => spoilt.truncate(place.max(1)),
            }
        }
        refused += usize::from(xlsx_grid(&spoilt).is_err());
    }
    assert!(refused > 500, "only {refused} of 1500 spoilt workbooks were refused");
}

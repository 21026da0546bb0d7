//! Samples in columns: written and read to the last bit, damaged files told, parts put together. That another reader
//! sees the same is checked by `reference/columns_check.py`.
#![expect(clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

use exchange::columns::{Column, Columns, ColumnsError, Values, merge, read, write};
use proptest::prelude::*;

fn part(range: std::ops::Range<u64>) -> Columns {
    let column = |name: &str, unit: Option<&str>, values| Column {
        name: name.into(),
        unit: unit.map(Into::into),
        values,
    };
    let of = |f: fn(u64) -> f64| Values::Number(range.clone().map(f).collect());
    Columns {
        columns: vec![
            column("index", None, Values::Count(range.clone().collect())),
            column("time", Some("s"), of(|i| 100.0 + (i as f64 * 0.37).sin())),
            column("rise", Some("m"), of(|i| if i % 5 == 0 { f64::NAN } else { 1e-3 / i as f64 })),
            column("hole", None, Values::Text(range.clone().map(|i| format!("hole {}°", i % 3)).collect())),
        ],
        about: vec![
            ("study".into(), "3f2a".into()),
            ("count".into(), "40".into()),
            ("range".into(), format!("{}..{}", range.start, range.end)),
        ],
    }
}

fn same(a: &Columns, b: &Columns) -> bool {
    a.about == b.about
        && a.columns.len() == b.columns.len()
        && a.columns.iter().zip(&b.columns).all(|(a, b)| {
            a.name == b.name
                && a.unit == b.unit
                && match (&a.values, &b.values) {
                    (Values::Number(a), Values::Number(b)) => {
                        a.iter().map(|v| v.to_bits()).eq(b.iter().map(|v| v.to_bits()))
                    }
                    (a, b) => a == b,
                }
        })
}

#[test]
fn what_is_written_is_read() {
    for range in [0..0, 0..1, 5..40, 0..50_000] {
        let table = part(range);
        let bytes = write(&table).unwrap();
        assert!(bytes.starts_with(b"PAR1") && bytes.ends_with(b"PAR1"));
        assert!(same(&read(&bytes).unwrap(), &table));
    }
    let odd = Columns {
        columns: vec![Column {
            name: "v".into(),
            unit: None,
            values: Values::Number(vec![
                f64::MAX,
                f64::MIN_POSITIVE,
                -0.0,
                f64::INFINITY,
                f64::NEG_INFINITY,
                5e-324,
            ]),
        }],
        about: Vec::new(),
    };
    assert!(same(&read(&write(&odd).unwrap()).unwrap(), &odd));
}

#[test]
fn parts_make_the_whole() {
    let whole = part(0..40);
    let named = |name: &str, range| (name.to_string(), part(range));
    let merged = merge(&[named("b", 25..40), named("a", 0..25)], "index").unwrap();
    assert!(merged.missing.is_empty() && merged.twice == 0);
    assert!(same(&merged.table, &whole));
    let gaps = merge(&[named("c", 30..35), named("a", 3..12), named("b", 10..20)], "index").unwrap();
    assert_eq!((gaps.missing, gaps.twice), (vec![0..3, 20..30, 35..40], 2));
    assert_eq!(gaps.table.rows(), 22);
}

#[test]
fn parts_of_another_study_are_told() {
    let a = ("a".to_string(), part(0..10));
    let refused = |alter: &dyn Fn(&mut Columns)| {
        let mut other = part(5..15);
        alter(&mut other);
        merge(&[a.clone(), ("b".into(), other)], "index").unwrap_err().to_string()
    };
    assert_eq!(
        refused(&|t| t.about[0].1 = "77aa".into()),
        "b is of another study than a: its study is 77aa, not 3f2a"
    );
    assert!(
        refused(&|t| t.columns[1].name = "lap".into()).contains("its columns are index, lap, rise, hole")
    );
    assert!(refused(&|t| t.columns[1].unit = None).contains("another study"));
    let differs = refused(&|t| {
        if let Values::Number(v) = &mut t.columns[1].values {
            v[2] += 1e-12;
        }
    });
    assert_eq!(differs, "row 7 stands in a and in b with different values");
    let keyless = |t: &mut Columns| t.columns[0].values = Values::Number(vec![0.0; 10]);
    assert!(refused(&keyless).contains("another study"));
    assert!(merge(&[], "index").is_err() && merge(&[a], "number").is_err());
}

#[test]
fn what_is_no_table_is_not_written() {
    let mut table = part(0..4);
    table.columns[2].values = Values::Number(vec![1.0]);
    assert!(matches!(write(&table), Err(ColumnsError::Table(_))));
    let mut table = part(0..4);
    table.columns[2].name = "time".into();
    assert!(matches!(write(&table), Err(ColumnsError::Table(_))));
    for junk in [&b""[..], b"PAR1", b"PAR1PAR1", b"PAR1\0\0\0\0PAR1", &[0u8; 4096], b"time,rise\n1,2\n"] {
        assert!(matches!(read(junk), Err(ColumnsError::Damaged(_))));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    /// Bytes changed, cut off or put in: read or refused, never more than that. What is read is a table.
    #[test]
    fn damaged_files_are_told(changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..8), cut in any::<prop::sample::Index>(), cuts in any::<bool>()) {
        let mut bytes = write(&part(0..40)).unwrap();
        for (at, to) in &changes {
            let at = at.index(bytes.len());
            bytes[at] = *to;
        }
        if cuts {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Ok(table) = read(&bytes) {
            prop_assert!(table.check().is_ok());
        }
    }
}

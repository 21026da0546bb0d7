//! `search` and `merge`: sets in every form, parts that make the whole, wrong input.

use crate::run::{demo, good, json, nowhere, run};

/// What the program complains of.
fn bad(args: &[&str]) -> String {
    let done = run(args);
    assert_eq!(done.code, Some(2), "{args:?}: {}", done.err);
    done.err
}

/// Two parts put together are what one run gives, and the sets that come of them are the same.
#[test]
fn parts_make_the_whole() {
    let at = |name: &str| nowhere(&format!("search-{name}"));
    let car = demo("plover/whole.toml");
    let part = |range: &str, out: &str| {
        good(&["search", &car, "--count", "20", "--range", range, "--out", out]);
    };
    let (a, b, all, whole) = (at("a.parquet"), at("b.parquet"), at("all.parquet"), at("whole.parquet"));
    part("0..12", &a);
    part("10..20", &b);
    part("0..20", &whole);
    let said = good(&["merge", &b, &a, "--out", &all]);
    assert!(said.contains("20 settings of 2 parts; 2 stood in more than one, alike"), "{said}");
    assert_eq!(std::fs::read(&all).unwrap(), std::fs::read(&whole).unwrap());

    let said = good(&["merge", &a, "--out", &all, "--force"]);
    assert!(said.contains("missing: 12..20"), "{said}");
    assert!(bad(&["merge", &a, "--out", &all]).contains("--force"));
    let found = json(&["search", &car, "--from", &a, &b, "--draws", "0", "--json"]);
    assert_eq!(found["schema"], "soapstone.search/1");
    assert_eq!(found["groups"][0]["columns"][0], "as in the file");
    assert!(found["caution"].as_str().unwrap().contains("licensed"));

    // Samples of another car are not taken for this one's.
    let text = std::fs::read_to_string(&car).unwrap().replace("redline = 7200", "redline = 7100");
    let other = at("other.toml");
    std::fs::write(&other, format!("{text}\n# another\n")).unwrap();
    assert!(bad(&["search", &other, "--from", &a]).contains("another car file"));
}

#[test]
fn what_is_no_search_is_told() {
    let out = nowhere("search-x.parquet");
    assert!(bad(&["search", "--range", "0..10"]).contains("--out"));
    assert!(bad(&["search", "--range", "10..5", "--out", &out]).contains("FROM..TO"));
    assert!(bad(&["search", "--range", "0..500", "--out", &out]).contains("no range of 400 settings"));
    assert!(bad(&["search", "--count", "0"]).contains("no search"));
    assert!(bad(&["search", &demo("plover/car.toml")]).contains("venue"));
    assert!(bad(&["search", "--from", &demo("plover/car.toml")]).contains("no Parquet file"));
    assert!(bad(&["merge", "--out", &out]).contains("PARTS"));
    assert!(bad(&["merge", "nowhere.parquet", "--out", &out]).contains("nowhere.parquet"));
}

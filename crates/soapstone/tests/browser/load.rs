//! The first look.

use serde_json::Value;

use crate::tab::{LAPTOP, with_page};

/// Most that the page and all it needs may weigh without compression [bytes].
const MOST_WEIGHT: f64 = 300e3;

#[test]
fn the_page_shows_the_car_and_its_choice_table() {
    with_page("load", LAPTOP, async |served, tab| {
        assert!(served.printed.contains("choice table"), "{}", served.printed);
        tab.go("/").await;
        let title = tab.js("return document.title").await;
        assert_eq!(title, Value::from("Place · Plover"));
        let rows = tab.js("return document.querySelectorAll('#part-table tbody tr:not(.note)').length").await;
        assert_eq!(rows, Value::from(5), "the car as drawn and each hole");
        for hole in ["A", "B", "C", "D"] {
            let script = format!(
                "return [...document.querySelectorAll('#part-table tbody th')].some((h) => h.textContent.startsWith('{hole}'))"
            );
            assert_eq!(tab.js(&script).await, Value::Bool(true), "hole {hole}");
        }
        for view in ["side", "rear", "top"] {
            tab.has(&format!("#part-{view} svg[data-mm-per-px]")).await;
        }
        tab.until(
            "return document.querySelector('#solid-view').classList.contains('live')",
            "the view in space",
        )
        .await;
        tab.rest().await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
        tab.shot("place-light").await;
    });
}

#[test]
fn the_page_is_light_and_asks_nobody_else() {
    with_page("weight", LAPTOP, async |served, tab| {
        tab.go("/place").await;
        let entries =
            "[...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')]";
        let weights = tab.js(&format!("return {entries}.map((e) => [e.name, e.decodedBodySize])")).await;
        let weights: Vec<(String, f64)> = serde_json::from_value(weights).expect("names and sizes");
        let sum: f64 = weights.iter().map(|(_, w)| w).sum();
        assert!(sum < MOST_WEIGHT, "{sum} bytes: {weights:?}");
        for (name, _) in &weights {
            assert!(name.starts_with(&served.address), "{name} leaves the machine");
        }
        println!("page weight {:.0} kB in {} requests", sum / 1e3, weights.len());
    });
}

#[test]
fn what_is_not_there_is_said_and_leads_back() {
    with_page("missing", LAPTOP, async |_, tab| {
        tab.go("/nothing-here").await;
        assert!(tab.text(".problem").await.contains("no such page"));
        tab.click(".problem a").await;
        tab.has("#part-table").await;
    });
}

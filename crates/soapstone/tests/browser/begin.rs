//! A car that is not there yet.

use serde_json::{Value, json};

use crate::tab::{LAPTOP, PHONE, with_empty};

#[test]
fn an_empty_start_asks_for_a_kind_from_pictures() {
    with_empty("begin", LAPTOP, async |served, tab| {
        tab.go("/").await;
        assert!(tab.is_there("input[type=radio]").await, "kinds to choose from");
        tab.shot("start-light").await;
        tab.media("dark", "").await;
        tab.shot("start-dark").await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
        assert!(!served.text().contains("[rear"), "nothing was chosen yet");
    });
}

#[test]
fn an_empty_start_fits_a_telephone() {
    with_empty("begin-phone", PHONE, async |_, tab| {
        for path in ["/start", "/measure", "/place"] {
            tab.go(path).await;
            let width = tab.js("return [document.documentElement.scrollWidth, innerWidth]").await;
            assert_eq!(width, json!([PHONE.0, PHONE.0]), "{path}");
        }
        tab.shot("start-phone").await;
        assert_ne!(tab.js("return document.title").await, Value::Null);
    });
}

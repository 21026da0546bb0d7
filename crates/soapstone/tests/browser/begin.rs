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
fn an_empty_start_leads_to_the_first_table() {
    with_empty("begin-table", LAPTOP, async |served, tab| {
        tab.go("/").await;
        tab.js("document.querySelector(\"input[name=rear][value=strut]\").click()").await;
        tab.js("document.querySelector('main form').requestSubmit()").await;
        tab.until("return location.pathname === '/start/points'", "the first point is asked for").await;
        tab.has("input[name=x]").await;
        tab.shot("start-points").await;
        tab.js("const y = document.querySelector('input[name=y]'); y.focus(); y.select();").await;
        tab.write("input[name=y]", "752").await;
        tab.js("document.querySelector('input[name=y]').form.requestSubmit()").await;
        tab.until("return location.search.includes('at=1')", "the next one").await;
        assert!(served.text().contains("752"), "{}", served.text());
        tab.go("/start/points?axle=rear&at=999").await;
        tab.click("main a[href^='/place']").await;
        tab.has("#part-table td a.num").await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
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

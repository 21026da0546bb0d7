//! Weigh with scripts: scales are begun, typed over and struck off without the page being loaded anew.

use serde_json::json;

use crate::tab::{LAPTOP, PHONE, with_page};

#[test]
fn scales_are_begun_and_typed_over() {
    with_page("weigh", LAPTOP, async |served, tab| {
        tab.go("/measure?axle=rear").await;
        tab.js("document.querySelector('a[href^=\"/weigh\"]').click()").await;
        tab.has("[data-row='begin-weigh.level']").await;
        for (corner, load) in
            [("front-left", "262"), ("front-right", "258"), ("rear-left", "242"), ("rear-right", "238")]
        {
            tab.write(&format!("[name='value:weigh.level.{corner}']"), load).await;
        }
        tab.click("[data-row='begin-weigh.level'] button").await;
        tab.until(
            "return document.querySelector('[data-result=mass]')?.textContent.includes('1000.0') ?? false",
            "the four scales add up",
        )
        .await;
        let cell = "[data-path='weigh.level.front-left'] input";
        tab.has(cell).await;
        tab.js(&format!("const field = document.querySelector(\"{cell}\"); field.focus(); field.select();"))
            .await;
        tab.write(cell, "272").await;
        tab.key("Tab", 0).await;
        tab.until(
            "return document.querySelector('[data-result=mass]')?.textContent.includes('1010.0') ?? false",
            "the results follow",
        )
        .await;
        assert!(served.text().contains("front-left = 272"), "{}", served.text());
        for (field, text) in [("name", "tank"), ("mass", "14"), ("x", "2700"), ("y", "100"), ("z", "350")] {
            tab.write(&format!("[data-row='new-part'] [name='{field}']"), text).await;
        }
        tab.click("[data-row='new-part'] button").await;
        tab.until(
            "return document.querySelector('[data-result=mass]')?.textContent.includes('996.0') ?? false",
            "the ledger counts",
        )
        .await;
        tab.has("tr[data-row='weigh.out.tank']").await;
        tab.shot("weigh").await;
        tab.click("tr[data-row='weigh.out.tank'] .end form:last-of-type button").await;
        tab.until(
            "return document.querySelector(\"tr[data-row='weigh.out.tank']\") === null",
            "it is struck off",
        )
        .await;
        assert!(!served.text().contains("weigh.out.tank"), "{}", served.text());
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn it_fits_a_telephone() {
    with_page("weigh-phone", PHONE, async |served, tab| {
        let text = include_str!("../../../../examples/plover/whole.toml");
        std::fs::write(&served.file, text).expect("a file");
        tab.go("/weigh").await;
        tab.has("[data-result=mass]").await;
        let width = tab.js("return [document.documentElement.scrollWidth, innerWidth]").await;
        tab.shot("weigh-phone").await;
        assert_eq!(width, json!([PHONE.0, PHONE.0]), "nothing scrolls sideways");
    });
}

//! What a number means and how it comes about.

use serde_json::Value;

use crate::tab::{LAPTOP, with_page};

const NUMBER: &str = "#part-table tbody tr:nth-child(2) td:nth-child(2) a.num";

#[test]
fn a_click_opens_the_worked_number_and_escape_closes_it() {
    with_page("worked", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        tab.click(NUMBER).await;
        tab.has("dialog[open] .formula").await;
        tab.shot("worked").await;
        tab.key("Escape", 0).await;
        tab.until("return !document.querySelector('dialog')", "it closes").await;
        let focused = format!("return document.activeElement === document.querySelector('{NUMBER}')");
        tab.until(&focused, "the focus goes back to the number").await;
        tab.key("Enter", 0).await;
        tab.has("dialog[open]").await;
        tab.click("dialog button").await;
        tab.until("return !document.querySelector('dialog')", "it closes").await;
        tab.until(&focused, "the focus goes back to the number").await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn every_number_of_the_table_can_be_worked() {
    with_page("worked-all", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let script = "const done = arguments[arguments.length - 1];
            const links = [...document.querySelectorAll('#part-table a.num')].map((a) => a.href);
            Promise.all(links.map(async (href) => {
                const page = new DOMParser().parseFromString(await (await fetch(href)).text(), 'text/html');
                const answer = page.querySelector('#worked .answer')?.textContent;
                return answer ? '' : href;
            })).then((all) => done([links.length, all.filter(Boolean)]))";
        let told = tab.js_later(script).await;
        assert!(told[0].as_u64() >= Some(20), "{told}");
        assert_eq!(told[1], Value::Array(Vec::new()));
    });
}

#[test]
fn hover_and_focus_tell_what_a_number_is() {
    with_page("tip", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let at = tab.place(NUMBER).await;
        tab.mouse("mouseMoved", at).await;
        tab.until(
            "const tip = document.getElementById('tip'); return !tip.hidden && tip.textContent.length > 20",
            "the tip",
        )
        .await;
        tab.mouse("mouseMoved", (2.0, 2.0)).await;
        tab.until("return document.getElementById('tip').hidden", "it goes").await;
        tab.js(&format!("document.querySelector('{NUMBER}').focus()")).await;
        tab.until("return !document.getElementById('tip').hidden", "the tip").await;
        let inside = "const box = document.getElementById('tip').getBoundingClientRect();
            return box.left >= 0 && box.right <= innerWidth && box.top >= 0 && box.bottom <= innerHeight";
        assert_eq!(tab.js(inside).await, Value::Bool(true));
        let said = "return document.activeElement.getAttribute('aria-describedby') === 'tip'";
        assert_eq!(tab.js(said).await, Value::Bool(true));
        tab.key("Escape", 0).await;
        tab.until("return document.getElementById('tip').hidden", "escape takes it away").await;
    });
}

#[test]
fn numbers_of_a_drawing_tell_what_they_mean_and_how_they_come_about() {
    with_page("worked-drawn", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        for (view, quantity) in [
            ("side", "anti-lift"),
            ("side", "anti-squat"),
            ("side", "side-view-arm"),
            ("rear", "roll-centre"),
            ("rear", "camber"),
            ("top", "toe"),
        ] {
            let text = format!("document.querySelector(\"#part-{view} text[data-quantity='{quantity}']\")");
            tab.js(&format!("{text}.dispatchEvent(new MouseEvent('mouseover', {{ bubbles: true }}))")).await;
            let told = "return !document.getElementById('tip').hidden && tip.textContent.length > 20";
            tab.until(told, format!("what {quantity} means")).await;
            tab.js(&format!("{text}.dispatchEvent(new MouseEvent('click', {{ bubbles: true }}))")).await;
            tab.has("dialog[open] .formula").await;
            tab.key("Escape", 0).await;
            tab.until("return !document.querySelector('dialog')", "it closes").await;
        }
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

//! Stop and Balance with scripts: figures typed over, holes and setups chosen by keys, charts that say what they are.

use serde_json::{Value, json};

use crate::looks::{WHOLE, open};
use crate::served::Served;
use crate::tab::{LAPTOP, PHONE, Tab, quoted, with_page};

/// Text of a row of results.
async fn result(tab: &Tab, key: &str) -> String {
    tab.text(&format!("tr[data-result='{key}']")).await
}

/// Types over a figure, keeps it by Enter and waits until the file has it.
async fn type_over(served: &Served, tab: &Tab, path: &str, text: &str, line: &str) {
    let cell = format!("[data-path='{path}'] input");
    tab.has(&cell).await;
    tab.js(&format!("document.querySelector({}).focus()", quoted(&cell))).await;
    let had = format!("document.querySelector({})?.defaultValue", quoted(&cell));
    let before = tab.js(&format!("return {had}")).await;
    tab.write(&cell, text).await;
    tab.key("Enter", 0).await;
    // The page is there again with what it has now: a hand that was quicker would type into what is swapped.
    tab.until(&format!("return ![undefined, {before}].includes({had})"), format!("{path} is shown")).await;
    tab.rest().await;
    assert!(served.text().contains(line), "`{line}` is not in the file:\n{}", served.text());
}

/// Tabs from the top of the page to the link of a choice and presses Enter.
async fn choose(tab: &Tab, name: &str) {
    tab.js("document.querySelector('.skip').focus()").await;
    for _ in 0..60 {
        tab.key("Tab", 0).await;
        let at = "const at = document.activeElement;
            return at.closest('nav[aria-label=Hole]') ? at.textContent.trim().replace(/\\s+/g, ' ') : ''";
        if tab.js(at).await == json!(name) {
            tab.key("Enter", 0).await;
            let current = format!(
                "return [...document.querySelectorAll('nav[aria-label=Hole] [aria-current]')]
                    .map((e) => e.textContent.trim().replace(/\\s+/g, ' ')).join() === {}",
                quoted(name)
            );
            tab.until(&current, format!("{name} is marked")).await;
            tab.rest().await;
            return;
        }
    }
    panic!("Tab does not reach {name}");
}

#[test]
fn a_typed_figure_is_kept_by_enter_and_the_results_follow() {
    with_page("stage-typed", LAPTOP, async |served, tab| {
        open(served, tab, WHOLE).await;
        tab.go("/stop").await;
        tab.until(
            "return document.querySelector('#part-stage').textContent.includes('In a stop of 1.00 g')",
            "the stop of the file",
        )
        .await;
        type_over(served, tab, "stop.deceleration", "0.6", "deceleration = 0.6 ").await;
        tab.until(
            "return document.querySelector('#part-stage').textContent.includes('In a stop of 0.60 g')",
            "the results follow",
        )
        .await;
        // A list, and a figure that cannot be: it is told at its cell, and the file stays.
        type_over(served, tab, "front.disc.pistons", "36, 36, 40, 40", "pistons   = [36, 36, 40, 40] ").await;
        let before = served.text();
        let cell = "[data-path='pedal.ratio'] input";
        tab.js(&format!("document.querySelector({}).focus()", quoted(cell))).await;
        tab.write(cell, "five").await;
        tab.key("Enter", 0).await;
        tab.has("[data-path='pedal.ratio'] [aria-invalid=true], [data-path='pedal.ratio'] .why").await;
        assert_eq!(served.text(), before);
        tab.go("/balance").await;
        let share = result(tab, "roll-stiffness-share").await;
        type_over(served, tab, "rear.bar.diameter", "22 ± 0.1", "diameter = \"22 ± 0.1\"").await;
        tab.until(
            &format!(
                "return document.querySelector(\"tr[data-result='roll-stiffness-share']\").textContent !== {}",
                quoted(&share)
            ),
            "a thicker bar takes more of the roll",
        )
        .await;
        let complaints = tab.complaints().await;
        assert!(complaints.iter().all(|c| c.contains("422")), "{complaints:?}");
    });
}

#[test]
fn holes_and_setups_are_chosen_by_keys() {
    with_page("stage-chosen", LAPTOP, async |served, tab| {
        open(served, tab, WHOLE).await;
        for (path, row) in [("/stop", "front-share"), ("/balance", "roll-stiffness-share")] {
            tab.go(path).await;
            let drawn = tab.text("#part-stage").await;
            choose(tab, "C circuit").await;
            let address = tab.js("return location.search").await;
            assert!(address.as_str().is_some_and(|a| a.contains("use=")), "{address}");
            assert_ne!(tab.text("#part-stage").await, drawn, "{path}: the hole changes what follows");
            let with_hole = result(tab, row).await;
            choose(tab, "A cones").await;
            let address = tab.js("return location.search").await;
            assert!(address.as_str().is_some_and(|a| a.contains("with=cones")), "{address}");
            assert_ne!(result(tab, row).await, with_hole, "{path}: so does the setup");
            assert_eq!(tab.complaints().await, Vec::<String>::new(), "{path}");
        }
    });
}

/// Names of what the browser takes for pictures, as a screen reader is told them.
async fn pictures(tab: &Tab) -> Vec<String> {
    let tree = tab.cdp("Accessibility.getFullAXTree", json!({})).await;
    let nodes = tree["nodes"].as_array().cloned().unwrap_or_default();
    let picture =
        |n: &Value| n["ignored"] == false && (n["role"]["value"] == "image" || n["role"]["value"] == "img");
    let name = |n: &Value| n["name"]["value"].as_str().unwrap_or_default().to_string();
    nodes.iter().filter(|n| picture(n)).map(name).collect()
}

#[test]
fn charts_and_maps_have_names_for_those_who_do_not_see_them() {
    with_page("stage-names", LAPTOP, async |served, tab| {
        open(served, tab, WHOLE).await;
        for (path, of) in [("/stop", "over"), ("/balance", "speed")] {
            tab.go(path).await;
            let drawn = tab.js("return document.querySelectorAll('#part-stage svg').length").await;
            let mut names = pictures(tab).await;
            assert!(names.len() >= 4 && json!(names.len()) == drawn, "{path}: {drawn} are drawn: {names:#?}");
            assert!(names.iter().all(|name| !name.is_empty()), "{path}: {names:#?}");
            assert!(names.iter().any(|name| name.contains(of)), "{path}: {names:#?}");
            let count = names.len();
            names.sort();
            names.dedup();
            assert_eq!(names.len(), count, "{path}: two have one name: {names:#?}");
        }
    });
}

/// On a telephone a ± stands beside its figure or whole below it; neither is broken over two lines.
#[test]
fn a_figure_and_its_doubt_are_not_torn_apart() {
    with_page("stage-lines", PHONE, async |served, tab| {
        open(served, tab, WHOLE).await;
        for path in ["/stop", "/balance", "/weigh"] {
            tab.go(path).await;
            let broken = tab
                .js("const wide = document.documentElement.clientWidth;
                    const torn = [];
                    for (const cell of document.querySelectorAll('table.weights td:not(.word, .unit)')) {
                        if (!cell.checkVisibility()) continue;
                        const texts = document.createTreeWalker(cell.querySelector('b') ?? cell, NodeFilter.SHOW_TEXT);
                        while (texts.nextNode()) {
                            const range = document.createRange();
                            range.selectNodeContents(texts.currentNode);
                            const boxes = [...range.getClientRects()];
                            if (new Set(boxes.map((r) => Math.round(r.top))).size > 1 || boxes.some((r) => r.right > wide))
                                torn.push(cell.textContent);
                        }
                    }
                    return torn;")
                .await;
            assert_eq!(broken, json!([]), "{path}");
            tab.shot(&format!("lines-{}", path.trim_start_matches('/'))).await;
        }
    });
}

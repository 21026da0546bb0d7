//! Dragging a pickup by mouse, finger and keys; what holds it; coordinates typed instead.

use serde_json::Value;

use crate::looks::{WHOLE, open};
use crate::tab::{LAPTOP, PHONE, Tab, with_page};

/// The end of the link that the demo car is about.
const MARK: &str = "#part-side [data-point='link.lower-fore.body'] .mark";
const POINT: &str = "#part-side [data-point='link.lower-fore.body']";

/// Where a mark's point is as drawn [mm].
const AT: &str = "const at = (mark) => (mark.dataset.design ?? mark.dataset.at).split(' ').map(Number);";

/// Pixels on the screen for a length in the side view.
async fn pixels(tab: &Tab, mm: f64) -> f64 {
    let script = "const svg = document.querySelector('#part-side svg');
        return svg.clientWidth / svg.viewBox.baseVal.width / Number(svg.dataset.mmPerPx)";
    mm * tab.js(script).await.as_f64().expect("a scale")
}

/// The first whole number of the trial row's anti-lift, and the point's place [mm].
async fn anti_lift(tab: &Tab) -> f64 {
    let script = "const head = [...document.querySelectorAll('#part-table thead th')]
            .findIndex((h) => h.textContent.includes('anti lift'));
        return Number(document.querySelector('#part-table tr.in-use')?.cells[head].querySelector('b').textContent)";
    tab.js(script).await.as_f64().unwrap_or(f64::NAN)
}

async fn height(tab: &Tab) -> f64 {
    let script = format!("{AT} return Number(at(document.querySelector(\"{POINT}\"))[2])");
    tab.js(&script).await.as_f64().expect("a height")
}

#[test]
fn by_pointer_the_table_follows_while_the_button_is_down() {
    with_page("drag-pointer", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let (before, low) = (anti_lift(tab).await, height(tab).await);
        let (x, y) = tab.place(MARK).await;
        let up = pixels(tab, 15.0).await;
        tab.mouse("mouseMoved", (x, y)).await;
        tab.mouse("mousePressed", (x, y)).await;
        for step in 1..=6 {
            tab.drag_to((x, y - up * f64::from(step) / 6.0)).await;
        }
        tab.has("#part-table tr.trial").await;
        tab.has("#part-side path.ghost").await;
        tab.rest().await;
        let during = anti_lift(tab).await;
        assert!(during > before + 5.0, "anti-lift {before} before, {during} while dragging");
        assert!((height(tab).await - low - 15.0).abs() < 1.5, "{low} to {}", height(tab).await);
        assert!(
            tab.js("return location.search.includes('move=')").await == Value::Bool(false),
            "still on its way"
        );
        tab.shot("drag-pointer").await;
        tab.mouse("mouseReleased", (x, y - up)).await;
        tab.until("return location.search.includes('move=')", "the address says what was moved").await;
        tab.until("return !document.querySelector('#part-side path.ghost')", "the ghost goes").await;
        assert!((anti_lift(tab).await - during).abs() < 1.5);
        tab.back().await;
        tab.until("return !document.querySelector('tr.trial')", "back takes it away").await;
        assert!((height(tab).await - low).abs() < 0.1);
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn what_comes_piecemeal_is_what_comes_whole() {
    with_page("drag-piecemeal", LAPTOP, async |served, tab| {
        open(served, tab, WHOLE).await;
        tab.go("/place?axle=rear").await;
        let (x, y) = tab.place(MARK).await;
        tab.mouse("mousePressed", (x, y)).await;
        // Every part that the last answers on the line brought up to date, against the same as one request brings it.
        let compare = "const done = arguments[arguments.length - 1];
            const unlike = (own, other) => {
                if (other.nodeType === 3) return own.nodeValue === other.nodeValue ? null : `${own.nodeValue} / ${other.nodeValue}`;
                if (other.hasAttribute('data-left')) return null;
                const all = (e) => [...e.attributes].map((a) => `${a.name}=${a.value}`).sort().join(' ');
                if (own.nodeName !== other.nodeName || all(own) !== all(other)) return `${own.outerHTML} / ${other.outerHTML}`;
                if (own.childNodes.length !== other.childNodes.length) return `${own.outerHTML} / ${other.outerHTML}`;
                return [...own.childNodes].map((node, i) => unlike(node, other.childNodes[i])).find((why) => why) ?? null;
            };
            (async () => {
                const shares = ['axle', 'car'].map((of) => line.asked.findLast((text) => text.includes(`share=${of}`)));
                const found = { asked: line.asked.length, whole: line.asked.filter((t) => t.includes('whole=')).length, parts: 0, unlike: [] };
                for (const asked of shares) {
                    const answer = await (await fetch('/place/parts?' + asked)).text();
                    const template = document.createElement('template');
                    template.innerHTML = answer;
                    for (const part of template.content.querySelectorAll('[id^=part-]')) {
                        found.parts += 1;
                        const why = unlike(document.getElementById(part.id), part);
                        if (why) found.unlike.push(`${part.id}: ${why}`.slice(0, 600));
                    }
                }
                done(found);
            })();";
        let mut found = Value::Null;
        // After the second move too, the first of which the row comes by itself.
        for steps in [1..=2_u32, 3..=24] {
            for step in steps {
                let angle = f64::from(step) / 3.0;
                tab.drag_to((x + 30.0 * angle.sin(), y - 25.0 + 30.0 * angle.cos())).await;
                let pause = if step <= 2 || step % 8 == 0 { 400 } else { 15 };
                tokio::time::sleep(std::time::Duration::from_millis(pause)).await;
            }
            tab.rest().await;
            found = tab.js_later(compare).await;
            assert_eq!(found["unlike"].as_array().map(Vec::len), Some(0), "{found:#}");
            assert!(found["parts"].as_u64() >= Some(5), "{found:#}");
        }
        tab.mouse("mouseReleased", (x, y)).await;
        assert!(found["asked"].as_u64() >= Some(20), "{found:#}");
        assert_eq!(found["whole"].as_u64(), Some(1), "the first alone is whole: {found:#}");
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn without_an_open_line_it_goes_by_requests() {
    with_page("drag-requests", LAPTOP, async |_, tab| {
        let deaf = "window.WebSocket = class extends EventTarget { static OPEN = 1; readyState = 3; };";
        tab.cdp("Page.addScriptToEvaluateOnNewDocument", serde_json::json!({ "source": deaf })).await;
        tab.go("/place").await;
        let (before, low) = (anti_lift(tab).await, height(tab).await);
        let (x, y) = tab.place(MARK).await;
        let up = pixels(tab, 15.0).await;
        tab.mouse("mousePressed", (x, y)).await;
        for step in 1..=6 {
            tab.drag_to((x, y - up * f64::from(step) / 6.0)).await;
        }
        tab.has("#part-table tr.trial").await;
        tab.rest().await;
        assert!(anti_lift(tab).await > before + 5.0);
        assert!((height(tab).await - low - 15.0).abs() < 1.5);
        tab.mouse("mouseReleased", (x, y - up)).await;
        tab.until("return location.search.includes('move=')", "the address says what was moved").await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn escape_lets_go_without_moving() {
    with_page("drag-escape", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let low = height(tab).await;
        let (x, y) = tab.place(MARK).await;
        tab.mouse("mousePressed", (x, y)).await;
        for step in 1..=4 {
            tab.drag_to((x, y - 8.0 * f64::from(step))).await;
        }
        tab.has("tr.trial").await;
        tab.key("Escape", 0).await;
        tab.until("return !document.querySelector('tr.trial')", "the trial goes").await;
        tab.mouse("mouseReleased", (x, y - 32.0)).await;
        tab.rest().await;
        assert!((height(tab).await - low).abs() < 0.1);
        assert!(!tab.is_there("tr.trial").await);
    });
}

#[test]
fn by_keys_a_press_is_a_step() {
    with_page("drag-keys", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let low = height(tab).await;
        tab.place(POINT).await;
        tab.js(&format!("document.querySelector(\"{POINT}\").focus()")).await;
        for presses in 1..=3 {
            tab.key("ArrowUp", 0).await;
            let script = format!(
                "{AT} return Math.abs(at(document.querySelector(\"{POINT}\"))[2] - {low} - {presses}) < 0.05"
            );
            tab.until(&script, format!("{presses} mm up")).await;
        }
        tab.has("tr.trial").await;
        tab.until("return location.search.includes('move=')", "the address says it").await;
        tab.rest().await;
        let focus =
            tab.js("return document.activeElement.dataset.point ?? document.activeElement.tagName").await;
        assert_eq!(focus, Value::from("link.lower-fore.body"), "the mark keeps the focus");
        tab.back().await;
        tab.until("return !document.querySelector('tr.trial')", "a run of presses is one step back").await;
    });
}

#[test]
fn three_quick_presses_are_three_steps() {
    with_page("drag-keys-quick", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let low = height(tab).await;
        tab.place(POINT).await;
        tab.js(&format!(
            "const at = document.querySelector(\"{POINT}\"); at.focus();
             for (let i = 0; i < 3; i++) document.activeElement.dispatchEvent(
                new KeyboardEvent('keydown', {{ key: 'ArrowUp', bubbles: true, cancelable: true }}))"
        ))
        .await;
        tab.has("tr.trial").await;
        tab.rest().await;
        let up = height(tab).await - low;
        assert!((up - 3.0).abs() < 0.05, "{up} mm");
    });
}

#[test]
fn by_finger_on_a_telephone() {
    with_page("drag-touch", PHONE, async |_, tab| {
        tab.go("/place").await;
        let (x, y) = tab.place(MARK).await;
        let low = height(tab).await;
        let up = pixels(tab, 30.0).await;
        let scrolled = tab.js("return scrollY").await;
        tab.touch("touchStart", Some((x, y))).await;
        for step in 1..=6 {
            tab.touch("touchMove", Some((x, y - up * f64::from(step) / 6.0))).await;
        }
        tab.has("#part-figures .change, tr.trial").await;
        tab.rest().await;
        tab.shot("drag-touch").await;
        tab.touch("touchEnd", None).await;
        tab.until("return location.search.includes('move=')", "the address says what was moved").await;
        assert!((height(tab).await - low - 30.0).abs() < 4.0, "{low} to {}", height(tab).await);
        assert_eq!(tab.js("return scrollY").await, scrolled, "the page stays while a mark is dragged");
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn along_its_plate_only() {
    with_page("drag-plate", LAPTOP, async |_, tab| {
        tab.go("/place?axle=rear&hold=plate&point=link.lower-fore.body").await;
        let rear = "#part-rear [data-point='link.lower-fore.body']";
        let place = format!("{AT} return at(document.querySelector(\"{rear}\"))");
        let before = tab.js(&place).await;
        let (x, y) = tab.place(&format!("{rear} .mark")).await;
        tab.mouse("mousePressed", (x, y)).await;
        for step in 1..=5 {
            tab.drag_to((x + 6.0 * f64::from(step), y - 6.0 * f64::from(step))).await;
        }
        tab.has("tr.trial").await;
        tab.mouse("mouseReleased", (x + 30.0, y - 30.0)).await;
        tab.until("return location.search.includes('move=')", "the move").await;
        let after = tab.js(&place).await;
        let at = |v: &Value, axis: usize| v[axis].as_f64().unwrap();
        assert!((at(&after, 1) - at(&before, 1)).abs() < 0.05, "the plate stands along the car: {after}");
        assert!(at(&after, 2) > at(&before, 2) + 5.0, "{before} to {after}");
    });
}

#[test]
fn coordinates_may_be_typed() {
    with_page("typed", LAPTOP, async |_, tab| {
        tab.go("/place?axle=rear&point=link.lower-fore.body").await;
        tab.write("[name=to-z]", "270").await;
        tab.key("Enter", 0).await;
        tab.until("return location.search.includes('move=')", "the move").await;
        tab.has("tr.trial").await;
        assert!((height(tab).await - 270.0).abs() < 0.05);
        tab.write("[name=to-z]", "two").await;
        tab.key("Enter", 0).await;
        tab.until(
            "return document.getElementById('said').textContent.startsWith('z: ')",
            "the mistake is said",
        )
        .await;
        assert!((height(tab).await - 270.0).abs() < 0.05);
    });
}

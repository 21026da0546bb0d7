//! The view that can be turned about.

use serde_json::{Value, json};

use crate::tab::{LAPTOP, Tab, decoded, with_page};

/// Least size of a shaded picture [bytes]: one of a single colour is far smaller.
const SHADED: usize = 5000;

/// The picture on the screen; the canvas itself does not keep what it has drawn.
async fn picture(tab: &Tab) -> Vec<u8> {
    tab.rest().await;
    let clip = tab.js("const { x, y, width, height } = document.querySelector('#solid-view canvas').getBoundingClientRect();
        return { x: x + scrollX, y: y + scrollY, width, height, scale: 1 }").await;
    decoded(&tab.cdp("Page.captureScreenshot", json!({ "format": "png", "clip": clip })).await)
}

#[test]
fn hand_wheel_and_keys_turn_it() {
    with_page("solid", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let canvas = "#solid-view canvas";
        let (x, y) = tab.place(canvas).await;
        let first = picture(tab).await;
        assert!(first.len() > SHADED, "{} bytes", first.len());
        tab.mouse("mousePressed", (x, y)).await;
        tab.drag_to((x + 60.0, y + 10.0)).await;
        tab.mouse("mouseReleased", (x + 60.0, y + 10.0)).await;
        let turned = picture(tab).await;
        assert!(turned != first, "the hand turns it");
        tab.key("ArrowLeft", 0).await;
        let keyed = picture(tab).await;
        assert!(keyed != turned, "the keys turn it");
        tab.key("+", 0).await;
        assert!(picture(tab).await != keyed, "the keys zoom");
        tab.key("Home", 0).await;
        assert!(picture(tab).await == first, "home is where it began");
        let scrolled = tab.js("return scrollY").await;
        tab.cdp(
            "Input.dispatchMouseEvent",
            json!({ "type": "mouseWheel", "x": x, "y": y, "deltaX": 0, "deltaY": 90 }),
        )
        .await;
        assert!(picture(tab).await != first, "the wheel zooms the chosen view");
        assert_eq!(tab.js("return scrollY").await, scrolled);
        tab.js("document.activeElement.blur()").await;
        tab.cdp(
            "Input.dispatchMouseEvent",
            json!({ "type": "mouseWheel", "x": x, "y": y, "deltaX": 0, "deltaY": -90 }),
        )
        .await;
        let moved = format!("return scrollY !== {scrolled}");
        tab.until(&moved, "elsewhere the page scrolls").await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn it_follows_the_car_and_keeps_where_it_was_turned() {
    with_page("solid-follows", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        tab.place("#solid-view canvas").await;
        tab.js("document.querySelector('#solid-view canvas').focus()").await;
        for _ in 0..3 {
            tab.key("ArrowRight", 0).await;
        }
        let turned = picture(tab).await;
        tab.js("document.querySelector('#part-table tbody tr:nth-child(3) th a').click()").await;
        tab.until("return location.search.includes('use=')", "another hole").await;
        tab.rest().await;
        assert!(picture(tab).await != turned, "another hole is another mesh");
        tab.js("history.back()").await;
        tab.until("return !location.search.includes('use=')", "back").await;
        tab.rest().await;
        assert!(picture(tab).await == turned, "the same car from the same side");
    });
}

#[test]
fn without_webgl_the_figure_says_so() {
    with_page("solid-without", LAPTOP, async |_, tab| {
        let source = "HTMLCanvasElement.prototype.getContext = () => null";
        tab.cdp("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source })).await;
        tab.go("/place").await;
        let told = "const words = document.querySelector('#solid-view .without');
            return words.offsetHeight > 0 && words.textContent.includes('WebGL')";
        assert_eq!(tab.js(told).await, Value::Bool(true));
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

//! Travel, roll and steer: sliders and the buttons that move them.

use serde_json::Value;

use crate::tab::{LAPTOP, Tab, with_page};

/// The wheel in the side view.
const WHEEL: &str = "return document.querySelector('#part-side path.tyre').outerHTML";

async fn slide(tab: &Tab, name: &str, presses: usize) {
    tab.place(&format!("#at-{name}")).await;
    tab.js(&format!("document.getElementById('at-{name}').focus()")).await;
    for _ in 0..presses {
        tab.key("ArrowRight", 0).await;
    }
}

#[test]
fn a_slider_moves_every_drawing() {
    with_page("sliders", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        let before = tab.js(WHEEL).await;
        slide(tab, "travel", 8).await;
        tab.until("return location.search.includes('travel=0.008')", "the address says the travel").await;
        assert_ne!(tab.js(WHEEL).await, before);
        assert!(tab.text("output[for=at-travel]").await.starts_with("+8"));
        slide(tab, "roll", 10).await;
        tab.until("return location.search.includes('roll=0.017')", "the address says the roll").await;
        tab.rest().await;
        tab.shot("travel-and-roll").await;
        tab.click(".attitude a.button").await;
        tab.until("return !location.search.includes('travel=')", "back to ride height").await;
        assert_eq!(tab.js(WHEEL).await, before);
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn it_moves_by_itself_until_told_to_stop() {
    with_page("play", LAPTOP, async |_, tab| {
        tab.go("/place").await;
        tab.click("[data-play=travel]").await;
        // What is scrolled out of sight does not move.
        tab.place("#part-side").await;
        let mut seen = vec![tab.js(WHEEL).await];
        for _ in 0..4 {
            let last = seen[seen.len() - 1].to_string();
            tab.until(
                &format!("return document.querySelector('#part-side path.tyre').outerHTML !== {last}"),
                "it moves",
            )
            .await;
            seen.push(tab.js(WHEEL).await);
        }
        tab.until(
            "return document.querySelector('[data-play=travel]').textContent === 'stop'",
            "it can be stopped",
        )
        .await;
        tab.click("[data-play=travel]").await;
        tab.until("return location.search.includes('travel=')", "the address says where it stopped").await;
        tab.rest().await;
        let still = tab.js(WHEEL).await;
        tokio::time::sleep(std::time::Duration::from_millis(300)).await;
        assert_eq!(tab.js(WHEEL).await, still);
        assert_eq!(tab.text("[data-play=travel]").await, "move");
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn charts_go_over_roll_and_steer() {
    with_page("charts", LAPTOP, async |_, tab| {
        tab.go("/place?axle=front").await;
        for (over, words) in [("roll", "body roll"), ("rack", "rack travel"), ("", "wheel travel")] {
            let link = match over {
                "" => "#part-charts nav a:first-child".to_string(),
                over => format!("#part-charts nav a[href*='over={over}']"),
            };
            tab.click(&link).await;
            let script =
                format!("return document.querySelector('#part-charts svg').textContent.includes('{words}')");
            tab.until(&script, words).await;
            let curves = tab.js("return document.querySelectorAll('#part-charts path.curve').length").await;
            assert!(curves.as_u64() >= Some(3), "{over}: {curves}");
        }
        assert_eq!(tab.complaints().await, Vec::<String>::new());
        assert_ne!(tab.js("return document.title").await, Value::Null);
    });
}

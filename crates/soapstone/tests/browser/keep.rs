//! Keeping a trial in the file, taking it back, pins.

use serde_json::Value;

use crate::tab::{LAPTOP, with_page};

const TRIAL: &str = "/place?axle=rear&move=link.lower-fore.body%40-2.10000%2C0.42000%2C0.27000";

/// The line of the file that says where the point is.
fn line(text: &str) -> String {
    let part = text.split("[rear.link.lower-fore]").nth(1).unwrap_or_default();
    part.lines().find(|l| l.starts_with("body")).unwrap_or_default().to_string()
}

#[test]
fn what_is_kept_is_in_the_file_and_can_be_taken_back() {
    with_page("keep", LAPTOP, async |served, tab| {
        let first = served.text();
        tab.go(TRIAL).await;
        tab.has("tr.trial").await;
        tab.shot("trial").await;
        tab.click("[data-keep] button").await;
        tab.until("return !location.search.includes('move=')", "the trial is the car now").await;
        let kept = served.text();
        assert!(line(&kept).starts_with("body    = [2100, 420, 270]"), "{}", line(&kept));
        assert!(line(&kept).contains("# on a plate that hangs from the sill"), "{}", line(&kept));
        assert_eq!(kept.lines().count(), first.lines().count(), "nothing else has changed");
        tab.until("return !document.querySelector('[data-way=undo] button').disabled", "undo is there").await;
        tab.click("[data-way=undo] button").await;
        tab.until("return document.querySelector('[data-way=undo] button').disabled", "it is taken back")
            .await;
        assert_eq!(served.text(), first);
        tab.key("y", 2).await;
        tab.until("return document.querySelector('[data-way=redo] button').disabled", "it is made again")
            .await;
        assert_eq!(served.text(), kept);
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn variants_are_pinned_compared_taken_up_and_discarded() {
    with_page("pins", LAPTOP, async |_, tab| {
        tab.go(TRIAL).await;
        tab.write("[name=pin-as]", "fifteen up").await;
        tab.click("[data-pin] button").await;
        tab.until("return location.search.includes('pin=fifteen')", "the pin").await;
        tab.has("#part-table .swatch.s1").await;
        tab.click("#part-table tbody tr:nth-child(3) th a").await;
        tab.until("return location.search.includes('use=')", "another hole beside it").await;
        tab.has("#part-side path.variant").await;
        let curves = tab
            .js("return document.querySelectorAll('#part-charts figure:first-child path.curve').length")
            .await;
        assert_eq!(curves, Value::from(3), "the hole, the car as drawn, the variant");
        tab.shot("pinned").await;
        tab.click("#part-table [title^='take this variant']").await;
        tab.until("return location.search.includes('&move=')", "it is the trial").await;
        tab.click("#part-table [aria-label^=discard]").await;
        tab.until("return !location.search.includes('pin=')", "it is gone").await;
        tab.has("tr.trial").await;
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn the_finder_writes_a_hole() {
    with_page("finder", LAPTOP, async |served, tab| {
        tab.go("/place?axle=rear&want=anti-lift%3D40").await;
        tab.has("#part-finder table").await;
        tab.shot("finder").await;
        tab.click("#part-finder [data-keep] button").await;
        let rows = "return document.querySelectorAll('#part-table tbody tr:not(.note)').length === 6";
        tab.until(rows, "another row").await;
        assert_eq!(served.text().matches("[[rear.holes]]").count(), 5);
    });
}

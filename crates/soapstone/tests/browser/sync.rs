//! Two browsers on one car, an editor on the file, and who is right when both change it.

use std::time::{Duration, Instant};

use serde_json::Value;

use crate::tab::{LAPTOP, PHONE, Tab, with_page, with_pages};

/// Longest that a change may take to the other screen.
const SOON: Duration = Duration::from_secs(2);

async fn rows(tab: &Tab) -> Value {
    tab.js("return document.querySelectorAll('#part-table tbody tr:not(.note)').length").await
}

#[test]
fn a_second_browser_sees_every_change() {
    with_pages("sync", &[LAPTOP, PHONE], async |_, tabs| {
        let [laptop, phone] = tabs else { panic!("two browsers") };
        phone.go("/place").await;
        laptop.go("/place?axle=rear&move=link.lower-fore.body%40-2.10000%2C0.42000%2C0.27000").await;
        let place =
            "return document.querySelector(\"#part-side [data-point='link.lower-fore.body']\").dataset.at";
        let before = phone.js(place).await;
        laptop.click("[data-keep] button").await;
        let begun = Instant::now();
        phone.until(&format!("return document.querySelector(\"#part-side [data-point='link.lower-fore.body']\").dataset.at !== {before}"), "the change").await;
        assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
        phone
            .until("return document.getElementById('said').textContent !== ''", "what was done is said")
            .await;
        phone
            .until("return !document.querySelector('[data-way=undo] button').disabled", "undo is there too")
            .await;
        phone.rest().await;
        phone.click("[data-way=undo] button").await;
        laptop
            .until("return document.querySelector('[data-way=undo] button').disabled", "it is taken back")
            .await;
        assert_eq!(phone.complaints().await, Vec::<String>::new());
        assert_eq!(laptop.complaints().await, Vec::<String>::new());
    });
}

#[test]
fn what_an_editor_writes_is_picked_up() {
    with_page("outside", LAPTOP, async |served, tab| {
        tab.go("/place").await;
        assert_eq!(rows(tab).await, Value::from(5));
        let more = "\n[[rear.holes]]\nend = \"link.lower-fore.body\"\nname = \"E\"\nat = [2090, 420, 300]\n\n[setup.circuit]";
        std::fs::write(&served.file, served.text().replace("\n[setup.circuit]", more)).unwrap();
        let begun = Instant::now();
        tab.until(
            "return document.querySelectorAll('#part-table tbody tr:not(.note)').length === 6",
            "another hole",
        )
        .await;
        assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
        std::fs::write(&served.file, "this is [ no car").unwrap();
        tab.rest().await;
        tokio::time::sleep(Duration::from_millis(700)).await;
        tab.shot("broken-file").await;
    });
}

#[test]
fn a_conflict_is_shown_and_nothing_is_overwritten() {
    with_page("conflict", LAPTOP, async |served, tab| {
        tab.go("/place?axle=rear&move=link.lower-fore.body%40-2.10000%2C0.42000%2C0.27000").await;
        let theirs = served.text().replacen("body    = [2100, 420, 255]", "body    = [2100, 420, 249]", 1);
        assert_ne!(theirs, served.text());
        // Both in one breath: the program has not seen the editor's change when the button is pressed.
        std::fs::write(&served.file, &theirs).unwrap();
        tab.js("document.querySelector('[data-keep] button').click()").await;
        tab.until("return document.getElementById('said').textContent !== ''", "an answer").await;
        tab.rest().await;
        let said = tab.text("#said").await;
        println!("said: {said}");
        let after = served.text();
        assert!(after == theirs || after.contains("[2100, 420, 270]"), "half an edit:\n{after}");
        if after == theirs {
            assert!(said.contains("249") && said.contains("270"), "both values are shown: {said}");
        }
        tab.shot("conflict").await;
    });
}

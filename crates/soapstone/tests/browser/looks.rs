//! Telephone, dark, print.

use serde_json::{Value, json};

use crate::tab::{LAPTOP, PHONE, Tab, decoded, with_page};

/// Every page, by name, for the checks that hold on all of them.
pub const PAGES: [(&str, &str); 9] = [
    ("place", "/place"),
    ("place-front", "/place?axle=front&fit=car"),
    (
        "place-trial",
        "/place?axle=rear&point=link.lower-fore.body&move=link.lower-fore.body%40-2.10000%2C0.42000%2C0.27000\
         &pin=high~use%3Dlink.lower-fore.body%3DC",
    ),
    ("place-wanted", "/place?axle=rear&want=anti-lift%3D30%2C50"),
    ("explain", "/explain?quantity=anti-lift&axle=rear"),
    ("measure", "/measure"),
    ("measure-front", "/measure?axle=front"),
    ("start", "/start"),
    ("missing", "/nothing-here"),
];

/// Lightness of the page behind everything, 0 black to 1 white.
async fn paper(tab: &Tab) -> f64 {
    let script = "const of = (e) => getComputedStyle(e).backgroundColor.match(/[\\d.]+/g).map(Number);
        const [r, g, b] = of(document.body); return (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255";
    tab.js(script).await.as_f64().expect("a lightness")
}

#[test]
fn nothing_is_wider_than_a_telephone() {
    with_page("phone", PHONE, async |_, tab| {
        for (name, path) in PAGES {
            tab.go(path).await;
            let width = tab.js("return [document.documentElement.scrollWidth, innerWidth]").await;
            assert_eq!(width, json!([PHONE.0, PHONE.0]), "{name}");
            tab.shot(&format!("{name}-phone")).await;
            let complaints = tab.complaints().await;
            assert!(complaints.iter().all(|c| c.contains("404")), "{name}: {complaints:?}");
        }
    });
}

#[test]
fn dark_is_dark_and_light_is_light() {
    with_page("dark", LAPTOP, async |_, tab| {
        for (name, path) in PAGES {
            tab.media("dark", "").await;
            tab.go(path).await;
            assert!(paper(tab).await < 0.15, "{name}: {}", paper(tab).await);
            tab.shot(&format!("{name}-dark")).await;
            tab.media("light", "").await;
            assert!(paper(tab).await > 0.85, "{name}: {}", paper(tab).await);
            tab.rest().await;
            tab.shot(&format!("{name}-light")).await;
        }
    });
}

#[test]
fn it_prints_without_what_cannot_be_pressed_on_paper() {
    with_page("print", LAPTOP, async |_, tab| {
        for (name, path) in PAGES {
            tab.media("dark", "").await;
            tab.go(path).await;
            let sheet = tab.cdp("Page.printToPDF", json!({ "printBackground": true })).await;
            let sheet = decoded(&sheet);
            assert!(sheet.starts_with(b"%PDF-") && sheet.len() > 5000, "{name}");
            let pages = String::from_utf8_lossy(&sheet).matches("/Type /Page\n").count();
            println!("{name}: {pages} pages");
            assert!((1..=8).contains(&pages), "{name}: {pages} pages");
            tab.media("dark", "print").await;
            let hidden = "return [...document.querySelectorAll('nav, .ways, .trial-bar, .skip')].every((e) => e.offsetHeight === 0)";
            assert_eq!(tab.js(hidden).await, Value::Bool(true), "{name}");
            assert!(paper(tab).await > 0.95, "{name}: paper is white");
            let cautions = tab.js("return document.querySelector('.cautions').offsetHeight > 0").await;
            assert_eq!(cautions, Value::Bool(true), "{name}: the cautions are on paper too");
            tab.shot(&format!("{name}-print")).await;
        }
    });
}

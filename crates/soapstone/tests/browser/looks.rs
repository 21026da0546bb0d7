//! Telephone, dark, print.

use serde_json::{Value, json};

use crate::served::Served;
use crate::tab::{LAPTOP, PHONE, Tab, decoded, with_page};

/// Every page, by name, for the checks that hold on all of them.
const PAGES: [(&str, &str); 9] = [
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

/// The car that is weighed and has tyres and brakes, and the pages that only such a car fills.
pub const WHOLE: &str = include_str!("../../../../examples/plover/whole.toml");
const OF_WHOLE: [(&str, &str); 10] = [
    ("place-whole", "/place?axle=rear"),
    ("weigh", "/weigh"),
    ("stop", "/stop"),
    ("stop-setup", "/stop?axle=rear&with=cones&use=link.lower-fore.body%3DA"),
    ("balance", "/balance"),
    ("balance-hole", "/balance?axle=rear&use=link.lower-fore.body%3DC"),
    ("build", "/build"),
    ("drive", "/drive"),
    ("manoeuvres", "/manoeuvres"),
    ("search", "/search"),
];

/// Every car, and what of it is opened.
const CARS: [(&str, &[(&str, &str)]); 2] = [(PLOVER, &PAGES), (WHOLE, &OF_WHOLE)];
const PLOVER: &str = include_str!("../../../../examples/plover/car.toml");

/// Puts another car into the file and waits until the program has it.
pub async fn open(served: &Served, tab: &Tab, car: &str) {
    std::fs::write(&served.file, car).expect("a file");
    let name = project::read(car).car.expect("a car").name;
    for _ in 0..100 {
        tab.go("/measure").await;
        if tab.text(".top .car b").await == name {
            return;
        }
    }
    panic!("{name} is not opened");
}

/// Runs a test on every page of every car, in a browser of its own for each car.
pub fn on_all(name: &str, size: (u32, u32), mut test: impl AsyncFnMut(&Tab, &str, &str)) {
    for (car, pages) in CARS {
        with_page(name, size, async |served, tab| {
            open(served, tab, car).await;
            for (name, path) in pages {
                test(tab, name, path).await;
            }
        });
    }
}

/// Lightness of the page behind everything, 0 black to 1 white.
async fn paper(tab: &Tab) -> f64 {
    let script = "const of = (e) => getComputedStyle(e).backgroundColor.match(/[\\d.]+/g).map(Number);
        const [r, g, b] = of(document.body); return (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255";
    tab.js(script).await.as_f64().expect("a lightness")
}

#[test]
fn nothing_is_wider_than_a_telephone() {
    on_all("phone", PHONE, async |tab, name, path| {
        tab.go(path).await;
        let width = tab.js("return [document.documentElement.scrollWidth, innerWidth]").await;
        assert_eq!(width, json!([PHONE.0, PHONE.0]), "{name}");
        tab.shot(&format!("{name}-phone")).await;
        let complaints = tab.complaints().await;
        assert!(complaints.iter().all(|c| c.contains("404")), "{name}: {complaints:?}");
    });
}

#[test]
fn dark_is_dark_and_light_is_light() {
    on_all("dark", LAPTOP, async |tab, name, path| {
        tab.media("dark", "").await;
        tab.go(path).await;
        assert!(paper(tab).await < 0.15, "{name}: {}", paper(tab).await);
        tab.shot(&format!("{name}-dark")).await;
        tab.media("light", "").await;
        assert!(paper(tab).await > 0.85, "{name}: {}", paper(tab).await);
        tab.rest().await;
        tab.shot(&format!("{name}-light")).await;
    });
}

#[test]
fn it_prints_without_what_cannot_be_pressed_on_paper() {
    on_all("print", LAPTOP, async |tab, name, path| {
        tab.media("dark", "").await;
        tab.go(path).await;
        let sheet = tab.cdp("Page.printToPDF", json!({ "printBackground": true })).await;
        let sheet = decoded(&sheet);
        assert!(sheet.starts_with(b"%PDF-") && sheet.len() > 5000, "{name}");
        let pages = String::from_utf8_lossy(&sheet).matches("/Type /Page\n").count();
        println!("{name}: {pages} pages");
        assert!((1..=12).contains(&pages), "{name}: {pages} pages");
        tab.media("dark", "print").await;
        let hidden = "return [...document.querySelectorAll('nav, .ways, .trial-bar, .skip')].every((e) => e.offsetHeight === 0)";
        assert_eq!(tab.js(hidden).await, Value::Bool(true), "{name}");
        assert!(paper(tab).await > 0.95, "{name}: paper is white");
        let cautions = tab.js("return document.querySelector('.cautions').offsetHeight > 0").await;
        assert_eq!(cautions, Value::Bool(true), "{name}: the cautions are on paper too");
        tab.shot(&format!("{name}-print")).await;
    });
}

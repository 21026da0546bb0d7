//! The survey as it is typed: cells are written as they are left, two readers do not undo each other.

use serde_json::Value;

use crate::tab::{LAPTOP, PHONE, Tab, with_page, with_pages};

fn cell(row: &str, field: &str) -> String {
    format!("tr[data-row='{row}'] [data-cell='{field}'] input")
}

/// Types into a cell as a reader does: the old text is selected and typed over.
async fn over(tab: &Tab, place: &str, text: &str) {
    tab.js(&format!("const field = document.querySelector(\"{place}\"); field.focus(); field.select();"))
        .await;
    tab.write(place, text).await;
}

async fn value(tab: &Tab, place: &str) -> Value {
    tab.js(&format!("return document.querySelector(\"{place}\").value")).await
}

#[test]
fn a_cell_is_written_when_it_is_left() {
    with_page("measure", LAPTOP, async |served, tab| {
        tab.go("/measure?axle=rear").await;
        let (first, second) = (cell("link.toe.body", "x"), cell("link.toe.upright", "x"));
        over(tab, &first, "2761").await;
        tab.key("Enter", 0).await;
        let focus = format!("return document.activeElement === document.querySelector(\"{second}\")");
        tab.until(&focus, "Enter leads down a row").await;
        tab.rest().await;
        assert!(served.text().contains("body    = [2761, 300, 262]"));
        tab.until(&focus, "the focus stays where it was led").await;
        tab.until(
            "return document.querySelector('.sight-side .lit')?.dataset.point === 'link.toe.upright'",
            "its point is lit up",
        )
        .await;
        over(tab, &second, "27xx").await;
        tab.key("Tab", 0).await;
        tab.until(
            &format!("const field = document.querySelector(\"{second}\"); return field.ariaInvalid === 'true' && field.value === '27xx' &&
                document.getElementById(field.getAttribute('aria-describedby')).textContent.includes('not a known unit')"),
            "what was refused stays, with the reason",
        )
        .await;
        assert!(served.text().contains("upright = [2742, 690, 250]"));
        tab.shot("measure-refused").await;
    });
}

#[test]
fn entries_from_two_browsers_merge() {
    with_pages("merge", &[LAPTOP, PHONE], async |served, tabs| {
        let [laptop, phone] = tabs else { panic!("two browsers") };
        laptop.go("/measure?axle=rear").await;
        phone.go("/measure?axle=rear&point=link.toe.body").await;
        let (x, y) = (cell("link.toe.body", "x"), cell("link.toe.body", "y"));
        // Half typed, not left yet.
        over(laptop, &x, "27").await;
        over(phone, &y, "305").await;
        phone.click("[data-next]").await;
        laptop
            .until(&format!("return document.querySelector(\"{y}\").value === '305'"), "the other's figure")
            .await;
        assert_eq!(value(laptop, &x).await, Value::from("27"));
        laptop.write(&x, "2765").await;
        laptop.key("Tab", 0).await;
        laptop.rest().await;
        assert!(served.text().contains("body    = [2765, 305, 262]"), "{}", served.text());
        let next = cell("link.toe.upright", "x");
        phone
            .until(
                &format!("return document.querySelector(\"{next}\").offsetParent !== null"),
                "the next point",
            )
            .await;
        phone.shot("measure-phone").await;
        for tab in [laptop, phone] {
            assert_eq!(tab.complaints().await, Vec::<String>::new());
        }
    });
}

#[test]
fn figures_from_a_spreadsheet_fill_downwards() {
    with_page("fill", LAPTOP, async |served, tab| {
        tab.go("/measure?axle=rear").await;
        let paste = |text: &str| {
            let place = cell("link.upper-fore.body", "x");
            format!(
                "const data = new DataTransfer(); data.setData('text/plain', '{text}');
                 document.querySelector(\"{place}\").dispatchEvent(
                     new ClipboardEvent('paste', {{ clipboardData: data, bubbles: true, cancelable: true }}));"
            )
        };
        tab.js(&paste("2401\\t406\\t445\\n2563\\tnot yet\\t453")).await;
        tab.until("return document.querySelector('.preview td.bad')?.textContent.includes('row 2, column 3') ?? false", "the bad cell")
            .await;
        assert!(served.text().contains("body    = [2400, 405, 443]"));
        tab.js(&paste("2401\\t406\\t445\\n2563\\t656\\t453")).await;
        let last = cell("link.upper-fore.upright", "y");
        tab.until(&format!("return document.querySelector(\"{last}\").value === '656'"), "the rows").await;
        assert!(served.text().contains("body    = [2401, 406, 445]\nupright = [2563, 656, 453]"));
    });
}

/// Twenty points with their axles' names, each a millimetre higher than the demo has it.
const TWENTY: [(&str, [f64; 3]); 20] = [
    ("rear.link.lower-fore.body", [2100.0, 420.0, 256.0]),
    ("rear.link.lower-fore.upright", [2462.0, 622.0, 216.0]),
    ("rear.link.lower-aft.body", [2675.0, 300.0, 226.0]),
    ("rear.link.lower-aft.upright", [2650.0, 675.0, 209.0]),
    ("rear.link.upper-fore.body", [2400.0, 405.0, 444.0]),
    ("rear.link.upper-fore.upright", [2562.0, 655.0, 453.0]),
    ("rear.link.upper-aft.body", [2686.0, 354.0, 442.0]),
    ("rear.link.upper-aft.upright", [2640.0, 648.0, 457.0]),
    ("rear.link.toe.body", [2760.0, 300.0, 263.0]),
    ("rear.link.toe.upright", [2742.0, 690.0, 251.0]),
    ("rear.spring.body", [2655.0, 470.0, 471.0]),
    ("rear.spring.mount", [2662.0, 515.0, 241.0]),
    ("rear.damper.body", [2672.0, 560.0, 591.0]),
    ("rear.damper.mount", [2668.0, 640.0, 246.0]),
    ("front.upper-arm.body-fore", [-120.0, 400.0, 415.0]),
    ("front.upper-arm.body-aft", [150.0, 400.0, 411.0]),
    ("front.upper-arm.ball", [18.0, 640.0, 431.0]),
    ("front.lower-arm.body-fore", [-160.0, 300.0, 196.0]),
    ("front.lower-arm.body-aft", [180.0, 310.0, 205.0]),
    ("front.lower-arm.ball", [-12.0, 690.0, 191.0]),
];

#[test]
fn twenty_points_are_pasted_and_taken_back_as_one() {
    with_page("paste", LAPTOP, async |served, tab| {
        tab.go("/measure?axle=rear").await;
        let before = served.text();
        let rows: Vec<String> =
            TWENTY.iter().map(|(name, [x, y, z])| format!("{name}\\t{x}\\t{y}\\t{z}")).collect();
        let place = cell("link.lower-fore.body", "x");
        tab.js(&format!(
            "const data = new DataTransfer(); data.setData('text/plain', '{}');
             document.querySelector(\"{place}\").dispatchEvent(
                 new ClipboardEvent('paste', {{ clipboardData: data, bubbles: true, cancelable: true }}));",
            rows.join("\\n")
        ))
        .await;
        let last = cell("link.toe.upright", "z");
        tab.until(&format!("return document.querySelector(\"{last}\").value === '251'"), "the rows").await;
        let after = served.text();
        for (name, [x, y, z]) in TWENTY {
            assert!(after.contains(&format!("[{x}, {y}, {z}]")), "{name}: {after}");
        }
        assert_eq!(before.matches('#').count(), after.matches('#').count(), "comments are kept");
        tab.click("[data-way=undo] button").await;
        tab.until(&format!("return document.querySelector(\"{last}\").value === '250'"), "undone").await;
        assert_eq!(served.text(), before, "one step takes all twenty back");
        assert_eq!(tab.complaints().await, Vec::<String>::new());
    });
}

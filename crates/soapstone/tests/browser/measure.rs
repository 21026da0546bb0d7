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

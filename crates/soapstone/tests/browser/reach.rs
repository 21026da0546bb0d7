//! Everyone can use it: by keys alone, and by axe-core's rules.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::chromium::skip;
use crate::looks::on_all;
use crate::tab::{LAPTOP, PHONE};

/// Everything that can be pressed or dragged and is on the page, numbered on it. Marks of a mere picture, which say so
/// by a negative tabindex, have their fields in the table beside it.
const NUMBER_ALL: &str = "const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && !e.disabled && e.type !== 'hidden'
        && !(e.matches('.pt, .hole') && e.tabIndex < 0);
    const all = [...document.querySelectorAll('a[href], button, input, select, canvas, .pt, .hole')].filter(seen);
    all.forEach((e, i) => (e.dataset.reach = i));
    return all.map((e) => `${e.tagName} ${e.textContent.trim().slice(0, 30)} ${e.getAttribute('class') ?? ''}`)";

/// Where the focus is, and whether it can be seen.
const FOCUS: &str = "const at = document.activeElement;
    const ringed = (e) => e && ((getComputedStyle(e).outlineStyle !== 'none' && getComputedStyle(e).outlineWidth !== '0px'));
    const lit = at.querySelector?.('.hit') && getComputedStyle(at.querySelector('.hit')).stroke !== 'none';
    return [at.dataset?.reach ?? '', at.tagName, Boolean(ringed(at) || lit)]";

#[test]
fn tab_reaches_everything_and_shows_where_it_is() {
    on_all("keyboard", LAPTOP, async |tab, name, path| {
        tab.go(path).await;
        let all: Vec<String> = serde_json::from_value(tab.js(NUMBER_ALL).await).expect("names");
        let mut reached = BTreeSet::new();
        // Charts and what opens to more are on the way as well.
        for _ in 0..2 * all.len() + 60 {
            tab.key("Tab", 0).await;
            let at = tab.js(FOCUS).await;
            if at[1] == "BODY" {
                break;
            }
            let number = at[0].as_str().unwrap_or_default();
            if let Ok(number) = number.parse::<usize>() {
                assert_eq!(at[2], Value::Bool(true), "{name}: no focus is seen on {}", all[number]);
                reached.insert(number);
            }
        }
        let missed: Vec<&String> = (0..all.len()).filter(|i| !reached.contains(i)).map(|i| &all[i]).collect();
        assert!(missed.is_empty(), "{name}: the keyboard does not reach {missed:?}");
    });
}

fn axe() -> Option<String> {
    let here = |p: PathBuf| p.is_file().then_some(p);
    let near = Path::new(env!("CARGO_TARGET_TMPDIR")).join("node_modules/axe-core/axe.min.js");
    let path = std::env::var_os("SOAPSTONE_AXE").map(PathBuf::from).and_then(here).or_else(|| here(near))?;
    std::fs::read_to_string(path).ok()
}

#[test]
fn axe_finds_nothing_serious() {
    let Some(axe) = axe() else {
        skip("axe-core was not found (SOAPSTONE_AXE names its axe.min.js)");
        return;
    };
    let run = "const done = arguments[arguments.length - 1];
        axe.run(document).then(({ violations, passes }) => done(passes.length < 10 ? ['hardly a rule was tried'] : violations
            .filter((v) => v.impact === 'serious' || v.impact === 'critical')
            .map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 4).map((n) => n.target.join(' ')
                + ' (' + n.any.map((c) => c.message).join('; ') + ')').join(' | ')}`)), (e) => done([String(e)]))";
    for (size, schemes) in [(LAPTOP, &["light", "dark"][..]), (PHONE, &["light"][..])] {
        let mut found = Vec::new();
        on_all("axe", size, async |tab, name, path| {
            for scheme in schemes {
                tab.media(scheme, "").await;
                tab.go(path).await;
                // Through the driver: the page's policy lets no other script in.
                tab.js(&format!("{axe}; window.axe = axe")).await;
                let said: Vec<String> = serde_json::from_value(tab.js_later(run).await).expect("findings");
                found.extend(said.into_iter().map(|s| format!("{name}, {scheme}, {} px: {s}", size.0)));
            }
        });
        assert!(found.is_empty(), "{}", found.join("\n"));
    }
}

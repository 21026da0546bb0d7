//! The file on disk: accepted edits, undo over restarts, other programs.

mod edit_common;

use std::fs;

use edit_common::disk::{height, open, plover, toe};
use edit_common::{Dice, Folder, files, random_edit};
use project::edit::{Edit, apply};
use project::read;
use project::store::{Clash, Step, Store, StoreError};

#[test]
fn an_edit_is_in_the_file_and_undo_outlives_the_program() {
    let folder = Folder::new("undo");
    let text = plover();
    let path = folder.file("car.toml", &text);
    let (mut store, loaded) = Store::open(&path).expect("a car file");
    assert!(loaded.car.is_some());
    let first = store.accept(&height(0.27)).expect("a move");
    assert_eq!(first.label, "moved rear.link.lower-fore.body 15 mm up");
    let second = store.accept(&toe("0.2")).expect("a value");
    assert!(first.number < second.number);
    let after = fs::read_to_string(&path).expect("the file");
    assert_eq!(after, apply(&apply(&text, &height(0.27)).expect("one"), &toe("0.2")).expect("two"));
    assert_eq!(store.text(), after);
    drop(store);

    let mut store = open(&path);
    assert_eq!(store.version(), second.number);
    assert_eq!(store.undo_label().as_deref(), Some("set rear.wheel.toe to 0.2"));
    let undone = store.undo().expect("an undo").expect("a step");
    assert_eq!((undone.number, undone.label.as_str()), (second.number + 1, "set rear.wheel.toe to 0.2"));
    drop(store);

    let mut store = open(&path);
    let step = |label: &str, done| Step { label: label.into(), outside: false, done };
    let moved = "moved rear.link.lower-fore.body 15 mm up";
    assert_eq!(store.history(), [step(moved, true), step("set rear.wheel.toe to 0.2", false)]);
    store.undo().expect("an undo").expect("a step");
    assert_eq!(fs::read_to_string(&path).expect("the file"), text);
    assert_eq!(store.undo().expect("nothing"), None);
    store.redo().expect("a redo").expect("a step");
    store.redo().expect("a redo").expect("a step");
    assert_eq!(store.redo().expect("nothing"), None);
    assert_eq!(fs::read_to_string(&path).expect("the file"), after);
    store.undo().expect("an undo").expect("a step");
    store.accept(&toe("0.3")).expect("a value");
    assert_eq!(store.redo_label(), None);
    let names: Vec<_> =
        fs::read_dir(&folder.0).expect("the folder").flatten().map(|f| f.file_name()).collect();
    assert_eq!(names.len(), 2, "{names:?}");
}

#[test]
fn a_refused_edit_leaves_everything_as_it_was() {
    let folder = Folder::new("refused");
    let path = folder.file("car.toml", &plover());
    let mut store = open(&path);
    for edit in
        [toe("lots"), Edit::RemoveTable { path: "rear.wheel".into() }, Edit::Replace { text: "[".into() }]
    {
        let error = store.accept(&edit).expect_err("no good");
        assert!(matches!(error, StoreError::Edit(_)), "{error}");
    }
    assert_eq!((store.version(), store.history()), (0, vec![]));
    assert_eq!(fs::read_to_string(&path).expect("the file"), plover());
    // An edit that changes nothing is no step.
    store.accept(&toe("0.1")).expect("the same value");
    assert_eq!(store.version(), 0);
}

#[test]
fn a_change_from_outside_is_read_and_merged() {
    let folder = Folder::new("outside");
    let path = folder.file("car.toml", &plover());
    let mut store = open(&path);
    let outside = |from: &str, to: &str| {
        let text = fs::read_to_string(&path).expect("the file");
        assert!(text.contains(from), "{from}");
        fs::write(&path, text.replace(from, to)).expect("a write");
    };
    assert!(!store.poll().expect("no change"));
    outside("name      = \"Plover\"", "name      = \"Plover II\"  # ours now");
    assert!(store.changed_outside().expect("readable"));
    store.accept(&toe("0.2")).expect("another key");
    let text = fs::read_to_string(&path).expect("the file");
    assert!(text.contains("\"Plover II\"  # ours now") && text.contains("toe           = 0.2"), "{text}");

    outside("toe           = 0.2", "toe           = 0.15");
    let StoreError::Conflict { clashes } = store.accept(&toe("0.3")).expect_err("the same key") else {
        panic!("another error")
    };
    let text = |text: &str| Some(text.to_string());
    let clash =
        Clash { path: "rear.wheel.toe".into(), was: text("0.2"), ours: text("0.3"), theirs: text("0.15") };
    assert_eq!(clashes, [clash]);
    assert!(fs::read_to_string(&path).expect("the file").contains("toe           = 0.15"));
    store.accept(&toe("0.3")).expect("on top of what has been read");

    outside("toe           = 0.3", "toe           = 0.4");
    store.accept(&toe("0.4")).expect("both want the same");

    outside("from front axle\"", "from rear axle\"");
    assert!(
        matches!(store.accept(&height(0.27)), Err(StoreError::Conflict { clashes }) if clashes[0].path == "survey")
    );
    outside("from rear axle\"", "from front axle\"");
    let error = store.undo().expect_err("a change that nobody has seen");
    assert!(matches!(error, StoreError::ChangedOutside), "{error}");
    assert_eq!(store.undo_label().as_deref(), Some("changed in another program"));
    while store.undo().expect("an undo").is_some() {}
    assert_eq!(fs::read_to_string(&path).expect("the file"), plover());

    outside("[rear.wheel]", "[rear.wheel");
    assert!(store.poll().expect("readable"));
    assert!(store.loaded().car.is_none());
    assert!(matches!(store.accept(&toe("0.2")), Err(StoreError::Edit(_))));
    outside("[rear.wheel", "[rear.wheel]");
    store.accept(&toe("0.2")).expect("mended");

    outside("toe           = 0.2", "toe           = 0.25");
    assert!(matches!(
        store.accept(&Edit::Replace { text: plover() }),
        Err(StoreError::Conflict { clashes }) if clashes[0].path == "the whole file"
    ));
    drop(store);
    outside("toe           = 0.25", "toe           = 0.35");
    let mut store = open(&path);
    assert_eq!(store.history().last().map(|step| step.outside), Some(true));
    store.undo().expect("an undo").expect("a step");
    assert!(store.text().contains("toe           = 0.25"));
}

#[test]
fn random_edits_undo_to_the_very_bytes() {
    let mut dice = Dice(0x0dd_ba11);
    for (index, (name, text)) in files().into_iter().enumerate() {
        let text = if index % 3 == 1 { text.replace('\n', "\r\n") } else { text };
        let folder = Folder::new(&format!("random-{index}"));
        let path = folder.file("car.toml", &text);
        let mut store = open(&path);
        let mut texts = vec![text.clone()];
        for _ in 0..12 {
            if texts.len() > 1 && dice.below(5) == 0 {
                store.undo().expect("an undo").expect("a step");
                texts.pop();
            } else {
                let edit = random_edit(store.text(), store.loaded(), &mut dice);
                let before = store.version();
                if store.accept(&edit).is_ok() && store.version() != before {
                    texts.push(store.text().to_string());
                }
            }
            if dice.below(8) == 0 {
                drop(store);
                store = open(&path);
            }
            assert_eq!(Some(store.text()), texts.last().map(String::as_str), "{name}");
            assert!(read(store.text()).car.is_some(), "{name}");
        }
        while store.undo().expect("an undo").is_some() {
            texts.pop();
            assert_eq!(Some(store.text()), texts.last().map(String::as_str), "{name}");
        }
        assert_eq!(fs::read_to_string(&path).expect("the file"), text, "{name}");
    }
}

//! Strange files, folders, links and journals, and names that lead elsewhere.

mod edit_common;

use std::fs;

use edit_common::Folder;
use edit_common::disk::{open, plover, toe};
use project::edit::Edit;
use project::store::{Store, StoreError};

#[test]
fn a_file_that_is_gone_or_strange_is_told() {
    let folder = Folder::new("strange");
    let path = folder.file("car.toml", &plover());
    let mut store = open(&path);
    fs::rename(&path, folder.0.join("away.toml")).expect("a rename");
    assert!(matches!(store.poll(), Err(StoreError::Gone { .. })));
    assert!(matches!(store.accept(&toe("0.2")), Err(StoreError::Gone { .. })));
    assert!(store.loaded().car.is_some());
    fs::write(&path, b"\xff\xfe").expect("a write");
    assert!(matches!(store.accept(&toe("0.2")), Err(StoreError::NotText { .. })));
    fs::write(&path, vec![b' '; 9 << 20]).expect("a write");
    assert!(matches!(store.accept(&toe("0.2")), Err(StoreError::TooLarge { .. })));
    fs::remove_file(&path).expect("a removal");
    fs::create_dir(&path).expect("a folder");
    assert!(matches!(store.poll(), Err(StoreError::NotAFile { .. })));
    fs::remove_dir(&path).expect("a removal");
    fs::rename(folder.0.join("away.toml"), &path).expect("a rename");
    store.accept(&toe("0.2")).expect("back again");
    assert!(matches!(Store::open(folder.0.join("none.toml")), Err(StoreError::Gone { .. })));
    assert!(matches!(Store::open(&folder.0), Err(StoreError::NotAFile { .. })));
    assert!(matches!(Store::create(&path, "x"), Err(StoreError::Exists { .. })));
    let (made, loaded) = Store::create(folder.0.join("new.toml"), &plover()).expect("a new file");
    assert!(loaded.car.is_some() && made.text() == plover());
}

#[test]
fn one_store_at_a_time_has_a_file() {
    let folder = Folder::new("lock");
    let path = folder.file("car.toml", &plover());
    let store = open(&path);
    let error = Store::open(&path).expect_err("in use");
    let own = format!("the file is open in another Soapstone (process {})", std::process::id());
    assert_eq!(error.to_string(), own);
    let other = folder.file("other.toml", &plover());
    assert!(Store::open(&other).is_ok());
    drop(store);
    // What a killed process leaves: its number in the lock file, half a successor, half a line of the journal.
    let own = folder.0.join(".soapstone");
    fs::write(own.join("car.toml.lock"), "999999\n").expect("a write");
    folder.file(".car.toml.soapstone-new-999999-0", "half a fi");
    let journal = own.join("car.toml.journal");
    let mut half = fs::read(&journal).expect("the journal");
    half.extend_from_slice(b"12345678 {\"do\":\"edit\",\"label\":\"mo");
    fs::write(&journal, half).expect("a write");
    let mut store = open(&path);
    assert!(!folder.0.join(".car.toml.soapstone-new-999999-0").exists());
    store.accept(&toe("0.2")).expect("an edit");
    drop(store);
    assert_eq!(open(&path).history().len(), 1);
    // A journal that is not one is put aside; the car is none the worse.
    fs::write(&journal, "\0\0 what?\n").expect("a write");
    assert_eq!(open(&path).history(), []);
    assert!(own.join("car.toml.journal.unreadable").exists());
}

#[test]
fn a_journal_one_turn_ahead_is_put_right() {
    let folder = Folder::new("ahead");
    let path = folder.file("car.toml", &plover());
    let mut store = open(&path);
    store.accept(&toe("0.2")).expect("an edit");
    let before = store.text().to_string();
    store.accept(&toe("0.3")).expect("an edit");
    store.undo().expect("an undo").expect("a step");
    drop(store);
    // As if the undo had been written down, and the process killed before the file was.
    let ahead = before.replace("toe           = 0.2", "toe           = 0.3");
    fs::write(&path, &ahead).expect("a write");
    let mut store = open(&path);
    assert_eq!(store.undo_label().as_deref(), Some("set rear.wheel.toe to 0.3"));
    assert_eq!(store.redo_label(), None);
    store.undo().expect("an undo").expect("a step");
    assert_eq!(store.text(), before);
}

#[test]
fn a_long_journal_is_shortened_and_nothing_recent_lost() {
    let folder = Folder::new("long");
    let path = folder.file("car.toml", &plover());
    let mut store = open(&path);
    let name =
        |index: usize| Edit::Value { path: "car.name".into(), text: Some(format!("{index} ").repeat(4_000)) };
    for index in 0..100 {
        store.accept(&name(index)).expect("an edit");
    }
    let (text, version, steps) = (store.text().to_string(), store.version(), store.history().len());
    assert!((5..100).contains(&steps), "{steps}");
    drop(store);
    let journal = folder.0.join(".soapstone/car.toml.journal");
    assert!(fs::metadata(&journal).expect("the journal").len() < 2 << 20);
    let mut store = open(&path);
    assert_eq!((store.text(), store.version(), store.history().len()), (text.as_str(), version, steps));
    store.undo().expect("an undo").expect("a step");
    assert!(store.text().contains("\"98 98"));
}

#[cfg(unix)]
#[test]
fn links_and_permissions_are_kept() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = Folder::new("links");
    let garage = Folder::new("links-garage");
    let real = garage.file("plover.toml", &plover());
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("permissions");
    let link = folder.0.join("car.toml");
    symlink(&real, &link).expect("a link");
    let mut store = open(&link);
    assert_eq!(store.path(), real);
    store.accept(&toe("0.2")).expect("an edit");
    assert!(link.symlink_metadata().expect("the link").is_symlink());
    assert!(fs::read_to_string(&real).expect("the file").contains("toe           = 0.2"));
    assert_eq!(fs::metadata(&real).expect("the file").permissions().mode() & 0o777, 0o640);
    // A file that is closed to writing is not written by way of its folder.
    fs::set_permissions(&real, fs::Permissions::from_mode(0o440)).expect("permissions");
    assert!(store.is_read_only());
    assert!(matches!(store.accept(&toe("0.3")), Err(StoreError::ReadOnly { .. })));
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("permissions");
    // A link put in the file's place is not followed, and not replaced.
    let elsewhere = folder.file("elsewhere.toml", &plover());
    fs::remove_file(&real).expect("a removal");
    symlink(&elsewhere, &real).expect("a link");
    assert!(matches!(store.accept(&toe("0.3")), Err(StoreError::NotAFile { .. })));
    assert_eq!(fs::read_to_string(&elsewhere).expect("the file"), plover());
    // Nor is a link in place of the store's own folder.
    let other = Folder::new("links-other");
    let car = other.file("car.toml", &plover());
    symlink(&garage.0, other.0.join(".soapstone")).expect("a link");
    assert!(matches!(Store::open(&car), Err(StoreError::NotAFile { .. })));
}

#[test]
fn no_name_leads_out_of_the_folder() {
    let folder = Folder::new("beside");
    let path = folder.file("car.toml", &plover());
    fs::create_dir(folder.0.join("scans")).expect("a folder");
    let store = open(&path);
    for good in ["car.toml", "before.toml", "scans/subframe.csv", "scans"] {
        assert_eq!(store.beside(good).expect(good), folder.0.join(good));
    }
    let absolute = path.to_string_lossy().into_owned();
    for bad in [
        "",
        ".",
        "..",
        "../x",
        "scans/../../x",
        "scans/..",
        absolute.as_str(),
        "/",
        "a\0b",
        "c:\\x",
        "..\\x",
        ".soapstone/car.toml.journal",
        ".Soapstone",
        "none/x",
        "./car.toml",
    ] {
        assert!(matches!(store.beside(bad), Err(StoreError::Escapes { .. })), "{bad:?}");
    }
    #[cfg(unix)]
    for (name, to) in [("out", ".."), ("dangling", "../nothing-here"), ("own", ".soapstone")] {
        std::os::unix::fs::symlink(to, folder.0.join(name)).expect("a link");
        assert!(matches!(store.beside(name), Err(StoreError::Escapes { .. })), "{name}");
        assert!(store.beside(&format!("{name}/car.toml")).is_err(), "{name}");
    }
}

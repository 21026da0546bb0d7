//! A process that edits a car is killed two hundred times. Everything that it was told is accepted is there.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

mod edit_common;

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use edit_common::{Dice, Folder, comments, files, random_edit};
use project::edit::apply_to;
use project::read;
use project::store::Store;

const KILLS: usize = 200;

/// Processes that are killed at the same time, each with a car of its own.
const LANES: usize = 4;

/// Longest that a process lives \[ms\].
const LIFE: usize = 90;

/// Tells the test that runs in the killed process which file to edit; elsewhere it does nothing.
const FILE: &str = "SOAPSTONE_TEST_KILLED_FILE";
const SEED: &str = "SOAPSTONE_TEST_KILLED_SEED";

fn mark(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}

/// Edits until it is killed; says what the file will be, and then that it is.
#[test]
fn edits_until_it_is_killed() {
    let (Ok(file), Ok(seed)) = (std::env::var(FILE), std::env::var(SEED)) else { return };
    let (mut store, _) = Store::open(file).expect("the car that the parent made");
    let mut dice = Dice(seed.parse().expect("a number"));
    let out = std::io::stdout();
    let say = |word: &str, text: &str| {
        let mut out = out.lock();
        writeln!(out, "\n{word} {}", mark(text)).and_then(|()| out.flush()).expect("the parent listens");
    };
    say("accepted", store.text());
    loop {
        match dice.below(6) {
            0 => {
                // Not said beforehand, because the text is not known: the parent takes it for what was before.
                say("turning", store.text());
                if store.undo().expect("an undo").is_none() {
                    let _ = store.redo().expect("a redo");
                }
            }
            1 => {
                say("turning", store.text());
                let _ = store.redo().expect("a redo");
            }
            _ => {
                let edit = random_edit(store.text(), store.loaded(), &mut dice);
                let Ok(edited) = apply_to(store.text(), store.loaded(), &edit) else { continue };
                say("writing", &edited.text);
                store.accept(&edit).expect("what can be made can be written");
                assert_eq!(store.text(), edited.text);
            }
        }
        say("accepted", store.text());
    }
}

#[test]
fn nothing_accepted_is_lost() {
    let cars = files();
    let started = std::time::Instant::now();
    let accepted: usize = std::thread::scope(|scope| {
        let lanes: Vec<_> = (0..LANES)
            .map(|lane| {
                let (name, text) = &cars[lane * 3 % cars.len()];
                scope.spawn(move || in_lane(lane, name, text))
            })
            .collect();
        lanes.into_iter().map(|lane| lane.join().expect("a lane")).sum()
    });
    let seconds = started.elapsed().as_secs_f64();
    println!("{KILLS} kills, {accepted} edits accepted, {seconds:.1} s");
    assert!(accepted > KILLS, "killed before anything was accepted: {accepted}");
}

/// Kills one process after the other on one car; returns how many edits were accepted.
fn in_lane(lane: usize, name: &str, text: &str) -> usize {
    let mut dice = Dice(0xdead + lane as u64);
    let mut accepted = 0;
    let mut folder = Folder::new(&format!("kill-{lane}-0"));
    let mut path = folder.file("car.toml", text);
    for kill in 0..KILLS / LANES {
        // Now and then from the beginning; mostly on top of what the killed ones before left.
        if kill % 10 == 9 {
            folder = Folder::new(&format!("kill-{lane}-{kill}"));
            path = folder.file("car.toml", text);
        }
        accepted += one_kill(&path, &mut dice);
        // All the way back before a new beginning, a few steps otherwise.
        check(&path, name, text, if kill % 10 == 8 { usize::MAX } else { 2 });
    }
    drop(folder);
    accepted
}

fn one_kill(path: &Path, dice: &mut Dice) -> usize {
    let mut child = Command::new(std::env::current_exe().expect("this test"))
        .args(["edits_until_it_is_killed", "--exact", "--nocapture", "--test-threads=1"])
        .env(FILE, path)
        .env(SEED, format!("{}", dice.below(1 << 30) + 1))
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("a process");
    let mut out = child.stdout.take().expect("its output");
    let listener = std::thread::spawn(move || {
        let mut said = String::new();
        out.read_to_string(&mut said).expect("what it says is text");
        said
    });
    std::thread::sleep(Duration::from_millis(dice.below(LIFE) as u64));
    child.kill().expect("SIGKILL");
    let status = child.wait().expect("its end");
    let said = listener.join().expect("what it said");
    assert!(status.code().is_none(), "it ended by itself: {status}\n{said}");
    judge(path, &said)
}

/// Compares the file with what the killed process said last.
fn judge(path: &Path, said: &str) -> usize {
    let lines: Vec<(&str, u64)> = said
        .split_inclusive('\n')
        .filter_map(|line| line.strip_suffix('\n')?.split_once(' '))
        .filter_map(|(word, mark)| Some((word, mark.parse().ok()?)))
        .filter(|(word, _)| ["accepted", "writing", "turning"].contains(word))
        .collect();
    let found = mark(&fs::read_to_string(path).expect("the file is there, and text"));
    let accepted = lines.iter().filter(|(word, _)| *word == "accepted").count();
    let last = lines.iter().rev().find(|(word, _)| *word == "accepted").map(|(_, mark)| *mark);
    match lines.last() {
        Some(("accepted", last)) => assert_eq!(found, *last, "accepted and lost"),
        Some(("writing", next)) => {
            assert!(Some(found) == last || found == *next, "neither the last nor the next version");
        }
        // An undo in flight: what it leads to is checked by its being in the history.
        _ => {}
    }
    accepted
}

/// The file is whole, its comments are there, and its history leads back and forth.
fn check(path: &Path, name: &str, start: &str, steps: usize) {
    let (mut store, loaded) = Store::open(path).expect("a killed process leaves no lock");
    assert!(loaded.car.is_some(), "{name}: {:?}", loaded.diagnostics);
    let text = store.text().to_string();
    // Those of holes that were taken out go with them.
    let kept = comments(&text);
    let head = start.find("[rear]").or(start.find("[front]")).expect("an axle");
    assert!(comments(&start[..head]).iter().all(|comment| kept.contains(comment)), "{name}");
    assert!(store.history().iter().all(|step| !step.outside), "{name}: {:?}", store.history());
    let mut back = 0;
    while back < steps && store.undo().expect("an undo").is_some() {
        back += 1;
        assert!(read(store.text()).car.is_some(), "{name}");
    }
    if back < steps {
        assert_eq!(store.text(), start, "{name}: undone to the start");
        return;
    }
    for _ in 0..back {
        store.redo().expect("a redo").expect("a step");
    }
    assert_eq!(store.text(), text, "{name}");
    let stray = fs::read_dir(path.parent().expect("a folder")).expect("the folder").count();
    assert_eq!(stray, 2, "{name}: what a killed process left is swept away");
}

//! The journal of a car file: what was done to it, so that it can be undone after a restart.
//!
//! A line each: a checksum, a space and JSON. The first line has the text that the history begins with, every
//! other one a turn (an edit, an undo, a redo) and the checksum of the text after it. A turn is written before the
//! file is, so that on opening the journal may be one turn ahead, and its last line may be cut short; both are put
//! right then.

mod replay;

use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::{Doing, StoreError};
use super::patch::Patch;
use super::{OUTSIDE, Step, disk};
use replay::{Head, Record, Replay, line};

/// Length at which the journal is written anew without its oldest steps \[bytes\].
const LONG: u64 = 1 << 20;

/// Steps that are kept then.
const KEPT: usize = 500;

/// One thing done to the file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "do", rename_all = "lowercase")]
pub(crate) enum Turn {
    /// A new step; what was undone before is forgotten.
    Edit { label: String, outside: bool, patch: Patch },
    /// One step back.
    Undo,
    /// One step on again.
    Redo,
}

/// One step of the history.
#[derive(Clone, Debug, PartialEq)]
struct Entry {
    label: String,
    outside: bool,
    patch: Patch,
}

/// The history as of one turn.
#[derive(Clone, Debug, Default, PartialEq)]
struct State {
    entries: Vec<Entry>,
    /// How many of them are done.
    done: usize,
    /// Turns since the beginning of the file's history.
    sequence: u64,
    /// Length of the journal \[bytes\].
    length: u64,
}

impl State {
    /// Takes a turn in; returns the entries that it makes forgotten.
    fn take(&mut self, turn: Turn, bytes: u64) -> Vec<Entry> {
        self.sequence += 1;
        self.length += bytes;
        match turn {
            Turn::Edit { label, outside, patch } => {
                let forgotten = self.entries.split_off(self.done.min(self.entries.len()));
                self.entries.push(Entry { label, outside, patch });
                self.done = self.entries.len();
                return forgotten;
            }
            Turn::Undo => self.done = self.done.saturating_sub(1),
            Turn::Redo => self.done = (self.done + 1).min(self.entries.len()),
        }
        Vec::new()
    }

    /// How a turn changes the text; `None` where there is nothing to turn to.
    fn patch(&self, turn: &Turn) -> Option<Patch> {
        match turn {
            Turn::Edit { patch, .. } => Some(patch.clone()),
            Turn::Undo => self.entries.get(self.done.checked_sub(1)?).map(|entry| entry.patch.inverse()),
            Turn::Redo => self.entries.get(self.done).map(|entry| entry.patch.clone()),
        }
    }
}

/// How things were before the last turn.
#[derive(Debug)]
struct Before {
    done: usize,
    sequence: u64,
    length: u64,
    /// The entries that the turn made forgotten, where it added one.
    forgotten: Option<Vec<Entry>>,
}

/// The journal of an open file.
#[derive(Debug)]
pub(crate) struct Journal {
    path: PathBuf,
    file: File,
    state: State,
    before: Option<Before>,
    /// The journal on disk is not what it should be, and must be written anew before it is used.
    broken: bool,
}

impl Journal {
    /// Opens the journal of a file that has the text `text`, or begins one.
    pub(crate) fn open(path: PathBuf, text: &str) -> Result<Self, StoreError> {
        disk::sweep(&path);
        let Some(found) = Replay::read(&path)? else {
            let state = State { length: write(&path, &State::default(), text)?, ..State::default() };
            return Ok(Self { file: appending(&path)?, path, state, before: None, broken: false });
        };
        let whole = fs::metadata(&path).doing("read", &path)?.len();
        let tip = found.text;
        let (state, at_tip) = match found.before_last {
            Some((state, before)) if tip != text && before == text => (state, true),
            _ => (found.state, tip == text),
        };
        let file = appending(&path)?;
        if state.length != whole {
            file.set_len(state.length).and_then(|()| file.sync_data()).doing("mend", &path)?;
        }
        let mut journal = Self { path, file, state, before: None, broken: false };
        if !at_tip {
            let patch = Patch::between(&tip, text);
            journal.append(Turn::Edit { label: OUTSIDE.into(), outside: true, patch }, text)?;
        }
        journal.tidy(text);
        Ok(journal)
    }

    pub(crate) fn sequence(&self) -> u64 {
        self.state.sequence
    }

    pub(crate) fn last_done(&self) -> Option<String> {
        let index = self.state.done.checked_sub(1)?;
        self.state.entries.get(index).map(|entry| entry.label.clone())
    }

    pub(crate) fn first_undone(&self) -> Option<String> {
        self.state.entries.get(self.state.done).map(|entry| entry.label.clone())
    }

    pub(crate) fn steps(&self) -> Vec<Step> {
        let step = |(index, entry): (usize, &Entry)| Step {
            label: entry.label.clone(),
            outside: entry.outside,
            done: index < self.state.done,
        };
        self.state.entries.iter().enumerate().map(step).collect()
    }

    /// How a turn would change the text.
    pub(crate) fn turned(&self, turn: &Turn) -> Option<Patch> {
        self.state.patch(turn)
    }

    /// Writes a turn down, to last; `text` is the text after it.
    pub(crate) fn append(&mut self, turn: Turn, text: &str) -> Result<(), StoreError> {
        if self.broken {
            let before = self.state.patch(&turn).and_then(|patch| patch.inverse().applied(text));
            self.compact(&before.unwrap_or_else(|| text.to_string()))?;
        }
        let record = Record { turn, sum: crc32fast::hash(text.as_bytes()) };
        let line = line(&record).doing("write", &self.path)?;
        let written = self.file.write_all(line.as_bytes()).and_then(|()| self.file.sync_data());
        if let Err(error) = written {
            self.cut(self.state.length);
            return Err(error).doing("write", &self.path);
        }
        let State { done, sequence, length, .. } = self.state;
        let adds = matches!(record.turn, Turn::Edit { .. });
        let forgotten = self.state.take(record.turn, line.len() as u64);
        self.before = Some(Before { done, sequence, length, forgotten: adds.then_some(forgotten) });
        Ok(())
    }

    /// Takes the last turn back, because the file could not be written.
    pub(crate) fn retract(&mut self) {
        let Some(before) = self.before.take() else { return };
        if let Some(forgotten) = before.forgotten {
            self.state.entries.pop();
            self.state.entries.extend(forgotten);
        }
        (self.state.done, self.state.sequence, self.state.length) =
            (before.done, before.sequence, before.length);
        self.cut(before.length);
    }

    fn cut(&mut self, length: u64) {
        self.broken |= self.file.set_len(length).and_then(|()| self.file.sync_data()).is_err();
    }

    /// Leaves the oldest steps out where the journal has become long. A journal that cannot be shortened now may
    /// be later.
    pub(crate) fn tidy(&mut self, text: &str) {
        if self.state.length > LONG {
            let _ = self.compact(text);
        }
    }

    /// Writes the journal anew with the last steps alone, so many that it is far from being long again.
    fn compact(&mut self, text: &str) -> Result<(), StoreError> {
        let State { entries, done, sequence, .. } = &self.state;
        let before = entries.get(..*done).unwrap_or_default();
        let (mut base, mut first, mut bytes) = (text.to_string(), before.len(), 0);
        for (index, entry) in before.iter().enumerate().rev().take(KEPT) {
            bytes += entry.patch.size();
            let Some(earlier) = entry.patch.inverse().applied(&base).filter(|_| bytes < LONG / 4) else {
                break;
            };
            (base, first) = (earlier, index);
        }
        // Where the last steps alone are huge, those that could be redone are dropped too.
        let after = entries.get(*done..).unwrap_or_default();
        let after =
            if after.iter().map(|entry| entry.patch.size()).sum::<u64>() < LONG / 4 { after } else { &[] };
        let kept: Vec<Entry> = before.get(first..).unwrap_or_default().iter().chain(after).cloned().collect();
        let mut state = State { entries: kept, done: done - first, sequence: *sequence, length: 0 };
        state.length = write(&self.path, &state, &base)?;
        self.file = appending(&self.path)?;
        (self.state, self.before, self.broken) = (state, None, false);
        Ok(())
    }
}

fn appending(path: &Path) -> Result<File, StoreError> {
    OpenOptions::new().append(true).open(path).doing("open", path)
}

/// Writes a whole journal that leads from `base` to a state; returns its length.
fn write(path: &Path, state: &State, base: &str) -> Result<u64, StoreError> {
    let undone = state.entries.len().saturating_sub(state.done);
    let turns = (state.entries.len() + undone) as u64;
    let head = Head::new(state.sequence.saturating_sub(turns), base);
    let mut whole = line(&head).doing("write", path)?;
    let mut sums = vec![crc32fast::hash(base.as_bytes())];
    let mut text = base.to_string();
    for Entry { label, outside, patch } in state.entries.iter().cloned() {
        text = patch.applied(&text).unwrap_or_default();
        let sum = crc32fast::hash(text.as_bytes());
        sums.push(sum);
        whole.push_str(
            &line(&Record { turn: Turn::Edit { label, outside, patch }, sum }).doing("write", path)?,
        );
    }
    for sum in sums.into_iter().rev().skip(1).take(undone) {
        whole.push_str(&line(&Record { turn: Turn::Undo, sum }).doing("write", path)?);
    }
    disk::put(path, &whole)?;
    Ok(whole.len() as u64)
}

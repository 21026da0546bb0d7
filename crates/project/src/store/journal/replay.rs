//! The lines of a journal, and what they come to.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::{State, Turn};
use crate::store::error::{Doing, StoreError};

/// Version of the journal's form.
const FORM: u32 = 1;

/// Longest journal that is read \[bytes\].
const LONGEST: u64 = 64 << 20;

/// The first line.
#[derive(Serialize, Deserialize)]
pub(crate) struct Head {
    journal: u32,
    sequence: u64,
    text: String,
}

impl Head {
    pub(crate) fn new(sequence: u64, text: &str) -> Self {
        Self { journal: FORM, sequence, text: text.to_string() }
    }
}

/// Every other line.
#[derive(Serialize, Deserialize)]
pub(crate) struct Record {
    #[serde(flatten)]
    pub(crate) turn: Turn,
    /// Checksum of the text after it.
    pub(crate) sum: u32,
}

/// A line with its checksum.
pub(crate) fn line(content: &impl Serialize) -> io::Result<String> {
    let json = serde_json::to_string(content)?;
    Ok(format!("{:08x} {json}\n", crc32fast::hash(json.as_bytes())))
}

/// The content of a line, if it is whole.
fn content(line: &[u8]) -> Option<&str> {
    let line = std::str::from_utf8(line.strip_suffix(b"\n")?).ok()?;
    let (sum, json) = line.split_once(' ')?;
    (u32::from_str_radix(sum, 16).ok()? == crc32fast::hash(json.as_bytes())).then_some(json)
}

/// What a journal on disk says.
pub(crate) struct Replay {
    pub(crate) state: State,
    pub(crate) text: String,
    /// State and text before the last turn.
    pub(crate) before_last: Option<(State, String)>,
}

impl Replay {
    /// Reads a journal as far as it is whole. `None` where there is none; one that says nothing is put aside.
    pub(crate) fn read(path: &Path) -> Result<Option<Self>, StoreError> {
        match fs::metadata(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(error).doing("read", path),
            Ok(metadata) if metadata.len() > LONGEST => {}
            Ok(_) => {
                let bytes = fs::read(path).doing("read", path)?;
                if let Some(found) = Self::of(&bytes) {
                    return Ok(Some(found));
                }
            }
        }
        let mut aside = path.as_os_str().to_os_string();
        aside.push(".unreadable");
        fs::rename(path, PathBuf::from(aside)).doing("put aside", path)?;
        Ok(None)
    }

    fn of(bytes: &[u8]) -> Option<Self> {
        let lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
        let (first, lines) = lines.split_first()?;
        let head: Head = serde_json::from_str(content(first)?).ok()?;
        if head.journal != FORM {
            return None;
        }
        let state = State { sequence: head.sequence, length: first.len() as u64, ..State::default() };
        let mut replay = Self { state, text: head.text, before_last: None };
        let records: Vec<(Record, u64)> = lines.iter().map_while(|line| read(line)).collect();
        let last = records.len().saturating_sub(1);
        for (index, (record, bytes)) in records.into_iter().enumerate() {
            let patch = replay.state.patch(&record.turn);
            let after = patch.and_then(|patch| patch.applied(&replay.text));
            let after = after.filter(|after| crc32fast::hash(after.as_bytes()) == record.sum);
            let Some(after) = after else { break };
            if index == last {
                replay.before_last = Some((replay.state.clone(), replay.text));
            }
            replay.state.take(record.turn, bytes);
            replay.text = after;
        }
        Some(replay)
    }
}

fn read(line: &[u8]) -> Option<(Record, u64)> {
    let record = serde_json::from_str(content(line)?).ok()?;
    Some((record, line.len() as u64))
}

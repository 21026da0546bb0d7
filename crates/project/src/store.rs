//! The car file on disk, which is the truth. An accepted edit is written whole or not at all and is there after
//! the process is killed; a change that another program made is read before anything is written; undo goes on
//! after a restart.
//!
//! One `Store` has a file at a time, also among processes: the second is told that it is in use. Within a process
//! put it behind a `Mutex`. Beside the file it keeps a folder `.soapstone` with the journal of edits and the lock.

mod disk;
mod error;
mod journal;
mod lock;
mod merge;
mod patch;

use std::path::{Path, PathBuf};

use serde::Serialize;

use crate::car::{Loaded, read};
use crate::edit::{Edit, Edited, apply_to};

pub use error::{Clash, StoreError};

use journal::{Journal, Turn};
use lock::Lock;
use patch::Patch;

/// A state of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Version {
    /// Counts what has happened to the file: every edit, undo, redo and change from outside makes it one greater.
    /// It goes on counting after a restart.
    pub number: u64,
    /// What was done to get here, or taken back.
    pub label: String,
}

/// One step of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What was done: `moved rear.link.lower-fore.body 15 mm up`.
    pub label: String,
    /// It was done by another program.
    pub outside: bool,
    /// It holds at present; the others can be done again.
    pub done: bool,
}

/// Label of a change that another program made.
const OUTSIDE: &str = "changed in another program";

/// How often an edit is worked out anew because the file changes under the pen.
const ATTEMPTS: usize = 4;

/// A car file on disk.
#[derive(Debug)]
pub struct Store {
    path: PathBuf,
    folder: PathBuf,
    text: String,
    loaded: Loaded,
    /// `None` where the folder cannot be written to: the file can then be looked at only.
    keeper: Option<Keeper>,
}

/// What writing needs.
#[derive(Debug)]
struct Keeper {
    journal: Journal,
    /// Held until the store is dropped, or its process ends in whatever way.
    _lock: Lock,
}

impl Keeper {
    /// Takes the lock of a file, clears up behind a killed process, and reads file and journal.
    fn of(own: &Path, path: &Path) -> Result<(Self, String), StoreError> {
        let lock = Lock::take(&disk::own_file(own, path, "lock")?)?;
        disk::sweep(path);
        let text = disk::read(path)?;
        let journal = Journal::open(disk::own_file(own, path, "journal")?, &text)?;
        Ok((Self { journal, _lock: lock }, text))
    }
}

impl Store {
    /// Opens a car file. A link is followed, once: what it leads to is the file that is written. A file with
    /// mistakes opens as well; they are in [`Loaded::diagnostics`].
    ///
    /// # Errors
    /// [`StoreError::InUse`] while another process has it; what keeps it from being read as a text.
    pub fn open(path: impl AsRef<Path>) -> Result<(Self, Loaded), StoreError> {
        let path = disk::resolve(path.as_ref())?;
        let folder = path.parent().unwrap_or(Path::new(".")).to_path_buf();
        let (keeper, text) = match disk::own_folder(&folder).and_then(|own| Keeper::of(&own, &path)) {
            Ok((keeper, text)) => (Some(keeper), text),
            Err(error) if error.is_denied() => (None, disk::read(&path)?),
            Err(error) => return Err(error),
        };
        let loaded = read(&text);
        Ok((Self { path, folder, text, loaded: loaded.clone(), keeper }, loaded))
    }

    /// Makes a new car file and opens it.
    ///
    /// # Errors
    /// [`StoreError::Exists`] where there is one already: nothing is overwritten.
    pub fn create(path: impl AsRef<Path>, text: &str) -> Result<(Self, Loaded), StoreError> {
        disk::create(path.as_ref(), text)?;
        Self::open(path)
    }

    /// The file, links resolved.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its text as last read or written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What that text says.
    pub fn loaded(&self) -> &Loaded {
        &self.loaded
    }

    /// Number of the present version.
    pub fn version(&self) -> u64 {
        self.keeper.as_ref().map_or(0, |keeper| keeper.journal.sequence())
    }

    /// Whether the file can only be looked at.
    pub fn is_read_only(&self) -> bool {
        self.keeper.is_none() || disk::is_read_only(&self.path)
    }

    /// Makes an edit. When this returns, the file on disk has it.
    ///
    /// Where another program has changed the file meanwhile, that change is read first. The edit is then made on
    /// the new text, unless both are about the same key.
    ///
    /// # Errors
    /// [`StoreError::Edit`] where the edit itself cannot be made, [`StoreError::Conflict`] where another program
    /// changed the same key, and what keeps the file from being written. The file has no part of the edit then.
    pub fn accept(&mut self, edit: &Edit) -> Result<Version, StoreError> {
        self.journal()?;
        for _ in 0..ATTEMPTS {
            let on_disk = disk::read(&self.path)?;
            let edited = if on_disk == self.text {
                apply_to(&self.text, &self.loaded, edit)?
            } else {
                self.merge(on_disk, edit)?
            };
            let Edited { text, loaded, label } = edited;
            if text == self.text {
                return Ok(Version { number: self.version(), label });
            }
            let patch = Patch::between(&self.text, &text);
            match self.write(Turn::Edit { label: label.clone(), outside: false, patch }, text, loaded) {
                Err(StoreError::ChangedOutside) => {}
                written => return written.map(|()| Version { number: self.version(), label }),
            }
        }
        Err(StoreError::ChangedOutside)
    }

    /// Takes the last step back, also one that another program made and that has been read. `None` where there is
    /// none; the version's label says what was taken back.
    ///
    /// # Errors
    /// [`StoreError::ChangedOutside`] where the file has a change that was not read yet: it is read now, and nothing
    /// is undone. What keeps the file from being written.
    pub fn undo(&mut self) -> Result<Option<Version>, StoreError> {
        self.turn(Turn::Undo, self.undo_label())
    }

    /// Makes the step again that was undone last; `None` where there is none.
    ///
    /// # Errors
    /// As for [`Self::undo`].
    pub fn redo(&mut self) -> Result<Option<Version>, StoreError> {
        self.turn(Turn::Redo, self.redo_label())
    }

    /// What the next undo takes back.
    pub fn undo_label(&self) -> Option<String> {
        self.keeper.as_ref()?.journal.last_done()
    }

    /// What the next redo makes again.
    pub fn redo_label(&self) -> Option<String> {
        self.keeper.as_ref()?.journal.first_undone()
    }

    /// The steps that are kept, oldest first; those that can be redone stand last.
    pub fn history(&self) -> Vec<Step> {
        self.keeper.as_ref().map(|keeper| keeper.journal.steps()).unwrap_or_default()
    }

    /// Reads the file again if another program has changed it; whether it has.
    ///
    /// # Errors
    /// What keeps the file from being read, such as [`StoreError::Gone`]. What was read last is still there then.
    pub fn poll(&mut self) -> Result<bool, StoreError> {
        let on_disk = disk::read(&self.path)?;
        if on_disk == self.text {
            return Ok(false);
        }
        self.take_in(on_disk)?;
        Ok(true)
    }

    /// Whether another program has changed the file since it was last read. Errors are those of [`Self::poll`].
    pub fn changed_outside(&self) -> Result<bool, StoreError> {
        Ok(disk::read(&self.path)? != self.text)
    }

    /// A file beside the car file, or in a folder there, by a name that need not be trusted. It need not exist.
    ///
    /// # Errors
    /// [`StoreError::Escapes`] for every name that leads out of the car's folder, by whatever way, or into the
    /// folder that the store keeps for itself.
    pub fn beside(&self, name: &str) -> Result<PathBuf, StoreError> {
        disk::inside(&self.folder, name)
    }

    fn journal(&mut self) -> Result<&mut Journal, StoreError> {
        if disk::is_read_only(&self.path) {
            return Err(StoreError::ReadOnly { path: self.path.clone() });
        }
        match &mut self.keeper {
            Some(keeper) => Ok(&mut keeper.journal),
            None => Err(StoreError::ReadOnly { path: self.path.clone() }),
        }
    }

    /// Takes in a text that another program wrote.
    fn take_in(&mut self, on_disk: String) -> Result<(), StoreError> {
        if let Some(keeper) = &mut self.keeper {
            let patch = Patch::between(&self.text, &on_disk);
            keeper.journal.append(Turn::Edit { label: OUTSIDE.into(), outside: true, patch }, &on_disk)?;
        }
        self.loaded = read(&on_disk);
        self.text = on_disk;
        Ok(())
    }

    /// Makes an edit on a text that another program wrote, where the two go together.
    fn merge(&mut self, on_disk: String, edit: &Edit) -> Result<Edited, StoreError> {
        let ours = apply_to(&self.text, &self.loaded, edit).ok();
        let clashes = ours.map_or(Vec::new(), |ours| merge::clashes(&self.text, &ours.text, &on_disk, edit));
        let before = std::mem::replace(&mut self.loaded, Loaded { car: None, diagnostics: Vec::new() });
        let taken = self.take_in(on_disk);
        if let Err(error) = taken {
            self.loaded = before;
            return Err(error);
        }
        if !clashes.is_empty() {
            return Err(StoreError::Conflict { clashes });
        }
        if let (Some(was), Some(is)) = (&before.car, &self.loaded.car)
            && edit.is_in_car_axes()
            && let Some(clash) = merge::axes_clash(was, is)
        {
            return Err(StoreError::Conflict { clashes: vec![clash] });
        }
        Ok(apply_to(&self.text, &self.loaded, edit)?)
    }

    fn turn(&mut self, turn: Turn, label: Option<String>) -> Result<Option<Version>, StoreError> {
        let patch = self.journal()?.turned(&turn);
        let on_disk = disk::read(&self.path)?;
        if on_disk != self.text {
            self.take_in(on_disk)?;
            return Err(StoreError::ChangedOutside);
        }
        let (Some(text), Some(label)) = (patch.and_then(|patch| patch.applied(&self.text)), label) else {
            return Ok(None);
        };
        let loaded = read(&text);
        self.write(turn, text, loaded)?;
        Ok(Some(Version { number: self.version(), label }))
    }

    /// Journal first, file second: a journal that is one turn ahead of its file is put right on opening.
    fn write(&mut self, turn: Turn, text: String, loaded: Loaded) -> Result<(), StoreError> {
        let Some(keeper) = &mut self.keeper else {
            return Err(StoreError::ReadOnly { path: self.path.clone() });
        };
        keeper.journal.append(turn, &text)?;
        if let Err(error) = disk::replace(&self.path, &self.text, &text) {
            keeper.journal.retract();
            return Err(error);
        }
        keeper.journal.tidy(&text);
        (self.text, self.loaded) = (text, loaded);
        Ok(())
    }
}

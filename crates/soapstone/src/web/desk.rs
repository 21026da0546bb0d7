//! The car on the server's desk: the file, what it says, and the version that pages compare with.

use std::ops::Deref;
use std::path::Path;

use draw::Scene;
use project::Diagnostic;
use project::edit::Edit;
use project::model::{Car, End};
use project::store::{Store, StoreError};
use study::{Choice, Row, Subject};

use super::memory::Memory;
use crate::cli::Failure;

/// The file and what it says.
pub(crate) struct Desk {
    store: Store,
    /// Counts every change, made here or outside.
    version: u64,
    kept: Option<Kept>,
    /// The car with the height of its centre of gravity as weighed; `None` where the file's car is that already.
    weighed: Option<Car>,
}

/// The file's own choice table: its rows stay while a point is dragged.
pub(crate) struct Kept {
    version: u64,
    end: End,
    choice: Choice,
    /// What goes with it: the states that the one on trial is compared with.
    pub memory: Variants,
}

impl Deref for Kept {
    type Target = Choice;

    fn deref(&self) -> &Choice {
        &self.choice
    }
}

/// What was worked out for pinned variants and the car as drawn.
#[derive(Default)]
pub(crate) struct Variants {
    pub rows: Memory<Option<Row>>,
    pub scenes: Memory<Option<Scene>>,
    /// Curves of one state in the order of the charts: place, value, ±.
    pub curves: Memory<Vec<Vec<(f64, f64, f64)>>>,
}

impl Desk {
    /// Opens a car file.
    pub fn open(path: &Path) -> Result<Self, Failure> {
        let (store, _) = Store::open(path).map_err(failure)?;
        let weighed = weighed(&store);
        Ok(Self { store, version: 1, kept: None, weighed })
    }

    /// The car, if the file makes one.
    pub fn car(&self) -> Option<&Car> {
        self.weighed.as_ref().or(self.store.loaded().car.as_ref())
    }

    /// Counts a change and takes up what it says.
    fn turn(&mut self) {
        self.version += 1;
        self.weighed = weighed(&self.store);
    }

    /// What is wrong with the file as it is written.
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.store.loaded().diagnostics
    }

    /// The file's text.
    pub fn text(&self) -> &str {
        self.store.text()
    }

    /// Name of the file for people.
    pub fn file_name(&self) -> String {
        self.store.path().file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
    }

    /// The car's name, as far as the file says one.
    pub fn name(&self) -> String {
        let written = || project::edit::AsTyped::of(self.text())?.value("car.name").map(|typed| typed.text);
        let read = self.car().map(|car| car.name.clone());
        read.or_else(written).unwrap_or_else(|| "no car yet".into())
    }

    /// Whether the file can only be looked at.
    pub fn is_read_only(&self) -> bool {
        self.store.is_read_only()
    }

    /// Counts changes.
    pub fn version(&self) -> u64 {
        self.version
    }

    /// Works out the file's rows for an axle, once a version.
    ///
    /// # Errors
    /// If the car as drawn cannot be built or is not held.
    pub fn keep(&mut self, end: End) -> Result<(), study::StudyError> {
        if self.kept.as_ref().is_some_and(|k| k.version == self.version && k.end == end) {
            return Ok(());
        }
        self.kept = None;
        let Some(car) = self.car() else { return Ok(()) };
        let subject = Subject::new(car, end)?;
        let choice = study::choose(&subject, &[], &car.choose.travels, |_, _| {})?;
        self.kept = Some(Kept { version: self.version, end, choice, memory: Variants::default() });
        Ok(())
    }

    /// The table that [`Self::keep`] worked out.
    pub fn choice(&self) -> Option<&Kept> {
        self.kept.as_ref()
    }

    /// Makes an edit; the file is written before this returns.
    pub fn accept(&mut self, edit: &Edit) -> Result<String, StoreError> {
        let done = self.store.accept(edit);
        // Also an edit that failed may have read a change from outside.
        self.turn();
        done.map(|version| version.label)
    }

    /// Takes the last edit back; its label, or `None` where there is none.
    pub fn undo(&mut self) -> Result<Option<String>, StoreError> {
        let done = self.store.undo();
        self.turn();
        Ok(done?.map(|v| format!("took back: {}", v.label)))
    }

    /// Makes the last undone edit again.
    pub fn redo(&mut self) -> Result<Option<String>, StoreError> {
        let done = self.store.redo();
        self.turn();
        Ok(done?.map(|v| format!("made again: {}", v.label)))
    }

    /// What undo and redo would take back and make again.
    pub fn ways(&self) -> (Option<String>, Option<String>) {
        (self.store.undo_label(), self.store.redo_label())
    }

    /// Looks whether the file was changed outside; true if so.
    pub fn look(&mut self) -> Result<bool, StoreError> {
        let changed = self.store.poll()?;
        if changed {
            self.turn();
        }
        Ok(changed)
    }
}

/// The car with its weighed height, where it was weighed.
fn weighed(store: &Store) -> Option<Car> {
    let mut car = store.loaded().car.clone().filter(|car| car.weigh.is_some())?;
    project::attach(&mut car, |name| crate::cli::beside(Some(store.path()), name));
    study::settle(&mut car);
    Some(car)
}

fn failure(error: StoreError) -> Failure {
    let hint = error.hint();
    Failure::Input { message: error.to_string(), hint }
}

//! One process at a time: a file that the system keeps locked for as long as its holder lives. A holder that was
//! killed leaves no lock behind, so that none can be stale.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::Path;

use super::error::{Doing, StoreError};

/// A lock that is held.
#[derive(Debug)]
pub(crate) struct Lock {
    file: File,
}

impl Lock {
    /// Takes the lock, or says who has it.
    pub(crate) fn take(path: &Path) -> Result<Self, StoreError> {
        let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path);
        let mut file = file.doing("open", path)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                let mut holder = String::new();
                let _ = (&mut file).take(32).read_to_string(&mut holder);
                return Err(StoreError::InUse { process: holder.trim().parse().ok() });
            }
            // Some network file systems have no locks: better one without than none at all.
            Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => {}
            Err(TryLockError::Error(error)) => return Err(error).doing("lock", path),
        }
        // The number only words a message: a lock without it is as good.
        let _ = file
            .set_len(0)
            .and_then(|()| file.seek(SeekFrom::Start(0)))
            .and_then(|_| writeln!(file, "{}", std::process::id()));
        Ok(Self { file })
    }
}

impl Drop for Lock {
    /// Closing the file would unlock it too, but not while a program that is being started has a copy of it.
    fn drop(&mut self) {
        let _ = self.file.unlock();
    }
}

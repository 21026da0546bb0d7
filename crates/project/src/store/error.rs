//! Why the file on disk was not read or written.

use std::io;
use std::path::PathBuf;

use thiserror::Error;

use crate::edit::EditError;

/// A key that an edit and another program changed at the same time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// Path of the key.
    pub path: String,
    /// What stood there before either, as written; `None` where the key was not there.
    pub was: Option<String>,
    /// What the edit puts there.
    pub ours: Option<String>,
    /// What the other program put there; it is in the file.
    pub theirs: Option<String>,
}

/// Why the file on disk was not read or written.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The edit itself cannot be made.
    #[error(transparent)]
    Edit(#[from] EditError),
    /// Another program has changed what the edit is about. Its change has been read and nothing was overwritten;
    /// the same edit again would be made on top of it.
    #[error("another program has changed {} too", .clashes.first().map_or("the file".to_string(), |clash| format!("`{}`", clash.path)))]
    Conflict {
        /// The keys, with both values.
        clashes: Vec<Clash>,
    },
    /// Another program has changed the file; the change has been read, and nothing was written.
    #[error("the file was changed in another program just now")]
    ChangedOutside,
    /// Another Soapstone has the file.
    #[error("the file is open in another Soapstone{}", .process.map_or(String::new(), |id| format!(" (process {id})")))]
    InUse {
        /// Its process, where it is known.
        process: Option<u32>,
    },
    /// The file, or its folder, must not be written to.
    #[error("`{}` can be looked at only: it, or its folder, is not to be written to", .path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The file is not there any more.
    #[error("`{}` is not there", .path.display())]
    Gone {
        /// The file.
        path: PathBuf,
    },
    /// There is a file of this name already.
    #[error("`{}` is there already", .path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// A folder, a device, or a link put in the file's place.
    #[error("`{}` is not a plain file", .path.display())]
    NotAFile {
        /// What is there.
        path: PathBuf,
    },
    /// The file is not UTF-8 text.
    #[error("`{}` is not a text in UTF-8", .path.display())]
    NotText {
        /// The file.
        path: PathBuf,
    },
    /// The file is far larger than a car file.
    #[error("`{}` is too large for a car file", .path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
    },
    /// A name that leads out of the car's folder.
    #[error("`{name}` is not in the car's folder")]
    Escapes {
        /// The name.
        name: String,
    },
    /// The operating system refused.
    #[error("cannot {doing} `{}`: {source}", .path.display())]
    Io {
        /// What was tried.
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

impl StoreError {
    /// What to do instead, where that can be said.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Edit(error) => error.hint(),
            Self::Conflict { .. } => {
                Some("look at both values, and make the edit again if it still holds".into())
            }
            Self::ChangedOutside => Some("look at the change, then try again".into()),
            Self::InUse { .. } => Some("use that one, or close it and try again".into()),
            Self::ReadOnly { .. } => Some("allow writing, or copy the file to a folder of your own".into()),
            Self::Gone { .. } => {
                Some("was it moved or renamed? put it back, or open it where it is now".into())
            }
            Self::Exists { .. } => Some("choose another name".into()),
            Self::NotText { .. } => Some("save it as UTF-8 in the program that wrote it".into()),
            Self::Escapes { .. } => Some("put the file beside the car file".into()),
            Self::NotAFile { .. } | Self::TooLarge { .. } | Self::Io { .. } => None,
        }
    }

    /// Whether the system does not let the folder be written to.
    pub(crate) fn is_denied(&self) -> bool {
        matches!(self, Self::Io { source, .. } if matches!(
            source.kind(),
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem
        ))
    }
}

/// Says what was tried when the system refused.
pub(crate) trait Doing<T> {
    fn doing(self, doing: &'static str, path: &std::path::Path) -> Result<T, StoreError>;
}

impl<T> Doing<T> for io::Result<T> {
    fn doing(self, doing: &'static str, path: &std::path::Path) -> Result<T, StoreError> {
        self.map_err(|source| match source.kind() {
            io::ErrorKind::NotFound => StoreError::Gone { path: path.to_path_buf() },
            _ => StoreError::Io { doing, path: path.to_path_buf(), source },
        })
    }
}

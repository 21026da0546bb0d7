//! Reading and replacing whole files.

use std::ffi::OsStr;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Component, Path, PathBuf};

use super::error::{Doing, StoreError};

/// Name of the folder that the store keeps beside a car file.
pub(crate) const OWN_FOLDER: &str = ".soapstone";

/// Largest file that is read \[bytes\]: a thousand times a car file.
const LARGEST: u64 = 8 << 20;

/// Behind a file's name in the name of its successor, until that takes its place.
const SUCCESSOR: &str = ".soapstone-new-";

/// The file that a path leads to.
pub(crate) fn resolve(path: &Path) -> Result<PathBuf, StoreError> {
    path.canonicalize().doing("open", path)
}

/// The text of a plain file.
pub(crate) fn read(path: &Path) -> Result<String, StoreError> {
    check_plain(path)?;
    let file = File::open(path).doing("open", path)?;
    let length = file.metadata().doing("read", path)?.len();
    let mut bytes = Vec::with_capacity(usize::try_from(length.min(LARGEST)).unwrap_or_default());
    file.take(LARGEST + 1).read_to_end(&mut bytes).doing("read", path)?;
    if bytes.len() as u64 > LARGEST {
        return Err(StoreError::TooLarge { path: path.to_path_buf() });
    }
    String::from_utf8(bytes).map_err(|_| StoreError::NotText { path: path.to_path_buf() })
}

/// Whether the file's own permissions forbid writing. A rename would pass over them.
pub(crate) fn is_read_only(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|metadata| metadata.permissions().readonly())
}

/// Replaces a file's text whole or not at all; when this returns, a crash of the machine does not take it back.
///
/// # Errors
/// [`StoreError::ChangedOutside`] where the file does not have the text `before`.
pub(crate) fn replace(path: &Path, before: &str, after: &str) -> Result<(), StoreError> {
    check_plain(path)?;
    let kept = fs::metadata(path).doing("read", path)?;
    let (mut file, successor) = successor(path)?;
    let written = fill(&mut file, after)
        .and_then(|()| keep(&file, &kept))
        .and_then(|()| file.sync_all())
        .doing("write", &successor);
    // As late as can be: what is left is the moment between this look and the renaming.
    let written = written.and_then(|()| match read(path)? == before {
        true => fs::rename(&successor, path).doing("replace", path),
        false => Err(StoreError::ChangedOutside),
    });
    if written.is_err() {
        let _ = fs::remove_file(&successor);
        return written;
    }
    // The new text is in place. A folder that cannot be synced is no reason to say that it is not.
    sync_folder_of(path);
    Ok(())
}

/// Writes one of the store's own files, whole or not at all.
pub(crate) fn put(path: &Path, text: &str) -> Result<(), StoreError> {
    let (mut file, successor) = successor(path)?;
    let written =
        fill(&mut file, text).and_then(|()| file.sync_all()).and_then(|()| fs::rename(&successor, path));
    if written.is_err() {
        let _ = fs::remove_file(&successor);
    }
    written.doing("write", path)?;
    sync_folder_of(path);
    Ok(())
}

/// Makes a file with a text, whole or not at all, where there is none.
pub(crate) fn create(path: &Path, text: &str) -> Result<(), StoreError> {
    let exists = || StoreError::Exists { path: path.to_path_buf() };
    if path.symlink_metadata().is_ok() {
        return Err(exists());
    }
    let (mut file, successor) = successor(path)?;
    let written = fill(&mut file, text).and_then(|()| file.sync_all());
    // A second name, unlike a renaming, is refused where the name is taken.
    let placed = written.and_then(|()| fs::hard_link(&successor, path)).or_else(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => Err(error),
        _ => {
            let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
            fill(&mut file, text).and_then(|()| file.sync_all())
        }
    });
    let _ = fs::remove_file(&successor);
    match placed {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(exists()),
        other => {
            other.doing("make", path)?;
            sync_folder_of(path);
            Ok(())
        }
    }
}

/// The folder for the store's own files, made where it is not there yet.
pub(crate) fn own_folder(folder: &Path) -> Result<PathBuf, StoreError> {
    let own = folder.join(OWN_FOLDER);
    match fs::create_dir(&own) {
        Ok(()) => sync_folder_of(&own),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
        Err(error) => return Err(error).doing("make", &own),
    }
    let metadata = own.symlink_metadata().doing("open", &own)?;
    if metadata.is_dir() { Ok(own) } else { Err(StoreError::NotAFile { path: own }) }
}

/// One of the store's own files for a car file; refused where a link or a folder has its name.
pub(crate) fn own_file(own: &Path, car: &Path, ending: &str) -> Result<PathBuf, StoreError> {
    let mut name = car.file_name().unwrap_or_default().to_os_string();
    name.push(".");
    name.push(ending);
    let path = own.join(name);
    match path.symlink_metadata() {
        Ok(metadata) if !metadata.is_file() => Err(StoreError::NotAFile { path }),
        _ => Ok(path),
    }
}

/// Removes successors that a killed process left beside a file. Only for the holder of the file's lock.
pub(crate) fn sweep(path: &Path) {
    let (Some(folder), Some(prefix)) = (path.parent(), successor_prefix(path)) else { return };
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if entry.file_name().to_string_lossy().starts_with(&prefix) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

fn successor_prefix(path: &Path) -> Option<String> {
    Some(format!(".{}{SUCCESSOR}", path.file_name()?.to_string_lossy()))
}

/// A new file beside another, which no one else can have.
fn successor(path: &Path) -> Result<(File, PathBuf), StoreError> {
    let not_a_file = || StoreError::NotAFile { path: path.to_path_buf() };
    let prefix = successor_prefix(path).ok_or_else(not_a_file)?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut number = 0_u32;
    loop {
        let successor = folder.join(format!("{prefix}{}-{number}", std::process::id()));
        match OpenOptions::new().write(true).create_new(true).open(&successor) {
            Ok(file) => return Ok((file, successor)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && number < 100 => number += 1,
            Err(error) => return Err(error).doing("make", &successor),
        }
    }
}

fn fill(file: &mut File, text: &str) -> io::Result<()> {
    file.write_all(text.as_bytes())
}

/// Gives a file the permissions, and where it may the owner, of another.
fn keep(file: &File, kept: &fs::Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        let own = file.metadata()?;
        if own.uid() != kept.uid() || own.gid() != kept.gid() {
            // Only root may give a file away; anyone else's copy is his own.
            let _ = fchown(file, Some(kept.uid()), Some(kept.gid()));
        }
    }
    file.set_permissions(kept.permissions())
}

/// A plain file, and not a link that was put in its place: the path had its links resolved.
fn check_plain(path: &Path) -> Result<(), StoreError> {
    let metadata = path.symlink_metadata().doing("open", path)?;
    if metadata.is_file() { Ok(()) } else { Err(StoreError::NotAFile { path: path.to_path_buf() }) }
}

/// Makes the names in a file's folder last; not every system can.
pub(crate) fn sync_folder_of(path: &Path) {
    #[cfg(unix)]
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
    #[cfg(not(unix))]
    let _ = path;
}

/// A path inside a folder (links resolved) by a name that need not be trusted.
pub(crate) fn inside(folder: &Path, name: &str) -> Result<PathBuf, StoreError> {
    let escapes = || StoreError::Escapes { name: crate::entry::shorten(name) };
    let own = |part: &OsStr| part.eq_ignore_ascii_case(OWN_FOLDER);
    let plain = |part: Component<'_>| matches!(part, Component::Normal(part) if !own(part));
    let relative = Path::new(name);
    if name.is_empty() || name.contains(['\0', '\\', ':']) || !relative.components().all(plain) {
        return Err(escapes());
    }
    let whole = folder.join(relative);
    let real = match whole.canonicalize() {
        Ok(real) => real,
        // A link that leads nowhere yet could lead out later.
        Err(_) if whole.symlink_metadata().is_ok() => return Err(escapes()),
        Err(_) => {
            let (parent, name) = (whole.parent(), whole.file_name());
            let parent = parent.and_then(|parent| parent.canonicalize().ok()).ok_or_else(escapes)?;
            parent.join(name.ok_or_else(escapes)?)
        }
    };
    let inside = real.strip_prefix(folder).map_err(|_| escapes())?;
    if inside.components().all(plain) { Ok(real) } else { Err(escapes()) }
}

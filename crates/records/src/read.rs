//! Reading a file without reading more of it than is wanted.

use std::fs::{self, File};
use std::io::{Read as _, Seek as _, SeekFrom};
use std::os::unix::fs::MetadataExt as _;
use std::path::Path;

use crate::Fault;

/// Whether the name is that of a logbook, or of what SQLite keeps beside one. No such file is opened here: when its
/// handle were closed, every lock that this process holds on it would go.
pub(crate) fn is_database(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().as_encoded_bytes();
    let name = ["-journal", "-wal", "-shm"]
        .iter()
        .find_map(|ending| name.strip_suffix(ending.as_bytes()))
        .unwrap_or(name);
    name.to_ascii_lowercase().ends_with(b".db")
}

/// What is there, if it is a file that may be opened. Looked at before that: opening a pipe would wait for its other
/// end.
fn file_at(path: &Path) -> Result<fs::Metadata, Fault> {
    let there = fs::metadata(path).map_err(|source| missing_or(path, source))?;
    let real = fs::canonicalize(path).map_err(|source| missing_or(path, source))?;
    if is_database(&real) {
        return Err(Fault::Database {
            path: path.to_path_buf(),
        });
    }
    if there.is_file() {
        Ok(there)
    } else {
        Err(Fault::NotAFile {
            path: path.to_path_buf(),
        })
    }
}

/// Opens a regular file that is no logbook, for reading.
pub(crate) fn open(path: &Path) -> Result<File, Fault> {
    file_at(path)?;
    File::open(path).map_err(|source| Fault::io("read", path, source))
}

/// Reads a regular file from its beginning, and at most so many bytes of it.
pub(crate) fn beginning(path: &Path, most_bytes: u64) -> Result<Vec<u8>, Fault> {
    let mut bytes = Vec::new();
    open(path)?
        .take(most_bytes)
        .read_to_end(&mut bytes)
        .map_err(|source| Fault::io("read", path, source))?;
    Ok(bytes)
}

/// Reads a regular file's end: at most so many bytes of it.
pub(crate) fn end(path: &Path, most_bytes: u64) -> Result<Vec<u8>, Fault> {
    let fault = |source| Fault::io("read", path, source);
    let mut file = open(path)?;
    let long = file.metadata().map_err(fault)?.len();
    file.seek(SeekFrom::Start(long.saturating_sub(most_bytes)))
        .map_err(fault)?;
    let mut bytes = Vec::new();
    file.take(most_bytes).read_to_end(&mut bytes).map_err(fault)?;
    Ok(bytes)
}

/// Reads the whole of a regular file, and at most one byte more than `cap_bytes`.
pub(crate) fn whole(path: &Path, cap_bytes: u64) -> Result<Vec<u8>, Fault> {
    let there = file_at(path)?;
    let too_large = || Fault::TooLarge {
        path: path.to_path_buf(),
        cap_bytes,
    };
    if there.len() > cap_bytes {
        return Err(too_large());
    }
    let bytes = beginning(path, cap_bytes.saturating_add(1))?;
    if u64::try_from(bytes.len()).is_ok_and(|length| length <= cap_bytes) {
        Ok(bytes)
    } else {
        Err(too_large())
    }
}

/// Tells a link that leads nowhere from nothing at all.
pub(crate) fn missing_or(path: &Path, source: std::io::Error) -> Fault {
    match fs::read_link(path) {
        Ok(leads_to) if source.kind() == std::io::ErrorKind::NotFound => Fault::DanglingLink {
            path: path.to_path_buf(),
            leads_to,
        },
        _ => Fault::io("read", path, source),
    }
}

/// UTF-8 text, or where it stops being text.
pub(crate) fn text(path: &Path, bytes: Vec<u8>) -> Result<String, Fault> {
    String::from_utf8(bytes).map_err(|error| {
        let offset = error.utf8_error().valid_up_to();
        let line = 1 + error
            .as_bytes()
            .iter()
            .take(offset)
            .filter(|&&byte| byte == b'\n')
            .count();
        Fault::NotText {
            path: path.to_path_buf(),
            offset,
            line,
        }
    })
}

/// How a file lies on the disk, in a word that is another one once the file was written, replaced or moved; `none` where
/// nothing is there. Two writes within one tick of the file system's clock, that leave as many bytes, look alike.
pub(crate) fn lies(path: &Path) -> String {
    fs::metadata(path).map_or_else(
        |_| "none".to_owned(),
        |found| {
            format!(
                "{}.{:09} {}.{:09} {} {}",
                found.mtime(),
                found.mtime_nsec(),
                found.ctime(),
                found.ctime_nsec(),
                found.len(),
                found.ino()
            )
        },
    )
}

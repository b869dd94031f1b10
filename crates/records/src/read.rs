//! Reading a file without reading more of it than is wanted.

use std::fs::{self, File};
use std::io::Read as _;
use std::path::Path;

use crate::Fault;

/// Reads the whole of a regular file, and at most one byte more than `cap_bytes`.
pub(crate) fn whole(path: &Path, cap_bytes: u64) -> Result<Vec<u8>, Fault> {
    let fault = |source| Fault::io("read", path, source);
    // Looked at before it is opened: opening a pipe would wait for its other end.
    let there = fs::metadata(path).map_err(|source| missing_or(path, source))?;
    if !there.is_file() {
        return Err(Fault::NotAFile {
            path: path.to_path_buf(),
        });
    }
    let too_large = || Fault::TooLarge {
        path: path.to_path_buf(),
        cap_bytes,
    };
    if there.len() > cap_bytes {
        return Err(too_large());
    }
    let mut bytes = Vec::new();
    File::open(path)
        .map_err(fault)?
        .take(cap_bytes.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(fault)?;
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

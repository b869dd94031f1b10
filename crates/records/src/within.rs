//! From a name that someone gave to a path inside a car's folder, or a refusal.
//!
//! The name may come from anywhere, a request of the page too. It must be one ordinary file name ([`crate::name`]), so
//! `..`, absolute paths and NUL never reach the file system; and what the path leads to, links followed, must lie in
//! the car's folder. Whoever can already put links into that folder while this runs is beyond what this guards.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::{Fault, name, read};

/// The path of `given` in `folder`/`shelf`. The file need not be there, and neither need the shelf.
///
/// If a file is there whose name differs only by case or by how accents are stored, that file is meant.
pub(crate) fn path(
    folder: &Path,
    shelf: &str,
    given: &str,
    extension: &'static str,
) -> Result<PathBuf, Fault> {
    let name = name::file(given, extension).map_err(|flaw| Fault::name(given, flaw))?;
    let shelf = folder.join(shelf);
    let path = match there(&shelf, &name)? {
        Some(path) => path,
        None => shelf.join(&name),
    };
    stays(folder, &path)?;
    Ok(path)
}

/// The entry of `shelf` that is called `name`, or, failing that, the only one that is called so but for case.
fn there(shelf: &Path, name: &str) -> Result<Option<PathBuf>, Fault> {
    let exact = shelf.join(name);
    if fs::symlink_metadata(&exact).is_ok() {
        return Ok(Some(exact));
    }
    let entries = match fs::read_dir(shelf) {
        Ok(entries) => entries,
        Err(source) if source.kind() == ErrorKind::NotFound => return Ok(None),
        Err(source) => return Err(Fault::io("read", shelf, source)),
    };
    let mut alike = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|source| Fault::io("read", shelf, source))?;
        let Ok(other) = entry.file_name().into_string() else {
            continue;
        };
        if name::composed(&other) == name {
            return Ok(Some(entry.path()));
        }
        if name::folded(&other) == name::folded(name) {
            alike.push(entry.path());
        }
    }
    match alike.len() {
        0 | 1 => Ok(alike.pop()),
        _ => Err(Fault::Ambiguous {
            given: name.to_owned(),
            found: alike,
        }),
    }
}

/// Refuses what leads out of `folder`: a link in the place of the file, or of the folder that it is in.
pub(crate) fn stays(folder: &Path, path: &Path) -> Result<(), Fault> {
    let home = fs::canonicalize(folder).map_err(|source| read::missing_or(folder, source))?;
    // The nearest part of the path that is there: the file, or where it would be made.
    for part in path.ancestors() {
        match fs::symlink_metadata(part) {
            Ok(_) => {
                let real = fs::canonicalize(part).map_err(|source| read::missing_or(part, source))?;
                return if real.starts_with(&home) {
                    Ok(())
                } else {
                    Err(Fault::LeadsOut {
                        path: path.to_path_buf(),
                    })
                };
            }
            Err(source) if source.kind() == ErrorKind::NotFound => {}
            Err(source) => return Err(Fault::io("read", part, source)),
        }
    }
    Err(Fault::Missing {
        path: folder.to_path_buf(),
    })
}

//! The logbook as a file: made, opened, looked at before it is trusted; and what SQLite's complaints mean.
//!
//! Nothing here opens the file but SQLite. On Unix a process that closes *any* handle of a file lets go of every lock
//! that it holds on it: another process then writes into a transaction that is under way, and both lose. What has to
//! be known of the file beside what SQLite says is asked of its folder.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, OpenFlags};

use super::schema::{self, APPLICATION_ID};
use crate::save::{Target, flush_folder};
use crate::{Fault, read};

/// Makes an empty logbook, complete before it appears: a file that is empty to the last byte is therefore always one
/// that has lost its content. Another process that is faster has made the same.
pub(super) fn create(path: &Path) -> Result<(), Fault> {
    let target = Target::of(path)?;
    let _lock = target.lock()?;
    if target.there()?.is_some() {
        return Ok(());
    }
    no_stray_journal(target.real())?;
    let making = Making(target.beside_name());
    let build = || {
        let mut connection = Connection::open_with_flags(&making.0, flags() | OpenFlags::SQLITE_OPEN_CREATE)?;
        connection.pragma_update(None, "synchronous", "EXTRA")?;
        connection.pragma_update(None, "application_id", APPLICATION_ID)?;
        schema::grow(&mut connection, schema::STEPS)?;
        connection.close().map_err(|(_, source)| source)
    };
    build().map_err(|source| fault("make", path, source))?;
    let said = |source| Fault::io("make", path, source);
    fs::rename(&making.0, target.real()).map_err(said)?;
    flush_folder(target.folder()).map_err(said)
}

/// A logbook in the making, under a hidden name. What has not become the logbook is removed.
struct Making(PathBuf);

impl Drop for Making {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.0);
        let _ = fs::remove_file(journal(&self.0));
    }
}

/// For reading and writing, or for reading only where the system allows no more. Names are never taken for URIs.
fn flags() -> OpenFlags {
    OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX
}

/// Opens the file and makes sure that it is a logbook that this program understands, and built as one, before
/// anything is asked of it.
pub(super) fn open(path: &Path, wait: Duration) -> Result<Option<Connection>, Fault> {
    let there = match fs::metadata(path) {
        Ok(there) => there,
        Err(source) if source.kind() == ErrorKind::NotFound => {
            return match read::missing_or(path, source) {
                Fault::Missing { .. } => no_stray_journal(path).map(|()| None),
                fault => Err(fault),
            };
        }
        Err(source) => return Err(Fault::io("read", path, source)),
    };
    if !there.is_file() {
        return Err(Fault::NotAFile {
            path: path.to_path_buf(),
        });
    }
    // A pipe in the place of what SQLite keeps beside the file would be waited for without end.
    for beside in ["-journal", "-wal", "-shm"].map(|ending| with_ending(path, ending)) {
        if fs::metadata(&beside).is_ok_and(|there| !there.is_file()) {
            return Err(Fault::NotAFile { path: beside });
        }
    }
    if there.len() == 0 {
        return Err(Fault::EmptyFile {
            path: path.to_path_buf(),
        });
    }
    let said = |source| fault("read", path, source);
    let mut connection = Connection::open_with_flags(path, flags()).map_err(said)?;
    prepare(&connection, wait).map_err(said)?;
    look_at(&mut connection, path)?;
    Ok(Some(connection))
}

/// Sets what SQLite does not keep in the file.
fn prepare(connection: &Connection, wait: Duration) -> rusqlite::Result<()> {
    connection.busy_timeout(wait)?;
    // A file may come from anyone: nothing in it may run by itself or reach the tables that it is built of.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    // A rollback journal, and after it is gone the folder flushed too.
    connection.pragma_update(None, "synchronous", "EXTRA")?;
    connection.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(()))
}

/// Recognises the logbook, checks how it is built, and lets an older one grow.
fn look_at(connection: &mut Connection, path: &Path) -> Result<(), Fault> {
    let said = |source| fault("read", path, source);
    let application: i32 = connection
        .query_row("PRAGMA application_id", [], |row| row.get(0))
        .map_err(said)?;
    let version = schema::version(connection).map_err(said)?;
    let known = schema::newest();
    let path = path.to_path_buf();
    if application != APPLICATION_ID || version < 1 {
        return Err(Fault::NotALogbook { path });
    }
    if version > known {
        return Err(Fault::NewerFormat { path, version, known });
    }
    let built = |connection: &Connection, version| -> Result<(), Fault> {
        let objects = schema::objects(connection).map_err(said)?;
        let wanted = schema::wanted(version).map_err(said)?;
        match schema::difference(&objects, &wanted) {
            Some(object) => Err(Fault::WrongBuild {
                path: path.clone(),
                object,
            }),
            None => Ok(()),
        }
    };
    built(connection, version)?;
    if version < known {
        schema::grow(connection, schema::STEPS).map_err(|source| fault("bring up to date", &path, source))?;
        built(connection, known)?;
    }
    Ok(())
}

/// SQLite would take an old journal for the new file's, and undo with it what was never in it.
fn no_stray_journal(path: &Path) -> Result<(), Fault> {
    let journal = journal(path);
    match fs::symlink_metadata(&journal) {
        Ok(_) => Err(Fault::StrayJournal { journal }),
        Err(_) => Ok(()),
    }
}

/// Where SQLite keeps what it needs to undo a change that was not finished.
fn journal(path: &Path) -> PathBuf {
    with_ending(path, "-journal")
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut whole = path.as_os_str().to_owned();
    whole.push(ending);
    whole.into()
}

/// What SQLite's complaint means for whoever asked.
pub(super) fn fault(doing: &'static str, path: &Path, source: rusqlite::Error) -> Fault {
    let path = path.to_path_buf();
    let damaged = |path, source: &rusqlite::Error| Fault::Damaged {
        path,
        entry: None,
        why: source.to_string(),
    };
    let Some(code) = source.sqlite_error_code() else {
        // A value that is not of the kind that its column holds, or not text.
        return damaged(path, &source);
    };
    match code {
        ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Fault::Busy { path },
        ErrorCode::NotADatabase => Fault::NotADatabase { path },
        ErrorCode::DiskFull => Fault::Full {
            path,
            doing,
            source: source.into(),
        },
        ErrorCode::ReadOnly | ErrorCode::PermissionDenied => Fault::Denied {
            path,
            doing,
            source: source.into(),
        },
        ErrorCode::CannotOpen => cannot_open(doing, path, source),
        ErrorCode::DatabaseCorrupt | ErrorCode::ConstraintViolation | ErrorCode::TypeMismatch => {
            damaged(path, &source)
        }
        _ => Fault::Disk {
            path,
            doing,
            source: source.into(),
        },
    }
}

/// SQLite says no more than that it cannot open: the file or its journal. Why is asked of the folder, for to open the
/// file once more would let go of locks.
fn cannot_open(doing: &'static str, path: PathBuf, source: rusqlite::Error) -> Fault {
    match fs::metadata(&path) {
        Err(gone) => read::missing_or(&path, gone),
        Ok(there) if !there.is_file() => Fault::NotAFile { path },
        Ok(_) => Fault::Denied {
            path,
            doing,
            source: source.into(),
        },
    }
}

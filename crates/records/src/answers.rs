//! What a list of cars shows of each, kept beside the cars so that it need not be computed anew.
//!
//! `.answers` in the cars folder, an SQLite file. Nothing in it is worth anything by itself: each answer stands under
//! what it was made of, and whoever shows one looks whether the files are still those. A file that is damaged, or that
//! another format made, is made anew; an answer that does not bear its own digest is passed over; where the folder
//! cannot be written, answers live as long as the program.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::civil::Date;
use rusqlite::{Connection, OpenFlags, Row, params};
use sha2::{Digest as _, Sha256};

use crate::{Cars, Digest};

/// Name of the file in the cars folder. A car cannot have it.
const FILE: &str = ".answers";
/// What SQLite keeps in the file to say whose it is: `rlan`.
const APPLICATION_ID: i32 = 0x726c_616e;
/// A file of another format is made anew.
const FORMAT: i32 = 1;
/// How long another program that writes is waited for; then it is kept at another time.
const WAIT: Duration = Duration::from_millis(200);
const TABLE: &str = "CREATE TABLE answer (car TEXT PRIMARY KEY, sheet BLOB NOT NULL, book TEXT NOT NULL, head BLOB,
    made_for TEXT NOT NULL, made_on TEXT NOT NULL, until TEXT, said TEXT NOT NULL, digest BLOB NOT NULL) WITHOUT ROWID";

/// An answer, and what it was made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptAnswer {
    /// The car: its folder's name.
    pub car: String,
    /// Digest of its sheet.
    pub sheet: Digest,
    /// How its logbook lay on the disk ([`CarFolder::book_lies`](crate::CarFolder::book_lies)).
    pub book: String,
    /// The hash of its logbook's newest entry; `None` where there is none.
    pub head: Option<Digest>,
    /// Everything else that it was made for, in words of whoever made it: units, the program's build.
    pub made_for: String,
    /// The day it was made for.
    pub made_on: Date,
    /// The first day on which it may be another one; `None`: no day changes it.
    pub until: Option<Date>,
    /// What it says, in words of whoever made it.
    pub said: String,
}

impl KeptAnswer {
    /// Over everything, each text with its length before it.
    fn digest(&self) -> [u8; 32] {
        let mut hasher = Sha256::new();
        let mut put = |bytes: &[u8]| {
            hasher.update(u64::try_from(bytes.len()).unwrap_or(u64::MAX).to_be_bytes());
            hasher.update(bytes);
        };
        put(self.car.as_bytes());
        put(self.sheet.as_bytes());
        put(self.book.as_bytes());
        put(self.head.as_ref().map_or(&[][..], |head| &head.as_bytes()[..]));
        put(self.made_for.as_bytes());
        put(self.made_on.to_string().as_bytes());
        put(self
            .until
            .map(|day| day.to_string())
            .unwrap_or_default()
            .as_bytes());
        put(self.said.as_bytes());
        hasher.finalize().into()
    }

    /// A row, if it says what was written.
    fn read(row: &Row<'_>) -> rusqlite::Result<Option<Self>> {
        let until: Option<String> = row.get(6)?;
        let (made_on, digest): (String, [u8; 32]) = (row.get(5)?, row.get(8)?);
        let Ok(made_on) = made_on.parse() else {
            return Ok(None);
        };
        let Ok(until) = until.map(|until| until.parse()).transpose() else {
            return Ok(None);
        };
        let answer = Self {
            car: row.get(0)?,
            sheet: Digest::from_bytes(row.get(1)?),
            book: row.get(2)?,
            head: row.get::<_, Option<[u8; 32]>>(3)?.map(Digest::from_bytes),
            made_for: row.get(4)?,
            made_on,
            until,
            said: row.get(7)?,
        };
        Ok((answer.digest() == digest).then_some(answer))
    }
}

/// The file of answers.
#[derive(Debug)]
pub struct Answers {
    path: PathBuf,
    /// None where the folder does not allow one.
    connection: Option<Connection>,
}

impl Answers {
    /// Opens the file of a cars folder, and gives every answer that it holds. Where there is none, it is made once there is
    /// something to keep.
    #[must_use]
    pub fn open(cars: &Cars) -> (Self, Vec<KeptAnswer>) {
        let path = cars.folder().join(FILE);
        if fs::symlink_metadata(&path).is_err() {
            let connection = None;
            return (Self { path, connection }, Vec::new());
        }
        let first = opened(&path);
        let usable = match first {
            Err(Unusable::Damaged) if removed(&path) => opened(&path),
            other => other,
        };
        match usable {
            Ok((connection, answers)) => (
                Self {
                    path,
                    connection: Some(connection),
                },
                answers,
            ),
            Err(_) => (
                Self {
                    path,
                    connection: None,
                },
                Vec::new(),
            ),
        }
    }

    /// Keeps answers, each in the place of what was kept of its car. Whether they are kept: an answer that is not will
    /// be made again.
    pub fn keep(&mut self, answers: &[KeptAnswer]) -> bool {
        self.written(|connection| {
            let transaction = connection.transaction()?;
            for answer in answers {
                transaction.execute(
                    "INSERT OR REPLACE INTO answer (car, sheet, book, head, made_for, made_on, until, said, digest)
                     VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
                    params![
                        answer.car,
                        answer.sheet.as_bytes(),
                        answer.book,
                        answer.head.as_ref().map(Digest::as_bytes),
                        answer.made_for,
                        answer.made_on.to_string(),
                        answer.until.map(|day| day.to_string()),
                        answer.said,
                        answer.digest()
                    ],
                )?;
            }
            transaction.commit()
        })
    }

    /// Drops what is kept of cars that are gone.
    pub fn forget(&mut self, cars: &[String]) -> bool {
        self.written(|connection| {
            let transaction = connection.transaction()?;
            for car in cars {
                transaction.execute("DELETE FROM answer WHERE car = ?1", [car])?;
            }
            transaction.commit()
        })
    }

    /// Writes; a file that turns out damaged, or that is gone, is made anew and holds what is written from then on.
    fn written(&mut self, write: impl Fn(&mut Connection) -> rusqlite::Result<()>) -> bool {
        if fs::symlink_metadata(&self.path).is_err() {
            self.connection = opened(&self.path).ok().map(|(connection, _)| connection);
        }
        let Some(connection) = &mut self.connection else {
            return false;
        };
        match write(connection) {
            Ok(()) => true,
            Err(source) if is_damage(&source) => {
                self.connection = None;
                if removed(&self.path) {
                    self.connection = opened(&self.path).ok().map(|(connection, _)| connection);
                }
                self.connection
                    .as_mut()
                    .is_some_and(|connection| write(connection).is_ok())
            }
            Err(_) => false,
        }
    }
}

/// Why a file of answers is not used.
enum Unusable {
    /// It is damaged or of another format: another is made in its place.
    Damaged,
    /// Something else stands there, or the folder does not allow one.
    NotHere,
}

fn is_damage(source: &rusqlite::Error) -> bool {
    use rusqlite::ErrorCode::{
        ConstraintViolation, DatabaseCorrupt, NotADatabase, ReadOnly, SchemaChanged, TypeMismatch,
    };
    match source.sqlite_error_code() {
        // A damaged head may say that the file is of a kind that cannot be written.
        Some(
            DatabaseCorrupt | NotADatabase | TypeMismatch | SchemaChanged | ConstraintViolation | ReadOnly,
        ) => true,
        // A statement that does not fit the table, or a value of another kind.
        Some(rusqlite::ErrorCode::Unknown) | None => true,
        Some(_) => false,
    }
}

/// Takes a damaged file away, with what SQLite keeps beside it.
fn removed(path: &Path) -> bool {
    let mut journal = path.as_os_str().to_owned();
    journal.push("-journal");
    let _ = fs::remove_file(journal);
    fs::remove_file(path).is_ok()
}

fn opened(path: &Path) -> Result<(Connection, Vec<KeptAnswer>), Unusable> {
    // A link, a folder or a pipe in its place is somebody else's.
    if fs::symlink_metadata(path).is_ok_and(|there| !there.is_file()) {
        return Err(Unusable::NotHere);
    }
    let said = |source: rusqlite::Error| {
        if is_damage(&source) {
            Unusable::Damaged
        } else {
            Unusable::NotHere
        }
    };
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
        | OpenFlags::SQLITE_OPEN_NOFOLLOW;
    let connection = Connection::open_with_flags(path, flags).map_err(said)?;
    connection.busy_timeout(WAIT).map_err(said)?;
    let number = |name: &str| connection.query_row(&format!("PRAGMA {name}"), [], |row| row.get::<_, i32>(0));
    let tables: i64 = connection
        .query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))
        .map_err(said)?;
    if tables == 0 {
        connection
            .execute_batch(&format!(
                "BEGIN IMMEDIATE; PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {FORMAT}; {TABLE}; COMMIT;"
            ))
            .map_err(said)?;
    }
    let of = (
        number("application_id").map_err(said)?,
        number("user_version").map_err(said)?,
    );
    if of != (APPLICATION_ID, FORMAT) {
        return Err(Unusable::Damaged);
    }
    // What a power cut takes is computed again.
    connection
        .pragma_update(None, "synchronous", "OFF")
        .map_err(said)?;
    let mut query = connection
        .prepare("SELECT car, sheet, book, head, made_for, made_on, until, said, digest FROM answer")
        .map_err(said)?;
    let mut rows = query.query([]).map_err(said)?;
    let mut answers = Vec::new();
    while let Some(row) = rows.next().map_err(said)? {
        // One that cannot be read is made again.
        answers.extend(KeptAnswer::read(row).unwrap_or_default());
    }
    drop(rows);
    drop(query);
    Ok((connection, answers))
}

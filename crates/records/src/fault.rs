//! Everything that can be refused, in words.

use std::io;
use std::path::{Path, PathBuf};

use crate::Digest;
use crate::kind::{EntryKind, KindFault};
use crate::name::NameFlaw;
use crate::text::Text;

/// Why something of the cars folder or of a logbook was refused or could not be done.
///
/// `to_string()` says what is wrong, [`help`](Self::help) what to do about it, [`slug`](Self::slug) which fault it is
/// in a word that never changes, and [`is_wrong_input`](Self::is_wrong_input) whose doing it is. Whatever the fault,
/// what was on the disk before is still there, and a text that was to be saved is still the caller's.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    // Names.
    /// The name cannot be a car's or a file's.
    #[error("`{given}` cannot be a name: {flaw}")]
    Name {
        /// As it was given, cut when long.
        given: String,
        /// What is wrong with it.
        flaw: NameFlaw,
    },
    /// No car of that name.
    #[error("there is no car `{given}` in {}{}", cars.display(), nearest_words(nearest.as_deref()))]
    NoSuchCar {
        /// As it was given.
        given: String,
        /// The car that was most likely meant.
        nearest: Option<String>,
        /// The cars folder.
        cars: PathBuf,
    },
    /// Several cars answer to the name: they differ by case, or by how an accent is stored.
    #[error("`{given}` may be any of {}", list(found))]
    Ambiguous {
        /// As it was given.
        given: String,
        /// The folders that answer to it.
        found: Vec<PathBuf>,
    },
    /// Another car, or a file of that folder, has the name, perhaps in other letters' case.
    #[error("`{given}` is taken: {} is there", there.display())]
    NameTaken {
        /// As it was given.
        given: String,
        /// What has the name.
        there: PathBuf,
    },
    /// The name leads out of the car's folder, over a symbolic link.
    #[error("{} leads out of the car's folder", path.display())]
    LeadsOut {
        /// The path that leads out.
        path: PathBuf,
    },

    // Files.
    /// Nothing is there.
    #[error("{} is not there", path.display())]
    Missing {
        /// What is missing.
        path: PathBuf,
    },
    /// A symbolic link to nothing.
    #[error("{} is a link to {}, which is not there", path.display(), leads_to.display())]
    DanglingLink {
        /// The link.
        path: PathBuf,
        /// Where it leads.
        leads_to: PathBuf,
    },
    /// A folder, a device or a pipe where a file is wanted.
    #[error("{} is not a file", path.display())]
    NotAFile {
        /// What is there.
        path: PathBuf,
    },
    /// Something else where a folder is wanted.
    #[error("{} is not a folder", path.display())]
    NotAFolder {
        /// What is there.
        path: PathBuf,
    },
    /// More bytes than are read or kept.
    #[error("{} has more than {} bytes", path.display(), cap_bytes)]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The most bytes it may have.
        cap_bytes: u64,
    },
    /// The file is not UTF-8 text.
    #[error("{} is not UTF-8 text: line {line} holds a byte that is none", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
        /// Bytes before the first that is not text.
        offset: usize,
        /// Its line, from 1.
        line: usize,
    },
    /// The file changed since it was read: nothing was written, and both texts are here.
    #[error("{} changed since it was read, and was not saved", _0.path.display())]
    Changed(Box<Conflict>),
    /// A file with another content has the name already.
    #[error("{} is there already, with another content", path.display())]
    AlreadyThere {
        /// The file.
        path: PathBuf,
    },
    /// A file is there that this program did not make, and that it therefore does not replace.
    #[error("{} is there already, and this program did not make it: it is left as it is", path.display())]
    NotOurs {
        /// The file.
        path: PathBuf,
    },
    /// A logbook where a text is wanted.
    #[error("{} is a logbook, no text", path.display())]
    Database {
        /// The file.
        path: PathBuf,
    },
    /// Someone else is saving, or writing to the logbook, for longer than is waited.
    #[error("{} is in use by another program", path.display())]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The file, the folder or the whole disk may not be written, or not read.
    #[error("no permission to {doing} {}", path.display())]
    Denied {
        /// The file or folder.
        path: PathBuf,
        /// What was being done, as a verb.
        doing: &'static str,
        /// What the system said.
        source: IoCause,
    },
    /// No room left on the disk, or in one's share of it.
    #[error("the disk is full: could not {doing} {}", path.display())]
    Full {
        /// The file.
        path: PathBuf,
        /// What was being done, as a verb.
        doing: &'static str,
        /// What the system said.
        source: IoCause,
    },
    /// The text is in place, but the disk did not confirm that it would outlive a power cut.
    #[error("{} is saved, but the disk did not confirm it", path.display())]
    NotConfirmed {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: IoCause,
    },
    /// Any other fault of the disk or the system.
    #[error("could not {doing} {}: {source}", path.display())]
    Disk {
        /// The file or folder.
        path: PathBuf,
        /// What was being done, as a verb.
        doing: &'static str,
        /// What the system said.
        source: IoCause,
    },

    // The logbook as a file.
    /// Not an SQLite file at all, or its first page is broken.
    #[error("{} is not a database", path.display())]
    NotADatabase {
        /// The file.
        path: PathBuf,
    },
    /// A logbook is never empty, not even a new one: its content is lost.
    #[error("{} is empty: what was in it is lost", path.display())]
    EmptyFile {
        /// The file.
        path: PathBuf,
    },
    /// An SQLite file of something else.
    #[error("{} is a database, but no logbook", path.display())]
    NotALogbook {
        /// The file.
        path: PathBuf,
    },
    /// Written by a newer version of this program.
    #[error("{} has format {version}, and this program knows up to {known}", path.display())]
    NewerFormat {
        /// The file.
        path: PathBuf,
        /// Its format.
        version: i64,
        /// The newest format that is known.
        known: i64,
    },
    /// Its tables are not those of a logbook of its format.
    #[error("{} is not built as a logbook is: `{object}` differs", path.display())]
    WrongBuild {
        /// The file.
        path: PathBuf,
        /// The first table, index or trigger that differs.
        object: String,
    },
    /// The half-written journal of a logbook that is not there.
    #[error("{} is there without its logbook", journal.display())]
    StrayJournal {
        /// The journal.
        journal: PathBuf,
    },
    /// The file is damaged.
    #[error("{} is damaged: {why}", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// The entry, where one can be named.
        entry: Option<i64>,
        /// What does not fit.
        why: String,
    },

    // Entries.
    /// The data of an entry is no JSON object that can be kept.
    #[error("the data of an entry: {why}")]
    Data {
        /// What is wrong.
        why: String,
    },
    /// A device's id, or the id that it gave an entry, is not 1 to 64 of `A-Z a-z 0-9 . _ : -`.
    #[error("`{given}` cannot be {what}: 1 to 64 of A-Z a-z 0-9 . _ : - are wanted")]
    Id {
        /// As it was given, cut when long.
        given: String,
        /// Which id it is.
        what: &'static str,
    },
    /// The word names no kind of entry.
    #[error("`{given}` is no kind of entry{}", nearest_words(nearest.as_deref()))]
    NoSuchKind {
        /// As it was given, cut when long.
        given: String,
        /// The kind that was most likely meant.
        nearest: Option<String>,
    },
    /// The kind is written by the logbook itself.
    #[error("an entry of kind `{kind}` is written by the logbook itself")]
    OwnKind {
        /// The kind.
        kind: EntryKind,
    },
    /// The device has given this id to another entry before.
    #[error("`{device}` has used the id `{device_entry}` before, for entry {id}, which says something else")]
    IdUsed {
        /// The device.
        device: String,
        /// The id it gave.
        device_entry: String,
        /// The entry that has it.
        id: i64,
    },
    /// No entry has the number.
    #[error("there is no entry {id}")]
    NoSuchEntry {
        /// The number.
        id: i64,
    },
    /// The entry was struck before.
    #[error("entry {id} was struck before, by entry {by}")]
    StruckBefore {
        /// The entry.
        id: i64,
        /// The entry that struck it.
        by: i64,
    },
    /// An entry that strikes another, or that says where the book was copied from, cannot be struck.
    #[error("entry {id} is of kind `{kind}`, which cannot be struck")]
    NotForStriking {
        /// The entry.
        id: i64,
        /// Its kind.
        kind: EntryKind,
    },
    /// A strike needs its reason.
    #[error("a strike needs a reason")]
    NoReason,
    /// The text is no hash of an entry.
    #[error("`{given}` is no hash: 8 to 64 hexadecimal digits are wanted")]
    NotAMark {
        /// As it was given, cut when long.
        given: String,
    },
}

/// What the system or the database said.
pub type IoCause = Box<dyn core::error::Error + Send + Sync>;

/// Two people's texts of one file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The file.
    pub path: PathBuf,
    /// The digest of what the saver had read; `None` where there was no file.
    pub read: Option<Digest>,
    /// What is on the disk now; `None` where there is no file any more, or none that can be read as text.
    pub on_disk: Option<Text>,
    /// What was to be saved.
    pub yours: String,
}

impl From<KindFault> for Fault {
    fn from(word: KindFault) -> Self {
        Self::NoSuchKind {
            given: cut(&word.given),
            nearest: word.nearest.map(str::to_owned),
        }
    }
}

impl Fault {
    /// Sorts what the system said while `doing` something with `path`.
    pub(crate) fn io(doing: &'static str, path: &Path, source: io::Error) -> Self {
        let path = path.to_path_buf();
        match source.kind() {
            io::ErrorKind::NotFound => Self::Missing { path },
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => Self::Denied {
                path,
                doing,
                source: source.into(),
            },
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::Full {
                path,
                doing,
                source: source.into(),
            },
            io::ErrorKind::NotADirectory => Self::NotAFolder { path },
            io::ErrorKind::IsADirectory => Self::NotAFile { path },
            _ => Self::Disk {
                path,
                doing,
                source: source.into(),
            },
        }
    }

    pub(crate) fn name(given: &str, flaw: NameFlaw) -> Self {
        Self::Name {
            given: cut(given),
            flaw,
        }
    }
}

/// A text of another's making, for a message: not too long, and with control characters shown.
pub(crate) fn cut(text: &str) -> String {
    const MOST: usize = 60;
    let mut shown: String = text.chars().take(MOST).flat_map(char::escape_debug).collect();
    if text.chars().nth(MOST).is_some() {
        shown.push('…');
    }
    shown
}

fn nearest_words(nearest: Option<&str>) -> String {
    nearest
        .map(|name| format!("; did you mean `{name}`?"))
        .unwrap_or_default()
}

fn list(paths: &[PathBuf]) -> String {
    paths
        .iter()
        .map(|path| path.display().to_string())
        .collect::<Vec<_>>()
        .join(", ")
}

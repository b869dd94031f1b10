//! One text file that is read and replaced as a whole.

use std::path::{Path, PathBuf};

use crate::save::Target;
use crate::{Conflict, Digest, Fault, Text, read};

/// A text file of the workshop: a car's sheet, a stage, a column map, the preferences. It need not be there yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextFile {
    path: PathBuf,
}

impl TextFile {
    /// The text file at a path that the program itself gives.
    pub fn at(path: PathBuf) -> Self {
        Self { path }
    }

    /// The file, opened to be read from its beginning: for what is too large to be held.
    ///
    /// # Errors
    /// It is not there, not a file (a pipe would be waited for), a logbook, or may not be read.
    pub fn open(&self) -> Result<std::fs::File, Fault> {
        read::open(&self.path)
    }

    /// Its first bytes, at most so many, whether they are text or not.
    ///
    /// # Errors
    /// It is not there, not a file (a pipe would be waited for), a logbook, or may not be read.
    pub fn beginning(&self, most_bytes: u64) -> Result<Vec<u8>, Fault> {
        read::beginning(&self.path, most_bytes)
    }

    /// Its last bytes, at most so many, whether they are text or not.
    ///
    /// # Errors
    /// As [`beginning`](Self::beginning).
    pub fn end(&self, most_bytes: u64) -> Result<Vec<u8>, Fault> {
        read::end(&self.path, most_bytes)
    }

    /// How it lies on the disk, in a word: another one once it was saved. It is looked at, not opened.
    pub fn lies(&self) -> String {
        read::lies(&self.path)
    }

    /// Where it is, or will be.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Reads it whole, but no more than `cap_bytes` of it ([`LARGEST_SHEET`](crate::LARGEST_SHEET)).
    ///
    /// # Errors
    /// It is not there, not a file, too large, not UTF-8, or may not be read.
    pub fn read(&self, cap_bytes: u64) -> Result<Text, Fault> {
        let bytes = read::whole(&self.path, cap_bytes)?;
        let digest = Digest::of(&bytes);
        Ok(Text {
            text: read::text(&self.path, bytes)?,
            digest,
        })
    }

    /// As [`read`](Self::read), with `None` where there is no file.
    ///
    /// # Errors
    /// As [`read`](Self::read), but for a file that is not there.
    pub fn read_if_there(&self, cap_bytes: u64) -> Result<Option<Text>, Fault> {
        match self.read(cap_bytes) {
            Ok(text) => Ok(Some(text)),
            Err(Fault::Missing { .. }) => Ok(None),
            Err(fault) => Err(fault),
        }
    }

    /// Puts `text` in the place of the text whose digest is `read`, or, with `None`, where there was no file.
    ///
    /// When this returns the digest of the new text, that text is on the disk and outlives a power cut. On any error
    /// but [`Fault::NotConfirmed`] the old text is still there, whole. If the process is killed, one of the two is
    /// there, whole. If what is on the disk is neither what was read nor already `text`, nothing is written.
    ///
    /// # Errors
    /// [`Fault::Changed`] with both texts if the file changed since it was read; too large; marked read-only; no
    /// permission; disk full; folder missing; a link to nothing; another save that does not end.
    pub fn save(&self, read: Option<Digest>, text: &str, cap_bytes: u64) -> Result<Digest, Fault> {
        if !u64::try_from(text.len()).is_ok_and(|length| length <= cap_bytes) {
            return Err(Fault::TooLarge {
                path: self.path.clone(),
                cap_bytes,
            });
        }
        let target = Target::of(&self.path)?;
        let _lock = target.lock()?;
        let digest = Digest::of(text.as_bytes());
        let on_disk = match read::whole(target.real(), cap_bytes) {
            Ok(bytes) => Some(bytes),
            Err(Fault::Missing { .. }) => None,
            // Grown beyond what is read: changed, but there is no text to hand back.
            Err(Fault::TooLarge { .. }) => return Err(self.changed(read, None, text)),
            Err(fault) => return Err(fault),
        };
        let there = on_disk.as_ref().map(|bytes| Digest::of(bytes));
        // A save whose confirmation was lost is asked for again: the text is there, and is put there once more so
        // that it is certain to be on the disk.
        if there == read || there == Some(digest) {
            target.put(text.as_bytes())?;
            return Ok(digest);
        }
        let on_disk = on_disk.and_then(|bytes| {
            let digest = Digest::of(&bytes);
            Some(Text {
                text: String::from_utf8(bytes).ok()?,
                digest,
            })
        });
        Err(self.changed(read, on_disk, text))
    }

    fn changed(&self, read: Option<Digest>, on_disk: Option<Text>, yours: &str) -> Fault {
        Fault::Changed(Box::new(Conflict {
            path: self.path.clone(),
            read,
            on_disk,
            yours: yours.to_owned(),
        }))
    }
}

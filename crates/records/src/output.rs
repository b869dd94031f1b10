//! Files that the program makes anew each time: pictures, tables, exports. What somebody else wrote is never replaced
//! by one.

use std::fs::{self, Metadata, OpenOptions};
use std::io::{ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use crate::save::{Beside, Target};
use crate::{Fault, read};

/// As much of a file as is looked at for our mark.
const LOOKED_AT: u64 = 64 * 1024;

/// As much of its end.
const END_LOOKED_AT: u64 = 1024 * 1024;

/// How a file says that this program wrote it.
#[derive(Clone, Debug)]
pub enum Mark {
    /// These words stand near its beginning, in a comment.
    Comment(&'static str),
    /// Its first line is exactly this: the header row of a table.
    FirstLine(String),
    /// No mark can be put into it: what is there is never replaced.
    None,
    /// What it says near its beginning can be nothing else.
    Says(fn(&[u8]) -> bool),
    /// What it says near its end can be nothing else: there a PDF has its properties.
    SaysAtItsEnd(fn(&[u8]) -> bool),
}

impl Mark {
    /// The first line of what is to be written.
    pub fn first_line_of(bytes: &[u8]) -> Self {
        Self::FirstLine(String::from_utf8_lossy(first_line(bytes)).into_owned())
    }
}

fn first_line(bytes: &[u8]) -> &[u8] {
    let line = bytes.split(|&byte| byte == b'\n').next().unwrap_or_default();
    line.strip_suffix(b"\r").unwrap_or(line)
}

/// A file to be written, and the mark by which an older one is known.
#[derive(Clone, Debug)]
pub struct Output {
    /// Where to. A link is followed; a pipe is written to.
    pub path: PathBuf,
    /// What to write.
    pub bytes: Vec<u8>,
    /// How it says that it is ours.
    pub mark: Mark,
}

/// Where an output goes.
enum WhereTo {
    New(Target),
    Ours(Target, Metadata),
    Stream { ends_in_a_file: bool },
}

/// Writes files: all are looked at before the first is written, so that a refusal leaves nothing behind.
///
/// A file is complete before it takes its place. An existing one is replaced only if it carries the mark; standard
/// output, pipes and terminals are written to. Never used for what people wrote: that goes through
/// [`TextFile`](crate::TextFile), which compares first.
///
/// # Errors
/// [`Fault::NotOurs`] where a file is there without the mark; the folder is missing, the disk full, the file read-only,
/// a folder or a disk.
pub fn write(outputs: &[Output]) -> Result<(), Fault> {
    let places = outputs
        .iter()
        .map(|output| place(&output.path, &output.mark))
        .collect::<Result<Vec<_>, _>>()?;
    outputs
        .iter()
        .zip(places)
        .try_for_each(|(output, place)| put(output, &place))
}

/// Looks whether [`write()`] would take that path now, before work that takes long is done for it.
///
/// # Errors
/// As [`write()`], as far as it shows before anything is written.
pub fn look_before_writing(path: &Path, mark: &Mark) -> Result<(), Fault> {
    place(path, mark).map(|_| ())
}

fn place(path: &Path, mark: &Mark) -> Result<WhereTo, Fault> {
    let there = match fs::metadata(path) {
        Ok(there) => there,
        Err(source) if source.kind() == ErrorKind::NotFound => return Target::of(path).map(WhereTo::New),
        Err(source) => return Err(Fault::io("write to", path, source)),
    };
    if is_stream(&there) {
        return Ok(WhereTo::Stream {
            ends_in_a_file: false,
        });
    }
    if !there.is_file() {
        return Err(Fault::NotAFile {
            path: path.to_owned(),
        });
    }
    // What a shell has opened for this process is written to, whatever file it leads to.
    if path.starts_with("/dev/fd") || path.starts_with("/proc") || path == Path::new("/dev/stderr") {
        return Ok(WhereTo::Stream { ends_in_a_file: true });
    }
    let target = Target::of(path)?;
    // A logbook is not even opened.
    let is_ours = !read::is_database(target.real()) && {
        let looked_at = match mark {
            Mark::SaysAtItsEnd(_) => read::end(path, END_LOOKED_AT)?,
            _ => read::beginning(path, LOOKED_AT)?,
        };
        carries(mark, &looked_at)
    };
    if !is_ours {
        return Err(Fault::NotOurs {
            path: path.to_owned(),
        });
    }
    Ok(WhereTo::Ours(target, there))
}

#[cfg(unix)]
fn is_stream(there: &Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt as _;
    there.file_type().is_fifo() || there.file_type().is_char_device()
}

#[cfg(not(unix))]
fn is_stream(_there: &Metadata) -> bool {
    false
}

fn carries(mark: &Mark, bytes: &[u8]) -> bool {
    match mark {
        Mark::Comment(words) => bytes
            .windows(words.len())
            .any(|window| window == words.as_bytes()),
        Mark::FirstLine(wanted) => first_line(bytes) == wanted.as_bytes(),
        Mark::None => false,
        Mark::Says(ours) | Mark::SaysAtItsEnd(ours) => ours(bytes),
    }
}

fn put(output: &Output, place: &WhereTo) -> Result<(), Fault> {
    match place {
        WhereTo::New(target) => {
            let mut beside = Beside::new(target, None)?;
            beside.write(&output.bytes)?;
            beside.become_new()
        }
        WhereTo::Ours(target, there) => {
            target.may_be_written()?;
            let mut beside = Beside::new(target, Some(there))?;
            beside.write(&output.bytes)?;
            beside.become_target(Some(there))
        }
        WhereTo::Stream { ends_in_a_file } => {
            let written = OpenOptions::new()
                .write(!ends_in_a_file)
                .append(*ends_in_a_file)
                .open(&output.path)
                .and_then(|mut stream| stream.write_all(&output.bytes));
            match written {
                // Whoever read has seen enough.
                Err(source) if source.kind() == ErrorKind::BrokenPipe => Ok(()),
                written => written.map_err(|source| Fault::io("write to", &output.path, source)),
            }
        }
    }
}

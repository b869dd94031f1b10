//! Replacing a file so that, whatever happens, one whole text is there: the old one or the new one.
//!
//! The new content is written beside the old under a name of its own, flushed to the disk, and put in the old one's
//! place by one rename; then the folder is flushed. A lock file beside it, hidden and empty, keeps two savers of this
//! program apart; it stays, for to remove it would let a third in.
//!
//! What is kept of the file that is replaced: its mode, and its owner where the system allows it. What is not: hard
//! links (another name of the file keeps the old content) and extended attributes.

use std::ffi::{OsStr, OsString};
use std::fs::{self, File, Metadata, OpenOptions, TryLockError};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;
use std::time::Duration;

use crate::{Digest, Fault, read};

/// How often, and at what distance, a lock is asked for: three seconds in all. A save takes milliseconds.
const TRIES: u32 = 150;
const PAUSE: Duration = Duration::from_millis(20);

/// Where a save goes: the file itself, links followed.
pub(crate) struct Target {
    real: PathBuf,
    folder: PathBuf,
    name: OsString,
}

impl Target {
    /// Follows links. The file need not be there, its folder must.
    pub(crate) fn of(path: &Path) -> Result<Self, Fault> {
        let not_a_file = || Fault::NotAFile {
            path: path.to_path_buf(),
        };
        let real = match fs::symlink_metadata(path) {
            Ok(_) => {
                let real = fs::canonicalize(path).map_err(|source| read::missing_or(path, source))?;
                if !fs::metadata(&real)
                    .map_err(|source| Fault::io("read", path, source))?
                    .is_file()
                {
                    return Err(not_a_file());
                }
                real
            }
            Err(source) if source.kind() == ErrorKind::NotFound => {
                let folder = match path.parent() {
                    Some(folder) if !folder.as_os_str().is_empty() => folder,
                    _ => Path::new("."),
                };
                let folder_real =
                    fs::canonicalize(folder).map_err(|source| read::missing_or(folder, source))?;
                folder_real.join(path.file_name().ok_or_else(not_a_file)?)
            }
            Err(source) => return Err(Fault::io("read", path, source)),
        };
        match (real.parent(), real.file_name()) {
            (Some(folder), Some(name)) => Ok(Self {
                folder: folder.to_path_buf(),
                name: name.to_owned(),
                real: real.clone(),
            }),
            _ => Err(not_a_file()),
        }
    }

    /// The file itself.
    pub(crate) fn real(&self) -> &Path {
        &self.real
    }

    /// The folder that the file itself is in.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Waits for the other savers of this file, and tidies away what a killed one left.
    pub(crate) fn lock(&self) -> Result<Lock, Fault> {
        let mut name = OsString::from(".");
        name.push(short(&self.name));
        name.push(".lock");
        let lock = Lock::take(&self.folder.join(name), &self.real)?;
        self.tidy();
        Ok(lock)
    }

    /// Removes the half-written files of killed saves. Only called with the lock held: none of them is in use. One
    /// that cannot be removed is left: it harms nothing.
    fn tidy(&self) {
        let begin = beginning(&self.name);
        let Ok(entries) = fs::read_dir(&self.folder) else {
            return;
        };
        for entry in entries.flatten() {
            let name = entry.file_name();
            let ours = name
                .as_encoded_bytes()
                .strip_prefix(begin.as_encoded_bytes())
                .is_some_and(is_numbered);
            if ours && entry.file_type().is_ok_and(|kind| kind.is_file()) {
                let _ = fs::remove_file(entry.path());
            }
        }
    }

    /// A name beside it that this process has not used before.
    pub(crate) fn beside_name(&self) -> PathBuf {
        static NEXT: AtomicU64 = AtomicU64::new(0);
        let mut name = beginning(&self.name);
        name.push(format!(
            "{}-{}.saving",
            std::process::id(),
            NEXT.fetch_add(1, Ordering::Relaxed)
        ));
        self.folder.join(name)
    }

    /// What is there now, looked at without opening it.
    pub(crate) fn there(&self) -> Result<Option<Metadata>, Fault> {
        match fs::metadata(&self.real) {
            Ok(there) => Ok(Some(there)),
            Err(source) if source.kind() == ErrorKind::NotFound => Ok(None),
            Err(source) => Err(Fault::io("read", &self.real, source)),
        }
    }

    /// Writes `bytes` in the place of what is there. Only called with the lock held.
    pub(crate) fn put(&self, bytes: &[u8]) -> Result<(), Fault> {
        let there = self.there()?;
        if there.is_some() {
            self.may_be_written()?;
        }
        let mut beside = Beside::new(self, there.as_ref())?;
        beside.write(bytes)?;
        beside.become_target(there.as_ref())
    }

    /// A file that was marked read-only is not replaced behind its owner's back, though the folder would allow it.
    pub(crate) fn may_be_written(&self) -> Result<(), Fault> {
        let refused = |source| Fault::io("write to", &self.real, source);
        let there = fs::metadata(&self.real).map_err(refused)?;
        if there.permissions().readonly() {
            return Err(refused(ErrorKind::PermissionDenied.into()));
        }
        OpenOptions::new().write(true).open(&self.real).map_err(refused)?;
        Ok(())
    }
}

/// A lock that is held until it is dropped, or until the process dies.
pub(crate) struct Lock {
    _file: File,
}

impl Lock {
    /// Takes the lock file at `path`; `of` is what it stands for, in messages.
    pub(crate) fn take(path: &Path, of: &Path) -> Result<Self, Fault> {
        let fault = |source| Fault::io("lock", of, source);
        // Looked at before it is opened: a pipe or a device in its place may not pass for a lock.
        if fs::metadata(path).is_ok_and(|there| !there.is_file()) {
            return Err(Fault::NotAFile {
                path: path.to_path_buf(),
            });
        }
        // For reading and writing: nor may a file on a system of files that is read-only.
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)
            .map_err(fault)?;
        for _ in 0..TRIES {
            match file.try_lock() {
                Ok(()) => return Ok(Self { _file: file }),
                Err(TryLockError::WouldBlock) => thread::sleep(PAUSE),
                Err(TryLockError::Error(source)) => return Err(fault(source)),
            }
        }
        Err(Fault::Busy {
            path: of.to_path_buf(),
        })
    }
}

/// A file beside the target that will take its place. Dropped before that, it is removed.
pub(crate) struct Beside<'t> {
    target: &'t Target,
    path: PathBuf,
    file: File,
    in_place: bool,
}

impl<'t> Beside<'t> {
    /// Makes an empty file that nobody else has. If it is to replace one, nobody else may read it until it has that
    /// one's mode.
    pub(crate) fn new(target: &'t Target, there: Option<&Metadata>) -> Result<Self, Fault> {
        let mut options = OpenOptions::new();
        options.read(true).write(true).create_new(true);
        if there.is_some() {
            keep_private(&mut options);
        }
        loop {
            let path = target.beside_name();
            match options.open(&path) {
                Ok(file) => {
                    return Ok(Self {
                        target,
                        path,
                        file,
                        in_place: false,
                    });
                }
                // Left by a process that had the same number, on a system that refused to tidy it.
                Err(source) if source.kind() == ErrorKind::AlreadyExists => {}
                Err(source) => return Err(Fault::io("save", &target.real, source)),
            }
        }
    }

    pub(crate) fn write(&mut self, bytes: &[u8]) -> Result<(), Fault> {
        self.file
            .write_all(bytes)
            .map_err(|source| Fault::io("save", &self.target.real, source))
    }

    /// Flushes it and puts it in the target's place, with the mode and the owner of what was there.
    pub(crate) fn become_target(mut self, there: Option<&Metadata>) -> Result<(), Fault> {
        let fault = |source| Fault::io("save", &self.target.real, source);
        if let Some(there) = there {
            keep_owner(&self.file, there);
            self.file.set_permissions(there.permissions()).map_err(fault)?;
        }
        self.file.sync_all().map_err(fault)?;
        fs::rename(&self.path, &self.target.real).map_err(fault)?;
        self.in_place = true;
        flush_folder(&self.target.folder).map_err(|source| Fault::NotConfirmed {
            path: self.target.real.clone(),
            source: source.into(),
        })
    }
}

impl Beside<'_> {
    /// Flushes it and puts it where nothing is. What has come there meanwhile stays.
    pub(crate) fn become_new(self) -> Result<(), Fault> {
        let target = self.target;
        self.become_new_at(target)
    }

    /// The same under another name in the same folder.
    pub(crate) fn become_new_at(self, target: &Target) -> Result<(), Fault> {
        let fault = |source| Fault::io("save", &target.real, source);
        self.file.sync_all().map_err(fault)?;
        match fs::hard_link(&self.path, &target.real) {
            // The hidden name goes when this is dropped.
            Ok(()) => flush_folder(&target.folder).map_err(fault),
            Err(source) if source.kind() == ErrorKind::AlreadyExists => Err(Fault::NotOurs {
                path: target.real.clone(),
            }),
            // Not every system of files has a second name for a file.
            Err(_) => {
                fs::rename(&self.path, &target.real).map_err(fault)?;
                let mut renamed = self;
                renamed.in_place = true;
                flush_folder(&target.folder).map_err(fault)
            }
        }
    }
}

impl Drop for Beside<'_> {
    fn drop(&mut self) {
        if !self.in_place {
            let _ = fs::remove_file(&self.path);
        }
    }
}

fn beginning(name: &OsStr) -> OsString {
    let mut begin = OsString::from(".");
    begin.push(short(name));
    begin.push(".");
    begin
}

/// Whether this is what [`Target::beside_name`] puts after the beginning: `PID-N.saving`, and what a database may add to it.
fn is_numbered(rest: &[u8]) -> bool {
    let rest = rest.strip_suffix(b"-journal").unwrap_or(rest);
    let Some(numbers) = rest.strip_suffix(b".saving") else {
        return false;
    };
    let mut parts = numbers.split(|&byte| byte == b'-');
    let digits =
        |part: Option<&[u8]>| part.is_some_and(|p| !p.is_empty() && p.iter().all(u8::is_ascii_digit));
    digits(parts.next()) && digits(parts.next()) && parts.next().is_none()
}

/// The name itself, or something as good that leaves room for what is put to it.
fn short(name: &OsStr) -> OsString {
    if name.len() <= 200 {
        return name.to_owned();
    }
    Digest::of(name.as_encoded_bytes()).to_string().into()
}

/// Moves a file into another folder of the same disk, under its stem or the first numbered one that is free: no file that is
/// there loses its place. Gives where it lies then.
pub(crate) fn set_aside(path: &Path, aside: &Path, stem: &str, ending: &str) -> Result<PathBuf, Fault> {
    for number in 1_u32.. {
        let name = match number {
            1 => format!("{stem}.{ending}"),
            number => format!("{stem}-{number}.{ending}"),
        };
        let to = aside.join(name);
        // A link takes the free name and never another file's place. Disks without links take a new name.
        let moved = match fs::hard_link(path, &to) {
            Err(source)
                if source.kind() != ErrorKind::AlreadyExists && fs::symlink_metadata(&to).is_err() =>
            {
                fs::rename(path, &to)
            }
            Ok(()) => fs::remove_file(path),
            Err(source) => Err(source),
        };
        match moved {
            Ok(()) => {
                for folder in path.parent().into_iter().chain([aside]) {
                    flush_folder(folder).map_err(|source| Fault::NotConfirmed {
                        path: to.clone(),
                        source: source.into(),
                    })?;
                }
                return Ok(to);
            }
            Err(source) if source.kind() == ErrorKind::AlreadyExists => {}
            Err(source) => return Err(Fault::io("move", path, source)),
        }
    }
    Err(Fault::AlreadyThere {
        path: aside.to_path_buf(),
    })
}

/// Makes what was renamed, made or removed in a folder outlive a power cut.
#[cfg(unix)]
pub(crate) fn flush_folder(folder: &Path) -> std::io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Elsewhere a folder cannot be opened for flushing; the system's own journal has to do.
#[cfg(not(unix))]
pub(crate) fn flush_folder(_folder: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Keeps the owner, so that a save by an administrator does not lock the owner out. Others may not give files away,
/// and do not need to.
#[cfg(unix)]
fn keep_owner(file: &File, there: &Metadata) {
    use std::os::unix::fs::{MetadataExt as _, fchown};
    if file
        .metadata()
        .is_ok_and(|new| (new.uid(), new.gid()) != (there.uid(), there.gid()))
    {
        let _ = fchown(file, Some(there.uid()), Some(there.gid()));
    }
}

#[cfg(unix)]
fn keep_private(options: &mut OpenOptions) {
    use std::os::unix::fs::OpenOptionsExt as _;
    options.mode(0o600);
}

#[cfg(not(unix))]
fn keep_private(_options: &mut OpenOptions) {}

#[cfg(not(unix))]
fn keep_owner(_file: &File, _there: &Metadata) {}

//! The power goes: what a process asked of the system is replayed up to any moment, and of what was not flushed by then
//! any sectors and any last changes of the folder are lost. Afterwards the sheet is one whole text, the old or the new,
//! and the logbook holds every entry that was acknowledged.
//!
//! The disk that is replayed keeps its word: what was flushed stays. A sector of 512 bytes is written whole or not at
//! all; changes of a folder (names that come, go or move) reach the disk in their order.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use records::logbook::{self, Data, Draft, EntryKind, Filter, Logbook, WAIT};

use crate::aid::{CAP, Dice, child, say, stamp};
use crate::child::tell;
use crate::saves::sheet_at;

const SECTOR: usize = 512;
/// Entries that are appended; the longest fill several pages.
const ENTRIES: u64 = 5;
/// Texts that the sheet is saved as, one after the other.
const TEXTS: u64 = 3;
/// Ways in which the power goes at each moment; more by `RECORDS_CUTS`.
const CUTS: u64 = 2;

fn text(n: u64) -> String {
    format!("text {n}\n").repeat(usize::try_from(300 + 100 * n).unwrap())
}

fn draft(n: u64) -> Draft {
    let said = format!(
        "entry {n} {}",
        "measured ".repeat(usize::try_from(n * n * 60).unwrap())
    );
    Draft {
        stamp: stamp(0, "power", &n.to_string()),
        kind: EntryKind::Note,
        data: Data::with_text(&said, None).unwrap(),
    }
}

/// The process whose calls are replayed: it saves and appends by turns, and says each that is done.
pub(crate) fn save_and_append(folder: &Path) {
    let sheet = sheet_at(&folder.join("car.toml"));
    let mut digest = sheet.read(CAP).unwrap().digest;
    let mut book = Logbook::open_or_create(&folder.join("logbook.db"), WAIT).unwrap();
    for n in 1..=ENTRIES.max(TEXTS) {
        if n <= ENTRIES {
            book.append(&draft(n)).unwrap();
            tell(&format!("appended {n}"));
        }
        if n <= TEXTS {
            digest = sheet.save(Some(digest), &text(n), CAP).unwrap();
            tell(&format!("saved {n}"));
        }
    }
}

/// What a process asked of the system, as far as it outlives the process.
enum Call {
    /// A file is opened under a number: made if it is not there, emptied if that was asked for.
    Open {
        name: String,
        number: u32,
        empty: bool,
    },
    /// Bytes at a place, or behind those before.
    Write {
        number: u32,
        at: Option<usize>,
        bytes: Vec<u8>,
    },
    Cut {
        number: u32,
        length: usize,
    },
    /// A file's bytes, or the folder itself.
    Flush {
        number: u32,
        folder: bool,
    },
    Rename {
        from: String,
        to: String,
    },
    Remove {
        name: String,
    },
    /// What was said to be done.
    Said(String),
}

/// `\x41` as strace writes it: every letter so.
fn unescaped(text: &str) -> Vec<u8> {
    text.split("\\x")
        .skip(1)
        .map(|pair| u8::from_str_radix(&pair[..2], 16).unwrap())
        .collect()
}

/// What stands between quotes, in order.
fn quoted(line: &str) -> Vec<Vec<u8>> {
    line.split('"').skip(1).step_by(2).map(unescaped).collect()
}

/// The calls that concern a folder, from a line of strace. It says `call(5<path>, …) = result`, letters as `\x41`.
fn call(line: &str, home: &Path) -> Option<Call> {
    let (_, line) = line
        .trim_start_matches(|letter: char| letter.is_ascii_digit())
        .split_once(' ')?;
    let (name, arguments) = line.trim_start().split_once('(')?;
    let (_, result) = line.rsplit_once(" = ")?;
    if result.starts_with('-') {
        return None;
    }
    let number_of = |text: &str| {
        text.split('<')
            .next()
            .and_then(|number| number.parse::<u32>().ok())
    };
    let path_of = |text: &str| {
        let inside = text.split_once('<')?.1.split_once('>')?.0;
        let path = unescaped(inside);
        Some(PathBuf::from(if path.is_empty() {
            inside.to_owned()
        } else {
            String::from_utf8(path).ok()?
        }))
    };
    let here = |path: &Path| {
        path.strip_prefix(home)
            .ok()
            .map(|name| name.to_str().unwrap().to_owned())
    };
    let named = |bytes: &Vec<u8>| here(&home.join(std::str::from_utf8(bytes).ok()?));
    let strings = quoted(arguments);
    let number = number_of(arguments);
    let ours = || path_of(arguments).and_then(|path| here(&path)).is_some();
    let last = || {
        arguments
            .rsplit_once(" = ")?
            .0
            .trim_end()
            .trim_end_matches(')')
            .rsplit(", ")
            .next()?
            .parse::<usize>()
            .ok()
    };
    match name {
        "openat" => Some(Call::Open {
            // The folder itself has no name in it.
            name: path_of(result)
                .and_then(|path| here(&path))
                .filter(|name| !name.is_empty())?,
            number: number_of(result)?,
            empty: arguments.contains("O_TRUNC"),
        }),
        "write" if number == Some(1) => {
            let said = String::from_utf8(strings.first()?.clone()).ok()?;
            Some(Call::Said(said.trim().to_owned()))
        }
        "write" | "pwrite64" if ours() => Some(Call::Write {
            number: number?,
            at: if name == "write" { None } else { last() },
            bytes: strings.first()?.clone(),
        }),
        "ftruncate" if ours() => Some(Call::Cut {
            number: number?,
            length: last()?,
        }),
        "fsync" | "fdatasync" if ours() => Some(Call::Flush {
            number: number?,
            folder: path_of(arguments)? == home,
        }),
        "rename" | "renameat" | "renameat2" => Some(Call::Rename {
            from: named(strings.first()?)?,
            to: named(strings.get(1)?)?,
        }),
        "unlink" | "unlinkat" => Some(Call::Remove {
            name: named(strings.first()?)?,
        }),
        "link" | "linkat" | "mkdir" | "mkdirat"
            if !strings.is_empty() && strings.iter().any(|path| named(path).is_some()) =>
        {
            panic!("a call that the replay does not know: {line}")
        }
        _ => None,
    }
}

/// A file: what is on the disk, and what is only on its way there.
#[derive(Clone, Default)]
struct File {
    flushed: Vec<u8>,
    on_its_way: Vec<Change>,
    /// What a process sees.
    seen: Vec<u8>,
}

#[derive(Clone)]
enum Change {
    Write(usize, Vec<u8>),
    Cut(usize),
}

impl Change {
    fn onto(&self, bytes: &mut Vec<u8>) {
        match self {
            Self::Write(at, new) => {
                bytes.resize(bytes.len().max(at + new.len()), 0);
                bytes[*at..at + new.len()].copy_from_slice(new);
            }
            Self::Cut(length) => bytes.resize(*length, 0),
        }
    }

    /// The change sector by sector.
    fn sectors(&self) -> Vec<Self> {
        let Self::Write(at, bytes) = self else {
            return vec![self.clone()];
        };
        let mut parts = Vec::new();
        let mut from = 0;
        while from < bytes.len() {
            let to = (from + SECTOR - (at + from) % SECTOR).min(bytes.len());
            parts.push(Self::Write(at + from, bytes[from..to].to_vec()));
            from = to;
        }
        parts
    }
}

impl File {
    fn change(&mut self, change: Change) {
        change.onto(&mut self.seen);
        self.on_its_way.push(change);
    }

    fn flush(&mut self) {
        self.flushed.clone_from(&self.seen);
        self.on_its_way.clear();
    }

    /// What is left of it without power: of what was on its way, a sector with a chance of one to `odds` is lost.
    fn left(&self, dice: &mut Dice, odds: u64) -> Vec<u8> {
        let mut bytes = self.flushed.clone();
        for change in self.on_its_way.iter().flat_map(Change::sectors) {
            if dice.roll(odds) > 0 {
                change.onto(&mut bytes);
            }
        }
        bytes
    }
}

type Names = BTreeMap<String, usize>;

/// A folder on a disk.
#[derive(Default)]
struct Disk {
    files: Vec<File>,
    open: BTreeMap<u32, (usize, usize)>,
    flushed: Names,
    /// The folder after each change that is not flushed yet.
    on_its_way: Vec<Names>,
}

impl Disk {
    fn holding(name: &str, bytes: &[u8]) -> Self {
        let file = File {
            flushed: bytes.to_vec(),
            seen: bytes.to_vec(),
            ..File::default()
        };
        Self {
            files: vec![file],
            flushed: BTreeMap::from([(name.to_owned(), 0)]),
            ..Self::default()
        }
    }

    fn seen(&self) -> Names {
        self.on_its_way.last().unwrap_or(&self.flushed).clone()
    }

    fn take(&mut self, call: &Call) {
        match call {
            Call::Open { name, number, empty } => {
                let mut names = self.seen();
                let file = match names.get(name) {
                    Some(file) => *file,
                    None => {
                        self.files.push(File::default());
                        names.insert(name.clone(), self.files.len() - 1);
                        self.on_its_way.push(names);
                        self.files.len() - 1
                    }
                };
                if *empty && !self.files[file].seen.is_empty() {
                    self.files[file].change(Change::Cut(0));
                }
                self.open.insert(*number, (file, 0));
            }
            Call::Write { number, at, bytes } => {
                let (file, place) = self.open.get_mut(number).expect("an open file");
                let from = at.unwrap_or(*place);
                if at.is_none() {
                    *place += bytes.len();
                }
                self.files[*file].change(Change::Write(from, bytes.clone()));
            }
            Call::Cut { number, length } => self.files[self.open[number].0].change(Change::Cut(*length)),
            Call::Flush { folder: true, .. } => {
                self.flushed = self.seen();
                self.on_its_way.clear();
            }
            Call::Flush { number, .. } => self.files[self.open[number].0].flush(),
            Call::Rename { from, to } => {
                let mut names = self.seen();
                let file = names.remove(from).expect("a file of that name");
                names.insert(to.clone(), file);
                self.on_its_way.push(names);
            }
            Call::Remove { name } => {
                let mut names = self.seen();
                names.remove(name);
                self.on_its_way.push(names);
            }
            Call::Said(_) => {}
        }
    }

    /// Lays out what is left without power.
    fn lay_out(&self, folder: &Path, dice: &mut Dice) {
        let changes = dice.roll(self.on_its_way.len() as u64 + 1);
        let names = match usize::try_from(changes).unwrap() {
            0 => &self.flushed,
            some => &self.on_its_way[some - 1],
        };
        // From nothing lost to all of it.
        let odds = [1, 2, 10, 1_000][usize::try_from(dice.roll(4)).unwrap()];
        for (name, file) in names {
            fs::write(folder.join(name), self.files[*file].left(dice, odds)).unwrap();
        }
    }
}

/// What is wrong with what is left: of the sheet, of the logbook.
fn wrong(folder: &Path, saved: u64, appended: u64) -> Vec<String> {
    let sheet = sheet_wrong(folder, saved);
    sheet.into_iter().chain(logbook_wrong(folder, appended)).collect()
}

fn sheet_wrong(folder: &Path, saved: u64) -> Option<String> {
    let sheet = fs::read_to_string(folder.join("car.toml")).unwrap_or_default();
    let saves = saved..=(saved + 1).min(TEXTS);
    let is_one = saves.clone().any(|n| sheet == text(n));
    (!is_one).then(|| format!("the sheet is none of {saves:?}, but {:?}…", sheet.get(..20)))
}

fn logbook_wrong(folder: &Path, appended: u64) -> Option<String> {
    let path = folder.join("logbook.db");
    let book = match Logbook::open_if_there(&path, WAIT) {
        Ok(Some(book)) => book,
        Ok(None) if appended == 0 => return None,
        Ok(None) => return Some("the logbook is not there".to_owned()),
        // A book that was only being made holds nothing yet.
        Err(_) if appended == 0 => return None,
        Err(fault) => return Some(format!("the logbook: {fault}")),
    };
    let entries = match book.list(&Filter::default()) {
        Ok(entries) => entries,
        Err(fault) => return Some(format!("the logbook: {fault}")),
    };
    let there = entries.len() as u64;
    if !(appended..=appended + 1).contains(&there) {
        return Some(format!("{appended} entries were acknowledged, {there} are there"));
    }
    let whole = (1..)
        .zip(&entries)
        .all(|(n, entry)| entry.data == draft(n).data && entry.device_entry == n.to_string());
    drop(book);
    let verdict = logbook::verify(&path, WAIT, None).unwrap();
    (!whole || !verdict.ok()).then(|| format!("an entry is not as it was: {:?}", verdict.flaws))
}

/// Cuts the power at each moment; what was wrong afterwards.
fn cut_at_each(calls: &[Call], cuts: u64) -> (u64, Vec<String>) {
    // Nothing here needs a real disk: what is flushed is decided above.
    let memory = Path::new("/dev/shm");
    let places = if memory.is_dir() {
        memory.to_owned()
    } else {
        std::env::temp_dir()
    };
    let mut disk = Disk::holding("car.toml", text(0).as_bytes());
    let (mut saved, mut appended, mut count) = (0, 0, 0);
    let mut found = Vec::new();
    let mut dice = Dice::new(11);
    for (at, call) in calls.iter().enumerate() {
        disk.take(call);
        if let Call::Said(said) = call {
            saved += u64::from(said.starts_with("saved"));
            appended += u64::from(said.starts_with("appended"));
        }
        for _ in 0..cuts {
            let folder = tempfile::tempdir_in(&places).unwrap();
            disk.lay_out(folder.path(), &mut dice);
            count += 1;
            let what = wrong(folder.path(), saved, appended).into_iter();
            found.extend(what.map(|what| format!("after call {at}: {what}")));
        }
    }
    assert_eq!((saved, appended), (TEXTS, ENTRIES));
    (count, found)
}

#[test]
fn the_power_may_go_at_any_moment() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().canonicalize().unwrap();
    fs::write(home.join("car.toml"), text(0)).unwrap();
    let trace = tempfile::NamedTempFile::new().unwrap();
    if Command::new("strace").arg("-V").output().is_err() {
        say(
            "SKIPPED, nothing shown: strace is not there to look at what a save and an entry ask of the system",
        );
        return;
    }
    let calls = "trace=/^(p?write.*|f(data)?sync|ftruncate|openat|unlink.*|rename.*|link.*|mkdir.*)$";
    let trace_at = trace.path().to_str().unwrap();
    let strace = [
        "strace", "-f", "-y", "-xx", "-s", "10000000", "-e", calls, "-o", trace_at, "--",
    ];
    let output = child(&strace, "save-and-append", &[home.to_str().unwrap()])
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let lines = fs::read_to_string(trace.path()).unwrap();
    assert!(!lines.contains("..., "), "strace cut a text short");
    let calls: Vec<Call> = lines.lines().filter_map(|line| call(line, &home)).collect();
    // The replay has to end where the process did.
    let mut disk = Disk::holding("car.toml", text(0).as_bytes());
    calls.iter().for_each(|call| disk.take(call));
    for (name, file) in disk.seen() {
        assert!(
            disk.files[file].seen == fs::read(home.join(&name)).unwrap(),
            "{name} is not what was replayed"
        );
    }

    let asked = std::env::var("RECORDS_CUTS")
        .ok()
        .and_then(|cuts| cuts.parse().ok());
    let (count, found) = cut_at_each(&calls, asked.unwrap_or(CUTS));
    assert!(
        found.is_empty(),
        "{} of {count}: {:#?}",
        found.len(),
        &found[..found.len().min(5)]
    );
    say(&format!(
        "power cut {count} times, at each of {} calls",
        calls.len()
    ));

    // The same without a single flush: the replay does lose what is not flushed.
    let careless: Vec<Call> = calls
        .into_iter()
        .filter(|call| !matches!(call, Call::Flush { .. }))
        .collect();
    let (_, found) = cut_at_each(&careless, 1);
    for of in ["the sheet", "the logbook is not there", "were acknowledged"] {
        assert!(found.iter().any(|what| what.contains(of)), "{of} is never lost");
    }
}

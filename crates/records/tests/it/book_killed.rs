//! An acknowledged entry is there, once, whatever happens to who wrote it.

use std::collections::{HashMap, HashSet};
use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use records::Digest;
use records::logbook::{self, Data, Draft, EntryKind, Filter, Logbook, WAIT};

use crate::aid::{Dice, child, say, stamp};
use crate::book::a_book;
use crate::child::tell;

const KILLS: u64 = 1_000;
/// How many of the kills must fall between the beginning of a change and its end.
const IN_A_CHANGE: u64 = 300;
/// Books that are written and killed at the same time.
const LANES: u64 = 4;

fn entry(who: &str, n: u64) -> Draft {
    // Long enough that an entry touches several pages now and then.
    let text = format!(
        "{who} {n} {}",
        "measured ".repeat(usize::try_from(n % 90).unwrap())
    );
    Draft {
        stamp: stamp(0, who, &n.to_string()),
        kind: EntryKind::Note,
        data: Data::with_text(&text, None).unwrap(),
    }
}

pub(crate) fn append_on_and_on(path: &Path, who: &str) {
    let mut book = Logbook::open_or_create(path, WAIT).unwrap();
    for n in 0.. {
        let written = book.append(&entry(who, n)).unwrap();
        assert!(written.fresh);
        tell(&format!("ack {} {n}", written.entry.id));
    }
}

pub(crate) fn append_many(path: &Path, who: &str) {
    let mut book = Logbook::open_or_create(path, Duration::from_secs(60)).unwrap();
    for n in 0..100 {
        book.append(&entry(who, n)).unwrap();
    }
}

pub(crate) fn append_once(path: &Path) {
    let mut book = Logbook::open_or_create(path, WAIT).unwrap();
    let written = book.append(&entry("once", 0)).unwrap();
    tell(&format!("ack {}", written.entry.id));
}

struct Lane {
    path: PathBuf,
    /// What was acknowledged: the writer, its number, and the entry's.
    acknowledged: HashMap<(String, String), i64>,
    in_a_change: u64,
}

impl Lane {
    /// Starts a writer, kills it at some moment, and notes what it acknowledged.
    fn kill_one(&mut self, who: &str, dice: &mut Dice) {
        let mut writer = child(&[], "append-on-and-on", &[self.path.to_str().unwrap(), who])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(writer.stdout.take().unwrap()).lines();
        let mut acknowledged = Vec::new();
        // Some are killed before they have written anything, or while they open the book.
        if dice.roll(10) > 0 {
            let first = lines
                .by_ref()
                .map(Result::unwrap)
                .find(|line| line.starts_with("ack "));
            acknowledged.push(first.expect("the writer ended by itself"));
            std::thread::sleep(Duration::from_micros(dice.roll(4_000)));
        } else {
            std::thread::sleep(Duration::from_micros(dice.roll(12_000)));
        }
        writer.kill().unwrap();
        writer.wait().unwrap();
        // The journal is there from the first change of a transaction until it is complete.
        let journal = self.path.with_file_name("logbook.db-journal");
        self.in_a_change += u64::from(fs::metadata(journal).is_ok_and(|journal| journal.len() > 0));
        acknowledged.extend(
            lines
                .map_while(Result::ok)
                .filter(|line| line.starts_with("ack ")),
        );
        for line in acknowledged {
            let words: Vec<_> = line.split(' ').collect();
            let before = self
                .acknowledged
                .insert((who.to_owned(), words[2].to_owned()), words[1].parse().unwrap());
            assert_eq!(before, None);
        }
    }

    fn check(&self) -> usize {
        let verdict = logbook::verify(&self.path, WAIT, None).unwrap();
        assert!(verdict.ok(), "{:?}", verdict.flaws);
        let book = Logbook::open_or_create(&self.path, WAIT).unwrap();
        let entries = book.list(&Filter::default()).unwrap();
        let mut there = HashMap::new();
        for entry in &entries {
            let twice = there.insert((entry.device.clone(), entry.device_entry.clone()), entry.id);
            assert_eq!(twice, None);
        }
        for (key, id) in &self.acknowledged {
            assert_eq!(there.get(key), Some(id), "{key:?} was acknowledged");
        }
        // What is there without an answer having come out is the last one of a writer, never more.
        let silent: Vec<_> = there
            .keys()
            .filter(|key| !self.acknowledged.contains_key(*key))
            .collect();
        let writers: HashSet<_> = silent.iter().map(|(device, _)| device).collect();
        assert_eq!(silent.len(), writers.len());
        entries.len()
    }
}

#[test]
fn what_was_acknowledged_outlives_a_thousand_kills() {
    let folder = tempfile::tempdir().unwrap();
    let lanes = std::thread::scope(|scope| {
        let lanes: Vec<_> = (0..LANES)
            .map(|lane| {
                let home = folder.path().join(lane.to_string());
                scope.spawn(move || {
                    fs::create_dir(&home).unwrap();
                    let path = home.join("logbook.db");
                    let mut this = Lane {
                        path,
                        acknowledged: HashMap::new(),
                        in_a_change: 0,
                    };
                    let mut dice = Dice::new(100 + lane);
                    for kill in 0..KILLS / LANES {
                        this.kill_one(&format!("w{lane}-{kill}"), &mut dice);
                        if kill % 50 == 0 {
                            this.check();
                        }
                    }
                    this
                })
            })
            .collect();
        lanes
            .into_iter()
            .map(|lane| lane.join().unwrap())
            .collect::<Vec<_>>()
    });
    let entries: usize = lanes.iter().map(Lane::check).sum();
    let acknowledged: usize = lanes.iter().map(|lane| lane.acknowledged.len()).sum();
    let in_a_change: u64 = lanes.iter().map(|lane| lane.in_a_change).sum();
    say(&format!(
        "killed while appending: {KILLS} times, {in_a_change} of them within a transaction; \
         {acknowledged} entries acknowledged, {entries} there"
    ));
    assert!(
        in_a_change >= IN_A_CHANGE,
        "too few kills fell within a transaction: {in_a_change}"
    );
}

#[test]
fn several_processes_append_at_once() {
    let (_folder, path, book) = a_book();
    drop(book);
    fs::remove_file(&path).unwrap(); // They also make the book at once.
    let writers: Vec<_> = ["a", "b", "c"]
        .iter()
        .map(|who| {
            child(&[], "append-many", &[path.to_str().unwrap(), who])
                .stdout(Stdio::null())
                .spawn()
                .unwrap()
        })
        .collect();
    for mut writer in writers {
        assert!(writer.wait().unwrap().success());
    }
    let verdict = logbook::verify(&path, WAIT, None).unwrap();
    assert!(verdict.ok(), "{:?}", verdict.flaws);
    assert_eq!(verdict.entries, 300);
    let entries = Logbook::open_or_create(&path, WAIT)
        .unwrap()
        .list(&Filter::default())
        .unwrap();
    for who in ["a", "b", "c"] {
        let of: Vec<_> = entries
            .iter()
            .filter(|e| e.device == who)
            .map(|e| e.device_entry.clone())
            .collect();
        assert_eq!(
            of,
            (0..100).map(|n| n.to_string()).collect::<Vec<_>>(),
            "in its own order"
        );
    }
}

/// Runs a child under `strace` and hands back what it asked of the system, in order, with the paths of open files.
fn asked(job: &str, arguments: &[&str]) -> Option<Vec<String>> {
    if Command::new("strace").arg("-V").output().is_err() {
        say("SKIPPED, nothing shown: strace is not there to look at what is flushed before the answer");
        return None;
    }
    let trace = tempfile::NamedTempFile::new().unwrap();
    let calls = "trace=/^(p?write.*|f(data)?sync|unlink.*|rename.*)$";
    let before = [
        "strace",
        "-f",
        "-y",
        "-s",
        "64",
        "-e",
        calls,
        "-o",
        trace.path().to_str().unwrap(),
        "--",
    ];
    let output = child(&before, job, arguments).output().unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    Some(
        fs::read_to_string(trace.path())
            .unwrap()
            .lines()
            .map(str::to_owned)
            .collect(),
    )
}

/// Finds calls in their order: each of `wanted` after the one before it. A call is a name and what it is about.
fn in_order(calls: &[String], wanted: &[(&str, String)]) {
    let mut rest = calls.iter();
    for (call, about) in wanted {
        assert!(
            rest.any(|line| line.contains(&format!(" {call}")) && line.contains(about.as_str())),
            "no {call} of {about} in its place:\n{}",
            calls.join("\n")
        );
    }
}

#[test]
fn an_entry_is_flushed_before_it_is_acknowledged() {
    let (folder, path, book) = a_book();
    drop(book);
    let Some(calls) = asked("append-once", &[path.to_str().unwrap()]) else {
        return;
    };
    let home = folder.path().canonicalize().unwrap();
    let file = |name: &str| format!("<{}>", home.join(name).display());
    let (journal, db, here) = (
        file("logbook.db-journal"),
        file("logbook.db"),
        format!("<{}>", home.display()),
    );
    in_order(
        &calls,
        &[
            ("pwrite64(", journal.clone()),
            ("f", format!("sync({}", "")),
            ("pwrite64(", db.clone()),
            ("unlink", "logbook.db-journal".to_owned()),
            ("f", here.clone()),
            ("write(1", "ack 1".to_owned()),
        ],
    );
    let place = |what: &dyn Fn(&&String) -> bool| calls.iter().position(|line| what(&line)).unwrap();
    let last = |what: &dyn Fn(&&String) -> bool| calls.iter().rposition(|line| what(&line)).unwrap();
    let sync = |line: &&String, of: &str| line.contains("sync(") && line.contains(of);
    let first_change = place(&|line| line.contains("pwrite64(") && line.contains(&db));
    let last_change = last(&|line| line.contains("pwrite64(") && line.contains(&db));
    let journal_gone = last(&|line| line.contains("unlink") && line.contains("logbook.db-journal"));
    let answer = place(&|line| line.contains("ack 1"));
    assert!(
        place(&|line| sync(line, &journal)) < first_change,
        "the journal is flushed before the file changes"
    );
    let flushed = last(&|line| sync(line, &db));
    assert!(
        last_change < flushed && flushed < journal_gone,
        "the file is flushed before the journal goes"
    );
    let folder_flushed = last(&|line| sync(line, &here));
    assert!(
        journal_gone < folder_flushed && folder_flushed < answer,
        "the folder is flushed before the answer"
    );
}

#[test]
fn a_text_is_flushed_before_it_takes_the_place_and_the_folder_before_the_answer() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.toml");
    fs::write(&path, "start").unwrap();
    let Some(calls) = asked("save-once", &[path.to_str().unwrap(), "mine"]) else {
        return;
    };
    assert_eq!(Digest::of(&fs::read(&path).unwrap()), Digest::of(b"mine"));
    let home = folder.path().canonicalize().unwrap();
    in_order(
        &calls,
        &[
            ("write(", "mine".to_owned()),
            ("fsync(", ".saving>".to_owned()),
            ("rename", "car.toml".to_owned()),
            ("fsync(", format!("<{}>", home.display())),
            ("write(1", "won".to_owned()),
        ],
    );
}

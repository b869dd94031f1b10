//! One book, several programs, several threads in each: some write, some read, some are killed.

use std::collections::HashMap;
use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::{Duration, Instant};

use records::Fault;
use records::logbook::{self, Data, Draft, EntryKind, Filter, Logbook, WAIT};

use crate::aid::{Dice, child, say, stamp};
use crate::child::tell;

/// How long they go on: a few seconds, or as `RECORDS_CROWD_SECONDS` says.
fn seconds() -> Duration {
    let asked = std::env::var("RECORDS_CROWD_SECONDS")
        .ok()
        .and_then(|seconds| seconds.parse().ok());
    Duration::from_secs(asked.unwrap_or(4))
}

/// What a program that serves does: threads that open the book for each entry that they write, and threads that open
/// it to read, without end.
pub(crate) fn write_and_read(path: &Path, who: &str) {
    thread::scope(|scope| {
        for reader in 0..2 {
            scope.spawn(move || {
                loop {
                    match Logbook::open_if_there(path, WAIT).and_then(|book| match book {
                        Some(book) => book.list(&Filter::default()).map(|_| ()),
                        None => Ok(()),
                    }) {
                        Ok(()) => {}
                        // Waited for five seconds: a crowd may come to that, and nothing is lost by it.
                        Err(Fault::Busy { .. }) => {}
                        Err(fault) => tell(&format!("bad reader {reader}: {fault}")),
                    }
                    thread::sleep(Duration::from_millis(3));
                }
            });
        }
        for writer in 0..2 {
            scope.spawn(move || {
                let device = format!("{who}.{writer}");
                for n in 0.. {
                    let draft = Draft {
                        stamp: stamp(0, &device, &n.to_string()),
                        kind: EntryKind::Note,
                        data: Data::with_text(&format!("{device} {n}"), None).unwrap(),
                    };
                    match Logbook::open_or_create(path, WAIT).and_then(|mut book| book.append(&draft)) {
                        Ok(written) => tell(&format!("ack {device} {n} {}", written.entry.id)),
                        Err(Fault::Busy { .. }) => {}
                        Err(fault) => tell(&format!("bad {device}: {fault}")),
                    }
                }
            });
        }
    });
}

/// Starts one, and hands on what it says.
fn start(path: &Path, who: &str, said: &mpsc::Sender<String>) -> (Child, thread::JoinHandle<()>) {
    let mut program = child(&[], "write-and-read", &[path.to_str().unwrap(), who])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let lines = BufReader::new(program.stdout.take().unwrap()).lines();
    let said = said.clone();
    let listener = thread::spawn(move || {
        for line in lines.map_while(Result::ok) {
            if line.starts_with("ack ") || line.starts_with("bad ") {
                said.send(line).unwrap();
            }
        }
    });
    (program, listener)
}

#[test]
fn nothing_is_lost_while_several_programs_write_and_read_and_are_killed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("logbook.db");
    let (sender, said) = mpsc::channel();
    let mut dice = Dice::new(7);
    let (mut kills, mut next) = (0, 0);
    let mut started = |sender: &mpsc::Sender<String>| {
        next += 1;
        start(&path, &format!("p{next}"), sender)
    };
    // Two stay, two are killed and started again.
    let mut stays = vec![started(&sender), started(&sender)];
    let until = Instant::now() + seconds();
    while Instant::now() < until {
        let (mut one, listener) = started(&sender);
        thread::sleep(Duration::from_millis(50 + dice.roll(200)));
        one.kill().unwrap();
        one.wait().unwrap();
        listener.join().unwrap();
        kills += 1;
    }
    for (program, _) in &mut stays {
        program.kill().unwrap();
        program.wait().unwrap();
    }
    for (_, listener) in stays {
        listener.join().unwrap();
    }
    drop(sender);
    let said: Vec<String> = said.iter().collect();
    let bad: Vec<&String> = said.iter().filter(|line| line.starts_with("bad ")).collect();
    assert!(bad.is_empty(), "{bad:?}");
    let verdict = logbook::verify(&path, WAIT, None).unwrap();
    assert!(verdict.ok(), "{:?}", verdict.flaws);
    let book = Logbook::open_if_there(&path, WAIT).unwrap().unwrap();
    let mut there = HashMap::new();
    for entry in book.list(&Filter::default()).unwrap() {
        let twice = there.insert(format!("{} {}", entry.device, entry.device_entry), entry.id);
        assert_eq!(twice, None, "written twice");
    }
    for line in &said {
        let words: Vec<&str> = line.split(' ').collect();
        let key = format!("{} {}", words[1], words[2]);
        assert_eq!(
            there.get(&key).map(i64::to_string).as_deref(),
            Some(words[3]),
            "{key}"
        );
    }
    say(&format!(
        "four writers and four readers in two programs, {kills} others killed: {} entries acknowledged, {} there",
        said.len(),
        there.len()
    ));
    assert!(said.len() > 20 && kills > 3, "{} {kills}", said.len());
    let left: Vec<_> = fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .filter(|name| name.to_string_lossy().ends_with(".saving"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

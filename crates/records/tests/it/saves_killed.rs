//! A process that is killed while it saves leaves one whole text.

use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

use crate::aid::{CAP, Dice, child, names_in, say};
use crate::child::tell;
use crate::saves::sheet_at;

const KILLS: u64 = 200;

/// The texts go round: the one after the last is the first again.
const TEXTS: u64 = 8;

/// Text number `n`: different from every other on every line, and of a length of its own.
fn text(n: u64) -> String {
    let mut text = format!("{n}\n");
    for line in 0..600 + 20 * n {
        text.push_str(&format!("line {line} of text {n}\n"));
    }
    text
}

/// The number of a whole text.
fn number(whole: &str) -> u64 {
    let n = whole
        .lines()
        .next()
        .and_then(|line| line.parse().ok())
        .expect("a text begins with its number");
    assert!(n < TEXTS && whole == text(n), "text {n} is torn");
    n
}

pub(crate) fn save_on_and_on(path: &Path) {
    let texts: Vec<String> = (0..TEXTS).map(text).collect();
    let sheet = sheet_at(path);
    let read = sheet.read(CAP).unwrap();
    let mut n = number(&read.text);
    let mut digest = read.digest;
    loop {
        n = (n + 1) % TEXTS;
        digest = sheet
            .save(Some(digest), &texts[usize::try_from(n).unwrap()], CAP)
            .unwrap();
        tell(&format!("saved {n}"));
    }
}

#[test]
fn a_killed_save_leaves_a_whole_text() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.toml");
    fs::write(&path, text(0)).unwrap();
    let mut dice = Dice::new(1);
    let mut half_written = 0;
    for _ in 0..KILLS {
        let mut saver = child(&[], "save-on-and-on", &[path.to_str().unwrap()])
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let lines = BufReader::new(saver.stdout.take().unwrap()).lines();
        let mut saved = lines
            .map_while(Result::ok)
            .filter_map(|line| line.strip_prefix("saved ").and_then(|n| n.parse().ok()));
        let first: u64 = saved.next().expect("the saver does not end by itself");
        std::thread::sleep(Duration::from_micros(dice.roll(6_000)));
        saver.kill().unwrap();
        saver.wait().unwrap();
        // The last text that was confirmed is there, or the one that was just being saved.
        let confirmed = saved.last().unwrap_or(first);
        let there = number(&fs::read_to_string(&path).expect("the sheet is there"));
        assert!(
            there == confirmed || there == (confirmed + 1) % TEXTS,
            "{confirmed} was confirmed, {there} is there"
        );
        half_written += u64::from(
            names_in(folder.path())
                .iter()
                .any(|name| name.ends_with(".saving")),
        );
    }
    say(&format!(
        "killed while saving: {KILLS} times, {half_written} of them with a half-written file left"
    ));
    assert!(half_written >= 20, "the kills missed the saves: {half_written}");
    let sheet = sheet_at(&path);
    let read = sheet.read(CAP).unwrap();
    sheet.save(Some(read.digest), "the last", CAP).unwrap();
    assert_eq!(names_in(folder.path()), [".car.toml.lock", "car.toml"]);
}

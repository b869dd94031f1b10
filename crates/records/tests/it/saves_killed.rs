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

/// Text number `n`: long enough that writing it takes a while, and different from every other on every line.
fn text(n: u64) -> String {
    let mut text = format!("{n}\n");
    for line in 0..4_000 {
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
    assert!(whole == text(n), "text {n} is torn");
    n
}

pub(crate) fn save_on_and_on(path: &Path) {
    let sheet = sheet_at(path);
    loop {
        let read = sheet.read(CAP).unwrap();
        let n = number(&read.text) + 1;
        sheet.save(Some(read.digest), &text(n), CAP).unwrap();
        tell(&format!("saved {n}"));
    }
}

#[test]
fn a_killed_save_leaves_a_whole_text() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.toml");
    fs::write(&path, text(0)).unwrap();
    let mut dice = Dice::new(1);
    let (mut half_written, mut confirmed) = (0, 0);
    for _ in 0..KILLS {
        let mut saver = child(&[], "save-on-and-on", &[path.to_str().unwrap()])
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(saver.stdout.take().unwrap()).lines();
        assert!(
            lines.by_ref().any(|line| line.unwrap().starts_with("saved ")),
            "the saver died by itself"
        );
        std::thread::sleep(Duration::from_micros(dice.roll(6_000)));
        saver.kill().unwrap();
        saver.wait().unwrap();
        // What was confirmed before the kill is there, or the one after it.
        let last = lines
            .map_while(Result::ok)
            .filter_map(|line| line.strip_prefix("saved ").and_then(|n| n.parse().ok()))
            .last()
            .unwrap_or(confirmed);
        confirmed = confirmed.max(last);
        let there = number(&fs::read_to_string(&path).expect("the sheet is there"));
        assert!(
            there == confirmed || there == confirmed + 1 || there == confirmed + 2,
            "{confirmed}, {there}"
        );
        confirmed = there;
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

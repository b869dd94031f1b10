use std::fs;
use std::path::{Path, PathBuf};

use crate::top;

/// What opens a file that is there already.
const OPENS: &[&str] = &[
    "File::open(",
    "File::create(",
    "File::options(",
    "OpenOptions::new(",
    "fs::read(",
    "fs::read_to_string(",
    "fs::write(",
    "fs::copy(",
    "fs::hard_link(",
];

/// Where files are opened, each of which says why the file cannot be a logbook: the name is looked at first, or it is
/// one of our own making.
const MAY_OPEN: &[&str] = &[
    "crates/records/src/output.rs", // what is no file: pipes and terminals
    "crates/records/src/read.rs",   // looks at the name
    "crates/records/src/save.rs",   // folders, locks, and files of names of its own
];

/// Where SQLite opens files.
const MAY_CONNECT: &[&str] = &[
    // Of a file of its own: what the list keeps of each car.
    "crates/records/src/answers.rs",
    "crates/records/src/logbook/file.rs",
    "crates/records/src/logbook/schema.rs",
];

/// Our sources without their tests, by their path in the workspace.
fn sources() -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut waiting: Vec<PathBuf> = fs::read_dir(top().join("crates"))
        .unwrap()
        .map(|entry| entry.unwrap().path().join("src"))
        .collect();
    while let Some(folder) = waiting.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                waiting.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                let code = text.split("#[cfg(test)]").next().unwrap().to_owned();
                found.push((below(&path), code));
            }
        }
    }
    found
}

fn below(path: &Path) -> String {
    let path = path.strip_prefix(top()).unwrap();
    path.to_string_lossy().replace('\\', "/")
}

/// Files with a line of code that holds one of the words.
fn holding(words: &[&str]) -> Vec<String> {
    let mut found: Vec<String> = sources()
        .into_iter()
        .filter(|(_, code)| {
            code.lines()
                .map(str::trim_start)
                .filter(|line| !line.starts_with("//"))
                .any(|line| words.iter().any(|word| line.contains(word)))
        })
        .map(|(path, _)| path)
        .collect();
    found.sort();
    found
}

/// On Unix, closing any handle of a file lets go of all locks that the process holds on it. A logbook that some other
/// code of the process opens and closes is written to by two programs at once, and lost.
#[test]
fn nothing_but_sqlite_opens_a_logbook() {
    assert_eq!(holding(OPENS), MAY_OPEN);
    assert_eq!(holding(&["Connection::open"]), MAY_CONNECT);
}

/// What is written into a logbook is read first, in one place.
#[test]
fn entries_are_written_in_one_place() {
    let outside = |path: &&String| !path.starts_with("crates/records/");
    let found = holding(&["Draft {", "logbook::Draft"]);
    let found: Vec<&String> = found.iter().filter(outside).collect();
    assert_eq!(found, ["crates/questions/src/writing.rs"]);
}

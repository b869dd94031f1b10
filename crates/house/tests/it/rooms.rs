use std::collections::BTreeSet;
use std::fs;

use crate::top;

/// Rooms that ARCHITECTURE.md lists: lines of its table, `| \`crates/engine\` | … |`.
fn listed() -> BTreeSet<String> {
    fs::read_to_string(top().join("ARCHITECTURE.md"))
        .unwrap()
        .lines()
        .filter_map(|line| line.strip_prefix("| `"))
        .filter_map(|line| line.split_once('`'))
        .map(|(room, _)| room.trim_end_matches('/').to_owned())
        .collect()
}

#[test]
fn every_listed_room_is_there() {
    let missing: Vec<String> = listed()
        .into_iter()
        .filter(|room| !top().join(room).exists())
        .collect();
    assert!(
        missing.is_empty(),
        "ARCHITECTURE.md lists rooms that are not there: {missing:?}"
    );
    assert!(listed().len() > 10, "the table of rooms was not found");
}

#[test]
fn every_crate_module_of_the_engine_and_question_is_listed() {
    let listed = listed();
    let mut there = BTreeSet::new();
    for entry in fs::read_dir(top().join("crates")).unwrap() {
        there.insert(format!("crates/{}", entry.unwrap().file_name().to_str().unwrap()));
    }
    for entry in fs::read_dir(top().join("crates/engine/src")).unwrap() {
        let name = entry.unwrap().file_name().to_str().unwrap().to_owned();
        if name != "lib.rs" {
            there.insert(format!("crates/engine/src/{name}"));
        }
    }
    for entry in fs::read_dir(top().join("crates/questions/src")).unwrap() {
        let entry = entry.unwrap();
        if entry.file_type().unwrap().is_dir() {
            there.insert(format!(
                "crates/questions/src/{}",
                entry.file_name().to_str().unwrap()
            ));
        }
    }
    let unlisted: Vec<&String> = there.iter().filter(|room| !listed.contains(*room)).collect();
    assert!(
        unlisted.is_empty(),
        "rooms that ARCHITECTURE.md does not list: {unlisted:?}"
    );
}

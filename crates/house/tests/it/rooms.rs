use std::collections::{BTreeMap, BTreeSet};
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

/// Modules that the table of inner rooms names: its lines `| \`crates/engine/src\` | \`car\` what it is; … |`, each name once.
fn named() -> BTreeMap<String, Vec<String>> {
    let text = fs::read_to_string(top().join("ARCHITECTURE.md")).unwrap();
    let table = text
        .split("## Inner rooms")
        .nth(1)
        .unwrap()
        .split("\n## ")
        .next()
        .unwrap();
    table
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split_once("` | "))
        .map(|(folder, cell)| {
            let names = cell
                .split([';', ','])
                .filter_map(|part| part.trim().strip_prefix('`')?.split_once('`'))
                .map(|(name, _)| name.to_owned());
            (folder.to_owned(), names.collect())
        })
        .collect()
}

/// The modules in a folder of sources.
fn there(folder: &str) -> BTreeSet<String> {
    fs::read_dir(top().join(folder))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned())
        .filter(|name| !["lib", "mod"].contains(&name.as_str()))
        .collect()
}

#[test]
fn every_room_is_listed_and_every_listed_one_is_there() {
    let (listed, named) = (listed(), named());
    let mut wrong = Vec::new();
    let crates = fs::read_dir(top().join("crates")).unwrap();
    let crates = crates.map(|entry| format!("crates/{}", entry.unwrap().file_name().to_str().unwrap()));
    let mut folders: BTreeSet<String> = crates.map(|name| format!("{name}/src")).collect();
    for folder in &folders {
        let room = folder.trim_end_matches("/src");
        if !listed.contains(room) {
            wrong.push(format!("{room} is not listed"));
        }
    }
    folders.extend(named.keys().cloned());
    for folder in folders {
        if !top().join(&folder).is_dir() {
            wrong.push(format!("{folder} is not there"));
            continue;
        }
        let names = named.get(&folder).cloned().unwrap_or_default();
        let unique: BTreeSet<&String> = names.iter().collect();
        if unique.len() != names.len() {
            wrong.push(format!("{folder}: a module stands twice"));
        }
        let there = there(&folder);
        for name in &there {
            let by_path = [format!("{folder}/{name}"), format!("{folder}/{name}.rs")];
            if !names.contains(name) && !by_path.iter().any(|path| listed.contains(path)) {
                wrong.push(format!("{folder}: `{name}` is not listed"));
            }
        }
        let gone = names.iter().filter(|name| !there.contains(*name));
        wrong.extend(gone.map(|name| format!("{folder}: `{name}` is not there")));
    }
    assert!(
        wrong.is_empty(),
        "ARCHITECTURE.md and the house differ:\n{}",
        wrong.join("\n")
    );
}

//! One meaning a name: no two crates give a public type the same one.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crate::top;

/// Names that several crates give, with why.
const SHARED: [(&str, &str); 1] = [(
    "Fault",
    "one idea: what went wrong in a crate, in its own words; said as `records::Fault`, so that no crate stutters",
)];

/// The names of public types in the files below a folder.
fn names(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let file = entry.unwrap().path();
        if file.is_dir() {
            names(&file, found);
        } else if file.extension().is_some_and(|ending| ending == "rs") {
            let text = fs::read_to_string(&file).unwrap();
            for line in text.lines() {
                let public = line.trim_start().strip_prefix("pub ");
                let kinds = ["struct ", "enum ", "trait ", "type "];
                let named = public.and_then(|rest| kinds.iter().find_map(|kind| rest.strip_prefix(kind)));
                let name = named.and_then(|rest| rest.split(|c: char| !c.is_alphanumeric()).next());
                found.extend(name.map(str::to_owned));
            }
        }
    }
}

#[test]
fn no_two_crates_name_a_public_type_alike() {
    let mut given: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for entry in fs::read_dir(top().join("crates")).unwrap() {
        let folder = entry.unwrap().path();
        let mut found = BTreeSet::new();
        names(&folder.join("src"), &mut found);
        for name in found {
            let room = folder.file_name().unwrap().to_string_lossy().into_owned();
            given.entry(name).or_default().push(room);
        }
    }
    assert!(given.len() > 200, "only {} names were found", given.len());
    given.retain(|name, rooms| rooms.len() > 1 && !SHARED.iter().any(|(shared, _)| shared == name));
    assert!(given.is_empty(), "{given:?}");
}

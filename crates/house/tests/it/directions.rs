use std::collections::{BTreeMap, BTreeSet};

use crate::metadata;

/// From the bottom up: a room may import rooms above it in this list, never below.
const FLOORS: &[&str] = &[
    "quantity",
    "nearest",
    "engine",
    "wording",
    "plumbing",
    "proving",
    "symptoms",
    "assess",
    "sheet",
    "logger",
    "records",
    "charts",
    "questions",
    "manuscript",
    "book",
    "page",
    "rearline",
    // A program of its own: whoever imported it would build its typesetter.
    "press",
];

/// What each of our crates depends on, directly and outside tests.
fn direct() -> BTreeMap<String, BTreeSet<String>> {
    metadata()
        .workspace_packages()
        .into_iter()
        .map(|package| {
            let names = package
                .dependencies
                .iter()
                .filter(|dependency| dependency.kind == cargo_metadata::DependencyKind::Normal)
                .map(|dependency| dependency.name.clone())
                .collect();
            (package.name.to_string(), names)
        })
        .collect()
}

/// Everything that a crate needs to be built, outside tests.
fn behind(name: &str) -> BTreeSet<String> {
    let metadata = metadata();
    let resolve = metadata.resolve.as_ref().unwrap();
    let id_of = |name: &str| {
        metadata
            .packages
            .iter()
            .find(|package| package.name.as_str() == name)
            .unwrap()
            .id
            .clone()
    };
    let mut waiting = vec![id_of(name)];
    let mut seen = BTreeSet::new();
    while let Some(id) = waiting.pop() {
        if !seen.insert(id.clone()) {
            continue;
        }
        let node = resolve.nodes.iter().find(|node| node.id == id).unwrap();
        for dependency in &node.deps {
            let normal = dependency
                .dep_kinds
                .iter()
                .any(|kind| kind.kind == cargo_metadata::DependencyKind::Normal);
            if normal {
                waiting.push(dependency.pkg.clone());
            }
        }
    }
    seen.into_iter()
        .map(|id| {
            metadata
                .packages
                .iter()
                .find(|package| package.id == id)
                .unwrap()
                .name
                .to_string()
        })
        .collect()
}

#[test]
fn every_crate_has_its_floor() {
    let unknown: Vec<String> = metadata()
        .workspace_packages()
        .into_iter()
        .filter(|package| {
            let tests_alone = ["house", "engine-tests"].contains(&package.name.as_str());
            package.manifest_path.as_str().contains("/crates/") && !tests_alone
        })
        .map(|package| package.name.to_string())
        .filter(|name| !FLOORS.contains(&name.as_str()))
        .collect();
    assert!(
        unknown.is_empty(),
        "crates that no floor is known of: {unknown:?}"
    );
}

#[test]
fn imports_only_point_down() {
    let floor = |name: &str| FLOORS.iter().position(|floor| *floor == name);
    let mut wrong = Vec::new();
    for (name, dependencies) in direct() {
        let Some(here) = floor(&name) else { continue };
        wrong.extend(
            dependencies
                .iter()
                .filter(|other| floor(other).is_some_and(|there| there >= here))
                .map(|other| format!("{name} imports {other}")),
        );
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
fn the_page_does_not_know_the_book_and_records_know_no_physics() {
    let direct = direct();
    if let Some(page) = direct.get("page") {
        assert!(
            !page.contains("book"),
            "the binary hands the page a function instead"
        );
    }
    if let Some(records) = direct.get("records") {
        assert!(!records.contains("engine") && !records.contains("sheet"));
    }
}

/// Crates that open files, sockets, databases or terminals, or that read a clock by themselves.
const OUTSIDE: &[&str] = &[
    "axum",
    "clap",
    "ctrlc",
    "hyper",
    "indicatif",
    "mio",
    "reqwest",
    "rusqlite",
    "socket2",
    "tempfile",
    "time",
    "tokio",
    "toml",
    "tracing-subscriber",
];

#[test]
fn the_engine_reaches_nothing_outside() {
    let found = behind("engine");
    let reached: Vec<&&str> = OUTSIDE.iter().filter(|name| found.contains(**name)).collect();
    assert!(reached.is_empty(), "the engine depends on {reached:?}");
}

#[test]
fn the_check_above_would_see_them() {
    // Its positive twin: the same look at a crate that does reach outside, and at one that the engine does need.
    assert!(behind("rearline").contains("clap"));
    assert!(behind("sheet").contains("toml"));
    assert!(behind("engine").contains("quantity"));
}

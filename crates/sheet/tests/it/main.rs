//! Tests of the readers of what a person writes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "helpers of tests fail by panicking"
)]

mod bounds;
mod corpus;
mod edits;
mod faults;
mod formats;
mod made;
mod overrides;
mod reads;
mod stages;
mod twins;
mod well_behaved;

/// A car with every part at once, all in order.
const FULL: &str = include_str!("../fixtures/full.toml");

/// Writes a line in the place of one that the full sheet has. Fails if there is no such line, or more than one.
fn with_line(old: &str, new: &str) -> String {
    let changed: Vec<&str> = FULL.lines().filter(|line| line.trim_end() == old).collect();
    assert_eq!(changed.len(), 1, "lines `{old}` in the full sheet");
    let lines: Vec<&str> = FULL
        .lines()
        .map(|line| if line.trim_end() == old { new } else { line })
        .collect();
    lines.join("\n") + "\n"
}

/// What a person is told of a sheet.
fn told(sheet: &str) -> String {
    match sheet::read(sheet.as_bytes(), "car.toml").assemble() {
        Ok(_) => "nothing".to_owned(),
        Err(problems) => steady(&problems.to_string()),
    }
}

/// What is told without the ranges and examples that the table of keys may change.
fn steady(told: &str) -> String {
    let line = |line: &str| match (line.find("Usual: "), line.find("write it like ")) {
        (Some(at), _) => line[..at].trim_end().to_owned(),
        (None, Some(_)) => line.split('=').next().unwrap_or(line).to_owned() + "= …",
        (None, None) => line.to_owned(),
    };
    told.lines().map(line).collect::<Vec<_>>().join("\n")
}

/// A path of each key that may be overridden, entries numbered.
fn overrides_pool() -> Vec<String> {
    engine::car::KeyId::all()
        .map(|id| id.key().path.replace("[]", "[1]"))
        .filter(|path| path != "format")
        .collect()
}

/// 64 cases a property, or as many as `PROPTEST_CASES` says.
fn cases() -> proptest::test_runner::Config {
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok())
        .unwrap_or(64);
    proptest::test_runner::Config {
        cases,
        failure_persistence: None,
        ..proptest::test_runner::Config::default()
    }
}

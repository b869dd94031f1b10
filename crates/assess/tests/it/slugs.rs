//! No finding without a test of its own.

use std::fs;
use std::path::{Path, PathBuf};

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

fn text(folder: &str, but: &str) -> String {
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
        .iter()
        .filter(|path| !path.ends_with(but))
        .map(|path| fs::read_to_string(path).unwrap())
        .collect()
}

/// Words in quotes that look like a slug: small letters with a hyphen between, or the first word of a finding.
fn slugs(source: &str) -> Vec<&str> {
    source
        .split('"')
        .skip(1)
        .step_by(2)
        .filter(|word| word.contains('-') && !word.starts_with('-') && !word.ends_with('-'))
        .filter(|word| word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'))
        .collect()
}

#[test]
fn every_finding_is_tested_on_a_car_that_has_it_and_one_that_has_not() {
    let tests = text("tests/it", "slugs.rs");
    let source = text("src", "cautions.rs");
    // Without what the sources' own tests and comments hold.
    let plain: String = source
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .map(|line| format!("{line}\n"))
        .collect();
    let found: std::collections::BTreeSet<&str> = slugs(&plain).into_iter().collect();
    assert!(found.len() > 70, "{found:?}");
    let untested: Vec<&&str> = found
        .iter()
        .filter(|slug| !tests.contains(&format!("\"{slug}\"")))
        .collect();
    assert!(untested.is_empty(), "{untested:?}");
}

//! A library without tests of its own is not built a second time for none, and one without examples is not read for any;
//! those that have some are.

use std::fs;
use std::path::Path;

use crate::{metadata, top};

/// Every source below a folder.
fn sources(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(fs::read_to_string(&path).unwrap());
        }
    }
    found
}

#[test]
fn only_what_has_tests_is_built_for_them() {
    let top = top();
    let mut seen = 0;
    for package in metadata().workspace_packages() {
        for target in &package.targets {
            let folder = target.src_path.parent().unwrap();
            if !(target.is_lib() || target.is_bin()) || !folder.starts_with(&top) {
                continue;
            }
            let sources = sources(folder.as_std_path());
            let lines = || sources.iter().flat_map(|text| text.lines()).map(str::trim);
            let tests = lines().any(|line| line == "#[cfg(test)]");
            let examples = lines().any(|line| {
                line.strip_prefix("///")
                    .or_else(|| line.strip_prefix("//!"))
                    .is_some_and(|doc| doc.trim().starts_with("```"))
            });
            assert_eq!(
                target.test, tests,
                "{} ({}): `test` in Cargo.toml says otherwise than its sources",
                package.name, target.name
            );
            if target.is_lib() {
                assert_eq!(
                    target.doctest, examples,
                    "{}: `doctest` in Cargo.toml says otherwise than its sources",
                    package.name
                );
            }
            seen += 1;
        }
    }
    assert!(seen > 15, "{seen}");
}

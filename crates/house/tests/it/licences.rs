use crate::metadata;

/// Licences under which something may be linked into the binary.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "CDLA-Permissive-2.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Whether an expression such as `(MIT OR Apache-2.0) AND Unicode-3.0` can be met with the allowed licences.
fn can_be_met(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    // Any part joined by AND has to be met by one of its alternatives.
    plain.split(" AND ").all(|part| {
        part.split(" OR ")
            .any(|licence| ALLOWED.contains(&licence.trim()))
    })
}

#[test]
fn every_dependency_may_be_shipped() {
    let wrong: Vec<String> = metadata()
        .packages
        .iter()
        .filter(|package| package.source.is_some())
        .filter(|package| !package.license.as_deref().is_some_and(can_be_met))
        .map(|package| format!("{} {}: {:?}", package.name, package.version, package.license))
        .collect();
    assert!(
        wrong.is_empty(),
        "licences that are not on the list:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn the_check_can_fail() {
    assert!(can_be_met("MIT OR GPL-3.0"));
    assert!(can_be_met("(MIT OR Apache-2.0) AND Unicode-3.0"));
    assert!(!can_be_met("GPL-3.0-only"));
    assert!(!can_be_met("MIT AND GPL-3.0-only"));
}

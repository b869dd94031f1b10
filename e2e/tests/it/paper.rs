//! What stands on paper.

use std::process::Command;

/// The text of a PDF, blanks made one.
pub(crate) fn text(pdf: &[u8]) -> String {
    pages(pdf).join(" ")
}

/// The text of each of its pages.
pub(crate) fn pages(pdf: &[u8]) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("page.pdf");
    std::fs::write(&file, pdf).unwrap();
    let output = Command::new("pdftotext")
        .args(["-raw", "-enc", "UTF-8"])
        .arg(&file)
        .arg("-")
        .output()
        .unwrap_or_else(|fault| panic!("pdftotext cannot be started ({fault}): run e2e/needs first"));
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    // Each page ends with a form feed.
    let pages = text.trim_end_matches('\u{c}').split('\u{c}');
    pages.map(crate::workshop::one_blank).collect()
}

//! What `check-sheet` says of a sheet with which nothing is wrong, and of one in an older format.

use engine::car::Assembled;
use questions::Sheet;
use sheet::Upgrade;

use super::ink;
use super::leaned;
use super::page::Page;

/// That nothing is wrong, and what is unusual.
pub(crate) fn page(sheet: &Sheet, assembled: &Assembled) -> String {
    let mut page = Page::default();
    let path = sheet.path();
    page.paragraph(
        ink::heavy,
        &format!("{}: nothing is wrong with {path}", assembled.car.name),
    );
    let located = sheet.read.located(&assembled.warnings);
    if !located.is_empty() {
        page.heading("Unusual, or without effect");
    }
    for one in &located {
        page.item(&format!(
            "line {}, {}: {}",
            one.line, one.warning.path, one.warning.text
        ));
    }
    leaned::defaults(&mut page, assembled, usize::MAX);
    page.into_text()
}

/// What has to change in a sheet of an older format.
pub(crate) fn upgrade(path: &str, upgrade: &Upgrade) -> String {
    let diff = upgrade.diff(path);
    if diff.is_empty() {
        return format!(
            "{path} is in the newest format ({}): there is nothing to rewrite.\n",
            sheet::FORMAT
        );
    }
    diff
}

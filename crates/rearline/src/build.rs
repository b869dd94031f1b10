//! From what this program was built, as `--version` says it.

use std::sync::LazyLock;

use crate::press;

/// The commit of its sources. Only a release is told it: of a working folder nobody knows whether it holds changes.
const COMMIT: Option<&str> = option_env!("REARLINE_COMMIT");

static SHORT: LazyLock<String> = LazyLock::new(|| {
    let version = env!("CARGO_PKG_VERSION");
    match commit() {
        Some(commit) => format!("{version} (commit {commit})"),
        None => format!("{version} (not a release)"),
    }
});

static LONG: LazyLock<String> = LazyLock::new(|| {
    let book = if press::is_there() { "yes" } else { "no" };
    let oldest = sheet::MIGRATIONS
        .first()
        .map_or(sheet::FORMAT, |first| first.from);
    format!(
        "{}\nsheets: formats {oldest} to {}\nlogbooks: formats 1 to {}\nprints the build book: {book}\nbuilt for: {} {}",
        short(),
        sheet::FORMAT,
        records::logbook::newest_format(),
        std::env::consts::OS,
        std::env::consts::ARCH,
    )
});

fn commit() -> Option<&'static str> {
    COMMIT.filter(|commit| !commit.is_empty())
}

/// On one line: version and commit.
pub(crate) fn short() -> &'static str {
    &SHORT
}

/// With the formats that it reads.
pub(crate) fn long() -> &'static str {
    &LONG
}

//! What is wrong, and what was found fine, as other programs read it.

use questions::{Sheet, Trouble, Wrong};
use schemars::JsonSchema;
use serde::Serialize;

use super::{CONTRACT, OrWhy};
use questions::result::{WarningView, warnings};

/// What is printed where something that was put in is wrong (exit status 2), or a file would not do (3).
#[derive(Serialize, JsonSchema)]
pub(crate) struct ErrorsView {
    /// Rises when a key changes its meaning.
    contract: u32,
    /// In the order in which they stand; at least one.
    errors: Vec<ErrorView>,
    /// How many more there are.
    more: usize,
}

#[derive(Serialize, JsonSchema)]
struct ErrorView {
    /// File, option, or `command line`.
    file: String,
    /// Counted from 1.
    line: OrWhy<usize>,
    /// In characters, counted from 1.
    column: OrWhy<usize>,
    /// Key of the sheet.
    key: Option<String>,
    /// Which fault it is, in a word that never changes.
    slug: String,
    /// What is wrong.
    text: String,
    /// What to do.
    #[serde(rename = "do")]
    remedy: String,
}

impl ErrorsView {
    pub(crate) fn of(wrong: &Wrong) -> Self {
        Self {
            contract: CONTRACT,
            errors: wrong.troubles.iter().map(error).collect(),
            more: wrong.more,
        }
    }
}

fn error(trouble: &Trouble) -> ErrorView {
    let whole = "it concerns the whole";
    ErrorView {
        file: trouble.file.clone(),
        line: OrWhy::or(trouble.place.map(|(line, _)| line), whole),
        column: OrWhy::or(trouble.place.map(|(_, column)| column), whole),
        key: trouble.key.clone(),
        slug: trouble.slug.clone(),
        text: trouble.text.clone(),
        remedy: trouble.remedy.clone(),
    }
}

/// A sheet without errors.
#[derive(Serialize, JsonSchema)]
pub(crate) struct FineView {
    /// Rises when a key changes its meaning.
    contract: u32,
    /// Version of the program.
    rearline: &'static str,
    /// What was asked.
    verb: &'static str,
    /// Name of the car's folder, or of the sheet's file.
    car: String,
    /// Fingerprint of the sheet's bytes, in hexadecimal.
    sheet_sha256: String,
    /// True: a sheet with errors is answered by those.
    ok: bool,
    /// What is unusual, or has no effect.
    warnings: Vec<WarningView>,
}

impl FineView {
    pub(crate) fn of(verb: &'static str, sheet: &Sheet, assembled: &engine::car::Assembled) -> Self {
        Self {
            contract: CONTRACT,
            rearline: env!("CARGO_PKG_VERSION"),
            verb,
            car: sheet.name().to_owned(),
            sheet_sha256: sheet.digest.to_string(),
            ok: true,
            warnings: warnings(assembled),
        }
    }
}

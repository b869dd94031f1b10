//! The stage that is asked about: one that comes with the program, one of the car's own, or a file.

use std::path::Path;

use engine::heat::Stage;
use records::{Fault, Shelf, TextFile};

use crate::opened::Opened;
use crate::options::STAGE;
use crate::question::Case;
use crate::trouble::{Stop, Wrong, of_records};
use nearest::nearest_one;

/// What is driven where nothing is said.
pub(crate) const USUAL: &str = "twisty gravel";

/// Names of the car's own stages.
#[must_use]
pub fn own_stages(opened: &Opened) -> Vec<String> {
    let listed = opened.sheet.folder.shelf(Shelf::Stages);
    let names = listed.map(|listing| listing.found).unwrap_or_default();
    names
        .into_iter()
        .map(|name| name.strip_suffix(".toml").map(str::to_owned).unwrap_or(name))
        .collect()
}

/// The stage as it was said.
pub fn stage(case: &Case<'_>) -> Result<Stage, Wrong> {
    let said = case.said.text(&STAGE).unwrap_or(USUAL).trim();
    if let Some(stage) = sheet::built_in_stage(said) {
        return Ok(stage);
    }
    let file = if is_a_path(said) {
        TextFile::at(Path::new(said).to_path_buf())
    } else {
        let folder = &case.opened.sheet.folder;
        folder
            .stage(said)
            .map_err(|fault| not_there(case, said, &fault))?
    };
    let most = u64::try_from(sheet::MAX_BYTES)
        .unwrap_or(u64::MAX)
        .saturating_add(1);
    let bytes = file
        .beginning(most)
        .map_err(|fault| not_there(case, said, &fault))?;
    sheet::stage(&bytes, &file.path().display().to_string()).map_err(Wrong::from)
}

fn is_a_path(said: &str) -> bool {
    let small = said.to_lowercase();
    said.contains(['/', '\\']) || small.ends_with(".toml") || small.ends_with(".csv")
}

fn not_there(case: &Case<'_>, said: &str, fault: &Fault) -> Wrong {
    let own = own_stages(case.opened);
    let built_in = sheet::BUILT_IN_STAGES.iter().map(|(name, _)| *name);
    let all: Vec<&str> = built_in.chain(own.iter().map(String::as_str)).collect();
    let missing = matches!(fault, Fault::Missing { .. } | Fault::Name { .. });
    let (what, remedy) = if missing {
        let near = nearest_one(said, all.iter().copied());
        (
            format!("there is no stage `{said}`"),
            near.map_or_else(
                || format!("there are: {}; or name a file", all.join(", ")),
                |near| format!("did you mean \"{near}\"?"),
            ),
        )
    } else {
        match of_records(said, fault, None) {
            Stop::Wrong(wrong) => return wrong,
            _ => (
                fault.to_string(),
                "look whether this is the right file".to_owned(),
            ),
        }
    };
    Wrong::option(
        &STAGE.dashed(),
        said,
        0..said.len(),
        "unknown-stage",
        what,
        remedy,
    )
}

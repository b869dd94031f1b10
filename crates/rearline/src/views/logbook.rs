//! What `logbook` prints, as other programs read it.

use records::logbook::{Entry, Verified};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use super::OrWhy;
use crate::ending::Stop;

/// The verb.
const NAME: &str = "logbook";

/// Entries, in the order in which they were written.
#[derive(Serialize, JsonSchema)]
pub(crate) struct EntriesView {
    contract: u32,
    verb: &'static str,
    /// Each with `id`, `at` (UTC), `zone`, `kind`, `data`, `struck_by`, `hash`.
    entries: Vec<Value>,
}

/// An entry as it is printed once it is on the disk.
pub(crate) fn entry_json(entry: &Entry) -> Result<Value, Stop> {
    serde_json::to_value(entry).map_err(|error| Stop::Output(error.into()))
}

impl EntriesView {
    /// Of entries.
    pub(crate) fn of(entries: &[Entry]) -> Result<Self, Stop> {
        let entries = entries.iter().map(entry_json).collect::<Result<_, _>>()?;
        Ok(Self {
            contract: super::CONTRACT,
            verb: NAME,
            entries,
        })
    }
}

/// Whether a logbook is whole.
#[derive(Serialize, JsonSchema)]
pub(crate) struct VerdictView {
    contract: u32,
    verb: &'static str,
    ok: bool,
    /// How many entries could be read.
    entries: i64,
    /// Hash of the newest entry: note it somewhere else to find a tail that was cut off.
    head: OrWhy<String>,
    /// First entry that is wrong or missing.
    first_bad: OrWhy<i64>,
    /// What is wrong, in words.
    flaws: Vec<String>,
}

impl VerdictView {
    /// Of a verdict.
    pub(crate) fn of(verdict: &Verified) -> Self {
        Self {
            contract: super::CONTRACT,
            verb: NAME,
            ok: verdict.ok(),
            entries: verdict.entries,
            head: OrWhy::or(verdict.head.map(|head| head.to_string()), "there is no entry"),
            first_bad: OrWhy::or(
                verdict.first_bad,
                if verdict.ok() {
                    "none is"
                } else {
                    "it is not about an entry"
                },
            ),
            flaws: verdict.flaws.iter().map(ToString::to_string).collect(),
        }
    }
}

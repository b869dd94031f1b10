//! Proposals, as other programs read them.

use questions::proposals::ProposedKey;
use schemars::JsonSchema;
use serde::Serialize;

use super::CONTRACT;

/// What became of them, and what each says.
#[derive(Serialize, JsonSchema)]
pub(crate) struct ProposalsView {
    contract: u32,
    /// What was done, in a sentence.
    said: String,
    proposals: Vec<ProposalView>,
}

#[derive(Serialize, JsonSchema)]
struct ProposalView {
    name: String,
    /// Why, in a person's words; null where it does not fit the car.
    note: Option<String>,
    changes: Vec<ProposedChangeView>,
}

#[derive(Serialize, JsonSchema)]
struct ProposedChangeView {
    key: String,
    /// As the sheet writes it; null where it says nothing.
    was: Option<String>,
    now: String,
    /// Whether the sheet says it already.
    on_the_sheet: bool,
}

impl ProposalsView {
    /// Of what was done, and names with notes and keys.
    pub(crate) fn of(said: &str, all: &[(&str, Option<&str>, &[ProposedKey])]) -> Self {
        let change = |change: &ProposedKey| ProposedChangeView {
            key: change.key.clone(),
            was: change.was.clone(),
            now: change.now.clone(),
            on_the_sheet: change.stands,
        };
        let proposals = all.iter().map(|(name, note, changed)| ProposalView {
            name: (*name).to_owned(),
            note: note.map(str::to_owned),
            changes: changed.iter().map(change).collect(),
        });
        Self {
            contract: CONTRACT,
            said: said.to_owned(),
            proposals: proposals.collect(),
        }
    }
}

//! Both, as other programs read them.

use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use super::outcome::{OneOfBoth, Outcome};

/// One question of both.
#[derive(Serialize, JsonSchema)]
pub(super) struct CompareView {
    /// What was asked of both.
    question: &'static str,
    /// As it is, or the car that was named first.
    first: OneOfBothView,
    /// As proposed, or the other car; null where nothing is proposed.
    second: Option<OneOfBothView>,
    /// Keys of the first car's sheet that are other.
    changed: Vec<ProposedKeyView>,
    /// Names of the proposals that are kept beside the car.
    kept: Vec<String>,
}

#[derive(Serialize, JsonSchema)]
struct OneOfBothView {
    /// `as it is`, `as proposed`, or a car's name.
    label: String,
    /// At most four words.
    stamp: String,
    /// Why.
    because: String,
    /// What stops the car before any of it counts.
    stops_first: Vec<String>,
    /// The whole result of the question; null where this car cannot be asked.
    result: Value,
}

#[derive(Serialize, JsonSchema)]
struct ProposedKeyView {
    key: String,
    /// As the sheet writes it; null where it says nothing.
    was: Option<String>,
    now: String,
}

impl CompareView {
    /// Of what came out.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let side = |side: &OneOfBoth| OneOfBothView {
            label: side.label.clone(),
            stamp: side.headline.stamp.clone(),
            because: side.headline.because.clone(),
            stops_first: side.headline.stops_first.clone(),
            result: side.result.clone(),
        };
        Self {
            question: outcome.question.name(),
            first: side(&outcome.first),
            second: outcome.second.as_ref().map(side),
            changed: outcome
                .changed
                .iter()
                .map(|change| ProposedKeyView {
                    key: change.key.clone(),
                    was: change.was.clone(),
                    now: change.now.clone(),
                })
                .collect(),
            kept: outcome.kept.clone(),
        }
    }
}

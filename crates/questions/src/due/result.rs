//! What falls due, as other programs read it.

use schemars::JsonSchema;
use serde::Serialize;

/// What falls due.
#[derive(Serialize, JsonSchema)]
pub(super) struct DueView {
    /// Most urgent first.
    due: Vec<OneDueView>,
}

#[derive(Serialize, JsonSchema)]
struct OneDueView {
    slug: &'static str,
    /// `now`, `soon`, `not known`.
    urgency: &'static str,
    what: String,
    why: String,
    #[serde(rename = "do")]
    remedy: &'static str,
}

impl DueView {
    /// Of what falls due.
    pub(super) fn of(due: &[proving::due::Due]) -> Self {
        Self {
            due: due
                .iter()
                .map(|due| OneDueView {
                    slug: due.slug,
                    urgency: due.urgency.word(),
                    what: due.what.clone(),
                    why: due.why.clone(),
                    remedy: due.remedy,
                })
                .collect(),
        }
    }
}

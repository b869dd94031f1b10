//! What `leak` answers, as other programs read it.

use schemars::JsonSchema;
use serde::Serialize;
use symptoms::{How, Sign, Suspect};

use super::Outcome;
use crate::result::{Num, OrWhy};

/// Where it may leak.
#[derive(Serialize, JsonSchema)]
pub(super) struct LeakView {
    /// `lever-loses`, `pedal-sinks` or `wet-rear-left`.
    sign: String,
    /// The likeliest first.
    suspects: Vec<SuspectView>,
    /// Cuts that were made, in order.
    made: Vec<CutView>,
    /// The next cut.
    next: OrWhy<NextView>,
    /// Cuts at most from here.
    steps_at_most: usize,
}

#[derive(Serialize, JsonSchema)]
struct SuspectView {
    what: String,
    /// Name of the joint.
    joint: OrWhy<String>,
    /// Among those that are left.
    weight: Num,
}

#[derive(Serialize, JsonSchema)]
struct CutView {
    run: String,
    /// `clamp` or `plug`.
    how: &'static str,
    still: bool,
}

#[derive(Serialize, JsonSchema)]
struct NextView {
    run: String,
    /// `clamp` or `plug`.
    how: &'static str,
    /// What is left if it still loses.
    still: Vec<String>,
    /// What is left if it holds now.
    holds: Vec<String>,
}

const fn how(how: How) -> &'static str {
    match how {
        How::Clamp => "clamp",
        How::Plug => "plug",
    }
}

impl LeakView {
    pub(super) fn of(outcome: &Outcome) -> Self {
        let found = &outcome.found;
        let names = |suspects: &[Suspect]| suspects.iter().map(|one| one.what.clone()).collect();
        Self {
            sign: match outcome.sign {
                Sign::LeverLoses => "lever-loses".to_owned(),
                Sign::PedalSinks => "pedal-sinks".to_owned(),
                Sign::Wet(wheel) => format!("wet-{}", wheel.name().replace('_', "-")),
            },
            suspects: found
                .suspects
                .iter()
                .map(|one| SuspectView {
                    what: one.what.clone(),
                    joint: OrWhy::or(one.joint.clone(), "a seal is no joint"),
                    weight: one.weight.into(),
                })
                .collect(),
            made: found
                .made
                .iter()
                .map(|made| CutView {
                    run: made.run.clone(),
                    how: how(made.how),
                    still: made.still,
                })
                .collect(),
            next: OrWhy::or(
                found.next.as_ref().map(|step| NextView {
                    run: step.run.clone(),
                    how: how(step.how),
                    still: names(&step.still),
                    holds: names(&step.holds),
                }),
                "no cut parts what is left",
            ),
            steps_at_most: found.steps_at_most,
        }
    }
}

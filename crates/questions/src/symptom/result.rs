//! What `symptom` answers, as other programs read it.

use schemars::JsonSchema;
use serde::Serialize;
use wording::Units;

use super::{Outcome, report};
use crate::result::{Num, OrWhy};

/// What is wrong.
#[derive(Serialize, JsonSchema)]
pub(super) struct SymptomView {
    /// The symptom that was understood.
    symptom: OrWhy<String>,
    /// Why the car is not to be driven.
    stop: OrWhy<String>,
    /// The likeliest first.
    causes: Vec<CauseView>,
    /// The test that splits the first two.
    test: OrWhy<TestView>,
    /// What tests said so far, those of the logbook first.
    done: Vec<DoneView>,
}

#[derive(Serialize, JsonSchema)]
struct DoneView {
    slug: &'static str,
    yes: bool,
}

#[derive(Serialize, JsonSchema)]
struct CauseView {
    slug: &'static str,
    cause: &'static str,
    /// Among those listed.
    weight: Num,
    in_this_car: String,
    source: &'static str,
    #[serde(rename = "do")]
    remedy: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct TestView {
    slug: &'static str,
    #[serde(rename = "do")]
    todo: &'static str,
    tells: String,
    minutes: u32,
}

impl SymptomView {
    pub(super) fn of(outcome: &Outcome, units: &Units) -> Self {
        let verdict = match outcome {
            Outcome::Found(known) => Some(&known.verdict),
            Outcome::Silent | Outcome::Unknown(_) => None,
        };
        Self {
            symptom: OrWhy::or(
                verdict.map(|verdict| verdict.symptom.slug().to_owned()),
                match outcome {
                    Outcome::Unknown(said) => format!("no symptom is known by `{said}`"),
                    _ => "nothing was said".to_owned(),
                },
            ),
            stop: OrWhy::or(
                verdict
                    .and_then(|verdict| verdict.symptom.stop())
                    .map(|stop| stop.because.to_owned()),
                "nothing says that it must not be driven",
            ),
            causes: verdict.map_or_else(Vec::new, |verdict| {
                verdict
                    .causes
                    .iter()
                    .map(|ranked| CauseView {
                        slug: ranked.cause.slug(),
                        cause: ranked.cause.said(),
                        weight: ranked.weight.into(),
                        in_this_car: report::in_this_car(&ranked.here, units),
                        source: ranked.cause.source().said(),
                        remedy: ranked.cause.remedy(),
                    })
                    .collect()
            }),
            test: OrWhy::or(
                verdict.and_then(|verdict| {
                    let test = verdict.test?;
                    Some(TestView {
                        slug: test.slug(),
                        todo: test.todo(),
                        tells: report::tells(test, verdict),
                        minutes: test.minutes(),
                    })
                }),
                "no short test splits the first two",
            ),
            done: verdict.map_or_else(Vec::new, |verdict| {
                let done = verdict.done.iter();
                done.map(|(test, answer)| DoneView {
                    slug: test.slug(),
                    yes: *answer == symptoms::TrialResult::Yes,
                })
                .collect()
            }),
        }
    }
}

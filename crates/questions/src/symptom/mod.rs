//! "What is wrong?": from what the driver says to ranked causes in this car's figures, and the short test that splits the
//! first two.

mod report;
mod result;

use engine::car::Date;
use proving::Fact;
use serde_json::Value;
use symptoms::{Diagnosis, Symptom as Says, Trial, TrialResult, matched, what_is_wrong};

use crate::answered::{Answered, Tells};
use crate::opened::Opened;
use crate::options::{FOUND, FUEL, GRIP, NO_CREW, NOTHING_SAID, ON, Row, SAYS, SURFACE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "symptom";

static TAKES: &[&Row] = &[&SAYS, &FOUND, &SURFACE, &GRIP, &FUEL, &NO_CREW, &WITH, &ON];

/// What came out: no sentence; one that nothing is known of; a verdict.
#[derive(Debug)]
enum Outcome {
    Silent,
    Unknown(String),
    Found(Box<Known>),
}

/// A verdict, the tests of it that the logbook knows, and what else the sentence may mean.
#[derive(Debug)]
struct Known {
    verdict: Diagnosis,
    written: Vec<Tried>,
    others: Vec<Says>,
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What is wrong?"
    }

    fn help(&self) -> Help {
        Help {
            about: "From what the driver says to the test that tells",
            more: "Causes ranked by how often the trade finds them and by what each would do to this car; the one test of \
                   five minutes that splits the first two; and a stop where the car is not to be driven.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        vec![&SAYS]
    }

    fn without_the_car_from_above(&self) -> bool {
        true
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, _case: &Case<'_>) -> String {
        "\u{2013}".to_owned()
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |case, outcome| result::SymptomView::of(outcome, &case.units),
            picture: |case, _, look| crate::picture::circuit(case.opened, look),
        };
        Ok(Answered::new(&Ask, case, outcome(case)?, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::SymptomView>>(NAME)
    }
}

fn outcome(case: &Case<'_>) -> Result<Outcome, Wrong> {
    let mut done = Vec::new();
    for text in case.said.every(&FOUND) {
        done.push(found(text)?);
    }
    let said = case.said.text(&SAYS).unwrap_or("").trim();
    if said.is_empty() || said == NOTHING_SAID {
        return Ok(Outcome::Silent);
    }
    let matches = matched(said);
    let Some(first) = matches.first() else {
        return Ok(Outcome::Unknown(said.chars().take(60).collect()));
    };
    // What is said now goes before what was written down.
    let written: Vec<Tried> = tried(case.opened, first.symptom)
        .into_iter()
        .filter(|tried| !done.iter().any(|(trial, _)| *trial == tried.trial))
        .collect();
    let before = written.iter().map(|tried| (tried.trial, tried.answer));
    let done: Vec<(Trial, TrialResult)> = before.chain(done).collect();
    let (car, state) = (case.opened.car(), &case.opened.state);
    let verdict = what_is_wrong(first.symptom, car, &state.laden, state.surface.peak, &done);
    let others = matches
        .iter()
        .skip(1)
        .take(2)
        .map(|matched| matched.symptom)
        .collect();
    Ok(Outcome::Found(Box::new(Known {
        verdict,
        written,
        others,
    })))
}

/// A test whose answer is in the logbook.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tried {
    trial: Trial,
    answer: TrialResult,
    on: Date,
}

/// What the logbook says of a symptom's tests since it was last put right: the newest answer of each.
fn tried(opened: &Opened, symptom: Says) -> Vec<Tried> {
    let mut all: Vec<Tried> = Vec::new();
    for noted in &opened.history().noted {
        match &noted.fact {
            Fact::PutRight { symptom: of } if of == symptom.slug() => all.clear(),
            Fact::Tried {
                symptom: of,
                test,
                yes,
            } if of == symptom.slug() => {
                let Some(trial) = Trial::ALL.into_iter().find(|trial| trial.slug() == test) else {
                    continue;
                };
                all.retain(|tried| tried.trial != trial);
                all.push(Tried {
                    trial,
                    answer: if *yes { TrialResult::Yes } else { TrialResult::No },
                    on: noted.day,
                });
            }
            _ => {}
        }
    }
    all
}

/// What goes into the logbook of a sentence and what tests said of it, as `two-pulls=yes`; `right`: it is put right.
///
/// # Errors
/// A sentence that no symptom is known by; a test that is none; nothing to write.
pub fn facts<'a>(says: &str, found: impl Iterator<Item = &'a str>, right: bool) -> Result<Vec<Fact>, Wrong> {
    let Some(symptom) = matched(says).first().map(|matched| matched.symptom) else {
        let what = format!("no symptom is known by `{}`", says.trim());
        let remedy = "without a sentence `symptom` lists what drivers say".to_owned();
        return Err(Wrong::plain("SENTENCE", "no-such-symptom", what, remedy));
    };
    let symptom = symptom.slug().to_owned();
    let mut facts = Vec::new();
    for text in found {
        let (trial, answer) = self::found(text)?;
        facts.push(Fact::Tried {
            symptom: symptom.clone(),
            test: trial.slug().to_owned(),
            yes: answer == TrialResult::Yes,
        });
    }
    if right {
        facts.push(Fact::PutRight { symptom });
    }
    if facts.is_empty() {
        let what = "there is nothing to write down".to_owned();
        let remedy = "say what a test came to: --found TEST=yes, or --right".to_owned();
        return Err(Wrong::plain("--write-down", "nothing-found", what, remedy));
    }
    Ok(facts)
}

/// Slugs of what drivers say, and of the tests.
pub(crate) fn slugs() -> (Vec<&'static str>, Vec<&'static str>) {
    (
        Says::ALL.iter().map(|says| says.slug()).collect(),
        Trial::ALL.iter().map(|trial| trial.slug()).collect(),
    )
}

/// `two-pulls=yes`
fn found(text: &str) -> Result<(Trial, TrialResult), Wrong> {
    let wrong = |what: String, remedy: String| {
        Wrong::option("--found", text, 0..text.len(), "no-such-test", what, remedy)
    };
    let (name, answer) = text.split_once('=').unwrap_or((text, ""));
    let names: Vec<&str> = Trial::ALL.iter().map(|trial| trial.slug()).collect();
    let trial = Trial::ALL
        .into_iter()
        .find(|trial| trial.slug() == name.trim())
        .ok_or_else(|| {
            wrong(
                format!("`{}` is no test", name.trim()),
                format!("there are: {}", names.join(", ")),
            )
        })?;
    match answer.trim() {
        "yes" => Ok((trial, TrialResult::Yes)),
        "no" => Ok((trial, TrialResult::No)),
        _ => Err(wrong(
            format!("`{text}` does not say yes or no"),
            format!("write {}=yes or {}=no", trial.slug(), trial.slug()),
        )),
    }
}

//! "What is wrong?": from what the driver says to ranked causes in this car's figures, and the short test that splits the
//! first two.

mod report;
mod result;

use serde_json::Value;
use symptoms::{Outcome as Answers, Symptom as Says, Trial, Verdict, matched, what_is_wrong};

use crate::answered::{Answered, Tells};
use crate::options::{FOUND, FUEL, GRIP, NO_CREW, ON, Row, SAYS, SURFACE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Symptom;

const NAME: &str = "symptom";

/// What the choice on a page shows while nothing is said.
pub(crate) const NOTHING_SAID: &str = "nothing yet";

static TAKES: &[&Row] = &[&SAYS, &FOUND, &SURFACE, &GRIP, &FUEL, &NO_CREW, &WITH, &ON];

/// What came out: no sentence; one that nothing is known of; a verdict, and what else the sentence may mean.
#[derive(Debug)]
enum Outcome {
    Silent,
    Unknown(String),
    Found(Box<Verdict>, Vec<Says>),
}

impl Question for Symptom {
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

    fn short(&self, _case: &Case<'_>) -> String {
        "\u{2013}".to_owned()
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |case, outcome| result::SymptomView::of(outcome, &case.units),
            picture: |case, _, look| crate::picture::circuit(case.opened, look),
        };
        Ok(Answered::of(&Symptom, case, outcome(case)?, tells))
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
    let (car, state) = (case.opened.car(), &case.opened.state);
    let verdict = what_is_wrong(first.symptom, car, &state.laden, state.surface.peak, &done);
    let others = matches
        .iter()
        .skip(1)
        .take(2)
        .map(|matched| matched.symptom)
        .collect();
    Ok(Outcome::Found(Box::new(verdict), others))
}

/// `two-pulls=yes`
fn found(text: &str) -> Result<(Trial, Answers), Wrong> {
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
        "yes" => Ok((trial, Answers::Yes)),
        "no" => Ok((trial, Answers::No)),
        _ => Err(wrong(
            format!("`{text}` does not say yes or no"),
            format!("write {}=yes or {}=no", trial.slug(), trial.slug()),
        )),
    }
}

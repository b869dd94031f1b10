//! "Where is the leak?": what can explain a lever that loses, a pedal that sinks or one wet wheel, and the shortest round of
//! clamps and plugs that finds it.

mod report;
mod result;

use ::proving::{Standing, prove};
use charts::Look;
use engine::car::Wheel;
use plumbing::Plumbing;
use serde_json::Value;
use symptoms::{Leak as Found, Sign, leak};

use crate::answered::{Answered, Tells};
use crate::options::{NO_CREW, ON, Row, SIGN, STILL, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "leak";

static TAKES: &[&Row] = &[&SIGN, &STILL, &ON, &WITH, &NO_CREW];

/// What came out.
#[derive(Debug)]
pub(crate) struct Outcome {
    sign: Sign,
    /// What was said of the cuts, as far as it is of this round.
    still: Vec<bool>,
    found: Found,
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "Where is the leak?"
    }

    fn help(&self) -> Help {
        Help {
            about: "From a lever that loses or a wet wheel to the joint",
            more: "Every joint and seal that can explain it, those that were opened and not found dry since first; and a round \
                   of clamps and plugs, each of which halves what is left.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        vec![&SIGN]
    }

    fn without_the_car_from_above(&self) -> bool {
        true
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        let proof = proof(case);
        let wet = proof
            .joints
            .iter()
            .filter(|joint| joint.state == Standing::Weep)
            .count();
        match wet {
            0 => "\u{2013}".to_owned(),
            1 => "1 joint weeps".to_owned(),
            more => format!("{more} joints weep"),
        }
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let outcome = outcome(case)?;
        Ok(Answered::new(
            &Self,
            case,
            outcome,
            Tells {
                report: report::of,
                result: |_, outcome| result::LeakView::of(outcome),
                picture: |case, _, look: &Look<'_>| crate::picture::circuit(case.opened, look),
            },
        ))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::LeakView>>(NAME)
    }
}

fn proof(case: &Case<'_>) -> ::proving::Proof {
    let car = case.opened.car();
    prove(car, &Plumbing::of(car), &case.opened.history().noted)
}

fn outcome(case: &Case<'_>) -> Result<Outcome, Wrong> {
    let sign = sign(case.said.text(&SIGN).unwrap_or_default())?;
    let still = answers(case.said.text(&STILL).unwrap_or_default())?;
    let proof = proof(case);
    let disturbed = |id: &str| {
        proof
            .joints
            .iter()
            .any(|joint| joint.id == id && joint.state != Standing::Dry)
    };
    // Where nothing was ever found dry, every joint is alike.
    let any_dry = proof.joints.iter().any(|joint| joint.state == Standing::Dry);
    let found = leak(case.opened.car(), sign, &|id| any_dry && disturbed(id), &still);
    Ok(Outcome {
        sign,
        still: still.into_iter().take(found.made.len()).collect(),
        found,
    })
}

/// A sign in the words of the handle; nothing said: the lever loses.
fn sign(said: &str) -> Result<Sign, Wrong> {
    let plain = said.trim().to_lowercase();
    let wet = Wheel::ALL
        .into_iter()
        .find(|wheel| plain.replace('_', " ").trim_end_matches(" wet") == wheel.name().replace('_', " "));
    match plain.as_str() {
        "" | "lever loses" => Ok(Sign::LeverLoses),
        "pedal sinks" => Ok(Sign::PedalSinks),
        _ => wet.map(Sign::Wet).ok_or_else(|| {
            let what = format!("`{}` is no sign of a leak", said.trim());
            let remedy = "lever loses, pedal sinks, or a wheel that is wet, such as rear left".to_owned();
            Wrong::option("--sign", said, 0..said.len(), "no-such-sign", what, remedy)
        }),
    }
}

/// Yes and no, in order.
fn answers(said: &str) -> Result<Vec<bool>, Wrong> {
    if said.trim().is_empty() {
        return Ok(Vec::new());
    }
    said.split(',')
        .map(|one| match one.trim() {
            "yes" => Ok(true),
            "no" => Ok(false),
            other => {
                let what = format!("`{other}` is neither yes nor no");
                let remedy = "write yes or no for each cut of the round, with commas between".to_owned();
                Err(Wrong::option(
                    "--still",
                    said,
                    0..said.len(),
                    "not-yes-or-no",
                    what,
                    remedy,
                ))
            }
        })
        .collect()
}

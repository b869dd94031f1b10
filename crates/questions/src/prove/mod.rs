//! "Is it dry?": bleeding, the round of joints, the checks, the signature.

mod blank;
mod outcome;
mod report;
mod result;

use serde_json::Value;

pub use blank::report as blank;
pub use outcome::Outcome;
pub use report::{
    BLEEDING, CHECKS, CheckWords, JointWords, NEXT_OF_A_JOINT, ROUND, SIGNATURE, check, joint, of as report,
    on,
};

use crate::answered::{Answered, Tells};
use crate::options::{BLANK, COLD, FUEL, GRIP, NO_CREW, ON, Row, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "prove";

static TAKES: &[&Row] = &[
    &BLANK, &VALVE, &WITH, &SURFACE, &GRIP, &FUEL, &NO_CREW, &COLD, &ON,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "Is it dry?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Dry, firm, written down",
            more: "The order of bleeding and the fluid for it; what one person can hold alone; every joint with its state, from \
                   untried over marked to dry, and what reopens it; the checks; what is still open before it may be signed. \
                   What is found is written into the car's logbook.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    /// Nothing of it moves with the state of the car.
    fn handles(&self) -> Vec<&'static Row> {
        Vec::new()
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        Outcome::of(case.opened, case.opened.history()).short()
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let outcome = Outcome::of(case.opened, case.opened.history());
        let unlisted = crate::lines::unlisted(case.opened, &outcome.plumbing);
        if !unlisted.is_empty() {
            return Err(unlisted);
        }
        let tells = Tells {
            report: if case.said.has(&BLANK) { blank } else { report },
            result: |_, outcome| result::ProveView::of(outcome),
            picture: |case, outcome, look| {
                crate::picture::proving(case.opened, look, &outcome.plumbing, &outcome.proof)
            },
        };
        Ok(Answered::new(&Ask, case, outcome, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::ProveView>>(NAME)
    }
}

//! "What do I buy and cut?": what comes out, parts, lengths, joints with their threads and seats, the layouts side by side.

mod outcome;
mod report;
mod result;
mod tables;
mod words;

use plumbing::Plumbing;
use serde_json::Value;

use outcome::Outcome;
pub use outcome::unlisted;
pub use report::JOINTS;
pub(crate) use words::{cut_words, spec_words};

use crate::answered::{Answered, Tells};
use crate::options::{
    COLD, CSV, FACING, FUEL, GRIP, HAND, NO_CREW, ON, Row, SLOPE, SPEED, SURFACE, VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "lines";

static TAKES: &[&Row] = &[
    &CSV, &HAND, &SURFACE, &GRIP, &SPEED, &FUEL, &VALVE, &SLOPE, &FACING, &NO_CREW, &COLD, &WITH, &ON,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What do I buy and cut?"
    }

    fn help(&self) -> Help {
        Help {
            about: "What comes out, what to buy, how long to cut it",
            more: "Parts with their specification in trade terms, lengths to cut and to order, every joint with its thread, \
                   seat and torque band, what does not mate and the adapter that joins it; the layouts side by side, and \
                   what is left of the brakes when any one run leaks.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    /// Nothing of the lists moves with the state of the car.
    fn handles(&self) -> Vec<&'static Row> {
        Vec::new()
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn reads_prices(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        let car = case.opened.car();
        if Plumbing::of(car).unlisted.is_empty() {
            outcome::in_short(car)
        } else {
            "a port is not listed".to_owned()
        }
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::LinesView::of(outcome),
            picture: |case, outcome, look| crate::picture::lines(case.opened, look, &outcome.plumbing),
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case)?, tells).with_tables(tables::of))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::LinesView>>(NAME)
    }
}

//! "What was measured?": a pull on the sheet taken apart, what changed since the one before it, and the bias valve as two
//! gauges read it.

mod outcome;
mod report;
mod result;

use serde_json::Value;

pub use outcome::Outcome;

use crate::answered::{Answered, Tells};
use crate::options::{FUEL, GRIP, NO_CREW, ON, Row, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "pull";

static TAKES: &[&Row] = &[&ON, &WITH, &VALVE, &SURFACE, &GRIP, &FUEL, &NO_CREW];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What was measured?"
    }

    fn help(&self) -> Help {
        Help {
            about: "A measured pull taken apart: clearance, flex, air",
            more: "What of the grip's travel is clearance, what is flex, what is air, each with its error; whether these \
                   readings tell the three apart, and which reading to take next. Beside it what changed since the pull \
                   before, and the bias valve as two gauges read it.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn handles(&self) -> Vec<&'static Row> {
        Vec::new()
    }

    fn short(&self, case: &Case<'_>) -> String {
        report::in_short(&Outcome::of(case), &case.units)
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::PullView::of(outcome),
            picture: |case, _, look| crate::picture::measured_pull(case.opened, look),
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case), tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::PullView>>(NAME)
    }
}

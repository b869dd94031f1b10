//! "How sure is it?": what would settle each figure, what the readings on the sheet have settled, and which to take next.

mod outcome;
mod report;
mod result;
pub(crate) mod words;

use serde_json::Value;

pub use outcome::{Outcome, study_of_turn};
pub(crate) use words::readings;

pub use crate::turn_study::TurnStudy;

use crate::answered::{Answered, Tells};
use crate::options::{
    COLD, DRAWS, FUEL, GRIP, NO_CREW, OF_THE_TURN, ON, Row, SEED, SPEED, SURFACE, Said, VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "sure";

static TAKES: &[&Row] = &[
    &SURFACE,
    &GRIP,
    &FUEL,
    &VALVE,
    &SPEED,
    &NO_CREW,
    &COLD,
    &WITH,
    &ON,
    &DRAWS,
    &SEED,
    &OF_THE_TURN,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "How sure is it?"
    }

    fn help(&self) -> Help {
        Help {
            about: "What to measure next, and what the readings have settled",
            more: "For each figure the keys that would settle most of its range, alone and together with others, with \
                   how each is measured; what the readings on the sheet leave of the tolerances, before and after; \
                   readings that the sheet does not explain; and the reading to take next.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        Vec::new()
    }

    fn takes_long(&self, said: &Said) -> bool {
        said.has(&OF_THE_TURN)
    }

    fn short(&self, case: &Case<'_>) -> String {
        words::in_short(case.opened)
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::SureView::of(outcome),
            picture: |_, outcome, look| report::bars(outcome).draw(look),
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case), tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::SureView>>(NAME)
    }
}

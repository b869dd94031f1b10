//! "Will it work in this car?": the verdict in parts, findings worst first, what to measure, what comes out.

mod outcome;
mod report;
mod result;

use engine::ranges::Sampling;
use serde_json::Value;
use wording::Precision;

pub use outcome::Outcome;
pub(crate) use outcome::written;

use crate::answered::{Answered, Tells};
use crate::lever;
use crate::options::{
    ALL_OF_IT, COLD, DRAWS, FUEL, GRIP, NO_CREW, ON, Row, SEED, SPEED, STRICT, SURFACE, VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "assess";

static TAKES: &[&Row] = &[
    &SURFACE, &GRIP, &FUEL, &VALVE, &SPEED, &NO_CREW, &COLD, &WITH, &ON, &DRAWS, &SEED, &ALL_OF_IT, &STRICT,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn room(&self) -> &'static str {
        "assessment"
    }

    fn asked_as(&self) -> &'static str {
        "Will it work in this car?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Whether it will work in this car",
            more: "The verdict, why, and three figures; then what was found, worst first; what to measure next; what comes \
                   out of the car. With --all each finding has its figures and what to do.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        let draws = if case.brief { 0 } else { Precision::DRAWN.draws };
        Outcome::briefly(case.opened, case.said.speed(), draws, &case.units)
            .map_or_else(|_| String::new(), |outcome| outcome.in_short())
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::AssessView::of(outcome),
            picture: |case, _, look| {
                // What the hand does, where there is one.
                lever::Ask.answer(case).map_or_else(
                    |_| crate::picture::balance(case.opened, look, case.said.speed()),
                    |answer| answer.draw(look),
                )
            },
        };
        Ok(Answered::new(&Ask, case, asked(case)?, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::AssessView>>(NAME)
    }
}

/// With all draws, or briefly while something moves.
fn asked(case: &Case<'_>) -> Result<Outcome, Wrong> {
    let speed = case.said.speed();
    let Sampling { draws, .. } = case.sampling;
    if case.brief {
        Outcome::briefly(case.opened, speed, draws, &case.units)
    } else {
        Outcome::of(case.opened, speed, case.sampling, &case.units)
    }
}

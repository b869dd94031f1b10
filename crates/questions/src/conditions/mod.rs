//! "And in the wet, full, cold?": the answer over everything that changes between two stages: ground, fuel, cold brakes.

mod outcome;
mod report;
mod result;

use charts::Look;
use serde_json::Value;
use wording::Precision;

pub use outcome::{Outcome, StateAnswer};

use crate::answered::{Answered, Tells};
use crate::options::{COLD, DRAWS, FUEL, GRIP, NO_CREW, ON, Row, SEED, SPEED, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "conditions";

static TAKES: &[&Row] = &[
    &VALVE, &SPEED, &SURFACE, &GRIP, &FUEL, &COLD, &NO_CREW, &WITH, &ON, &DRAWS, &SEED,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "And in the wet, full, cold?"
    }

    fn help(&self) -> Help {
        Help {
            about: "The answer over every ground and fuel load, warm and cold",
            more: "What the car as it is set up does on each ground that it runs on, with a dry, half and full tank, \
                   brakes warm and cold: the word of the assessment, the torque in hand, and which end leads under the \
                   foot. The worst stands first.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    /// What the driver cannot choose is not narrowed down by a handle: it is all there.
    fn handles(&self) -> Vec<&'static Row> {
        vec![&VALVE, &SPEED, &NO_CREW]
    }

    /// As few as the index has: there are many states, and the assessment of one draws more.
    fn draws(&self) -> u32 {
        Precision::DRAWN.draws
    }

    fn without_the_car_from_above(&self) -> bool {
        true
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        outcome::in_short(case)
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::ConditionsView::of(outcome),
            // Ground, fuel and warmth are what it is drawn over.
            picture: |_, outcome, look| report::grid(outcome).draw(&Look { state: "", ..*look }),
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case)?, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::ConditionsView>>(NAME)
    }
}

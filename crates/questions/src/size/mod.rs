//! "Which parts?": a search over sold sizes for what keeps the limits, best first, and what each gives up.

mod outcome;
mod parts;
mod report;
mod result;

use engine::thresholds::FOOT_LIMIT_ROAD;
use serde_json::Value;

pub use outcome::Outcome;

use crate::answered::{Answered, Tells};
use crate::options::{
    CHANGE, COLD, CSV, FACING, FLUID_MARGIN, FOOT, FUEL, GRIP, HAND, NO_CREW, ON, PEDAL_TRAVEL, ROOM, Row,
    SLOPE, SPEED, STAGE, SURFACE, TURN_WORD, WANTED, WIDE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "size";

static TAKES: &[&Row] = &[
    &CHANGE,
    &WIDE,
    &HAND,
    &ROOM,
    &FOOT,
    &PEDAL_TRAVEL,
    &FLUID_MARGIN,
    &TURN_WORD,
    &WANTED,
    &SURFACE,
    &GRIP,
    &SPEED,
    &FUEL,
    &SLOPE,
    &FACING,
    &NO_CREW,
    &COLD,
    &STAGE,
    &WITH,
    &ON,
    &CSV,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "Which parts?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Which sold sizes keep the limits, and what each gives up",
            more: "Bores, ratios, pads, pistons, cylinders, valve and layout, each with every other: what the hand and the \
                   foot have to do with them, against what they can; the least change of the car first. Fluid and turn \
                   are limits where they are asked for; your own prices stand beside the rows.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn draws(&self) -> u32 {
        0
    }

    fn reads_prices(&self) -> bool {
        true
    }

    fn usual(&self, _case: &Case<'_>) -> Vec<(&'static Row, f64)> {
        vec![(&FOOT, FOOT_LIMIT_ROAD.n())]
    }

    fn without_the_car_from_above(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        Outcome::short(case)
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |case, outcome| result::SizeView::of(outcome, &case.opened.prices.currency),
            picture: |case, outcome, look| report::bars(case, outcome).draw(look),
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case)?, tells).with_tables(result::csv))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::SizeView>>(NAME)
    }
}

//! "Which parts?": a search over sold sizes for what keeps the limits, best first, and what each gives up.

mod outcome;
mod parts;
mod report;
mod result;

use serde_json::Value;

pub use outcome::Outcome;

use crate::answered::{Answered, Tells};
use crate::options::{
    CHANGE, COLD, CSV, FACING, FOOT, FUEL, GRIP, HAND, NO_CREW, ON, PEDAL_TRAVEL, ROOM, Row, SLOPE, SPEED,
    STAGE, SURFACE, WANTED, WIDE, WITH,
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
                   foot have to do with them, against what they can; the least change of the car first.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn draws(&self) -> u32 {
        0
    }

    fn short(&self, case: &Case<'_>) -> String {
        Outcome::short(case)
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::SizeView::of(outcome),
            picture: |case, _, look| {
                let foot = engine::hydraulics::Forces {
                    foot: quantity::si::Force::ZERO,
                    hand: case.conditions().hand_of(case.opened.car()),
                };
                let state = &case.opened.state;
                let outcome =
                    crate::pressures::Outcome::of(case.opened.car(), state, foot, case.said.speed());
                crate::picture::pressures(case.opened, look, &outcome)
            },
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case)?, tells).with_tables(result::csv))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::SizeView>>(NAME)
    }
}

//! "How hard, how far?": what the hand has to do to stop the rear wheels, warm and cold, and the other layout beside it.

mod bores;
mod outcome;
mod report;
mod result;

use engine::lever::{LeverBench, Pull};
use serde_json::Value;

pub use outcome::Outcome;
pub(crate) use outcome::in_short;

use crate::answered::{Answered, Tells};
use crate::options::{
    BORES, COLD, CSV, DRAWS, FACING, FUEL, GRIP, HAND, NO_CREW, ON, RATIOS, Row, SEED, SLOPE, SPEED, SURFACE,
    VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "lever";

static TAKES: &[&Row] = &[
    &HAND, &SURFACE, &GRIP, &SPEED, &FUEL, &VALVE, &SLOPE, &FACING, &NO_CREW, &COLD, &WITH, &ON, &DRAWS,
    &SEED, &BORES, &RATIOS, &CSV,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "How hard, how far?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Whether the hand stops the rear wheels",
            more: "The torque that it takes against the ground and against what the drivetrain carries back from the front \
                   wheels; the pressure, force and travel for it, warm and cold, against what driver, cylinder and room \
                   have; and the other layout beside it.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn usual(&self, case: &Case<'_>) -> Vec<(&'static Row, f64)> {
        let lever = case.opened.car().lever.as_ref();
        let has_bore = lever.is_some_and(|lever| lever.cylinder().is_some());
        if has_bore { vec![(&BORES, 1.0)] } else { Vec::new() }
    }

    fn short(&self, case: &Case<'_>) -> String {
        let state = &case.opened.state;
        let Some(bench) = LeverBench::of(case.opened.car(), state.conditions.warmth) else {
            return "no handbrake".to_owned();
        };
        in_short(&bench.answer(&state.laden, pull(case)).to_lock, case)
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let headlines = crate::headlines(case.opened, &case.conditions(), case.sampling);
        let tells = Tells {
            report: report::of,
            result: |case, outcome| result::LeverView::of(case.opened.car(), outcome),
            picture: |case, outcome, look| crate::picture::lever(case.opened, look, outcome),
        };
        match Outcome::of(case.opened, pull(case), headlines) {
            Some(mut outcome) => {
                if (case.said.has(&BORES) || case.said.has(&RATIOS)) && !case.brief {
                    let asked = case.said.text(&RATIOS).map(crate::state::ratios).transpose()?;
                    outcome.bores = bores::tried(case.opened, pull(case), &outcome.answer, asked.as_deref())?;
                }
                Ok(Answered::new(&Ask, case, outcome, tells)
                    .with_tables(|outcome| bores::csv(&outcome.bores)))
            }
            None => {
                let what = "this car has no handbrake lever".to_owned();
                let remedy = "describe it under [lever] on the sheet".to_owned();
                Err(Wrong::plain(&case.opened.sheet.path(), "no-lever", what, remedy))
            }
        }
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::LeverView>>(NAME)
    }
}

/// The driver's pull: as asked, or as on the sheet.
fn pull(case: &Case<'_>) -> Pull {
    case.conditions()
        .pull_at(case.opened.car(), case.opened.state.surface.peak)
}

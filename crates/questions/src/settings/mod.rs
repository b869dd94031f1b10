//! "Where do I set the valve?": the knob or the bar for every surface and fuel load, stage and road.

mod outcome;
mod report;
mod result;

use engine::hydraulics::Forces;
use quantity::si::Force;
use serde_json::Value;

pub use outcome::{Outcome, USUAL_WISH};
pub(crate) use outcome::{fuels, surfaces};

use crate::answered::{Answered, Tells};
use crate::options::{COLD, DRAWS, FUEL, GRIP, NO_CREW, ON, Row, SEED, SURFACE, VALVE, WANTED, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "settings";

static TAKES: &[&Row] = &[
    &WANTED, &VALVE, &SURFACE, &GRIP, &FUEL, &NO_CREW, &COLD, &WITH, &ON, &DRAWS, &SEED,
];

/// A foot that brakes hard, for the car from above.
const USUAL_FOOT: Force = Force::from_n(300.0);

/// What is wanted, and what of the answer is stuck to the dash.
///
/// # Errors
/// What is no wish.
pub(crate) fn on_a_card(case: &Case<'_>) -> Result<(String, crate::report::Table), Wrong> {
    Ok(report::on_a_card(case, &Outcome::of(case)?))
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "Where do I set the valve?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Where the bias valve or the balance bar goes",
            more: "For each surface and fuel load the knee of the valve, as turns or positions of the knob, and on twin \
                   cylinders the turns of the bar, that give what is wanted at first lock. A car that is driven on public \
                   roads gets a road setting beside each.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn braked(&self, _case: &Case<'_>) -> Forces {
        Forces {
            foot: USUAL_FOOT,
            hand: Force::ZERO,
        }
    }

    fn short(&self, case: &Case<'_>) -> String {
        Outcome::short(case).unwrap_or_default()
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::SettingsView::of(outcome),
            picture: |case, outcome, look| {
                let bar = outcome.bar_drawn(case);
                bar.map_or_else(
                    || crate::picture::settings(case.opened, look),
                    |bar| bar.draw(look),
                )
            },
        };
        Ok(Answered::new(&Ask, case, Outcome::of(case)?, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::SettingsView>>(NAME)
    }
}

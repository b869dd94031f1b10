//! "How hot does it get?": discs, calipers and fluid over a stage and in the soak after it.

mod outcome;
mod report;
mod result;
mod stages;

use charts::StageHeat;
use engine::heat::HeatBench;
use engine::hydraulics;
use quantity::si::Force;
use serde_json::Value;

pub use outcome::Outcome;
pub(crate) use stages::USUAL as USUAL_STAGE;
pub use stages::{own_stages, stage};

use crate::answered::{Answered, Tells};
use crate::options::{AMBIENT, DRAWS, FUEL, NO_CREW, ON, Row, SEED, STAGE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "heat";

/// The foot of the car from above beside it.
const USUAL_FOOT: Force = Force::from_n(300.0);

static TAKES: &[&Row] = &[
    &STAGE, &AMBIENT, &FUEL, &VALVE, &NO_CREW, &WITH, &ON, &DRAWS, &SEED,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "How hot does it get?"
    }

    fn help(&self) -> Help {
        Help {
            about: "How hot discs and fluid get over a stage",
            more: "Discs, calipers and fluid of every corner over a stage and in the hour after it; what of the pads is left; \
                   how far the fluid is from boiling, wet, dry and at its age; what governs, and what would help by how much.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn braked(&self, _case: &Case<'_>) -> hydraulics::Forces {
        hydraulics::Forces {
            foot: USUAL_FOOT,
            hand: Force::ZERO,
        }
    }

    fn short(&self, case: &Case<'_>) -> String {
        let Ok(stage) = stage(case) else {
            return "no such stage".to_owned();
        };
        HeatBench::of(case.opened.car(), &case.conditions())
            .drive(&stage)
            .map_or_else(
                |_| "cannot be followed".to_owned(),
                |heat| outcome::in_short(&heat),
            )
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::HeatView::of(outcome),
            picture: |_, outcome, look| {
                let stage = outcome.stage.name.to_string();
                let heat = outcome.heats.middle.clone();
                StageHeat { stage, heat }.draw(look)
            },
        };
        let stage = stage(case)?;
        let outcome = Outcome::of(case.opened, stage, case.conditions(), case.sampling).map_err(|lost| {
            let remedy = "look at the masses of discs and drums on the sheet".to_owned();
            Wrong::plain(&case.opened.sheet.path(), "heat-lost", lost.to_string(), remedy)
        })?;
        Ok(Answered::new(&Ask, case, outcome, tells)
            .with_above(|case, outcome, look| crate::picture::heat(case.opened, look, outcome.heat())))
    }

    fn draws(&self) -> u32 {
        64
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::HeatView>>(NAME)
    }
}

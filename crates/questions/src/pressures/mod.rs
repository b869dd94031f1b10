//! "What do foot and hand do?": pressure, torque and force at the ground of each wheel, and how far pedal and lever travel.

mod outcome;
mod report;
mod result;

use engine::hydraulics::Forces;
use quantity::si::Force;
use serde_json::Value;

pub use outcome::Outcome;

use crate::answered::{Answered, Tells};
use crate::options::{COLD, FACING, FOOT, FUEL, GRIP, HAND, NO_CREW, ON, Row, SLOPE, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "pressures";

static TAKES: &[&Row] = &[
    &FOOT, &HAND, &SURFACE, &GRIP, &FUEL, &VALVE, &SLOPE, &FACING, &NO_CREW, &COLD, &WITH, &ON,
];

/// A foot that brakes hard, for a page on which nobody has said how hard.
const USUAL_FOOT: Force = Force::from_n(300.0);

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What do foot and hand do?"
    }

    fn help(&self) -> Help {
        Help {
            about: "What a foot and a hand do at every wheel",
            more: "For a force of the foot, of the hand, or of both: pressure, torque and force at the ground of each wheel, \
                   how far pedal and lever travel, and what uses that travel up. The car goes straight.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn usual(&self, _case: &Case<'_>) -> Vec<(&'static Row, f64)> {
        vec![(&FOOT, USUAL_FOOT.n()), (&HAND, 0.0)]
    }

    fn without_the_car_from_above(&self) -> bool {
        true
    }

    fn braked(&self, case: &Case<'_>) -> Forces {
        case.conditions().forces()
    }

    fn short(&self, case: &Case<'_>) -> String {
        let mut asked = case.conditions().forces();
        if !case.said.has(&FOOT) {
            asked.foot = USUAL_FOOT;
        }
        report::in_short(
            &Outcome::of(case.opened.car(), &case.opened.state, asked, case.said.speed()),
            &case.units,
        )
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        if !case.said.has(&FOOT) && !case.said.has(&HAND) {
            let what = "neither foot nor hand does anything".to_owned();
            let remedy = "say with what force: --foot \"300 N\", --hand \"150 N\", or both".to_owned();
            return Err(Wrong::plain("command line", "no-force", what, remedy));
        }
        let outcome = Outcome::of(
            case.opened.car(),
            &case.opened.state,
            self.braked(case),
            case.said.speed(),
        );
        let tells = Tells {
            report: report::of,
            result: |case, outcome| result::PressuresView::of(case.opened, outcome),
            picture: |case, outcome, look| crate::picture::pressures(case.opened, look, outcome),
        };
        Ok(Answered::new(&Ask, case, outcome, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::PressuresView>>(NAME)
    }
}

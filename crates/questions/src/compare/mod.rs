//! "What if?": one question asked of the car as it is and as proposed, or of two cars, side by side.

mod outcome;
mod report;
mod result;

use charts::{Look, Picture};
use engine::hydraulics::Forces;
use quantity::si::Force;
use serde_json::Value;

pub use crate::options::compared::COMPARED;
pub use outcome::{Outcome, as_it_is};
pub use report::beside;

use crate::answered::{Answered, Tells};
use crate::options::{
    AGAINST, ASKED, COLD, DRAWS, FACING, FUEL, GRIP, HAND, NO_CREW, ON, OTHER, Row, SEED, SLOPE, SPEED,
    SURFACE, VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "compare";

static TAKES: &[&Row] = &[
    &OTHER, &AGAINST, &ASKED, &WITH, &VALVE, &HAND, &SURFACE, &GRIP, &SPEED, &FUEL, &SLOPE, &FACING,
    &NO_CREW, &COLD, &ON, &DRAWS, &SEED,
];

/// Whether the answers to a question are compared.
#[must_use]
pub fn is_compared(question: &dyn Question) -> bool {
    COMPARED.contains(&question.name())
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What if?"
    }

    fn help(&self) -> Help {
        Help {
            about: "The car as it is and as proposed, or two cars, side by side",
            more: "One question asked twice: the verdict of both, each figure of both, and what of the car is other. What is \
                   proposed is said by --with, by --valve, or by a proposal that was kept.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        vec![
            &ASKED, &AGAINST, &HAND, &SURFACE, &GRIP, &SPEED, &FUEL, &NO_CREW, &COLD,
        ]
    }

    fn short(&self, case: &Case<'_>) -> String {
        match case.opened.overrides.len() {
            0 => "nothing is proposed".to_owned(),
            1 => "one thing is other".to_owned(),
            more => format!("{more} things are other"),
        }
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let outcome = Outcome::of(case)?;
        let tells = Tells {
            report: report::of,
            result: |_, outcome| result::CompareView::of(outcome),
            picture: draw,
        };
        Ok(Answered::new(&Ask, case, outcome, tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::CompareView>>(NAME)
    }
}

/// The picture of the question that was asked, of the car as proposed.
fn draw(case: &Case<'_>, outcome: &Outcome, look: &Look<'_>) -> Picture {
    let said = outcome::said_of(outcome.question, case);
    let asked = Case { said: &said, ..*case };
    match outcome.question.answer(&asked) {
        Ok(answer) => answer.draw(look),
        Err(_) => {
            let (car, state) = (case.opened.car(), &case.opened.state);
            let nobody = Forces {
                foot: Force::ZERO,
                hand: Force::ZERO,
            };
            let nothing = crate::pressures::Outcome::of(car, state, nobody, case.said.speed());
            crate::picture::pressures(case.opened, look, &nothing)
        }
    }
}

//! "What next?": the order of work, what is done, where one may stop for the night.

mod report;
mod result;

use proving::order::{WorkOrder, order};
use serde_json::Value;

pub use report::{Words, words};

use crate::answered::{Answered, Tells};
use crate::history::History;
use crate::opened::Opened;
use crate::options::{COLD, FUEL, GRIP, NO_CREW, ON, Row, SURFACE, VALVE, WITH};
use crate::prove::Outcome;
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "plan";

static TAKES: &[&Row] = &[&VALVE, &WITH, &SURFACE, &GRIP, &FUEL, &NO_CREW, &COLD, &ON];

/// The order of work of a car with what its logbook says.
#[must_use]
pub fn order_of(opened: &Opened) -> WorkOrder {
    let history = opened.history();
    let outcome = Outcome::of(opened, history);
    order(opened.car(), &outcome.plumbing, &history.noted, &outcome.proof)
}

/// The words of a car's steps, whatever is done of them.
#[must_use]
pub fn steps(opened: &Opened) -> Vec<&'static str> {
    let outcome = Outcome::of(opened, &History::default());
    let order = order(opened.car(), &outcome.plumbing, &[], &outcome.proof);
    order.steps.iter().map(|step| step.slug).collect()
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What next?"
    }

    fn help(&self) -> Help {
        Help {
            about: "The order of work, and what is next",
            more: "From looking into the ports to the first event, on one page: what each step takes, what is done as far as \
                   sheet and logbook tell, and where one may stop for the night.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    /// Nothing of it moves with the state of the car.
    fn handles(&self) -> Vec<&'static Row> {
        Vec::new()
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        match case.opened.history().lost {
            Some(_) => "the logbook does not read".to_owned(),
            None => order_of(case.opened).short(),
        }
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: report::of,
            result: |_, order| result::PlanView::of(order),
            picture: |case, _, look| {
                let joints = Outcome::of(case.opened, case.opened.history());
                crate::picture::proving(case.opened, look, &joints.plumbing, &joints.proof)
            },
        };
        Ok(Answered::new(&Ask, case, order_of(case.opened), tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::PlanView>>(NAME)
    }
}

//! "What next?": the order of work, what is done, where one may stop for the night.

mod report;
mod result;

use charts::{Look, Picture};
use proving::order::{Order, order};
use serde_json::Value;

pub use report::{Words, words};

use crate::answers::proving::Outcome;
use crate::history::History;
use crate::opened::Opened;
use crate::options::{COLD, FUEL, GRIP, NO_CREW, ON, Row, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::report::Report;
use crate::result::{Head, Headed, schema_of, to_json};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Plan;

const NAME: &str = "plan";

static TAKES: &[&Row] = &[&VALVE, &WITH, &SURFACE, &GRIP, &FUEL, &NO_CREW, &COLD, &ON];

/// The order of work of a car with what its logbook says.
#[must_use]
pub fn order_of(opened: &Opened) -> Order {
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

impl Question for Plan {
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
        let order = order_of(case.opened);
        Ok(Box::new(Answered { case: *case, order }))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::PlanView>>(NAME)
    }
}

struct Answered<'a> {
    case: Case<'a>,
    order: Order,
}

impl Answer for Answered<'_> {
    fn report(&self) -> Report {
        report::of(&self.case, &self.order)
    }

    fn result(&self) -> Result<Value, serde_json::Error> {
        to_json(&Headed {
            head: Head::of(NAME, self.case.opened),
            answer: result::PlanView::of(&self.order),
        })
    }

    /// Every joint as it stands.
    fn draw(&self, look: &Look<'_>) -> Picture {
        let opened = self.case.opened;
        crate::picture::proving(opened, look, &Outcome::of(opened, opened.history()))
    }
}

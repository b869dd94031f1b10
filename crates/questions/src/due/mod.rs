//! What falls due on a day, as the logbook is asked: fluid, pads, hoses, joints.

mod report;
mod result;

use proving::due::{Due, due, short};
use serde_json::Value;

use crate::answered::{Answered, Tells};
use crate::opened::Opened;
use crate::options::{COLD, FUEL, GRIP, NO_CREW, ON, Row, SURFACE, VALVE, WITH};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question. Its verb is one of several of the logbook, so that it has none of its own in [`ALL`](crate::ALL).
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "logbook";

static TAKES: &[&Row] = &[&VALVE, &WITH, &SURFACE, &GRIP, &FUEL, &NO_CREW, &COLD, &ON];

/// What falls due on the day that is asked about, most urgent first.
#[must_use]
pub fn due_of(opened: &Opened) -> Vec<Due> {
    let (car, history) = (opened.car(), opened.history());
    due(
        car,
        &plumbing::Plumbing::of(car),
        &history.noted,
        opened.state.day,
    )
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "What was done?"
    }

    fn help(&self) -> Help {
        Help {
            about: "What falls due, and why",
            more: "Fluid, pads, hoses and joints, by what sheet and logbook say of them.",
            teaches: "",
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        Vec::new()
    }

    fn reads_logbook(&self) -> bool {
        true
    }

    fn short(&self, case: &Case<'_>) -> String {
        let opened = case.opened;
        let history = opened.history();
        match history.lost {
            Some(_) => "the logbook does not read".to_owned(),
            None => short(opened.car(), &history.noted, &due_of(opened), opened.state.day),
        }
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let tells = Tells {
            report: |case, due: &Vec<Due>| report::of(case, due),
            result: |_, due| result::DueView::of(due),
            picture: |case, _, look| crate::picture::circuit(case.opened, look),
        };
        Ok(Answered::new(&Ask, case, due_of(case.opened), tells))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::DueView>>(NAME)
    }
}

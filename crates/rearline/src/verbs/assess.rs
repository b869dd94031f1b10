//! `assess`: whether it will work in this car, and what to do about it.

use assess::Weight;
use clap::Args;
use questions::Wrong;
use questions::answers::assessment::Outcome;

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, DrawOptions, IdleForces, OutputOptions, SheetOptions, SpeedOption, StateOptions,
    StrictOption, help,
};
use crate::print;
use crate::views::assess::AssessView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "assess";

/// Whether it will work in this car
///
/// The answer in one sentence; then what was found, worst first, each with its figures and what to do; the headline
/// figures with their ranges; what to measure next; what comes out of the car.
#[derive(Args, Debug)]
#[command(after_long_help = help::ASSESS)]
pub(crate) struct AssessVerb {
    #[command(flatten)]
    car: CarOption,
    #[command(flatten)]
    speed: SpeedOption,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    draws: DrawOptions,
    #[command(flatten)]
    strict: StrictOption,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    forces: IdleForces,
}

impl AssessVerb {
    /// Opens the car and assesses it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let speed = wrong.note(questions::speed(self.speed.speed.as_deref()));
        let plan = wrong.note(questions::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(speed), Some(plan), Some(units), Some(mut opened)) = (speed, plan, units, opened) else {
            return Err(wrong.into());
        };
        for option in self.forces.given() {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let outcome = Outcome::of(&opened, speed, plan, &units)?;
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: AssessView::of(&outcome),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::assess::page(&opened, &outcome, &units))?;
        }
        let stopped = outcome.assessment.worst() == Some(Weight::Stop);
        Ok(if outcome.logbook_lost {
            Ending::File
        } else if self.strict.strict && stopped {
            Ending::Stopped
        } else {
            Ending::Fine
        })
    }
}

//! `plan`: the order of work.

use clap::Args;
use proving::Fact;
use questions::{History, Wrong};

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, IdleDraws, IdleForces, IdleSpeed, IdleStrict, OutputOptions, SheetOptions, StateOptions,
    help,
};
use crate::print;
use crate::verbs::prove::{unknown, warn_of_the_logbook, write};
use crate::views::plan::PlanView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;
use questions::answers::proving::order_of;

/// Name of the verb.
pub(crate) const NAME: &str = "plan";

/// The order of work, and what is next
///
/// From looking into the ports to the first event, on one page: what each step takes, what is done as far as sheet and
/// logbook tell, and where one may stop for the night.
#[derive(Args, Debug)]
#[command(after_long_help = help::PLAN)]
pub(crate) struct PlanVerb {
    #[command(flatten)]
    car: CarOption,
    /// Write down that a step is done; may be given again
    #[arg(long, value_name = "STEP")]
    done: Vec<String>,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    speed: IdleSpeed,
    #[command(flatten)]
    draws: IdleDraws,
    #[command(flatten)]
    forces: IdleForces,
    #[command(flatten)]
    strict: IdleStrict,
}

impl PlanVerb {
    /// Opens the car, writes down what is done, and shows what is next.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(units), Some(mut opened)) = (units, opened.filter(|_| wrong.is_empty())) else {
            return Err(wrong.into());
        };
        for option in self
            .speed
            .given()
            .chain(self.draws.given())
            .chain(self.forces.given())
            .chain(self.strict.given())
        {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let steps = order_of(&opened, &History::of(&opened)).steps;
        let mut facts = Vec::new();
        for step in &self.done {
            match steps.iter().find(|known| known.slug == step.trim()) {
                Some(known) => facts.push(Fact::Step {
                    step: known.slug.to_owned(),
                }),
                None => wrong.add(unknown(
                    "--done",
                    step,
                    "step",
                    steps.iter().map(|known| known.slug),
                )),
            }
        }
        if !wrong.is_empty() {
            return Err(wrong.into());
        }
        let history = write(&opened, &facts)?;
        warn_of_the_logbook(&mut opened, &history);
        let order = order_of(&opened, &history);
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: PlanView::of(&order),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::plan::page(&opened, &order, &history, &units))?;
        }
        Ok(Ending::with_logbook(&history))
    }
}

//! `balance`: which end locks first, over grip and load, and what is left with one circuit gone.

use clap::Args;
use questions::Wrong;
use questions::answers::balance::{Outcome, usual_grips};

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, DrawOptions, IdleForces, IdleStrict, OutputOptions, SheetOptions, SpeedOption,
    StateOptions, SvgOption, help,
};
use crate::print;
use crate::views::balance::BalanceView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "balance";

/// Which end locks first
///
/// Over a range of grips: the least foot force at which a wheel stops turning, which end it is, and by how much it
/// leads. Then how much of its load each axle uses over the braking rate, and what is left with one circuit gone.
#[derive(Args, Debug)]
#[command(after_long_help = help::BALANCE)]
pub(crate) struct BalanceVerb {
    #[command(flatten)]
    car: CarOption,
    /// Grips to look at, commas between [default: 0.1 to 1.2 by tenths]
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    grips: Option<String>,
    #[command(flatten)]
    speed: SpeedOption,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    draws: DrawOptions,
    #[command(flatten)]
    svg: SvgOption,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    forces: IdleForces,
    #[command(flatten)]
    strict: IdleStrict,
}

impl BalanceVerb {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let grips = wrong.note(
            self.grips
                .as_deref()
                .map_or_else(|| Ok(usual_grips()), questions::grips),
        );
        let speed = wrong.note(questions::speed(self.speed.speed.as_deref()));
        let plan = wrong.note(questions::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(grips), Some(speed), Some(plan), Some(units), Some(mut opened)) =
            (grips, speed, plan, units, opened)
        else {
            return Err(wrong.into());
        };
        for option in self.forces.given().chain(self.strict.given()) {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let headline = questions::headlines(&opened, speed, None, plan);
        let outcome = Outcome::of(opened.car(), &opened.state, speed, &grips, headline);
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, &opened, &units, |look| {
                questions::picture::balance(&opened, look, speed)
            })?;
        }
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: BalanceView::of(&opened, &outcome),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::balance::page(&opened, &outcome, &units))?;
        }
        Ok(Ending::Fine)
    }
}

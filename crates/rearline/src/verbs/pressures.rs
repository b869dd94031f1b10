//! `pressures`: what a given foot and hand do at every wheel.

use clap::Args;
use engine::hydraulics::Asked;
use quantity::si::Force;
use questions::Wrong;
use questions::answers::pressures::Outcome;

use crate::command_line::COMMAND_LINE;
use crate::ending::{Ending, Stop};

use crate::options::{
    self, CarOption, ForceOptions, IdleDraws, IdleSpeed, IdleStrict, OutputOptions, SheetOptions,
    StateOptions, SvgOption, help,
};
use crate::print;
use crate::views::pressures::PressuresView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "pressures";

/// What a foot and a hand do at every wheel
///
/// For a force of the foot, of the hand, or of both: pressure, torque and force at the ground of each wheel, how far
/// pedal and lever travel, and what uses that travel up. The car goes straight.
#[derive(Args, Debug)]
#[command(after_long_help = help::PRESSURES)]
pub(crate) struct Pressures {
    #[command(flatten)]
    car: CarOption,
    #[command(flatten)]
    forces: ForceOptions,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    svg: SvgOption,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    speed: IdleSpeed,
    #[command(flatten)]
    draws: IdleDraws,
    #[command(flatten)]
    strict: IdleStrict,
}

impl Pressures {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let asked = wrong.note(self.asked());
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(asked), Some(units), Some(mut opened)) = (asked, units, opened) else {
            return Err(wrong.into());
        };
        for option in self
            .speed
            .given()
            .chain(self.draws.given())
            .chain(self.strict.given())
        {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        if self.forces.hand.is_some() && opened.car().lever.is_none() {
            opened.warn("--hand", "has no effect: this car has no handbrake lever");
        }
        let outcome = Outcome::of(opened.car(), &opened.state, asked);
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, &opened, &units, |look| {
                questions::picture::pressures(&opened, look, &outcome)
            })?;
        }
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: PressuresView::of(&opened, &outcome),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::pressures::page(&opened, &outcome, &units))?;
        }
        Ok(Ending::Fine)
    }

    fn asked(&self) -> Result<Asked, Wrong> {
        if self.forces.foot.is_none() && self.forces.hand.is_none() {
            let what = "neither foot nor hand does anything".to_owned();
            let remedy = "say with what force: --foot \"300 N\", --hand \"150 N\", or both".to_owned();
            return Err(Wrong::plain(COMMAND_LINE, "no-force", what, remedy));
        }
        let mut wrong = Wrong::default();
        let foot = wrong.note(
            self.forces
                .foot
                .as_deref()
                .map_or(Ok(Force::ZERO), questions::foot),
        );
        let hand = wrong.note(
            self.forces
                .hand
                .as_deref()
                .map_or(Ok(Force::ZERO), questions::hand),
        );
        match (foot, hand) {
            (Some(foot), Some(hand)) => Ok(Asked { foot, hand }),
            _ => Err(wrong),
        }
    }
}

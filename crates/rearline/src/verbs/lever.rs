//! `lever`: whether the hand stops the rear wheels, and what it takes.

use clap::Args;
use engine::lever::Pull;
use questions::Wrong;
use questions::answers::lever::Outcome;

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, DrawOptions, IdleFoot, IdleStrict, OutputOptions, SheetOptions, SpeedOption,
    StateOptions, SvgOption, help,
};
use crate::print;

use crate::views::lever::LeverView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "lever";

/// Whether the hand stops the rear wheels
///
/// The torque that it takes against the ground and against what the drivetrain carries back from the front wheels; the
/// pressure, force and travel for it, warm and cold, against what driver, cylinder and room have; and the other layout
/// beside it.
#[derive(Args, Debug)]
#[command(after_long_help = help::LEVER)]
pub(crate) struct LeverVerb {
    #[command(flatten)]
    car: CarOption,
    /// The driver's pull, in place of the sheet's hand_pull: "200 N"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    hand: Option<String>,
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
    foot: IdleFoot,
    #[command(flatten)]
    strict: IdleStrict,
}

impl LeverVerb {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let hand = wrong.note(self.hand.as_deref().map(questions::hand).transpose());
        let speed = wrong.note(questions::speed(self.speed.speed.as_deref()));
        let plan = wrong.note(questions::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(hand), Some(speed), Some(plan), Some(units), Some(mut opened)) =
            (hand, speed, plan, units, opened)
        else {
            return Err(wrong.into());
        };
        for option in self.foot.given().chain(self.strict.given()) {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let Some(of_sheet) = opened.car().lever.as_ref().map(|lever| lever.hand_pull) else {
            let what = "this car has no handbrake lever".to_owned();
            let remedy = "describe it under [lever] on the sheet".to_owned();
            return Err(Wrong::plain(&opened.sheet.path(), "no-lever", what, remedy).into());
        };
        let pull = Pull {
            hand: hand.unwrap_or(of_sheet),
            grip: opened.state.surface.peak,
            speed,
        };
        let headline = questions::headlines(&opened, speed, hand, plan);
        let Some(outcome) = Outcome::of(opened.car(), &opened, pull, headline) else {
            return Err(wrong.into());
        };
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, &opened, &units, |look| {
                questions::picture::lever(&opened, look, &outcome)
            })?;
        }
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: LeverView::of(opened.car(), &outcome),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::lever::page(&opened, &outcome, &units))?;
        }
        Ok(Ending::Fine)
    }
}

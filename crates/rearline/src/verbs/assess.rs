//! `assess`: whether it will work in this car, and what to do about it.

use asked::{Opened, Wrong};
use assess::{Assessment, Weight};
use clap::Args;
use engine::figures::{Figures, State};
use engine::loads::{Aboard, Fuel};
use engine::ranges::Plan;
use quantity::si::Speed;

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, DrawOptions, IdleForces, OutputOptions, SheetOptions, SpeedOption, StateOptions,
    StrictOption, help,
};
use crate::print;
use crate::views::assess::AssessView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;
use asked::Units;

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

/// What came out.
#[derive(Debug)]
pub(crate) struct Outcome {
    pub(crate) figures: Figures,
    pub(crate) assessment: Assessment,
}

impl Outcome {
    /// Of an opened car. The surface is one that the car knows: opening it has seen to that.
    pub(crate) fn of(opened: &Opened, speed: Speed, plan: Plan, units: &Units) -> Result<Self, Wrong> {
        let state = &opened.state;
        let state = State {
            surface: std::sync::Arc::clone(&state.surface.name),
            grip: state.grip_given.then_some(state.surface.peak),
            aboard: Aboard {
                crew: state.crew,
                fuel: Fuel::Of(state.laden.fuel),
            },
            speed,
            warmth: state.warmth,
            day: Some(state.day),
            plan,
        };
        let figures =
            Figures::of(&opened.sheet.read.inputs, &opened.assembled, &state).map_err(|unknown| {
                let remedy = "describe it under [[surface]], or ask about another".to_owned();
                Wrong::plain(
                    &opened.sheet.path(),
                    "unknown-surface",
                    unknown.to_string(),
                    remedy,
                )
            })?;
        let units = assess::Units {
            pressure: units.pressure,
            length: units.length,
            force: units.force,
            torque: units.torque,
        };
        let assessment = assess::assess_in(opened.car(), &figures, units, Vec::new());
        Ok(Self { figures, assessment })
    }
}

impl AssessVerb {
    /// Opens the car and assesses it.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let speed = wrong.note(asked::speed(self.speed.speed.as_deref()));
        let plan = wrong.note(asked::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(Units::of(self.output.units.list.as_deref()));
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
        Ok(if self.strict.strict && stopped {
            Ending::Stopped
        } else {
            Ending::Fine
        })
    }
}

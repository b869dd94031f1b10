//! `settings`: where the bias valve or the balance bar goes.

use clap::Args;
use questions::Wrong;
use questions::answers::settings::Outcome;

use crate::ending::{Ending, Stop};

use crate::options::{
    self, CarOption, DrawOptions, IdleForces, IdleSpeed, IdleStrict, OutputOptions, SheetOptions,
    StateOptions, SvgOption, help,
};
use crate::print;

use crate::views::settings::SettingsView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "settings";

/// Where the bias valve or the balance bar goes
///
/// For each surface and fuel load the knee of the valve, as turns or positions of the knob, and on twin cylinders the
/// turns of the bar, that give what is wanted at first lock. A car that is driven on public roads gets a road setting
/// beside each.
#[derive(Args, Debug)]
#[command(after_long_help = help::SETTINGS)]
pub(crate) struct SettingsVerb {
    #[command(flatten)]
    car: CarOption,
    /// What is wanted at first lock: "front-first 5 %", even, "rear-first 3 %"
    #[arg(long, value_name = "WISH", default_value = "front-first 5 %")]
    wanted: String,
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
    speed: IdleSpeed,
    #[command(flatten)]
    forces: IdleForces,
    #[command(flatten)]
    strict: IdleStrict,
}

impl SettingsVerb {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        wrong.note(questions::wish(&self.wanted));
        let plan = wrong.note(questions::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(plan), Some(units), Some(mut opened), true) = (plan, units, opened, wrong.is_empty())
        else {
            return Err(wrong.into());
        };
        for option in self
            .speed
            .given()
            .chain(self.forces.given())
            .chain(self.strict.given())
        {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let outcome = Outcome::of(&opened, &self.state.text(), &self.wanted, plan)?;
        if let Some(path) = &self.svg.svg {
            crate::picture::write(path, &opened, &units, |look| {
                questions::picture::settings(&opened, look)
            })?;
        }
        if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: SettingsView::of(&outcome),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::settings::page(&opened, &outcome, &units))?;
        }
        Ok(Ending::Fine)
    }
}

//! `settings`: where the bias valve or the balance bar goes.

use asked::{Opened, Units, Wrong};
use clap::Args;
use engine::balance::{self, Settings, Wish};
use engine::car::{KnobScale, Surface};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use engine::ranges::{Range, Study, study};

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

/// How sure a row is: ranges of knee, knob and bar turns over the draws.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct RowRange {
    pub(crate) knee_pa: Option<Range>,
    pub(crate) knob: Option<Range>,
    pub(crate) bar_turns: Option<Range>,
}

/// What came out.
#[derive(Debug)]
pub(crate) struct Outcome {
    pub(crate) settings: Settings,
    pub(crate) ranges: Vec<RowRange>,
    pub(crate) wanted: String,
    /// Surfaces that the car competes on; empty: all.
    pub(crate) runs_on: Vec<std::sync::Arc<str>>,
}

/// What a drawn car answers for a row.
#[derive(Clone, Copy, Debug)]
struct Drawn {
    knee_pa: Option<f64>,
    knob: Option<f64>,
    bar_turns: Option<f64>,
}

impl SettingsVerb {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let wish = wrong.note(asked::wish(&self.wanted));
        let plan = wrong.note(asked::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(Units::of(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(wish), Some(plan), Some(units), Some(mut opened)) = (wish, plan, units, opened) else {
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
        let outcome = self.outcome(&opened, wish, plan);
        if let Some(path) = &self.svg.svg {
            crate::picture::settings(path, &opened, &units)?;
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

    /// One surface where one was asked for, all otherwise.
    fn surfaces(&self, opened: &Opened) -> Vec<Surface> {
        if self.state.surface.is_some() || self.state.grip.is_some() {
            vec![opened.state.surface.clone()]
        } else {
            opened.car().surfaces.clone()
        }
    }

    fn fuels(&self, opened: &Opened) -> Vec<Fuel> {
        match (&self.state.fuel, opened.car().load.tank) {
            (Some(_), _) => vec![Fuel::Of(opened.state.laden.fuel)],
            (None, Some(_)) => vec![Fuel::Dry, Fuel::Half, Fuel::Full],
            (None, None) => vec![Fuel::Dry],
        }
    }

    fn outcome(&self, opened: &Opened, wish: Wish, plan: engine::ranges::Plan) -> Outcome {
        let (car, state) = (opened.car(), &opened.state);
        let (surfaces, fuels) = (self.surfaces(opened), self.fuels(opened));
        let hydraulics = Hydraulics::of(car, state.warmth);
        let settings = balance::settings(car, &hydraulics, &surfaces, &fuels, state.crew, wish);
        let asked: Vec<(f64, Fuel)> = surfaces
            .iter()
            .flat_map(|surface| fuels.iter().map(|&fuel| (surface.peak, fuel)))
            .collect();
        let drawn: Study<Vec<Drawn>> = study(
            &opened.sheet.read.inputs,
            &opened.assembled.toleranced,
            plan,
            |car| {
                let hydraulics = Hydraulics::of(car, state.warmth);
                asked
                    .iter()
                    .map(|&(grip, fuel)| {
                        let laden = Laden::of(
                            car,
                            Aboard {
                                crew: state.crew,
                                fuel,
                            },
                        );
                        one_row(car, &hydraulics, &laden, grip, wish)
                    })
                    .collect()
            },
        );
        // A road row follows each stage row; its own range is that of one setting for all and is not drawn.
        let every = if car.road_registered { 2 } else { 1 };
        let ranges = (0..settings.rows.len())
            .map(|row| {
                if row % every != 0 || plan.draws == 0 {
                    return RowRange::default();
                }
                let at = row / every;
                RowRange {
                    knee_pa: drawn.range(|rows| rows[at].knee_pa),
                    knob: drawn.range(|rows| rows[at].knob),
                    bar_turns: drawn.range(|rows| rows[at].bar_turns),
                }
            })
            .collect();
        Outcome {
            settings,
            ranges,
            wanted: self.wanted.trim().to_owned(),
            runs_on: car.runs_on.clone(),
        }
    }
}

fn one_row(car: &engine::car::Car, hydraulics: &Hydraulics, laden: &Laden, grip: f64, wish: Wish) -> Drawn {
    let knee = match balance::knee_for(hydraulics, laden, grip, wish) {
        balance::KneeAnswer::At(knee) => Some(knee),
        _ => None,
    };
    // Beyond the knob's ends the range is cut off there: a person cannot turn further either.
    let knob = knee
        .zip(car.bias_valve.as_ref())
        .and_then(|(knee, valve)| valve.knob_for(knee).ok());
    let bar_turns = balance::bar_for(car, hydraulics, laden, grip, wish).map(|bar| bar.turns);
    Drawn {
        knee_pa: knee.map(|knee| knee.pa()),
        knob,
        bar_turns,
    }
}

/// Whether a knob counts positions.
pub(crate) fn counts_positions(scale: Option<KnobScale>) -> bool {
    matches!(scale, Some(KnobScale::Positions(_)))
}

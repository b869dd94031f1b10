//! `balance`: which end locks first, over grip and load, and what is left with one circuit gone.

use asked::{State, Units, Wrong};
use clap::Args;
use engine::balance::{Balance, FailedCircuit, Ideal, Lock, RoadRules, Utilisation, failed_circuits};
use engine::car::{Car, Master};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use quantity::si::Speed;

use crate::ending::{Ending, Stop};
use crate::options::{
    self, CarOption, DrawOptions, IdleForces, IdleStrict, OutputOptions, SheetOptions, SpeedOption,
    StateOptions, SvgOption, help,
};
use crate::print;
use crate::views::balance::BalanceView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;
use engine::headline::Headlines;

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

/// What came out.
#[derive(Debug)]
pub(crate) struct Outcome {
    /// First lock, a grip each.
    pub(crate) locks: Vec<Lock>,
    /// Over the braking rate, as far as the foot goes.
    pub(crate) utilisation: Vec<Utilisation>,
    pub(crate) ideal: Vec<Ideal>,
    pub(crate) road: RoadRules,
    /// Whether the rear stays below the front at every load, and not only as asked.
    pub(crate) road_at_every_load: bool,
    pub(crate) failed: [FailedCircuit; 2],
    /// The first lock on the state's own surface.
    pub(crate) here: Lock,
    /// Whether a coupling ties the axles under the pedal.
    pub(crate) tied: bool,
    pub(crate) twin: bool,
    pub(crate) headline: Option<Headlines>,
}

/// Braking rates at which utilisation and the ideal split are given.
fn rates() -> impl Iterator<Item = f64> {
    (2..=20_u8).map(|twentieth| f64::from(twentieth) / 20.0)
}

/// Grips that are looked at when nothing is said.
fn usual_grips() -> Vec<f64> {
    (1..=12_u8).map(|tenth| f64::from(tenth) / 10.0).collect()
}

impl Outcome {
    /// Of a car in its state.
    pub(crate) fn of(
        car: &Car,
        state: &State,
        speed: Speed,
        grips: &[f64],
        headline: Option<Headlines>,
    ) -> Self {
        let hydraulics = Hydraulics::of(car, state.warmth);
        let balance = Balance::of(car, hydraulics.clone(), state.laden, speed);
        let every_load = [Fuel::Dry, Fuel::Half, Fuel::Full]
            .into_iter()
            .flat_map(|fuel| [true, false].map(|crew| Aboard { crew, fuel }))
            .all(|aboard| {
                balance
                    .at_load(Laden::of(car, aboard))
                    .road_rules()
                    .rear_below_front
            });
        Self {
            locks: grips.iter().map(|&grip| balance.lock(grip)).collect(),
            utilisation: rates().filter_map(|rate| balance.utilisation(rate)).collect(),
            ideal: rates()
                .map(|rate| balance.ideal(rate))
                .take_while(|ideal| ideal.rear.n() > 0.0)
                .collect(),
            road: balance.road_rules(),
            road_at_every_load: every_load,
            failed: failed_circuits(car, &hydraulics, &state.laden, state.surface.peak),
            here: balance.lock(state.surface.peak),
            tied: balance.tied(),
            twin: matches!(car.master, Master::Twin { .. }),
            headline,
        }
    }
}

impl BalanceVerb {
    /// Opens the car and answers.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let grips = wrong.note(
            self.grips
                .as_deref()
                .map_or_else(|| Ok(usual_grips()), asked::grips),
        );
        let speed = wrong.note(asked::speed(self.speed.speed.as_deref()));
        let plan = wrong.note(asked::plan(self.draws.draws, self.draws.seed));
        let units = wrong.note(Units::of(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(grips), Some(speed), Some(plan), Some(units), Some(mut opened)) =
            (grips, speed, plan, units, opened)
        else {
            return Err(wrong.into());
        };
        for option in self.forces.given().chain(self.strict.given()) {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let headline = asked::headlines(&opened, speed, None, plan);
        let outcome = Outcome::of(opened.car(), &opened.state, speed, &grips, headline);
        if let Some(path) = &self.svg.svg {
            crate::picture::balance(path, &opened, &units, speed)?;
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

//! Where the bias valve or the balance bar goes.

use engine::balance::{self, Purpose, Setting, Settings, Wish};
use engine::car::{KnobScale, Surface};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use engine::ranges::{Plan, Range, Study, study};

use crate::opened::Opened;
use crate::state::StateText;
use crate::trouble::Wrong;

/// How sure a row is: ranges of knee, knob and bar turns over the draws.
#[derive(Clone, Copy, Debug, Default)]
pub struct RowRange {
    /// Knee, in pascals.
    pub knee_pa: Option<Range>,
    /// Turns or position of the knob.
    pub knob: Option<Range>,
    /// Turns of the bar towards the front.
    pub bar_turns: Option<Range>,
}

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// A row a surface, fuel load and purpose.
    pub settings: Settings,
    /// How sure each row is.
    pub ranges: Vec<RowRange>,
    /// What is wanted at first lock, as it was written.
    pub wanted: String,
    /// Surfaces that the car competes on; empty: all.
    pub runs_on: Vec<std::sync::Arc<str>>,
}

/// What a drawn car answers for a row.
#[derive(Clone, Copy, Debug)]
struct Drawn {
    knee_pa: Option<f64>,
    knob: Option<f64>,
    bar_turns: Option<f64>,
}

impl Outcome {
    /// Of an opened car: every surface and fuel load that `said` does not narrow down.
    ///
    /// # Errors
    /// What is no wish.
    pub fn of(opened: &Opened, said: &StateText, wanted: &str, plan: Plan) -> Result<Self, Wrong> {
        let wish = crate::wish(wanted)?;
        let (car, state) = (opened.car(), &opened.state);
        let (surfaces, fuels) = (surfaces(opened, said), fuels(opened, said));
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
        Ok(Self {
            settings,
            ranges,
            wanted: wanted.trim().to_owned(),
            runs_on: car.runs_on.clone(),
        })
    }

    /// Surfaces that the car competes on; all where the sheet names none or one was asked for.
    #[must_use]
    pub fn shows(&self, row: &Setting) -> bool {
        let named = |name: &str| {
            self.runs_on
                .iter()
                .any(|known| known.to_lowercase() == name.to_lowercase())
        };
        let any = self.settings.rows.iter().any(|row| named(&row.surface));
        let one = self
            .settings
            .rows
            .iter()
            .all(|other| other.surface == row.surface);
        row.purpose == Purpose::Stage && (one || !any || named(&row.surface))
    }

    /// Why the settings are not those at which tied axles lock.
    #[must_use]
    pub fn tied_words(&self) -> &'static str {
        "The centre ties front to rear: under the pedal all four lock together, whatever is set, until an axle asks for \
         more than the tie carries. These settings are those of free axles."
    }

    /// Whether it can be set, in one sentence.
    #[must_use]
    pub fn sentence(&self, rows: &[(&Setting, &RowRange)]) -> String {
        let wanted = &self.wanted;
        let reached = rows.iter().filter(|(row, _)| row.reachable).count();
        let failing = rows
            .iter()
            .filter(|(row, _)| row.rear_first_below.is_some())
            .count();
        let mut said = match reached {
            0 => format!("{wanted}: nothing here can be set so."),
            all if all == rows.len() => format!("{wanted}: it can be set on every surface and load below."),
            some => format!("{wanted}: it can be set in {some} of {} cases below.", rows.len()),
        };
        if failing > 0 {
            said.push_str(" Right at one grip is not right at every: where a grip stands behind a row, the rear locks first below it.");
        }
        said
    }
}

/// One surface where one was asked for, all otherwise.
fn surfaces(opened: &Opened, said: &StateText) -> Vec<Surface> {
    if said.surface.is_some() || said.grip.is_some() {
        vec![opened.state.surface.clone()]
    } else {
        let car = opened.car();
        let runs_on = |surface: &Surface| {
            car.runs_on
                .iter()
                .any(|name| name.to_lowercase() == *surface.name)
        };
        let all = car.surfaces.iter();
        all.filter(|surface| !surface.is_by_name_only() || runs_on(surface))
            .cloned()
            .collect()
    }
}

fn fuels(opened: &Opened, said: &StateText) -> Vec<Fuel> {
    match (&said.fuel, opened.car().load.tank) {
        (Some(_), _) => vec![Fuel::Of(opened.state.laden.fuel)],
        (None, Some(_)) => vec![Fuel::Dry, Fuel::Half, Fuel::Full],
        (None, None) => vec![Fuel::Dry],
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
#[must_use]
pub fn counts_positions(scale: Option<KnobScale>) -> bool {
    matches!(scale, Some(KnobScale::Positions(_)))
}

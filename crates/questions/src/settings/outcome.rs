//! Where the bias valve or the balance bar goes.

use charts::{BarTurns, BarTurnsRow};
use engine::balance::{self, KneeAnswer, Purpose, SettingRow, Settings, Wish};
use engine::car::{KnobScale, Surface};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use engine::ranges::{Range, Study, study};
use quantity::si::Turns;

use wording::{Measured, Precision, Units};

use crate::opened::Opened;
use crate::options::{FUEL, GRIP, SURFACE, Said, WANTED};
use crate::question::Case;
use crate::trouble::Wrong;

/// What is wanted when nothing is said.
pub const USUAL_WISH: &str = "front-first 5 %";

/// Loads of fuel that are the same.
const SAME_FUEL_M3: f64 = 1e-9;

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
    /// On the ground and at the load that were asked about.
    pub here: SettingRow,
    /// How sure that is.
    pub here_range: RowRange,
    /// What decides the digits of its knee: always drawn alike, however the ranges are.
    pub here_known: Option<Range>,
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
    /// On the ground and at the load that are asked about, with what the knob counts in.
    ///
    /// # Errors
    /// What is no wish.
    pub(super) fn here(case: &Case<'_>) -> Result<(SettingRow, Option<KnobScale>), Wrong> {
        let wish = crate::wish(case.said.text(&WANTED).unwrap_or(USUAL_WISH))?;
        let (car, state) = (case.opened.car(), &case.opened.state);
        let mut found = balance::settings(
            car,
            &Hydraulics::of(car, state.conditions.warmth),
            core::slice::from_ref(&state.surface),
            &[Fuel::Of(state.laden.fuel)],
            state.conditions.aboard.crew,
            wish,
        );
        // One surface and one load give a row for the stage, before any other.
        Ok((found.rows.swap_remove(0), found.scale))
    }

    /// How far the knee is known on the ground and at the load that are asked about.
    fn known(case: &Case<'_>, wish: Wish) -> Option<Range> {
        if case.sampling.draws == 0 && !case.brief {
            return None;
        }
        let (opened, state) = (case.opened, &case.opened.state);
        let aboard = Aboard {
            crew: state.conditions.aboard.crew,
            fuel: Fuel::Of(state.laden.fuel),
        };
        let inputs = &opened.sheet.read.inputs;
        let drawn = study(inputs, &opened.assembled.toleranced, Precision::DRAWN, |car| {
            let laden = Laden::of(car, aboard);
            one_row(
                car,
                &Hydraulics::of(car, state.conditions.warmth),
                &laden,
                state.surface.peak,
                wish,
            )
        });
        drawn.range(|row| row.knee_pa)
    }

    /// The setting on the ground and at the load that are asked about, in at most four words.
    ///
    /// # Errors
    /// What is no wish.
    pub(super) fn short(case: &Case<'_>) -> Result<String, Wrong> {
        let (here, scale) = Self::here(case)?;
        let wish = crate::wish(case.said.text(&WANTED).unwrap_or(USUAL_WISH))?;
        let known = || Self::known(case, wish);
        Ok(in_short(&here, scale, &case.units, known))
    }

    /// Every surface and fuel load that was not narrowed down. While a handle moves, only what it moves.
    ///
    /// # Errors
    /// What is no wish.
    pub(super) fn of(case: &Case<'_>) -> Result<Self, Wrong> {
        let (opened, sampling) = (case.opened, case.sampling);
        let wanted = case.said.text(&WANTED).unwrap_or(USUAL_WISH);
        let wish = crate::wish(wanted)?;
        let (here, _) = Self::here(case)?;
        let (car, state) = (opened.car(), &opened.state);
        let (surfaces, fuels) = if case.brief {
            (vec![state.surface.clone()], vec![Fuel::Of(state.laden.fuel)])
        } else {
            (surfaces(opened, case.said), fuels(opened, case.said))
        };
        let hydraulics = Hydraulics::of(car, state.conditions.warmth);
        let settings = balance::settings(
            car,
            &hydraulics,
            &surfaces,
            &fuels,
            state.conditions.aboard.crew,
            wish,
        );
        let asked: Vec<(f64, Fuel)> = surfaces
            .iter()
            .flat_map(|surface| fuels.iter().map(|&fuel| (surface.peak, fuel)))
            .collect();
        let drawn: Study<Vec<Drawn>> = study(
            &opened.sheet.read.inputs,
            &opened.assembled.toleranced,
            sampling,
            |car| {
                let hydraulics = Hydraulics::of(car, state.conditions.warmth);
                asked
                    .iter()
                    .map(|&(grip, fuel)| {
                        let laden = Laden::of(
                            car,
                            Aboard {
                                crew: state.conditions.aboard.crew,
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
        let ranges: Vec<RowRange> = (0..settings.rows.len())
            .map(|row| {
                if row % every != 0 || sampling.draws == 0 {
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
        let here_range = settings
            .rows
            .iter()
            .zip(&ranges)
            .find_map(|(row, range)| is_same(row, &here).then_some(*range))
            .unwrap_or_default();
        Ok(Self {
            here,
            here_range,
            here_known: Self::known(case, wish),
            settings,
            ranges,
            wanted: wanted.trim().to_owned(),
            runs_on: car.runs_on.clone(),
        })
    }

    /// The picture of a car with a bar and no valve: where its bar goes; `None` of any other, and where no bar does it.
    pub(super) fn bar_drawn(&self, case: &Case<'_>) -> Option<BarTurns> {
        let rows: Vec<BarTurnsRow> = self
            .settings
            .rows
            .iter()
            .zip(&self.ranges)
            .filter(|(row, _)| self.shows(row))
            .filter_map(|(row, range)| {
                let bar = row.bar?;
                Some(BarTurnsRow {
                    ground: row.surface.to_string(),
                    load: format!("fuel {}", wording::fuel(row.laden.fuel, &case.units)),
                    turns: Turns::from_turns(bar.turns),
                    range: range
                        .bar_turns
                        .map(|range| [range.low, range.high].map(Turns::from_turns)),
                    figure: wording::turned::bar_ranged(bar.turns, range.bar_turns),
                    here: self.is_here(row),
                })
            })
            .collect();
        (case.opened.car().bias_valve.is_none() && !rows.is_empty()).then_some(BarTurns { rows })
    }

    /// Whether a row is the one on the ground and at the load that are asked about.
    #[must_use]
    pub fn is_here(&self, row: &SettingRow) -> bool {
        is_same(row, &self.here)
    }

    /// Surfaces that the car competes on; all where the sheet names none or one was asked for.
    #[must_use]
    pub fn shows(&self, row: &SettingRow) -> bool {
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
}

fn is_same(row: &SettingRow, here: &SettingRow) -> bool {
    row.purpose == Purpose::Stage
        && row.surface == here.surface
        && (row.laden.fuel.m3() - here.laden.fuel.m3()).abs() < SAME_FUEL_M3
}

/// One surface where one was asked for, all otherwise.
pub(crate) fn surfaces(opened: &Opened, said: &Said) -> Vec<Surface> {
    if said.has(&SURFACE) || said.has(&GRIP) {
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

/// The load that was asked for; dry, half and full otherwise.
pub(crate) fn fuels(opened: &Opened, said: &Said) -> Vec<Fuel> {
    match (said.has(&FUEL), opened.car().load.tank) {
        (true, _) => vec![Fuel::Of(opened.state.laden.fuel)],
        (false, Some(_)) => vec![Fuel::Dry, Fuel::Half, Fuel::Full],
        (false, None) => vec![Fuel::Dry],
    }
}

fn one_row(car: &engine::car::Car, hydraulics: &Hydraulics, laden: &Laden, grip: f64, wish: Wish) -> Drawn {
    let knee = match balance::knee_for(hydraulics, laden, grip, wish) {
        KneeAnswer::At(knee) => Some(knee),
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
pub(super) fn counts_positions(scale: Option<KnobScale>) -> bool {
    matches!(scale, Some(KnobScale::Positions(_)))
}

/// A setting in at most four words.
pub(super) fn in_short(
    row: &SettingRow,
    scale: Option<KnobScale>,
    units: &Units,
    known: impl FnOnce() -> Option<Range>,
) -> String {
    match (row.knob, row.bar, row.knee) {
        (Some(knob), ..) if counts_positions(scale) => format!("position {}", wording::whole(knob.floor())),
        (Some(knob), ..) => format!("{} turns in", wording::turns(knob)),
        (None, _, KneeAnswer::NoneNeeded) => "no valve needed".to_owned(),
        (None, Some(bar), _) => {
            let end = if bar.turns > 0.0 { "front" } else { "rear" };
            format!("bar {} turns {end}", wording::turns(bar.turns.abs()))
        }
        (None, None, KneeAnswer::At(knee)) if row.reachable => {
            let knee = Measured::new(knee.pa(), known(), units.pressure);
            format!("knee at {}", knee.value.text)
        }
        _ => "out of reach".to_owned(),
    }
}

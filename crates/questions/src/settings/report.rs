//! Where valve and bar go, as it is shown.

use engine::balance::{KneeAnswer, Purpose, SettingRow, WishFault};
use engine::car::Car;
use engine::ranges::Range;
use quantity::show;
use wording::{Measured, Units, turned};

use super::Ask;
use super::outcome::{Outcome, RowRange, counts_positions, in_short};
use crate::question::Case;
use crate::report::{Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Table};

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let (car, units) = (case.opened.car(), &case.units);
    let rows: Vec<(&SettingRow, &RowRange)> = outcome
        .settings
        .rows
        .iter()
        .zip(&outcome.ranges)
        .filter(|(row, _)| outcome.shows(row))
        .collect();
    let mut report = Report::of(&Ask, case, headline(car, outcome, &rows, units));
    // While a handle moves nobody reads on.
    if case.brief {
        return report;
    }
    let mut stage = Section::new("On the stage", "a row a surface and load", None)
        .with(Block::Table(table(outcome, &rows, units)));
    let cannot = reasons(&rows, units);
    if !cannot.is_empty() {
        stage = stage.with(Block::List(cannot));
    }
    let stages = outcome
        .settings
        .rows
        .iter()
        .filter(|row| row.purpose == Purpose::Stage);
    if rows.len() < stages.count() {
        stage = stage.with(Block::Text(
            "These are the surfaces that the car runs on; another can be asked for.".to_owned(),
        ));
    }
    report.section(stage);
    report.sections.extend(road(car, outcome, units));
    report.explain(&["knee_pa"]);
    report
}

fn headline(car: &Car, outcome: &Outcome, rows: &[(&SettingRow, &RowRange)], units: &Units) -> Headline {
    let here = &outcome.here;
    let stamp = wording::capital(&in_short(here, outcome.settings.scale, units, || {
        outcome.here_known
    }));
    let frame = if here.reachable {
        Frame::Solid
    } else {
        Frame::Heavy
    };
    let because = match (here.reachable, here.why_not) {
        (false, Some(why)) => short(why, units),
        _ => {
            let fuel = if car.load.tank.is_some() {
                format!(" with {} of fuel", wording::fuel(here.laden.fuel, units))
            } else {
                String::new()
            };
            format!("For {} on {}{fuel}.", outcome.wanted, here.surface)
        }
    };
    let mut though = Vec::new();
    though.extend(here.rear_first_below.map(|grip| {
        format!(
            "Set like this, the rear locks first below a grip of {}.",
            wording::ratio(grip)
        )
    }));
    if rows.len() > 1 {
        let reached = rows.iter().filter(|(row, _)| row.reachable).count();
        though.push(match reached {
            0 => "This cannot be set on any surface or load below.".to_owned(),
            all if all == rows.len() => "This can be set on every surface and load below.".to_owned(),
            some => format!("This can be set in {some} of the {} cases below.", rows.len()),
        });
    }
    if outcome.settings.tied {
        though.push(
            "The centre ties front to rear: all four lock together until an axle asks for more than the tie carries."
                .to_owned(),
        );
        though.push("These settings are for free axles.".to_owned());
    }
    Headline {
        stamp,
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures: figures(outcome, units),
        first: first(outcome, units),
    }
}

fn figures(outcome: &Outcome, units: &Units) -> Vec<Figure> {
    let (here, range) = (&outcome.here, &outcome.here_range);
    let mut figures = Vec::new();
    if let KneeAnswer::At(knee) = here.knee {
        figures.push(Figure {
            name: "knee of the valve",
            measured: Measured::known(knee.pa(), range.knee_pa, outcome.here_known, units.pressure),
            limit: None,
            working: Some("knee_pa"),
        });
    }
    if let Some(knob) = here.knob {
        let measured = |knob, range| {
            if counts_positions(outcome.settings.scale) {
                Measured::ratio(knob, range)
            } else {
                Measured::turns(knob, range)
            }
        };
        figures.push(Figure {
            name: "knob, in from fully out",
            measured: measured(knob, range.knob),
            limit: outcome.settings.stands.map(|stands| Limit {
                name: "now at",
                shown: measured(stands, None).value,
                side: Side::AtLeast,
            }),
            working: None,
        });
    }
    if let Some(bar) = here.bar {
        // Turns are counted towards the end that the bar is turned to.
        let (name, way) = if bar.turns < 0.0 {
            ("bar, towards the rear", -1.0)
        } else {
            ("bar, towards the front", 1.0)
        };
        let turns = range.bar_turns.map(|range| {
            let ends = [way * range.low, way * range.high];
            Range {
                low: ends[0].min(ends[1]),
                high: ends[0].max(ends[1]),
            }
        });
        figures.push(Figure {
            name,
            measured: Measured::turns(way * bar.turns, turns),
            limit: None,
            working: None,
        });
    }
    figures
}

/// What to do first.
fn first(outcome: &Outcome, units: &Units) -> Option<String> {
    let here = &outcome.here;
    if here.reachable {
        let said = turned::setting(here, outcome.here_known, &outcome.settings, units);
        return Some(crate::report::sentence(&said));
    }
    let said = match here.why_not? {
        WishFault::NeedsMoreRear { .. } => "Fit pads with more friction behind, or less of it in front.",
        WishFault::RearOffGround => "Ask for less grip, or for the front first.",
        WishFault::SlopeTooSteep => "Fit a valve with a flatter slope, or less brake behind.",
        WishFault::BelowRange { .. } => "Fit less brake behind, or a valve that begins lower.",
        WishFault::AboveRange { .. } => "Fit a valve that reaches higher, or leave it out.",
        WishFault::NoKnob => "Fit a valve with a knob, or one with that knee.",
        WishFault::NoValve { .. } => "Fit a bias valve in the rear line.",
        WishFault::BeyondBar => "Change a cylinder's bore: the bar alone is not enough.",
    };
    Some(said.to_owned())
}

/// Why not, in at most 14 words.
fn short(why: WishFault, units: &Units) -> String {
    const PA_PER_BAR: f64 = 1e5;
    let pressure = |bar: f64| wording::figure(bar * PA_PER_BAR, units.pressure);
    match why {
        WishFault::NeedsMoreRear { more } => {
            format!(
                "The rear needs {} more pressure than the pedal gives.",
                wording::per_cent(more / 100.0)
            )
        }
        WishFault::RearOffGround => "The rear axle leaves the ground before that.".to_owned(),
        WishFault::SlopeTooSteep => {
            "Even with its knee at zero the valve leaves the rear too strong.".to_owned()
        }
        WishFault::BelowRange { below_bar } => {
            format!("The knee is {} below what the knob reaches.", pressure(below_bar))
        }
        WishFault::AboveRange { above_bar } => {
            format!("The knee is {} above what the knob reaches.", pressure(above_bar))
        }
        WishFault::NoKnob => "This valve has no knob, and its knee is not the one wanted.".to_owned(),
        WishFault::NoValve { .. } => "There is no bias valve in the rear line.".to_owned(),
        WishFault::BeyondBar => "The bar would have to give everything to one cylinder.".to_owned(),
    }
}

fn reasons(rows: &[(&SettingRow, &RowRange)], units: &Units) -> Vec<String> {
    let mut reasons: Vec<String> = Vec::new();
    for (row, _) in rows.iter().filter(|(row, _)| !row.reachable) {
        if let Some(why) = row.why_not {
            let why = short(why, units);
            let said = format!("{}, {}: {why}", row.surface, wording::fuel(row.laden.fuel, units));
            if !reasons.contains(&said) {
                reasons.push(said);
            }
        }
    }
    reasons
}

fn table(outcome: &Outcome, rows: &[(&SettingRow, &RowRange)], units: &Units) -> Table {
    let bars = rows.iter().any(|(row, _)| row.bar.is_some());
    let knees = wording::column(
        rows.iter().filter_map(|(row, _)| match row.knee {
            KneeAnswer::At(knee) => Some(knee.pa()),
            _ => None,
        }),
        units.pressure,
    );
    let knob = if counts_positions(outcome.settings.scale) {
        "position"
    } else {
        "turns in"
    };
    let mut heads = vec!["ground", "fuel", "knee", knob];
    if bars {
        heads.push("bar turns to");
    }
    heads.push("rear first below");
    let cells = |row: &SettingRow, range: &RowRange| {
        let mut cells = vec![
            row.surface.to_string(),
            wording::fuel(row.laden.fuel, units),
            match row.knee {
                KneeAnswer::At(knee) if outcome.is_here(row) => {
                    Measured::new(knee.pa(), outcome.here_known, units.pressure)
                        .value
                        .text
                }
                KneeAnswer::At(knee) => show(knee.pa(), units.pressure, knees),
                KneeAnswer::NoneNeeded => "none needed".to_owned(),
                KneeAnswer::Cannot(_) => "cannot".to_owned(),
            },
            row.knob
                .map_or_else(|| "–".to_owned(), |knob| wording::ranged(knob, range.knob)),
        ];
        if bars {
            cells.push(row.bar.map_or_else(
                || "–".to_owned(),
                |bar| turned::bar_ranged(bar.turns, range.bar_turns),
            ));
        }
        cells.push(
            row.rear_first_below
                .map_or_else(|| "–".to_owned(), wording::ratio),
        );
        cells
    };
    Table {
        caption: format!("For {}", outcome.wanted),
        heads: heads.into_iter().map(str::to_owned).collect(),
        names_row: 0,
        rows: rows.iter().map(|(row, range)| cells(row, range).into()).collect(),
        of_words: false,
    }
}

/// What is wanted, and a row a surface and load for the dash: the stage's setting, and the road's where the car goes there.
pub(super) fn on_a_card(case: &Case<'_>, outcome: &Outcome) -> (String, Table) {
    let (settings, units) = (&outcome.settings, &case.units);
    let said = |row: &SettingRow| in_short(row, settings.scale, units, || outcome.here_known);
    let road = settings.rows.iter().find(|row| row.purpose == Purpose::Road);
    let mut heads = vec!["ground", "fuel", "stage"];
    if road.is_some() {
        heads.push("road");
    }
    let rows = settings.rows.iter().filter(|row| outcome.shows(row)).map(|row| {
        let mut cells = vec![
            row.surface.to_string(),
            wording::fuel(row.laden.fuel, units),
            said(row),
        ];
        cells.extend(road.map(said));
        cells.into()
    });
    let table = Table {
        caption: String::new(),
        heads: heads.into_iter().map(str::to_owned).collect(),
        names_row: 0,
        rows: rows.collect(),
        of_words: true,
    };
    (outcome.wanted.clone(), table)
}

/// The setting for public roads between stages.
fn road(car: &Car, outcome: &Outcome, units: &Units) -> Option<Section> {
    if !car.road_registered {
        return None;
    }
    let row = outcome
        .settings
        .rows
        .iter()
        .find(|row| row.purpose == Purpose::Road)?;
    let said = turned::setting(row, None, &outcome.settings, units);
    let mut facts = vec![Detail::new("road", said)];
    if let (Some(_), Some(bar)) = (row.knob, row.bar) {
        facts.push(Detail::new("or bar", turned::bar(bar.turns)));
    }
    let title = "On the road between stages: front first at every grip and load";
    let summary = in_short(row, outcome.settings.scale, units, || None);
    Some(Section::new(title, summary, None).with(Block::Details(facts)))
}

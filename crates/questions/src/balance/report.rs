//! The lock order, as it is shown.

use assess::is_open;
use engine::balance::First;
use engine::headline::Headlines;
use engine::ranges::Range;
use engine::thresholds::FOOT_LIMIT_ROAD;
use quantity::show;
use wording::{Measured, Precision, Units};

use super::outcome::{Outcome, first_word, one_circuit_gone};
use super::{Ask, LOCK_ORDER, UTILISATION};
use crate::opened::Opened;
use crate::question::Case;
use crate::report::{Block, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, Table, TableRow};

/// Figures that explain themselves.
const EXPLAINED: [&str; 4] = ["front_first_by", "braking_rate", "foot_force_n", "cg_height_m"];

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let (opened, units) = (case.opened, &case.units);
    let mut report = Report::of(&Ask, case, headline(case, outcome));
    // While a handle moves nobody reads on.
    if case.brief {
        return report;
    }
    report.section(
        Section::new(
            "First lock over grip",
            "which end, by how much, at what foot",
            None,
        )
        .with(Block::Table(locks(outcome, &case.precision(), units)))
        .with(Block::Picture(LOCK_ORDER)),
    );
    report.section(
        Section::new(
            "Share of its load that each axle uses",
            "over the deceleration",
            None,
        )
        .with(Block::Table(utilisation(outcome)))
        .with(Block::Picture(UTILISATION)),
    );
    report.sections.extend(super::bores::sections(
        opened,
        &outcome.bores,
        &case.precision(),
        units,
    ));
    report.sections.extend(road(opened, outcome));
    let gone = outcome
        .failed
        .iter()
        .map(|failed| one_circuit_gone(opened, failed, units));
    let foot = wording::figure(FOOT_LIMIT_ROAD.n(), units.force);
    report.section(
        Section::new(format!("One circuit gone, {foot} of foot"), "what is left", None)
            .with(Block::List(gone.collect())),
    );
    report.explain(&EXPLAINED);
    report
}

fn headline(case: &Case<'_>, outcome: &Outcome) -> Headline {
    let (opened, units, precision) = (case.opened, &case.units, case.precision());
    let drawn = outcome
        .headline
        .as_ref()
        .filter(|found| !found.drawn.answers.is_empty());
    let range = drawn.and_then(|found| found.range(|drawn| drawn.front_first_by));
    let chance = drawn.and_then(Headlines::chance_rear_first);
    let open = is_open(chance);
    let surface = &opened.state.surface.name;
    let (stamp, frame, because) = match (&outcome.here.at, outcome.here.first) {
        (None, _) | (_, First::Neither) => (
            "Nothing locks",
            Frame::Heavy,
            format!("Foot or pedal stroke ends before the grip of {surface} does."),
        ),
        (Some(point), first) => {
            let lead = wording::lead(point.front_first_by, range);
            let foot = precision.foot(point.foot, units);
            let known = point.front_first_by.is_finite();
            let leads = if known && range.is_some_and(|range| range.low < 0.0 && range.high > 0.0) {
                crate::report::sentence(&lead)
            } else if known {
                crate::report::sentence(&format!("{lead} at {foot} of foot"))
            } else {
                format!("The rear brakes do nothing yet at {foot} of foot.")
            };
            match first {
                First::Together => (
                    "All four together",
                    if point.front_first_by >= 0.0 {
                        Frame::Solid
                    } else {
                        Frame::Heavy
                    },
                    if known {
                        format!("With the centre free, {lead}.")
                    } else {
                        leads
                    },
                ),
                _ if open => ("Not yet known", Frame::Broken, leads),
                First::Rear => ("The rear first", Frame::Heavy, leads),
                _ => ("The front first", Frame::Solid, leads),
            }
        }
    };
    let mut though = Vec::new();
    if outcome.tied {
        though.push(
            "The centre ties front to rear: an axle stops alone only where its brakes outdo grip and coupling."
                .to_owned(),
        );
    }
    though.extend(chance.map(|chance| {
        format!(
            "The rear leads at first lock in {} of the cars that the tolerances allow.",
            wording::chance(chance)
        )
    }));
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures: figures(case, outcome, range, drawn),
        first: first(opened, outcome, open),
    }
}

fn figures(
    case: &Case<'_>,
    outcome: &Outcome,
    range: Option<Range>,
    drawn: Option<&Headlines>,
) -> Vec<Figure> {
    let Some(point) = &outcome.here.at else {
        return Vec::new();
    };
    let mut figures = Vec::new();
    if point.front_first_by.is_finite() {
        figures.push(Figure {
            name: "front leads by",
            measured: Measured::per_cent(point.front_first_by, range),
            limit: Some(Limit {
                name: "rear first below",
                shown: Measured::per_cent(0.0, None).value,
                side: Side::AtLeast,
            }),
            working: Some("front_first_by"),
        });
    }
    figures.push(Figure {
        name: "foot at first lock",
        measured: Measured::known(
            point.foot.n(),
            drawn.and_then(|found| found.range(|drawn| drawn.foot.map(|foot| foot.n()))),
            case.precision().foot,
            case.units.force,
        ),
        limit: None,
        working: Some("foot_force_n"),
    });
    figures.push(Figure {
        name: "share of the grip used",
        measured: Measured::per_cent(point.efficiency, None),
        limit: None,
        working: Some("braking_rate"),
    });
    figures
}

/// What to do first, where there is something.
fn first(opened: &Opened, outcome: &Outcome, open: bool) -> Option<String> {
    let said = match &outcome.here.at {
        None => "Look at the pedal: its travel, its booster, its ratio.",
        Some(_) if open => "Measure what the assessment names first.",
        Some(point) if point.front_first_by >= 0.0 => return None,
        Some(_) if opened.car().bias_valve.is_some() => {
            "Give the rear less: the question of the valve says how many turns."
        }
        Some(_) if outcome.twin => "Turn the bar to the front: the question of the valve says how far.",
        Some(_) => "Give the rear less: smaller rear pads or pistons, or a bias valve.",
    };
    Some(said.to_owned())
}

fn locks(outcome: &Outcome, precision: &Precision, units: &Units) -> Table {
    let points = || outcome.locks.iter().filter_map(|lock| lock.at.as_ref());
    let feet = wording::column(points().map(|point| point.foot.n()), units.force);
    let rears = wording::column(points().map(|point| point.rear.pa()), units.pressure);
    let row = |lock: &engine::balance::Lock| {
        let mut cells = vec![wording::ratio(lock.grip), first_word(lock).to_owned()];
        match &lock.at {
            None => cells.extend(["–"; 5].map(str::to_owned)),
            Some(point) => cells.extend([
                wording::margin(point.front_first_by),
                // On the ground that was asked about it is the answer's own figure.
                if lock.grip.total_cmp(&outcome.here.grip).is_eq() {
                    precision.foot(point.foot, units)
                } else {
                    show(point.foot.n(), units.force, feet)
                },
                wording::rate(point.rate),
                wording::per_cent(point.efficiency),
                show(point.rear.pa(), units.pressure, rears),
            ]),
        }
        TableRow {
            stroke: match lock.first {
                First::Front => Some(Stroke::Front),
                First::Rear => Some(Stroke::Rear),
                First::Together | First::Neither => None,
            },
            cells,
            ..TableRow::default()
        }
    };
    let heads = [
        "grip",
        "first",
        "front leads",
        "foot",
        "deceleration",
        "of grip",
        "rear brakes",
    ];
    Table {
        caption: "First lock, at the least foot force that stops a wheel".to_owned(),
        heads: heads.map(str::to_owned).to_vec(),
        names_row: 0,
        rows: outcome.locks.iter().map(row).collect(),
        of_words: false,
    }
}

fn utilisation(outcome: &Outcome) -> Table {
    let row = |used: &engine::balance::Utilisation| TableRow {
        stroke: (used.rear > used.front).then_some(Stroke::Rear),
        cells: vec![
            wording::rate(used.rate),
            wording::ratio(used.front),
            wording::ratio(used.rear),
            if used.rear > used.front { "rear" } else { "front" }.to_owned(),
        ],
        ..TableRow::default()
    };
    Table {
        caption: "Braking force over axle load".to_owned(),
        heads: ["at", "front", "rear", "more"].map(str::to_owned).to_vec(),
        names_row: 0,
        rows: outcome.utilisation.iter().step_by(2).map(row).collect(),
        of_words: false,
    }
}

fn road(opened: &Opened, outcome: &Outcome) -> Option<Section> {
    if !opened.car().road_registered {
        return None;
    }
    let said = |held: bool| if held { "yes" } else { "no" };
    let road = &outcome.road;
    Some(
        Section::new(
            "Road rule on utilisation",
            "UN Regulation 13-H, Annex 5; from memory",
            None,
        )
        .with(Block::Text(
            "UN Regulation 13-H, Annex 5; from memory.".to_owned(),
        ))
        .with(Block::List(vec![
            format!(
                "Rear below front from 0.15 to 0.80 g, as loaded: {}.",
                said(road.rear_below_front)
            ),
            format!(
                "Rear below front at every load: {}.",
                said(outcome.road_at_every_load)
            ),
            format!(
                "Least braking rate for what is used: {}.",
                said(road.least_rate_met)
            ),
        ])),
    )
}

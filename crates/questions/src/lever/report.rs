//! The lever's answer as it is shown.

use assess::is_open;
use engine::car::{Car, Centre};
use engine::figures::Headlined;
use engine::headline::Headlines;
use engine::lever::{LeverAnswer, ToLock, WhatStops};
use engine::thresholds::LATE;
use wording::{Measured, Precision, Units};

use super::Ask;
use super::outcome::{Outcome, coupling_facts, happens, torque_facts, what_it_takes};
use crate::question::Case;
use crate::report::{Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke};

/// What a latched lever is not.
const NOT_FOR_PARKING: &str =
    "A lever latched on pressure is not a parking brake: chocks, in gear, level ground.";

/// Figures that explain themselves.
const EXPLAINED: [&str; 6] = [
    "hand_force_n",
    "travel_m",
    "in_hand",
    "torque_needed_nm",
    "pressure_pa",
    "drag",
];

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let (car, units) = (case.opened.car(), &case.units);
    let mut report = Report::of(&Ask, case, headline(car, outcome, case));
    // While a handle moves nobody reads on.
    if case.brief {
        return report;
    }
    let precision = case.precision();
    report.section(handbrake(car, outcome, &precision, units));
    report.section(axle(outcome, units));
    report.sections.extend(centre(car, outcome));
    report
        .sections
        .extend(super::bores::sections(&outcome.bores, &precision, units));
    report.section(other_layout(outcome, &precision, units));
    report.caution(NOT_FOR_PARKING);
    report.explain(&EXPLAINED);
    report
}

fn headline(car: &Car, outcome: &Outcome, case: &Case<'_>) -> Headline {
    let (warm, cold) = (&outcome.answer.to_lock, &outcome.answer.cold);
    let drawn = outcome
        .headline
        .as_ref()
        .filter(|found| !found.drawn.answers.is_empty());
    let range = drawn.and_then(|found| found.range(|drawn| drawn.in_hand));
    let in_hand = Measured::per_cent(warm.in_hand, range);
    let over = &in_hand.value.text;
    let open = is_open(drawn.and_then(Headlines::chance_rear_stops));
    let (stamp, frame, because) = match warm.outcome {
        _ if open => (
            "Not yet known",
            Frame::Broken,
            format!(
                "The pull makes {} of the torque needed.",
                in_hand.range.map_or_else(|| over.clone(), |range| range.text)
            ),
        ),
        WhatStops::Rear if !warm.is_late() => (
            "The rear stops",
            Frame::Solid,
            format!("The pull makes {over} of the torque needed."),
        ),
        WhatStops::Rear => (
            "The rear stops late",
            Frame::Heavy,
            format!("The pull makes only {over} of the torque needed."),
        ),
        WhatStops::AllFour => (
            "All four stop",
            Frame::Heavy,
            "The centre drags the front wheels along, and the car ploughs straight on.".to_owned(),
        ),
        WhatStops::None => (
            "The rear rolls on",
            Frame::Heavy,
            format!("The pull makes {over} of the torque needed."),
        ),
    };
    let mut though = Vec::new();
    if warm.outcome == WhatStops::Rear && cold.in_hand < warm.in_hand {
        if cold.outcome == WhatStops::None {
            though.push("With cold brakes the rear rolls on.".to_owned());
        } else if cold.is_late() && !warm.is_late() {
            though.push("With cold brakes it stops late.".to_owned());
        }
    }
    for (reading, other) in &outcome.answer.also {
        if other.outcome != warm.outcome {
            though.push(format!(
                "If {}, {}.",
                wording::if_read(reading),
                happens(other.outcome)
            ));
        }
    }
    though.extend(drawn.and_then(::assess::rear_stops_in));
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: Vec::new(),
        figures: figures(car, outcome, case),
        first: Some(if open {
            "Measure what the assessment names first.".to_owned()
        } else {
            first(car, warm, cold).to_owned()
        }),
    }
}

/// The three figures, each against what there is.
fn figures(car: &Car, outcome: &Outcome, case: &Case<'_>) -> Vec<Figure> {
    let (warm, units, precision) = (&outcome.answer.to_lock, &case.units, case.precision());
    let range = |figure: Headlined| {
        let drawn = outcome.headline.as_ref();
        drawn.and_then(|found| found.range(|drawn| figure.of(drawn)))
    };
    let mut figures = vec![Figure {
        name: wording::headline_label(Headlined::InHand),
        measured: Measured::per_cent(warm.in_hand, range(Headlined::InHand)),
        limit: Some(Limit {
            name: "prompt from",
            shown: Measured::per_cent(LATE, None).value,
            side: Side::AtLeast,
        }),
        working: Some("in_hand"),
    }];
    if let Some(hand) = warm.hand {
        figures.push(Figure {
            name: wording::headline_label(Headlined::HandForce),
            measured: Measured::known(hand.n(), range(Headlined::HandForce), precision.hand, units.force),
            limit: Some(Limit {
                name: "driver's pull",
                shown: Measured::new(outcome.pull.hand.n(), None, units.force).value,
                side: Side::AtMost,
            }),
            working: Some("hand_force_n"),
        });
    }
    if let Some(travel) = warm.travel {
        figures.push(Figure {
            name: wording::headline_label(Headlined::Travel),
            measured: Measured::known(
                travel.m(),
                range(Headlined::Travel),
                precision.travel,
                units.length,
            ),
            limit: car.lever.as_ref().map(|lever| Limit {
                name: "room",
                shown: Measured::new(lever.room.m(), None, units.length).value,
                side: Side::AtMost,
            }),
            working: Some("travel_m"),
        });
    }
    figures
}

/// What to do first.
fn first(car: &Car, warm: &ToLock, cold: &ToLock) -> &'static str {
    let hydraulic = car.lever.as_ref().is_some_and(|lever| lever.cylinder().is_some());
    match (warm.outcome, warm.enough_force, warm.enough_travel) {
        (WhatStops::AllFour, ..) => "Fit a centre that lets go while the lever is pulled, or a softer one.",
        (WhatStops::None, _, _) if warm.hand.is_none() => {
            "Open the valve behind the lever, or put it before the lever."
        }
        (WhatStops::None, ..) if tied(warm) => {
            "Fit a centre that lets go while the lever is pulled, or a softer one."
        }
        (WhatStops::None, false, Some(false)) => {
            "Fit more brake behind: pads with more friction, or larger pistons."
        }
        (_, _, Some(false)) => "Find the lost travel: air, hoses, clearances. Then try a larger cylinder.",
        (WhatStops::None, false, _) if hydraulic => "Try a smaller lever cylinder, or a longer lever.",
        (WhatStops::None, ..) => "Try a longer lever.",
        (WhatStops::Rear, ..) if warm.is_late() || cold.is_late() => {
            "Try pads that bite cold, or a smaller lever cylinder where there is travel to spare."
        }
        (WhatStops::Rear, ..) => "Try it at walking pace, in a safe place.",
    }
}

/// Whether the centre takes more of the torque than the ground.
fn tied(to_lock: &ToLock) -> bool {
    to_lock.of_which_coupling.nm() > to_lock.torque_needed.nm() / 2.0
}

fn handbrake(car: &Car, outcome: &Outcome, precision: &Precision, units: &Units) -> Section {
    let mut facts = Vec::new();
    if let Some(lever) = &car.lever {
        facts.push(Detail::new(
            "there is",
            format!(
                "{} of hand, {} of room at the grip",
                wording::pull(outcome.pull.hand, units),
                wording::figure(lever.room.m(), units.length)
            ),
        ));
    }
    facts.push(Detail::new(
        "warm",
        what_it_takes(&outcome.answer.to_lock, precision, units),
    ));
    facts.push(Detail::new(
        "cold",
        what_it_takes(&outcome.answer.cold, precision, units),
    ));
    Section::new(
        "Handbrake: to stop the rear wheels",
        "warm and cold",
        Some(Stroke::Hand),
    )
    .with(Block::Details(facts))
}

fn axle(outcome: &Outcome, units: &Units) -> Section {
    let facts = torque_facts(&outcome.answer.to_lock, units);
    Section::new("Rear axle, locked", "torque and load", Some(Stroke::Rear)).with(named(facts))
}

fn centre(car: &Car, outcome: &Outcome) -> Option<Section> {
    if car.drivetrain.centre == Centre::None {
        return None;
    }
    let facts = coupling_facts(car, &outcome.answer);
    Some(Section::new("Centre", "what it drags, and how it was read", None).with(named(facts)))
}

fn other_layout(outcome: &Outcome, precision: &Precision, units: &Units) -> Section {
    let Some((layout, other)) = &outcome.other else {
        return Section::new("No other layout beside it", outcome.no_other, None)
            .with(Block::Text(crate::report::sentence(outcome.no_other)));
    };
    let said = |answer: &LeverAnswer| {
        [
            what_it_takes(&answer.to_lock, precision, units),
            what_it_takes(&answer.cold, precision, units),
        ]
    };
    let [warm, cold] = said(other);
    let section = Section::new(format!("The {layout} layout instead"), "warm and cold", None);
    if said(&outcome.answer) == [warm.clone(), cold.clone()] {
        return section.with(Block::Text("It takes the same, warm and cold.".to_owned()));
    }
    section.with(Block::Details(vec![
        Detail::new("warm", warm),
        Detail::new("cold", cold),
    ]))
}

fn named(facts: Vec<(&'static str, String)>) -> Block {
    Block::Details(
        facts
            .into_iter()
            .map(|(name, text)| Detail::new(name, text))
            .collect(),
    )
}

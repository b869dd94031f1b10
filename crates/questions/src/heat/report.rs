//! The heat's answer as it is shown.

use assess::{Finding, is_open};
use engine::car::Axle;
use engine::heat::{CornerHeat, HeatFigures};
use engine::thresholds::{FADED_BELOW, LITTLE_LEFT, STILL_MOVING};
use quantity::si::{Temperature, TemperatureDifference};
use quantity::{Dimension, Unit, find_unit, units_of};
use wording::{Measured, apart, minutes};

use super::Ask;
use super::outcome::{Outcome, axle, change, governs, to_do};
use crate::question::Case;
use crate::report::{Block, Detail, Figure, Frame, Headline, Limit, Report, Section, Side, Stroke, sentence};

/// What the reading leaves out.
const LEFT_OUT: &str = "Air, tyres and engine are left out while the brakes are on: a little more heat than there is. The brakes \
     begin as cold as the air, and no wheel is taken to lock.";

/// What is on no sheet.
const UNSURE: &str = "What the air takes and what reaches the caliper is from memory. The ranges count it: 30 % and 40 % either way.";

pub(super) fn celsius() -> Unit {
    find_unit("C", Dimension::Temperature).unwrap_or(units_of(Dimension::Temperature)[0])
}

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let mut report = Report::of(&Ask, case, headline(case, outcome));
    report.findings = findings(case, outcome);
    // While a handle moves nobody reads on.
    if case.brief {
        return report;
    }
    report.section(stage(outcome));
    report.section(corner(outcome, Axle::Front));
    report.section(corner(outcome, Axle::Rear));
    report.section(fluid(outcome));
    report.sections.extend(helps(outcome));
    report.section(
        Section::new("What is counted", "and what is not", None)
            .with(Block::Text(LEFT_OUT.to_owned()))
            .with(Block::Text(UNSURE.to_owned())),
    );
    report.explain(&[
        "disc_peak_k",
        "cooling_time_s",
        "fluid_running_k",
        "fluid_soak_k",
        "fluid_margin_now_dk",
    ]);
    report.caution("Hot fluid and hot discs burn. Let them cool before anything is opened or touched.");
    report
}

fn findings(case: &Case<'_>, outcome: &Outcome) -> Vec<Finding> {
    assess::heat(case.opened.car(), outcome.heat(), &outcome.helps)
}

/// The hottest fluid of a corner.
fn hottest(corner: &CornerHeat) -> Temperature {
    corner.fluid_running.max(corner.fluid_soak)
}

fn headline(case: &Case<'_>, outcome: &Outcome) -> Headline {
    let heat = outcome.heat();
    let figures = HeatFigures::of(heat);
    let worse = if heat.rear.to_wet < heat.front.to_wet {
        Axle::Rear
    } else {
        Axle::Front
    };
    let at = heat.corner(worse);
    let when = if at.fluid_soak > at.fluid_running {
        "in the soak"
    } else {
        "while driving"
    };
    let fluid = |limit: &str, boils: Temperature| {
        sentence(&format!(
            "{} fluid: {} {when}; it boils at {} {limit}",
            axle(worse),
            wording::celsius(hottest(at)),
            wording::celsius(boils)
        ))
    };
    let chance = outcome.chance_boils();
    let left_tables = heat.front.left_tables || heat.rear.left_tables;
    let given_up = heat.drags.and_then(|drags| drags.ends_at);
    let (stamp, frame, because) = if let Some(ends) = given_up {
        (
            "The rear drags",
            Frame::Heavy,
            format!(
                "After {} the rear drags too hard to drive: the by-pass stays covered.",
                minutes(ends)
            ),
        )
    } else if is_open(chance) {
        ("Not yet known", Frame::Broken, fluid("now", heat.boiling.now))
    } else if figures.to_now.dk() < 0.0 {
        ("The fluid boils", Frame::Heavy, fluid("now", heat.boiling.now))
    } else if figures.to_wet.dk() < 0.0 {
        (
            "Only with fresh fluid",
            Frame::Heavy,
            fluid("wet", heat.boiling.wet),
        )
    } else if figures.to_fade.dk() < 0.0 {
        let worse = if heat.rear.to_fade < heat.front.to_fade {
            Axle::Rear
        } else {
            Axle::Front
        };
        let disc = heat.corner(worse).disc_peak;
        (
            "The pads fade",
            Frame::Heavy,
            format!(
                "The {} discs or drums reach {}: more than the pads stand.",
                axle(worse),
                wording::celsius(disc)
            ),
        )
    } else if left_tables {
        (
            "Hotter than known",
            Frame::Heavy,
            format!(
                "A disc or drum reaches {}: beyond what is known.",
                wording::celsius(heat.front.disc_peak.max(heat.rear.disc_peak))
            ),
        )
    } else {
        (
            "It stays cool enough",
            Frame::Solid,
            fluid("wet", heat.boiling.wet),
        )
    };
    let mut though = Vec::new();
    if let Some(chance) = chance.filter(|chance| *chance > 0.0) {
        though.push(format!(
            "The fluid boils in {} of the cars that the tolerances allow.",
            wording::chance(chance)
        ));
    }
    if left_tables && stamp != "Hotter than known" {
        though.push("It gets hotter than iron or pads are known for.".to_owned());
    }
    if heat.ends_at > STILL_MOVING && given_up.is_none() {
        though.push(format!(
            "The stage ends at {}: the stop after that is not counted.",
            wording::speed(heat.ends_at)
        ));
    }
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though,
        stops_first: crate::report::stops(&findings(case, outcome), &["fluid-boils", "heat-drags"]),
        figures: shown(case, outcome),
        first: Some(first(outcome)),
    }
}

fn shown(case: &Case<'_>, outcome: &Outcome) -> Vec<Figure> {
    let (heat, heats) = (outcome.heat(), &outcome.heats);
    let unit = celsius();
    let limit = |name: &'static str, at: Temperature| Limit {
        name,
        shown: Measured::degrees(at.k(), None, unit).value,
        side: Side::AtMost,
    };
    let fluid = hottest(&heat.front).max(hottest(&heat.rear));
    let fluid_range = heats.range(|drawn| hottest(&drawn.front).max(hottest(&drawn.rear)).k());
    let disc = heat.front.disc_peak.max(heat.rear.disc_peak);
    let fades = if heat.rear.disc_peak > heat.front.disc_peak {
        heat.rear.fades_at
    } else {
        heat.front.fades_at
    };
    let mut figures = vec![
        Figure {
            name: "hottest fluid",
            measured: Measured::degrees(fluid.k(), fluid_range, unit),
            limit: Some(limit("boils wet", heat.boiling.wet)),
            working: Some("fluid_margin_now_dk"),
        },
        Figure {
            name: "hottest disc or drum",
            measured: Measured::degrees(disc.k(), heats.range(|drawn| drawn.disc_peak.k()), unit),
            limit: Some(limit("pads fade at", fades)),
            working: Some("disc_peak_k"),
        },
    ];
    if let Some(foot) = heat.foot {
        figures.push(Figure {
            name: "foot at its hardest",
            measured: Measured::new(foot.most.n(), None, case.units.force),
            limit: None,
            working: None,
        });
    }
    figures
}

fn first(outcome: &Outcome) -> String {
    let heat = outcome.heat();
    if heat.drags.is_some_and(|drags| drags.felt_at.is_some()) {
        return "Give the lever free play, so that its by-pass opens at rest.".to_owned();
    }
    match outcome.helps.first() {
        Some(help) if heat.governs.left < LITTLE_LEFT => sentence(&format!(
            "{}: {} more in hand",
            to_do(help.change),
            apart(help.gains)
        )),
        _ => "Read the discs with a thermometer or paint after a real run, and compare.".to_owned(),
    }
}

fn stage(outcome: &Outcome) -> Section {
    let (stage, heat) = (&outcome.stage, outcome.heat());
    let mut facts = vec![Detail::new("driven", &*stage.name)];
    if !stage.about.is_empty() {
        facts.push(Detail::new("it is", &*stage.about));
    }
    facts.push(Detail::new(
        "way",
        format!(
            "{} in {}, {} brakings",
            wording::kilometres(heat.distance),
            minutes(heat.driven),
            stage.brakings()
        ),
    ));
    facts.push(Detail::new("air", wording::celsius(outcome.conditions.ambient)));
    if heat.front_share.is_finite() {
        facts.push(Detail::new(
            "heat",
            format!(
                "{}\u{a0}MJ, {} of it in front",
                wording::whole(heat.account.made_j / 1e6),
                wording::per_cent(heat.front_share)
            ),
        ));
    }
    if let Some(foot) = heat.foot.filter(|foot| foot.over_warm > 1.005) {
        facts.push(Detail::new(
            "foot",
            format!(
                "fade asks for up to {} of what warm pads take",
                wording::per_cent(foot.over_warm)
            ),
        ));
    }
    if let Some(drags) = heat.drags {
        facts.push(Detail::new(
            "drag",
            match (drags.felt_at, drags.ends_at) {
                (Some(felt), Some(ends)) => format!(
                    "the lever has no free play; the rear drags from {} on, and too hard to drive after {}",
                    minutes(felt),
                    minutes(ends)
                ),
                (Some(felt), None) => format!(
                    "the lever has no free play; the rear drags from {} on",
                    minutes(felt)
                ),
                _ => "the lever has no free play; in this stage nothing drags".to_owned(),
            },
        ));
    }
    Section::new(
        "The stage",
        format!("{}, {}", stage.name, minutes(heat.driven)),
        None,
    )
    .with(Block::Details(facts))
}

fn corner(outcome: &Outcome, axle: Axle) -> Section {
    let corner = outcome.heat().corner(axle);
    let (title, stroke) = match axle {
        Axle::Front => ("Each front wheel", Stroke::Front),
        Axle::Rear => ("Each rear wheel", Stroke::Rear),
    };
    let mut facts = vec![
        Detail::new(
            "disc",
            format!(
                "up to {}, after {}",
                wording::celsius(corner.disc_peak),
                minutes(corner.disc_peak_at)
            ),
        ),
        Detail::new(
            "running",
            format!("fluid up to {}", wording::celsius(corner.fluid_running)),
        ),
        Detail::new(
            "soak",
            format!(
                "up to {}, {} after stopping",
                wording::celsius(corner.fluid_soak),
                minutes(corner.fluid_soak_at)
            ),
        ),
        Detail::new("boiling", boiling(corner)),
        Detail::new(
            "pads",
            if corner.to_fade.dk() < 0.0 {
                format!(
                    "{} beyond where {} of the warm friction is left; at worst {}",
                    apart(corner.to_fade),
                    wording::per_cent(FADED_BELOW),
                    wording::per_cent(corner.fade_worst)
                )
            } else {
                format!(
                    "{} in hand until {} of the warm friction is left",
                    apart(corner.to_fade),
                    wording::per_cent(FADED_BELOW)
                )
            },
        ),
    ];
    if corner.left_tables {
        facts.push(Detail::new(
            "beyond",
            "hotter than iron (700\u{a0}°C) or the pads' curve is known: read as much too hot, not by how much",
        ));
    }
    Section::new(
        title,
        format!(
            "disc {}, fluid {}",
            wording::celsius(corner.disc_peak),
            wording::celsius(hottest(corner))
        ),
        Some(stroke),
    )
    .with(Block::Details(facts))
}

fn boiling(corner: &CornerHeat) -> String {
    let one = |left: TemperatureDifference, which: &str| {
        if left.dk() >= 0.0 {
            format!("{} in hand {which}", apart(left))
        } else {
            format!("{} too hot {which}", apart(left))
        }
    };
    format!(
        "{}, {}, {}",
        one(corner.to_wet, "wet"),
        one(corner.to_now, "at its age"),
        one(corner.to_dry, "dry")
    )
}

fn fluid(outcome: &Outcome) -> Section {
    let boiling = &outcome.heat().boiling;
    let age = match boiling.days {
        Some(days) => format!("{} at {} days", wording::celsius(boiling.now), days),
        None => format!(
            "{}: nobody knows its age, so it counts as wet",
            wording::celsius(boiling.now)
        ),
    };
    Section::new(
        "The fluid",
        format!("boils at {} now", wording::celsius(boiling.now)),
        None,
    )
    .with(Block::Details(vec![
        Detail::new("dry", wording::celsius(boiling.dry)),
        Detail::new("wet", wording::celsius(boiling.wet)),
        Detail::new("now", age),
    ]))
}

fn helps(outcome: &Outcome) -> Option<Section> {
    let heat = outcome.heat();
    if outcome.helps.is_empty() {
        return None;
    }
    let what = governs(&heat.governs);
    let facts = outcome
        .helps
        .iter()
        .map(|help| {
            let left = if help.left.dk() >= 0.0 {
                format!("{} then in hand", apart(help.left))
            } else {
                format!("still {} too hot", apart(help.left))
            };
            Detail::new(
                format!("+{}", apart(help.gains)),
                format!("{}; {left}", change(help.change)),
            )
        })
        .collect();
    Some(
        Section::new("What would help", format!("what governs: {what}"), None)
            .with(Block::Text(sentence(&format!("what governs: {what}"))))
            .with(Block::Details(facts)),
    )
}

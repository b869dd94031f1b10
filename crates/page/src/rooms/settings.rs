//! "Where do I set the valve?": the knob or the bar for every surface and fuel load, stage and road.

use engine::balance::{KneeAnswer, Purpose, Setting, settings};
use engine::hydraulics::Hydraulics;
use maud::{Markup, html};
use quantity::show;
use quantity::si::Force;
use questions::answers::settings::{Outcome, RowRange, counts_positions};

use super::Room;
use crate::frame::Said;
use crate::handles::Handle;
use crate::parts;
use crate::visit::Visit;
use questions::options::{COLD, FUEL, GRIP, NO_CREW, SURFACE, VALVE, WANTED};

/// A foot that brakes hard, in newtons.
const FOOT: Force = Force::from_n(300.0);

pub(crate) struct Settings;

impl Room for Settings {
    fn slug(&self) -> &'static str {
        "settings"
    }

    fn question(&self) -> &'static str {
        "Where do I set the valve?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        let (car, state) = (visit.opened.car(), &visit.opened.state);
        let Ok(wish) = questions::wish(visit.wanted()) else {
            return String::new();
        };
        let hydraulics = Hydraulics::of(car, state.warmth);
        let found = settings(
            car,
            &hydraulics,
            std::slice::from_ref(&state.surface),
            &[visit.fuel()],
            state.crew,
            wish,
        );
        found.rows.first().map_or_else(String::new, |row| {
            wording::turned::setting(row, &found, &visit.units)
        })
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        vec![
            Handle::of(&WANTED),
            Handle::of(&VALVE),
            Handle::of(&SURFACE),
            Handle::of(&GRIP),
            Handle::of(&FUEL),
            Handle::of(&NO_CREW),
            Handle::of(&COLD),
        ]
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        // While a handle moves, only the ground and the load that it stands on.
        let asking = if visit.asking.part {
            visit
                .asking
                .and("surface", &visit.opened.state.surface.name)
                .and("fuel", visit.asking.get("fuel").unwrap_or("half"))
        } else {
            visit.asking.clone()
        };
        let no_tank = visit.opened.car().load.tank.is_none();
        let mut said = asking.said(false).state(visit.desk.today());
        if no_tank {
            said.fuel = None;
        }
        let found = Outcome::of(&visit.opened, &said, visit.wanted(), visit.plan()).ok();
        let (answer, more) = found.as_ref().map_or_else(
            || (html! {}, html! {}),
            |outcome| {
                let rows = shown(outcome);
                (answer(visit, outcome, &rows), more(visit, outcome, &rows))
            },
        );
        Said {
            answer,
            plan: Some(super::plan(visit, FOOT, Force::ZERO)),
            picture: Some(parts::picture(visit, "valve-curve", |look| {
                questions::picture::settings(&visit.opened, look)
            })),
            more: if visit.asking.part {
                html! {}
            } else {
                more
            },
        }
    }
}

fn shown(outcome: &Outcome) -> Vec<(&Setting, &RowRange)> {
    outcome
        .settings
        .rows
        .iter()
        .zip(&outcome.ranges)
        .filter(|(row, _)| outcome.shows(row))
        .collect()
}

fn answer(visit: &Visit<'_>, outcome: &Outcome, rows: &[(&Setting, &RowRange)]) -> Markup {
    let here = rows
        .iter()
        .find(|(row, _)| row.surface == visit.opened.state.surface.name);
    html! {
        @if visit.asking.part {
            @if let Some((row, _)) = here {
                p class="sentence" {
                    (visit.wanted()) " on " (row.surface) " with " (wording::fuel(row.laden.fuel, &visit.units)) " of fuel: "
                    (wording::turned::setting(row, &outcome.settings, &visit.units))
                    @if let KneeAnswer::At(knee) = row.knee { ", a knee of " (wording::figure(knee.pa(), visit.units.pressure)) }
                    @if let Some(grip) = row.rear_first_below { "; below a grip of " (wording::ratio(grip)) " the rear locks first" }
                    "."
                }
            }
        } @else {
            p class="sentence" { (outcome.sentence(rows)) }
        }
        @if outcome.settings.tied {
            p { (outcome.tied_words()) }
        }
        @if let Some((_, setting)) = visit.knob() {
            p {
                @if counts_positions(outcome.settings.scale) { "It stands at position " (format!("{setting:.0}")) "." }
                @else { "It stands at " (format!("{setting:.2}")) " turns in from fully out." }
            }
        }
    }
}

fn more(visit: &Visit<'_>, outcome: &Outcome, rows: &[(&Setting, &RowRange)]) -> Markup {
    let road = outcome
        .settings
        .rows
        .iter()
        .find(|row| row.purpose == Purpose::Road);
    let mut reasons: Vec<String> = Vec::new();
    for (row, _) in rows.iter().filter(|(row, _)| !row.reachable) {
        if let Some(why) = row.why_not {
            let said = format!(
                "{}, {}: {why}",
                row.surface,
                wording::fuel(row.laden.fuel, &visit.units)
            );
            if !reasons.contains(&said) {
                reasons.push(said);
            }
        }
    }
    html! {
        section aria-labelledby="settings" {
            h2 id="settings" { "On the stage" }
            (table(visit, outcome, rows))
            @if !reasons.is_empty() {
                h3 { "Cannot" }
                ul { @for why in &reasons { li { (why) } } }
            }
            @if rows.len() < outcome.settings.rows.iter().filter(|row| row.purpose == Purpose::Stage).count() {
                p { "These are the surfaces that the car runs on; choose another above." }
            }
        }
        @if visit.opened.car().road_registered && let Some(road) = road {
            section aria-labelledby="road" {
                h2 id="road" { "On the road between stages: front first at every grip and load" }
                p class="sentence" { (wording::turned::setting(road, &outcome.settings, &visit.units)) }
                @if let Some(why) = road.why_not { p { (why) } }
            }
        }
        section aria-labelledby="workings" {
            h2 id="workings" { "Workings" }
            (parts::unfolds(visit, "knee_pa"))
        }
    }
}

fn table(visit: &Visit<'_>, outcome: &Outcome, rows: &[(&Setting, &RowRange)]) -> Markup {
    let bars = rows.iter().any(|(row, _)| row.bar.is_some());
    let positions = counts_positions(outcome.settings.scale);
    let knees = wording::column(
        rows.iter().filter_map(|(row, _)| match row.knee {
            KneeAnswer::At(knee) => Some(knee.pa()),
            _ => None,
        }),
        visit.units.pressure,
    );
    let mut head = vec![
        "Ground",
        "Fuel",
        "Knee",
        if positions { "Position" } else { "Turns in" },
    ];
    if bars {
        head.push("Bar turns to");
    }
    head.push("Rear first below");
    let texts: Vec<Vec<String>> = rows
        .iter()
        .map(|(row, range)| {
            let mut cells = vec![
                row.surface.to_string(),
                wording::fuel(row.laden.fuel, &visit.units),
                match row.knee {
                    KneeAnswer::At(knee) => show(knee.pa(), visit.units.pressure, knees),
                    KneeAnswer::NoneNeeded => "none needed".to_owned(),
                    KneeAnswer::Cannot(_) => "cannot".to_owned(),
                },
                row.knob
                    .map_or_else(|| "–".to_owned(), |knob| wording::ranged(knob, range.knob)),
            ];
            if bars {
                cells.push(row.bar.map_or_else(
                    || "–".to_owned(),
                    |bar| wording::turned::bar_ranged(bar.turns, range.bar_turns),
                ));
            }
            cells.push(
                row.rear_first_below
                    .map_or_else(|| "–".to_owned(), wording::ratio),
            );
            cells
        })
        .collect();
    parts::rows(&format!("For {}", outcome.wanted), &head, &texts)
}

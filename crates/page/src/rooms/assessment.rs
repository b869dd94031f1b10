//! "Will it work in this car?": the sentence, the findings, the headline figures, what to measure, what comes out.

use assess::Verdict;
use charts::RangeBar;
use engine::figures::Headlined;
use engine::ranges::Range;
use maud::{Markup, html};
use quantity::si::Force;
use quantity::{Dimension, Unit, find_unit, units_of};
use questions::answers::assessment::Outcome;
use questions::report::Frame;
use questions::sure;

use super::Room;
use crate::frame::Said;
use crate::handles::Handle;
use crate::visit::Visit;
use crate::{look, parts};
use questions::options::{COLD, FUEL, GRIP, NO_CREW, SPEED, SURFACE, VALVE};

pub(crate) struct Assessment;

impl Room for Assessment {
    fn slug(&self) -> &'static str {
        "assessment"
    }

    fn question(&self) -> &'static str {
        "Will it work in this car?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        let Some(outcome) = visit.glanced() else {
            return String::new();
        };
        let (word, _) = stamp(outcome.assessment.verdict);
        let word = word.to_lowercase();
        match outcome.assessment.stops().count() {
            0 => word.to_owned(),
            1 => format!("stop first; then {word}"),
            many => format!("{many} stops first; then {word}"),
        }
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        vec![
            Handle::of(&SURFACE),
            Handle::of(&GRIP),
            Handle::of(&FUEL),
            Handle::of(&VALVE),
            Handle::of(&SPEED),
            Handle::of(&NO_CREW),
            Handle::of(&COLD),
        ]
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let plan = super::plan(visit, Force::ZERO, visit.pull());
        let Some(outcome) = visit.assessed() else {
            return Said {
                answer: html! {},
                plan: Some(plan),
                picture: None,
                more: html! {},
            };
        };
        Said {
            answer: answer(visit, outcome),
            plan: Some(plan),
            picture: Some(headline(visit, outcome)),
            more: if visit.asking.part {
                html! {}
            } else {
                more(visit, outcome)
            },
        }
    }
}

/// The verdict in at most four words, and its frame.
pub(crate) const fn stamp(verdict: Verdict) -> (&'static str, Frame) {
    match verdict {
        Verdict::Yes => ("Yes", Frame::Solid),
        Verdict::Half => ("Half", Frame::Heavy),
        Verdict::NotWithThisCentre => ("Not with this centre", Frame::Heavy),
        Verdict::No => ("No", Frame::Heavy),
        Verdict::Open => ("Too little is known", Frame::Broken),
        Verdict::NoLever => ("No handbrake", Frame::Broken),
    }
}

pub(crate) fn answer(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let headlines = Some(&outcome.figures.headlines);
    let (word, frame) = stamp(outcome.assessment.verdict);
    html! {
        (look::stamp(word, frame))
        p class="sentence" { (parts::coded(&outcome.assessment.answer)) }
        @for said in [sure::balance(headlines), sure::lever(headlines, &visit.units)].into_iter().flatten() {
            p { (said) }
        }
    }
}

/// The headline figures as bars, each with its working behind it.
fn headline(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let bars = figures(visit, outcome);
    html! {
        h2 { "The figures it turns on" }
        div class="figures" {
            @for (key, bar) in &bars {
                div class="figure" { (drawn(visit, key, bar)) (parts::unfolds(visit, key)) }
            }
        }
        details class="as-table" {
            summary { "The same as a table" }
            (as_table(&bars))
        }
    }
}

/// The same without anything to unfold.
pub(crate) fn bars(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let bars = figures(visit, outcome);
    html! {
        div class="figures" { @for (key, bar) in &bars { (drawn(visit, key, bar)) } }
        (as_table(&bars))
    }
}

fn drawn(visit: &Visit<'_>, key: &str, bar: &RangeBar) -> Markup {
    let id = format!("bar-{}", key.replace('_', "-"));
    let (shown, _) = parts::drawn(visit, &id, |look| bar.draw(look));
    html! { figure class="drawn" id=(id) { (shown) } }
}

fn as_table(bars: &[(&'static str, RangeBar)]) -> Markup {
    let rows: Vec<Vec<String>> = bars
        .iter()
        .map(|(_, bar)| {
            let show = |si: f64| wording::figure(si, bar.unit);
            let range = |end: fn(&Range) -> f64| {
                bar.range
                    .as_ref()
                    .map_or_else(|| "–".to_owned(), |range| show(end(range)))
            };
            vec![
                bar.name.clone(),
                show(bar.middle_si),
                range(|range| range.low),
                range(|range| range.high),
                bar.limit
                    .as_ref()
                    .map_or_else(|| "–".to_owned(), |(what, si)| format!("{what}: {}", show(*si))),
            ]
        })
        .collect();
    parts::rows(
        "The figures it turns on",
        &[
            "Figure",
            "As the sheet has it",
            "5 % lie below",
            "95 % lie below",
            "Against",
        ],
        &rows,
    )
}

/// The headline figures, each under its name in machine-read results.
fn figures(visit: &Visit<'_>, outcome: &Outcome) -> Vec<(&'static str, RangeBar)> {
    let headlines = &outcome.figures.headlines;
    let middle = &headlines.middle;
    let percent = find_unit("%", Dimension::Ratio).unwrap_or(units_of(Dimension::Ratio)[0]);
    let bare = units_of(Dimension::Ratio)[0];
    let lever = visit.opened.car().lever.as_ref();
    let guessed = visit.opened.assembled.leaned.iter().any(|leaned| leaned.guess);
    let one =
        |name: &str, key: &'static str, figure: Headlined, middle_si: Option<f64>, unit: Unit, limit| {
            middle_si.map(|middle_si| {
                let bar = RangeBar {
                    name: name.to_owned(),
                    unit,
                    middle_si,
                    range: headlines.range(|headline| figure.of(headline)),
                    limit,
                    guessed,
                };
                (key, bar)
            })
        };
    let bars = [
        one(
            "The front leads at first lock by",
            "front_first_by",
            Headlined::FrontFirstBy,
            middle.front_first_by,
            percent,
            Some(("even".to_owned(), 0.0)),
        ),
        one(
            "Torque there is over torque it takes",
            "in_hand",
            Headlined::InHand,
            middle.in_hand,
            bare,
            Some(("just enough".to_owned(), 1.0)),
        ),
        one(
            "Force of the hand that stops the rear",
            "hand_force_n",
            Headlined::HandForce,
            middle.hand.map(|hand| hand.n()),
            visit.units.force,
            lever.map(|lever| ("the driver's pull".to_owned(), lever.hand_pull.n())),
        ),
        one(
            "Travel of the grip that stops the rear",
            "travel_m",
            Headlined::Travel,
            middle.travel.map(|travel| travel.m()),
            visit.units.length,
            lever.map(|lever| ("the room there is".to_owned(), lever.room.m())),
        ),
    ];
    bars.into_iter().flatten().collect()
}

pub(crate) fn more(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let assessment = &outcome.assessment;
    let mut said: Vec<&'static str> = assessment.cautions.clone();
    html! {
        section aria-labelledby="findings" {
            h2 id="findings" { "What was found" }
            @if assessment.findings.is_empty() { p { "Nothing that stands in the way, and nothing that wants putting right." } }
            @for finding in &assessment.findings { (parts::finding(visit, finding, &mut said)) }
        }
        @if !assessment.measure_next.is_empty() {
            section aria-labelledby="measure" {
                h2 id="measure" { "Measure next" }
                ol {
                    @for next in &assessment.measure_next {
                        li {
                            code { (next.key) } ": settles " (wording::per_cent(next.settles)) " of "
                            (next.figure.replace('_', "\u{a0}")) ". " (parts::coded(next.how))
                        }
                    }
                }
            }
        }
        @if !assessment.comes_out.is_empty() {
            section aria-labelledby="comes-out" {
                h2 id="comes-out" { "What comes out" }
                dl class="facts" {
                    @for part in &assessment.comes_out {
                        div { dt { (part.part) } dd { (part.did) "; in its place: " (part.replaced_by) } }
                    }
                }
            }
        }
        section aria-labelledby="mind" {
            h2 id="mind" { "Mind" }
            ul { @for caution in &assessment.cautions { li { (caution) } } }
        }
    }
}

//! "Will it come round?": the turn, run on the road, played from above, with another set-up beside it.

use charts::TurnPlan;
use engine::ranges::Plan;
use engine::turn::{Release, Technique};
use maud::{Markup, html};
use quantity::si::Force;
use questions::answers::turn::{
    Beside, LEFT_OUT, Outcome, WHERE, degrees, driver_facts, in_words, moved, run_facts, sentence, sure,
    swung,
};
use questions::{TurnText, Wrong};

use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::pictures;
use crate::car::visit::{Visit, folder, told_of};
use crate::shell::parts;
use questions::options::{AGAINST, CLUTCH, COLD, FUEL, GRIP, HAND, NO_CREW, RELEASE, SPEED, STEER, SURFACE};

/// Cars drawn for a page: a run each, and a page is waited for.
const DRAWS: u32 = 128;

pub(crate) struct Turn;

impl Room for Turn {
    fn slug(&self) -> &'static str {
        "turn"
    }

    fn question(&self) -> &'static str {
        "Will it come round?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        if visit.opened.car().lever.is_none() {
            return "no handbrake".to_owned();
        }
        let run = technique(visit).and_then(|technique| questions::turn(&visit.opened, &technique));
        run.map_or_else(
            |_| "it cannot be run".to_owned(),
            |turn| {
                let heading = turn.heading.at_release.unwrap_or(turn.heading.end);
                format!("{}, {}", in_words(turn.verdict), degrees(heading))
            },
        )
    }

    fn handles(&self, visit: &Visit<'_>) -> Vec<Handle> {
        let usual = Technique::on(&visit.opened.state.surface, visit.opened.car());
        let release = match usual.release {
            Release::At(at) => at.s(),
            Release::Heading(_) | Release::Never => 1.8,
        };
        vec![
            Handle::of(&SPEED),
            Handle::untouched(&STEER, (usual.steer.rad().to_degrees() * 2.0).round() / 2.0),
            Handle::of(&HAND),
            Handle::untouched(&RELEASE, (release * 20.0).round() / 20.0),
            Handle::of(&GRIP),
            Handle::of(&SURFACE),
            Handle::of(&FUEL),
            Handle::of(&CLUTCH),
            Handle::of(&AGAINST),
            Handle::of(&NO_CREW),
            Handle::of(&COLD),
        ]
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let plan = super::plan(visit, Force::ZERO, visit.pull());
        match outcome(visit) {
            Ok(outcome) => Said {
                answer: answer(visit, &outcome),
                plan: Some(plan),
                picture: Some(picture(visit, &outcome)),
                more: if visit.asking.part {
                    html! {}
                } else {
                    more(visit, &outcome)
                },
            },
            Err(wrong) => Said {
                answer: html! { p class="sentence" { "It cannot be run." } (parts::wrong(&wrong)) },
                plan: Some(plan),
                picture: None,
                more: html! {},
            },
        }
    }
}

/// What the driver does, as the address says.
pub(crate) fn technique(visit: &Visit<'_>) -> Result<Technique, Wrong> {
    let said = |name| visit.asking.text(name);
    TurnText {
        entry: said("speed"),
        steer: said("steer"),
        hand: said("hand"),
        clutch: said("clutch"),
        release: said("release"),
        ..TurnText::default()
    }
    .technique(&visit.opened)
}

fn outcome(visit: &Visit<'_>) -> Result<Outcome, Wrong> {
    let technique = technique(visit)?;
    let bench = questions::turn_bench(&visit.opened)?;
    let in_words = |no_turn: engine::turn::NoTurn| questions::no_turn_in_words(&visit.opened, &no_turn);
    let turn = bench.turn(&technique).map_err(in_words)?;
    let (drawn, swings) = if visit.asking.part {
        (None, Vec::new())
    } else {
        let plan = Plan {
            draws: DRAWS,
            ..Plan::default()
        };
        (
            Some(questions::turn_study(&visit.opened, &technique, plan)),
            bench.swings(&technique).map_err(in_words)?.to_vec(),
        )
    };
    Ok(Outcome {
        turn,
        drawn,
        swings,
        against: beside(visit, &technique)?,
    })
}

/// Another car doing the same; the same car as its sheet has it.
fn beside(visit: &Visit<'_>, technique: &Technique) -> Result<Option<Beside>, Wrong> {
    let Some(car) = visit.asking.get("against") else {
        return Ok(None);
    };
    let beside = folder(visit.desk, car)
        .and_then(|folder| Beside::of(&folder, &visit.said.state(visit.desk.today()), technique));
    beside.map(Some).map_err(|stop| told_of(&stop))
}

fn answer(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    html! {
        p class="sentence" { (sentence(&outcome.turn, &visit.opened.state.surface.name)) }
        @if let Some(said) = sure(outcome.drawn.as_ref()) { p { (said) } }
        @if let Some(beside) = &outcome.against {
            p { strong { (beside.opened.car().name) ": " } (sentence(&beside.turn, &beside.opened.state.surface.name)) }
            @if let Some(mind) = beside.mind { p { (mind) } }
        }
    }
}

/// The runs from above, with what plays them.
fn picture(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let last = outcome.turn.trace.t_s.last().copied().unwrap_or(0.0);
    html! {
        (pictures::picture(visit, "turn-above", |look| {
            let plan = questions::picture::turn_plan(&visit.opened, outcome);
            TurnPlan { playable: true, over_time: false, ..plan }.draw(look)
        }))
        div class="player with-script" data-player="turn-above" hidden {
            button type="button" data-play aria-pressed="false" { "Play" }
            label for="player-time" { "Time" }
            input type="range" id="player-time" min="0" max=(format!("{last:.2}")) step="0.02" value="0"
                aria-valuetext="0 s";
            output for="player-time" { "0.0\u{a0}s" }
        }
    }
}

fn more(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let otherwise = questions::turn_read_otherwise(&visit.opened, &outcome.turn.technique);
    html! {
        section aria-labelledby="does" {
            h2 id="does" { "What the driver does" }
            (parts::facts(&driver_facts(&outcome.turn.technique, &visit.units)))
        }
        section aria-labelledby="run" {
            h2 id="run" { "The run" }
            (parts::facts(&run_facts(&outcome.turn)))
            @if let Some(beside) = &outcome.against {
                h3 { "Beside it: " (beside.opened.car().name) }
                (parts::facts(&run_facts(&beside.turn)))
            }
        }
        @if !otherwise.is_empty() {
            section aria-labelledby="otherwise" {
                h2 id="otherwise" { "The centre coupling, read otherwise" }
                ul {
                    @for (reading, brief) in &otherwise {
                        @let heading = brief.heading.at_release.unwrap_or(brief.heading.end);
                        li { "If " (reading) ": it " (in_words(brief.verdict)) ", " (degrees(heading)) "." }
                    }
                }
            }
        }
        section aria-labelledby="over-time" {
            h2 id="over-time" { "Speeds over time" }
            (speeds(visit, outcome))
        }
        section aria-labelledby="moves" {
            h2 id="moves" { "What moves it most" }
            dl class="facts" {
                @for swing in &outcome.swings { div { dt { (moved(swing.varied)) } dd { (swung(swing)) } } }
            }
            p { (LEFT_OUT) }
        }
        p class="caution" { (WHERE) }
    }
}

/// The speeds over time; their figures stand in the table of the run above.
fn speeds(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let (drawn, _) = pictures::drawn(visit, "turn-speeds", |look| {
        questions::picture::turn_speeds(&visit.opened, look, outcome)
    });
    html! { figure class="drawn" id="turn-speeds" { (drawn) } }
}

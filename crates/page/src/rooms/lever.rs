//! "How hard, how far?": what the hand has to do to stop the rear wheels, warm and cold, and the other layout beside it.

use engine::lever::{LeverBench, Pull};
use maud::{Markup, html};
use quantity::si::Force;
use questions::answers::lever::{Outcome, coupling_facts, torque_facts, what_it_takes};
use questions::sure;

use super::Room;
use crate::frame::Said;
use crate::handles::Handle;
use crate::parts;
use crate::visit::Visit;

pub(crate) struct Lever;

impl Room for Lever {
    fn slug(&self) -> &'static str {
        "lever"
    }

    fn question(&self) -> &'static str {
        "How hard, how far?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        let state = &visit.opened.state;
        let Some(bench) = LeverBench::of(visit.opened.car(), state.warmth) else {
            return "no handbrake".to_owned();
        };
        let to_lock = bench.answer(&state.laden, pull(visit)).to_lock;
        let Some(hand) = to_lock.hand else {
            return "no pull stops the rear".to_owned();
        };
        let mut said = wording::figure(hand.n(), visit.units.force);
        if let Some(travel) = to_lock.travel {
            said.push_str(&format!(", {}", wording::figure(travel.m(), visit.units.length)));
        }
        said
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        vec![
            Handle::Hand,
            Handle::Surface,
            Handle::Grip,
            Handle::Speed,
            Handle::Fuel,
            Handle::Valve,
            Handle::Crew,
            Handle::Warmth,
        ]
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let headline = questions::headlines(&visit.opened, visit.speed(), visit.hand(), visit.plan());
        let plan = super::plan(visit, Force::ZERO, visit.pull());
        let car = visit.opened.car();
        let Some(outcome) = Outcome::of(car, &visit.opened, pull(visit), headline) else {
            return Said {
                answer: html! {
                    p class="sentence" { "This car has no handbrake lever." }
                    p class="do" { strong { "Do: " } "describe it under " code { "[lever]" } " on the sheet." }
                },
                plan: Some(plan),
                picture: None,
                more: html! {},
            };
        };
        let drawn = outcome
            .headline
            .as_ref()
            .filter(|found| !found.drawn.answers.is_empty());
        Said {
            answer: html! {
                p class="sentence" { (outcome.sentence(car, &visit.units)) }
                @if let Some(said) = sure::lever(drawn, &visit.units) { p { (said) } }
                (parts::facts(&takes(visit, &outcome)))
            },
            plan: Some(plan),
            picture: Some(parts::picture(visit, "pull", |look| {
                questions::picture::lever(&visit.opened, look, &outcome)
            })),
            more: if visit.asking.part {
                html! {}
            } else {
                more(visit, &outcome)
            },
        }
    }
}

fn pull(visit: &Visit<'_>) -> Pull {
    Pull {
        hand: visit.pull(),
        grip: visit.opened.state.surface.peak,
        speed: visit.speed(),
    }
}

fn takes(visit: &Visit<'_>, outcome: &Outcome) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    if let Some(lever) = &visit.opened.car().lever {
        facts.push((
            "There is",
            format!(
                "{} of hand, {} of room at the grip",
                wording::pull(outcome.pull.hand, &visit.units),
                wording::figure(lever.room.m(), visit.units.length)
            ),
        ));
    }
    facts.push((
        "It takes, warm",
        what_it_takes(&outcome.answer.to_lock, &visit.units),
    ));
    facts.push((
        "It takes, cold",
        what_it_takes(&outcome.answer.cold, &visit.units),
    ));
    facts
}

fn more(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let coupling = coupling_facts(visit.opened.car(), &outcome.answer);
    html! {
        section aria-labelledby="torque" {
            h2 id="torque" { "Torque at the rear axle, standing" }
            (parts::facts(&torque_facts(&outcome.answer.to_lock, &visit.units)))
        }
        @if !coupling.is_empty() {
            section aria-labelledby="centre" { h2 id="centre" { "The centre" } (parts::facts(&coupling)) }
        }
        section aria-labelledby="other" {
            @if let Some((layout, other)) = &outcome.other {
                h2 id="other" { "The " (layout) " layout instead" }
                (parts::facts(&[
                    ("It takes, warm", what_it_takes(&other.to_lock, &visit.units)),
                    ("It takes, cold", what_it_takes(&other.cold, &visit.units)),
                ]))
            } @else {
                h2 id="other" { "No other layout beside it" }
                p { (outcome.no_other) }
            }
        }
        p class="caution" { "A lever latched on pressure is not a parking brake: chocks, in gear, level ground." }
        section aria-labelledby="workings" {
            h2 id="workings" { "Workings" }
            @for figure in ["hand_force_n", "travel_m", "in_hand", "torque_needed_nm", "pressure_pa", "drag", "seconds_to_lock_s"] {
                (parts::unfolds(visit, figure))
            }
        }
    }
}

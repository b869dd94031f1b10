//! "Which end locks first?": lock order over grip and load, the split, what each axle uses, one circuit gone.

use charts::{LockOrder, UtilisationCurves};
use engine::balance::{Balance as Bench, First};
use engine::hydraulics::Hydraulics;
use engine::loads::{Aboard, Fuel, Laden};
use maud::{Markup, html};
use quantity::show;
use quantity::si::Force;
use questions::answers::balance::{Outcome, first_word, one_circuit_gone, usual_grips};
use questions::sure;

use super::Room;
use crate::frame::Said;
use crate::handles::Handle;
use crate::parts;
use crate::visit::Visit;
use questions::options::{COLD, FOOT, FUEL, GRIP, NO_CREW, SURFACE, VALVE};

/// A foot where nothing locks, in newtons.
const USUAL_FOOT_N: f64 = 300.0;

pub(crate) struct Balance;

impl Room for Balance {
    fn slug(&self) -> &'static str {
        "balance"
    }

    fn question(&self) -> &'static str {
        "Which end locks first?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        let lock = bench(visit).lock(visit.opened.state.surface.peak);
        match (&lock.at, lock.first) {
            (None, _) => "neither: nothing locks".to_owned(),
            (Some(_), First::Together | First::Neither) => "all four together".to_owned(),
            (Some(point), _) => {
                format!(
                    "{}, by {}",
                    first_word(&lock),
                    wording::front_first(point.front_first_by)
                )
            }
        }
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        vec![
            Handle::untouched(&FOOT, USUAL_FOOT_N),
            Handle::of(&VALVE),
            Handle::of(&SURFACE),
            Handle::of(&GRIP),
            Handle::of(&FUEL),
            Handle::of(&NO_CREW),
            Handle::of(&COLD),
        ]
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let headline = questions::headlines(&visit.opened, visit.speed(), None, visit.plan());
        let grips = usual_grips();
        let outcome = Outcome::of(
            visit.opened.car(),
            &visit.opened.state,
            visit.speed(),
            &grips,
            headline,
        );
        let foot = visit.foot().unwrap_or(Force::from_n(USUAL_FOOT_N));
        Said {
            answer: answer(visit, &outcome),
            plan: Some(super::plan(visit, foot, Force::ZERO)),
            picture: Some(parts::picture(visit, "split", |look| {
                questions::picture::balance(&visit.opened, look, visit.speed())
            })),
            more: if visit.asking.part {
                html! {}
            } else {
                more(visit, &outcome)
            },
        }
    }
}

fn bench(visit: &Visit<'_>) -> Bench {
    let (car, state) = (visit.opened.car(), &visit.opened.state);
    Bench::of(car, Hydraulics::of(car, state.warmth), state.laden, visit.speed())
}

fn answer(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let drawn = outcome
        .headline
        .as_ref()
        .filter(|found| !found.drawn.answers.is_empty());
    html! {
        p class="sentence" { (outcome.sentence(&visit.opened, &visit.units)) }
        @if outcome.tied {
            p {
                "The centre ties front to rear: an axle stops alone only once its brakes exceed its grip by more than the "
                "coupling carries; otherwise all four stop together."
            }
        }
        @if let Some(said) = sure::balance(drawn) { p { (said) } }
    }
}

fn more(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let (car, bench) = (visit.opened.car(), bench(visit));
    let crew = visit.opened.state.crew;
    let loads: Vec<(&str, f64, Laden)> = if car.load.tank.is_some() {
        [
            ("dry tank", 0.0, Fuel::Dry),
            ("half tank", 0.5, Fuel::Half),
            ("full tank", 1.0, Fuel::Full),
        ]
        .map(|(name, fill, fuel)| (name, fill, Laden::of(car, Aboard { crew, fuel })))
        .to_vec()
    } else {
        vec![("as weighed", 0.5, visit.opened.state.laden)]
    };
    let order = LockOrder::of(car, &bench, &loads, &usual_grips());
    let used = UtilisationCurves::of(car, &bench);
    html! {
        section aria-labelledby="locks" {
            h2 id="locks" { "First lock over grip" }
            (locks(visit, outcome))
            (parts::picture(visit, "lock-order", |look| order.draw(look)))
        }
        section aria-labelledby="used" {
            h2 id="used" { "Share of its load that each axle uses" }
            (parts::picture(visit, "utilisation", |look| used.draw(look)))
        }
        section aria-labelledby="gone" {
            h2 id="gone" { "One circuit gone, 500 N of foot" }
            ul { @for failed in &outcome.failed { li { (one_circuit_gone(&visit.opened, failed, &visit.units)) } } }
        }
        section aria-labelledby="workings" {
            h2 id="workings" { "Workings" }
            @for figure in ["front_first_by", "braking_rate", "foot_force_n", "cg_height_m"] {
                (parts::unfolds(visit, figure))
            }
        }
    }
}

fn locks(visit: &Visit<'_>, outcome: &Outcome) -> Markup {
    let points = || outcome.locks.iter().filter_map(|lock| lock.at.as_ref());
    let feet = wording::column(points().map(|point| point.foot.n()), visit.units.force);
    let rears = wording::column(points().map(|point| point.rear.pa()), visit.units.pressure);
    let rows: Vec<Vec<String>> = outcome
        .locks
        .iter()
        .map(|lock| {
            let mut row = vec![wording::ratio(lock.grip), first_word(lock).to_owned()];
            match &lock.at {
                None => row.extend(["–"; 5].map(str::to_owned)),
                Some(point) => row.extend([
                    wording::margin(point.front_first_by),
                    show(point.foot.n(), visit.units.force, feet),
                    wording::rate(point.rate),
                    wording::per_cent(point.efficiency),
                    show(point.rear.pa(), visit.units.pressure, rears),
                ]),
            }
            row
        })
        .collect();
    parts::rows(
        "First lock, at the least foot force that stops a wheel",
        &[
            "Grip",
            "First",
            "Front leads by",
            "Foot",
            "Deceleration",
            "Of the grip",
            "Rear brakes",
        ],
        &rows,
    )
}

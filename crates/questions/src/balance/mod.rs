//! "Which end locks first?": lock order over grip and load, the split, what each axle uses, one circuit gone.

mod bores;
mod outcome;
mod report;
mod result;

use charts::{LockOrder, Look, Picture, UtilisationCurves};
use engine::Conditions;
use engine::balance::Balance as Bench;
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::{Aboard, Fuel, Laden};
use quantity::si::Force;
use serde_json::Value;

pub use outcome::Outcome;
pub(crate) use outcome::one_circuit_gone;

use crate::answered::{Answered, Tells};
use crate::options::{
    BORES, COLD, CSV, DRAWS, FACING, FOOT, FUEL, GRIP, GRIPS, NO_CREW, ON, Row, SEED, SLOPE, SPEED, SURFACE,
    VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "balance";

static TAKES: &[&Row] = &[
    &GRIPS, &VALVE, &SURFACE, &GRIP, &FUEL, &SPEED, &SLOPE, &FACING, &NO_CREW, &COLD, &WITH, &ON, &DRAWS,
    &SEED, &BORES, &CSV,
];

/// The foot of the car from above, where nobody has said how hard.
const USUAL_FOOT: Force = Force::from_n(300.0);

/// Names of the further pictures.
const LOCK_ORDER: &str = "lock-order";
const UTILISATION: &str = "utilisation";

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "Which end locks first?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Which end locks first",
            more: "Over a range of grips: the least foot force at which a wheel stops turning, which end it is, and by how \
                   much it leads. Then how much of its load each axle uses over the braking rate, and what is left with one \
                   circuit gone.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        // The foot moves the car from above alone.
        let taken = self.takes().iter().copied().filter(|row| row.handle.is_some());
        core::iter::once(&FOOT).chain(taken).collect()
    }

    fn usual(&self, _case: &Case<'_>) -> Vec<(&'static Row, f64)> {
        vec![(&FOOT, USUAL_FOOT.n()), (&BORES, 1.0)]
    }

    fn braked(&self, case: &Case<'_>) -> Forces {
        Forces {
            foot: case.said.force(&FOOT).unwrap_or(USUAL_FOOT),
            hand: Force::ZERO,
        }
    }

    fn short(&self, case: &Case<'_>) -> String {
        outcome::in_short(&bench(case).lock(case.opened.state.surface.peak))
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let speed = case.said.speed();
        let grips = case
            .said
            .text(&GRIPS)
            .map_or_else(|| Ok(outcome::usual_grips()), crate::grips)?;
        let conditions = Conditions {
            hand: None,
            ..case.conditions()
        };
        let headlines = crate::headlines(case.opened, &conditions, case.sampling);
        let (car, state) = (case.opened.car(), &case.opened.state);
        let mut outcome = Outcome::of(car, state, speed, &grips, headlines);
        if case.said.has(&BORES) && !case.brief {
            outcome.bores = bores::tried(case.opened, speed)?;
        }
        let tells = Tells {
            report: report::of,
            result: |case, outcome| result::BalanceView::of(case.opened, outcome),
            picture: |case, _, look| crate::picture::balance(case.opened, look, case.said.speed()),
        };
        Ok(Answered::new(&Ask, case, outcome, tells)
            .with_more(draw_more)
            .with_tables(|outcome| bores::csv(&outcome.bores)))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::BalanceView>>(NAME)
    }
}

fn bench(case: &Case<'_>) -> Bench {
    let (car, state) = (case.opened.car(), &case.opened.state);
    Bench::of(
        car,
        Hydraulics::of(car, state.conditions.warmth),
        state.laden,
        case.said.speed(),
    )
}

/// Used grip over braking rate; what locks first, over grip and fuel.
fn draw_more(case: &Case<'_>, _: &Outcome, name: &str, look: &Look<'_>) -> Picture {
    let (car, bench) = (case.opened.car(), bench(case));
    if name == UTILISATION {
        return UtilisationCurves(engine::curves::Used::of(car, &bench)).draw(look);
    }
    let state = &case.opened.state;
    let crew = state.conditions.aboard.crew;
    let loads: Vec<(&str, f64, Laden)> = if car.load.tank.is_some() {
        [
            ("dry tank", 0.0, Fuel::Dry),
            ("half tank", 0.5, Fuel::Half),
            ("full tank", 1.0, Fuel::Full),
        ]
        .map(|(name, fill, fuel)| (name, fill, Laden::of(car, Aboard { crew, fuel })))
        .to_vec()
    } else {
        vec![("as weighed", 0.5, state.laden)]
    };
    LockOrder(engine::curves::LockCurves::of(
        car,
        &bench,
        &loads,
        &outcome::usual_grips(),
    ))
    .draw(look)
}

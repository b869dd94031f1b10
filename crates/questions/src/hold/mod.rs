//! "How long does it hold?": a car parked on a slope, its lever latched.

mod outcome;
mod report;
mod result;

use charts::HoldCurves;
use engine::Conditions;
use engine::hold::{From, HoldBench, Holds};
use engine::loads::Grade;
use serde_json::Value;

use crate::answered::{Answered, Tells};
use crate::opened::Opened;
use crate::options::{
    AMBIENT, DRAWS, FACING, FUEL, GRIP, HAND, NO_CREW, ON, Row, SEED, SLOPE, SURFACE, VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Head, Headed, schema_of};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

const NAME: &str = "hold";

/// The slope where nothing is said: this question alone takes one.
const USUAL_SLOPE: f64 = 0.10;

static TAKES: &[&Row] = &[
    &SLOPE, &FACING, &AMBIENT, &HAND, &SURFACE, &GRIP, &FUEL, &VALVE, &NO_CREW, &WITH, &ON, &DRAWS, &SEED,
];

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "How long does it hold?"
    }

    fn help(&self) -> Help {
        Help {
            about: "How long a latched lever holds the car on a slope",
            more: "From cold, warm and hot brakes: trapped fluid that shrinks, seals that seep, rubber that creeps, pads that turn \
                   cold, and the rear tyres' own grip; the pressure that heat raises first; how steep it holds for two minutes; \
                   a kept cable beside it.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn usual(&self, _case: &Case<'_>) -> Vec<(&'static Row, f64)> {
        vec![(&SLOPE, 100.0 * USUAL_SLOPE)]
    }

    fn short(&self, case: &Case<'_>) -> String {
        let Some(bench) = HoldBench::of(case.opened.car(), &conditions(case)) else {
            return "no handbrake".to_owned();
        };
        bench.hold().map_or_else(
            |_| "cannot be followed".to_owned(),
            |hold| outcome::in_short(&hold),
        )
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        let (car, assembled) = (case.opened.car(), &case.opened.assembled);
        let path = case.opened.sheet.path();
        let inputs = &case.opened.sheet.read.inputs;
        let tells = Tells {
            report: report::of,
            result: |_, holds| result::HoldView::of(holds),
            picture: |_, holds, look| HoldCurves::of(&holds.middle).draw(look),
        };
        match Holds::of(
            car,
            inputs,
            &assembled.toleranced,
            &conditions(case),
            case.sampling,
        ) {
            Ok(Some(holds)) => Ok(
                Answered::new(&Ask, case, holds, tells).with_above(|case, holds, look| {
                    let warm = holds
                        .middle
                        .arrivals
                        .iter()
                        .find(|arrival| arrival.from == From::Warm);
                    let lasts = warm.map_or_else(String::new, outcome::how_long);
                    crate::picture::hold(case.opened, look, &holds.middle, &lasts)
                }),
            ),
            Ok(None) => {
                let what = "this car has no handbrake lever".to_owned();
                let remedy = "describe it under [lever] on the sheet".to_owned();
                Err(Wrong::plain(&path, "no-lever", what, remedy))
            }
            Err(lost) => {
                let remedy = "look at the masses of discs and drums on the sheet".to_owned();
                Err(Wrong::plain(&path, "hold-lost", lost.to_string(), remedy))
            }
        }
    }

    fn draws(&self) -> u32 {
        64
    }

    fn head(&self, case: &Case<'_>) -> Head {
        Head::of(NAME, case.opened).on(grade(case))
    }

    fn schema(&self) -> Value {
        schema_of::<Headed<result::HoldView>>(NAME)
    }
}

/// The slope that it stands on.
pub(super) fn grade(case: &Case<'_>) -> Grade {
    slope_of(case.opened)
}

fn slope_of(opened: &Opened) -> Grade {
    let state = &opened.state;
    Grade {
        slope: if state.slope_given {
            state.laden.grade.slope
        } else {
            USUAL_SLOPE
        },
        facing: state.laden.grade.facing,
    }
}

fn conditions(case: &Case<'_>) -> Conditions {
    on_its_slope(case.opened, &case.conditions())
}

/// The operating point on the slope that this is asked on. The grip is this car's, in every car that its tolerances allow.
pub(crate) fn on_its_slope(opened: &Opened, conditions: &Conditions) -> Conditions {
    Conditions {
        grade: slope_of(opened),
        grip: Some(opened.state.surface.peak),
        ..conditions.clone()
    }
}

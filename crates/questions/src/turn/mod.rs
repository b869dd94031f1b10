//! "Will it come round?": the turn, run on the road; many of them; the fastest way through a bend.

mod drawn;
mod helps;
mod outcome;
mod report;
mod result;
mod technique;
pub(crate) mod words;

use charts::{Look, Picture};
use engine::turn::Technique;
use serde_json::Value;

pub use helps::{Change, Helps};
pub use outcome::{AgainstRun, Many, Run, Way};
pub use report::of_cell;
pub use words::WHERE;

use crate::answered::{Answered, Tells};
use crate::options::turn::{hairpin, map_size};
use crate::options::{
    AFTER, AGAINST, BEND, CLUTCH, CLUTCH_AT, COLD, DRAWS, ENTRY, FOOT, FOOT_AT, FOOT_OFF, FUEL, GRIP, HAND,
    LEVER_AT, LEVER_RISE, MAP, NO_CREW, ON, RELEASE, Row, SEARCH, SEED, SPEED, STEER, STEER_AT, STEER_IN,
    SURFACE, THROTTLE, THROTTLE_AT, UNTIL, VALVE, WITH,
};
use crate::question::{Answer, Case, Help, Question};
use crate::result::{Headed, schema_of_any};
use crate::trouble::Wrong;

/// The question.
#[derive(Debug)]
pub struct Ask;

/// The picture of the run that can be played.
pub const PLAYED: &str = "turn-above";

/// The picture of the speeds over time.
/// The further picture of a run: speeds and heading over time, which its own picture on paper has too.
pub const SPEEDS: &str = "turn-speeds";

const NAME: &str = "turn";

static TAKES: &[&Row] = &[
    &ENTRY,
    &SPEED,
    &STEER,
    &STEER_AT,
    &STEER_IN,
    &HAND,
    &LEVER_AT,
    &LEVER_RISE,
    &CLUTCH,
    &CLUTCH_AT,
    &RELEASE,
    &AFTER,
    &THROTTLE,
    &THROTTLE_AT,
    &BEND,
    &FOOT,
    &FOOT_AT,
    &FOOT_OFF,
    &UNTIL,
    &AGAINST,
    &MAP,
    &SEARCH,
    &SURFACE,
    &GRIP,
    &FUEL,
    &VALVE,
    &NO_CREW,
    &COLD,
    &WITH,
    &ON,
    &DRAWS,
    &SEED,
];

/// What moves on its page.
static MOVED: &[&Row] = &[
    &SPEED, &STEER, &HAND, &BEND, &RELEASE, &FOOT, &GRIP, &SURFACE, &FUEL, &CLUTCH, &AGAINST, &NO_CREW, &COLD,
];

/// What the driver does where nothing is said.
#[must_use]
pub fn usual(case: &Case<'_>) -> Technique {
    Technique::on(&case.opened.state.surface, case.opened.car())
}

impl Question for Ask {
    fn name(&self) -> &'static str {
        NAME
    }

    fn asked_as(&self) -> &'static str {
        "Will it come round?"
    }

    fn help(&self) -> Help {
        Help {
            about: "Whether the car comes round",
            more: "A handbrake turn through a bend, simulated: tyres, drivetrain, body and driver. Whether the car comes \
                   out on the road, how far the tolerances move it, and what moves it most; or many runs, or the fastest \
                   way through.",
            teaches: include_str!("teaches.txt"),
        }
    }

    fn takes(&self) -> &'static [&'static Row] {
        TAKES
    }

    fn handles(&self) -> Vec<&'static Row> {
        MOVED.to_vec()
    }

    fn short(&self, case: &Case<'_>) -> String {
        if case.opened.car().lever.is_none() {
            return "no handbrake".to_owned();
        }
        let technique = technique::technique(case);
        let run = technique.and_then(|technique| outcome::turn(case.opened, &technique));
        run.map_or_else(|_| "it cannot be run".to_owned(), |turn| words::in_short(&turn))
    }

    fn answer<'a>(&self, case: &Case<'a>) -> Result<Box<dyn Answer + 'a>, Wrong> {
        outcome::one_of(case)?;
        if let Some(size) = case.said.text(&MAP) {
            let tells = Tells {
                report: report::of_many,
                result: |_, many: &Many| result::MapView::of(&many.grid),
                picture: |_, many, look| drawn::many(look, &many.grid, &many.technique),
            };
            return Ok(Answered::new(&Ask, case, Many::of(case, map_size(size)?)?, tells));
        }
        if let Some(bend) = case.said.text(&SEARCH) {
            let tells = Tells {
                report: report::of_way,
                result: |_, way: &Way| result::SearchView::of(way),
                picture: |case, way, look| drawn::way(case.opened, look, way.drawn()),
            };
            let way = Way::of(case, hairpin(bend)?)?;
            return Ok(Answered::new(&Ask, case, way, tells).with_more(draw_way));
        }
        let tells = Tells {
            report: report::of_run,
            result: |_, run: &Run<'a>| result::TurnView::of(run),
            picture: |case, run: &Run<'a>, look| drawn::run(case.opened, look, run),
        };
        Ok(Answered::new(&Ask, case, Run::of(case)?, tells).with_more(draw_more))
    }

    fn draws(&self) -> u32 {
        128
    }

    fn schema(&self) -> Value {
        use result::{MapView, SearchView, TurnView};
        schema_of_any::<Headed<TurnView>, Headed<MapView>, Headed<SearchView>>(NAME)
    }
}

fn draw_way(case: &Case<'_>, way: &Way, name: &str, look: &Look<'_>) -> Picture {
    match name {
        PLAYED => drawn::way_played(case.opened, look, way.drawn()),
        _ => drawn::way(case.opened, look, way.drawn()),
    }
}

fn draw_more(case: &Case<'_>, run: &Run<'_>, name: &str, look: &Look<'_>) -> Picture {
    match name {
        SPEEDS => drawn::speeds(case.opened, look, run),
        _ => drawn::played(case.opened, look, run),
    }
}

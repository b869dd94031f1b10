//! The pictures of a turn.

use charts::{Look, Picture, TurnFromAbove, TurnMap, TurnRun};
use engine::car::Car;
use engine::turn::{Grid, Technique, Turn};

use super::outcome::Run;
use crate::opened::Opened;

/// The runs that are drawn from above: one, or two set-ups beside each other.
fn plan(opened: &Opened, outcome: &Run<'_>) -> TurnFromAbove {
    let run = |name: String, car: &Car, turn: &Turn| TurnRun::of(name, car, turn.clone());
    let car = opened.car();
    let Some(beside) = &outcome.against else {
        return TurnFromAbove::one(run(car.name.to_string(), car, &outcome.turn));
    };
    let mut name = car.name.to_string();
    for (key, value) in &opened.overrides {
        let called = crate::measuring::in_words(key).unwrap_or_else(|| key.clone());
        name.push_str(&format!(", {called} {}", value.trim_matches('"')));
    }
    let other = beside.beside.opened.car();
    TurnFromAbove {
        runs: vec![
            run(name, car, &outcome.turn),
            run(other.name.to_string(), other, &beside.turn),
        ],
        over_time: false,
        playable: false,
    }
}

/// The run from above, or two set-ups beside each other.
pub(super) fn run(opened: &Opened, look: &Look<'_>, outcome: &Run<'_>) -> Picture {
    plan(opened, outcome).draw(look)
}

/// The runs from above, as a page plays them: without the speeds.
pub(super) fn played(opened: &Opened, look: &Look<'_>, outcome: &Run<'_>) -> Picture {
    TurnFromAbove {
        playable: true,
        over_time: false,
        ..plan(opened, outcome)
    }
    .draw(look)
}

/// The speeds of the runs over time, without the ground.
pub(super) fn speeds(opened: &Opened, look: &Look<'_>, outcome: &Run<'_>) -> Picture {
    plan(opened, outcome).draw_speeds(look)
}

/// Many runs over entry speed and pull.
pub(super) fn many(look: &Look<'_>, grid: &Grid, technique: &Technique) -> Picture {
    let map = TurnMap {
        grid: grid.clone(),
        technique: *technique,
    };
    map.draw(look)
}

/// The one run of a way through a bend, as a page plays it.
pub(super) fn way_played(opened: &Opened, look: &Look<'_>, way: &Turn) -> Picture {
    let car = opened.car();
    TurnFromAbove {
        playable: true,
        over_time: false,
        ..TurnFromAbove::one(TurnRun::of(car.name.to_string(), car, way.clone()))
    }
    .draw(look)
}

/// The one run of a way through a bend.
pub(super) fn way(opened: &Opened, look: &Look<'_>, way: &Turn) -> Picture {
    let car = opened.car();
    TurnFromAbove::one(TurnRun::of(car.name.to_string(), car, way.clone())).draw(look)
}

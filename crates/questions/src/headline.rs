//! The headline figures of an opened car, with their ranges.

use std::sync::Arc;

use engine::headline::{Asked, Headlines};
use engine::loads::{Aboard, Fuel};
use engine::ranges::{DRAWS, MOST_DRAWS, Plan};
use quantity::si::{Force, Speed};

use crate::opened::Opened;
use crate::trouble::Wrong;

/// The headline figures of an opened car at a speed; `hand` stands in the place of the sheet's pull. `None` where the
/// car does not know the surface, which opening it has ruled out.
#[must_use]
pub fn headlines(opened: &Opened, speed: Speed, hand: Option<Force>, plan: Plan) -> Option<Headlines> {
    let state = &opened.state;
    let asked = Asked {
        surface: Arc::clone(&state.surface.name),
        grip: state.grip_given.then_some(state.surface.peak),
        aboard: Aboard {
            crew: state.crew,
            fuel: Fuel::Of(state.laden.fuel),
        },
        warmth: state.warmth,
        speed,
        hand,
    };
    let inputs = &opened.sheet.read.inputs;
    Headlines::of(opened.car(), inputs, &opened.assembled.toleranced, &asked, plan)
}

/// How many draws, and from which seed; `None`: the usual.
///
/// # Errors
/// More draws than the sequence has.
pub fn plan(draws: Option<u32>, seed: Option<u32>) -> Result<Plan, Wrong> {
    let draws = draws.unwrap_or(DRAWS);
    if draws > MOST_DRAWS {
        let what = format!("{draws} draws are more than the sequence has");
        let remedy = format!("ask for {MOST_DRAWS} at most; {DRAWS} are usual, 0 for none");
        return Err(Wrong::plain("--draws", "too-many-draws", what, remedy));
    }
    Ok(Plan {
        draws,
        seed: seed.unwrap_or(Plan::default().seed),
    })
}

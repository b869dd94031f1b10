//! The headline figures of an opened car, with their ranges.

use engine::Conditions;
use engine::headline::Headlines;
use engine::ranges::{DRAWS, MOST_DRAWS, Plan};

use crate::opened::Opened;
use crate::trouble::Wrong;

/// The headline figures of an opened car under conditions. `None` where the car does not know the surface, which opening
/// it has ruled out.
#[must_use]
pub fn headlines(opened: &Opened, conditions: &Conditions, plan: Plan) -> Option<Headlines> {
    let inputs = &opened.sheet.read.inputs;
    Headlines::of(
        opened.car(),
        inputs,
        &opened.assembled.toleranced,
        conditions,
        plan,
    )
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

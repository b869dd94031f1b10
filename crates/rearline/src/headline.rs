//! The headline figures of an opened car, with their ranges.

use engine::headline::{Asked, Headlines};
use engine::loads::{Aboard, Fuel};
use engine::ranges::{DRAWS, MOST_DRAWS, Plan};
use quantity::si::{Force, Speed};

use crate::opened::Opened;
use crate::options::DrawOptions;
use crate::trouble::{COMMAND_LINE, Wrong};

/// The headline figures, or none where the car does not know the surface (which opening it has ruled out).
#[derive(Debug)]
pub(crate) struct Headline(pub(crate) Option<Headlines>);

impl Headline {
    /// Of an opened car at a speed; `hand` stands in the place of the sheet's pull.
    pub(crate) fn of(opened: &Opened, speed: Speed, hand: Option<Force>, plan: Plan) -> Self {
        let state = &opened.state;
        let asked = Asked {
            surface: std::sync::Arc::clone(&state.surface.name),
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
        Self(Headlines::of(
            opened.car(),
            inputs,
            &opened.assembled.toleranced,
            &asked,
            plan,
        ))
    }
}

/// How many draws, and from which seed.
pub(crate) fn plan(options: &DrawOptions) -> Result<Plan, Wrong> {
    let draws = options.draws.unwrap_or(DRAWS);
    if draws > MOST_DRAWS {
        let what = format!("{draws} draws are more than the sequence has");
        let remedy = format!("ask for {MOST_DRAWS} at most; {DRAWS} are usual, 0 for none");
        return Err(Wrong::plain(COMMAND_LINE, "too-many-draws", what, remedy));
    }
    Ok(Plan {
        draws,
        seed: options.seed.unwrap_or(Plan::default().seed),
    })
}

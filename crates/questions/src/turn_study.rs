//! What settles the turn, made or under way: a car that is asked holds it, and the question "How sure is it?" makes it.

use std::sync::Arc;

use engine::settles::{OfFigure, OfTurn};
use engine::turn::TurnFault;

/// What settles the turn: it takes long, so that whoever shows the rest at once may have it made elsewhere.
#[derive(Clone, Debug)]
pub enum TurnStudy {
    /// It is being made, and so much of it is done, from 0 to 1.
    UnderWay(f64),
    /// It is made: for each figure the keys, what settles most first; or why there is no turn.
    Made(Arc<Result<Vec<OfFigure<OfTurn>>, TurnFault>>),
}

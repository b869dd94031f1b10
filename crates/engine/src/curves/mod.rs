//! Every line that a picture draws, as points: what is drawn asks nothing further.
//!
//! Lines that answers carry themselves (the way of a stage, of a night on a slope, of a turn) stay with those.

mod order;
mod pulled;
mod split;
mod used;
mod valve;

pub use order::{LoadCurve, LockCurves};
pub use pulled::{CylinderPull, Pulled, Station};
pub use split::{EqualGrip, SplitLines};
pub use used::Used;
pub use valve::{GaugePair, KneeOf, NamedKnee, Valve};

//! What is wrong: from what the driver says to ranked causes in this car's millimetres and bar, and the one short test
//! that splits the first two; what changed between two pulls; where a circuit leaks.
//!
//! Which cause goes with which symptom, and how likely each is before anything is looked at, is common practice and has no
//! source beyond the trade, unless one is named beside it. What each would do to *this* car is computed by the engine, and
//! a cause that hardly moves anything here falls behind one that does.
//!
//! This crate knows no file, clock, terminal or page.

mod cause;
mod changed;
mod effect;
mod leak;
mod rank;
mod said;
mod trial;

pub use cause::{Cause, CauseSource};
pub use changed::{Changed, DoneBetween, PartChange, changed};
pub use effect::{Effect, InThisCar};
pub use leak::{CutMade, CutStep, How, Leak, Sign, Suspect, leak};
pub use rank::{Diagnosis, Ranked, leans_to_first, narrowed, what_is_wrong};
pub use said::{DoNotDrive, Matched, Symptom, matched};
pub use trial::{Trial, TrialResult};

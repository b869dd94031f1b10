//! Proving: dry, firm, written down.
//!
//! What was found is read from a logbook's entries as plain data ([`Noted`]) and folded, oldest first, into a [`Proof`]:
//! for every joint *untried → marked → dry | weep → remade → dry*, and for every check whether it holds. Touching a part
//! reopens its joints; whatever is opened puts every check back that was made before. A signature counts while all holds.

mod alone;
mod check;
mod fact;
mod proof;
mod soak;

pub use alone::{Alone, PROP, alone};
pub use check::{Check, Judged, Reading, SIDES_SHARE, Said, TRAVELS_ALIKE, TRAVELS_SHARE, coupled, judged};
pub use fact::{Fact, Found, NotRead, Noted, Signature};
pub use proof::{CheckState, Ignored, JointState, Proof, State, prove};
pub use soak::newest as newest_soak;
pub use soak::{
    BODY_EXPANDS_PER_K, CREEP_IN, CREEP_SHARE, Closed, DROP, FLUID_EXPANDS_PER_K, GAUGE, LAW_SHARE, Soak,
    SoakVerdict, THERMOMETER_K, closed_off, judge,
};

//! Proving: dry, firm, written down; what falls due; the order of work.
//!
//! What was found is read from a logbook's entries as plain data ([`Noted`]) and folded, oldest first, into a [`Proof`]:
//! for every joint *untried → marked → dry | weep → remade → dry*, and for every check whether it holds. Touching a part
//! reopens its joints; whatever is opened puts every check back that was made before. A signature counts while all holds.
//!
//! An [`NewEntry`] is what a logbook takes. Nothing else makes one, and it is made by one reading: what would mean nothing
//! later is refused before it is written.
//!
//! This crate knows no file, clock, terminal or page. Days are arguments.

mod alone;
mod bleeding;
mod check;
mod data;
pub mod due;
mod entry;
mod fact;
mod judged;
pub mod order;
mod proof;
mod soak;

pub use alone::{Alone, PROP, alone};
pub use bleeding::mind;
pub use check::{
    Check, CheckFound, CheckReading, SIDES_SHARE, TRAVELS_ALIKE, TRAVELS_SHARE, coupled, judged,
};
pub use data::EntryFault;
pub use entry::NewEntry;
pub use fact::{Fact, JointFound, Noted, SheetChange, Signature};
pub use judged::CheckResult;
pub use proof::{CheckState, Ignored, JointState, Proof, Standing, prove};
pub use soak::newest as newest_soak;
pub use soak::{
    BODY_EXPANDS_PER_K, CREEP_IN, CREEP_SHARE, Closed, DROP, FLUID_EXPANDS_PER_K, GAUGE, LAW_SHARE, Soak,
    SoakVerdict, THERMOMETER_K, closed_off, judge,
};

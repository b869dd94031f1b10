//! What is screwed into what: threads and seats, a joint at both ends of every run, adapters, parts, lengths to cut; the
//! layouts side by side; the order of bleeding and the fluid that it takes.
//!
//! [`Plumbing::of`] reads the engine's circuit, which is the only topology; nothing here builds a graph. A joint's name
//! is its port and its end of a run (`master.rear–master_to_bulkhead.a`), so that an edit elsewhere does not move what is
//! known of one joint to another.
//!
//! Lists of what is made and sold, allowances and bands of torque are common practice and come without a source unless
//! one is named; the maker's figure wins over each.
//!
//! This crate computes no pressure. It knows no file, clock, terminal, page or logbook: what was found at a joint is `proving`'s.

mod assemble;
pub mod bleeding;
mod cuts;
pub mod flow;
mod joint;
pub mod layouts;
mod list;
mod mating;
mod part;
mod path;
mod places;
pub mod prices;
pub mod rules;
mod seat;
mod stays;
mod system;
mod thread;
mod words;

pub use cuts::{Cut, FOR_BENDS, FOR_HOSE, Made, PER_FLARE, PER_SPOILT_FLARE};
pub use joint::{End, Joint, Known, joint_id};
pub use mating::{Meeting, meeting, torque_band};
pub use part::{Counted, NOT_TAPED, Part, PartKind, PipeSize, code_of, pipe_name};
pub use places::Cabin;
pub use seat::{LISTED, PortFault, PortSpec, Seat};
pub use system::{FluidVolumes, Plumbing, Unlisted};
pub use thread::Thread;
pub use words::{component_words, run_words};

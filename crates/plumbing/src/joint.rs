//! Joints: where the end of a run is screwed into a port.

use engine::car::circuit::{Circuit, Port};
use quantity::si::Torque;

use crate::mating::{Meeting, torque_band};
use crate::seat::PortSpec;

/// An end of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum End {
    /// Where it was drawn from.
    A,
    /// Where it was drawn to.
    B,
}

impl End {
    /// The letter for it.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Self::A => 'a',
            Self::B => 'b',
        }
    }
}

/// Where it is known from what a port is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// The sheet says it.
    Sheet,
    /// A plain fitting, chosen to suit its lines.
    Chosen,
    /// The hose's own end, held in its bracket.
    OwnEnd,
    /// A fitting that was there before, on a line that stays.
    Stays,
    /// Nobody says it.
    No,
}

/// A joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Its number on list and drawing, from 1.
    pub number: usize,
    /// Its name: `master.rear–master_to_bulkhead.a`.
    pub id: String,
    /// The port.
    pub port: Port,
    /// Number of the run in the circuit.
    pub run: usize,
    /// Which end of the run.
    pub end: End,
    /// The port's name, and the run's end's.
    pub between: [String; 2],
    /// Where it is, in words.
    pub place: String,
    /// Thread and seat of the port; `None` where nothing is screwed or nobody says.
    pub spec: Option<PortSpec>,
    /// Where that is known from.
    pub known: Known,
    /// How the end meets the port.
    pub meeting: Meeting,
    /// Whether people sit beside it.
    pub in_cabin: bool,
    /// What manuals tighten it to; the maker's figure wins.
    pub torque_band: Option<(Torque, Torque)>,
}

impl Joint {
    /// What people call it: `joint 1, master cylinder front left`.
    #[must_use]
    pub fn words(&self) -> String {
        format!("joint {}, {}", self.number, self.place)
    }

    /// What its thread is called.
    #[must_use]
    pub fn thread(&self) -> &'static str {
        match (self.spec, self.known) {
            (Some(spec), _) => spec.thread_name(),
            (None, Known::OwnEnd) => "none",
            (None, _) => "not known",
        }
    }

    /// What its seat is called.
    #[must_use]
    pub fn seat(&self) -> &'static str {
        match (self.spec, self.known) {
            (Some(spec), _) => spec.seat.word(),
            (None, Known::OwnEnd) => "crimped",
            (None, _) => "not known",
        }
    }
}

/// The name of the joint of a run's end at a port.
#[must_use]
pub fn joint_id(circuit: &Circuit, port: Port, run: usize, end: End) -> String {
    let run = circuit.runs.get(run).map_or("", |run| run.name);
    format!("{}\u{2013}{run}.{}", circuit.port_name(port), end.letter())
}

/// The band of a joint: none where nothing is screwed or nobody knows what.
pub(crate) fn band(
    spec: Option<PortSpec>,
    meeting: &Meeting,
    pipe: engine::car::Pipe,
) -> Option<(Torque, Torque)> {
    match meeting {
        Meeting::Mates { .. } | Meeting::Adapter { .. } => torque_band(spec?, pipe),
        Meeting::None { .. } | Meeting::Joins | Meeting::Crimped | Meeting::Stays | Meeting::NotKnown => None,
    }
}

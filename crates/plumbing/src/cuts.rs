//! Lengths: as measured, as cut, as ordered.

use engine::car::Pipe;
use engine::car::circuit::Circuit;
use quantity::si::Length;

use crate::joint::Joint;
use crate::mating::Meeting;
use crate::part::PartKind;
use crate::path::is_direct;
use crate::seat::{PortSpec, Seat};

/// Pipe that one flare takes, squaring off included (judgement; makers of tools give 3 to 6 mm).
pub const PER_FLARE: Length = Length::from_m(6e-3);
/// What bends take beyond a string laid along the path (judgement).
pub const FOR_BENDS: f64 = 0.03;
/// What a hose gets beyond its path: it shortens under pressure and has to move (judgement).
pub const FOR_HOSE: f64 = 0.02;
/// Pipe that a flare which came out badly costs.
pub const PER_SPOILT_FLARE: Length = Length::from_m(25e-3);
/// Steps of a cut.
const CUT_STEP_M: f64 = 0.01;
/// How a run is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// Cut, bent and flared at both ends.
    Flared,
    /// Cut from hose and made up with ends, or made up by a hose shop.
    MadeUp,
    /// Bought with its ends on.
    Bought,
    /// No length: one part is screwed right onto the other.
    Direct,
}

/// A run's length, as measured and as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Number of the run in the circuit.
    pub index: usize,
    /// Its name.
    pub run: String,
    /// What it is made of.
    pub pipe: Pipe,
    /// Port to port along the path: as measured, or as taken where nobody did.
    pub length: Length,
    /// Whether it was measured.
    pub taped: bool,
    /// Whether it is not touched.
    pub stays: bool,
    /// What it would be cut to, or the hose's length seat to seat; zero where there is nothing to cut.
    pub(crate) as_cut: Length,
    /// How it is made.
    pub made: Made,
    /// What its two ends get, in words.
    pub ends: [String; 2],
}

impl Cut {
    /// What it is cut to, or the hose's length seat to seat; `None` where nothing is cut, or nothing can be yet.
    #[must_use]
    pub fn cut(&self) -> Option<Length> {
        (self.taped && !self.stays && self.made != Made::Direct).then_some(self.as_cut)
    }

    /// Whether it is to be made and nobody knows how long.
    #[must_use]
    pub fn wants_tape(&self) -> bool {
        !self.taped && !self.stays && self.made != Made::Direct
    }
}

/// The next whole step, a hair forgiven.
pub(crate) fn up_to(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

pub(crate) fn cuts(circuit: &Circuit, joints: &[Joint], stays: &[bool]) -> Vec<Cut> {
    circuit
        .runs
        .iter()
        .enumerate()
        .map(|(index, run)| {
            let (length, pipe) = (run.run.length, run.run.pipe);
            let (made, cut_m) = if is_direct(run) {
                (Made::Direct, 0.0)
            } else if pipe == Pipe::Rubber {
                (Made::Bought, up_to(length.m(), CUT_STEP_M))
            } else if pipe.is_hose() {
                (Made::MadeUp, up_to(length.m() * (1.0 + FOR_HOSE), CUT_STEP_M))
            } else {
                let cut_m = length.m() * (1.0 + FOR_BENDS) + 2.0 * PER_FLARE.m();
                (Made::Flared, up_to(cut_m, CUT_STEP_M))
            };
            Cut {
                index,
                run: run.name.to_owned(),
                pipe,
                length,
                taped: run.run.taped,
                stays: stays[index],
                as_cut: Length::from_m(cut_m),
                made,
                ends: [0, 1].map(|end| end_words(&joints[2 * index + end])),
            }
        })
        .collect()
}

/// What an end of a run gets.
pub(crate) fn end_words(joint: &Joint) -> String {
    let gets = |needs: &[PartKind]| {
        needs
            .iter()
            .find(|part| {
                matches!(
                    part,
                    PartKind::Nut { .. }
                        | PartKind::HoseSwivel
                        | PartKind::HoseBanjo(_)
                        | PartKind::RubberEnd(_)
                )
            })
            .map(|part| match part {
                PartKind::Nut { port, .. } => format!("{} nut, {}", port.thread_name(), flare(port.seat)),
                PartKind::HoseSwivel => "-3 female swivel 37°".to_owned(),
                PartKind::HoseBanjo(thread) => format!("-3 banjo for {}", thread.name()),
                PartKind::RubberEnd(port) => end_for(*port),
                _ => String::new(),
            })
    };
    match &joint.meeting {
        Meeting::Crimped => "female, clipped in the bracket".to_owned(),
        Meeting::Stays => "as it is".to_owned(),
        Meeting::Joins => "not to be fitted".to_owned(),
        Meeting::NotKnown => "to suit a port that is not known".to_owned(),
        Meeting::None { .. } => "nothing fits as it is".to_owned(),
        Meeting::Mates { needs } | Meeting::Adapter { needs, .. } => {
            gets(needs).unwrap_or_else(|| "screwed right on".to_owned())
        }
    }
}

fn end_for(port: PortSpec) -> String {
    match port.seat {
        Seat::Banjo => format!("banjo for {}", port.thread.name()),
        seat => format!("male {}, {}", port.thread.name(), seat.word()),
    }
}

const fn flare(seat: Seat) -> &'static str {
    match seat {
        Seat::Bubble => "bubble flare",
        Seat::Japanese => "double flare to suit the port",
        Seat::Inverted => "45° double flare",
        Seat::Male37 => "37° flare and sleeve",
        Seat::Banjo | Seat::Taper | Seat::Bleed => "no flare",
    }
}

//! What goes on the end of a pipe or hose so that it closes a port: by itself, with an adapter, or not at all.

use engine::car::Pipe;
use quantity::si::Torque;

use crate::part::{PartKind, PipeSize};
use crate::seat::{PortSpec, Seat};
use crate::thread::Thread;

/// How the end of a run meets a port.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meeting {
    /// It closes the port with its own end.
    Mates {
        /// What is made or bought for it.
        needs: Vec<PartKind>,
    },
    /// Something has to stand between.
    Adapter {
        /// What it is, in trade terms.
        adapter: String,
        /// What is made or bought for it, adapter included.
        needs: Vec<PartKind>,
    },
    /// Nothing that is made joins the two.
    None {
        /// Why.
        why: &'static str,
        /// What to change.
        change: &'static str,
    },
    /// The two would mate, and with them the two circuits: not to be fitted.
    Joins,
    /// The hose's own end is held there: nothing is screwed.
    Crimped,
    /// It was there before and is not touched.
    Stays,
    /// The sheet does not say what the port is.
    NotKnown,
}

impl Meeting {
    /// Whether the end closes the port by itself; `None` where the port is not known, or not touched.
    #[must_use]
    pub const fn mates(&self) -> Option<bool> {
        match self {
            Self::Mates { .. } | Self::Crimped => Some(true),
            Self::Adapter { .. } | Self::None { .. } | Self::Joins => Some(false),
            Self::Stays | Self::NotKnown => None,
        }
    }

    /// The adapter, where one is needed.
    #[must_use]
    pub fn adapter(&self) -> Option<&str> {
        match self {
            Self::Adapter { adapter, .. } => Some(adapter),
            _ => None,
        }
    }

    /// What is made or bought for it.
    #[must_use]
    pub fn needs(&self) -> &[PartKind] {
        match self {
            Self::Mates { needs } | Self::Adapter { needs, .. } => needs,
            _ => &[],
        }
    }
}

const BLEED: Meeting = Meeting::None {
    why: "it is the thread of a bleed screw, not of a port that a line is screwed into",
    change: "look for the feed port, and put its thread and seat on the sheet",
};

/// How a pipe or hose of one kind meets a port.
///
/// Which ends and adapters are made is common practice, no source: what brake-part lists carry.
#[must_use]
pub fn meeting(port: PortSpec, pipe: Pipe) -> Meeting {
    if port.seat == Seat::Bleed {
        return BLEED;
    }
    match pipe {
        Pipe::Steel316 | Pipe::CopperNickel316 => small_pipe(port),
        Pipe::Steel14 | Pipe::CopperNickel14 => wide_pipe(port),
        Pipe::Braided3 => braided(port),
        Pipe::Rubber => rubber(port),
    }
}

fn nut(port: PortSpec, pipe: PipeSize) -> PartKind {
    PartKind::Nut { port, pipe }
}

fn adapter(text: String, mut needs: Vec<PartKind>) -> Meeting {
    needs.insert(0, PartKind::Adapter(text.clone()));
    Meeting::Adapter { adapter: text, needs }
}

fn with_washers(thread: Thread, mut needs: Vec<PartKind>) -> Vec<PartKind> {
    needs.push(PartKind::BanjoBolt(thread));
    needs.extend([PartKind::Washer(thread), PartKind::Washer(thread)]);
    needs
}

/// Rigid pipe of 3/16 in: flared and nutted to suit the port.
fn small_pipe(port: PortSpec) -> Meeting {
    let size = PipeSize::ThreeSixteenths;
    match (port.seat, port.thread) {
        (Seat::Male37, Thread::Unf716x20) => adapter(
            "-4 female 37° to -3 male 37° reducer".to_owned(),
            vec![nut(MALE_3, size)],
        ),
        (Seat::Banjo, thread) => {
            // The banjo's own pipe seat is of its family.
            let seat = if matches!(thread, Thread::M10x1 | Thread::M10x125) {
                BUBBLE
            } else {
                INVERTED
            };
            let text = format!(
                "banjo for {} bolt with {seat} seat for 3/16 in pipe",
                thread.name()
            );
            adapter(text, with_washers(thread, vec![nut(seat, size)]))
        }
        (Seat::Taper, _) => adapter(
            format!("1/8 NPT male to {INVERTED}"),
            vec![nut(INVERTED, size), PartKind::Sealant],
        ),
        _ => Meeting::Mates {
            needs: vec![nut(port, size)],
        },
    }
}

/// Rigid pipe of 1/4 in.
fn wide_pipe(port: PortSpec) -> Meeting {
    let size = PipeSize::Quarter;
    let down = |from: &str| {
        adapter(
            format!("{from} to {INVERTED_WIDE}"),
            vec![nut(INVERTED_WIDE, size)],
        )
    };
    match (port.seat, port.thread) {
        (Seat::Inverted, Thread::Uns716x24) | (Seat::Male37, Thread::Unf716x20) => Meeting::Mates {
            needs: vec![nut(port, size)],
        },
        (Seat::Bubble, Thread::M12x1) => Meeting::None {
            why: "an M12x1 nut is bored for 6 mm pipe, and 1/4 in is 6.35 mm: the pipe does not go through it",
            change: "run 3/16 in pipe there, with an M12x1 nut bored for it",
        },
        (Seat::Bubble, _) => down("M10x1 male, bubble end,"),
        (Seat::Japanese, _) => down("M10x1 male, japanese double-flare end,"),
        (Seat::Inverted, _) => down("3/8-24 male, inverted end,"),
        (Seat::Male37, _) => adapter("-3 female 37° to -4 male 37°".to_owned(), vec![nut(MALE_4, size)]),
        (Seat::Taper, _) => adapter(
            format!("1/8 NPT male to {INVERTED_WIDE}"),
            vec![nut(INVERTED_WIDE, size), PartKind::Sealant],
        ),
        (Seat::Banjo | Seat::Bleed, _) => Meeting::None {
            why: "no banjo of a brake caliper carries 1/4 in pipe: its bolt's passage is too small for it",
            change: "end the pipe at a bracket and go on with a banjo hose, or run 3/16 in pipe",
        },
    }
}

/// Braided hose of −3: a female swivel or a banjo at its end, adapters for everything else.
fn braided(port: PortSpec) -> Meeting {
    let onto = |text: String| adapter(text, vec![PartKind::HoseSwivel]);
    match (port.seat, port.thread) {
        (Seat::Male37, Thread::Unf38x24) => Meeting::Mates {
            needs: vec![PartKind::HoseSwivel],
        },
        (Seat::Male37, _) => onto("-4 female 37° to -3 male 37° reducer".to_owned()),
        (Seat::Banjo, thread) => Meeting::Mates {
            needs: with_washers(thread, vec![PartKind::HoseBanjo(thread)]),
        },
        (Seat::Bubble, thread) => onto(format!("{} male, bubble end, to -3 male 37°", thread.name())),
        (Seat::Japanese, _) => onto("M10x1 male, japanese double-flare end, to -3 male 37°".to_owned()),
        (Seat::Inverted, thread) => onto(format!("{} male, inverted end, to -3 male 37°", thread.name())),
        (Seat::Taper, _) => adapter(
            "1/8 NPT male to -3 male 37°".to_owned(),
            vec![PartKind::HoseSwivel, PartKind::Sealant],
        ),
        (Seat::Bleed, _) => BLEED,
    }
}

/// Rubber hose: made with its ends on, in the families of the ports that cars have.
fn rubber(port: PortSpec) -> Meeting {
    match (port.seat, port.thread) {
        (Seat::Bubble | Seat::Japanese, Thread::M10x1) | (Seat::Inverted, Thread::Unf38x24) => {
            Meeting::Mates {
                needs: vec![PartKind::RubberEnd(port)],
            }
        }
        (Seat::Banjo, thread) => Meeting::Mates {
            needs: with_washers(thread, vec![PartKind::RubberEnd(port)]),
        },
        (Seat::Male37, _) => Meeting::None {
            why: "rubber brake hoses are not made with a 37° swivel",
            change: "take a braided hose of -3 there",
        },
        (Seat::Bubble, _) => adapter(
            format!("M12x1 male, bubble end, to {BUBBLE}"),
            vec![PartKind::RubberEnd(BUBBLE)],
        ),
        (Seat::Inverted, _) => adapter(
            format!("7/16-24 male, inverted end, to {INVERTED}"),
            vec![PartKind::RubberEnd(INVERTED)],
        ),
        (Seat::Taper, _) => adapter(
            format!("1/8 NPT male to {INVERTED}"),
            vec![PartKind::RubberEnd(INVERTED), PartKind::Sealant],
        ),
        (Seat::Japanese | Seat::Bleed, _) => BLEED,
    }
}

pub(crate) const BUBBLE: PortSpec = PortSpec {
    thread: Thread::M10x1,
    seat: Seat::Bubble,
};
pub(crate) const JAPANESE: PortSpec = PortSpec {
    thread: Thread::M10x1,
    seat: Seat::Japanese,
};
pub(crate) const INVERTED: PortSpec = PortSpec {
    thread: Thread::Unf38x24,
    seat: Seat::Inverted,
};
pub(crate) const INVERTED_WIDE: PortSpec = PortSpec {
    thread: Thread::Uns716x24,
    seat: Seat::Inverted,
};
pub(crate) const MALE_3: PortSpec = PortSpec {
    thread: Thread::Unf38x24,
    seat: Seat::Male37,
};
pub(crate) const MALE_4: PortSpec = PortSpec {
    thread: Thread::Unf716x20,
    seat: Seat::Male37,
};

/// The torque that workshop manuals give a joint, from and to; a band and never a limit: the maker's figure wins
/// (common practice; from memory). `None` where a torque says nothing: a tapered thread, a crimped end.
#[must_use]
pub fn torque_band(port: PortSpec, pipe: Pipe) -> Option<(Torque, Torque)> {
    let soft = matches!(pipe, Pipe::CopperNickel316 | Pipe::CopperNickel14);
    let (low, high) = match (port.seat, port.thread) {
        (Seat::Taper, _) => return None,
        (Seat::Bleed, _) => (7.0, 12.0),
        (Seat::Banjo, Thread::Unf716x20) => (25.0, 40.0),
        (Seat::Banjo, _) => (17.0, 30.0),
        (Seat::Male37, Thread::Unf38x24) => (9.0, 15.0),
        (Seat::Male37, _) => (14.0, 22.0),
        (Seat::Inverted, Thread::Uns716x24) | (Seat::Bubble, Thread::M12x1) => {
            if soft {
                (14.0, 20.0)
            } else {
                (15.0, 22.0)
            }
        }
        (Seat::Bubble | Seat::Japanese | Seat::Inverted, _) => {
            if soft {
                (10.0, 16.0)
            } else {
                (12.0, 18.0)
            }
        }
    };
    Some((Torque::from_nm(low), Torque::from_nm(high)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seat::LISTED;

    const PIPES: [Pipe; 6] = [
        Pipe::Steel316,
        Pipe::CopperNickel316,
        Pipe::Steel14,
        Pipe::CopperNickel14,
        Pipe::Braided3,
        Pipe::Rubber,
    ];

    /// Whatever meets whatever, there is an answer that can be acted upon.
    #[test]
    fn every_pair_has_an_answer() {
        for port in LISTED {
            for pipe in PIPES {
                match meeting(port, pipe) {
                    Meeting::Mates { needs } => assert!(!needs.is_empty(), "{port} {pipe:?}"),
                    Meeting::Adapter { adapter, needs } => {
                        assert!(adapter.len() > 10 && needs.len() > 1, "{port} {pipe:?}");
                    }
                    Meeting::None { why, change } => assert!(why.len() > 20 && change.len() > 20),
                    other => panic!("{port} {pipe:?}: {other:?}"),
                }
            }
        }
    }

    #[test]
    fn every_banjo_has_two_washers() {
        for port in LISTED.into_iter().filter(|port| port.seat == Seat::Banjo) {
            for pipe in PIPES {
                let meeting = meeting(port, pipe);
                let washers = meeting
                    .needs()
                    .iter()
                    .filter(|part| matches!(part, PartKind::Washer(_)))
                    .count();
                assert_eq!(washers, if meeting.needs().is_empty() { 0 } else { 2 }, "{port}");
            }
        }
    }

    #[test]
    fn six_millimetres_are_no_quarter_inch_and_a_bleed_screw_is_no_port() {
        let six = PortSpec::read("M12x1 bubble").unwrap();
        assert_eq!(meeting(six, Pipe::Steel14).mates(), Some(false));
        assert_eq!(meeting(six, Pipe::Steel14).adapter(), None);
        for pipe in PIPES {
            assert_eq!(meeting(PortSpec::read("M7x1 bleed").unwrap(), pipe), BLEED);
        }
    }

    /// −3 and 3/8-24 share a thread: hose and inverted port still need something between.
    #[test]
    fn a_shared_thread_is_no_shared_seat() {
        assert_eq!(MALE_3.thread, INVERTED.thread);
        assert_eq!(meeting(MALE_3, Pipe::Braided3).mates(), Some(true));
        assert!(meeting(INVERTED, Pipe::Braided3).adapter().is_some());
    }
}

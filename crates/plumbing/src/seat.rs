//! Seats: what makes a joint tight. The thread only presses.

use core::fmt;
use nearest::nearest_one;

use quantity::si::Length;

use crate::thread::Thread;

/// How a port closes on what is screwed into it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Seat {
    /// A funnel going away: the bubble flare of ISO 4038 and DIN 74234 lies in it.
    Bubble,
    /// The double flare of cars from Japan, on M10×1. Sources differ about its angle.
    Japanese,
    /// A cone pointing out: the inverted 45° double flare lies on it.
    Inverted,
    /// A male thread with a cone of 37° at its end.
    Male37,
    /// A flat face round a straight thread, for a banjo and two washers.
    Banjo,
    /// A tapered thread, which seals on its flanks.
    Taper,
    /// A cone deep in the hole, for a bleed screw.
    Bleed,
}

impl Seat {
    /// The word for it. A sheet may leave the degree sign out.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bubble => "bubble",
            Self::Japanese => "japanese",
            Self::Inverted => "inverted",
            Self::Male37 => "male 37°",
            Self::Banjo => "banjo",
            Self::Taper => "taper",
            Self::Bleed => "bleed",
        }
    }

    /// How to know it when looking into the port.
    #[must_use]
    pub const fn looks_like(self) -> &'static str {
        match self {
            Self::Bubble => "the floor is a funnel that goes away from you",
            Self::Japanese => {
                "M10x1 with a cone that points at you; not the funnel of the bubble. Sources differ about the angle: \
                 identify the port by the maker's drawing or by the old pipe's flare"
            }
            Self::Inverted => "the floor is a cone that points at you",
            Self::Male37 => "a male thread with a polished cone at its end",
            Self::Banjo => "a flat ring round a straight thread, wide enough for a washer",
            Self::Taper => "a thread that narrows; no seat, no flat",
            Self::Bleed => "a deep hole with a small cone and a hole beside it",
        }
    }

    /// What closes it, in trade terms.
    #[must_use]
    pub const fn closes_on(self) -> &'static str {
        match self {
            Self::Bubble => "bubble flare (ISO/DIN), nut with an unthreaded lead",
            Self::Japanese => "double flare, nut threaded to its end; angle by the port",
            Self::Inverted => "45° double flare, nut threaded to its end",
            Self::Male37 => "37° single flare with sleeve and nut, or a hose's female swivel",
            Self::Banjo => "banjo and bolt, one new washer on each side",
            Self::Taper => "tapered male thread with sealant that stands brake fluid",
            Self::Bleed => "bleed screw",
        }
    }
}

/// What a port is: thread and seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PortSpec {
    /// Its thread.
    pub thread: Thread,
    /// Its seat.
    pub seat: Seat,
}

const fn port(thread: Thread, seat: Seat) -> PortSpec {
    PortSpec { thread, seat }
}

/// The ports that are known here: what a sheet may name.
pub const LISTED: [PortSpec; 16] = [
    port(Thread::M10x1, Seat::Bubble),
    port(Thread::M12x1, Seat::Bubble),
    port(Thread::M10x1, Seat::Japanese),
    port(Thread::Unf38x24, Seat::Inverted),
    port(Thread::Uns716x24, Seat::Inverted),
    port(Thread::Unf38x24, Seat::Male37),
    port(Thread::Unf716x20, Seat::Male37),
    port(Thread::M10x1, Seat::Banjo),
    port(Thread::M10x125, Seat::Banjo),
    port(Thread::Unf38x24, Seat::Banjo),
    port(Thread::Unf716x20, Seat::Banjo),
    port(Thread::Npt18, Seat::Taper),
    port(Thread::M7x1, Seat::Bleed),
    port(Thread::M8x125, Seat::Bleed),
    port(Thread::M10x1, Seat::Bleed),
    port(Thread::Unf14x28, Seat::Bleed),
];

impl PortSpec {
    /// What its thread is called: a dash size for 37° cones.
    #[must_use]
    pub const fn thread_name(self) -> &'static str {
        match (self.seat, self.thread) {
            (Seat::Male37, Thread::Unf38x24) => "-3",
            (Seat::Male37, _) => "-4",
            (_, thread) => thread.name(),
        }
    }

    /// Outside diameter of the pipe that it is made for; `None` where no pipe goes in.
    #[must_use]
    pub const fn pipe_outside(self) -> Option<Length> {
        match (self.seat, self.thread) {
            (Seat::Bubble, Thread::M12x1) => Some(Length::from_m(6.0e-3)),
            (Seat::Inverted, Thread::Uns716x24) | (Seat::Male37, Thread::Unf716x20) => {
                Some(Length::from_m(6.35e-3))
            }
            (Seat::Bubble | Seat::Japanese | Seat::Inverted | Seat::Male37, _) => {
                Some(Length::from_m(4.75e-3))
            }
            (Seat::Banjo | Seat::Taper | Seat::Bleed, _) => None,
        }
    }

    /// From and to across the flare that closes it: a flare outside that is cut off and made anew. SAE J533, 45° double
    /// flares (from a table of its 2024 issue, secondary); `None` where no figure is at hand.
    #[must_use]
    pub const fn flare_across(self) -> Option<(Length, Length)> {
        match (self.seat, self.thread) {
            (Seat::Inverted, Thread::Unf38x24) => Some((Length::from_m(6.7e-3), Length::from_m(7.1e-3))),
            (Seat::Inverted, Thread::Uns716x24) => Some((Length::from_m(8.7e-3), Length::from_m(9.1e-3))),
            _ => None,
        }
    }

    /// Reads what a sheet says of a port, such as `M10x1 bubble`; case, blanks and the look of the times sign do not
    /// matter.
    ///
    /// # Errors
    /// What is not listed, with the nearest that is.
    pub fn read(text: &str) -> Result<Self, PortFault> {
        let wanted = plain(text);
        LISTED
            .into_iter()
            .find(|listed| plain(&listed.to_string()) == wanted)
            .ok_or_else(|| PortFault {
                given: text.trim().to_owned(),
                nearest: nearest(&wanted),
            })
    }
}

impl fmt::Display for PortSpec {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.thread_name(), self.seat.word())
    }
}

/// A thread and seat that no listing has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PortFault {
    /// As it was written.
    pub given: String,
    /// The listed port that is written most like it, if any is.
    pub nearest: Option<PortSpec>,
}

impl fmt::Display for PortFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` is no thread and seat that is known here", self.given)
    }
}

impl core::error::Error for PortFault {}

impl PortFault {
    /// What to do.
    #[must_use]
    pub fn help(&self) -> String {
        match self.nearest {
            Some(near) => format!("did you mean \"{near}\"? `lines --seats` lists them all"),
            None => {
                "write thread and seat, such as \"M10x1 bubble\"; `lines --seats` lists them all".to_owned()
            }
        }
    }
}

/// Lower case, one sign for one thing, no blanks, no needless ends.
fn plain(text: &str) -> String {
    let text: String = text
        .to_lowercase()
        .chars()
        .map(|character| match character {
            '×' => 'x',
            '\u{2212}' | '\u{2013}' | '\u{2010}' => '-',
            ',' => '.',
            other => other,
        })
        .filter(|character| !character.is_whitespace() && *character != '°')
        .collect();
    text.replace("x1.0", "x1")
}

/// The listed port that is written most like a text, if it is near enough.
fn nearest(wanted: &str) -> Option<PortSpec> {
    let listed = LISTED.map(|listed| (plain(&listed.to_string()), listed));
    let near = nearest_one(wanted, listed.iter().map(|(plain, _)| &**plain))?;
    listed
        .iter()
        .find(|(plain, _)| plain == near)
        .map(|&(_, listed)| listed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_listed_port_reads_as_it_is_written() {
        for listed in LISTED {
            assert_eq!(PortSpec::read(&listed.to_string()), Ok(listed));
        }
        for (other, same) in [
            ("  m10 × 1.0   Bubble ", "M10x1 bubble"),
            ("−3 male 37°", "-3 male 37°"),
            ("-3 male 37", "-3 male 37°"),
            ("M10x1,25 BANJO", "M10x1.25 banjo"),
        ] {
            assert_eq!(
                PortSpec::read(other).map(|read| read.to_string()),
                Ok(same.to_owned())
            );
        }
    }

    #[test]
    fn what_is_not_listed_is_refused_with_the_nearest() {
        for (given, near) in [
            ("M10x1 buble", Some("M10x1 bubble")),
            ("3/8-24 invert", Some("3/8-24 inverted")),
            ("-3 female 37", Some("-3 male 37°")),
            ("brazed to a bracket", None),
        ] {
            let refused = PortSpec::read(given).unwrap_err();
            let found = refused.nearest.map(|near| near.to_string());
            assert_eq!(found.as_deref(), near, "{given}");
            assert!(refused.help().contains("--seats"));
        }
        assert_eq!(PortSpec::read("").unwrap_err().nearest, None);
    }
}

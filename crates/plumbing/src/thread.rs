//! Threads of brake fittings.

use quantity::si::Length;

/// A thread that brake fittings are cut with. Dash sizes stand under the thread that they have: −3 is 3/8-24, −4 is 7/16-20.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Thread {
    /// Metric, for bleed screws.
    M7x1,
    /// Metric, for bleed screws.
    M8x125,
    /// Metric, the common one with 4.75 mm pipe.
    M10x1,
    /// Metric, for banjo bolts.
    M10x125,
    /// Metric, with 6 mm pipe.
    M12x1,
    /// Unified, for bleed screws.
    Unf14x28,
    /// Unified, with 3/16 in pipe; also the thread of −3.
    Unf38x24,
    /// Unified, with 1/4 in pipe.
    Uns716x24,
    /// Unified; also the thread of −4.
    Unf716x20,
    /// Tapered pipe thread: it seals on its flanks.
    Npt18,
}

impl Thread {
    /// All of them, in the order of the listing.
    pub const ALL: [Self; 10] = [
        Self::M10x1,
        Self::M12x1,
        Self::Unf38x24,
        Self::Uns716x24,
        Self::Unf716x20,
        Self::M10x125,
        Self::Npt18,
        Self::M7x1,
        Self::M8x125,
        Self::Unf14x28,
    ];

    /// As it is written on a drawing.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::M7x1 => "M7x1",
            Self::M8x125 => "M8x1.25",
            Self::M10x1 => "M10x1",
            Self::M10x125 => "M10x1.25",
            Self::M12x1 => "M12x1",
            Self::Unf14x28 => "1/4-28",
            Self::Unf38x24 => "3/8-24",
            Self::Uns716x24 => "7/16-24",
            Self::Unf716x20 => "7/16-20",
            Self::Npt18 => "1/8 NPT",
        }
    }

    /// Diameter over the crests of the male thread: the nominal one, an inch being 25.4 mm. Of the tapered thread the
    /// outside diameter of 1/8 in pipe, 10.287 mm (ASME B1.20.1, from memory).
    #[must_use]
    pub const fn major(self) -> Length {
        Length::from_m(match self {
            Self::M7x1 => 7.0e-3,
            Self::M8x125 => 8.0e-3,
            Self::M10x1 | Self::M10x125 => 10.0e-3,
            Self::M12x1 => 12.0e-3,
            Self::Unf14x28 => 6.35e-3,
            Self::Unf38x24 => 9.525e-3,
            Self::Uns716x24 | Self::Unf716x20 => 11.1125e-3,
            Self::Npt18 => 10.287e-3,
        })
    }

    /// From one crest to the next.
    #[must_use]
    pub const fn pitch(self) -> Length {
        Length::from_m(match self {
            Self::M7x1 | Self::M10x1 | Self::M12x1 => 1.0e-3,
            Self::M8x125 | Self::M10x125 => 1.25e-3,
            Self::Unf14x28 => 25.4e-3 / 28.0,
            Self::Unf38x24 | Self::Uns716x24 => 25.4e-3 / 24.0,
            Self::Unf716x20 => 25.4e-3 / 20.0,
            Self::Npt18 => 25.4e-3 / 27.0,
        })
    }

    /// Whether it seals on its own flanks.
    #[must_use]
    pub const fn is_tapered(self) -> bool {
        matches!(self, Self::Npt18)
    }

    /// Diameter of the hole that a female thread leaves, D − 1.0825 P (the basic profile with 60° flanks, ISO 68-1 and
    /// ASME B1.1).
    #[must_use]
    pub fn hole(self) -> Length {
        self.major() - self.pitch() * 1.082_5
    }

    /// Whether a male thread of another kind starts in this one by hand and then tears it: its pitch is so near that
    /// the first turns slip in, and it neither falls through nor fails to enter. Common practice, no source for the
    /// limits: pitches within 7 %, diameters within 6 %.
    #[must_use]
    pub fn starts_and_strips(self, male: Self) -> bool {
        if self == male || self.is_tapered() != male.is_tapered() {
            return false;
        }
        let pitch = (self.pitch().m() / male.pitch().m() - 1.0).abs();
        let major = (self.major().m() / male.major().m() - 1.0).abs();
        pitch < 0.07 && major < 0.06
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_starts_and_strips_is_what_the_trade_warns_of() {
        let pairs: Vec<(&str, &str)> = Thread::ALL
            .iter()
            .flat_map(|&port| Thread::ALL.iter().map(move |&male| (port, male)))
            .filter(|&(port, male)| port.starts_and_strips(male))
            .map(|(port, male)| (port.name(), male.name()))
            .collect();
        assert_eq!(pairs, [("M10x1", "3/8-24"), ("3/8-24", "M10x1")]);
    }

    #[test]
    fn a_port_of_seven_sixteenths_lets_neither_of_its_sorts_take_the_other_far() {
        // 24 and 20 to the inch, one diameter: they start, and after two turns and a half crest stands on crest.
        let (fine, coarse) = (Thread::Uns716x24, Thread::Unf716x20);
        assert!((fine.major() / coarse.major() - 1.0).abs() < 1e-12);
        let turns = 0.5 * fine.pitch().m() / (coarse.pitch().m() - fine.pitch().m());
        assert!((turns - 2.5).abs() < 1e-9, "{turns}");
    }
}

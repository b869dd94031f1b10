//! Short tests that split causes.

use crate::cause::Cause;

/// What came of a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TrialResult {
    /// It did what the test asks about.
    Yes,
    /// It did not.
    No,
}

/// A test of five minutes at most, with what stands on the car and in the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "each is said by `todo`")]
pub enum Trial {
    TwoPulls,
    PullAgainCold,
    WatchHoses,
    HoldAndWatch,
    WipeAndLook,
    TurnByHand,
    OpenNipple,
    EngineOff,
    Roll,
    ClutchDown,
    DragWarm,
    ReadGauges,
    PadsOut,
    RockWheel,
    LeverHeld,
    HoldByLever,
}

impl Trial {
    /// All of them.
    pub const ALL: [Self; 16] = [
        Self::TwoPulls,
        Self::PullAgainCold,
        Self::WatchHoses,
        Self::HoldAndWatch,
        Self::WipeAndLook,
        Self::TurnByHand,
        Self::OpenNipple,
        Self::EngineOff,
        Self::Roll,
        Self::ClutchDown,
        Self::DragWarm,
        Self::ReadGauges,
        Self::PadsOut,
        Self::RockWheel,
        Self::LeverHeld,
        Self::HoldByLever,
    ];

    /// Its name.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::TwoPulls => "two-pulls",
            Self::PullAgainCold => "again-cold",
            Self::WatchHoses => "watch-hoses",
            Self::HoldAndWatch => "hold-and-watch",
            Self::WipeAndLook => "wipe-and-look",
            Self::TurnByHand => "turn-by-hand",
            Self::OpenNipple => "open-nipple",
            Self::EngineOff => "engine-off",
            Self::Roll => "roll",
            Self::ClutchDown => "clutch-down",
            Self::DragWarm => "drag-warm",
            Self::ReadGauges => "read-gauges",
            Self::PadsOut => "pads-out",
            Self::RockWheel => "rock-wheel",
            Self::LeverHeld => "lever-held",
            Self::HoldByLever => "hold-by-lever",
        }
    }

    /// What to do.
    #[must_use]
    pub const fn todo(self) -> &'static str {
        match self {
            Self::TwoPulls => {
                "Stand still. Work it twice, a second apart, then wait a minute and work it once more."
            }
            Self::PullAgainCold => "Wait until the discs can be touched. Work it again to the same force.",
            Self::WatchHoses => "A helper works it hard. Lay a hand on each hose and bracket in turn.",
            Self::HoldAndWatch => "Hold it at a steady force for a minute, gauge or tape in view.",
            Self::WipeAndLook => {
                "Wipe joints, nipples and the insides of the wheels dry. Hold pressure a minute and feel round with paper."
            }
            Self::TurnByHand => {
                "Wheels clear of the ground, on stands. Turn each by hand before and right after."
            }
            Self::OpenNipple => {
                "Dragging wheel clear, on stands, rag over the nipple. Open it a quarter turn and close it."
            }
            Self::EngineOff => "Engine off: press four times, keep the foot on, start the engine.",
            Self::Roll => "In a safe place, clutch down: pull at walking pace, then at 30 km/h.",
            Self::ClutchDown => "In a safe place at 20 km/h: pull with the clutch down, then with it up.",
            Self::DragWarm => "In a safe place: warm the rear with ten gentle drags. Try again.",
            Self::ReadGauges => "A gauge in front and one behind: press to 60 bar, read both.",
            Self::PadsOut => "Wheel off: look at both pads or linings of the axle.",
            Self::LeverHeld => "A helper pulls the lever hard and holds it. Press the pedal again.",
            Self::HoldByLever => {
                "Leave the pedal alone. Pull the lever to the same pressure and hold it a minute."
            }
            Self::RockWheel => "Wheel clear: rock it at top and bottom; turn the disc past a fixed edge.",
        }
    }

    /// What it asks, to be answered with yes or no.
    #[must_use]
    pub const fn asks(self) -> &'static str {
        match self {
            Self::TwoPulls => "Was the second at once shorter, and the one after a minute long again?",
            Self::PullAgainCold => "Is it as it should be once cold?",
            Self::WatchHoses => "Does one of them swell or move?",
            Self::HoldAndWatch => "Does it sink, or the pressure fall?",
            Self::WipeAndLook => "Is there a wet place?",
            Self::TurnByHand => "Does one wheel turn harder than its twin?",
            Self::OpenNipple => "Does fluid spurt, and the wheel turn free?",
            Self::EngineOff => "Does the pedal drop a little as the engine starts?",
            Self::Roll => "Does it lock at walking pace and not at 30?",
            Self::ClutchDown => "Is it better with the clutch down?",
            Self::DragWarm => "Is it better warm?",
            Self::ReadGauges => "Does the rear gauge read what the sheet says?",
            Self::PadsOut => "Is one wet, shiny, or worn unevenly?",
            Self::LeverHeld => "Is the pedal now clearly shorter and firmer?",
            Self::HoldByLever => "Does the pressure fall there too?",
            Self::RockWheel => "Is there play, or does the edge rub at one place?",
        }
    }

    /// How long it takes, in minutes.
    #[must_use]
    pub const fn minutes(self) -> u32 {
        match self {
            Self::TwoPulls
            | Self::HoldAndWatch
            | Self::EngineOff
            | Self::ClutchDown
            | Self::LeverHeld
            | Self::HoldByLever => 2,
            Self::WatchHoses | Self::TurnByHand | Self::OpenNipple | Self::Roll => 4,
            _ => 5,
        }
    }

    /// Whether the car has to be driven for it.
    #[must_use]
    pub const fn needs_driving(self) -> bool {
        matches!(self, Self::Roll | Self::ClutchDown | Self::DragWarm)
    }

    /// Whether it wants an inline lever's cylinder, which shuts the rear off from the pedal while it is pulled.
    #[must_use]
    pub const fn needs_inline_lever(self) -> bool {
        matches!(self, Self::LeverHeld | Self::HoldByLever)
    }

    /// Whether a *no* is what gives a cause away, and not only a yes.
    const fn tells_by_no(self) -> bool {
        matches!(
            self,
            Self::EngineOff | Self::OpenNipple | Self::ReadGauges | Self::LeverHeld | Self::HoldByLever
        )
    }

    /// Whether it is about one of two causes at all.
    pub(crate) fn is_about(self, one: Cause, other: Cause) -> bool {
        let yes = [one, other].map(|cause| self.says_yes(cause));
        yes.iter().any(|yes| *yes > 0.8) || (self.tells_by_no() && yes.iter().any(|yes| *yes < 0.2))
    }

    /// Chance of a yes if this is the cause (common practice, judgement): 0.5 where it tells nothing.
    pub(crate) fn says_yes(self, cause: Cause) -> f64 {
        use Cause as C;
        let (yes, no): (&[Cause], &[Cause]) = match self {
            // Air is pressed together by every pull; pads and shoes that were brought near stay near for a while.
            Self::TwoPulls => (
                &[C::KnockBack, C::ShoesFarOff, C::LeverSeal, C::MasterSeal],
                &[C::AirRear, C::AirFront, C::SoftHose, C::Leak, C::FluidBoils],
            ),
            Self::PullAgainCold => (
                &[C::FluidBoils],
                &[
                    C::AirRear,
                    C::AirFront,
                    C::SoftHose,
                    C::KnockBack,
                    C::Leak,
                    C::MasterSeal,
                    C::ShoesFarOff,
                ],
            ),
            Self::WatchHoses => (
                &[C::SoftHose],
                &[
                    C::AirRear,
                    C::AirFront,
                    C::FluidBoils,
                    C::KnockBack,
                    C::LeverSeal,
                    C::MasterSeal,
                    C::Leak,
                ],
            ),
            Self::HoldAndWatch => (
                &[C::LeverSeal, C::MasterSeal, C::Leak],
                &[
                    C::AirRear,
                    C::AirFront,
                    C::KnockBack,
                    C::ShoesFarOff,
                    C::SoftHose,
                    C::FluidBoils,
                ],
            ),
            Self::WipeAndLook => (
                &[C::Leak],
                &[
                    C::LeverSeal,
                    C::MasterSeal,
                    C::AirRear,
                    C::AirFront,
                    C::SoftHose,
                    C::KnockBack,
                    C::FluidBoils,
                ],
            ),
            Self::TurnByHand => (
                &[C::PistonSticks, C::HoseShut],
                &[
                    C::PadsOiled,
                    C::SideWeak,
                    C::PadsGlazed,
                    C::ByPassCovered,
                    C::ShoesFarOff,
                ],
            ),
            Self::OpenNipple => (
                &[C::ByPassCovered, C::HoseShut],
                &[C::PistonSticks, C::ShoesFarOff],
            ),
            Self::EngineOff => (&[C::PadsGlazed, C::PadsOiled, C::PistonSticks], &[C::NoVacuum]),
            Self::Roll => (
                &[C::Centre, C::EngineDrives],
                &[C::PadsGlazed, C::PadsOiled, C::ValveCuts, C::PistonSticks],
            ),
            Self::ClutchDown => (
                &[C::EngineDrives],
                &[C::Centre, C::PadsCold, C::PadsGlazed, C::PadsOiled, C::ValveCuts],
            ),
            Self::DragWarm => (
                &[C::PadsCold],
                &[
                    C::Centre,
                    C::PadsOiled,
                    C::ValveCuts,
                    C::EngineDrives,
                    C::PistonSticks,
                ],
            ),
            Self::ReadGauges => (
                &[C::LightRear, C::PadsCold, C::PadsGlazed, C::Centre],
                &[C::ValveCuts, C::ValveOpen],
            ),
            Self::PadsOut => (
                &[C::PadsOiled, C::PadsGlazed],
                &[
                    C::PistonSticks,
                    C::HoseShut,
                    C::NoVacuum,
                    C::Centre,
                    C::ValveCuts,
                    C::ValveOpen,
                ],
            ),
            // The pulled lever shuts the rear off: what is soft behind it is then not felt.
            Self::LeverHeld => (
                &[C::AirRear, C::ShoesFarOff],
                &[C::AirFront, C::KnockBack, C::MasterSeal],
            ),
            Self::HoldByLever => (&[C::LeverSeal], &[C::MasterSeal]),
            Self::RockWheel => (
                &[C::KnockBack],
                &[
                    C::AirRear,
                    C::AirFront,
                    C::ShoesFarOff,
                    C::FluidBoils,
                    C::MasterSeal,
                ],
            ),
        };
        if yes.contains(&cause) {
            0.85
        } else if no.contains(&cause) {
            0.15
        } else {
            0.5
        }
    }
}

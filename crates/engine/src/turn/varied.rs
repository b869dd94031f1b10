//! The inputs that move a turn most, each with how far it is moved.

/// An input that moves a turn more than any arithmetic does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Varied {
    /// Inertia about the vertical.
    YawInertia,
    /// Grip of the ground, its shape kept.
    Grip,
    /// The front axle's share of the sideways load transfer.
    RollShare,
}

impl Varied {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::YawInertia, Self::Grip, Self::RollShare];

    /// Name in machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::YawInertia => "yaw_inertia",
            Self::Grip => "grip",
            Self::RollShare => "roll_share_front",
        }
    }

    /// How far it is moved either way: of itself for inertia and grip, as a difference for the share (what a workshop
    /// does not know without measuring; judgement).
    #[must_use]
    pub const fn by(self) -> f64 {
        match self {
            Self::YawInertia => 0.15,
            Self::Grip | Self::RollShare => 0.10,
        }
    }
}

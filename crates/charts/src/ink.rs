//! The one code of lines. Front solid, rear dashed, ideal or limit thin dotted, hand double; everything can be told
//! apart without its colour.

/// Paper, the ground of every picture.
pub(crate) const PAPER: &str = "#ffffff";
/// Ink of text and rules.
pub(crate) const INK: &str = "#1d2328";
/// Ink of what stands back: the card's ruling.
pub(crate) const FAINT: &str = "#c3bdae";
/// Ink of the front.
pub(crate) const FRONT: &str = "#16264a";
/// Ink of the rear.
pub(crate) const REAR: &str = "#8a4510";
/// Ink of the hand.
pub(crate) const HAND: &str = "#46584e";

/// What a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    /// The front axle, or the first circuit.
    Front,
    /// The rear axle, or the second circuit.
    Rear,
    /// What would be ideal.
    Ideal,
    /// A limit.
    Limit,
    /// The handbrake.
    Hand,
    /// The car as a whole, where front and rear stand on the axes.
    Car,
    /// Both circuits where their fluid meets.
    Joined,
    /// A thin front line: where the front locks.
    FrontEdge,
    /// A thin rear line: where the rear locks.
    RearEdge,
    /// An axis, the border of a field.
    Rule,
    /// The outline of something.
    Outline,
    /// A dimension: what is measured.
    Dimension,
    /// The ruling of the card, and leaders from a label to its point.
    Hair,
}

impl Line {
    /// Class, ink, width and dashes.
    pub(crate) const fn look(self) -> (&'static str, &'static str, f64, Option<&'static str>) {
        match self {
            Self::Front => ("line front", FRONT, 2.4, None),
            Self::Rear => ("line rear", REAR, 2.4, Some("8 4")),
            Self::Ideal => ("line ideal", INK, 1.4, Some("1.4 3.6")),
            Self::Limit => ("line limit", INK, 1.4, Some("1.4 3.6")),
            Self::Hand => ("line hand", HAND, 5.0, None),
            Self::Car => ("line car", INK, 3.4, None),
            Self::Joined => ("line joined", INK, 2.4, Some("12 3 2.5 3")),
            Self::FrontEdge => ("line front edge", FRONT, 1.0, None),
            Self::RearEdge => ("line rear edge", REAR, 1.0, Some("6 3.5")),
            Self::Rule => ("rule", INK, 1.6, None),
            Self::Outline => ("outline", INK, 1.2, None),
            Self::Dimension => ("dimension", INK, 1.0, None),
            Self::Hair => ("hair", FAINT, 1.0, None),
        }
    }
}

/// Width of the paper strip that makes two lines of the hand's one.
pub(crate) const HAND_CORE: f64 = 2.0;

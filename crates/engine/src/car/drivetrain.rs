use quantity::si::{Duration, Inertia, Rotation, Torque};

/// Which wheels the engine drives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Driven {
    /// The front wheels.
    Front,
    /// The rear wheels.
    Rear,
    /// All four.
    All,
}

/// Torque over speed difference of a viscous coupling, rising differences from the first point on.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Speed difference and torque.
    pub points: Vec<(Rotation, Torque)>,
    /// Whether the curve is a wide guess from how the coupling feels.
    pub guessed: bool,
}

/// What ties two shafts together.
#[derive(Clone, Debug, PartialEq)]
pub enum Coupling {
    /// Nothing.
    Open,
    /// They turn as one.
    Locked,
    /// Plates: preload, and bias times the input torque.
    Plates {
        /// Torque with no input.
        preload: Torque,
        /// Torque moved per input torque.
        bias: f64,
    },
    /// Fluid between plates.
    Viscous(Curve),
}

/// The differential of an axle; torques at the half-shafts.
pub type Differential = Coupling;

/// What ties the front axle to the rear.
#[derive(Clone, Debug, PartialEq)]
pub enum Centre {
    /// Nothing does.
    None,
    /// A coupling that is always as it is.
    Fixed(Coupling),
    /// Not known: it may be open, viscous between these two, or locked. Each is to be computed.
    Guess {
        /// The softest that is taken.
        soft: Curve,
        /// The stiffest.
        stiff: Curve,
    },
    /// A coupling that lets go when told.
    Disengaging {
        /// What it is while held.
        held: Coupling,
        /// What is left once it has let go.
        let_go: Coupling,
        /// Time to let go, and to hold again.
        delay: Duration,
    },
}

impl Centre {
    /// What a centre that is not known may be, each with a word for it; nothing where it is known.
    #[must_use]
    pub fn may_be(&self) -> Vec<(&'static str, Self)> {
        let Self::Guess { soft, stiff } = self else {
            return Vec::new();
        };
        vec![
            ("open", Self::Fixed(Coupling::Open)),
            ("viscous, soft", Self::Fixed(Coupling::Viscous(soft.clone()))),
            ("viscous, stiff", Self::Fixed(Coupling::Viscous(stiff.clone()))),
            ("locked", Self::Fixed(Coupling::Locked)),
        ]
    }
}

/// Drivetrain.
#[derive(Clone, Debug, PartialEq)]
pub struct Drivetrain {
    /// Which wheels the engine drives.
    pub driven: Driven,
    /// Front differential.
    pub front_diff: Differential,
    /// Rear differential.
    pub rear_diff: Differential,
    /// What ties the axles together.
    pub centre: Centre,
    /// Turns of the centre coupling a wheel turn; `None`: not known, every place that it may turn at is read.
    pub turns_per_wheel_turn: Option<f64>,
    /// Of the readings that the sheet leaves open the one that a drawn car takes: 0 the one with the most in hand, 1 the one
    /// with the least. `None` where nothing was drawn, or only one reading is left.
    pub reading_drawn: Option<f64>,
    /// Share of the engine's torque that reaches the front through the centre.
    pub front_share: f64,
    /// Propshaft turns a wheel turn.
    pub final_drive: f64,
    /// Gearbox side at the pinion, clutch down.
    pub input_inertia: Inertia,
    /// Engine and flywheel at the crank.
    pub engine_inertia: Inertia,
    /// Engine turns a pinion turn.
    pub gear: f64,
}

//! Does the car come round? A handbrake turn, simulated.
//!
//! A [`TurnBench`] holds a laden car on a surface ready to be driven; a [`Technique`] is what the driver does; a [`Turn`]
//! is what comes of it. [`Vehicle`], [`Segment`] and [`follow`] are the same simulation without a sheet behind it, for
//! comparison with cars, tyres and manoeuvres from elsewhere.
//!
//! What the figures hang on most is not the arithmetic: an inertia or a grip that is a tenth off moves a heading by
//! several degrees.

mod contact;
mod demand;
mod driveline;
mod dynamics;
mod friction;
mod grid;
mod integrate;
mod many;
mod measure;
mod motion;
mod number;
mod pack;
mod run;
mod script;
mod search;
mod study;
mod technique;
mod varied;
mod vehicle;
mod verdict;

use quantity::si::{Angle, Duration, Length, Rotation, Speed};
use thiserror::Error;

pub use contact::{Contact, GroundForce, SLOWEST_ROLLING_M_S, Slopes, SurfaceGrip, Tyre};
pub use driveline::{CLOSED_THROTTLE_NM, Driveline, Tie, TorqueCurve};
pub use grid::{Cell, Grid, MOST_CELLS};
pub use integrate::{MotionFault, Stepping, TOLERANCE};
pub(crate) use many::{Ready, briefs_of_each};
pub use measure::{Locking, Trace, Tracks};
pub use motion::Motion;
pub use run::{TurnBench, follow, run, sampled};
pub use script::{ActingLines, Course, Engine, Segment, Steering};
pub use search::{Hairpin, StoppedBy, WayThrough};
pub use study::{Manoeuvre, Swing};
pub use technique::{After, Clutch, Footwork, Release, Technique, TechniqueFault, Throttle};
pub use varied::Varied;
pub use vehicle::{LeverBrake, LiveValve, PRESSURE_LAG_S, TRANSFER_LAG_S, Transfer, Vehicle};
pub use verdict::front_keeps;

use crate::brake::Warmth;
use crate::drivetrain::{Beyond, CouplingReading, TurnsAt};
use crate::tyre::SurfaceFault;

/// What a run takes for given where the sheet leaves it open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assumed {
    /// Whether the brakes are warm.
    pub warmth: Warmth,
    /// What the centre is taken for, where nobody knows what it is: one of the words of
    /// [`Centre::may_be`](crate::car::Centre::may_be).
    pub supposed: Option<&'static str>,
    /// Where the centre coupling turns, if the sheet does not say.
    pub turns_at: TurnsAt,
    /// How its curve goes on beyond its last point.
    pub beyond: Beyond,
    /// How time is stepped through.
    pub stepping: Stepping,
}

impl Assumed {
    /// As the lever's answer reads the coupling.
    #[must_use]
    pub fn of(reading: &CouplingReading) -> Self {
        Self {
            supposed: reading.supposed,
            turns_at: reading.turns_at,
            beyond: reading.beyond,
            ..Self::default()
        }
    }
}

impl Default for Assumed {
    fn default() -> Self {
        Self {
            warmth: Warmth::Warm,
            supposed: None,
            turns_at: TurnsAt::Given,
            beyond: Beyond::HeldFlat,
            stepping: Stepping::default(),
        }
    }
}

/// Why there is no turn to show.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TurnFault {
    /// The car has no lever to pull.
    #[error("this car has no handbrake lever")]
    NoLever,
    /// The car knows no surface of that name.
    #[error("the car knows no such surface")]
    NoSurface,
    /// The surface's four figures make no curve.
    #[error(transparent)]
    Surface(#[from] SurfaceFault),
    /// A number of the technique cannot be driven.
    #[error(transparent)]
    Technique(#[from] TechniqueFault),
    /// The integration could not go on.
    #[error(transparent)]
    MotionFault(#[from] MotionFault),
}

/// Headings and the like of a run, as far as they are told of the run without the lever too.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Headings {
    /// When the lever is let go; `None`: never.
    pub at_release: Option<Angle>,
    /// At the end.
    pub end: Angle,
}

/// What a turn amounts to, in a word; where the borders lie stands in [`thresholds`](crate::thresholds) and with
/// [`front_keeps`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TurnVerdict {
    /// The car looks out of the bend when the lever is let go, and the lever has done its part of it.
    ComesRound,
    /// It turns little more than the steering alone makes it.
    RotatesLittle,
    /// The front wheels are dragged or stand, no longer steer, and the lever does not make up for it.
    Ploughs,
    /// It is past any forward way out before the lever is let go.
    Spins,
}

/// What comes of a technique.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The technique.
    pub technique: Technique,
    /// When the lever was let go; `None`: never.
    pub released: Option<Duration>,
    /// How wheels locked.
    pub locking: Locking,
    /// Headings.
    pub heading: Headings,
    /// Headings of the same without the lever, the release at the same moment.
    pub without_lever: Headings,
    /// Largest yaw rate, with its sign.
    pub yaw_rate_peak: Rotation,
    /// Speed when the lever is let go; `None`: never.
    pub speed_at_release: Option<Speed>,
    /// Speed at the end.
    pub speed_end: Speed,
    /// Room that the corners of wheelbase and tracks take from the driver's first doing on: across and along the way
    /// in.
    pub room: [Length; 2],
    /// What it amounts to.
    pub verdict: TurnVerdict,
    /// Below this share of its own speed a front wheel no longer steers, on this surface.
    pub front_keeps: f64,
    /// The motion.
    pub trace: Trace,
    /// Where the four wheels went, moment by moment of the trace.
    pub tracks: Tracks,
}

/// What a technique amounts to, without its trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brief {
    /// In a word.
    pub verdict: TurnVerdict,
    /// Headings.
    pub heading: Headings,
    /// Headings of the same without the lever.
    pub without_lever: Headings,
    /// For how long both rear wheels stood.
    pub rear_for: Duration,
    /// Front wheels' rolling speed over their hubs' speed while the lever was pulled.
    pub front_speed_ratio: Option<f64>,
}

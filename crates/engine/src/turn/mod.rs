//! Does the car come round? A handbrake turn, simulated.
//!
//! A [`TurnBench`] holds a laden car on a surface ready to be driven; a [`Technique`] is what the driver does; a [`Turn`]
//! is what comes of it. [`Vehicle`], [`Segment`] and [`follow`] are the same simulation without a sheet behind it, for
//! comparison with cars, tyres and manoeuvres from elsewhere.
//!
//! What the figures hang on most is not the arithmetic: an inertia or a grip that is a tenth off moves a heading by
//! several degrees.

mod bend;
mod best;
mod contact;
mod demand;
mod driveline;
mod dynamics;
mod entries;
mod fault;
mod following;
mod friction;
mod grid;
mod integrate;
mod judged;
mod lane;
mod many;
mod measure;
mod motion;
mod number;
mod pack;
mod placing;
mod run;
mod script;
mod search;
mod study;
mod technique;
mod through;
mod together;
mod varied;
mod vehicle;
mod verdict;

use quantity::si::{Angle, Duration, Length, Rotation, Speed};
use thiserror::Error;

pub use bend::Bend;
pub(crate) use best::Depth;
pub use contact::{Contact, GroundForce, SLOWEST_ROLLING_M_S, Slopes, SurfaceGrip, Tyre};
pub use driveline::{CLOSED_THROTTLE_NM, Driveline, Tie, TorqueCurve};
pub use dynamics::{HANDS_LAG_S, HANDS_LEAD_S, HANDS_RAD_S};
pub(crate) use entries::{Company, CompanyFound};
pub use fault::TechniqueFault;
pub use grid::{Cell, Grid, MOST_CELLS};
pub use integrate::{MotionFault, Stepping, TOLERANCE};
pub(crate) use judged::briefs_of_each;
pub use measure::{Locking, Trace, Tracks};
pub use motion::Motion;
pub(crate) use run::Ready;
pub use run::{TurnBench, follow, run, sampled};
pub use script::{ActingLines, Course, Engine, Segment, Steering};
pub use search::{Looking, SEARCHED_BY, Searched, StoppedBy, WayThrough};
pub use study::{Manoeuvre, Swing};
pub use technique::{After, Clutch, Footwork, Release, Technique, Throttle};
pub use through::Through;
pub use varied::Varied;
pub use vehicle::{LeverBrake, LiveValve, PRESSURE_LAG_S, TRANSFER_LAG_S, Transfer, Vehicle};
pub use verdict::{Judged, ShortOf, front_keeps};

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

/// What a turn amounts to, in a word: the first of these that fits, judged by the bend that it is driven for. Where the
/// borders lie stands in [`thresholds`](crate::thresholds), with [`Bend`] and with [`front_keeps`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TurnVerdict {
    /// It rolls backwards before it is out of the bend.
    Spins,
    /// It is out of the bend, on the road, and the lever has done its part of it.
    ComesRound,
    /// The same, but off the road by up to a road's width.
    ComesRoundLate,
    /// None of these, and the front wheels are dragged or stand and no longer steer.
    Ploughs,
    /// None of these.
    RotatesLittle,
}

/// What stands beside a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BesideIt {
    /// The best moment of letting go; `None` where this run has it.
    pub best: Option<BestMoment>,
    /// Whether three per cent more or less of grip makes it another word.
    pub on_the_border: bool,
}

/// The best moment of letting go, beside one that was given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestMoment {
    /// When.
    pub released: Duration,
    /// What then becomes of it.
    pub verdict: TurnVerdict,
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
    /// By its bend.
    pub judged: Judged,
    /// How far the car looks into the bend against its path when the lever is let go, with the lever and without; `None`
    /// where it never is, or where the car is too slow for its path to have a direction.
    pub nose_in: [Option<Angle>; 2],
    /// What stands beside it, where that was looked at.
    pub beside: Option<BesideIt>,
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
    /// By its bend.
    pub judged: Judged,
    /// When the lever is let go; `None`: never.
    pub released: Option<Duration>,
    /// Headings.
    pub heading: Headings,
    /// For how long both rear wheels stood.
    pub rear_for: Duration,
    /// Front wheels' rolling speed over their hubs' speed while the lever was pulled.
    pub front_speed_ratio: Option<f64>,
}

impl Turn {
    /// Both edges of the road of its bend where the run is best begun, the outer one first: points along and to the left of
    /// the way in (m). From the run's start to as far behind the bend as the wheels go.
    #[must_use]
    pub fn road_edges(&self) -> Option<[Vec<(f64, f64)>; 2]> {
        let (along_m, across_m) = self.judged.through.begun_m?;
        let (bend, side) = (&self.technique.bend, self.technique.side());
        let (sin, cos) = bend.angle.rad().abs().sin_cos();
        let (end_x, end_y) = (bend.radius.m() * sin, bend.radius.m() * (1.0 - cos));
        let wheels = self.tracks.x_m.iter().zip(&self.tracks.y_m);
        let behind_m = wheels
            .flat_map(|(x, y)| x.iter().zip(y))
            .map(|(x, y)| (x + along_m - end_x) * cos + (side * y + across_m - end_y) * sin)
            .fold(0.0, f64::max);
        let before = Length::from_m((1.0 - along_m).max(1.0));
        Some(bend.edges((along_m, across_m), side, before, Length::from_m(behind_m + 1.0)))
    }

    /// Speed of the car at a moment of the trace.
    #[must_use]
    pub fn speed_at(&self, time: Duration) -> Speed {
        let at = self.trace.t_s.partition_point(|known| *known < time.s());
        let at = at.min(self.trace.t_s.len().saturating_sub(1));
        let along = self.trace.u_m_s.get(at).copied().unwrap_or_default();
        let across = self.trace.v_m_s.get(at).copied().unwrap_or_default();
        Speed::from_m_s(along.hypot(across))
    }
}

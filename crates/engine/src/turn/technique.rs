//! What the driver does.

use quantity::si::{Angle, Duration, Force, Speed, Torque};

use super::bend::Bend;
use super::fault::TechniqueFault;
use crate::car::{Car, Surface};

/// The clutch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Clutch {
    /// Up throughout; throttle closed.
    Up,
    /// Up at first, down from a moment on.
    DownAt(Duration),
}

/// When the lever is let go; its force then falls within the time in which it rose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Release {
    /// At a moment.
    At(Duration),
    /// Once the car's heading has turned by so much, to whichever side.
    Heading(Angle),
    /// Not before the end.
    Never,
    /// When the car then comes best through the bend: of the moments that are tried, each a branch of the one pulled run.
    Best,
}

/// What the driver does with the wheel once the lever is let go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum After {
    /// Holds it where it is.
    Hold,
    /// Points the front wheels where the front axle is going.
    IntoSlide,
    /// Drives on round the bend: into the slide, and from there as far towards the road as the tyres give more, as fast as
    /// hands are.
    Drives,
}

/// A foot on the brake pedal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Footwork {
    /// Force on the pedal.
    pub force: Force,
    /// When it starts.
    pub at: Duration,
    /// Time in which it comes, and goes.
    pub rise: Duration,
    /// When it is taken off; `None`: not before the end.
    pub off: Option<Duration>,
}

/// Throttle. The clutch comes up with the engine at the gearbox's speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Throttle {
    /// Torque of the engine at the crank.
    pub torque: Torque,
    /// When it comes; `None`: once the lever is let go.
    pub at: Option<Duration>,
    /// How long after the lever is let go, where it comes with that.
    pub wait: Duration,
    /// Whether the driver takes it back as far as the car looks off its path.
    pub eases: bool,
    /// Time in which it comes.
    pub rise: Duration,
}

/// A driver's way of making a turn; every number of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Technique {
    /// Speed at the start, straight ahead.
    pub entry: Speed,
    /// Steer of the front wheels, positive to the left.
    pub steer: Angle,
    /// When steering starts.
    pub steer_at: Duration,
    /// Time that it takes.
    pub steer_in: Duration,
    /// Force of the hand.
    pub hand: Force,
    /// When the hand pulls.
    pub lever_at: Duration,
    /// Time in which its force comes, and goes.
    pub lever_rise: Duration,
    /// The clutch.
    pub clutch: Clutch,
    /// When the lever is let go.
    pub release: Release,
    /// What the driver does with the wheel then.
    pub after: After,
    /// Furthest that the front wheels steer.
    pub lock: Angle,
    /// The bend that it is driven for; it turns to the steer's side.
    pub bend: Bend,
    /// Throttle, during the pull or after it.
    pub throttle: Option<Throttle>,
    /// The foot on the brake.
    pub foot: Option<Footwork>,
    /// How long all of it is followed; [`LONGEST`](Self::LONGEST): until the car is a second out of its bend, rolls backwards
    /// or stands.
    pub until: Duration,
}

/// Grip at which the timings below were chosen.
const GRIP_OF_TIMINGS: f64 = 0.65;

impl Technique {
    /// A plain handbrake turn to the left with the driver's own pull: 50 km/h, the wheel by 0.25 rad from 0.2 s to
    /// 0.5 s, the clutch down at 0.4 s, the lever from 0.5 s. How long it is held, and what follows, is 1.3 s and 1.2 s on
    /// hard gravel and longer on less grip, as the square root: a car takes that much longer over the same angle.
    #[must_use]
    pub fn on(surface: &Surface, car: &Car) -> Self {
        let slower = (GRIP_OF_TIMINGS / surface.peak.max(0.01)).sqrt();
        Self {
            entry: Speed::from_m_s(50.0 / 3.6),
            steer: Angle::from_rad(0.25),
            steer_at: Duration::from_s(0.2),
            steer_in: Duration::from_s(0.3),
            hand: car.lever.as_ref().map_or(Force::ZERO, |lever| lever.hand_pull),
            lever_at: Duration::from_s(0.5),
            lever_rise: Duration::from_s(0.1),
            clutch: Clutch::DownAt(Duration::from_s(0.4)),
            release: Release::At(Duration::from_s(0.5 + 1.3 * slower)),
            after: After::Hold,
            lock: Angle::from_rad(0.60),
            bend: Bend::HAIRPIN,
            throttle: None,
            foot: None,
            until: Duration::from_s(0.5 + 2.5 * slower),
        }
    }

    /// How long a turn that is driven round its bend is followed at most.
    pub const LONGEST: Duration = Duration::from_s(20.0);

    /// The same, let go at the best moment and driven on round the bend.
    #[must_use]
    pub fn at_best(&self) -> Self {
        Self {
            release: Release::Best,
            after: After::Drives,
            until: Self::LONGEST,
            ..*self
        }
    }

    /// Whether it is followed until the car is out of the bend, or can no longer come out, rather than for a time.
    pub(super) fn is_followed_through(&self) -> bool {
        self.until >= Self::LONGEST
    }

    /// When the lever is pulled in full.
    pub(super) fn lever_in_full(&self) -> Duration {
        self.lever_at + self.lever_rise
    }

    /// Side to which it turns: 1 to the left, −1 to the right.
    pub(super) fn side(&self) -> f64 {
        if self.steer.rad() < 0.0 { -1.0 } else { 1.0 }
    }

    /// The same without the hand.
    #[must_use]
    pub fn without_lever(&self) -> Self {
        Self {
            hand: Force::ZERO,
            ..*self
        }
    }

    /// The same without the hand, all else at the moments of a run in which the lever was let go then.
    pub(super) fn with_lever_left_alone(&self, released_s: Option<f64>) -> Self {
        Self {
            release: released_s.map_or(Release::Never, |at| Release::At(Duration::from_s(at))),
            ..self.without_lever()
        }
    }

    /// The same to the other side.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            steer: -self.steer,
            ..*self
        }
    }

    /// Whether every number is one that can be driven.
    ///
    /// # Errors
    /// The first that is not.
    pub fn check(&self) -> Result<(), TechniqueFault> {
        let within = TechniqueFault::unless_within;
        let moment = |what, at: Duration| within(what, at.s(), 0.0, 60.0, "s");
        within("the entry speed", self.entry.m_s(), 0.5, 80.0, "m/s")?;
        within("the steer", self.steer.rad(), -1.2, 1.2, "rad")?;
        within("the steering lock", self.lock.rad(), 0.0, 1.2, "rad")?;
        moment("the start of steering", self.steer_at)?;
        moment("the time of steering", self.steer_in)?;
        within("the hand's force", self.hand.n(), 0.0, 2000.0, "N")?;
        moment("the start of the pull", self.lever_at)?;
        moment("the rise of the pull", self.lever_rise)?;
        if let Clutch::DownAt(at) = self.clutch {
            moment("the clutch", at)?;
        }
        match self.release {
            Release::At(at) => moment("the release", at)?,
            Release::Heading(angle) => within("the heading at release", angle.rad(), 0.01, 12.0, "rad")?,
            Release::Never | Release::Best => {}
        }
        self.bend.check()?;
        if let Some(throttle) = self.throttle {
            if let (Some(at), Clutch::DownAt(_)) = (throttle.at, self.clutch) {
                let off_s = match self.release {
                    Release::At(off) => off.s(),
                    Release::Heading(_) | Release::Never | Release::Best => 60.0,
                };
                let what = "the throttle, with the clutch down until the lever is let go,";
                within(what, at.s(), off_s, 60.0, "s")?;
            }
            moment("the start of the throttle", throttle.at.unwrap_or(throttle.wait))?;
            within("the engine's torque", throttle.torque.nm(), -300.0, 1500.0, "N m")?;
            moment("the rise of the throttle", throttle.rise)?;
        }
        if let Some(foot) = self.foot {
            within("the foot's force", foot.force.n(), 0.0, 3000.0, "N")?;
            moment("the start of braking", foot.at)?;
            moment("the rise of braking", foot.rise)?;
            moment("the end of braking", foot.off.unwrap_or(foot.at))?;
        }
        within("the time to follow", self.until.s(), 0.05, 60.0, "s")
    }
}

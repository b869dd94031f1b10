//! What the driver does, as stretches of time in which everything asked of the car changes at a steady rate.

use super::dynamics::{Doing, HANDS_RAD_S, Ramp};
use super::friction::Joined;

/// A figure that changes at a steady rate over a [`Segment`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Course {
    /// At the segment's start.
    pub from: f64,
    /// At its end.
    pub to: f64,
}

impl Course {
    /// The same throughout.
    #[must_use]
    pub const fn steady(value: f64) -> Self {
        Self {
            from: value,
            to: value,
        }
    }

    const fn ramp(&self) -> Ramp<f64> {
        Ramp {
            from: self.from,
            rise: self.to - self.from,
        }
    }

    #[inline]
    pub(super) fn at(&self, segment: &Segment, time_s: f64) -> f64 {
        self.from + (self.to - self.from) * (time_s - segment.from_s) * segment.per_s
    }
}

/// The engine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Engine {
    /// Clutch down.
    Parted,
    /// Clutch up, throttle closed: it drags, and it stalls rather than push.
    Closed,
    /// Clutch up and pulling: torque at the crank [N m].
    Pulling(Course),
    /// The same as a driver of driven rear wheels does who wants round: less of it, the further the car looks off its path,
    /// and none at the angle at which it no longer counts as going along.
    Easing(Course),
}

/// The steering.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Steering {
    /// At a steady rate (rad/s).
    Rate(f64),
    /// Towards where the front axle is going.
    IntoSlide {
        /// Furthest that the wheels steer (rad).
        lock_rad: f64,
        /// Fastest that they are turned (rad/s).
        rate_rad_s: f64,
    },
    /// As a driver who wants round a bend: into the slide, and from there towards the road.
    Round {
        /// Furthest that the wheels steer (rad).
        lock_rad: f64,
        /// Where the road goes on (rad).
        towards_rad: f64,
        /// Furthest that the front wheels point off the way they go (rad): there they give most.
        most_rad: f64,
    },
}

/// What acts in the circuit, for a valve whose knee follows the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ActingLines {
    /// Pressures of the master's chambers (Pa).
    pub chambers: [Course; 2],
    /// Pressure of the hand alone (Pa); `None`: the lever is at rest.
    pub own: Option<Course>,
}

/// A stretch of time in which everything asked of the car changes at a steady rate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Start (s).
    pub from_s: f64,
    /// End (s).
    pub to_s: f64,
    /// One over its length; zero for one without length.
    pub(super) per_s: f64,
    /// Torque of each front brake [N m].
    pub front_nm: Course,
    /// Pressure asked of the rear brakes (Pa).
    pub rear_pa: Course,
    /// What is asked of the lever's own brakes: pressure (Pa), or force on a cable (N).
    pub lever: Course,
    /// What acts in the circuit, where the valve's knee follows the load; takes the place of `rear_pa`.
    pub acting: Option<ActingLines>,
    /// Steering.
    pub steering: Steering,
    /// The centre has let go.
    pub let_go: bool,
    /// The engine.
    pub engine: Engine,
    /// The hand is on the lever.
    pub pulled: bool,
}

impl Segment {
    /// A stretch of coasting, clutch down, with nothing asked of the car.
    #[must_use]
    pub fn coasting(from_s: f64, to_s: f64) -> Self {
        Self {
            from_s,
            to_s,
            per_s: if to_s > from_s { 1.0 / (to_s - from_s) } else { 0.0 },
            front_nm: Course::default(),
            rear_pa: Course::default(),
            lever: Course::default(),
            acting: None,
            steering: Steering::Rate(0.0),
            let_go: false,
            engine: Engine::Parted,
            pulled: false,
        }
    }

    /// As the equations read it.
    pub(super) fn doing(&self, closed_drag_nm: f64) -> Doing<f64> {
        let (engine, pulling, drag_nm) = match self.engine {
            Engine::Parted => (Course::default(), 0.0, 0.0),
            Engine::Closed => (Course::default(), 0.0, closed_drag_nm),
            Engine::Pulling(course) | Engine::Easing(course) => (course, 1.0, 0.0),
        };
        let (steer_rate, into, lock_rad, fastest_rad_s) = match self.steering {
            Steering::Rate(rate) => (rate, 0.0, 0.0, 0.0),
            Steering::IntoSlide { lock_rad, rate_rad_s } => (0.0, 1.0, lock_rad, rate_rad_s),
            Steering::Round { lock_rad, .. } => (0.0, 0.0, lock_rad, HANDS_RAD_S),
        };
        let (round, towards_rad, most_rad) = match self.steering {
            Steering::Round {
                towards_rad,
                most_rad,
                ..
            } => (1.0, towards_rad, most_rad),
            Steering::Rate(_) | Steering::IntoSlide { .. } => (0.0, 0.0, 0.0),
        };
        Doing {
            from_s: self.from_s,
            per_s: self.per_s,
            front_nm: self.front_nm.ramp(),
            rear_pa: self.rear_pa.ramp(),
            lever: self.lever.ramp(),
            engine_nm: engine.ramp(),
            pulling,
            engine_drag_nm: drag_nm,
            steer_rate,
            into,
            lock_rad,
            fastest_rad_s,
            eases: f64::from(u8::from(matches!(self.engine, Engine::Easing(_)))),
            round,
            towards_rad,
            most_rad,
        }
    }

    pub(super) const fn joined(&self) -> Joined {
        Joined {
            let_go: self.let_go,
            engine: !matches!(self.engine, Engine::Parted),
        }
    }
}

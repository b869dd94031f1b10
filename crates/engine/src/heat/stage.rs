//! What a car drives: stops one after the other, or a speed over time.

use std::sync::Arc;

use quantity::si::{Duration, Length, Speed};

use crate::GRAVITY_M_S2;

/// What slows a car.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum By {
    /// All four brakes.
    #[default]
    Pedal,
    /// The rear ones alone. A wheel that stands puts its work into the ground; what is counted is that of a wheel that
    /// still turns, so the rear is never cooler than this says.
    Handbrake,
}

/// Stops of one kind, one after the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stops {
    /// Speed at the start of each.
    pub from: Speed,
    /// Speed at its end.
    pub to: Speed,
    /// Deceleration over g.
    pub rate: f64,
    /// From the start of one to the start of the next.
    pub every: Duration,
    /// How many.
    pub repeat: u32,
    /// Rise over run of the road at the stop: uphill positive.
    pub slope: f64,
    /// What slows the car.
    pub by: By,
}

impl Stops {
    /// How long one of them takes.
    #[must_use]
    pub fn lasts(&self) -> Duration {
        Duration::from_s((self.from - self.to).m_s() / (self.rate * GRAVITY_M_S2))
    }
}

/// A way down a hill at one speed, held back by the brakes alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Descent {
    /// Speed that is held.
    pub at: Speed,
    /// Rise over run: below zero.
    pub slope: f64,
    /// How long.
    pub lasts: Duration,
}

/// A point of a speed trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TracePoint {
    /// From the start.
    pub time: Duration,
    /// Of the car.
    pub speed: Speed,
    /// Rise over run of the road from here on.
    pub slope: f64,
}

/// A part of a stage.
#[derive(Clone, Debug, PartialEq)]
pub enum StagePart {
    /// Stops.
    Stops(Stops),
    /// A way down.
    Descent(Descent),
    /// A speed over time, straight between the points, whose times rise.
    Trace(Vec<TracePoint>),
}

/// A stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// What it is called.
    pub name: Arc<str>,
    /// What it is, in a line; empty where nobody said.
    pub about: Arc<str>,
    /// Its parts, in the order in which they are driven.
    pub parts: Vec<StagePart>,
}

/// Of a speed trace, what slows a car by less than this without its brakes: air, tyres, engine (over g; judgement).
pub const COASTS_AT: f64 = 0.06;

/// What turning parts add to a car's mass while it slows (from memory).
pub const TURNING_PARTS: f64 = 1.05;

/// A stretch of one deceleration, on one slope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stretch {
    pub(crate) starts_s: f64,
    pub(crate) lasts_s: f64,
    pub(crate) from_m_s: f64,
    pub(crate) to_m_s: f64,
    /// What the brakes hold back over the car's weight; nothing: they are off.
    pub(crate) braked: f64,
    pub(crate) by: By,
}

impl Stretch {
    pub(crate) fn speed_at(&self, time_s: f64) -> f64 {
        let share = (time_s - self.starts_s) / self.lasts_s;
        self.from_m_s + (self.to_m_s - self.from_m_s) * share
    }

    /// Whether the car stands all the while.
    pub(crate) fn stands(&self) -> bool {
        self.from_m_s.max(self.to_m_s) <= 0.0
    }

    fn distance_m(&self) -> f64 {
        0.5 * (self.from_m_s + self.to_m_s) * self.lasts_s
    }
}

/// Sine of a slope's angle.
pub(crate) fn sine(slope: f64) -> f64 {
    slope / slope.hypot(1.0)
}

impl Stage {
    /// How long it takes.
    #[must_use]
    pub fn lasts(&self) -> Duration {
        Duration::from_s(self.stretches().iter().map(|stretch| stretch.lasts_s).sum())
    }

    /// How far it goes.
    #[must_use]
    pub fn length(&self) -> Length {
        Length::from_m(self.stretches().iter().map(Stretch::distance_m).sum())
    }

    /// Speed with which it begins, and that with which it ends.
    #[must_use]
    pub fn ends(&self) -> (Speed, Speed) {
        let stretches = self.stretches();
        let speed = |of: Option<f64>| Speed::from_m_s(of.unwrap_or(0.0));
        (
            speed(stretches.first().map(|first| first.from_m_s)),
            speed(stretches.last().map(|last| last.to_m_s)),
        )
    }

    /// Times the brakes are put on.
    #[must_use]
    pub fn brakings(&self) -> usize {
        let stretches = self.stretches();
        let on = |stretch: &Stretch| stretch.braked > 0.0;
        stretches
            .iter()
            .enumerate()
            .filter(|&(at, stretch)| on(stretch) && (at == 0 || !on(&stretches[at - 1])))
            .count()
    }

    /// Time, distance and speed at the start of every stretch and at the end of the last.
    #[must_use]
    pub fn course(&self) -> Vec<(Duration, Length, Speed)> {
        let mut distance_m = 0.0;
        let mut course = Vec::new();
        let mut end = (0.0, 0.0);
        for stretch in self.stretches() {
            let from = (stretch.starts_s, distance_m, stretch.from_m_s);
            course.push((
                Duration::from_s(from.0),
                Length::from_m(from.1),
                Speed::from_m_s(from.2),
            ));
            distance_m += stretch.distance_m();
            end = (stretch.starts_s + stretch.lasts_s, stretch.to_m_s);
        }
        course.push((
            Duration::from_s(end.0),
            Length::from_m(distance_m),
            Speed::from_m_s(end.1),
        ));
        course
    }

    /// The stage as stretches of steady deceleration. Between two stops the speed goes straight from where one ended to
    /// where the next begins; behind the last of all it goes back to where that began, until its `every` is over.
    pub(crate) fn stretches(&self) -> Vec<Stretch> {
        let mut all: Vec<Stretch> = Vec::new();
        let mut starts_s = 0.0;
        let mut add = |lasts_s: f64, from_m_s: f64, to_m_s: f64, braked: f64, by: By| {
            if lasts_s > 0.0 {
                all.push(Stretch {
                    starts_s,
                    lasts_s,
                    from_m_s,
                    to_m_s,
                    braked: braked.max(0.0),
                    by,
                });
                starts_s += lasts_s;
            }
        };
        for (at, part) in self.parts.iter().enumerate() {
            let next = self.parts.get(at + 1).and_then(StagePart::begins_at);
            match part {
                StagePart::Stops(stops) => {
                    let braked = TURNING_PARTS * stops.rate - sine(stops.slope);
                    let (from, to, takes) = (stops.from.m_s(), stops.to.m_s(), stops.lasts().s());
                    for number in 1..=stops.repeat {
                        add(takes, from, to, braked, stops.by);
                        let then = if number < stops.repeat {
                            from
                        } else {
                            next.unwrap_or(from)
                        };
                        add(stops.every.s() - takes, to, then, 0.0, By::Pedal);
                    }
                }
                StagePart::Descent(down) => {
                    add(
                        down.lasts.s(),
                        down.at.m_s(),
                        down.at.m_s(),
                        -sine(down.slope),
                        By::Pedal,
                    );
                }
                StagePart::Trace(points) => {
                    for pair in points.windows(2) {
                        let (lasts_s, from, to) = (
                            (pair[1].time - pair[0].time).s(),
                            pair[0].speed.m_s(),
                            pair[1].speed.m_s(),
                        );
                        let rate = (from - to) / lasts_s / GRAVITY_M_S2;
                        let held = TURNING_PARTS * rate - sine(pair[0].slope);
                        add(
                            lasts_s,
                            from,
                            to,
                            if held > COASTS_AT { held } else { 0.0 },
                            By::Pedal,
                        );
                    }
                }
            }
        }
        all
    }
}

impl StagePart {
    /// Speed with which it begins.
    fn begins_at(&self) -> Option<f64> {
        match self {
            Self::Stops(stops) => Some(stops.from.m_s()),
            Self::Descent(down) => Some(down.at.m_s()),
            Self::Trace(points) => points.first().map(|point| point.speed.m_s()),
        }
    }
}

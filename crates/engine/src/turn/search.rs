//! The other way round: a bend is given, and a technique is looked for that brings the car through it.
//!
//! The bend is a road of one width: straight, then an arc about the middle of the road, then straight again. A technique
//! does if the car's heading reaches the bend's angle with all four wheels on the road until then and for a second more,
//! by when the throttle has it; where on the road the car comes in, and where the turn is begun, is the driver's to
//! choose, and the best is taken. Of all that do the one with the fastest entry is the answer. What is looked through is
//! a grid of entry speeds, steers, moments and headings at release with the driver's own pull: an answer is no proof that
//! nothing faster would do.

use quantity::si::{Angle, Duration, Length, Speed};
use rayon::prelude::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};

use super::many::{Job, Watch, tallies};
use super::measure::{self, Place};
use super::technique::{After, Release, Technique, TechniqueFault};
use super::{Turn, TurnBench, TurnFault};

/// A bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hairpin {
    /// By how much the road turns, positive to the left.
    pub angle: Angle,
    /// Of the middle of the road.
    pub radius: Length,
    /// Of the road.
    pub width: Length,
}

/// What keeps a car from coming through a bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StoppedBy {
    /// Nothing that was tried turns the car so far; the furthest that it came.
    Rotation(Angle),
    /// It turns, but not on a road of this width: at best a wheel is this far beyond its edge.
    Width(Length),
}

/// A way through a bend.
#[derive(Clone, Debug, PartialEq)]
pub struct WayThrough {
    /// What the driver does.
    pub technique: Technique,
    /// What comes of it.
    pub turn: Turn,
    /// When the heading is reached.
    pub reached: Duration,
    /// How fast the car still is then.
    pub speed: Speed,
    /// What is left to the nearer edge of the road at the worst moment.
    pub to_spare: Length,
}

/// Entry speeds that are tried (m/s): 12 to 90 km/h.
const ENTRIES: u32 = 18;
const SLOWEST_M_S: f64 = 12.0 / 3.6;
const FASTEST_M_S: f64 = 90.0 / 3.6;
/// Steers, over the furthest that the wheels go.
const STEERS: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];
/// From the start of steering to the pull (s).
const PULLS_S: [f64; 4] = [0.2, 0.5, 0.9, 1.4];
/// Headings at release, over the bend's angle.
const RELEASES: [f64; 4] = [0.35, 0.55, 0.75, 0.95];

/// How long a car has to keep to the road once it looks the new way (s): what a driver takes to have the throttle in
/// (judgement).
const LEFT_TO_ITSELF_S: f64 = 1.0;
/// Between the moments at which wheels are looked at (s).
const BETWEEN_S: f64 = 0.04;

/// The road, seen from its own start of the bend: it comes in along x and turns to the left.
struct Road {
    radius_m: f64,
    angle_rad: f64,
    half_m: f64,
}

impl Road {
    /// How far a place is from the middle of the road (m).
    fn off_the_middle_m(&self, x: f64, y: f64) -> f64 {
        let mut least = f64::INFINITY;
        if x <= 0.0 {
            least = y.abs();
        }
        let (sin, cos) = self.angle_rad.sin_cos();
        let (beyond_x, beyond_y) = (x - self.radius_m * sin, y - self.radius_m * (1.0 - cos));
        if beyond_x * cos + beyond_y * sin >= 0.0 {
            least = least.min((beyond_y * cos - beyond_x * sin).abs());
        }
        let (from_x, from_y) = (x, self.radius_m - y);
        let round = from_x.atan2(from_y).rem_euclid(core::f64::consts::TAU);
        if round <= self.angle_rad {
            least = least.min((from_x.hypot(from_y) - self.radius_m).abs());
        }
        least
    }

    /// The furthest that any of the places is off, the car's way moved by this much.
    fn worst_m(&self, places: &[(f64, f64)], along: f64, across: f64, enough: f64) -> f64 {
        let mut worst = 0.0_f64;
        for (x, y) in places {
            worst = worst.max(self.off_the_middle_m(x + along, y + across));
            if worst > enough {
                return worst;
            }
        }
        worst
    }

    /// The least of that, wherever the driver begins.
    fn at_best_m(&self, places: &[(f64, f64)]) -> f64 {
        let reach = places.iter().map(|(x, _)| *x).fold(0.0, f64::max) + 1.0;
        let (low, high) = (-reach, self.radius_m + self.half_m);
        let mut best = (f64::INFINITY, low, 0.0);
        let look = |along: f64, across: f64, best: &mut (f64, f64, f64)| {
            let worst = self.worst_m(places, along, across, best.0);
            if worst < best.0 {
                *best = (worst, along, across);
            }
        };
        for along in 0..32_u8 {
            let along = low + (high - low) * f64::from(along) / 31.0;
            for across in [-0.8, -0.4, 0.0, 0.4, 0.8] {
                look(along, across * self.half_m, &mut best);
            }
        }
        let mut step = (high - low) / 62.0;
        while step > 0.005 {
            let (before, along, across) = best;
            for (by_x, by_y) in [(step, 0.0), (-step, 0.0), (0.0, step), (0.0, -step)] {
                look(along + by_x, across + by_y, &mut best);
            }
            if best.0 >= before {
                step *= 0.5;
            }
        }
        best.0
    }
}

/// How a try ended.
#[derive(Clone, Copy, Debug)]
enum Try {
    /// The heading was never reached; the furthest.
    Short(f64),
    /// It was, this far off the middle of the road at worst, at this moment.
    Round { off_m: f64, at_s: f64, speed_m_s: f64 },
}

impl TurnBench {
    /// Looks for the fastest way through a bend, beginning from what `like` has for the driver's pull, the clutch, the
    /// lock and the quickness of hands.
    ///
    /// # Errors
    /// A bend that is none: an angle outside 20° to 270° either way, a radius outside 1 m to 100 m, a width outside
    /// 2 m to 50 m or more than twice the radius.
    pub fn search(
        &self,
        like: &Technique,
        bend: &Hairpin,
    ) -> Result<Result<WayThrough, StoppedBy>, TurnFault> {
        like.check()?;
        bend.check()?;
        let road = Road {
            radius_m: bend.radius.m(),
            angle_rad: bend.angle.rad().abs(),
            half_m: 0.5 * bend.width.m(),
        };
        let jobs: Vec<Job<'_>> = candidates(like, bend)
            .into_iter()
            .map(|technique| Job {
                bench: self,
                technique,
                watch: Some(Watch {
                    heading_rad: road.angle_rad,
                    for_s: LEFT_TO_ITSELF_S,
                }),
            })
            .collect();
        let ways = tallies(&jobs);
        let tries: Vec<(Technique, Try)> = jobs
            .par_iter()
            .zip(ways)
            .filter_map(|(job, tally)| {
                Some((job.technique, self.tried(&job.technique, &tally.ok()?.way, &road)))
            })
            .collect();
        let mut furthest = 0.0_f64;
        let mut narrowest = f64::INFINITY;
        let mut best: Option<(Technique, f64, f64, f64)> = None;
        for (technique, tried) in tries {
            match tried {
                Try::Short(heading) => furthest = furthest.max(heading),
                Try::Round {
                    off_m,
                    at_s,
                    speed_m_s,
                } => {
                    narrowest = narrowest.min(off_m);
                    let faster = best.is_none_or(|(known, off, ..)| {
                        technique.entry > known.entry || (technique.entry == known.entry && off_m < off)
                    });
                    if off_m <= road.half_m && faster {
                        best = Some((technique, off_m, at_s, speed_m_s));
                    }
                }
            }
        }
        match best {
            Some((technique, off_m, at_s, speed_m_s)) => Ok(Ok(WayThrough {
                turn: self.turn(&technique)?,
                technique,
                reached: Duration::from_s(at_s),
                speed: Speed::from_m_s(speed_m_s),
                to_spare: Length::from_m(road.half_m - off_m),
            })),
            None if narrowest.is_finite() => {
                Ok(Err(StoppedBy::Width(Length::from_m(narrowest - road.half_m))))
            }
            None => Ok(Err(StoppedBy::Rotation(Angle::from_rad(furthest)))),
        }
    }

    fn tried(&self, technique: &Technique, way: &[Place], road: &Road) -> Try {
        let reached = way.iter().find(|place| place.heading_rad.abs() >= road.angle_rad);
        let Some(reached) = reached else {
            let furthest = way
                .iter()
                .map(|place| place.heading_rad.abs())
                .fold(0.0, f64::max);
            return Try::Short(furthest);
        };
        let side = if technique.steer.rad() < 0.0 { -1.0 } else { 1.0 };
        let mut next_s = 0.0;
        let places: Vec<(f64, f64)> = way
            .iter()
            .filter(|place| {
                let taken = place.time_s >= next_s && place.time_s <= reached.time_s + LEFT_TO_ITSELF_S;
                if taken {
                    next_s = place.time_s + BETWEEN_S;
                }
                taken
            })
            .flat_map(|place| measure::corners(self.vehicle(), place.x_m, place.y_m, place.heading_rad))
            .map(|(x, y)| (x, side * y))
            .collect();
        Try::Round {
            off_m: road.at_best_m(&places),
            at_s: reached.time_s,
            speed_m_s: reached.speed_m_s,
        }
    }
}

impl Hairpin {
    fn check(&self) -> Result<(), TechniqueFault> {
        let within = TechniqueFault::unless_within;
        within(
            "the bend's angle",
            self.angle.rad().abs().to_degrees(),
            20.0,
            270.0,
            "deg",
        )?;
        within("the bend's radius", self.radius.m(), 1.0, 100.0, "m")?;
        let widest = (2.0 * self.radius.m()).min(50.0);
        within("the road's width", self.width.m(), 2.0, widest, "m")
    }
}

fn candidates(like: &Technique, bend: &Hairpin) -> Vec<Technique> {
    let side = if bend.angle.rad() < 0.0 { -1.0 } else { 1.0 };
    let mut all = Vec::new();
    for entry in 0..ENTRIES {
        let entry_m_s = SLOWEST_M_S + (FASTEST_M_S - SLOWEST_M_S) * f64::from(entry) / f64::from(ENTRIES - 1);
        for steer in STEERS {
            for pull_s in PULLS_S {
                for release in RELEASES {
                    for after in [After::Hold, After::IntoSlide] {
                        let lever_at = like.steer_at + Duration::from_s(pull_s);
                        all.push(Technique {
                            entry: Speed::from_m_s(entry_m_s),
                            steer: like.lock * (side * steer),
                            lever_at,
                            release: Release::Heading(Angle::from_rad(bend.angle.rad().abs() * release)),
                            after,
                            until: lever_at + Duration::from_s(6.0),
                            ..*like
                        });
                    }
                }
            }
        }
    }
    all
}

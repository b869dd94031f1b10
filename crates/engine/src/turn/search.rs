//! The other way round: a bend is given, and a technique is looked for that brings the car through it.
//!
//! A technique does if the car comes round by the word of the turn: out of the bend on the road, the lever's part done.
//! Where on the road it begins, and when the lever is let go, is the driver's to choose, and the best is taken. The fastest
//! entry with which any does is the answer.
//!
//! What is moved: entry speed, steer and the moment of the pull, the clutch going down with it. First the whole range is
//! sampled by the points of a scrambled Sobol sequence (Burley, "Practical Hash-based Owen Scrambling", 2020, by the crate
//! `sobol_burley`), the same for the same seed. Then the best few are bettered by a
//! compass search: a step either way along each axis, and half the step where none is better (Kolda, Lewis and Torczon,
//! "Optimization by direct search", SIAM Review 45, 2003, section 3; from memory). It ends at steps that no driver can tell
//! apart. Then all that is faster than what was found is sampled in the same way, until nothing more is found. That is no
//! proof that nothing faster would do.

use std::collections::BTreeMap;

use quantity::si::{Angle, Duration, Length, Speed};

use super::bend::Bend;
use super::best::{Asked, Depth, Run};
use super::many::Cores;
use super::technique::{Clutch, Footwork, Technique};
use super::together::runs;
use super::{Turn, TurnBench, TurnFault, TurnVerdict};
use crate::thresholds::LEVER_GIVES;

/// What keeps a car from coming through a bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StoppedBy {
    /// Nothing that was tried brings its path round; the furthest that it came.
    Rotation(Angle),
    /// It comes round, but not on a road of this width: at best a wheel is this far beyond its edge.
    Width(Length),
    /// It comes out on the road, but the lever does not do its part of it; the most that it gave there.
    Lever(Angle),
}

/// A way through a bend.
#[derive(Clone, Debug, PartialEq)]
pub struct WayThrough {
    /// What the driver does.
    pub technique: Technique,
    /// What comes of it.
    pub turn: Turn,
    /// When it is out of the bend.
    pub reached: Duration,
    /// How fast the car still is then.
    pub speed: Speed,
    /// What is left to the nearer edge of the road at the worst moment.
    pub to_spare: Length,
}

/// What a search came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Searched {
    /// The fastest way through, or what stops it.
    pub found: Result<WayThrough, StoppedBy>,
    /// Techniques that were tried all over.
    pub sampled: usize,
    /// Techniques that were tried after that, near the best of them.
    pub bettered: usize,
    /// What came nearest where none does: so far as it could be run.
    pub nearest: Option<Technique>,
}

/// What the sample and the compass search are called in reports.
pub const SEARCHED_BY: [&str; 2] = ["scrambled Sobol sample", "compass search"];

/// How far a way is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looking {
    /// Makes the sample another one.
    pub seed: u32,
    /// Points of the sample.
    pub sampled: u32,
    /// How many of the best are bettered.
    pub starts: usize,
    /// How often at most: after the first time half as many points over all that is faster than the best.
    pub stages: u32,
}

impl Looking {
    /// As far as an answer that is waited for.
    #[must_use]
    pub const fn whole(seed: u32) -> Self {
        Self {
            seed,
            sampled: 256,
            starts: 4,
            stages: 5,
        }
    }

    /// As far as there is time for while something moves.
    #[must_use]
    pub const fn brief(seed: u32) -> Self {
        Self {
            seed,
            sampled: 48,
            starts: 1,
            stages: 1,
        }
    }
}

/// Rounds of the compass search at most: a step a round crosses the whole range twice.
const MOST_ROUNDS: usize = 80;

/// What is moved: entry, steer, and how long after the start of steering the hand pulls. Whole numbers of the least steps
/// that a driver can tell apart: 1 km/h, 1°, 0.05 s (judgement).
type Point = [i32; 3];

const LEAST_M_S: f64 = 1.0 / 3.6;
const LEAST_RAD: f64 = core::f64::consts::PI / 180.0;
const LEAST_S: f64 = 0.05;
/// First and last of each: 12 to 90 km/h; 4° up to the lock; 0.1 s to 1.6 s.
const FIRST: Point = [12, 4, 2];
const LAST: Point = [90, 90, 32];
/// Steps with which the compass search begins.
const STRIDE: Point = [8, 8, 8];

/// How good a point is, the larger the better: whether it does, how fast or how nearly, and the room that is left.
type Worth = (bool, f64, f64);

/// What is known of a point.
#[derive(Clone, Copy, Debug)]
struct Known {
    worth: Worth,
    stopped: StoppedBy,
}

impl TurnBench {
    /// Looks for the fastest way through a bend, beginning from what `like` has for the driver's pull, the lock and the
    /// quickness of hands. The same seed gives the same answer.
    ///
    /// # Errors
    /// A bend that is none: see [`Bend`].
    pub fn search(&self, like: &Technique, bend: &Bend, looking: Looking) -> Result<Searched, TurnFault> {
        like.check()?;
        bend.check()?;
        let mut space = Space {
            like,
            bend,
            slowest: FIRST[0],
        };
        let mut known: BTreeMap<Point, Option<Known>> = BTreeMap::new();
        let mut sampled = 0;
        for stage in 0..looking.stages {
            let count = if stage == 0 {
                looking.sampled
            } else {
                looking.sampled / 2
            };
            let sample: Vec<Point> = (0..count)
                .map(|number| space.sampled(number, looking.seed.wrapping_add(stage)))
                .collect();
            let before = known.len();
            self.look(&space, &sample, &mut known);
            sampled += known.len() - before;
            self.better(&space, looking.starts, &mut known);
            // Once more over all that is faster than what does.
            match ranked(&known).first() {
                Some((point, (true, ..))) if (space.slowest..LAST[0]).contains(&point[0]) => {
                    space.slowest = point[0] + 1;
                }
                _ => break,
            }
        }
        let bettered = known.len() - sampled;
        let found = self.told_of(&space, &known)?;
        let nearest = ranked(&known).first().map(|(point, _)| space.technique(*point));
        Ok(Searched {
            nearest: nearest.filter(|_| found.is_err()),
            found,
            sampled,
            bettered,
        })
    }

    /// Betters the best of what is known in a space, some that lie apart, by steps along each axis.
    fn better(&self, space: &Space<'_>, starts: usize, known: &mut BTreeMap<Point, Option<Known>>) {
        let mut on_their_way: Vec<(Point, Worth, Point)> = Vec::with_capacity(starts);
        for (point, worth) in ranked(known) {
            let is_apart = |from: &Point| (0..3).any(|axis| (point[axis] - from[axis]).abs() > STRIDE[axis]);
            let starts_here =
                point[0] >= space.slowest && on_their_way.iter().all(|(from, ..)| is_apart(from));
            if starts_here && on_their_way.len() < starts {
                on_their_way.push((point, worth, STRIDE));
            }
        }
        for _ in 0..MOST_ROUNDS {
            let round: Vec<Point> = on_their_way
                .iter()
                .filter(|(_, _, stride)| stride.iter().any(|step| *step > 0))
                .flat_map(|(point, _, stride)| space.beside(*point, *stride))
                .collect();
            if round.is_empty() {
                break;
            }
            self.look(space, &round, known);
            for (point, worth, stride) in &mut on_their_way {
                let better = space
                    .beside(*point, *stride)
                    .into_iter()
                    .filter_map(|beside| Some((beside, (*known.get(&beside)?)?.worth)))
                    .filter(|(_, other)| order(*other, *worth).is_gt())
                    .max_by(|(_, one), (_, other)| order(*one, *other));
                match better {
                    Some((beside, other)) => (*point, *worth) = (beside, other),
                    None => *stride = stride.map(|step| step / 2),
                }
            }
        }
    }

    /// Drives the points that are not known yet.
    fn look(&self, space: &Space<'_>, points: &[Point], known: &mut BTreeMap<Point, Option<Known>>) {
        let mut fresh: Vec<Point> = points
            .iter()
            .copied()
            .filter(|point| !known.contains_key(point))
            .collect();
        fresh.sort_unstable();
        fresh.dedup();
        let asked: Vec<Asked<'_>> = fresh
            .iter()
            .map(|point| Asked {
                bench: self,
                technique: space.technique(*point),
                depth: Depth::Moment,
                unless: None,
            })
            .collect();
        for (point, run) in fresh.into_iter().zip(runs(&asked, Cores::All)) {
            known.insert(point, run.ok().map(|run| space.known(point, &run)));
        }
    }

    /// The best that comes round when it is run by itself too; else what stops all of them.
    fn told_of(
        &self,
        space: &Space<'_>,
        known: &BTreeMap<Point, Option<Known>>,
    ) -> Result<Result<WayThrough, StoppedBy>, TurnFault> {
        for (point, (does, ..)) in ranked(known) {
            if !does {
                break;
            }
            let turn = self.turn(&space.technique(point))?;
            let (TurnVerdict::ComesRound, Some(out_s), Some(to_spare)) =
                (turn.verdict, turn.judged.through.out_s, turn.judged.to_spare)
            else {
                continue;
            };
            let reached = Duration::from_s(out_s);
            return Ok(Ok(WayThrough {
                technique: space.technique(point),
                reached,
                speed: turn.speed_at(reached),
                to_spare,
                turn,
            }));
        }
        Ok(Err(stopped(known)))
    }
}

/// What stops everything that was tried: the last thing that is lacking where the most came together.
fn stopped(known: &BTreeMap<Point, Option<Known>>) -> StoppedBy {
    let (mut furthest, mut nearest, mut gave) = (Angle::ZERO, None::<Length>, None::<Angle>);
    for known in known.values().flatten() {
        match known.stopped {
            StoppedBy::Rotation(came) => furthest = furthest.max(came),
            StoppedBy::Width(by) => nearest = Some(nearest.map_or(by, |known| known.min(by))),
            StoppedBy::Lever(angle) => gave = Some(gave.map_or(angle, |known| known.max(angle))),
        }
    }
    match (gave, nearest) {
        (Some(gave), _) => StoppedBy::Lever(gave),
        (None, Some(by)) => StoppedBy::Width(by),
        (None, None) => StoppedBy::Rotation(furthest),
    }
}

/// All that could be driven, the best first.
fn ranked(known: &BTreeMap<Point, Option<Known>>) -> Vec<(Point, Worth)> {
    let mut all: Vec<(Point, Worth)> = known
        .iter()
        .filter_map(|(point, known)| Some((*point, (*known)?.worth)))
        .collect();
    all.sort_by(|(_, one), (_, other)| order(*other, *one));
    all
}

fn order(one: Worth, other: Worth) -> core::cmp::Ordering {
    one.0
        .cmp(&other.0)
        .then(one.1.total_cmp(&other.1))
        .then(one.2.total_cmp(&other.2))
}

/// What is looked through.
struct Space<'a> {
    like: &'a Technique,
    bend: &'a Bend,
    /// The slowest entry that is looked at (km/h).
    slowest: i32,
}

impl Space<'_> {
    /// The least of each.
    const fn first(&self) -> Point {
        [self.slowest, FIRST[1], FIRST[2]]
    }

    /// The furthest of each.
    fn last(&self) -> Point {
        #[allow(clippy::cast_possible_truncation, reason = "some tens of degrees")]
        let lock = (self.like.lock.rad() / LEAST_RAD + 1e-9).floor() as i32;
        [LAST[0], LAST[1].min(lock).max(FIRST[1]), LAST[2]]
    }

    /// A point of the sample.
    fn sampled(&self, number: u32, seed: u32) -> Point {
        let (first, last) = (self.first(), self.last());
        core::array::from_fn(|axis| {
            #[allow(clippy::cast_possible_truncation, reason = "three axes")]
            let share = f64::from(sobol_burley::sample(number, axis as u32, seed));
            let wide = f64::from(last[axis] - first[axis]);
            #[allow(clippy::cast_possible_truncation, reason = "within the range")]
            let step = (share * wide).round() as i32;
            first[axis] + step
        })
    }

    /// The points a step away along each axis.
    fn beside(&self, point: Point, stride: Point) -> Vec<Point> {
        let (first, last) = (self.first(), self.last());
        let mut all = Vec::with_capacity(6);
        for axis in 0..3 {
            for step in [-stride[axis], stride[axis]] {
                let mut beside = point;
                beside[axis] = (point[axis] + step).clamp(first[axis], last[axis]);
                if beside != point {
                    all.push(beside);
                }
            }
        }
        all
    }

    /// What the driver does at a point.
    fn technique(&self, [entry, steer, pull]: Point) -> Technique {
        let side = if self.bend.angle.rad() < 0.0 { -1.0 } else { 1.0 };
        let lever_at = self.like.steer_at + Duration::from_s(f64::from(pull) * LEAST_S);
        // What else belongs to the pull stays as far from it as it was.
        let later = lever_at - self.like.lever_at;
        let moved = |at: Duration| (at + later).max(Duration::ZERO);
        Technique {
            entry: Speed::from_m_s(f64::from(entry) * LEAST_M_S),
            steer: Angle::from_rad(side * f64::from(steer) * LEAST_RAD),
            lever_at,
            clutch: match self.like.clutch {
                Clutch::Up => Clutch::Up,
                Clutch::DownAt(at) => Clutch::DownAt(moved(at)),
            },
            foot: self.like.foot.map(|foot| Footwork {
                off: foot.off.map(moved),
                ..foot
            }),
            bend: Bend {
                angle: Angle::from_rad(self.bend.angle.rad().abs()),
                ..*self.bend
            },
            ..*self.like
        }
        .at_best()
    }

    fn known(&self, point: Point, run: &Run) -> Known {
        let judged = &run.judged;
        let through = &judged.through;
        let (round_rad, width_m) = (self.bend.angle.rad().abs(), self.bend.width.m());
        let spare_m = judged.to_spare.map_or(f64::NEG_INFINITY, Length::m);
        let lacks = judged
            .lever_gave
            .map_or(1.0, |gave| 1.0 - gave.rad() / LEVER_GIVES.rad());
        let (worth, stopped) = match (judged.verdict, judged.to_spare) {
            (TurnVerdict::ComesRound, _) => (
                (true, f64::from(point[0]), spare_m),
                StoppedBy::Rotation(Angle::ZERO),
            ),
            // What is lacking, in parts of the whole: the lever's part, then the road, then the bend itself.
            (_, Some(spare)) if spare >= Length::ZERO => (
                (false, -lacks.clamp(0.0, 2.0), spare_m),
                StoppedBy::Lever(judged.lever_gave.unwrap_or(Angle::ZERO)),
            ),
            (_, Some(spare)) => (
                (false, -2.0 - lacks.clamp(0.0, 2.0) + spare.m() / width_m, spare_m),
                StoppedBy::Width(-spare),
            ),
            (verdict, None) => {
                let came = through.furthest_rad.min(round_rad);
                let backwards = if verdict == TurnVerdict::Spins { 1.0 } else { 0.0 };
                (
                    (false, -1e3 - backwards + came / round_rad, 0.0),
                    StoppedBy::Rotation(Angle::from_rad(came)),
                )
            }
        };
        Known { worth, stopped }
    }
}

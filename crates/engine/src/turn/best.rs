//! Runs judged by their bends, and the best moment of letting go.
//!
//! Every moment that is tried is a branch of one pulled run: it begins where that run was then. What the lever has given by
//! a moment is known from that run and the one without the lever; moments by which it has given enough are tried first, then
//! those near the best. All branches of all runs that are asked for are driven at once, a lane each.

use core::mem::take;

use quantity::si::{Angle, Duration};
use rayon::prelude::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};

use super::demand::Demand;
use super::following::Following;
use super::integrate::MotionFault;
use super::many::{Job, Keeps};
use super::measure::{Place, Tally};
use super::technique::{Release, Technique};
use super::through::{self, Through};
use super::verdict::Judged;
use super::{Brief, Headings, TurnBench, TurnVerdict};
use crate::thresholds::LEVER_GIVES;

/// Moments that are tried first: by which the lever has given enough; where it never does; and, where none of the first
/// brings the car round, before it has.
const GIVING: usize = 6;
const ANYWHERE: usize = 4;
const BEFORE: usize = 3;

/// How often the distance to the neighbours of the best is halved then.
const HALVINGS: u32 = 2;

/// How far the best moment is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Depth {
    /// Until the word is known: no moment changes one that comes round.
    Word,
    /// Until it is known whether the car comes round, in time or late. A moment that a neighbour was best let go at is tried
    /// before all others; the word of a car that does not come round is one of those that it may have.
    Round(Option<Duration>),
    /// Until the moment is.
    Moment,
}

/// A technique in a car, to be driven and judged.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked<'a> {
    pub(super) bench: &'a TurnBench,
    pub(super) technique: Technique,
    pub(super) depth: Depth,
}

/// A technique, driven and judged.
#[derive(Clone, Debug)]
pub(super) struct Run {
    /// With the moment of letting go that was taken.
    pub(super) technique: Technique,
    pub(super) judged: Judged,
    /// How far the car looks into the bend against its path at letting go, with the lever and without.
    pub(super) nose_in: [Option<Angle>; 2],
    /// What it comes to; its way is no longer in it.
    pub(super) tally: Tally,
}

impl Run {
    pub(super) fn brief(&self) -> Brief {
        Brief {
            verdict: self.judged.verdict,
            judged: self.judged,
            released: self.tally.released_s.map(Duration::from_s),
            heading: Headings {
                at_release: self.tally.at_release_rad.map(Angle::from_rad),
                end: Angle::from_rad(self.tally.end_rad),
            },
            rear_for: Duration::from_s(self.tally.rear_for_s),
            front_speed_ratio: self.tally.front_speed_ratio,
        }
    }
}

/// What drives jobs: on all cores, or on this one.
pub(super) type Over = fn(&[Job<'_>]) -> Vec<Result<Tally, MotionFault>>;

/// Drives and judges all that is asked.
pub(super) fn runs(asked: &[Asked<'_>], over: Over) -> Vec<Result<Run, MotionFault>> {
    let asked: Vec<Asked<'_>> = asked.iter().map(Asked::with_throttle).collect();
    let demands: Vec<Demand> = asked
        .iter()
        .map(|asked| asked.bench.demand(&asked.technique))
        .collect();
    let first: Vec<Job<'_>> = asked
        .iter()
        .zip(&demands)
        .map(|(asked, demand)| asked.first(demand))
        .collect();
    let first = over(&first);
    let without = left_alone(&asked, &first, over);
    let mut searches: Vec<Search<'_>> = asked
        .iter()
        .zip(&demands)
        .zip(first)
        .zip(without)
        .map(|(((asked, demand), first), without)| Search::of(*asked, demand, first, without))
        .collect();
    for round in 0..4 + HALVINGS {
        let wanted: Vec<(usize, usize)> = searches
            .iter_mut()
            .enumerate()
            .flat_map(|(number, search)| {
                let marks = search.wanted(round);
                marks.into_iter().map(move |mark| (number, mark))
            })
            .collect();
        let jobs: Vec<Job<'_>> = wanted
            .iter()
            .map(|&(number, mark)| searches[number].branch(mark))
            .collect();
        let tallies = over(&jobs);
        let found: Vec<Result<Run, MotionFault>> = wanted
            .par_iter()
            .zip(tallies)
            .map(|(&(number, mark), tally)| Ok(searches[number].run(mark, tally?)))
            .collect();
        for ((number, _), found) in wanted.into_iter().zip(found) {
            searches[number].keep(found);
        }
    }
    searches.into_iter().map(Search::found).collect()
}

/// The way of each without the lever, as far as it is needed; neighbours often have one between them.
fn left_alone(
    asked: &[Asked<'_>],
    first: &[Result<Tally, MotionFault>],
    over: Over,
) -> Vec<Result<std::sync::Arc<Vec<Place>>, MotionFault>> {
    let mut jobs: Vec<Job<'_>> = Vec::with_capacity(asked.len());
    let mut which = Vec::with_capacity(asked.len());
    for (asked, first) in asked.iter().zip(first) {
        let until_s = first.as_ref().map_or(0.0, |tally| match asked.technique.release {
            Release::Best => tally.marks.last().map_or(0.0, |mark| mark.time_s),
            _ => tally.released_s.unwrap_or(0.0),
        });
        let until = Duration::from_s(until_s.max(1e-3));
        let alone = Technique {
            release: Release::Never,
            until,
            ..asked.technique.without_lever()
        };
        let last = jobs.last_mut().filter(|last| {
            let longer = Technique {
                until: last.technique.until,
                ..alone
            };
            core::ptr::eq(last.bench, asked.bench) && last.technique == longer
        });
        match last {
            Some(last) => last.technique.until = last.technique.until.max(until),
            None => jobs.push(Job {
                keeps: Keeps::Way,
                ..Job::whole(asked.bench, alone)
            }),
        }
        which.push(jobs.len() - 1);
    }
    let ways: Vec<_> = over(&jobs)
        .into_iter()
        .map(|tally| tally.map(|tally| std::sync::Arc::new(tally.way)))
        .collect();
    which.into_iter().map(|which| ways[which].clone()).collect()
}

impl<'a> Asked<'a> {
    /// Whoever drives on round the bend takes the throttle that the driven wheels take.
    fn with_throttle(&self) -> Self {
        let technique = &self.technique;
        let throttle = match technique.after {
            super::After::Drives => technique.throttle.or(Some(self.bench.drivers_throttle())),
            super::After::Hold | super::After::IntoSlide => technique.throttle,
        };
        Self {
            technique: Technique {
                throttle,
                ..*technique
            },
            ..*self
        }
    }

    /// The run that comes first: as it is given, or pulled for as long as letting go may come to something.
    fn first<'b>(&self, demand: &'b Demand) -> Job<'b>
    where
        'a: 'b,
    {
        let technique = self.technique;
        let (technique, following, keeps) = if technique.release == Release::Best {
            let pulled = Technique {
                release: Release::Never,
                ..technique
            };
            let following = Some(Following::while_forward(technique.side()));
            (pulled, following, Keeps::Marks)
        } else {
            (technique, technique.following(), Keeps::Way)
        };
        Job {
            bench: self.bench,
            technique,
            demand: Some(demand),
            from: None,
            following,
            keeps,
        }
    }
}

impl Technique {
    /// How far it is followed, where that is no time.
    pub(super) fn following(&self) -> Option<Following> {
        let not_before_s = Demand::known_release_s(self).unwrap_or(0.0);
        self.is_followed_through()
            .then(|| Following::through(self.side(), &self.bend, self.entry, not_before_s))
    }
}

/// A search for the best moment of one technique; one that is given has nothing to search.
struct Search<'a> {
    asked: Asked<'a>,
    demand: &'a Demand,
    /// Where the wheels stand from the centre of gravity.
    corners: [(f64, f64); 4],
    pulled: Tally,
    without: std::sync::Arc<Vec<Place>>,
    /// The first mark at which the lever is pulled in full, and by which of them it has given enough.
    earliest: usize,
    giving: Vec<usize>,
    tried: Vec<usize>,
    between_s: f64,
    best: Option<Run>,
    lost: Option<MotionFault>,
}

impl<'a> Search<'a> {
    fn of(
        asked: Asked<'a>,
        demand: &'a Demand,
        first: Result<Tally, MotionFault>,
        without: Result<std::sync::Arc<Vec<Place>>, MotionFault>,
    ) -> Self {
        let mut search = Self {
            corners: [0, 1, 2, 3].map(|wheel| asked.bench.vehicle().place(wheel)),
            asked,
            demand,
            pulled: Tally::default(),
            without: std::sync::Arc::default(),
            earliest: 0,
            giving: Vec::new(),
            tried: Vec::new(),
            between_s: 0.0,
            best: None,
            lost: None,
        };
        match (first, without) {
            (Ok(first), Ok(without)) => {
                search.pulled = first;
                search.without = without;
            }
            (Err(lost), _) | (_, Err(lost)) => search.lost = Some(lost),
        }
        if search.lost.is_some() {
            return search;
        }
        let technique = &search.asked.technique;
        if technique.release != Release::Best {
            let tally = take(&mut search.pulled);
            search.best = Some(search.judged(*technique, tally));
            return search;
        }
        let pulled_s = (technique.lever_at + technique.lever_rise).s();
        let marks = &search.pulled.marks;
        search.earliest = marks
            .partition_point(|mark| mark.time_s < pulled_s - 1e-9)
            .min(marks.len().saturating_sub(1));
        search.giving = (search.earliest..marks.len())
            .filter(|&mark| {
                search
                    .gave_rad(mark)
                    .is_some_and(|gave| gave >= LEVER_GIVES.rad())
            })
            .collect();
        search
    }

    /// By how much further the car looks into the bend at a mark for the lever.
    fn gave_rad(&self, mark: usize) -> Option<f64> {
        let side = self.asked.technique.side();
        let with = self.pulled.way.get(mark)?;
        let without = through::at(&self.without, with.time_s)?;
        Some(with.nose_in_rad(side)? - without.nose_in_rad(side)?)
    }

    fn is_round(&self) -> bool {
        self.best
            .as_ref()
            .is_some_and(|best| best.judged.verdict.is_round())
    }

    /// Whether nothing more is to be tried.
    fn is_known(&self) -> bool {
        let word = self.best.as_ref().map(|best| best.judged.verdict);
        self.lost.is_some()
            || self.pulled.marks.is_empty()
            || match self.asked.depth {
                Depth::Moment => false,
                Depth::Word => word == Some(TurnVerdict::ComesRound),
                // Where the lever never gives enough no moment brings the car round.
                Depth::Round(_) => self.is_round() || (self.giving.is_empty() && self.best.is_some()),
            }
    }

    /// The marks that are tried in a round.
    fn wanted(&mut self, round: u32) -> Vec<usize> {
        if self.is_known() {
            return Vec::new();
        }
        let last = self.pulled.marks.len() - 1;
        let wanted = match round {
            0 => match self.asked.depth {
                Depth::Round(Some(moment)) if !self.giving.is_empty() => vec![self.nearest(moment.s())],
                _ => Vec::new(),
            },
            1 if self.giving.is_empty() && matches!(self.asked.depth, Depth::Round(_)) => {
                vec![self.earliest]
            }
            // Where only the word is wanted, half of them may do.
            1 | 2 => {
                let marks = match (self.giving.first(), self.giving.last()) {
                    (Some(&first), Some(&to)) => self.spread(first, to, GIVING),
                    _ => self.spread(self.earliest, last, ANYWHERE),
                };
                let (skip, of) = match (self.asked.depth, round) {
                    (Depth::Moment, _) => (0, 1),
                    (Depth::Word | Depth::Round(_), 1) => (0, 2),
                    (Depth::Word | Depth::Round(_), _) => (1, 2),
                };
                marks.into_iter().skip(skip).step_by(of).collect()
            }
            3 => match self.giving.first() {
                // Before, the lever has not given enough to bring the car round; another word it may have.
                Some(&first)
                    if !self.is_round()
                        && first > self.earliest
                        && !matches!(self.asked.depth, Depth::Round(_)) =>
                {
                    self.spread(self.earliest, first - 1, BEFORE)
                }
                _ => Vec::new(),
            },
            _ => {
                self.between_s *= 0.5;
                let best_s = self.best.as_ref().and_then(|best| best.tally.released_s);
                best_s.map_or_else(Vec::new, |best_s| {
                    [best_s - self.between_s, best_s + self.between_s]
                        .map(|at_s| self.nearest(at_s))
                        .into()
                })
            }
        };
        let mut fresh = Vec::with_capacity(wanted.len());
        for mark in wanted {
            if !self.tried.contains(&mark) {
                self.tried.push(mark);
                fresh.push(mark);
            }
        }
        fresh
    }

    /// So many marks from one to another, evenly over time.
    fn spread(&mut self, from: usize, to: usize, count: usize) -> Vec<usize> {
        let (from_s, to_s) = (self.pulled.marks[from].time_s, self.pulled.marks[to].time_s);
        #[allow(clippy::cast_precision_loss, reason = "a handful")]
        let between_s = (to_s - from_s) / (count - 1) as f64;
        self.between_s = self.between_s.max(between_s);
        #[allow(clippy::cast_precision_loss, reason = "a handful")]
        let at = |step: usize| from_s + between_s * step as f64;
        (0..count).map(|step| self.nearest(at(step))).collect()
    }

    /// The mark that is nearest to a moment.
    fn nearest(&self, at_s: f64) -> usize {
        let marks = &self.pulled.marks;
        let after = marks.partition_point(|mark| mark.time_s < at_s);
        let before = after.saturating_sub(1);
        let nearer = match (marks.get(before), marks.get(after)) {
            (Some(early), Some(late)) if late.time_s - at_s < at_s - early.time_s => after,
            _ => before,
        };
        nearer.clamp(self.earliest, marks.len() - 1)
    }

    fn branch(&self, mark: usize) -> Job<'_> {
        let from = &self.pulled.marks[mark];
        let technique = self.let_go(from.time_s);
        Job {
            bench: self.asked.bench,
            technique,
            demand: Some(self.demand),
            from: Some(from),
            following: technique.following(),
            keeps: Keeps::Way,
        }
    }

    fn let_go(&self, at_s: f64) -> Technique {
        Technique {
            release: Release::At(Duration::from_s(at_s)),
            ..self.asked.technique
        }
    }

    /// A branch with what went before it.
    fn run(&self, mark: usize, branch: Tally) -> Run {
        let from = &self.pulled.marks[mark];
        let (ratio, pulled_s) = from.ratio;
        let mut way = self.pulled.way[..=mark].to_vec();
        way.extend(branch.way.iter().skip(1));
        let tally = Tally {
            released_s: Some(from.time_s),
            at_release_rad: way.get(mark).map(|place| place.heading_rad),
            rear_for_s: from.rear_for_s + branch.rear_for_s,
            front_speed_ratio: (pulled_s > 0.0).then(|| ratio / pulled_s),
            ratio: from.ratio,
            way,
            ..branch
        };
        self.judged(self.let_go(from.time_s), tally)
    }

    fn judged(&self, technique: Technique, mut tally: Tally) -> Run {
        let side = technique.side();
        let way = take(&mut tally.way);
        let nose = |way: &[Place]| {
            let place = through::at(way, tally.released_s?)?;
            place.nose_in_rad(side)
        };
        let nose_in = [nose(&way), nose(&self.without)].map(|nose| nose.map(Angle::from_rad));
        let gave = match nose_in {
            [Some(with), Some(without)] => Some(with - without),
            _ => None,
        };
        let through = Through::of(&way, &self.corners, side, &technique.bend);
        let keeps = self.asked.bench.front_keeps();
        Run {
            judged: Judged::of(&technique.bend, through, gave, tally.front_speed_ratio, keeps),
            technique,
            nose_in,
            tally,
        }
    }

    /// Keeps what came of a branch, where it is the best so far.
    fn keep(&mut self, found: Result<Run, MotionFault>) {
        match found {
            Ok(run) => {
                let better = self
                    .best
                    .as_ref()
                    .is_none_or(|best| run.judged.rank() > best.judged.rank());
                if better {
                    self.best = Some(run);
                }
            }
            Err(lost) => self.lost = Some(lost),
        }
    }

    fn found(self) -> Result<Run, MotionFault> {
        match (self.lost, self.best) {
            (None, Some(best)) => Ok(best),
            (lost, _) => Err(lost.unwrap_or(MotionFault { at_s: 0.0 })),
        }
    }
}

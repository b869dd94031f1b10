//! Runs judged by their bends, and the best moment of letting go.
//!
//! Every moment that is tried is a branch of one pulled run: it begins where that run was then. What the lever has given by
//! a moment is known from that run and the one without the lever; moments by which it has given enough are tried first, then
//! those near the best. All that is asked for is searched [together](super::together).

use core::mem::take;
use std::sync::Arc;

use quantity::si::{Angle, Duration, Length};

use super::demand::Demand;
use super::following::{Following, KEEPS_TO_IT_S};
use super::integrate::MotionFault;
use super::many::Job;
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

/// Rounds of what is tried: the first four as said; then as often as the distance to the neighbours of the best is halved;
/// and as often again for a car that comes round late by so little that a moment between them may keep it on the road.
const ROUNDS: u32 = 4 + HALVINGS + HALVINGS;
const HALVINGS: u32 = 2;
const SO_LITTLE: Length = Length::from_m(0.3);

/// How far the best moment is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Depth {
    /// Until the word is known: no moment changes one that comes round. Where nothing else brings the car round and the
    /// neighbour with this number came round, its moment is tried too.
    Word(Option<usize>),
    /// Until it is known whether the car comes round, in time or late. A moment that a neighbour was best let go at is tried
    /// before all others; the word of a car that does not come round is one of those that it may have.
    Round(Option<Duration>),
    /// Until the moment is.
    Moment,
    /// Until the word is known; and then, should it be asked for, until the moment is.
    WordFirst,
}

/// A technique in a car, to be driven and judged.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked<'a> {
    pub(super) bench: &'a TurnBench,
    pub(super) technique: Technique,
    pub(super) depth: Depth,
    /// Only where it may be better than one that is asked before it, by its number, and than those before that in the same way;
    /// and where these can be driven.
    pub(super) unless: Option<usize>,
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
    /// When it ends (s).
    pub(super) last_s: f64,
    /// The mark at which it was let go, where that is one of a search.
    pub(super) mark: usize,
}

impl Run {
    /// When the lever was let go.
    pub(super) fn released(&self) -> Option<Duration> {
        self.tally.released_s.map(Duration::from_s)
    }

    /// The moment at which the car comes round on the road, where it does.
    pub(super) fn round_at(&self) -> Option<Duration> {
        self.released()
            .filter(|_| self.judged.verdict == TurnVerdict::ComesRound)
    }

    pub(super) fn brief(&self) -> Brief {
        Brief {
            verdict: self.judged.verdict,
            judged: self.judged,
            released: self.released(),
            heading: Headings {
                at_release: self.tally.at_release_rad.map(Angle::from_rad),
                end: Angle::from_rad(self.tally.end_rad),
            },
            rear_for: Duration::from_s(self.tally.rear_for_s),
            front_speed_ratio: self.tally.front_speed_ratio,
        }
    }
}

impl<'a> Asked<'a> {
    /// Whoever drives on round the bend takes the throttle that the driven wheels take.
    pub(super) fn with_throttle(&self) -> Self {
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
    pub(super) fn first(&self, demand: &Arc<Demand>) -> Job<'a> {
        let technique = self.technique;
        let (technique, following, marks) = if technique.release == Release::Best {
            let pulled = Technique {
                release: Release::Never,
                ..technique
            };
            let in_full_s = technique.lever_in_full().s();
            let following = Some(Following::pulled(technique.side(), &technique.bend, in_full_s));
            (pulled, following, true)
        } else {
            (technique, technique.following(), false)
        };
        Job {
            bench: self.bench,
            technique,
            demand: Some(Arc::clone(demand)),
            from: None,
            following,
            marks,
        }
    }
}

impl Asked<'_> {
    /// The same without the lever, for as long as may be.
    pub(super) fn alone(&self) -> Technique {
        Technique {
            release: Release::Never,
            until: Technique::LONGEST,
            ..self.technique.without_lever()
        }
    }

    /// How long the run without the lever is needed (s).
    pub(super) fn alone_until_s(&self, first: &Result<Tally, MotionFault>) -> f64 {
        first.as_ref().map_or(0.0, |tally| match self.technique.release {
            Release::Best => tally.marks.last().map_or(0.0, |mark| mark.time_s),
            _ => tally.released_s.unwrap_or(0.0),
        })
    }
}

impl Technique {
    /// The moment (s) at which a run that is followed until it is out of its bend is over, whichever step that lies in; `None`
    /// where the end of the last step is its end.
    pub(super) fn ends_at(&self, through: &Through) -> Option<f64> {
        let following = self.following()?;
        let out_s = through.out_s.map(|out_s| out_s + KEEPS_TO_IT_S);
        Some(out_s.unwrap_or_else(|| following.at_latest_s()))
    }

    /// How far it is followed, where that is no time.
    pub(super) fn following(&self) -> Option<Following> {
        let not_before_s = Demand::known_release_s(self).unwrap_or(0.0);
        self.is_followed_through()
            .then(|| Following::through(self.side(), &self.bend, self.entry, not_before_s))
    }
}

/// The runs that a search rests on: the one that is pulled, or given, and the one without the lever.
#[derive(Debug)]
pub(super) struct Ways<'a> {
    asked: Asked<'a>,
    demand: Arc<Demand>,
    /// Where the wheels stand from the centre of gravity.
    corners: [(f64, f64); 4],
    pulled: Tally,
    without: Arc<Vec<Place>>,
}

/// A search for the best moment of one technique; one that is given has nothing to search.
#[derive(Debug)]
pub(super) struct Search<'a> {
    pub(super) ways: Arc<Ways<'a>>,
    depth: Depth,
    /// A moment that is tried before all others; and one that is tried after them, once that is known.
    first: Option<Duration>,
    at_last: Option<Duration>,
    /// Whether it is not known yet.
    waits: bool,
    /// Marks of the first round with which a word alone would have begun.
    first_half: Vec<usize>,
    /// The moment at which it is first found that the car comes round on the road.
    came_round: Option<Duration>,
    round: u32,
    /// The first mark at which the lever is pulled in full, and by which of them it has given enough.
    earliest: usize,
    giving: Vec<usize>,
    tried: Vec<usize>,
    between_s: f64,
    best: Option<Run>,
    lost: Option<MotionFault>,
}

impl<'a> Search<'a> {
    pub(super) fn of(
        asked: Asked<'a>,
        demand: Arc<Demand>,
        first: Result<Tally, MotionFault>,
        without: Result<Arc<Vec<Place>>, MotionFault>,
    ) -> Self {
        let (pulled, without, lost) = match (first, without) {
            (Ok(first), Ok(without)) => (first, without, None),
            (Err(lost), _) | (_, Err(lost)) => (Tally::default(), Arc::default(), Some(lost)),
        };
        let mut ways = Ways {
            corners: [0, 1, 2, 3].map(|wheel| asked.bench.vehicle().place(wheel)),
            asked,
            demand,
            pulled,
            without,
        };
        let technique = &asked.technique;
        let mut given = None;
        if lost.is_none() && technique.release != Release::Best {
            let tally = take(&mut ways.pulled);
            given = Some(ways.judged(*technique, tally));
        }
        let marks = &ways.pulled.marks;
        let pulled_s = technique.lever_in_full().s();
        let earliest = marks
            .partition_point(|mark| mark.time_s < pulled_s - 1e-9)
            .min(marks.len().saturating_sub(1));
        let giving = (earliest..marks.len())
            .filter(|&mark| ways.gave_rad(mark).is_some_and(|gave| gave >= LEVER_GIVES.rad()))
            .collect();
        Self {
            ways: Arc::new(ways),
            depth: asked.depth,
            first: match asked.depth {
                Depth::Round(first) => first,
                Depth::Word(_) | Depth::WordFirst | Depth::Moment => None,
            },
            at_last: None,
            waits: matches!(asked.depth, Depth::Word(Some(_))),
            first_half: Vec::new(),
            came_round: None,
            round: 0,
            earliest,
            giving,
            tried: Vec::new(),
            between_s: 0.0,
            best: given,
            lost,
        }
    }

    /// The marks that are tried next; none: all that is worth it has been.
    pub(super) fn next(&mut self) -> Vec<usize> {
        while self.round < ROUNDS && !self.is_known() {
            let wanted = self.wanted(self.round);
            self.round += 1;
            if !wanted.is_empty() {
                return wanted;
            }
        }
        let at_last = self.at_last.filter(|_| !self.is_known());
        let at_last = at_last.map(|moment| self.nearest(moment.s()));
        self.fresh(at_last.into_iter().collect())
    }

    fn is_round(&self) -> bool {
        self.best
            .as_ref()
            .is_some_and(|best| best.judged.verdict.is_round())
    }

    fn is_nearly_in_time(&self) -> bool {
        let late = self
            .best
            .as_ref()
            .filter(|best| best.judged.verdict == TurnVerdict::ComesRoundLate);
        late.and_then(|best| best.judged.to_spare)
            .is_some_and(|to_spare| to_spare > -SO_LITTLE)
    }

    /// Whether nothing more is to be tried.
    fn is_known(&self) -> bool {
        let word = self.best.as_ref().map(|best| best.judged.verdict);
        self.lost.is_some()
            || self.ways.pulled.marks.is_empty()
            || match self.depth {
                Depth::Moment => false,
                Depth::Word(_) | Depth::WordFirst => word == Some(TurnVerdict::ComesRound),
                // Where the lever never gives enough no moment brings the car round.
                Depth::Round(_) => self.is_round() || (self.giving.is_empty() && self.best.is_some()),
            }
    }

    /// The marks that are tried in a round.
    fn wanted(&mut self, round: u32) -> Vec<usize> {
        let last = self.ways.pulled.marks.len() - 1;
        let wanted = match round {
            0 => match self.first {
                Some(moment) if !self.giving.is_empty() => vec![self.nearest(moment.s())],
                _ => Vec::new(),
            },
            1 if self.giving.is_empty() && matches!(self.depth, Depth::Round(_)) => {
                vec![self.earliest]
            }
            // Where only the word is wanted, half of them may do.
            1 | 2 => {
                let marks = match (self.giving.first(), self.giving.last()) {
                    (Some(&first), Some(&to)) => self.spread(first, to, GIVING),
                    _ => self.spread(self.earliest, last, ANYWHERE),
                };
                if round == 1 {
                    self.first_half = marks.iter().copied().step_by(2).collect();
                }
                let (skip, of) = match (self.depth, round) {
                    (Depth::Moment, _) => (0, 1),
                    (Depth::Word(_) | Depth::WordFirst | Depth::Round(_), 1) => (0, 2),
                    (Depth::Word(_) | Depth::WordFirst | Depth::Round(_), _) => (1, 2),
                };
                marks.into_iter().skip(skip).step_by(of).collect()
            }
            3 => match self.giving.first() {
                // Before, the lever has not given enough to bring the car round; another word it may have.
                Some(&first)
                    if !self.is_round()
                        && first > self.earliest
                        && !matches!(self.depth, Depth::Round(_)) =>
                {
                    self.spread(self.earliest, first - 1, BEFORE)
                }
                _ => Vec::new(),
            },
            _ if round >= 4 + HALVINGS && !self.is_nearly_in_time() => Vec::new(),
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
        self.fresh(wanted)
    }

    /// Those that have not been tried; they are now.
    fn fresh(&mut self, wanted: Vec<usize>) -> Vec<usize> {
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
        let (from_s, to_s) = (
            self.ways.pulled.marks[from].time_s,
            self.ways.pulled.marks[to].time_s,
        );
        #[allow(clippy::cast_precision_loss, reason = "a handful")]
        let between_s = (to_s - from_s) / (count - 1) as f64;
        self.between_s = self.between_s.max(between_s);
        #[allow(clippy::cast_precision_loss, reason = "a handful")]
        let at = |step: usize| from_s + between_s * step as f64;
        (0..count).map(|step| self.nearest(at(step))).collect()
    }

    /// The mark that is nearest to a moment.
    fn nearest(&self, at_s: f64) -> usize {
        let marks = &self.ways.pulled.marks;
        let after = marks.partition_point(|mark| mark.time_s < at_s);
        let before = after.saturating_sub(1);
        let nearer = match (marks.get(before), marks.get(after)) {
            (Some(early), Some(late)) if late.time_s - at_s < at_s - early.time_s => after,
            _ => before,
        };
        nearer.clamp(self.earliest, marks.len() - 1)
    }

    /// The moment at which it was first found that the car comes round on the road: whether the word alone is asked for or
    /// the moment too, the same.
    pub(super) const fn came_round(&self) -> Option<Duration> {
        self.came_round
    }

    /// Keeps what came of branches that were tried at a time.
    pub(super) fn keep_all(&mut self, found: Vec<Option<Result<Run, MotionFault>>>) {
        let (half, rest): (Vec<_>, Vec<_>) = found.into_iter().flatten().partition(|run| {
            let mark = run.as_ref().ok().map(|run| run.mark);
            mark.is_some_and(|mark| self.first_half.contains(&mark))
        });
        for runs in [half, rest] {
            runs.into_iter().for_each(|run| self.keep(run));
            let came_round = self.best.as_ref().and_then(Run::round_at);
            self.came_round = self.came_round.or(came_round);
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

    /// The moment is wanted as well: what has been tried need not be again.
    pub(super) fn deepen(&mut self) {
        self.depth = Depth::Moment;
    }

    /// Whether nothing is left to be tried but the moment of a neighbour.
    pub(super) fn waits(&self) -> bool {
        self.waits && !self.is_known() && !self.giving.is_empty()
    }

    /// A neighbour came round at this moment, or did not.
    pub(super) const fn learns_of(&mut self, moment: Option<Duration>) {
        self.at_last = moment;
        self.waits = false;
    }

    /// The least that the word is, as [`Judged::rank`] has it.
    pub(super) fn at_least(&self) -> Option<u8> {
        self.best.as_ref().map(|best| best.judged.rank().0)
    }

    /// The best that a word may be, as [`Judged::rank`] has it.
    pub(super) const BEST: u8 = Judged::BEST;

    /// The best that the word may be, as [`Judged::rank`] has it: without what the lever has to give no car comes round.
    pub(super) fn at_best(&self) -> u8 {
        let is_searched = self.ways.asked.technique.release == Release::Best;
        if is_searched && self.giving.is_empty() {
            Judged::BEST_NOT_ROUND
        } else {
            Judged::BEST
        }
    }

    /// What it found; with itself, where the moment may be asked for.
    pub(super) fn found(self) -> (Result<Run, MotionFault>, Option<Self>) {
        let found = match (&self.lost, &self.best) {
            (None, Some(best)) => Ok(best.clone()),
            (lost, _) => Err(lost.unwrap_or(MotionFault { at_s: 0.0 })),
        };
        let goes_on = self.depth == Depth::WordFirst && found.is_ok();
        (found, goes_on.then_some(self))
    }
}

impl<'a> Ways<'a> {
    /// By how much further the car looks into the bend at a mark for the lever.
    fn gave_rad(&self, mark: usize) -> Option<f64> {
        let side = self.asked.technique.side();
        let with = self.pulled.way.get(mark)?;
        let without = through::at(&self.without, with.time_s)?;
        Some(with.nose_in_rad(side)? - without.nose_in_rad(side)?)
    }

    /// The run that is let go at a mark.
    pub(super) fn branch(&self, mark: usize) -> Job<'a> {
        let from = self.pulled.marks[mark];
        let technique = self.let_go(from.time_s);
        Job {
            bench: self.asked.bench,
            technique,
            demand: Some(Arc::clone(&self.demand)),
            from: Some(from),
            following: technique.following(),
            marks: false,
        }
    }

    fn let_go(&self, at_s: f64) -> Technique {
        Technique {
            release: Release::At(Duration::from_s(at_s)),
            ..self.asked.technique
        }
    }

    /// A branch with what went before it.
    pub(super) fn run(&self, mark: usize, branch: Tally) -> Run {
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
        Run {
            mark,
            ..self.judged(self.let_go(from.time_s), tally)
        }
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
        if let Some(place) = technique
            .ends_at(&through)
            .and_then(|at_s| through::at(&way, at_s))
        {
            tally.end_rad = place.heading_rad;
        }
        let keeps = self.asked.bench.front_keeps();
        Run {
            last_s: way.last().map_or(0.0, |place| place.time_s),
            mark: 0,
            judged: Judged::of(&technique.bend, through, gave, tally.front_speed_ratio, keeps),
            technique,
            nose_in,
            tally,
        }
    }
}

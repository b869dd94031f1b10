//! Searches for the best moments of many techniques, all at once: whichever run can be made next is made by whoever has a
//! lane free, so that none waits for a search but the search itself. Whoever asks may ask more as answers come in.
//!
//! Neighbours that differ only in what they do with the lever have one run without it between them.

use core::sync::atomic::{AtomicUsize, Ordering};
use quantity::si::Duration;
use std::collections::VecDeque;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};

use super::best::{Asked, Depth, Run, Search};
use super::demand::Demand;
use super::following::Following;
use super::integrate::MotionFault;
use super::many::{Cores, Job, Source, drive};
use super::measure::Tally;
use super::technique::Technique;
use crate::wanted;

/// As many runs are begun between two looks whether anybody still waits for them.
const LOOKS_AFTER: usize = 32;

/// Who asks, and may ask more as answers come in.
pub(super) trait Asks<'a>: Send {
    /// A search is over: what is wanted on top of it. Nothing was found where the motion could not be followed, or where it
    /// is not needed.
    fn learns(&mut self, number: usize, found: &Result<Run, MotionFault>) -> More<'a>;

    /// A search will not find that the car comes round.
    fn is_not_round(&mut self, number: usize) -> More<'a>;
}

/// Something to be done with what was found, while others are at their runs.
pub(super) type Aside<'a> = Box<dyn FnOnce() + Send + 'a>;

/// What is wanted on top of what was asked.
#[derive(Default)]
pub(super) struct More<'a> {
    /// A search whose word came first that is to find the moment, by its number.
    pub(super) deeper: Option<usize>,
    /// Further searches, numbered on from those that were asked before.
    pub(super) asked: Vec<Asked<'a>>,
    /// Whether these are only likely to be needed: they begin where nothing else waits.
    pub(super) likely: bool,
    /// Searches that are not needed after all.
    pub(super) unneeded: Vec<usize>,
    pub(super) aside: Option<Aside<'a>>,
}

/// Nothing more.
impl<'a> Asks<'a> for () {
    fn learns(&mut self, _number: usize, _found: &Result<Run, MotionFault>) -> More<'a> {
        More::default()
    }

    fn is_not_round(&mut self, _number: usize) -> More<'a> {
        More::default()
    }
}

/// Drives and judges all that is asked.
pub(super) fn runs(asked: &[Asked<'_>], cores: Cores) -> Vec<Result<Run, MotionFault>> {
    runs_and_more(asked, &mut (), cores)
}

/// The same, with what is asked on top of it.
pub(super) fn runs_and_more<'a>(
    asked: &[Asked<'a>],
    asks: &mut impl Asks<'a>,
    cores: Cores,
) -> Vec<Result<Run, MotionFault>> {
    Together::of(asked, asks).found(cores)
}

/// What a run is for.
#[derive(Clone, Copy, Debug)]
enum What {
    /// A search's first, by its number.
    First(usize),
    /// Without the lever, of neighbours by their number.
    Alone(usize),
    /// Let go at a mark: of a search by its number, which of those that are tried at a time, and the mark.
    Branch(usize, usize, usize),
}

/// Neighbours with one run without the lever.
struct Neighbours {
    /// Numbers of their searches: from one to before another.
    searches: (usize, usize),
    alone: Technique,
    /// First runs that have not come in.
    missing: usize,
}

/// How far a search is.
enum Stage<'a> {
    /// Its first run is to come, or waits for its neighbours'.
    First(Option<Result<Tally, MotionFault>>),
    /// It waits for a neighbour.
    Waiting(Box<Search<'a>>),
    /// Some moments are being tried.
    Trying {
        search: Box<Search<'a>>,
        found: Vec<Option<Result<Run, MotionFault>>>,
        missing: usize,
    },
    /// It is over; whether its word is known, and its moment may be asked for.
    Done(Box<Result<Run, MotionFault>>, Option<Box<Search<'a>>>),
    /// Nobody needs it.
    Idle,
}

/// A search with what it needs.
struct Searching<'a> {
    asked: Asked<'a>,
    /// What it asks of the brakes, once it has begun.
    demand: Option<Arc<Demand>>,
    /// Which neighbours it belongs to.
    among: usize,
    stage: Stage<'a>,
    /// What it found first; nothing where it could not be driven or was not needed.
    known: Option<Option<Known>>,
    unneeded: bool,
}

/// What a search found first: how good that is, as [`Judged::rank`](super::verdict::Judged::rank) has it, and a moment at which
/// the car comes round.
#[derive(Clone, Copy, Debug)]
struct Known {
    rank: u8,
    round_at: Option<Duration>,
}

/// Nothing is found by whoever does not look.
pub(super) const NOT_LOOKED: MotionFault = MotionFault { at_s: 0.0 };

struct State<'s, 'a, A> {
    waiting: VecDeque<(What, Job<'a>)>,
    /// The same of searches that may turn out not to be needed.
    last: VecDeque<(What, Job<'a>)>,
    /// Searches whose first run has not been given out.
    to_begin: VecDeque<usize>,
    /// Searches that wait for their neighbours.
    for_neighbours: Vec<usize>,
    under_way: usize,
    neighbours: Vec<Neighbours>,
    searches: Vec<Searching<'a>>,
    asides: Vec<Aside<'a>>,
    asks: &'s mut A,
    /// How many searches are over or not needed: others may not be needed then.
    over: usize,
    abandoned: bool,
}

/// The searches.
struct Together<'s, 'a, A> {
    state: Mutex<State<'s, 'a, A>>,
    /// Runs that can be begun.
    some: AtomicUsize,
    given_out: AtomicUsize,
    over: AtomicUsize,
    news: Condvar,
    wanted: wanted::Asked,
}

impl<'a, A: Asks<'a>> State<'_, 'a, A> {
    /// Adds searches; those that are next to each other and differ only in what they do with the lever are neighbours.
    fn add(&mut self, asked: &[Asked<'a>]) {
        let from = self.searches.len();
        for each in asked {
            let asked = each.with_throttle();
            let number = self.searches.len();
            let alone = asked.alone();
            match self.neighbours.last_mut() {
                Some(last)
                    if last.searches.0 >= from
                        && last.alone == alone
                        && core::ptr::eq(self.searches[last.searches.0].asked.bench, asked.bench) =>
                {
                    last.searches.1 = number + 1;
                    last.missing += 1;
                }
                _ => self.neighbours.push(Neighbours {
                    searches: (number, number + 1),
                    alone,
                    missing: 1,
                }),
            }
            self.searches.push(Searching {
                asked,
                demand: None,
                among: self.neighbours.len() - 1,
                stage: Stage::First(None),
                known: None,
                unneeded: false,
            });
        }
    }

    /// Whether no run is under way and none waits.
    fn is_over(&self) -> bool {
        self.under_way == 0 && self.waiting.is_empty() && self.last.is_empty() && self.to_begin.is_empty()
    }

    /// A first run has come in, or is not to be made; after the last of its neighbours' comes the one without the lever.
    fn comes_in(&mut self, number: usize, stage: Stage<'a>) -> Option<(What, Job<'a>)> {
        self.searches[number].stage = stage;
        let among = self.searches[number].among;
        self.neighbours[among].missing -= 1;
        let neighbours = &self.neighbours[among];
        if neighbours.missing > 0 {
            return None;
        }
        let (from, to) = neighbours.searches;
        let until_s = self.searches[from..to]
            .iter()
            .filter_map(|search| match &search.stage {
                Stage::First(Some(first)) => Some(search.asked.alone_until_s(first)),
                _ => None,
            })
            .reduce(f64::max)?;
        // It is the same up to a moment, however much longer a neighbour needs it.
        let job = Job {
            bench: self.searches[from].asked.bench,
            technique: neighbours.alone,
            demand: None,
            from: None,
            following: Some(Following::until(until_s)),
            marks: false,
        };
        Some((What::Alone(among), job))
    }

    /// Whether what a search would find is not needed: one that goes before it is as good as this can be at best, or cannot
    /// be driven.
    fn is_idle(&self, number: usize) -> bool {
        if self.searches[number].unneeded {
            return true;
        }
        let at_best = match &self.searches[number].stage {
            Stage::Waiting(search) | Stage::Trying { search, .. } => search.at_best(),
            Stage::First(_) | Stage::Done(..) | Stage::Idle => Search::BEST,
        };
        let mut before = self.searches[number].asked.unless;
        while let Some(number) = before {
            let search = &self.searches[number];
            match (search.known, &search.stage) {
                (Some(Some(known)), _) if known.rank < at_best => {}
                (Some(_), _) => return true,
                (None, Stage::Waiting(search) | Stage::Trying { search, .. })
                    if search.at_least() >= Some(at_best) =>
                {
                    return true;
                }
                (None, _) => {}
            }
            before = search.asked.unless;
        }
        false
    }

    /// A search is over or not needed: whoever asked learns it, and what is asked on top is begun.
    fn settled(&mut self, number: usize) {
        let mut settled = vec![number];
        while let Some(number) = settled.pop() {
            let search = &mut self.searches[number];
            let more = match &search.stage {
                Stage::Done(found, _) => {
                    let known = Result::as_ref(found).ok().map(|run| Known {
                        rank: run.judged.rank().0,
                        round_at: run.round_at(),
                    });
                    search.known.get_or_insert(known);
                    self.asks.learns(number, found)
                }
                _ => self.asks.learns(number, &Err(NOT_LOOKED)),
            };
            // Others may not be needed now.
            self.over += 1;
            self.wants_more(more, &mut settled);
            self.wakes(number, &mut settled);
        }
    }

    /// What is asked on top is begun; what is over at once is added to what is settled.
    fn wants_more(&mut self, more: More<'a>, settled: &mut Vec<usize>) {
        let from = self.searches.len();
        self.add(&more.asked);
        for number in (from..self.searches.len()).rev() {
            self.to_begin.push_front(number);
        }
        if more.likely {
            self.to_begin.rotate_left(more.asked.len());
        }
        self.asides.extend(more.aside);
        for number in more.unneeded {
            self.searches[number].unneeded = true;
        }
        if let Some(number) = more.deeper
            && let Stage::Done(_, search) = &mut self.searches[number].stage
            && let Some(mut search) = search.take()
        {
            search.deepen();
            if self.tries(number, search) {
                settled.push(number);
            }
        }
    }

    /// The neighbour that a search waits for.
    fn waits_for(&self, number: usize) -> Option<usize> {
        let search = &self.searches[number];
        match (&search.stage, search.asked.depth) {
            (Stage::Waiting(_), Depth::Word(neighbour)) => neighbour,
            _ => None,
        }
    }

    /// A search that waited for its neighbour goes on; whether it is over.
    fn goes_on(&mut self, number: usize) -> bool {
        match core::mem::replace(&mut self.searches[number].stage, Stage::Idle) {
            Stage::Waiting(search) => self.tries(number, search),
            stage => {
                self.searches[number].stage = stage;
                false
            }
        }
    }

    /// What a search may learn of the neighbour that it waits for, once that is known.
    fn learnt(&self, number: usize) -> Option<Option<Duration>> {
        let Depth::Word(Some(neighbour)) = self.searches[number].asked.depth else {
            return Some(None);
        };
        let neighbour = &self.searches[neighbour];
        match (neighbour.known, &neighbour.stage) {
            (Some(known), _) => Some(known.and_then(|known| known.round_at)),
            (None, Stage::Idle) => Some(None),
            (None, _) => None,
        }
    }

    /// A run waits for a lane, before all that wait, so that few searches are under way at a time.
    fn waits(&mut self, number: usize, run: (What, Job<'a>)) {
        let is_needed = self.searches[number].asked.unless.is_none();
        if is_needed {
            &mut self.waiting
        } else {
            &mut self.last
        }
        .push_front(run);
    }

    /// What a search tries next, as runs that go before all that wait, so that few searches are under way at a time; or what
    /// it found: whether it is over.
    fn tries(&mut self, number: usize, mut search: Box<Search<'a>>) -> bool {
        let mut marks = search.next();
        if marks.is_empty() && search.waits() {
            let Some(moment) = self.learnt(number) else {
                self.searches[number].stage = Stage::Waiting(search);
                self.for_neighbours.push(number);
                return self.is_dropped(number);
            };
            search.learns_of(moment);
            marks = search.next();
        }
        if marks.is_empty() {
            let (found, search) = search.found();
            self.searches[number].stage = Stage::Done(Box::new(found), search.map(Box::new));
            return true;
        }
        let missing = marks.len();
        for (place, &mark) in marks.iter().enumerate().rev() {
            let branch = (What::Branch(number, place, mark), search.ways.branch(mark));
            self.waits(number, branch);
        }
        self.searches[number].stage = Stage::Trying {
            search,
            found: (0..missing).map(|_| None).collect(),
            missing,
        };
        self.is_dropped(number)
    }

    /// Drops a search that is not needed; whether it was.
    fn is_dropped(&mut self, number: usize) -> bool {
        let is_idle = self.is_idle(number);
        if is_idle {
            self.searches[number].stage = Stage::Idle;
        }
        is_idle
    }

    /// Keeps what was found, in the order in which it was wanted, whichever came in first; and goes on.
    fn tries_next(&mut self, number: usize) {
        let stage = core::mem::replace(&mut self.searches[number].stage, Stage::Idle);
        if let Stage::Trying {
            mut search, found, ..
        } = stage
        {
            search.keep_all(found);
            let came_round = search.came_round();
            if self.tries(number, search) {
                self.settled(number);
            } else if let Some(moment) = came_round {
                self.comes_round(number, moment);
            }
        }
    }

    /// A search has found that the car comes round, and goes on: whoever waits for that does too.
    fn comes_round(&mut self, number: usize, moment: Duration) {
        self.searches[number].known.get_or_insert(Some(Known {
            rank: Search::BEST,
            round_at: Some(moment),
        }));
        let mut settled = Vec::new();
        self.wakes(number, &mut settled);
        settled.into_iter().for_each(|number| self.settled(number));
    }

    /// Searches go on that waited for a neighbour; what is over at once is added to what is settled.
    fn wakes(&mut self, number: usize, settled: &mut Vec<usize>) {
        for waiting in core::mem::take(&mut self.for_neighbours) {
            if self.waits_for(waiting) != Some(number) {
                self.for_neighbours.push(waiting);
            } else if self.goes_on(waiting) {
                settled.push(waiting);
            }
        }
    }
}

impl<'s, 'a, A: Asks<'a>> Together<'s, 'a, A> {
    fn of(asked: &[Asked<'a>], asks: &'s mut A) -> Self {
        let mut state = State {
            waiting: VecDeque::new(),
            last: VecDeque::new(),
            to_begin: (0..asked.len()).collect(),
            for_neighbours: Vec::new(),
            under_way: 0,
            neighbours: Vec::with_capacity(asked.len()),
            searches: Vec::with_capacity(asked.len()),
            asides: Vec::new(),
            asks,
            over: 0,
            abandoned: false,
        };
        state.add(asked);
        Self {
            state: Mutex::new(state),
            some: AtomicUsize::new(asked.len()),
            given_out: AtomicUsize::new(0),
            over: AtomicUsize::new(0),
            news: Condvar::new(),
            wanted: wanted::asked(),
        }
    }

    /// What comes of each.
    fn found(self, cores: Cores) -> Vec<Result<Run, MotionFault>> {
        drive(&self, cores);
        let state = self.state.into_inner().unwrap_or_else(PoisonError::into_inner);
        let found = state.searches.into_iter().map(|search| match search.stage {
            Stage::Done(found, _) => *found,
            Stage::First(_) | Stage::Waiting(_) | Stage::Trying { .. } | Stage::Idle => Err(NOT_LOOKED),
        });
        found.collect()
    }

    fn state(&self) -> MutexGuard<'_, State<'s, 'a, A>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn count(&self, state: &State<'_, 'a, A>) {
        let some = state.waiting.len() + state.last.len() + state.to_begin.len();
        self.some.store(some, Ordering::Relaxed);
        self.over.store(state.over, Ordering::Relaxed);
    }

    /// A run has been dealt with, and others follow from it.
    fn dealt_with(&self, state: &mut State<'_, 'a, A>) {
        state.under_way -= 1;
        self.count(state);
        self.news.notify_all();
    }

    /// A first run has come in.
    fn first(&self, number: usize, tally: Result<Tally, MotionFault>) {
        let mut state = self.state();
        let is_idle = state.is_idle(number);
        let stage = if is_idle {
            Stage::Idle
        } else {
            Stage::First(Some(tally))
        };
        let run = state.comes_in(number, stage);
        if let Some(run) = run {
            state.waits(number, run);
        }
        if is_idle {
            state.settled(number);
        }
        self.dealt_with(&mut state);
    }

    /// The run without the lever has come in: the searches can begin that rest on it.
    fn alone(&self, among: usize, tally: Result<Tally, MotionFault>) {
        let way = tally.map(|tally| Arc::new(tally.way));
        let firsts: Vec<_> = {
            let mut state = self.state();
            let (from, to) = state.neighbours[among].searches;
            let searches = state.searches[from..to].iter_mut();
            let firsts = searches.zip(from..).filter_map(|(search, number)| {
                let first = match &mut search.stage {
                    Stage::First(first) => first.take()?,
                    _ => return None,
                };
                Some((number, search.asked, search.demand.clone()?, first))
            });
            firsts.collect()
        };
        // Looked through while others are at theirs.
        let searches: Vec<(usize, Box<Search<'a>>)> = firsts
            .into_iter()
            .map(|(number, asked, demand, first)| {
                let search = Search::of(asked, demand, first, way.clone());
                (number, Box::new(search))
            })
            .collect();
        let mut state = self.state();
        for (number, search) in searches.into_iter().rev() {
            let may_be_round = search.at_best() == Search::BEST;
            if state.tries(number, search) {
                state.settled(number);
            }
            if !may_be_round {
                let (more, mut settled) = (state.asks.is_not_round(number), Vec::new());
                state.wants_more(more, &mut settled);
                settled.into_iter().for_each(|number| state.settled(number));
            }
        }
        self.dealt_with(&mut state);
    }

    /// A run that was let go at a mark has come in; after the last of those that are tried at a time come the next.
    fn branch(&self, (number, place, mark): (usize, usize, usize), tally: Result<Tally, MotionFault>) {
        let ways = match &self.state().searches[number].stage {
            Stage::Trying { search, .. } => Some(Arc::clone(&search.ways)),
            Stage::First(_) | Stage::Waiting(_) | Stage::Done(..) | Stage::Idle => None,
        };
        // Judged while others are at theirs.
        let run = ways.map(|ways| Ok(ways.run(mark, tally?)));
        let mut state = self.state();
        if let Stage::Trying { found, missing, .. } = &mut state.searches[number].stage {
            found[place] = run;
            *missing -= 1;
            let is_last = *missing == 0;
            if state.is_idle(number) {
                state.searches[number].stage = Stage::Idle;
                state.settled(number);
            } else if is_last {
                state.tries_next(number);
            }
        }
        self.dealt_with(&mut state);
    }
}

impl<'a, A: Asks<'a>> Source<'a> for Together<'_, 'a, A> {
    type Ticket = What;

    fn has_some(&self) -> bool {
        self.some.load(Ordering::Relaxed) > 0
    }

    fn next(&self, idle: bool) -> Option<(What, Job<'a>)> {
        let given_out = self.given_out.fetch_add(1, Ordering::Relaxed);
        if given_out.is_multiple_of(LOOKS_AFTER) {
            self.wanted.go_on();
        }
        let mut state = self.state();
        loop {
            if state.abandoned {
                return None;
            }
            let next = state.waiting.pop_front().or_else(|| state.last.pop_front());
            if let Some((What::Branch(number, ..), _)) = next {
                if !matches!(state.searches[number].stage, Stage::Trying { .. }) {
                    continue;
                }
                if state.is_idle(number) {
                    state.searches[number].stage = Stage::Idle;
                    state.settled(number);
                    continue;
                }
            }
            if next.is_some() {
                state.under_way += 1;
                self.count(&state);
                return next;
            }
            if let Some(number) = state.to_begin.pop_front() {
                if state.is_idle(number) {
                    let run = state.comes_in(number, Stage::Idle);
                    if let Some(run) = run {
                        state.waits(number, run);
                    }
                    state.settled(number);
                    continue;
                }
                state.under_way += 1;
                self.count(&state);
                let asked = state.searches[number].asked;
                drop(state);
                // Others take theirs meanwhile.
                let demand = Arc::new(asked.bench.demand(&asked.technique));
                let job = asked.first(&demand);
                self.state().searches[number].demand = Some(demand);
                return Some((What::First(number), job));
            }
            if state.under_way == 0 || !idle {
                self.count(&state);
                return None;
            }
            state = self.news.wait(state).unwrap_or_else(PoisonError::into_inner);
        }
    }

    fn done(&self, ticket: What, tally: Result<Tally, MotionFault>) {
        match ticket {
            What::First(number) => self.first(number, tally),
            What::Alone(among) => self.alone(among, tally),
            What::Branch(number, place, mark) => self.branch((number, place, mark), tally),
        }
        let asides = {
            let mut state = self.state();
            let asides = core::mem::take(&mut state.asides);
            // With nothing else to do whoever asked does it sooner, on all cores.
            if state.is_over() { Vec::new() } else { asides }
        };
        asides.into_iter().for_each(|aside| aside());
    }

    fn over(&self) -> usize {
        self.over.load(Ordering::Relaxed)
    }

    fn wants(&self, ticket: What) -> bool {
        let state = self.state();
        let is_under_way = |number: usize| match &state.searches[number].stage {
            Stage::First(_) | Stage::Waiting(_) | Stage::Trying { .. } => !state.is_idle(number),
            Stage::Done(..) | Stage::Idle => false,
        };
        match ticket {
            What::First(number) => is_under_way(number),
            What::Alone(among) => {
                let (from, to) = state.neighbours[among].searches;
                (from..to).any(is_under_way)
            }
            What::Branch(number, ..) => is_under_way(number),
        }
    }

    fn abandon(&self) {
        self.state().abandoned = true;
        self.news.notify_all();
    }
}

//! Searches for the best moments of many techniques, all at once: whichever run can be made next is made by whoever has a
//! lane free, so that none waits for a search but the search itself.
//!
//! Neighbours that differ only in what they do with the lever have one run without it between them.

use core::sync::atomic::{AtomicUsize, Ordering};
use std::collections::VecDeque;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};

use super::TurnVerdict;
use super::best::{Asked, Run, Search};
use super::demand::Demand;
use super::following::Following;
use super::integrate::MotionFault;
use super::many::{Cores, Job, Source, drive};
use super::measure::Tally;
use super::technique::Technique;
use crate::wanted;

/// As many runs are begun between two looks whether anybody still waits for them.
const LOOKS_AFTER: usize = 32;

/// Drives and judges all that is asked.
pub(super) fn runs(asked: &[Asked<'_>], cores: Cores) -> Vec<Result<Run, MotionFault>> {
    let asked: Vec<Asked<'_>> = asked.iter().map(Asked::with_throttle).collect();
    let demands: Vec<Demand> = asked
        .iter()
        .map(|asked| asked.bench.demand(&asked.technique))
        .collect();
    Together::of(&asked, &demands).found(cores)
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
    /// Some moments are being tried.
    Trying {
        search: Search<'a>,
        found: Vec<Option<Result<Run, MotionFault>>>,
        missing: usize,
    },
    /// It is over.
    Done(Result<Run, MotionFault>),
}

struct State<'a> {
    waiting: VecDeque<(What, Job<'a>)>,
    /// How many first runs have been given out.
    begun: usize,
    under_way: usize,
    neighbours: Vec<Neighbours>,
    stages: Vec<Stage<'a>>,
    abandoned: bool,
}

/// The searches.
struct Together<'a> {
    asked: &'a [Asked<'a>],
    demands: &'a [Demand],
    /// Of each search, which neighbours it belongs to.
    among: Vec<usize>,
    state: Mutex<State<'a>>,
    /// Runs that can be begun.
    some: AtomicUsize,
    given_out: AtomicUsize,
    news: Condvar,
    wanted: wanted::Asked,
}

impl<'a> Together<'a> {
    fn of(asked: &'a [Asked<'a>], demands: &'a [Demand]) -> Self {
        let mut neighbours: Vec<Neighbours> = Vec::with_capacity(asked.len());
        let mut among = Vec::with_capacity(asked.len());
        for (number, each) in asked.iter().enumerate() {
            let alone = each.alone();
            match neighbours.last_mut() {
                Some(last)
                    if last.alone == alone && core::ptr::eq(asked[last.searches.0].bench, each.bench) =>
                {
                    last.searches.1 = number + 1;
                    last.missing += 1;
                }
                _ => neighbours.push(Neighbours {
                    searches: (number, number + 1),
                    alone,
                    missing: 1,
                }),
            }
            among.push(neighbours.len() - 1);
        }
        Self {
            asked,
            demands,
            among,
            state: Mutex::new(State {
                waiting: VecDeque::new(),
                begun: 0,
                under_way: 0,
                neighbours,
                stages: asked.iter().map(|_| Stage::First(None)).collect(),
                abandoned: false,
            }),
            some: AtomicUsize::new(asked.len()),
            given_out: AtomicUsize::new(0),
            news: Condvar::new(),
            wanted: wanted::asked(),
        }
    }

    /// What comes of each.
    fn found(self, cores: Cores) -> Vec<Result<Run, MotionFault>> {
        drive(&self, cores);
        let state = self.state.into_inner().unwrap_or_else(PoisonError::into_inner);
        let found = state.stages.into_iter().map(|stage| match stage {
            Stage::Done(found) => found,
            Stage::First(_) | Stage::Trying { .. } => Err(MotionFault { at_s: 0.0 }),
        });
        found.collect()
    }

    fn state(&self) -> MutexGuard<'_, State<'a>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn count(&self, state: &State<'_>) {
        let some = state.waiting.len() + self.asked.len() - state.begun;
        self.some.store(some, Ordering::Relaxed);
    }

    /// A run has been dealt with, and others follow from it: they go before all that wait, so that few searches are under
    /// way at a time.
    fn follow(&self, state: &mut State<'a>, runs: Vec<(What, Job<'a>)>) {
        for run in runs.into_iter().rev() {
            state.waiting.push_front(run);
        }
        state.under_way -= 1;
        self.count(state);
        self.news.notify_all();
    }

    /// A first run has come in.
    fn first(&self, number: usize, tally: Result<Tally, MotionFault>) {
        let mut state = self.state();
        let runs = self.comes_in(&mut state, number, Stage::First(Some(tally)));
        self.follow(&mut state, runs.into_iter().collect());
    }

    /// A first run has come in, or is not to be made; after the last of its neighbours' comes the one without the lever.
    fn comes_in(&self, state: &mut State<'a>, number: usize, stage: Stage<'a>) -> Option<(What, Job<'a>)> {
        state.stages[number] = stage;
        let among = self.among[number];
        state.neighbours[among].missing -= 1;
        let neighbours = &state.neighbours[among];
        if neighbours.missing > 0 {
            return None;
        }
        let (from, to) = neighbours.searches;
        let until_s = (from..to)
            .filter_map(|number| match &state.stages[number] {
                Stage::First(Some(first)) => Some(self.asked[number].alone_until_s(first)),
                _ => None,
            })
            .reduce(f64::max)?;
        // It is the same up to a moment, however much longer a neighbour needs it.
        let job = Job {
            bench: self.asked[from].bench,
            technique: neighbours.alone,
            demand: None,
            from: None,
            following: Some(Following::until(until_s)),
            marks: false,
        };
        Some((What::Alone(among), job))
    }

    /// Whether what a search would find is not needed: one that goes before it comes round, cannot be driven, or is not
    /// needed either.
    fn is_idle(&self, state: &State<'a>, number: usize) -> bool {
        let mut before = self.asked[number].unless;
        while let Some(number) = before {
            match &state.stages[number] {
                Stage::Done(Ok(run)) if run.judged.verdict != TurnVerdict::ComesRound => {}
                Stage::Done(_) => return true,
                Stage::First(_) | Stage::Trying { .. } => {}
            }
            before = self.asked[number].unless;
        }
        false
    }

    /// The run without the lever has come in: the searches can begin that rest on it.
    fn alone(&self, among: usize, tally: Result<Tally, MotionFault>) {
        let way = tally.map(|tally| Arc::new(tally.way));
        let firsts: Vec<(usize, Result<Tally, MotionFault>)> = {
            let mut state = self.state();
            let (from, to) = state.neighbours[among].searches;
            (from..to)
                .filter_map(|number| match &mut state.stages[number] {
                    Stage::First(first) => Some((number, first.take()?)),
                    _ => None,
                })
                .collect()
        };
        let mut runs = Vec::new();
        let stages: Vec<(usize, Stage<'a>)> = firsts
            .into_iter()
            .map(|(number, first)| {
                let search = Search::of(self.asked[number], &self.demands[number], first, way.clone());
                (number, Stage::of(number, search, &mut runs))
            })
            .collect();
        let mut state = self.state();
        for (number, stage) in stages {
            state.stages[number] = stage;
        }
        self.follow(&mut state, runs);
    }

    /// A run that was let go at a mark has come in; after the last of those that are tried at a time come the next.
    fn branch(&self, (number, place, mark): (usize, usize, usize), tally: Result<Tally, MotionFault>) {
        let ways = match &self.state().stages[number] {
            Stage::Trying { search, .. } => Some(Arc::clone(&search.ways)),
            Stage::First(_) | Stage::Done(_) => None,
        };
        // Judged while others are at theirs.
        let run = ways.map(|ways| Ok(ways.run(mark, tally?)));
        let mut state = self.state();
        let mut runs = Vec::new();
        if let Stage::Trying { found, missing, .. } = &mut state.stages[number] {
            found[place] = run;
            *missing -= 1;
            let is_last = *missing == 0;
            if self.is_idle(&state, number) {
                state.stages[number] = Stage::IDLE;
            } else if is_last {
                state.stages[number].tries_next(number, &mut runs);
            }
        }
        self.follow(&mut state, runs);
    }
}

impl<'a> Stage<'a> {
    /// What nobody needs.
    const IDLE: Self = Self::Done(Err(MotionFault { at_s: 0.0 }));

    /// What a search tries next, as runs; or what it found.
    fn of(number: usize, mut search: Search<'a>, runs: &mut Vec<(What, Job<'a>)>) -> Self {
        let marks = search.next();
        if marks.is_empty() {
            return Self::Done(search.found());
        }
        let missing = marks.len();
        for (place, mark) in marks.into_iter().enumerate() {
            runs.push((What::Branch(number, place, mark), search.ways.branch(mark)));
        }
        Self::Trying {
            search,
            found: (0..missing).map(|_| None).collect(),
            missing,
        }
    }

    /// Keeps what was found, in the order in which it was wanted, whichever came in first; and goes on.
    fn tries_next(&mut self, number: usize, runs: &mut Vec<(What, Job<'a>)>) {
        match core::mem::replace(self, Self::First(None)) {
            Self::Trying {
                mut search, found, ..
            } => {
                for run in found.into_iter().flatten() {
                    search.keep(run);
                }
                *self = Self::of(number, search, runs);
            }
            other => *self = other,
        }
    }
}

impl<'a> Source<'a> for Together<'a> {
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
            let mut next = state.waiting.pop_front();
            if let Some((What::Branch(number, ..), _)) = next
                && !matches!(state.stages[number], Stage::Trying { .. })
            {
                continue;
            }
            if next.is_none() && state.begun < self.asked.len() {
                let number = state.begun;
                state.begun += 1;
                if self.is_idle(&state, number) {
                    let run = self.comes_in(&mut state, number, Stage::IDLE);
                    state.waiting.extend(run);
                    continue;
                }
                next = Some((
                    What::First(number),
                    self.asked[number].first(&self.demands[number]),
                ));
            }
            if next.is_some() {
                state.under_way += 1;
                self.count(&state);
                return next;
            }
            if state.under_way == 0 || !idle {
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
    }

    fn abandon(&self) {
        self.state().abandoned = true;
        self.news.notify_all();
    }
}

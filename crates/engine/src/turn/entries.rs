//! The entry that a driver takes: as fast as is asked, or slower, whichever comes best through the bend; and others that do
//! what that driver does.

use std::sync::OnceLock;

use super::best::{Asked, Depth, Run};
use super::integrate::MotionFault;
use super::many::Cores;
use super::run::{Ready, driveable};
use super::technique::Technique;
use super::together::{Asks, More, NOT_LOOKED, runs_and_more};
use super::{BesideIt, Brief, Turn, TurnBench, TurnFault, TurnVerdict};

/// Slower entries that a driver chooses from, over the one that is asked for.
const SLOWER: [f64; 3] = [0.8, 0.65, 0.5];

/// The entry that is taken, and what comes of it.
pub(crate) type AtEntry = Result<(Technique, Brief), TurnFault>;

/// Cars at their entries, and what hangs on the first of them.
#[derive(Debug, Default)]
pub(crate) struct Company<'a> {
    /// Each at its own entry; the turn of the first is looked into.
    pub(crate) cars: Vec<&'a Ready>,
    /// They come in as fast as is asked, and no slower.
    pub(crate) no_slower: bool,
    /// The same, only where one of those before does not come round.
    pub(crate) if_need_be: Vec<&'a Ready>,
    /// They do what the first does at its entry: whether they come round ...
    pub(crate) round: Vec<&'a Ready>,
    /// ... and what they amount to.
    pub(crate) like_it: Vec<&'a Ready>,
    /// What these amount to, each with its own technique.
    pub(crate) others: Vec<&'a Ready>,
}

/// What comes of a [`Company`], in its order.
#[derive(Debug)]
pub(crate) struct CompanyFound {
    pub(crate) turn: Result<Turn, TurnFault>,
    pub(crate) cars: Vec<AtEntry>,
    /// None where there was no need.
    pub(crate) if_need_be: Vec<AtEntry>,
    pub(crate) round: Vec<Result<Brief, TurnFault>>,
    pub(crate) like_it: Vec<Result<Brief, TurnFault>>,
    pub(crate) others: Vec<Result<Brief, TurnFault>>,
}

impl TurnBench {
    /// The technique at the entry speed with which it comes best through its bend: its own, or slower, as a driver who
    /// brakes before the bend would choose. The fastest that comes round is taken.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn at_its_entry(&self, technique: &Technique) -> Result<(Technique, Brief), TurnFault> {
        let ready = Ok((self.clone(), *technique));
        let mut asking = Asking::default();
        let asked = asking.enters(&[&ready], &SLOWER);
        let found = runs_and_more(&asked, &mut asking, Cores::All);
        asking.entered[0].at_entry(&found)
    }
}

impl Company<'_> {
    /// Drives all of it at once: nothing waits but for what it hangs on.
    pub(crate) fn driven(&self) -> CompanyFound {
        let first = self.cars.first().and_then(|ready| driveable(ready).ok());
        let on_the_border = first.map(|(bench, _)| bench.on_the_border());
        let shown = OnceLock::new();
        let mut asking = Asking {
            company: Some(self),
            on_the_border: on_the_border.as_ref(),
            shown: Some(&shown),
            ..Asking::default()
        };
        let mut asked = asking.enters(&self.cars, self.slower());
        let others_from = asking.asks_others(&self.others, &mut asked);
        // As fast as is asked is likely.
        if let Some(first) = asking.entered.first().and_then(|car| car.entries.first()) {
            asking.hangs_on(self, first.number, &mut asked);
        }
        let found = runs_and_more(&asked, &mut asking, Cores::All);
        let mut at_entries: Vec<AtEntry> = asking.entered.iter().map(|car| car.at_entry(&found)).collect();
        let if_need_be = at_entries.split_off(self.cars.len());
        let like = |ready: &[&Ready], from: Option<usize>| {
            let mut number = from.unwrap_or(found.len());
            let briefs = ready.iter().map(|ready| {
                driveable(ready)?;
                let run = found.get(number).map_or(Err(NOT_LOOKED), Clone::clone);
                number += 1;
                Ok(run?.brief())
            });
            briefs.collect::<Vec<_>>()
        };
        CompanyFound {
            turn: asking.turn(&found),
            cars: at_entries,
            if_need_be,
            round: like(&self.round, asking.round_from),
            like_it: like(&self.like_it, asking.like_it_from),
            others: like(&self.others, Some(others_from)),
        }
    }

    const fn slower(&self) -> &'static [f64] {
        if self.no_slower { &[] } else { &SLOWER }
    }
}

/// What is known of a run at an entry: its word, and how good it is.
#[derive(Clone, Copy, Debug)]
struct Word {
    verdict: TurnVerdict,
    rank: u8,
}

/// An entry with the number of its search.
#[derive(Clone, Copy, Debug)]
struct Entry {
    technique: Technique,
    number: usize,
    /// Once it is over: its word, or that there is none or it is not needed.
    known: Option<Option<Word>>,
    /// It will not come round.
    is_not_round: bool,
}

/// A car that takes its entry.
#[derive(Debug)]
struct Entering<'a> {
    bench: Option<&'a TurnBench>,
    /// Fastest first.
    entries: Vec<Entry>,
    /// What keeps it from being driven at all.
    fault: Option<TurnFault>,
}

impl Entering<'_> {
    /// Which of the entries is taken, once that is known: the fastest that comes round, else the fastest of the best; and
    /// its word.
    fn taken(&self) -> Option<(Entry, Option<Word>)> {
        let first = self.entries.first()?;
        let mut taken = (*first, first.known?);
        for entry in &self.entries[1..] {
            let Some(best) = taken.1 else {
                break;
            };
            if best.verdict == TurnVerdict::ComesRound {
                break;
            }
            if let Some(word) = entry.known?
                && word.rank > best.rank
            {
                taken = (*entry, Some(word));
            }
        }
        Some(taken)
    }

    /// Which is likely, while that is not known: of those whose word is known, where one comes round or the fastest is known.
    fn likely(&self) -> Option<(Entry, Word)> {
        let mut known = self
            .entries
            .iter()
            .filter_map(|entry| Some((*entry, entry.known??)));
        let first = known.next()?;
        let (entry, word) = known.fold(first, |taken, (entry, word)| {
            let is_better = taken.1.verdict != TurnVerdict::ComesRound && word.rank > taken.1.rank;
            if is_better { (entry, word) } else { taken }
        });
        let is_likely = word.verdict == TurnVerdict::ComesRound || self.entries[0].known.is_some();
        is_likely.then_some((entry, word))
    }

    /// Whether it comes round, once that is known.
    fn is_round(&self) -> Option<bool> {
        if self.fault.is_some() || self.entries.iter().all(|entry| entry.is_not_round) {
            return Some(false);
        }
        let (_, word) = self.taken()?;
        Some(word.is_some_and(|word| word.verdict.is_round()))
    }

    fn at_entry(&self, found: &[Result<Run, MotionFault>]) -> AtEntry {
        if let Some(fault) = &self.fault {
            return Err(fault.clone());
        }
        let (entry, _) = self.taken().ok_or(NOT_LOOKED)?;
        let run = found.get(entry.number).map_or(Err(NOT_LOOKED), Clone::clone);
        Ok((entry.technique, run?.brief()))
    }
}

/// Who asks for cars at their entries, and for what hangs on the first of them.
#[derive(Default)]
struct Asking<'a> {
    company: Option<&'a Company<'a>>,
    on_the_border: Option<&'a [TurnBench; 2]>,
    entered: Vec<Entering<'a>>,
    /// How many searches have been asked for.
    asked: usize,
    /// Number of the search of the entry that the first takes, so far as that is known.
    taken: Option<usize>,
    /// Number of the search that was asked for its moment last.
    deepened: Option<usize>,
    /// Numbers of the searches that hang on it, and from which on each kind of them is.
    hanging: Vec<usize>,
    border_from: Option<usize>,
    round_from: Option<usize>,
    like_it_from: Option<usize>,
    looked_if_need_be: bool,
    /// Where the turn goes that is shown, as soon as it is known.
    shown: Option<&'a OnceLock<Shown>>,
}

/// A turn as it is shown, with the number of the search that found it.
type Shown = (usize, Result<Turn, MotionFault>);

impl<'a> Asking<'a> {
    /// Asks for cars at their entries, the fastest of all first. What a slower one comes to is not needed where a faster one
    /// is as good as it can be; while that is not known it is looked into, after the faster ones.
    fn enters(&mut self, cars: &[&'a Ready], slower: &[f64]) -> Vec<Asked<'a>> {
        let from = self.entered.len();
        let looks_into = self.company.filter(|_| from == 0);
        self.entered.extend(cars.iter().map(|ready| {
            let driveable = driveable(ready);
            Entering {
                bench: driveable.as_ref().ok().map(|(bench, _)| *bench),
                entries: Vec::with_capacity(1 + slower.len()),
                fault: driveable.err(),
            }
        }));
        let mut asked = Vec::new();
        for share in core::iter::once(&1.0).chain(slower) {
            for (at, (car, ready)) in self.entered[from..].iter_mut().zip(cars).enumerate() {
                let (Some(bench), Ok((_, technique))) = (car.bench, ready) else {
                    continue;
                };
                let entry = technique.entry * *share;
                let technique = Technique { entry, ..*technique };
                // A slower entry that cannot be driven is none.
                if technique.check().is_err() {
                    continue;
                }
                asked.push(Asked {
                    bench,
                    technique,
                    depth: match looks_into {
                        Some(company) if at == 0 && company.no_slower => Depth::Moment,
                        Some(_) if at == 0 => Depth::WordFirst,
                        _ => Depth::Word(None),
                    },
                    unless: car.entries.last().map(|entry| entry.number),
                });
                car.entries.push(Entry {
                    technique,
                    number: self.asked,
                    known: None,
                    is_not_round: false,
                });
                self.asked += 1;
            }
        }
        asked
    }

    /// Asks for others, each with its own technique; the number of the first of them.
    fn asks_others(&mut self, others: &[&'a Ready], asked: &mut Vec<Asked<'a>>) -> usize {
        let from = self.asked;
        for (bench, technique) in others.iter().filter_map(|ready| driveable(ready).ok()) {
            asked.push(Asked {
                bench,
                technique,
                depth: Depth::Moment,
                unless: None,
            });
            self.asked += 1;
        }
        from
    }

    /// Asks for others that do what a technique does; the number of the first of them.
    fn like_it(
        &mut self,
        others: impl Iterator<Item = &'a TurnBench>,
        (technique, depth): (Technique, Depth),
        asked: &mut Vec<Asked<'a>>,
    ) -> Option<usize> {
        let from = self.asked;
        for bench in others {
            asked.push(Asked {
                bench,
                technique,
                depth,
                unless: None,
            });
            self.hanging.push(self.asked);
            self.asked += 1;
        }
        Some(from)
    }

    /// The turn of the first at its entry, with what stands beside it.
    fn turn(&self, found: &[Result<Run, MotionFault>]) -> Result<Turn, TurnFault> {
        let first = self.entered.first().ok_or(NOT_LOOKED)?;
        if let Some(fault) = &first.fault {
            return Err(fault.clone());
        }
        let run = |number: Option<usize>| match number.and_then(|number| found.get(number)) {
            Some(Ok(run)) => Ok(run),
            Some(Err(fault)) => Err(*fault),
            None => Err(NOT_LOOKED),
        };
        let (Some(bench), taken) = (first.bench, run(self.taken)?) else {
            return Err(NOT_LOOKED.into());
        };
        let mut on_the_border = false;
        for at in 0..self.on_the_border.map_or(0, |benches| benches.len()) {
            let other = run(self.border_from.map(|from| from + at))?;
            on_the_border |= other.judged.verdict != taken.judged.verdict;
        }
        Ok(Turn {
            beside: Some(BesideIt {
                best: None,
                on_the_border,
            }),
            ..match self.shown.and_then(OnceLock::get) {
                Some((number, shown)) if Some(*number) == self.taken => shown.clone()?,
                _ => bench.shown(taken)?,
            }
        })
    }

    /// The entry that the first takes, as soon as it is likely; and anew where it turns out to be another.
    fn takes(&mut self, company: &'a Company<'a>, more: &mut More<'a>) {
        let taken = self.entered[0].taken();
        let likely = || {
            let (entry, word) = self.entered[0].likely()?;
            Some((entry, Some(word)))
        };
        let Some((entry, word)) = taken.or_else(likely) else {
            return;
        };
        if self.taken != Some(entry.number) {
            more.unneeded.extend(self.deepened);
            more.unneeded.append(&mut self.hanging);
            self.taken = Some(entry.number);
            // Nothing hangs on what cannot be driven.
            if word.is_some() {
                more.likely = taken.is_none();
                self.hangs_on(company, entry.number, &mut more.asked);
            }
        }
        if word.is_some() && self.deepened != Some(entry.number) {
            more.deeper = Some(entry.number);
            self.deepened = Some(entry.number);
        }
    }

    /// Asks for what hangs on the entry that the first takes.
    fn hangs_on(&mut self, company: &'a Company<'a>, number: usize, asked: &mut Vec<Asked<'a>>) {
        let Some(technique) = self.entry(number).map(|entry| entry.technique) else {
            return;
        };
        self.taken = Some(number);
        if let Some(benches) = self.on_the_border {
            let depth = Depth::Word(Some(number));
            self.border_from = self.like_it(benches.iter(), (technique, depth), asked);
        }
        let like_it = benches(&company.like_it);
        self.like_it_from = self.like_it(like_it, (technique, Depth::Moment), asked);
    }

    fn entry(&mut self, number: usize) -> Option<&mut Entry> {
        let mut entries = self.entered.iter_mut().flat_map(|car| &mut car.entries);
        entries.find(|entry| entry.number == number)
    }

    /// What is needed only where a car does not come round.
    fn looks_if_need_be(&mut self, more: &mut More<'a>) {
        let Some(company) = self.company else { return };
        let cars = &self.entered[..company.cars.len()];
        if !self.looked_if_need_be && cars.iter().any(|car| car.is_round() == Some(false)) {
            self.looked_if_need_be = true;
            more.asked
                .extend(self.enters(&company.if_need_be, company.slower()));
        }
    }
}

/// Those that can be driven.
fn benches<'a>(ready: &'a [&'a Ready]) -> impl Iterator<Item = &'a TurnBench> {
    ready.iter().filter_map(|ready| Some(driveable(ready).ok()?.0))
}

impl<'a> Asks<'a> for Asking<'a> {
    fn learns(&mut self, number: usize, found: &Result<Run, MotionFault>) -> More<'a> {
        let mut more = More::default();
        let (company, deepened) = (self.company, self.deepened == Some(number));
        let Some(entry) = self.entry(number) else {
            return more;
        };
        let technique = entry.technique;
        // What is known stays so, should its moment not be needed after all.
        entry.known.get_or_insert(Word::of(found));
        let Some(company) = company else {
            return more;
        };
        if deepened && self.taken == Some(number) {
            // Its best moment is known: others that do the same are near it.
            let moment = found.as_ref().ok().and_then(Run::released);
            let near = (technique, Depth::Round(moment));
            self.round_from = self.like_it(benches(&company.round), near, &mut more.asked);
            let first = &self.entered[0];
            if let (Some(_), Some(bench), Some(shown), Ok(run)) =
                (first.taken(), first.bench, self.shown, found)
            {
                let run = run.clone();
                more.aside = Some(Box::new(move || {
                    shown.get_or_init(|| (number, bench.shown(&run)));
                }));
            }
            return more;
        }
        self.takes(company, &mut more);
        self.looks_if_need_be(&mut more);
        more
    }

    fn is_not_round(&mut self, number: usize) -> More<'a> {
        let mut more = More::default();
        if let Some(entry) = self.entry(number) {
            entry.is_not_round = true;
            self.looks_if_need_be(&mut more);
        }
        more
    }
}

impl Word {
    fn of(found: &Result<Run, MotionFault>) -> Option<Self> {
        found.as_ref().ok().map(|run| Self {
            verdict: run.judged.verdict,
            rank: run.judged.rank().0,
        })
    }
}

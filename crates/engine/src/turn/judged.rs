//! What comes of a technique: driven, judged by its bend, and told; one of them, or many.

use quantity::si::Duration;

use super::best::{Asked, Depth, Run};
use super::integrate::MotionFault;
use super::many::Cores;
use super::measure::{self, Place};
use super::run::{Driven, headings};
use super::technique::{Release, Technique};
use super::together::runs;
use super::verdict::Judged;
use super::{BesideIt, BestMoment, Brief, Turn, TurnBench, TurnFault, TurnVerdict};
use crate::thresholds::BORDER_GRIP;

/// Slower entries that a driver chooses from, over the one that is asked for.
const SLOWER: [f64; 3] = [0.8, 0.65, 0.5];

/// Time between two points of a trace (s).
const TRACE_S: f64 = 0.02;

impl TurnBench {
    /// What comes of a technique, judged by its bend; where the moment of letting go is to be the best, at that. Beside it
    /// stands whether a little grip changes the word and, where the moment is given, the best one.
    ///
    /// # Errors
    /// Where a number of it cannot be driven, or the motion cannot be followed.
    pub fn turn(&self, technique: &Technique) -> Result<Turn, TurnFault> {
        Ok(self.turn_among(technique, &[])?.0)
    }

    /// The same, with what others amount to that are driven at once with it.
    pub(crate) fn turn_among(
        &self,
        technique: &Technique,
        others: &[Ready],
    ) -> Result<(Turn, Vec<Result<Brief, TurnFault>>), TurnFault> {
        technique.check()?;
        let on_other_grip = [-BORDER_GRIP, BORDER_GRIP].map(|by| self.on_other_grip(by));
        let mut asked = vec![self.asked(technique)];
        asked.extend(on_other_grip.iter().map(|bench| Asked {
            depth: Depth::Word,
            ..bench.asked(technique)
        }));
        let is_given = technique.release != Release::Best;
        if is_given {
            asked.push(self.asked(&technique.at_best()));
        }
        asked.extend(
            others
                .iter()
                .filter_map(|other| driveable(other).ok())
                .map(|(bench, technique)| bench.asked(&technique)),
        );
        let mut found = runs(&asked, Cores::All).into_iter();
        let mut next = || found.next().unwrap_or(Err(MotionFault { at_s: 0.0 }));
        let run = next()?;
        let mut on_the_border = false;
        for _ in &on_other_grip {
            on_the_border |= next()?.judged.verdict != run.judged.verdict;
        }
        let best = if is_given { Some(next()?) } else { None };
        let best = best.and_then(|best| {
            Some(BestMoment {
                released: Duration::from_s(best.tally.released_s?),
                verdict: best.judged.verdict,
            })
        });
        let turn = Turn {
            beside: Some(BesideIt { best, on_the_border }),
            ..self.shown(&run)?
        };
        let others = others.iter().map(|other| {
            driveable(other)?;
            Ok(next()?.brief())
        });
        Ok((turn, others.collect()))
    }

    /// The same without what stands beside it.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn turn_alone(&self, technique: &Technique) -> Result<Turn, TurnFault> {
        technique.check()?;
        let mut found = runs(&[self.asked(technique)], Cores::All);
        let run = found.pop().unwrap_or(Err(MotionFault { at_s: 0.0 }))?;
        Ok(self.shown(&run)?)
    }

    const fn asked(&self, technique: &Technique) -> Asked<'_> {
        Asked {
            bench: self,
            technique: *technique,
            depth: Depth::Moment,
            unless: None,
        }
    }

    /// A run that was judged, with its trace.
    fn shown(&self, run: &Run) -> Result<Turn, MotionFault> {
        let driven = self.driven(&run.technique)?;
        let without = self.without_lever(&run.technique, &driven)?;
        Ok(self.told(run, &driven, &without))
    }

    /// The technique at the entry speed with which it comes best through its bend: its own, or slower, as a driver who
    /// brakes before the bend would choose. The fastest that comes round is taken.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn at_its_entry(&self, technique: &Technique) -> Result<(Technique, Brief), TurnFault> {
        let mut found = at_their_entries(&[Ok((self.clone(), *technique))]);
        found.pop().unwrap_or(Err(MotionFault { at_s: 0.0 }.into()))
    }

    /// The same without the hand, everything else at the same moments and for as long.
    fn without_lever(&self, technique: &Technique, driven: &Driven) -> Result<Driven, MotionFault> {
        let last_s = driven.path.last().map_or(0.0, |node| node.time_s);
        let alone = Technique {
            // Short of what is followed until the car is out of its bend.
            until: Duration::from_s(last_s.clamp(1e-3, 0.999 * Technique::LONGEST.s())),
            ..technique.with_lever_left_alone(driven.released_s)
        };
        self.driven(&alone)
    }

    fn told(&self, run: &Run, driven: &Driven, without: &Driven) -> Turn {
        let (path, released_s) = (&driven.path, driven.released_s);
        let technique = &run.technique;
        let way: Vec<Place> = path
            .iter()
            .map(|node| Place::of(node.time_s, &node.state))
            .collect();
        let over_s = technique.ends_at(&run.judged.through).unwrap_or(f64::INFINITY);
        let heading = headings(path, released_s, over_s);
        let without_lever = headings(&without.path, released_s, over_s);
        let locking = measure::locking(self.vehicle(), path, self.front_keeps());
        let trace = measure::trace(path, Duration::from_s(TRACE_S), over_s);
        let first_doing_s = technique
            .foot
            .map_or(f64::INFINITY, |foot| foot.at.s())
            .min(technique.steer_at.s())
            .min(technique.lever_at.s());
        Turn {
            technique: *technique,
            released: released_s.map(Duration::from_s),
            verdict: run.judged.verdict,
            judged: Judged {
                through: run.judged.through.begun(
                    &way,
                    &[0, 1, 2, 3].map(|wheel| self.vehicle().place(wheel)),
                    technique.side(),
                    &technique.bend,
                ),
                ..run.judged
            },
            nose_in: run.nose_in,
            beside: None,
            front_keeps: self.front_keeps(),
            locking,
            heading,
            without_lever,
            yaw_rate_peak: measure::yaw_rate_peak(path),
            speed_at_release: released_s
                .and_then(|time_s| measure::at(path, time_s))
                .map(|state| measure::speed(&state)),
            speed_end: measure::at(path, over_s).map_or(technique.entry, |state| measure::speed(&state)),
            room: measure::room(self.vehicle(), path, first_doing_s),
            tracks: measure::tracks(self.vehicle(), &trace),
            trace,
        }
    }

    /// What a technique amounts to, without its trace.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn brief_of(&self, technique: &Technique) -> Result<Brief, TurnFault> {
        let mut found = briefs_of_each(&[Ok((self.clone(), *technique))], Depth::Moment);
        found.pop().unwrap_or(Err(MotionFault { at_s: 0.0 }.into()))
    }
}

/// A car made ready and what its driver does, or what keeps it from being either.
pub(crate) type Ready = Result<(TurnBench, Technique), TurnFault>;

fn driveable(ready: &Ready) -> Result<(&TurnBench, Technique), TurnFault> {
    let (bench, technique) = ready.as_ref().map_err(Clone::clone)?;
    technique.check()?;
    Ok((bench, *technique))
}

/// What each of many techniques amounts to, each in a car of its own.
pub(crate) fn briefs_of_each(ready: &[Ready], depth: Depth) -> Vec<Result<Brief, TurnFault>> {
    briefs(ready.iter().map(|ready| (ready, depth)))
}

/// The same, each looked into as deeply as it says.
pub(crate) fn briefs<'r>(
    ready: impl Iterator<Item = (&'r Ready, Depth)> + Clone,
) -> Vec<Result<Brief, TurnFault>> {
    let asked: Vec<Asked<'_>> = ready
        .clone()
        .filter_map(|(ready, depth)| {
            let (bench, technique) = driveable(ready).ok()?;
            Some(Asked {
                bench,
                technique,
                depth,
                unless: None,
            })
        })
        .collect();
    let mut found = runs(&asked, Cores::All).into_iter();
    ready
        .map(|(ready, _)| {
            driveable(ready)?;
            Ok(found.next().unwrap_or(Err(MotionFault { at_s: 0.0 }))?.brief())
        })
        .collect()
}

impl Turn {
    /// How deeply its neighbours are looked into for whether they come round: the moment that was the best here is tried
    /// first.
    pub(crate) const fn near(&self) -> Depth {
        Depth::Round(self.released)
    }
}

/// [`TurnBench::at_its_entry`] of each. What a slower entry comes to is not needed where a faster one has brought the car
/// round; while that is not known it is looked into, after the faster ones.
pub(crate) fn at_their_entries(ready: &[Ready]) -> Vec<Result<(Technique, Brief), TurnFault>> {
    let mut found: Vec<Result<(Technique, Brief), TurnFault>> = Vec::with_capacity(ready.len());
    let mut asked: Vec<Asked<'_>> = Vec::new();
    let mut of: Vec<usize> = Vec::new();
    for share in core::iter::once(1.0).chain(SLOWER) {
        for (number, ready) in ready.iter().enumerate() {
            let driveable = driveable(ready).and_then(|(bench, technique)| {
                let entry = technique.entry * share;
                let technique = Technique { entry, ..technique };
                // A slower entry that cannot be driven is none.
                technique.check()?;
                Ok((bench, technique))
            });
            match driveable {
                Ok((bench, technique)) => {
                    asked.push(Asked {
                        bench,
                        technique,
                        depth: Depth::Word,
                        unless: of.iter().rposition(|&of| of == number),
                    });
                    of.push(number);
                    if found.len() == number {
                        found.push(Err(MotionFault { at_s: 0.0 }.into()));
                    }
                }
                Err(fault) if found.len() == number => found.push(Err(fault)),
                Err(_) => {}
            }
        }
    }
    let mut known = vec![false; ready.len()];
    for ((asked, number), run) in asked.iter().zip(&of).zip(runs(&asked, Cores::All)) {
        let brief = run.map(|run| run.brief());
        let better = match (&found[*number], &brief) {
            _ if !known[*number] => true,
            (Ok((_, before)), Ok(brief)) => {
                before.verdict != TurnVerdict::ComesRound && brief.judged.rank().0 > before.judged.rank().0
            }
            _ => false,
        };
        known[*number] = true;
        if better {
            found[*number] = brief
                .map(|brief| (asked.technique, brief))
                .map_err(TurnFault::from);
        }
    }
    found
}

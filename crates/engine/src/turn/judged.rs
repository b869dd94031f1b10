//! What comes of a technique: driven, judged by its bend, and told; one of them, or many.

use quantity::si::Duration;

use super::best::{Asked, Depth, Run};
use super::entries::{Company, CompanyFound};
use super::integrate::MotionFault;
use super::many::Cores;
use super::measure;
use super::run::{Driven, Ready, driveable, headings};
use super::technique::{Release, Technique};
use super::together::{NOT_LOOKED, runs};
use super::verdict::Judged;
use super::{BesideIt, BestMoment, Brief, Turn, TurnBench, TurnFault};
use crate::thresholds::BORDER_GRIP;
use crate::wanted::both;

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
        let ready = Ok((self.clone(), *technique));
        let at_best: Option<Ready> =
            (technique.release != Release::Best).then(|| Ok((self.clone(), technique.at_best())));
        let company = Company {
            cars: vec![&ready],
            no_slower: true,
            others: at_best.iter().chain(others).collect(),
            ..Company::default()
        };
        let CompanyFound { turn, others, .. } = company.driven();
        let (mut turn, mut others) = (turn?, others.into_iter());
        if at_best.is_some() {
            let best = others.next().unwrap_or_else(|| Err(NOT_LOOKED.into()))?;
            let best = best.released.map(|released| BestMoment {
                released,
                verdict: best.verdict,
            });
            turn.beside = turn.beside.map(|beside| BesideIt { best, ..beside });
        }
        Ok((turn, others.collect()))
    }

    /// The same car on a little less grip, and on a little more: where either changes the word, it is on the border.
    pub(super) fn on_the_border(&self) -> [Self; 2] {
        [-BORDER_GRIP, BORDER_GRIP].map(|by| self.on_other_grip(by))
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
    pub(super) fn shown(&self, run: &Run) -> Result<Turn, MotionFault> {
        let (driven, without) = both(|| self.driven(&run.technique), || self.without_lever(run));
        Ok(self.told(run, &driven?, &without?))
    }

    /// The same without the hand, everything else at the same moments and for as long.
    fn without_lever(&self, run: &Run) -> Result<Driven, MotionFault> {
        let alone = Technique {
            // Short of what is followed until the car is out of its bend.
            until: Duration::from_s(run.last_s.clamp(1e-3, 0.999 * Technique::LONGEST.s())),
            ..run.technique.with_lever_left_alone(run.tally.released_s)
        };
        self.driven(&alone)
    }

    fn told(&self, run: &Run, driven: &Driven, without: &Driven) -> Turn {
        let (path, released_s) = (&driven.path, driven.released_s);
        let technique = &run.technique;
        let way = measure::way(path);
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

/// What each of many techniques amounts to, each in a car of its own.
pub(crate) fn briefs_of_each(ready: &[Ready], depth: Depth) -> Vec<Result<Brief, TurnFault>> {
    let driveable_ones = ready.iter().filter_map(|ready| driveable(ready).ok());
    let asked: Vec<Asked<'_>> = driveable_ones
        .map(|(bench, technique)| Asked {
            bench,
            technique,
            depth,
            unless: None,
        })
        .collect();
    let mut found = runs(&asked, Cores::All).into_iter();
    ready
        .iter()
        .map(|ready| {
            driveable(ready)?;
            Ok(found.next().unwrap_or(Err(NOT_LOOKED))?.brief())
        })
        .collect()
}

//! A run on its way in a lane: its car, time, step and events, and what it comes to so far.

use super::TurnBench;
use super::contact::SurfaceGrip;
use super::demand::Demand;
use super::following::{Following, longest_s};
use super::integrate::{Bracket, Cubic, MotionFault, SHORTEST_S};
use super::measure::{self, Mark, Place, SoFar, StepAdds, Tally};
use super::motion::State;
use super::script::Segment;
use super::technique::Technique;
use super::vehicle::Stretch;

/// Less than this left at a step's start is nothing: a lane's looks and those for itself alone differ in their last digits.
const BRINK: f64 = 1e-9;

/// A run on its way.
pub(super) struct Lane<'a, T> {
    pub(super) ticket: T,
    pub(super) bench: &'a TurnBench,
    pub(super) technique: Technique,
    pub(super) stretch: Stretch<'a, SurfaceGrip>,
    /// What is asked of the brakes, where the lever is let go at a heading.
    pub(super) demand: Option<Demand>,
    pub(super) segments: Vec<Segment>,
    pub(super) segment: usize,
    pub(super) brinks: usize,
    pub(super) tolerance: f64,
    /// Heading at which the lever is let go (rad).
    pub(super) until_rad: f64,
    pub(super) time_s: f64,
    /// The next step: as long as the error allows, as long as it is wanted, and as it is.
    pub(super) step_s: f64,
    pub(super) wanted_s: f64,
    pub(super) length_s: f64,
    pub(super) steps: u32,
    /// What is left at the step's start before something happens.
    pub(super) left: f64,
    pub(super) locating: Option<Bracket>,
    /// The shortest step that went beyond the event: length, end, rates there.
    pub(super) beyond: (f64, State, State),
    /// One small step over a brink that was stood on from the start.
    pub(super) crumb: bool,
    /// How far both rear wheels are within the bounds of locked ones.
    pub(super) rear: f64,
    pub(super) ratio: f64,
    pub(super) pulled_s: f64,
    pub(super) following: Option<Following>,
    /// It need not be followed any longer.
    pub(super) over: bool,
    pub(super) marks: bool,
    pub(super) tally: Tally,
}

/// What a lane does after a try.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Then {
    /// The step is taken as it is.
    Taken,
    /// The step is taken, and something has happened.
    Happened,
    /// Another length is tried.
    Again,
}

impl<T> Lane<'_, T> {
    /// Plans the next step.
    pub(super) fn plan(&mut self) {
        let wanted = self.step_s.min(longest_s(self.left));
        let left = self.stretch.segment.to_s - self.time_s;
        self.wanted_s = wanted;
        // No crumb is left for a last step.
        self.length_s = if wanted >= left {
            left
        } else if wanted > 0.5 * left {
            0.5 * left
        } else {
            wanted
        };
    }

    /// What comes of a try: its error over the tolerance, and what is left at its end.
    pub(super) fn judge(&mut self, error: f64, left: f64) -> Result<Then, MotionFault> {
        if self.crumb {
            return Ok(if left < 0.0 { Then::Happened } else { Then::Taken });
        }
        if let Some(mut bracket) = self.locating {
            bracket.narrow(self.length_s, left);
            self.locating = Some(bracket);
            return Ok(match bracket.next() {
                Some(length_s) => {
                    self.length_s = length_s;
                    Then::Again
                }
                None => Then::Happened,
            });
        }
        let factor = (0.85 * per_cube_root(error)).clamp(0.2, 3.0);
        if error <= 1.0 {
            if self.length_s >= self.wanted_s || factor < 1.0 {
                self.step_s = self.length_s * factor;
            }
            if left >= 0.0 {
                return Ok(Then::Taken);
            }
            if self.left > BRINK {
                let bracket = Bracket::new(self.length_s, self.left, left);
                self.length_s = bracket.next().unwrap_or(self.length_s);
                self.locating = Some(bracket);
            } else {
                // At the brink from the start on.
                self.length_s = self.length_s.min(1e-6);
                self.crumb = true;
            }
            return Ok(Then::Again);
        }
        let factor = if factor.is_finite() { factor.min(0.7) } else { 0.2 };
        self.step_s = self.length_s * factor;
        if self.step_s < SHORTEST_S {
            return Err(MotionFault { at_s: self.time_s });
        }
        self.plan();
        Ok(Then::Again)
    }

    /// A step has been taken that ends so much later.
    pub(super) fn moves_on(&mut self, length_s: f64) {
        let to_s = self.stretch.segment.to_s;
        self.time_s = if length_s >= to_s - self.time_s {
            to_s
        } else {
            self.time_s + length_s
        };
        self.steps += 1;
        self.locating = None;
        self.crumb = false;
    }

    /// How long both rear wheels stood in a step.
    pub(super) fn stood(&mut self, stood_s: f64, rear: f64) {
        self.tally.rear_for_s += stood_s;
        self.rear = rear;
    }

    /// Keeps moments within the next step, given whether the rear is braked, how far both rear wheels are within the bounds of
    /// locked ones at its end, and what it adds to the ratio; the place at its end.
    pub(super) fn marks_within(
        &mut self,
        step: &Cubic<'_>,
        (braked, rear): (bool, f64),
        ratio: (f64, f64),
    ) -> Place {
        let so_far = SoFar {
            rear_for_s: self.tally.rear_for_s,
            ratio: (self.ratio, self.pulled_s),
        };
        let adds = StepAdds {
            rear: braked.then_some((self.rear, rear)),
            ratio,
        };
        let (within, end) = measure::marks_within(&self.stretch.body, self.time_s, step, so_far, adds);
        for (mark, place) in within {
            self.tally.way.push(place);
            self.tally.marks.push(mark);
        }
        end
    }

    /// Looks at a step's end: it is kept, and may be the run's.
    pub(super) fn watched(&mut self, state: &State, place: Place) {
        self.tally.way.push(Place {
            time_s: self.time_s,
            ..place
        });
        if self.marks {
            self.tally.marks.push(Mark {
                time_s: self.time_s,
                state: *state,
                rear_for_s: self.tally.rear_for_s,
                ratio: (self.ratio, self.pulled_s),
            });
        }
        self.over = self
            .following
            .as_mut()
            .is_some_and(|following| following.ends(self.time_s, state));
    }

    pub(super) fn ends(&mut self, end_rad: f64) -> Tally {
        self.tally.end_rad = end_rad;
        if self.tally.released_s.is_some() {
            self.tally.at_release_rad.get_or_insert(end_rad);
        }
        self.tally.ratio = (self.ratio, self.pulled_s);
        self.tally.front_speed_ratio = (self.pulled_s > 0.0).then(|| self.ratio / self.pulled_s);
        core::mem::take(&mut self.tally)
    }
}

/// One over the cube root, closely: by its bits, and twice by tangents.
fn per_cube_root(figure: f64) -> f64 {
    let figure = figure.max(1e-9);
    let mut root = f64::from_bits(0x553e_f0ff_289d_d796 - figure.to_bits() / 3);
    for _ in 0..2 {
        root *= (4.0 - figure * root * root * root) / 3.0;
    }
    root
}

//! What changes of a car gain in its turn, and what each asks of the hand.

use core::cmp::Ordering;

use quantity::si::{Angle, Force, Length};

use crate::car::Car;
use crate::conditions::Conditions;
use crate::coupling::deciding;
use crate::lever::LeverBench;
use crate::loads::Laden;
use crate::turn::{Brief, Depth, Ready, Technique, TurnBench, TurnFault, briefs_of_each};

/// What a car comes to in a turn, let go at its own best moment, and what its lever takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnStanding {
    /// What the turn amounts to.
    pub brief: Brief,
    /// Force of the hand that stops the rear wheels; `None` where a limiting valve caps the pressure.
    pub hand: Option<Force>,
    /// Travel of the grip at that; `None` with a cable, or where the pressure is capped.
    pub travel: Option<Length>,
    /// Whether that is more than stroke and room allow.
    pub runs_out: bool,
}

impl TurnStanding {
    /// By how much further into the bend the lever makes the car look than it does in another; `None` where one of them is
    /// never let go under way.
    #[must_use]
    pub fn gains_on(&self, other: &Self) -> Option<Angle> {
        Some(self.brief.judged.lever_gave? - other.brief.judged.lever_gave?)
    }

    /// Whether a pull that was enough for another, or nearer to it, is no longer: it does not stop the rear wheels, or there is
    /// no travel left for it.
    #[must_use]
    pub fn falls_short_of(&self, other: &Self, pull: Force) -> bool {
        let asks = |stands: &Self| stands.hand.map_or(f64::INFINITY, Force::n);
        let (now, before) = (asks(self), asks(other));
        // Where a valve caps both there is nothing to compare.
        (now > pull.n() && now > before) || (self.runs_out && !other.runs_out)
    }

    /// Which of two does more for the turn: by the word, then by what the lever gives.
    #[must_use]
    pub fn order(&self, other: &Self) -> Ordering {
        let gave = |stands: &Self| {
            stands
                .brief
                .judged
                .lever_gave
                .map_or(f64::NEG_INFINITY, Angle::rad)
        };
        let word = |stands: &Self| stands.brief.judged.rank().0;
        word(self)
            .cmp(&word(other))
            .then(gave(self).total_cmp(&gave(other)))
    }
}

/// One technique in each of some cars, the level road, surface and load of the conditions; each car's centre read in the way
/// that leaves its lever least.
///
/// # Errors
/// Of each: no lever, a surface that it does not know, a motion that cannot be followed.
#[must_use]
pub fn stand(
    cars: &[&Car],
    conditions: &Conditions,
    technique: &Technique,
) -> Vec<Result<TurnStanding, TurnFault>> {
    let technique = technique.at_best();
    let ready: Vec<Ready> = cars
        .iter()
        .map(|car| {
            let surface = conditions.surface_of(car).ok_or(TurnFault::NoSurface)?;
            let laden = Laden::of(car, conditions.aboard);
            let usual = Conditions {
                speed: Technique::on(&surface, car).entry,
                ..conditions.clone()
            };
            let pull = usual.pull_at(car, surface.peak);
            let reading = deciding(car, &laden, pull, conditions.warmth);
            let bench = TurnBench::of(car, &laden, &surface, reading)?;
            Ok((bench, technique))
        })
        .collect();
    briefs_of_each(&ready, Depth::Moment)
        .into_iter()
        .zip(cars)
        .map(|(brief, car)| {
            let brief = brief?;
            let laden = Laden::of(car, conditions.aboard);
            let grip = conditions.grip_of(car).ok_or(TurnFault::NoSurface)?;
            let lever = LeverBench::of(car, conditions.warmth).ok_or(TurnFault::NoLever)?;
            let to_lock = lever.answer(&laden, conditions.pull_at(car, grip)).to_lock;
            Ok(TurnStanding {
                brief,
                hand: to_lock.hand,
                travel: to_lock.travel,
                runs_out: to_lock.enough_travel == Some(false),
            })
        })
        .collect()
}

//! What a turn is called.
//!
//! The borders are judgement, found by running the demonstration cars over every surface; no standard knows them. They
//! look at the moment when the lever is let go, since what the driver does afterwards is no longer the lever's.

use quantity::si::Angle;

use super::measure::Locking;
use super::technique::{Release, Technique};
use super::{Headings, Verdict};
use crate::car::Surface;

/// From this heading on a car has come round: it looks out of the bend, and steering and throttle do the rest.
pub const ROUND_AT: Angle = Angle::from_rad(60.0 / 180.0 * core::f64::consts::PI);

/// Beyond this heading, with the lever still pulled and no more asked for, a car spins: it can no longer be driven out
/// forward.
pub const SPUN_AT: Angle = Angle::from_rad(120.0 / 180.0 * core::f64::consts::PI);

/// At least so much of the heading has to be the lever's doing; the rest is the steering's.
pub const LEVERS_SHARE: f64 = 1.0 / 3.0;

/// At least so much where the front wheels are dragged past their peak: a car that turns by the lever all the same comes
/// round, one that turns by its steering cannot count on it any longer. With this share the border lies where a
/// coupling carries some 0.4 to 0.5 of what the front wheels can give, on tarmac and on gravel.
pub const SHARE_WHEN_DRAGGED: f64 = 0.5;

/// A front wheel dragged below this share of its own speed is past the slip at which the surface gives most: what
/// it gives points backward and no longer to the side. `1/(1 + slip at peak)`, from the definition of slip.
#[must_use]
pub fn front_keeps(surface: &Surface) -> f64 {
    1.0 / (1.0 + surface.slip_at_peak.max(0.0))
}

impl Verdict {
    /// Name in machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::ComesRound => "comes-round",
            Self::RotatesLittle => "rotates-little",
            Self::Ploughs => "ploughs",
            Self::Spins => "spins",
        }
    }

    pub(super) fn of(
        technique: &Technique,
        with: &Headings,
        without: &Headings,
        locking: &Locking,
        front_keeps: f64,
    ) -> Self {
        let to_its_side = |headings: &Headings| {
            let heading = headings.at_release.unwrap_or(headings.end).rad();
            if technique.steer.rad() < 0.0 {
                -heading
            } else {
                heading
            }
        };
        let (turned, steered) = (to_its_side(with), to_its_side(without));
        let (round_at, spun_at) = match technique.release {
            Release::Heading(asked) => (
                ROUND_AT.min(asked * 0.999),
                // A hundredth of a degree for the step that finds the moment.
                SPUN_AT.max(asked + Angle::from_rad(2e-4)),
            ),
            Release::At(_) | Release::Never => (ROUND_AT, SPUN_AT),
        };
        if turned.abs() > spun_at.rad() {
            return Self::Spins;
        }
        let dragged = locking.front_speed_ratio.is_some_and(|ratio| ratio < front_keeps);
        let share = if dragged { SHARE_WHEN_DRAGGED } else { LEVERS_SHARE };
        if turned >= round_at.rad() && turned - steered >= share * turned {
            return Self::ComesRound;
        }
        if dragged {
            Self::Ploughs
        } else {
            Self::RotatesLittle
        }
    }
}

//! What a turn is called.
//!
//! The borders are judgement, found by running the demonstration cars over every surface; no standard knows them. They
//! look at the moment when the lever is let go, since what the driver does afterwards is no longer the lever's.

use crate::thresholds::{LEVERS_SHARE, ROUND_AT, SHARE_WHEN_DRAGGED, SPUN_AT};
use quantity::si::Angle;

use super::technique::{Release, Technique};
use super::{Headings, TurnVerdict};
use crate::car::Surface;

/// A front wheel dragged below this share of its own speed is past the slip at which the surface gives most: what
/// it gives points backward and no longer to the side. `1/(1 + slip at peak)`, from the definition of slip.
#[must_use]
pub fn front_keeps(surface: &Surface) -> f64 {
    1.0 / (1.0 + surface.slip_at_peak.max(0.0))
}

impl TurnVerdict {
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

    pub(super) fn judged(
        technique: &Technique,
        with: &Headings,
        without: &Headings,
        front_speed_ratio: Option<f64>,
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
        let dragged = front_speed_ratio.is_some_and(|ratio| ratio < front_keeps);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::turn::{After, Clutch};
    use quantity::si::{Duration, Force, Speed};

    fn technique(release: Release, steer_rad: f64) -> Technique {
        let second = Duration::from_s(1.0);
        Technique {
            entry: Speed::from_m_s(14.0),
            steer: Angle::from_rad(steer_rad),
            steer_at: second,
            steer_in: second,
            hand: Force::from_n(200.0),
            lever_at: second,
            lever_rise: second,
            clutch: Clutch::Up,
            release,
            after: After::Hold,
            lock: Angle::from_rad(0.6),
            throttle: None,
            foot: None,
            until: second,
        }
    }

    /// What a heading with the lever and one without it are called, in degrees; the front at a share of its own speed.
    fn called(technique: &Technique, with_deg: f64, without_deg: f64, front: f64) -> TurnVerdict {
        let at = |deg: f64| Headings {
            at_release: Some(Angle::from_rad(deg.to_radians())),
            // What comes after the lever is let go is not the lever's, and says nothing.
            end: Angle::from_rad(3.0),
        };
        TurnVerdict::judged(technique, &at(with_deg), &at(without_deg), Some(front), 0.8)
    }

    #[test]
    fn each_border_lies_where_it_is_said_to() {
        let usual = technique(Release::Never, 0.25);
        for (with, without, front, wanted) in [
            // 60°: come round from there on.
            (59.9, 0.0, 1.0, TurnVerdict::RotatesLittle),
            (60.1, 0.0, 1.0, TurnVerdict::ComesRound),
            // 120°: beyond it, spun, whichever way and whatever the front does.
            (119.9, 0.0, 1.0, TurnVerdict::ComesRound),
            (120.1, 0.0, 1.0, TurnVerdict::Spins),
            (-120.1, 0.0, 1.0, TurnVerdict::Spins),
            (120.1, 0.0, 0.1, TurnVerdict::Spins),
            // A third of 90° is 30°: with 60.1° steered the lever adds less, with 59.9° more.
            (90.0, 60.1, 1.0, TurnVerdict::RotatesLittle),
            (90.0, 59.9, 1.0, TurnVerdict::ComesRound),
            // Just rolling enough to steer, and not.
            (90.0, 59.9, 0.801, TurnVerdict::ComesRound),
            (90.0, 59.9, 0.799, TurnVerdict::Ploughs),
            // Dragged, the lever has to add half of 90°.
            (90.0, 45.1, 0.799, TurnVerdict::Ploughs),
            (90.0, 44.9, 0.799, TurnVerdict::ComesRound),
            (50.0, 0.0, 0.799, TurnVerdict::Ploughs),
            // The wrong way is not round.
            (-90.0, 0.0, 1.0, TurnVerdict::RotatesLittle),
        ] {
            let found = called(&usual, with, without, front);
            assert_eq!(found, wanted, "{with}° with, {without}° without, front {front}");
        }
    }

    #[test]
    fn a_turn_to_the_right_is_called_as_its_mirror_image() {
        let (left, right) = (technique(Release::Never, 0.25), technique(Release::Never, -0.25));
        for deg in [-130.0, -70.0, 30.0, 59.0, 61.0, 100.0, 125.0] {
            assert_eq!(
                called(&left, deg, 20.0, 1.0),
                called(&right, -deg, -20.0, 1.0),
                "{deg}"
            );
        }
    }

    #[test]
    fn whoever_asks_for_a_heading_is_held_to_that() {
        let asked = |deg: f64| technique(Release::Heading(Angle::from_rad(deg.to_radians())), 0.25);
        assert_eq!(called(&asked(45.0), 45.0, 0.0, 1.0), TurnVerdict::ComesRound);
        assert_eq!(called(&asked(150.0), 150.0, 0.0, 1.0), TurnVerdict::ComesRound);
        assert_eq!(called(&asked(150.0), 151.0, 0.0, 1.0), TurnVerdict::Spins);
    }
}

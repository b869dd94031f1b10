//! A car with what was said of it.

use charts::Look;
use engine::Conditions;
use engine::ranges::Sampling;
use quantity::si::Force;
use wording::{Precision, Units};

use super::{FOOT, HAND, Said};
use crate::opened::Opened;

/// A car in a state, and how it is asked.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    /// The car in its state.
    pub opened: &'a Opened,
    /// What was said beside that.
    pub said: &'a Said,
    /// How often tolerances are drawn.
    pub sampling: Sampling,
    /// The units that the person reads in.
    pub units: Units,
    /// Whether only what moves with a handle is wanted, at once.
    pub brief: bool,
}

impl Case<'_> {
    /// The operating point: the car's state, with the speed, the air, the foot and the driver's pull that were said beside it.
    #[must_use]
    pub fn conditions(&self) -> Conditions {
        Conditions {
            ambient: self.said.ambient(),
            speed: self.said.speed(),
            foot: self.said.force(&FOOT).unwrap_or(Force::ZERO),
            hand: self.said.force(&HAND),
            ..self.opened.state.conditions.clone()
        }
    }

    /// How far the figures are rounded that every answer begins with. The same few draws decide it for the whole answer,
    /// for the index, and while a handle moves, so that no digit comes or goes because there was no time to draw. Where a
    /// person asks for no draws, nothing is known of ranges.
    #[must_use]
    pub fn precision(&self) -> Precision {
        if self.sampling.draws == 0 && !self.brief {
            Precision::default()
        } else {
            self.opened.precision(self.said.speed())
        }
    }

    /// What a picture is told, with these digits.
    #[must_use]
    pub fn look<'l>(&self, look: &Look<'l>) -> Look<'l> {
        Look {
            precision: self.precision(),
            ..*look
        }
    }
}

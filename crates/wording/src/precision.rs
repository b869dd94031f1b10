//! How far the figures are known that every answer begins with: the one reason for their digits.

use engine::headline::{HeadlineFigures, Headlines};
use engine::ranges::{Range, Sampling};
use quantity::Unit;
use quantity::si::{Force, Length, Pressure};

use crate::measured::Measured;
use crate::units::Units;
use crate::words::pull_in;

/// The ranges that decide how far the figures of a lever and of the first lock are rounded. A figure keeps these digits
/// wherever it stands: sentence, picture, index, list of cars.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Precision {
    /// Of the pull that stops the rear.
    pub hand: Option<Range>,
    /// Of the travel of the grip that stops the rear.
    pub travel: Option<Range>,
    /// Of the pressure at the rear brakes that stops the rear.
    pub pressure: Option<Range>,
    /// Of the foot at first lock.
    pub foot: Option<Range>,
}

impl Precision {
    /// What decides the digits is always drawn alike, few times and from the usual seed, whatever an answer's own draws
    /// are: so the digits are the same where there is no time to draw, and change with the car alone.
    pub const DRAWN: Sampling = Sampling { draws: 64, seed: 1 };

    /// Of figures that were drawn by [`Precision::DRAWN`]; without draws nothing is known of ranges.
    #[must_use]
    pub fn of(headlines: &Headlines) -> Self {
        let range = |figure: fn(&HeadlineFigures) -> Option<f64>| headlines.range(figure);
        Self {
            hand: range(|drawn| drawn.hand.map(Force::n)),
            travel: range(|drawn| drawn.travel.map(Length::m)),
            pressure: range(|drawn| drawn.pressure.map(Pressure::pa)),
            foot: range(|drawn| drawn.foot.map(Force::n)),
        }
    }

    /// A pull that stops the rear, warm or cold, with what a luggage scale says beside it.
    #[must_use]
    pub fn pull(&self, hand: Force, units: &Units) -> String {
        pull_in(hand, self.hand, units)
    }

    /// The same without the scale.
    #[must_use]
    pub fn hand(&self, hand: Force, units: &Units) -> String {
        known(hand.n(), self.hand, units.force)
    }

    /// A travel of the grip that stops the rear.
    #[must_use]
    pub fn travel(&self, travel: Length, units: &Units) -> String {
        known(travel.m(), self.travel, units.length)
    }

    /// A pressure at the rear brakes that stops the rear.
    #[must_use]
    pub fn pressure(&self, pressure: Pressure, units: &Units) -> String {
        known(pressure.pa(), self.pressure, units.pressure)
    }

    /// A foot at first lock.
    #[must_use]
    pub fn foot(&self, foot: Force, units: &Units) -> String {
        known(foot.n(), self.foot, units.force)
    }
}

fn known(si: f64, range: Option<Range>, unit: Unit) -> String {
    Measured::new(si, range, unit).value.text
}

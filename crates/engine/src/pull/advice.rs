//! What to do about a pull that was taken apart, said only where the fit supports it.

use crate::thresholds::{AIR_WORTH_BLEEDING, OVER_SHEET};
use quantity::si::{Length, Pressure};

use super::{Apart, PullPart};
use crate::car::{Brake, Car, LeverKind};

/// Pressures that a next reading is tried at: marks of a workshop gauge.
pub(super) const CANDIDATES_BAR: [f64; 12] =
    [1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 64.0];

/// The reading that would tell most if it were taken next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextReading {
    /// Where on the gauge.
    pub pressure: Pressure,
    /// Where the grip will be about then.
    pub travel: Length,
    /// Standard error of the least certain of the three now, as grip travel at the highest pressure.
    pub worst_now: Length,
    /// And with that reading.
    pub worst_then: Length,
}

/// What to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advice {
    /// Air, beyond doubt: bleed again.
    BleedAgain,
    /// More clearance than the sheet has: discs or bearings that knock the pads back, or shoes that want adjusting.
    TakeUpClearance,
    /// More flex than the sheet has: hoses, brackets, pads.
    LookForFlex,
    /// The readings do not tell the three apart: take the next reading that is named.
    ReadMore,
    /// The readings scatter more than gauge and tape should: pull again, slowly.
    PullAgain,
    /// Nothing stands out.
    Nothing,
}

pub(super) fn advice(apart: &Apart, car: &Car) -> Vec<Advice> {
    let [clearance, flex, air] = apart.travel;
    let mut weighed: Vec<(f64, Advice)> = Vec::new();
    if air.low >= AIR_WORTH_BLEEDING {
        weighed.push((air.value.m(), Advice::BleedAgain));
    }
    let (sheet_clearance_m, sheet_flex_m3_pa) = sheet(car);
    if apart.clearance.low.m() > OVER_SHEET * sheet_clearance_m {
        weighed.push((clearance.value.m(), Advice::TakeUpClearance));
    }
    if apart.flex.low.m3_pa() > OVER_SHEET * sheet_flex_m3_pa {
        weighed.push((flex.value.m(), Advice::LookForFlex));
    }
    weighed.sort_by(|one, other| other.0.total_cmp(&one.0));
    let mut advice: Vec<Advice> = weighed.into_iter().map(|(_, advice)| advice).collect();
    if apart.widened_by.is_some() {
        advice.insert(0, Advice::PullAgain);
    }
    if !apart.told_apart {
        advice.push(Advice::ReadMore);
    }
    if advice.is_empty() {
        advice.push(Advice::Nothing);
    }
    advice
}

/// Clearance (m) and flex (m³/Pa) as the sheet has them.
fn sheet(car: &Car) -> (f64, f64) {
    if let Some(LeverKind::Separate(_, brake)) = car.lever.as_ref().map(|lever| &lever.kind) {
        return (brake.clearance.m(), brake.flex.m3_pa());
    }
    match &car.rear_brake {
        Brake::Disc(disc) => (disc.clearance.m(), disc.flex.m3_pa()),
        Brake::Drum(drum) => (drum.clearance.m(), drum.flex.m3_pa()),
    }
}

impl Advice {
    /// What it is about, where it is about one of the three.
    #[must_use]
    pub const fn part(self) -> Option<PullPart> {
        match self {
            Self::BleedAgain => Some(PullPart::Air),
            Self::TakeUpClearance => Some(PullPart::Clearance),
            Self::LookForFlex => Some(PullPart::Flex),
            Self::ReadMore | Self::PullAgain | Self::Nothing => None,
        }
    }
}

//! Which input settles how much of a headline figure, at once: from the draws that the range came from. What inputs do only
//! together takes more cars than these: [`crate::settles`].

use crate::car::{Inputs, Slot};
use crate::headline::{HeadlineFigures, Headlines};
use crate::lever::WhatStops;
use crate::ranges::{Drawn, Sampling, draw};
use crate::sensitivity::alone;

/// A headline figure that is screened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Headlined {
    /// By how much the front leads at first lock.
    FrontFirstBy,
    /// Torque there is over torque needed.
    InHand,
    /// Force of the hand that stops the rear.
    HandForce,
    /// Travel of the grip that stops the rear.
    Travel,
    /// Pressure that stops the rear.
    Pressure,
    /// Whether the rear stops and the front rolls.
    RearStops,
}

impl Headlined {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::FrontFirstBy,
        Self::InHand,
        Self::HandForce,
        Self::Travel,
        Self::Pressure,
        Self::RearStops,
    ];

    /// Name in machine-read results.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::FrontFirstBy => "front_first_by",
            Self::InHand => "in_hand",
            Self::HandForce => "hand_force_n",
            Self::Travel => "travel_m",
            Self::Pressure => "pressure_pa",
            Self::RearStops => "rear_stops",
        }
    }

    /// The figure of one answer, in SI; 1 or 0 for whether the rear stops.
    #[must_use]
    pub fn of(self, headline: &HeadlineFigures) -> Option<f64> {
        match self {
            Self::FrontFirstBy => headline.front_first_by,
            Self::InHand => headline.in_hand,
            Self::HandForce => headline.hand.map(quantity::si::Force::n),
            Self::Travel => headline.travel.map(quantity::si::Length::m),
            Self::Pressure => headline.pressure.map(quantity::si::Pressure::pa),
            Self::RearStops => headline
                .outcome
                .map(|outcome| if outcome == WhatStops::Rear { 1.0 } else { 0.0 }),
        }
    }

    /// The figure of a drawn car, how its coupling is read drawn with it: what that settles counts too.
    #[must_use]
    pub fn of_drawn(self, headline: &HeadlineFigures) -> Option<f64> {
        match self {
            Self::InHand => headline.in_hand_drawn,
            Self::HandForce => headline.hand_drawn.map(quantity::si::Force::n),
            Self::Travel => headline.travel_drawn.map(quantity::si::Length::m),
            Self::Pressure => headline.pressure_drawn.map(quantity::si::Pressure::pa),
            Self::RearStops => headline
                .outcome_drawn
                .map(|outcome| if outcome == WhatStops::Rear { 1.0 } else { 0.0 }),
            Self::FrontFirstBy => self.of(headline),
        }
    }
}

/// What knowing one key would settle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settles {
    /// The key.
    pub slot: Slot,
    /// Share of the figure's variance that knowing it alone would take away, 0 to 1.
    pub share: f64,
}

/// For each headline figure the toleranced keys, by the share of its variance that knowing each alone would take away: the
/// correlation ratio over the draws. What keys do only together is not in it.
pub(super) fn screen(
    inputs: &Inputs,
    toleranced: &[Slot],
    sampling: Sampling,
    headlines: &Headlines,
) -> Vec<(Headlined, Vec<Settles>)> {
    let answers = &headlines.drawn.answers;
    // The study leaves out draws that made no car.
    let drawn = Drawn::of(inputs, toleranced, sampling);
    let draws: Vec<_> = drawn
        .numbers()
        .filter(|&number| headlines.drawn.impossible == 0 || drawn.car(number).is_some())
        .map(|number| draw(toleranced, sampling, number))
        .collect();
    if draws.is_empty() || draws.len() != answers.len() {
        return Vec::new();
    }
    let columns: Vec<Vec<f64>> = toleranced
        .iter()
        .map(|&slot| draws.iter().map(|draw| draw.share(slot).unwrap_or(0.5)).collect())
        .collect();
    Headlined::ALL
        .into_iter()
        .map(|figure| {
            let values: Vec<f64> = answers
                .iter()
                .map(|answer| figure.of_drawn(answer).unwrap_or(f64::NAN))
                .collect();
            let mut settles: Vec<Settles> = toleranced
                .iter()
                .zip(&columns)
                .map(|(&slot, column)| Settles {
                    slot,
                    share: alone(column, &values).unwrap_or(0.0),
                })
                .collect();
            settles.sort_by(|one, other| other.share.total_cmp(&one.share));
            (figure, settles)
        })
        .collect()
}

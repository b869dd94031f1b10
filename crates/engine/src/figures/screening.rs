//! Which input settles how much of a headline figure: a screening from the draws that the range came from.

use crate::car::{Inputs, Slot};
use crate::headline::{Headline, Headlines};
use crate::lever::WhatStops;
use crate::ranges::{Drawn, Plan, draw};
use statrs::statistics::{Data, OrderStatistics as _, RankTieBreaker, Statistics as _};

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
    pub fn of(self, headline: &Headline) -> Option<f64> {
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
    fn of_drawn(self, headline: &Headline) -> Option<f64> {
        match self {
            Self::InHand => headline.in_hand_drawn,
            Self::RearStops => headline
                .outcome_drawn
                .map(|outcome| if outcome == WhatStops::Rear { 1.0 } else { 0.0 }),
            _ => self.of(headline),
        }
    }
}

/// What knowing one key would settle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settles {
    /// The key.
    pub slot: Slot,
    /// Share of the figure's variance that goes with it, 0 to 1.
    pub share: f64,
}

/// Fewest draws that anything is said from.
const FEWEST: usize = 32;

/// For each headline figure the toleranced keys, by the share of its variance that goes with each: the square of the
/// rank correlation (Spearman's) between key and figure over the draws. That is what knowing the key alone would take
/// away; what keys do only together is not in it. Noise is about 1 over the number of draws.
pub(super) fn screen(
    inputs: &Inputs,
    toleranced: &[Slot],
    plan: Plan,
    headlines: &Headlines,
) -> Vec<(Headlined, Vec<Settles>)> {
    let answers = &headlines.drawn.answers;
    if answers.len() < FEWEST {
        return Vec::new();
    }
    // The study leaves out draws that made no car.
    let drawn = Drawn::of(inputs, toleranced, plan);
    let draws: Vec<_> = drawn
        .numbers()
        .filter(|&number| headlines.drawn.impossible == 0 || drawn.car(number).is_some())
        .map(|number| draw(toleranced, plan, number))
        .collect();
    if draws.len() != answers.len() {
        return Vec::new();
    }
    let columns: Vec<Vec<f64>> = toleranced
        .iter()
        .map(|&slot| draws.iter().map(|draw| draw.share(slot).unwrap_or(0.5)).collect())
        .collect();
    Headlined::ALL
        .into_iter()
        .map(|figure| {
            let (there, values): (Vec<usize>, Vec<f64>) = answers
                .iter()
                .enumerate()
                .filter_map(|(at, answer)| {
                    Some((at, figure.of_drawn(answer).filter(|value| value.is_finite())?))
                })
                .unzip();
            let ranked = ranks(&values);
            let mut settles: Vec<Settles> = toleranced
                .iter()
                .zip(&columns)
                .map(|(&slot, column)| {
                    let drawn: Vec<f64> = there.iter().map(|&at| column[at]).collect();
                    let share = if values.len() < FEWEST {
                        0.0
                    } else {
                        correlation(&ranks(&drawn), &ranked).powi(2)
                    };
                    Settles { slot, share }
                })
                .collect();
            settles.sort_by(|one, other| other.share.total_cmp(&one.share));
            (figure, settles)
        })
        .collect()
}

/// Places of values in their order, from 1; equal ones share the middle of theirs.
fn ranks(values: &[f64]) -> Vec<f64> {
    Data::new(values.to_vec()).ranks(RankTieBreaker::Average)
}

/// Pearson's correlation; 0 where one of the two does not vary.
fn correlation(one: &[f64], other: &[f64]) -> f64 {
    let correlation = one.covariance(other) / (one.std_dev() * other.std_dev());
    if correlation.is_finite() { correlation } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_values_share_a_rank() {
        assert_eq!(ranks(&[30.0, 10.0, 20.0, 10.0]), vec![4.0, 1.5, 3.0, 1.5]);
        assert_eq!(ranks(&[1.0; 3]), vec![2.0; 3]);
    }

    /// Kendall and Gibbons, Rank Correlation Methods: Spearman's ρ = 1 − 6 Σd²/(n³ − n) without ties (from memory). The
    /// ranks of the second are 1, 0, 2, 4, 3: Σd² = 1 + 1 + 0 + 1 + 1 = 4, ρ = 1 − 24/120 = 0.8.
    #[test]
    fn rank_correlation_by_hand() {
        let (one, other) = ([0.0, 1.0, 2.0, 3.0, 4.0], [1.0, 0.0, 2.0, 5.0, 2.5]);
        let d: f64 = ranks(&one)
            .iter()
            .zip(ranks(&other))
            .map(|(a, b)| (a - b).powi(2))
            .sum();
        assert!((d - 4.0).abs() < 1e-12);
        assert!((correlation(&ranks(&one), &ranks(&other)) - (1.0 - 6.0 * 4.0 / 120.0)).abs() < 1e-12);
        assert!((correlation(&[1.0, 2.0, 3.0], &[9.0, 4.0, 1.0])).powi(2) > 0.97);
        assert!(correlation(&[1.0, 2.0], &[5.0, 5.0]).abs() < 1e-12);
    }
}

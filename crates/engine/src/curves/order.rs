//! Which end locks first, over grip and load.

use quantity::si::Force;

use crate::balance::{Balance, Lock};
use crate::car::Car;
use crate::loads::Laden;
use crate::thresholds::FOOT_LIMIT;

/// First locks of one load over grip.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCurve {
    /// What is aboard, in a word or two: `dry`, `half tank`.
    pub name: String,
    /// How full the tank is, 0 to 1.
    pub fill: f64,
    /// First locks, rising grip.
    pub locks: Vec<Lock>,
}

/// First locks of several loads.
#[derive(Clone, Debug, PartialEq)]
pub struct LockCurves {
    /// A curve for each load.
    pub loads: Vec<LoadCurve>,
    /// Surfaces by name and grip.
    pub surfaces: Vec<(String, f64)>,
    /// The hardest foot that was looked at.
    pub hardest: Force,
    /// Whether a coupling ties the axles under the pedal.
    pub tied: bool,
}

impl LockCurves {
    /// Of a car: loads by name, with how full the tank is.
    #[must_use]
    pub fn of(car: &Car, balance: &Balance, loads: &[(&str, f64, Laden)], grips: &[f64]) -> Self {
        let named = |name: &std::sync::Arc<str>| {
            car.surface(name)
                .map(|surface| (surface.name.to_string(), surface.peak))
        };
        Self {
            loads: loads
                .iter()
                .map(|&(name, fill, laden)| {
                    let balance = balance.at_load(laden);
                    LoadCurve {
                        name: name.to_owned(),
                        fill,
                        locks: grips.iter().map(|&grip| balance.lock(grip)).collect(),
                    }
                })
                .collect(),
            surfaces: car.runs_on.iter().filter_map(named).collect(),
            hardest: FOOT_LIMIT,
            tied: balance.tied(),
        }
    }
}

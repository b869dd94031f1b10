//! How much of its grip each axle uses, over the braking rate.

use crate::balance::{Balance, RoadRules, Utilisation};
use crate::car::Car;

/// The lines of both axles.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    /// Rising braking rates; `None` where the foot that is looked at does not reach one, or the rear is off the ground.
    pub points: Vec<(f64, Option<Utilisation>)>,
    /// What the road rule says; `None` where the car is not registered for the road.
    pub rules: Option<RoadRules>,
}

impl Used {
    /// Every twentieth of g up to 1 g.
    #[must_use]
    pub fn of(car: &Car, balance: &Balance) -> Self {
        Self {
            points: (1..=20_u8)
                .map(|step| f64::from(step) / 20.0)
                .map(|rate| (rate, balance.utilisation(rate)))
                .collect(),
            rules: car.road_registered.then(|| balance.road_rules()),
        }
    }
}

//! The split of the braking force: front against rear, the ideal, what a car does, where it first locks.

use quantity::si::{Force, Pressure};

use crate::balance::{Balance, Braking, Ideal, Lock};
use crate::thresholds::FOOT_LIMIT;

/// Ground of one grip: as long as both forces stay inside it nothing locks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EqualGrip {
    /// The grip.
    pub grip: f64,
    /// Its edge where the front locks, from the front braking alone to the ideal split.
    pub front_locks: [(Force, Force); 2],
    /// Its edge where the rear locks, from the rear braking alone to the ideal split.
    pub rear_locks: [(Force, Force); 2],
}

/// The lines of a split.
#[derive(Clone, Debug, PartialEq)]
pub struct SplitLines {
    /// The car's weight.
    pub weight: Force,
    /// Points of the ideal split, rising braking rates.
    pub ideal: Vec<Ideal>,
    /// What the pedal does, rising foot.
    pub actual: Vec<Braking>,
    /// Where the bias valve begins to reduce, and at which pressure; `None` without a valve, or out of the foot's reach.
    pub knee: Option<(Braking, Pressure)>,
    /// First locks, each with the forces at it.
    pub locks: Vec<(Lock, Option<Braking>)>,
    /// Grounds of equal grip.
    pub equal_grip: Vec<EqualGrip>,
    /// The car's own split at the braking rates of the ideal, where the foot reaches them.
    pub at_rates: Vec<Option<(Force, Force)>>,
    /// The hardest foot that was looked at.
    pub hardest: Force,
    /// Whether a coupling ties the axles under the pedal.
    pub tied: bool,
}

impl SplitLines {
    /// Of a car, with first locks at some grips.
    #[must_use]
    pub fn of(balance: &Balance, grips: &[f64]) -> Self {
        let hydraulics = balance.hydraulics();
        let laden = balance.laden();
        let hardest = FOOT_LIMIT;
        let most_n = hydraulics.foot.push_rod(hardest).n();
        let weight = Force::from_n(laden.weight_n());
        let knee_below = |push_rod_n: f64| {
            let push_rod = Force::from_n(push_rod_n);
            let inlet = hydraulics.foot.pressures(push_rod)[1];
            let braking = balance.braking(push_rod);
            let knee = hydraulics.knee(laden.axle_loads(braking.rate).rear)?;
            Some((inlet < knee, knee))
        };
        let knee = knee_below(most_n).filter(|&(below, _)| !below).map(|_| {
            let (mut below, mut above) = (0.0, most_n);
            for _ in 0..48 {
                let middle = f64::midpoint(below, above);
                if knee_below(middle).is_some_and(|(is_below, _)| is_below) {
                    below = middle;
                } else {
                    above = middle;
                }
            }
            above
        });
        let mut rods: Vec<f64> = (0..=40_u8)
            .map(|step| most_n * (f64::from(step) / 40.0).powi(2))
            .chain(knee)
            .collect();
        rods.sort_by(f64::total_cmp);
        let ideal: Vec<Ideal> = (1..=12_u8)
            .map(|tenth| balance.ideal(f64::from(tenth) / 10.0))
            .collect();
        let at_rates = ideal
            .iter()
            .map(|ideal| {
                let used = balance.utilisation(ideal.rate)?;
                let loads = laden.axle_loads(ideal.rate);
                Some((loads.front * used.front, loads.rear * used.rear))
            })
            .collect();
        let edge = |grip: f64, rate: f64, front: bool| {
            let loads = laden.axle_loads(rate);
            let whole = weight * rate;
            if front {
                let at_front = loads.front * grip;
                (at_front, whole - at_front)
            } else {
                let at_rear = loads.rear.max(Force::ZERO) * grip;
                (whole - at_rear, at_rear)
            }
        };
        let equal_grip = grips
            .iter()
            .filter(|grip| grip.is_finite() && **grip > 0.0)
            .map(|&grip| EqualGrip {
                grip,
                front_locks: [edge(grip, 0.0, true), edge(grip, grip, true)],
                rear_locks: [edge(grip, 0.0, false), edge(grip, grip, false)],
            })
            .collect();
        let locks = grips
            .iter()
            .map(|&grip| {
                let lock = balance.lock(grip);
                let forces = lock
                    .at
                    .map(|at| balance.braking(hydraulics.foot.push_rod(at.foot)));
                (lock, forces)
            })
            .collect();
        Self {
            weight,
            ideal,
            actual: rods
                .iter()
                .map(|&push_rod_n| balance.braking(Force::from_n(push_rod_n)))
                .collect(),
            knee: knee.and_then(|push_rod_n| {
                let (_, knee) = knee_below(push_rod_n)?;
                Some((balance.braking(Force::from_n(push_rod_n)), knee))
            }),
            locks,
            equal_grip,
            at_rates,
            hardest,
            tied: balance.tied(),
        }
    }
}

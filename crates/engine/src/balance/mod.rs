//! Which end locks first: lock order over grip and load, utilisation, the ideal split, one circuit failed.

mod failed;
mod leaking;
mod settings;

use crate::equations;
use crate::thresholds::{FOOT_LIMIT, FOOT_LIMIT_ROAD};
use quantity::si::{Acceleration, Force, Pressure, Speed};

pub use failed::{FailedCircuit, Left, failed_circuits};
pub use leaking::{Leaking, leaking_runs};
pub use settings::{
    BarAnswer, KneeAnswer, Purpose, SettingRow, Settings, USUAL_SLOPE, Wish, WishFault, bar_for, knee_for,
    road_knee, settings,
};

use crate::GRAVITY_M_S2;
use crate::car::{Axle, Car, Wheel};
use crate::drivetrain::{PedalTie, tie_for_pedal};
use crate::hydraulics::{Hydraulics, Response};
use crate::loads::{Grade, Laden};
use crate::network::Acting;
use crate::solve::{root, settles};

/// Which end stops turning first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum First {
    /// The front wheels.
    Front,
    /// The rear wheels.
    Rear,
    /// All four at once: a coupling ties the axles, or both are at the limit together.
    Together,
    /// None, up to the foot force that is looked at.
    Neither,
}

/// What a foot force asks of the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Braking {
    /// Of the front axle.
    pub front: Force,
    /// Of the rear axle.
    pub rear: Force,
    /// Their sum over the car's weight: on the level, the deceleration over g.
    pub rate: f64,
}

/// The first lock at one grip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lock {
    /// Grip that was asked about.
    pub grip: f64,
    /// Which end.
    pub first: First,
    /// The point of first lock; `None` where nothing locks.
    pub at: Option<LockPoint>,
}

/// The point of first lock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LockPoint {
    /// Braking force over weight: on the level, the deceleration over g; on a slope, see
    /// [`Laden::deceleration`].
    pub rate: f64,
    /// How much of the ground is used: on the level, deceleration over g and grip.
    pub efficiency: f64,
    /// Force of the foot.
    pub foot: Force,
    /// Pressures of the master's chambers.
    pub chambers: [Pressure; 2],
    /// Pressure at the rear brakes.
    pub rear: Pressure,
    /// `f₁/f₂ − 1`: by how much the front axle uses more of its load than the rear. Positive: front first.
    pub front_first_by: f64,
}

/// Adhesion utilisation at one braking rate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Utilisation {
    /// Deceleration over g.
    pub rate: f64,
    /// f₁: braking force of the front axle over its load.
    pub front: f64,
    /// f₂: of the rear axle.
    pub rear: f64,
}

/// A point of the ideal split: both axles use the same share of their load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ideal {
    /// Deceleration over g.
    pub rate: f64,
    /// Braking force of the front axle.
    pub front: Force,
    /// Of the rear axle.
    pub rear: Force,
}

/// The road rule on utilisation, at one load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoadRules {
    /// The rear's curve is nowhere above the front's between braking rates of 0.15 and 0.80.
    pub rear_below_front: bool,
    /// `z ≥ 0.1 + 0.7 (k − 0.2)` for the axle that uses more, between k = 0.2 and 0.8.
    pub least_rate_met: bool,
}

/// A car prepared for questions of balance.
#[derive(Clone, Debug)]
pub struct Balance {
    hydraulics: Hydraulics,
    laden: Laden,
    tie: PedalTie,
}

impl Balance {
    /// Prepares a car at a load. `speed` is that at which a centre coupling would turn if one axle stood.
    #[must_use]
    pub fn of(car: &Car, hydraulics: Hydraulics, laden: Laden, speed: Speed) -> Self {
        Self {
            tie: tie_for_pedal(car, speed),
            hydraulics,
            laden,
        }
    }

    /// The hydraulics that it was prepared with.
    #[must_use]
    pub const fn hydraulics(&self) -> &Hydraulics {
        &self.hydraulics
    }

    /// The load that it was prepared at.
    #[must_use]
    pub const fn laden(&self) -> &Laden {
        &self.laden
    }

    /// Whether a coupling ties the axles under the pedal.
    #[must_use]
    pub fn tied(&self) -> bool {
        self.tie.ties()
    }

    /// The same car with the valve's knee somewhere else.
    #[must_use]
    pub fn with_knee(&self, knee: Pressure) -> Self {
        Self {
            hydraulics: self.hydraulics.with_knee(knee),
            ..self.clone()
        }
    }

    /// The same car at another load.
    #[must_use]
    pub fn at_load(&self, laden: Laden) -> Self {
        Self {
            laden,
            ..self.clone()
        }
    }

    /// What a push-rod force asks of the ground.
    #[must_use]
    pub fn braking(&self, push_rod: Force) -> Braking {
        let at_knee = |knee: Pressure| {
            let (front, rear) = self.axle_forces(push_rod, knee);
            Braking {
                front,
                rear,
                rate: (front + rear).n() / self.laden.weight_n(),
            }
        };
        let knee = |rate: f64| {
            self.hydraulics
                .knee(self.laden.axle_loads(rate).rear)
                .unwrap_or(Pressure::ZERO)
        };
        if !self.hydraulics.senses_load() {
            return at_knee(knee(0.0));
        }
        let inlet = self.hydraulics.foot.pressures(push_rod)[1];
        let most = at_knee(Pressure::from_pa(1e12)).rate.max(1e-9);
        let lawful = knee(settles(most, |rate| at_knee(knee(rate)).rate));
        at_knee(self.hydraulics.held_knee(&self.laden, inlet, lawful))
    }

    fn axle_forces(&self, push_rod: Force, knee: Pressure) -> (Force, Force) {
        let chambers = self.hydraulics.foot.pressures(push_rod);
        let nodes = self.hydraulics.network.pressures(&Acting {
            first: chambers[0],
            second: chambers[1],
            own: None,
            knee,
        });
        let force = |wheel: Wheel| {
            let torque =
                self.hydraulics.wheels[wheel.index()].torque(self.hydraulics.network.at_wheel(&nodes, wheel));
            torque.nm() / self.hydraulics.radius(wheel.axle()).m()
        };
        (
            Force::from_n(force(Wheel::FrontLeft) + force(Wheel::FrontRight)),
            Force::from_n(force(Wheel::RearLeft) + force(Wheel::RearRight)),
        )
    }

    fn utilisation_of(&self, braking: Braking) -> Utilisation {
        let loads = self.laden.axle_loads(braking.rate);
        Utilisation {
            rate: braking.rate,
            front: equations::over(braking.front.n(), loads.front.n()),
            rear: equations::over(braking.rear.n(), loads.rear.n()),
        }
    }

    /// The least push-rod force up to `most` at which something locks, and what.
    fn first_lock(&self, grip: f64, tie: PedalTie, most: Force) -> Option<(Force, First)> {
        let mut found: Option<(f64, First)> = None;
        // A steep load-sensing valve may let an axle lock and then release it: there the first crossing is looked for
        // in so many cells.
        let cells = if self.hydraulics.senses_load() { 64_u8 } else { 1 };
        let mut consider = |first: First, cells: u8, upper_n: f64, off: &dyn Fn(Braking) -> f64| {
            let off_at = |push_rod_n: f64| off(self.braking(Force::from_n(push_rod_n)));
            if let Some(at) = first_crossing(upper_n, cells, off_at)
                && found.is_none_or(|(known, _)| at < known)
            {
                found = Some((at, first));
            }
        };
        // Where all of the ground is used, something is at its limit: nothing locks first beyond that.
        let all_used = |braking: Braking| braking.rate - self.laden.ground_gives(grip);
        let mut upper_n = most.n();
        if tie.ties() || cells > 1 {
            let off_at = |push_rod_n: f64| all_used(self.braking(Force::from_n(push_rod_n)));
            upper_n = first_crossing(most.n(), 1, off_at).map_or(upper_n, |at| at * (1.0 + 1e-9));
        }
        if tie.ties() {
            consider(First::Together, 1, upper_n, &all_used);
        }
        if tie.carries_nm.is_finite() {
            for (first, axle) in [(First::Rear, Axle::Rear), (First::Front, Axle::Front)] {
                consider(first, cells, upper_n, &|braking| {
                    self.excess_nm(axle, braking, grip, tie)
                });
            }
        }
        found.map(|(push_rod_n, first)| (Force::from_n(push_rod_n), first))
    }

    /// By how much the front leads at the first lock, the axles taken as free, and the push-rod force that it takes, up to
    /// `most`; `None` where nothing ever locks.
    fn front_leads_by(&self, grip: f64, most: Force) -> Option<(f64, Force)> {
        let (push_rod, _) = self.first_lock(grip, PedalTie { carries_nm: 0.0 }, most)?;
        let used = self.utilisation_of(self.braking(push_rod));
        Some((equations::front_first_by(used.front, used.rear), push_rod))
    }

    /// How far an axle is from locking (N·m): its brake torque over what ground and coupling can hold it turning with.
    fn excess_nm(&self, axle: Axle, braking: Braking, grip: f64, tie: PedalTie) -> f64 {
        let loads = self.laden.axle_loads(braking.rate);
        let (force, load) = match axle {
            Axle::Front => (braking.front, loads.front),
            Axle::Rear => (braking.rear, loads.rear.max(Force::ZERO)),
        };
        let radius_m = self.hydraulics.radius(axle).m();
        let limit_n = equations::force_at_limit(grip, load.n(), tie.carries_nm, radius_m);
        (force.n() - limit_n) * radius_m
    }

    /// The first lock at a grip: the least foot force at which an axle's braking force reaches `μ N(z)`.
    ///
    /// Axles tied by a centre coupling help each other: an axle stops alone only once its brake torque exceeds what
    /// the ground gives it by more than the coupling carries; otherwise all four lock together, at z = μ.
    #[must_use]
    pub fn lock(&self, grip: f64) -> Lock {
        let most = self.hydraulics.foot.push_rod(FOOT_LIMIT);
        let Some((push_rod, first)) = self.first_lock(grip, self.tie, most) else {
            return Lock {
                grip,
                first: First::Neither,
                at: None,
            };
        };
        let foot = self.hydraulics.foot.foot(push_rod);
        let answer = self.hydraulics.answer_to_push_rod(&self.laden, push_rod);
        if answer.pedal.runs_out {
            return self.lock_running_out(grip);
        }
        let point = self.lock_point(grip, foot, &answer, self.braking(push_rod));
        let even = first != First::Together && point.front_first_by.abs() < 1e-9;
        Lock {
            grip,
            first: if even { First::Together } else { first },
            at: Some(point),
        }
    }

    /// The first lock of a car whose pedal runs out before: one of twin cylinders may bottom while the other axle still
    /// locks. Looked for over the push rod's force, with the pressures that are reached.
    fn lock_running_out(&self, grip: f64) -> Lock {
        let answer_at = |push_rod_n: f64| {
            self.hydraulics
                .answer_to_push_rod(&self.laden, Force::from_n(push_rod_n))
        };
        let most_n = self.hydraulics.foot.push_rod(FOOT_LIMIT).n();
        let braking_at = |answer: &Response| {
            let axle =
                |first: usize| answer.wheels[first].ground_force + answer.wheels[first + 1].ground_force;
            Braking {
                front: axle(0),
                rear: axle(2),
                rate: answer.braking_rate,
            }
        };
        let first_at = |axle: Axle| {
            let off =
                |push_rod_n: f64| self.excess_nm(axle, braking_at(&answer_at(push_rod_n)), grip, self.tie);
            first_crossing(most_n, 64, off)
        };
        let together = first_crossing(most_n, 64, |push_rod_n| {
            answer_at(push_rod_n).braking_rate - self.laden.ground_gives(grip)
        })
        .filter(|_| self.tie.ties());
        let found = [
            (First::Together, together),
            (First::Rear, first_at(Axle::Rear)),
            (First::Front, first_at(Axle::Front)),
        ]
        .into_iter()
        .filter_map(|(first, push_rod_n)| Some((push_rod_n?, first)))
        .min_by(|one, other| one.0.total_cmp(&other.0));
        let Some((push_rod_n, first)) = found else {
            return Lock {
                grip,
                first: First::Neither,
                at: None,
            };
        };
        let answer = answer_at(push_rod_n);
        let braking = braking_at(&answer);
        let foot = self.hydraulics.foot.foot(Force::from_n(push_rod_n));
        Lock {
            grip,
            first,
            at: Some(self.lock_point(grip, foot, &answer, braking)),
        }
    }

    fn lock_point(&self, grip: f64, foot: Force, answer: &Response, braking: Braking) -> LockPoint {
        let used = self.utilisation_of(braking);
        LockPoint {
            rate: braking.rate,
            efficiency: braking.rate / self.laden.ground_gives(grip),
            foot,
            chambers: answer.pedal.chambers,
            rear: answer.wheels[Wheel::RearLeft.index()].pressure,
            front_first_by: equations::front_first_by(used.front, used.rear),
        }
    }

    /// Push-rod force for a braking rate; `None` where a foot does not reach it.
    fn push_rod_for_rate(&self, rate: f64, limit: Force) -> Option<Force> {
        let most = self.hydraulics.foot.push_rod(limit);
        if self.braking(most).rate < rate {
            return None;
        }
        let off = |push_rod: f64| self.braking(Force::from_n(push_rod)).rate - rate;
        root(0.0, most.n(), off).map(Force::from_n)
    }

    /// Adhesion utilisation at a braking rate: `f₁ = B_f/N_f`, `f₂ = B_r/N_r` (UN Regulation 13-H, Annex 5; from
    /// memory). `None` beyond the foot force that is looked at, or with the rear axle off the ground.
    #[must_use]
    pub fn utilisation(&self, rate: f64) -> Option<Utilisation> {
        self.utilisation_up_to(rate, FOOT_LIMIT)
    }

    fn utilisation_up_to(&self, rate: f64, limit: Force) -> Option<Utilisation> {
        let used = self.utilisation_of(self.braking(self.push_rod_for_rate(rate, limit)?));
        (self.laden.axle_loads(rate).rear > Force::ZERO).then_some(Utilisation { rate, ..used })
    }

    /// The ideal split at a braking rate: `B_f = z N_f(z)`, `B_r = z N_r(z)`; on a slope z over the cosine of its angle.
    #[must_use]
    pub fn ideal(&self, rate: f64) -> Ideal {
        let loads = self.laden.axle_loads(rate);
        Ideal {
            rate,
            front: loads.front * (rate / self.laden.grade.presses()),
            rear: loads.rear.max(Force::ZERO) * (rate / self.laden.grade.presses()),
        }
    }

    /// The road rule's two demands at this load, on the level whatever slope it stands on, looked at every hundredth of g
    /// up to the rule's foot (UN Regulation 13-H, Annex 5; from memory).
    #[must_use]
    pub fn road_rules(&self) -> RoadRules {
        if self.laden.grade != Grade::LEVEL {
            return self.at_load(self.laden.on(Grade::LEVEL)).road_rules();
        }
        let mut rules = RoadRules {
            rear_below_front: true,
            least_rate_met: true,
        };
        for hundredth in 10..=80_u8 {
            let rate = f64::from(hundredth) / 100.0;
            let Some(used) = self.utilisation_up_to(rate, FOOT_LIMIT_ROAD) else {
                break;
            };
            if hundredth >= 15 && used.rear > used.front * (1.0 + 1e-9) {
                rules.rear_below_front = false;
            }
            let more = used.front.max(used.rear);
            if (0.2..=0.8).contains(&more) && rate < 0.1 + 0.7 * (more - 0.2) - 1e-9 {
                rules.least_rate_met = false;
            }
        }
        rules
    }
}

/// Where a function first rises to zero, looked for in equal cells from zero to `upper`.
fn first_crossing(upper: f64, cells: u8, off: impl Fn(f64) -> f64) -> Option<f64> {
    let mut low = 0.0;
    for cell in 1..=cells {
        let high = upper * f64::from(cell) / f64::from(cells);
        if off(high) >= 0.0 {
            // Already so at the near end: it rises there, or has never been below.
            return root(low, high, &off).or(Some(low));
        }
        low = high;
    }
    None
}

/// A braking rate as a deceleration.
#[must_use]
pub fn deceleration(rate: f64) -> Acceleration {
    Acceleration::from_m_s2(rate * GRAVITY_M_S2)
}

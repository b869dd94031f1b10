//! What `balance` answers, as other programs read it.

use engine::balance::{FailedCircuit, First, Left, Lock};
use schemars::JsonSchema;
use serde::Serialize;

use super::bores::{MasterView, views};
use super::outcome::Outcome;
use crate::opened::Opened;
use crate::result::{HeadlineView, Num, OrWhy};

/// Which end locks first.
#[derive(Serialize, JsonSchema)]
pub(super) struct BalanceView {
    /// The first lock, a row a grip.
    lock: Vec<LockView>,
    /// What each axle uses of its load, over the braking rate, as far as the foot goes.
    utilisation: Vec<UtilisationView>,
    /// The split at which both axles use the same share.
    ideal: Vec<IdealView>,
    road_rules: RoadRulesView,
    /// One circuit gone, at 500 N of foot: two rows.
    failed_circuit: Vec<FailedView>,
    /// Whether a centre coupling ties the axles under the pedal.
    tied: bool,
    /// Master bores that are sold, a row a bore; only where they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    bores: Option<Vec<MasterView>>,
    #[serde(flatten)]
    headline: HeadlineView,
}

/// Which end.
#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum FirstView {
    /// The front.
    Front,
    /// The rear.
    Rear,
    /// All four at once.
    Together,
    /// None up to the foot force that is looked at.
    Neither,
}

#[derive(Serialize, JsonSchema)]
struct LockView {
    grip: Num,
    first: FirstView,
    /// Deceleration over g.
    braking_rate: OrWhy<Num>,
    /// Deceleration over g and grip.
    efficiency: OrWhy<Num>,
    foot_force_n: OrWhy<Num>,
    /// Pressure of the master; null on twin cylinders.
    master_pa: OrWhy<Num>,
    /// Pressure of the front one of twin cylinders.
    front_master_pa: OrWhy<Num>,
    /// Pressure of the rear one of twin cylinders.
    rear_master_pa: OrWhy<Num>,
    /// Pressure at the rear brakes.
    rear_pa: OrWhy<Num>,
    /// f₁/f₂ − 1 at first lock: above zero the front leads.
    front_first_by: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct UtilisationView {
    braking_rate: Num,
    front: Num,
    rear: Num,
}

#[derive(Serialize, JsonSchema)]
struct IdealView {
    braking_rate: Num,
    front_n: Num,
    rear_n: Num,
}

#[derive(Serialize, JsonSchema)]
struct RoadRulesView {
    /// Whether the car is driven on public roads.
    applies: bool,
    /// The rear's curve is nowhere above the front's between 0.15 and 0.80, as loaded.
    rear_below_front: bool,
    /// The same at every load.
    rear_below_front_at_every_load: bool,
    /// The least braking rate of the rule is met.
    least_rate_met: bool,
}

/// What still brakes.
#[derive(Serialize, JsonSchema)]
enum LeftView {
    #[serde(rename = "front")]
    Front,
    #[serde(rename = "rear")]
    Rear,
    #[serde(rename = "one diagonal")]
    OneDiagonal,
}

#[derive(Serialize, JsonSchema)]
struct FailedView {
    left: LeftView,
    foot_force_n: Num,
    /// Deceleration, limited by the grip of the wheels that are left.
    rate_m_s2: Num,
    /// Whether it meets the road rule.
    met: OrWhy<bool>,
    /// Pedal travel to get there; the failed chamber bottoms first.
    travel_m: Num,
    /// Whether the stroke that is left is not enough.
    runs_out: bool,
    /// Whether both circuits are joined, so that one leak empties both.
    joined: bool,
}

impl BalanceView {
    /// Of what came out.
    pub(super) fn of(opened: &Opened, outcome: &Outcome) -> Self {
        Self {
            lock: outcome.locks.iter().map(|lock| row(lock, outcome.twin)).collect(),
            utilisation: outcome
                .utilisation
                .iter()
                .map(|used| UtilisationView {
                    braking_rate: used.rate.into(),
                    front: used.front.into(),
                    rear: used.rear.into(),
                })
                .collect(),
            ideal: outcome
                .ideal
                .iter()
                .map(|ideal| IdealView {
                    braking_rate: ideal.rate.into(),
                    front_n: ideal.front.n().into(),
                    rear_n: ideal.rear.n().into(),
                })
                .collect(),
            road_rules: RoadRulesView {
                applies: opened.car().road_registered,
                rear_below_front: outcome.road.rear_below_front,
                rear_below_front_at_every_load: outcome.road_at_every_load,
                least_rate_met: outcome.road.least_rate_met,
            },
            failed_circuit: outcome.failed.iter().map(failed).collect(),
            tied: outcome.tied,
            bores: views(&outcome.bores),
            headline: HeadlineView::of(&outcome.headline),
        }
    }
}

fn row(lock: &Lock, twin: bool) -> LockView {
    const NOTHING: &str = "nothing locks up to the foot force that is looked at";
    let point = lock.at.as_ref();
    let chamber = |number: usize, wanted: bool, why: &'static str| match point {
        None => OrWhy::Why(NOTHING.into()),
        Some(point) => OrWhy::or(wanted.then(|| point.chambers[number].pa()), why),
    };
    LockView {
        grip: lock.grip.into(),
        first: match lock.first {
            First::Front => FirstView::Front,
            First::Rear => FirstView::Rear,
            First::Together => FirstView::Together,
            First::Neither => FirstView::Neither,
        },
        braking_rate: OrWhy::or(point.map(|point| point.rate), NOTHING),
        efficiency: OrWhy::or(point.map(|point| point.efficiency), NOTHING),
        foot_force_n: OrWhy::or(point.map(|point| point.foot.n()), NOTHING),
        master_pa: chamber(0, !twin, "twin cylinders: front_master_pa and rear_master_pa"),
        front_master_pa: chamber(0, twin, "one cylinder: master_pa"),
        rear_master_pa: chamber(1, twin, "one cylinder: master_pa"),
        rear_pa: OrWhy::or(point.map(|point| point.rear.pa()), NOTHING),
        front_first_by: match point {
            None => OrWhy::Why(NOTHING.into()),
            Some(point) => OrWhy::or(
                Some(point.front_first_by).filter(|margin| margin.is_finite()),
                "the rear brakes do nothing yet at this pressure",
            ),
        },
    }
}

fn failed(failed: &FailedCircuit) -> FailedView {
    FailedView {
        left: match failed.left {
            Left::Front => LeftView::Front,
            Left::Rear => LeftView::Rear,
            Left::OneDiagonal => LeftView::OneDiagonal,
        },
        foot_force_n: failed.foot.n().into(),
        rate_m_s2: failed.rate.m_s2().into(),
        met: OrWhy::or(failed.met, "the car is not driven on public roads"),
        travel_m: failed.travel.m().into(),
        runs_out: failed.runs_out,
        joined: failed.joined,
    }
}

//! What `hold` answers, as other programs read it.

use engine::hold::{Arrival, HoldFigures, Holds, Kept, LostBy};
use schemars::JsonSchema;
use serde::Serialize;

use crate::result::{Num, OrWhy, RangeView};

/// How long it holds.
#[derive(Serialize, JsonSchema)]
pub(super) struct HoldView {
    /// Rise over run.
    slope: Num,
    facing: &'static str,
    /// Pull at which the lever was latched.
    hand_force_n: Num,
    /// Torque of both rear wheels that the slope asks for.
    torque_needed_nm: Num,
    arrivals: Vec<ArrivalView>,
    /// The steepest slope that it holds on for two minutes, from every arrival.
    steepest_for_two_minutes: Num,
    /// The steepest that the rear tyres hold on.
    steepest_by_grip: OrWhy<Num>,
    /// Whether a start line (2 min) and service (10 min) are held from every arrival.
    start_line: bool,
    service: bool,
    /// A latched lever on pressure is no parking brake: always false with one.
    parking: bool,
    /// What seeps in an hour at 80 bar out of each closed part.
    seep_m3: OrWhy<Num>,
    /// Whether a measured soak says so.
    seep_measured: bool,
    kept_cable: OrWhy<KeptView>,
    ranges: RangesView,
}

#[derive(Serialize, JsonSchema)]
struct ArrivalView {
    /// `cold`, `warm` or `hot`.
    from: &'static str,
    /// How long it holds.
    minutes: OrWhy<Num>,
    /// `cooling`, `seep`, `friction`, `grip` or `never`.
    lost_by: &'static str,
    pressure_max_pa: OrWhy<Num>,
    pressure_max_at_s: OrWhy<Num>,
    /// The steepest slope that it holds on for two minutes.
    steepest_for_two_minutes: Num,
    /// Lowest pressure at a rear brake, over the first hour; empty with a cable.
    pressure_pa: Vec<Num>,
    /// Holding torque over what the slope asks, at the same times; empty on the level.
    over_needed: Vec<Num>,
    t_s: Vec<Num>,
}

#[derive(Serialize, JsonSchema)]
struct KeptView {
    hand_force_n: Num,
    torque_nm: Num,
    /// The steepest slope that it holds on, cold.
    steepest: Num,
}

#[derive(Serialize, JsonSchema)]
struct RangesView {
    minutes: RangeView,
    steepest_for_two_minutes: RangeView,
    pressure_max_pa: OrWhy<RangeView>,
}

const CABLE: &str = "a cable makes no pressure";

impl HoldView {
    pub(super) fn of(holds: &Holds) -> Self {
        let hold = &holds.middle;
        let figures = HoldFigures::of(hold);
        let by_fluid = hold.seep.is_some();
        Self {
            slope: hold.grade.slope.into(),
            facing: hold.grade.facing.name(),
            hand_force_n: hold.hand.n().into(),
            torque_needed_nm: hold.needed.nm().into(),
            arrivals: hold.arrivals.iter().map(arrival).collect(),
            steepest_for_two_minutes: hold.steepest_for_two_minutes.into(),
            steepest_by_grip: OrWhy::or(
                Some(hold.grip_holds).filter(|slope| slope.is_finite()),
                "the tyres hold on any slope",
            ),
            start_line: hold.holds(engine::thresholds::START_LINE),
            service: hold.holds(engine::thresholds::SERVICE),
            parking: false,
            seep_m3: OrWhy::or(
                hold.seep.map(|seep| seep.per_hour(engine::hold::USUAL_AT).m3()),
                CABLE,
            ),
            seep_measured: hold.seep.is_some_and(|seep| seep.measured),
            kept_cable: OrWhy::or(
                match hold.kept {
                    Kept::Computed(kept) => Some(KeptView {
                        hand_force_n: kept.hand.n().into(),
                        torque_nm: kept.torque.nm().into(),
                        steepest: kept.steepest.into(),
                    }),
                    _ => None,
                },
                match hold.kept {
                    Kept::None | Kept::Computed(_) => "no cable was kept",
                    Kept::NoFigures => "the sheet has no figures of the cable",
                    Kept::OwnShoes => "the cable works shoes of its own, which are not on the sheet",
                },
            ),
            ranges: RangesView {
                minutes: RangeView::of(
                    figures.shortest.s() / 60.0,
                    holds.range(|drawn| drawn.shortest.s() / 60.0),
                ),
                steepest_for_two_minutes: RangeView::of(
                    figures.steepest,
                    holds.range(|drawn| drawn.steepest),
                ),
                pressure_max_pa: OrWhy::or(
                    by_fluid.then(|| {
                        RangeView::of(
                            figures.pressure_max.pa(),
                            holds.range(|drawn| drawn.pressure_max.pa()),
                        )
                    }),
                    CABLE,
                ),
            },
        }
    }
}

fn arrival(arrival: &Arrival) -> ArrivalView {
    let finite = arrival.way.iter().all(|moment| moment.ratio.is_finite());
    ArrivalView {
        from: arrival.from.name(),
        minutes: OrWhy::or(
            arrival.holds_for.map(|held| held.s() / 60.0),
            "it holds beyond eight hours; nothing longer is computed",
        ),
        lost_by: match arrival.lost_by {
            Some(LostBy::Cooling) => "cooling",
            Some(LostBy::Seep) => "seep",
            Some(LostBy::Friction) => "friction",
            Some(LostBy::Grip) => "grip",
            None => "never",
        },
        pressure_max_pa: OrWhy::or(arrival.pressure_max.map(|pressure| pressure.pa()), CABLE),
        pressure_max_at_s: OrWhy::or(arrival.pressure_max.map(|_| arrival.pressure_max_at.s()), CABLE),
        steepest_for_two_minutes: arrival.steepest.into(),
        pressure_pa: arrival
            .way
            .iter()
            .filter_map(|moment| Some(moment.pressure?.pa().into()))
            .collect(),
        over_needed: if finite {
            arrival.way.iter().map(|moment| moment.ratio.into()).collect()
        } else {
            Vec::new()
        },
        t_s: arrival.way.iter().map(|moment| moment.time.s().into()).collect(),
    }
}

//! What `pressures` answers, as other programs read it.

use engine::car::{LeverKind, Wheel};
use engine::hydraulics::{TravelEnd, WheelAnswer};
use engine::network::Taken;
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::Outcome;
use crate::opened::Opened;
use crate::result::{Num, OrWhy};

/// What a given foot and hand do, the car going straight.
#[derive(Serialize, JsonSchema)]
pub(super) struct PressuresView {
    /// What was asked.
    asked: AskedView,
    /// The car as it stands on its wheels.
    load: LoadView,
    /// The pedal's side.
    pedal: PedalView,
    /// The lever's side.
    lever: LeverView,
    /// Inlet pressure above which the bias valve reduces.
    knee_pa: OrWhy<Num>,
    /// The four wheels.
    wheels: WheelsView,
    /// Deceleration over g that all wheels together ask of the ground.
    braking_rate: Num,
    /// The front wheels' share of what is asked of the ground.
    front_share: OrWhy<Num>,
    /// Pressure at every port of the circuit.
    ports: Vec<PortView>,
}

#[derive(Serialize, JsonSchema)]
struct AskedView {
    /// Force of the foot on the pedal.
    foot_n: Num,
    /// Force of the hand on the grip.
    hand_n: Num,
}

#[derive(Serialize, JsonSchema)]
struct LoadView {
    mass_kg: Num,
    /// Centre of gravity behind the front axle.
    cg_aft_m: Num,
    /// Centre of gravity above the ground.
    cg_height_m: Num,
    /// On both front wheels, standing.
    front_static_n: Num,
    /// On both rear wheels, standing.
    rear_static_n: Num,
}

#[derive(Serialize, JsonSchema)]
struct PedalView {
    /// Force on the master's push rod, behind the booster.
    pushrod_n: Num,
    /// Pressure of a tandem cylinder.
    master_pa: OrWhy<Num>,
    /// Pressure of the front one of twin cylinders.
    front_master_pa: OrWhy<Num>,
    /// Pressure of the rear one of twin cylinders.
    rear_master_pa: OrWhy<Num>,
    /// At the foot.
    travel_m: Num,
    /// Whether the stroke is used up before the force is; the pressures are those that it does reach.
    runs_out: bool,
    /// What takes the fluid that the pedal moves.
    taken: TakenView,
}

#[derive(Serialize, JsonSchema)]
struct LeverView {
    /// Pressure that the hand alone makes in the lever's cylinder.
    own_pa: OrWhy<Num>,
    /// At the grip.
    travel_m: OrWhy<Num>,
    /// Whether stroke or room is used up before the force is; the pressures are those that it does reach.
    runs_out: bool,
    /// Which of them.
    runs_out_of: LimitView,
    /// What takes the fluid that the lever moves.
    taken: OrWhy<TakenView>,
}

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum LimitView {
    /// Neither.
    Nothing,
    /// The cylinder's stroke.
    Stroke,
    /// The room for the grip.
    Room,
}

/// Fluid, by what takes it.
#[derive(Serialize, JsonSchema)]
struct TakenView {
    /// Pads or shoes coming up to disc or drum.
    clearance_m3: Num,
    /// Calipers and pads giving way.
    flex_m3: Num,
    /// Hoses growing.
    hoses_m3: Num,
    /// Fluid squeezed.
    fluid_m3: Num,
    /// Air squeezed.
    air_m3: Num,
}

#[derive(Serialize, JsonSchema)]
struct WheelsView {
    front_left: WheelView,
    front_right: WheelView,
    rear_left: WheelView,
    rear_right: WheelView,
}

#[derive(Serialize, JsonSchema)]
struct WheelView {
    /// At its brake; of the foot's circuit where a separate lever has calipers of its own.
    pressure_pa: Num,
    /// At a separate lever's caliper.
    lever_pressure_pa: OrWhy<Num>,
    /// Of all its brakes.
    torque_nm: Num,
    /// What the torque asks of the ground, before grip limits it.
    ground_force_n: Num,
    /// The most that the ground gives this wheel, loaded as the car brakes.
    grip_gives_n: Num,
    /// Whether more is asked than the ground gives.
    asks_more_than_grip: bool,
}

#[derive(Serialize, JsonSchema)]
struct PortView {
    /// Component and port.
    port: String,
    pressure_pa: Num,
}

impl PressuresView {
    pub(super) fn of(opened: &Opened, outcome: &Outcome) -> Self {
        let answer = &outcome.answer;
        let laden = &opened.state.laden;
        let standing = laden.axle_loads(0.0);
        Self {
            asked: AskedView {
                foot_n: outcome.asked.foot.n().into(),
                hand_n: outcome.asked.hand.n().into(),
            },
            load: LoadView {
                mass_kg: laden.mass.kg().into(),
                cg_aft_m: laden.cg_aft.m().into(),
                cg_height_m: laden.cg_height.m().into(),
                front_static_n: standing.front.n().into(),
                rear_static_n: standing.rear.n().into(),
            },
            pedal: pedal(outcome),
            lever: lever(opened, outcome),
            knee_pa: OrWhy::or(answer.knee.map(|knee| knee.pa()), "this car has no bias valve"),
            wheels: WheelsView {
                front_left: wheel(outcome, Wheel::FrontLeft),
                front_right: wheel(outcome, Wheel::FrontRight),
                rear_left: wheel(outcome, Wheel::RearLeft),
                rear_right: wheel(outcome, Wheel::RearRight),
            },
            braking_rate: answer.braking_rate.into(),
            front_share: OrWhy::or(answer.front_share, "no wheel asks anything of the ground"),
            ports: outcome
                .ports
                .iter()
                .map(|(port, pressure)| PortView {
                    port: port.clone(),
                    pressure_pa: pressure.pa().into(),
                })
                .collect(),
        }
    }
}

fn pedal(outcome: &Outcome) -> PedalView {
    let pedal = &outcome.answer.pedal;
    let [first, second] = pedal.chambers.map(|pressure| pressure.pa());
    let (one, each) = if outcome.twin {
        (None, Some((first, second)))
    } else {
        (Some(first), None)
    };
    PedalView {
        pushrod_n: pedal.push_rod.n().into(),
        master_pa: OrWhy::or(one, "twin cylinders: front_master_pa and rear_master_pa"),
        front_master_pa: OrWhy::or(each.map(|(front, _)| front), "one cylinder: master_pa"),
        rear_master_pa: OrWhy::or(each.map(|(_, rear)| rear), "one cylinder: master_pa"),
        travel_m: pedal.travel.m().into(),
        runs_out: pedal.runs_out,
        taken: taken(&pedal.taken),
    }
}

fn lever(opened: &Opened, outcome: &Outcome) -> LeverView {
    let cable =
        matches!(&opened.assembled.car.lever, Some(lever) if matches!(lever.kind, LeverKind::Cable(_)));
    let (pressure, travel, fluid) = if cable {
        (
            "a cable makes no pressure",
            "a cable's stretch is not on the sheet",
            "a cable moves no fluid",
        )
    } else {
        let none = "this car has no handbrake lever";
        (none, none, none)
    };
    let answer = outcome.answer.lever.as_ref();
    LeverView {
        own_pa: OrWhy::or(answer.and_then(|lever| lever.own).map(|own| own.pa()), pressure),
        travel_m: OrWhy::or(
            answer.and_then(|lever| lever.travel).map(|travel| travel.m()),
            travel,
        ),
        runs_out: answer.is_some_and(|lever| lever.runs_out.is_some()),
        runs_out_of: match answer.and_then(|lever| lever.runs_out) {
            None => LimitView::Nothing,
            Some(TravelEnd::Stroke) => LimitView::Stroke,
            Some(TravelEnd::Room) => LimitView::Room,
        },
        taken: OrWhy::or(answer.filter(|_| !cable).map(|lever| taken(&lever.taken)), fluid),
    }
}

fn taken(taken: &Taken) -> TakenView {
    TakenView {
        clearance_m3: taken.clearance.m3().into(),
        flex_m3: taken.flex.m3().into(),
        hoses_m3: taken.hoses.m3().into(),
        fluid_m3: taken.fluid.m3().into(),
        air_m3: taken.air.m3().into(),
    }
}

fn wheel(outcome: &Outcome, wheel: Wheel) -> WheelView {
    let WheelAnswer {
        pressure,
        lever_pressure,
        torque,
        ground_force,
    } = outcome.answer.wheels[wheel.index()];
    let gives = outcome.ground.gives(wheel.axle());
    WheelView {
        pressure_pa: pressure.pa().into(),
        lever_pressure_pa: OrWhy::or(
            lever_pressure.map(|pressure| pressure.pa()),
            "no caliper of the lever's own at this wheel",
        ),
        torque_nm: torque.nm().into(),
        ground_force_n: ground_force.n().into(),
        grip_gives_n: gives.n().into(),
        asks_more_than_grip: ground_force > gives,
    }
}

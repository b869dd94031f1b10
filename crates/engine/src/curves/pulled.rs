//! The hand's pull: pressure at the rear over travel of the grip, where it locks, where room and stroke end, and what
//! takes the travel.

use quantity::si::{Force, Length, Pressure};

use crate::car::{Car, LeverKind, Wheel};
use crate::hydraulics::{Forces, Hydraulics, TravelEnd};
use crate::lever::{LeverAnswer, ToLock};
use crate::loads::Laden;
use crate::network::{Acting, Taken};

/// One point of a pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Force of the hand.
    pub hand: Force,
    /// Travel of the grip.
    pub travel: Length,
    /// Pressure at the brakes that the lever works.
    pub pressure: Pressure,
}

/// A pull by a cylinder.
#[derive(Clone, Debug, PartialEq)]
pub struct CylinderPull {
    /// The whole pull, rising force, as if there were room and stroke enough.
    pub stations: Vec<Station>,
    /// Where the driver's pull ends, with the room and the stroke there are.
    pub driver: Station,
    /// What ended it before its force did.
    pub ended_by: Option<TravelEnd>,
    /// What it takes to lock with warm brakes; `None` where a limiting valve caps the pressure.
    pub warm: Option<Station>,
    /// The same with cold ones.
    pub cold: Option<Station>,
    /// Pressure that locks, warm and cold, whether or not it can be reached.
    pub needed: [Option<Pressure>; 2],
    /// Grip travel that there is space for.
    pub room: Length,
    /// Grip travel at which the cylinder's stroke ends.
    pub stroke_ends: Length,
    /// What takes the travel, up to `shared_at`: each with its part of the grip's travel.
    pub shares: Vec<(&'static str, Length)>,
    /// Where the shares are counted: the warm lock, or else the driver's pull.
    pub shared_at: Station,
    /// What was read on a gauge, pulling slowly; the newest.
    pub measured: Vec<(Length, Pressure)>,
}

/// The line of a pull.
#[derive(Clone, Debug, PartialEq)]
pub enum Pulled {
    /// There is no handbrake.
    NoLever,
    /// A cable does the work: there is no pressure.
    Cable {
        /// What the driver pulls.
        driver: Force,
        /// What locks with warm brakes.
        warm: Option<Force>,
        /// And with cold ones.
        cold: Option<Force>,
    },
    /// A cylinder does.
    Cylinder(Box<CylinderPull>),
}

/// Points of the curve.
const STATIONS: u8 = 48;

impl Pulled {
    /// Of a car. `hydraulics` are the car's own, warm; `answer` is the lever's at the driver's pull, `hand`.
    #[must_use]
    pub fn of(car: &Car, hydraulics: &Hydraulics, laden: &Laden, hand: Force, answer: &LeverAnswer) -> Self {
        let Some(lever) = &car.lever else {
            return Self::NoLever;
        };
        let (LeverKind::Inline(cylinder) | LeverKind::Separate(cylinder, _)) = &lever.kind else {
            return Self::Cable {
                driver: hand,
                warm: answer.to_lock.hand,
                cold: answer.cold.hand,
            };
        };
        // A load-sensing knee stands where the locked axle's load puts it.
        let set = match hydraulics.knee(answer.to_lock.rear_load) {
            Some(knee) if hydraulics.senses_load() => hydraulics.with_knee(knee),
            _ => hydraulics.clone(),
        };
        let knee = set.knee(answer.to_lock.rear_load).unwrap_or(Pressure::ZERO);
        let nodes = |own: Pressure| {
            let acting = Acting {
                first: Pressure::ZERO,
                second: Pressure::ZERO,
                own: Some(own),
                knee,
            };
            set.network.pressures(&acting)
        };
        let station = |own: Pressure| -> Option<Station> {
            let (effort, nodes) = (set.effort(own)?, nodes(own));
            let pressure = set
                .network
                .at_lever_brake(&nodes, Wheel::RearLeft)
                .unwrap_or_else(|| set.network.at_wheel(&nodes, Wheel::RearLeft));
            Some(Station {
                hand: effort.hand,
                travel: effort.travel,
                pressure,
            })
        };
        let of_lock = |lock: &ToLock| lock.own.and_then(station);
        let (warm, cold) = (of_lock(&answer.to_lock), of_lock(&answer.cold));
        let per_hand = cylinder.pressure_per_hand_pa_n();
        let most = [Some(hand), warm.map(|warm| warm.hand), cold.map(|cold| cold.hand)]
            .into_iter()
            .flatten()
            .map(Force::n)
            .filter(|hand| hand.is_finite())
            .fold(1.0, f64::max)
            * 1.08;
        let stations: Vec<Station> = (0..=STATIONS)
            .map(|step| most * per_hand * (f64::from(step) / f64::from(STATIONS)).powi(3))
            .filter_map(|own_pa| station(Pressure::from_pa(own_pa)))
            .collect();
        let pulled = set.answer(
            laden,
            Forces {
                foot: Force::ZERO,
                hand,
            },
        );
        let wheel = pulled.wheels[Wheel::RearLeft.index()];
        let driver = Station {
            hand,
            travel: pulled
                .lever
                .and_then(|lever| lever.travel)
                .unwrap_or(Length::ZERO),
            pressure: wheel.lever_pressure.unwrap_or(wheel.pressure),
        };
        let taken = match answer.to_lock.own {
            Some(own) => set.network.shares_behind_lever(&nodes(own)),
            None => pulled.lever.map_or_else(Taken::default, |lever| lever.taken),
        };
        let free_stroke = set
            .effort(Pressure::ZERO)
            .map_or(Length::ZERO, |effort| effort.stroke);
        let at_grip = |volume: quantity::si::Volume| {
            Length::from_m(volume.m3() / cylinder.pressed_area_m2() * cylinder.ratio)
        };
        let shares = vec![
            ("free play", lever.free_play),
            ("free stroke", free_stroke * cylinder.ratio),
            ("clearance", at_grip(taken.clearance)),
            ("flex", at_grip(taken.flex)),
            ("hoses", at_grip(taken.hoses)),
            ("fluid", at_grip(taken.fluid)),
            ("air", at_grip(taken.air)),
        ];
        Self::Cylinder(Box::new(CylinderPull {
            stations,
            driver,
            ended_by: pulled.lever.and_then(|lever| lever.runs_out),
            warm,
            cold,
            needed: [answer.to_lock.pressure, answer.cold.pressure],
            room: lever.room,
            stroke_ends: cylinder.stroke * cylinder.ratio + lever.free_play,
            shares,
            shared_at: warm.unwrap_or(driver),
            measured: car
                .measured
                .pull
                .last()
                .map(|pull| {
                    pull.points
                        .iter()
                        .map(|point| (point.travel, point.pressure))
                        .collect()
                })
                .unwrap_or_default(),
        }))
    }
}

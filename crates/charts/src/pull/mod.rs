//! The hand's pull: pressure at the rear over travel of the grip, where it locks, where room and stroke end, and what
//! takes the travel.

mod drawing;

use engine::car::{Car, LeverKind, Wheel};
use engine::hydraulics::{Forces, Hydraulics, Limit};
use engine::lever::{LeverAnswer, ToLock};
use engine::loads::Laden;
use engine::network::{Acting, Taken};
use quantity::si::{Force, Length, Pressure};

use crate::card::Card;
use crate::picture::{Look, Picture, Table};
use wording::{Column, named};

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
    pub ended_by: Option<Limit>,
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

/// Everything that the picture shows.
#[derive(Clone, Debug, PartialEq)]
pub enum PullCurve {
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

/// What the driver's own pull is called: it is said, where the pulls that lock are found.
const DRIVER: &str = "driver's pull";

/// Points of the curve.
const STATIONS: u8 = 48;

impl PullCurve {
    /// Asks the engine. `hydraulics` are the car's own, warm; `answer` is the lever's at the driver's pull, `hand`.
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

    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "pull", "The hand's pull");
        match self {
            Self::NoLever => {
                card.empty("This car has no handbrake to pull.");
                card.finish(
                    true,
                    Table {
                        caption: "The hand's pull".into(),
                        ..Table::default()
                    },
                )
            }
            Self::Cable { driver, warm, cold } => {
                let force = |hand: &Option<Force>| {
                    hand.map_or_else(
                        || "more than any hand".to_owned(),
                        |hand| look.precision.pull(hand, &look.units),
                    )
                };
                card.empty("A cable works the rear brakes: it makes no pressure, and how far it stretches is not computed.");
                card.say(format!(
                    "The rear locks at {} of hand warm, {} cold; the driver pulls {}.",
                    force(warm),
                    force(cold),
                    wording::pull(*driver, &look.units),
                ));
                let rows = [
                    ("locks warm", *warm),
                    ("locks cold", *cold),
                    (DRIVER, Some(*driver)),
                ];
                let column = Column::of(
                    look.units.force,
                    rows.iter().filter_map(|row| row.1).map(Force::n),
                );
                let cell = |name: &str, hand: Option<Force>| match hand {
                    Some(hand) if name != DRIVER => column.known(hand.n(), look.precision.hand),
                    hand => column.maybe(hand.map(Force::n)),
                };
                let table = Table {
                    caption: "The hand's pull on a cable".into(),
                    head: vec!["at".into(), named("hand", look.units.force)],
                    rows: rows
                        .iter()
                        .map(|(name, hand)| vec![(*name).to_owned(), cell(name, *hand)])
                        .collect(),
                };
                card.finish(true, table)
            }
            Self::Cylinder(pull) => pull.draw(card),
        }
    }
}

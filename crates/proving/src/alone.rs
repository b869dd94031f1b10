//! Holding pressure with nobody to help: to what, and how.

use engine::brake::Warmth;
use engine::car::Car;
use engine::hydraulics::{Forces, Hydraulics};
use engine::loads::Laden;
use quantity::si::{Force, Pressure};

/// Force of a prop between seat and pedal (judgement: what a length of wood and a seat give without harm to either).
pub const PROP: Force = Force::from_n(300.0);

/// Pressures that one person can hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alone {
    /// At the master: pedal propped, engine off (the booster's store used up).
    pub propped: Pressure,
    /// The same with the engine running; equal without a booster.
    pub running: Pressure,
    /// Behind the lever, strapped back at the driver's pull; `None` without a lever's cylinder.
    pub strapped: Option<Pressure>,
}

/// What a prop and a strap hold on a car.
#[must_use]
pub fn alone(car: &Car, laden: &Laden) -> Alone {
    let master = |car: &Car| {
        let asked = Forces {
            foot: PROP,
            hand: Force::ZERO,
        };
        let chambers = Hydraulics::of(car, Warmth::Cold)
            .answer(laden, asked)
            .pedal
            .chambers;
        chambers[0].max(chambers[1])
    };
    let mut unassisted = car.clone();
    unassisted.pedal.booster = None;
    let strapped = car.lever.as_ref().and_then(|lever| {
        let asked = Forces {
            foot: Force::ZERO,
            hand: lever.hand_pull,
        };
        Hydraulics::of(car, Warmth::Cold).answer(laden, asked).lever?.own
    });
    Alone {
        propped: master(&unassisted),
        running: master(car),
        strapped,
    }
}

impl Alone {
    /// How, step by step.
    #[must_use]
    pub fn how(&self, latch: bool) -> Vec<String> {
        let mut how = vec![
            "A prop cut to length between seat and pedal, padded at both ends, the seat run forward onto it. A pedal \
             prop with a screw is better. Nobody's foot, nobody under the car while it is set."
                .to_owned(),
            "Low first: a strap with the weight of a hand on the pedal, five minutes; then hard, ten \
             minutes.".to_owned(),
        ];
        if self.strapped.is_some() {
            how.push(if latch {
                "The handbrake by its latch, and a strap beside it: a latch that lets go lets go at once.".to_owned()
            } else {
                "The handbrake by a ratchet strap round grip and seat frame, pulled to the driver's pull on a \
                 luggage scale."
                    .to_owned()
            });
        }
        how.push(
            "Ignition off, or unplug the brake lamp switch: an hour of lamps empties the battery.".to_owned(),
        );
        how
    }
}

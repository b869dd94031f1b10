//! Workings of brakes: torque over pressure, and back.

use quantity::si::Pressure;

use super::{Arithmetic, Expr, Symbol};
use crate::brake::{Warmth, disc, drum};
use crate::car::{Axle, Brake, DiscBrake, DrumBrake, circle};
use crate::equations;

const DISC: &str = "two pads rub: T = 2 mu A (p - p0) eta r";
const DRUM: &str = "shoe factor: T = C A (p - p0) eta r";

/// Which brake of the car is meant, with the signs of its figures.
#[derive(Clone, Copy)]
pub(super) struct WorkedBrake {
    pub(super) axle: Axle,
    /// A separate lever's second caliper.
    pub(super) second: bool,
}

impl WorkedBrake {
    const fn pick(self, front: &'static str, rear: &'static str, second: &'static str) -> &'static str {
        match (self.axle, self.second) {
            (Axle::Front, _) => front,
            (Axle::Rear, false) => rear,
            (Axle::Rear, true) => second,
        }
    }
}

impl Arithmetic<'_> {
    fn brake_at(&self, place: WorkedBrake) -> Option<Brake> {
        if place.second {
            return self.asked.car.lever.as_ref().and_then(|lever| match &lever.kind {
                crate::car::LeverKind::Separate(_, brake) => Some(Brake::Disc(brake.clone())),
                _ => None,
            });
        }
        Some(self.asked.car.brake(place.axle).clone())
    }

    /// Torque of one wheel's brake per pressure above its threshold.
    pub(super) fn gain(&mut self, place: WorkedBrake) -> Option<[Symbol; 2]> {
        let sign = place.pick("k_front", "k_rear", "k_second");
        let threshold = |pressure: Pressure| {
            Symbol::computed(
                place.pick("p0_front", "p0_rear", "p0_second"),
                "pressure that only moves pads or shoes up",
                pressure.pa(),
                "Pa",
            )
        };
        match self.brake_at(place)? {
            Brake::Disc(brake) => {
                let gain = self.disc_gain(&brake, place, sign);
                Some([gain, threshold(disc::THRESHOLD)])
            }
            Brake::Drum(brake) => {
                let gain = self.drum_gain(&brake, sign);
                Some([gain, threshold(drum::THRESHOLD)])
            }
        }
    }

    fn disc_gain(&mut self, brake: &DiscBrake, place: WorkedBrake, sign: &'static str) -> Symbol {
        let (friction, key) = match self.asked.warmth {
            Warmth::Warm => (
                brake.friction.warm,
                place.pick(
                    "front_brake.pad.friction",
                    "rear_brake.pad.friction",
                    "lever_brake.pad.friction",
                ),
            ),
            Warmth::Cold => (
                brake.friction.cold,
                place.pick(
                    "front_brake.pad.cold_friction",
                    "rear_brake.pad.cold_friction",
                    "lever_brake.pad.cold_friction",
                ),
            ),
        };
        let friction = Symbol::of_key(
            place.pick("mu_front", "mu_rear", "mu_second"),
            "friction of the pads",
            friction,
            "",
            key,
        );
        let area = Symbol::of_key(
            place.pick("A_front", "A_rear", "A_second"),
            "piston area that presses one pad",
            brake.caliper.piston_area().m2(),
            "m²",
            place.pick(
                "front_brake.caliper.pistons",
                "rear_brake.caliper.pistons",
                "lever_brake.caliper.pistons",
            ),
        );
        let radius = Symbol::of_key(
            place.pick("r_front", "r_rear", "r_second"),
            "effective radius",
            brake.effective_radius.m(),
            "m",
            place.pick(
                "front_brake.effective_radius",
                "rear_brake.effective_radius",
                "lever_brake.effective_radius",
            ),
        );
        let efficiency = Symbol::computed("eta_caliper", "what seals and slides leave", disc::EFFICIENCY, "");
        let value = disc::torque_law(brake, self.asked.warmth).gain_nm_pa;
        self.line(
            Symbol::computed(sign, "torque of one wheel per pressure", value, "N m/Pa"),
            equations::disc_gain(
                Expr::from(friction),
                area.into(),
                efficiency.into(),
                radius.into(),
            ),
            DISC,
            "pads bear evenly",
        )
    }

    fn drum_gain(&mut self, brake: &DrumBrake, sign: &'static str) -> Symbol {
        let factor = match self.asked.warmth {
            Warmth::Warm => brake.factor,
            Warmth::Cold => brake.cold_factor,
        };
        let factor = Symbol::computed("C_shoes", "shoe factor", factor, "");
        let area = Symbol::computed(
            "A_cylinder",
            "area of the wheel cylinder",
            circle(brake.cylinder_bore).m2(),
            "m²",
        );
        let efficiency = Symbol::computed("eta_cylinder", "what the seals leave", drum::EFFICIENCY, "");
        let radius = Symbol::computed("r_drum", "inside radius of the drum", brake.drum_radius.m(), "m");
        let value = drum::torque_law(brake, self.asked.warmth).gain_nm_pa;
        self.line(
            Symbol::computed(sign, "torque of one wheel per pressure", value, "N m/Pa"),
            equations::drum_gain(Expr::from(factor), area.into(), efficiency.into(), radius.into()),
            DRUM,
            "shoes bedded in",
        )
    }

    /// What an axle's two brakes ask of the ground at a pressure: `2 k (p - p0)/R`.
    pub(super) fn axle_force(&mut self, axle: Axle, pressure: &Symbol, force_n: f64) -> Option<Symbol> {
        let place = WorkedBrake { axle, second: false };
        let [gain, threshold] = self.gain(place)?;
        let radius = self.radius(axle);
        let torque = equations::torque(Expr::from(gain), pressure.into(), threshold.into());
        Some(self.line(
            Symbol::computed(
                place.pick("B_f", "B_r", "B_r"),
                "what the axle's brakes ask of the ground",
                force_n,
                "N",
            ),
            equations::both_wheels(equations::over(torque, radius.into())),
            "torque over rolling radius, two wheels",
            "the wheels' own inertia is left out",
        ))
    }
}

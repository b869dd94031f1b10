//! Workings of what the wheels carry.

use quantity::si::Force;

use super::{Arithmetic, Expr, Symbol};
use crate::GRAVITY_M_S2;
use crate::car::{Axle, CgHeight};
use crate::loads::Grade;

const BY_MOMENTS: &str = "moments about the front axle, or the ground";
const REGULATION: &str = "statics; the form of UN Regulation 13-H, Annex 5 (from memory)";

impl Arithmetic<'_> {
    pub(super) fn gravity() -> Symbol {
        Symbol::computed("g", "gravity", GRAVITY_M_S2, "m/s²")
    }

    /// Everything that stands on the wheels: mass, place behind the front axle, height, each with its sign.
    fn points(&self) -> Vec<[Symbol; 3]> {
        let asked = self.asked;
        let weighed = asked.car.weighed;
        let kg = weighed.front.kg() + weighed.rear.kg();
        let mut points = vec![[
            Symbol::computed("m_weighed", "mass as weighed", kg, "kg"),
            Symbol::computed(
                "a_weighed",
                "its centre of gravity behind the front axle",
                self.weighed_aft_m(),
                "m",
            ),
            Symbol::computed(
                "h_weighed",
                "its centre of gravity above the ground",
                self.weighed_height_m(),
                "m",
            ),
        ]];
        let [crew, items, fuel] = asked.laden.aboard_parts(asked.car);
        for (part, signs) in [
            (
                crew,
                [
                    ("m_crew", "crew"),
                    ("a_crew", "crew behind the front axle"),
                    ("h_crew", "crew above the ground"),
                ],
            ),
            (
                items,
                [
                    ("m_items", "items"),
                    ("a_items", "items behind the front axle"),
                    ("h_items", "items above the ground"),
                ],
            ),
            (
                fuel,
                [
                    ("m_fuel", "fuel over what was weighed"),
                    ("a_fuel", "tank behind the front axle"),
                    ("h_fuel", "fuel above the ground"),
                ],
            ),
        ] {
            let Some(part) = part else { continue };
            let [(m, mass), (a, aft), (h, height)] = signs;
            points.push([
                Symbol::computed(m, mass, part.mass.kg(), "kg"),
                Symbol::computed(a, aft, part.aft.m(), "m"),
                Symbol::computed(h, height, part.height.m(), "m"),
            ]);
        }
        points
    }

    fn weighed_aft_m(&self) -> f64 {
        let weighed = self.asked.car.weighed;
        self.asked.car.geometry.wheelbase.m() * weighed.rear.kg() / (weighed.front.kg() + weighed.rear.kg())
    }

    fn weighed_height_m(&self) -> f64 {
        crate::loads::cg_height_as_weighed(self.asked.car).m()
    }

    pub(super) fn wheelbase(&self) -> Symbol {
        Symbol::of_key(
            "L",
            "wheelbase",
            self.asked.car.geometry.wheelbase.m(),
            "m",
            "geometry.wheelbase",
        )
    }

    pub(super) fn mass(&mut self) -> Option<Symbol> {
        let weighed = self.asked.car.weighed;
        let front = Symbol::of_key(
            "m_f",
            "front wheels on the scales",
            weighed.front.kg(),
            "kg",
            "weighed.front",
        );
        let rear = self.rear_on_scales();
        let [weighed, ..] = self.points()[0].clone();
        self.line(weighed, Expr::from(front) + rear.into(), "the scales", "");
        let parts: Vec<Expr> = self.points().into_iter().map(|[mass, ..]| mass.into()).collect();
        let all = self.laden_mass();
        Some(self.line(
            all,
            Expr::Sum(parts),
            "sum",
            "the litres weighed are replaced by the litres asked for",
        ))
    }

    /// Centre of gravity behind the front axle.
    pub(super) fn cg_aft(&mut self) -> Symbol {
        if let Some(known) = self.known("a") {
            return known;
        }
        self.mass();
        let rear = self.rear_on_scales();
        let [[mass, aft, _], ..] = &self.points()[..] else {
            return Self::gravity();
        };
        let (mass, aft) = (mass.clone(), aft.clone());
        let wheelbase = self.wheelbase();
        self.line(
            aft,
            Expr::from(wheelbase) * rear.into() / mass.into(),
            BY_MOMENTS,
            "",
        );
        let all = self.laden_mass();
        let moments: Vec<Expr> = self
            .points()
            .into_iter()
            .map(|[mass, aft, _]| Expr::from(mass) * aft.into())
            .collect();
        let result = Symbol::computed(
            "a",
            "centre of gravity behind the front axle",
            self.asked.laden.cg_aft.m(),
            "m",
        );
        self.line(result, Expr::Sum(moments) / all.into(), BY_MOMENTS, "")
    }

    pub(super) fn cg_height(&mut self) -> Option<Symbol> {
        if let Some(known) = self.known("h") {
            return Some(known);
        }
        self.mass();
        self.raised();
        let all = self.laden_mass();
        let moments: Vec<Expr> = self
            .points()
            .into_iter()
            .enumerate()
            .map(|(number, [mass, _, mut height])| {
                if number == 0 && matches!(self.asked.car.weighed.cg_height, CgHeight::Height(_)) {
                    height.key = Some("weighed.cg_height");
                }
                Expr::from(mass) * height.into()
            })
            .collect();
        let result = Symbol::computed(
            "h",
            "height of the centre of gravity",
            self.asked.laden.cg_height.m(),
            "m",
        );
        Some(self.line(result, Expr::Sum(moments) / all.into(), BY_MOMENTS, ""))
    }

    fn raised(&mut self) {
        let CgHeight::Raised { by, gain, .. } = self.asked.car.weighed.cg_height else {
            return;
        };
        let (car, tyres) = (self.asked.car, self.asked.car.tyres);
        let total = car.weighed.front.kg() + car.weighed.rear.kg();
        let aft = self.weighed_aft_m();
        let wheelbase = self.wheelbase();
        let front = self.radius(Axle::Front);
        let rear = self.radius(Axle::Rear);
        let aft = Symbol::computed(
            "a_weighed",
            "its centre of gravity behind the front axle",
            aft,
            "m",
        );
        let on_axles = (tyres.front_radius.m() * (wheelbase.value - aft.value)
            + tyres.rear_radius.m() * aft.value)
            / wheelbase.value;
        let on_axles = self.line(
            Symbol::computed(
                "R_cg",
                "line of the hubs under the centre of gravity",
                on_axles,
                "m",
            ),
            (Expr::from(front) * (Expr::from(&wheelbase) - Expr::from(&aft)) + Expr::from(rear) * aft.into())
                / Expr::from(&wheelbase),
            BY_MOMENTS,
            "suspension blocked",
        );
        let gain = Symbol::computed("dm", "what the standing axle gained", gain.kg(), "kg");
        let by = Symbol::of_key(
            "H",
            "how far the other axle was lifted",
            by.m(),
            "m",
            "weighed.cg_raise.by",
        );
        let total = Symbol::computed("m_weighed", "mass as weighed", total, "kg");
        let height = Symbol::computed(
            "h_weighed",
            "its centre of gravity above the ground",
            self.weighed_height_m(),
            "m",
        );
        let reach = Expr::SquareRoot(Box::new(
            Expr::Power(Box::new(Expr::from(&wheelbase)), 2.0) - Expr::Power(Box::new(Expr::from(&by)), 2.0),
        ));
        self.line(
            height,
            Expr::from(on_axles)
                + Expr::from(gain) * Expr::from(&wheelbase) * reach / (Expr::from(total) * Expr::from(&by)),
            "moments about the standing axle",
            "wheels free to roll, tank full or empty",
        );
    }

    /// Load of an axle at a braking rate.
    pub(super) fn axle_load(&mut self, axle: Axle, rate: &Symbol) -> Symbol {
        let aft = self.cg_aft();
        let Some(height) = self.cg_height() else {
            return aft;
        };
        let mass = self.laden_mass();
        let wheelbase = self.wheelbase();
        let loads = self.asked.laden.axle_loads(rate.value);
        let per_length = Expr::from(mass) * Self::gravity().into() / Expr::from(&wheelbase);
        let moved = Expr::from(rate) * height.into();
        let (sign, meaning, load, formula): (_, _, Force, Expr) = match axle {
            Axle::Front => (
                "N_f",
                "load of the front axle while braking",
                loads.front,
                per_length * (self.pressed(Expr::from(&wheelbase) - Expr::from(aft)) + moved),
            ),
            Axle::Rear => (
                "N_r",
                "load of the rear axle while braking",
                loads.rear,
                per_length * (self.pressed(Expr::from(aft)) - moved),
            ),
        };
        self.line(
            Symbol::computed(sign, meaning, load.n(), "N"),
            formula,
            REGULATION,
            if self.on_a_slope() {
                "steady braking, no air"
            } else {
                "level road, steady braking, no air"
            },
        )
    }

    pub(super) fn on_a_slope(&self) -> bool {
        self.asked.laden.grade != Grade::LEVEL
    }

    /// What presses on the road of an expression: on a slope, by the cosine of its angle.
    pub(super) fn pressed(&self, whole: Expr) -> Expr {
        if !self.on_a_slope() {
            return whole;
        }
        let cosine = self.asked.laden.grade.presses();
        whole * Symbol::computed("c_s", "cosine of the slope's angle", cosine, "").into()
    }

    /// What z is: on the level a deceleration, on a slope the braking force over weight.
    pub(super) fn rate_is(&self, on_the_level: &'static str, on_a_slope: &'static str) -> &'static str {
        if self.on_a_slope() {
            on_a_slope
        } else {
            on_the_level
        }
    }

    pub(super) fn weight(&mut self) -> Expr {
        self.mass();
        let mass = self.laden_mass();
        Expr::from(mass) * Self::gravity().into()
    }
}

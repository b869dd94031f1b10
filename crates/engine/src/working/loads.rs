//! Workings of what the wheels carry.

use quantity::si::Force;

use super::{Arithmetic, Expr, Symbol};
use crate::GRAVITY_M_S2;
use crate::car::aboard::weighed_point;
use crate::car::{Axle, CgHeight};
use crate::equations;
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
        let weighed = weighed_point(asked.car);
        let mut points = vec![[
            Symbol::computed("m_weighed", "mass as weighed", weighed.mass.kg(), "kg"),
            Symbol::computed(
                "a_weighed",
                "its centre of gravity behind the front axle",
                weighed.aft.m(),
                "m",
            ),
            Symbol::computed(
                "h_weighed",
                "its centre of gravity above the ground",
                weighed.height.m(),
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
        self.line(
            weighed,
            equations::sum([front.into(), rear.into()]),
            "both axles on the scales, together",
            "",
        );
        let parts: Vec<Expr> = self.points().into_iter().map(|[mass, ..]| mass.into()).collect();
        let all = self.laden_mass();
        Some(self.line(
            all,
            equations::sum(parts),
            "all that is weighed and counted aboard, together",
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
            equations::aft_by_scales(Expr::from(wheelbase), rear.into(), mass.into()),
            BY_MOMENTS,
            "",
        );
        let all = self.laden_mass();
        let places = self
            .points()
            .into_iter()
            .map(|[mass, aft, _]| (mass.into(), aft.into()));
        let formula = equations::common_centre(places, Expr::from(all));
        let result = Symbol::computed(
            "a",
            "centre of gravity behind the front axle",
            self.asked.laden.cg_aft.m(),
            "m",
        );
        self.line(result, formula, BY_MOMENTS, "")
    }

    pub(super) fn cg_height(&mut self) -> Option<Symbol> {
        if let Some(known) = self.known("h") {
            return Some(known);
        }
        self.mass();
        self.raised();
        let all = self.laden_mass();
        let places: Vec<(Expr, Expr)> = self
            .points()
            .into_iter()
            .enumerate()
            .map(|(number, [mass, _, mut height])| {
                if number == 0 && matches!(self.asked.car.weighed.cg_height, CgHeight::Height(_)) {
                    height.key = Some("weighed.cg_height");
                }
                (mass.into(), height.into())
            })
            .collect();
        let result = Symbol::computed(
            "h",
            "height of the centre of gravity",
            self.asked.laden.cg_height.m(),
            "m",
        );
        let formula = equations::common_centre(places, Expr::from(all));
        Some(self.line(result, formula, BY_MOMENTS, ""))
    }

    fn raised(&mut self) {
        let CgHeight::Raised { by, gain, .. } = self.asked.car.weighed.cg_height else {
            return;
        };
        let [[total, aft, height], ..] = &self.points()[..] else {
            return;
        };
        let (total, aft, height) = (total.clone(), aft.clone(), height.clone());
        let wheelbase = self.wheelbase();
        let (front, rear) = (self.radius(Axle::Front), self.radius(Axle::Rear));
        let hub_line = self.worked(
            ("R_cg", "line of the hubs under the centre of gravity", "m"),
            equations::hub_line(Expr::from(front), rear.into(), (&wheelbase).into(), aft.into()),
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
        self.line(
            height,
            equations::height_by_lifting(
                Expr::from(hub_line),
                gain.into(),
                wheelbase.into(),
                by.into(),
                total.into(),
            ),
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
        let [front, rear] = equations::axle_loads(
            equations::weight(Expr::from(mass), Self::gravity().into()),
            wheelbase.into(),
            aft.into(),
            height.into(),
            self.presses(),
            rate.into(),
        );
        let (sign, meaning, load, formula): (_, _, Force, Expr) = match axle {
            Axle::Front => ("N_f", "load of the front axle while braking", loads.front, front),
            Axle::Rear => ("N_r", "load of the rear axle while braking", loads.rear, rear),
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

    /// Share of the weight that presses on the road: one on the level, where it is not written.
    pub(super) fn presses(&self) -> Expr {
        if !self.on_a_slope() {
            return Expr::from(1.0);
        }
        let cosine = self.asked.laden.grade.presses();
        Symbol::computed("c_s", "cosine of the slope's angle", cosine, "").into()
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
        equations::weight(mass.into(), Self::gravity().into())
    }
}

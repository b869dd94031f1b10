//! Workings of a stage's heat: what is in closed form; temperatures that were followed over time say so.

use quantity::si::{Speed, Temperature};

use super::{Arithmetic, Expr, FROM_ABSOLUTE_ZERO, Symbol, TEMPERATURE, TEMPERATURE_DIFFERENCE};
use crate::car::Axle;
use crate::equations::{self, Num};
use crate::heat::{CornerHeat, Heat};
use crate::thermal::{EMISSIVITY, STEFAN_BOLTZMANN_W_M2_K4, convection_w_m2_k, iron_j_kg_k};
use crate::thresholds::WET_AFTER_DAYS;

const FOLLOWED: &str = "followed over stage and soak, step by step (integrated)";
const AS_OLD: &str = "from dry to wet within two years, fastest at first (from memory, judgement)";

impl Arithmetic<'_> {
    fn driven(&self) -> Option<Heat> {
        let (bench, stage) = self.asked.stage.as_ref()?;
        bench.drive(stage).ok()
    }

    fn air(&self) -> Option<Symbol> {
        let (bench, _) = self.asked.stage.as_ref()?;
        Some(Symbol::computed(
            "T_air",
            "the air, and the brakes at the start",
            bench.ambient().k(),
            TEMPERATURE,
        ))
    }

    /// Hottest disc or drum.
    pub(super) fn disc_peak(&mut self) -> Option<Symbol> {
        let heat = self.driven()?;
        let axle = if heat.rear.disc_peak > heat.front.disc_peak {
            Axle::Rear
        } else {
            Axle::Front
        };
        let peak = heat.corner(axle).disc_peak;
        let air = self.air()?;
        let above = Symbol::computed(
            "dT",
            "what the brakings left in it, over the air",
            (peak - Temperature::from_k(air.value)).dk(),
            TEMPERATURE_DIFFERENCE,
        );
        let peak = self.line(
            Symbol::computed("T_disc", "hottest disc or drum", peak.k(), TEMPERATURE),
            Expr::from(&air) + above.into(),
            FOLLOWED,
            "two stores of heat a wheel; each braking shared as the pads grip at their temperature",
        );
        Some(peak)
    }

    /// How long the hottest disc or drum would take to lose what it holds, at the stage's mean speed.
    pub(super) fn cooling_time(&mut self) -> Option<Symbol> {
        let heat = self.driven()?;
        let hottest = self.disc_peak()?;
        let air = self.air()?;
        let axle = if heat.rear.disc_peak > heat.front.disc_peak {
            Axle::Rear
        } else {
            Axle::Front
        };
        let (bench, _) = self.asked.stage.as_ref()?;
        let corner = *bench.corner_of(axle);
        let mean = Speed::from_m_s(heat.distance.m() / heat.driven.s());
        let disc = Temperature::from_k(hottest.value);
        let symbol = Symbol::computed;
        let mass = symbol("m_disc", "its iron", corner.iron().kg(), "kg");
        let specific = symbol(
            "c",
            "specific heat of iron at that temperature",
            iron_j_kg_k(disc),
            "J/(kg K)",
        );
        let convection = symbol(
            "h",
            "heat that moving air takes, at the stage's mean speed",
            convection_w_m2_k(mean),
            "W/(m² K)",
        );
        let blown = symbol(
            "A_air",
            "area that the air takes heat from",
            corner.blown().m2(),
            "m²",
        );
        let plain = symbol("A_rad", "area that radiates", corner.plain().m2(), "m²");
        let emissivity = symbol("eps", "emissivity", EMISSIVITY, "");
        let constant = symbol(
            "sigma",
            "Stefan-Boltzmann constant",
            STEFAN_BOLTZMANN_W_M2_K4,
            "W/(m² K⁴)",
        );
        let mut from_zero = |sign, meaning, of: &Symbol| {
            self.line(
                symbol(sign, meaning, of.value, FROM_ABSOLUTE_ZERO),
                Expr::from(of),
                "0 °C is 273.15 K",
                "",
            )
        };
        let radiated = equations::radiated_per_k(
            Expr::from(emissivity),
            constant.into(),
            plain.into(),
            from_zero(
                "T_disc0",
                "the disc or drum, counted from absolute zero",
                &hottest,
            )
            .into(),
            from_zero("T_air0", "the air, counted from absolute zero", &air).into(),
        );
        let blown = equations::blown_per_k(Expr::from(convection), blown.into());
        Some(
            self.line(
                symbol(
                    "tau",
                    "time in which it would lose what it holds, at that rate",
                    corner
                        .cooling_time(disc, Temperature::from_k(air.value), mean)
                        .s(),
                    "s",
                ),
                equations::cooling_time(Expr::from(mass), specific.into(), blown, radiated),
                "heat held over heat that air and radiation take a kelvin",
                "its caliper apart",
            ),
        )
    }

    /// The axle whose fluid has least left to its boiling point at its age.
    fn nearest_to_boiling(&self, heat: &Heat) -> Axle {
        if heat.rear.to_now < heat.front.to_now {
            Axle::Rear
        } else {
            Axle::Front
        }
    }

    /// Hottest fluid while the car is driven.
    pub(super) fn fluid_running(&mut self) -> Option<Symbol> {
        let heat = self.driven()?;
        let at: CornerHeat = *heat.corner(self.nearest_to_boiling(&heat));
        self.fluid("T_run", "hottest fluid while driving", "dT_run", at.fluid_running)
    }

    /// Hottest fluid after it stopped.
    pub(super) fn fluid_soak(&mut self) -> Option<Symbol> {
        let heat = self.driven()?;
        let at: CornerHeat = *heat.corner(self.nearest_to_boiling(&heat));
        self.fluid(
            "T_soak",
            "hottest fluid in the soak after",
            "dT_soak",
            at.fluid_soak,
        )
    }

    fn fluid(
        &mut self,
        sign: &'static str,
        meaning: &'static str,
        above: &'static str,
        hottest: Temperature,
    ) -> Option<Symbol> {
        let air = self.air()?;
        let above = Symbol::computed(
            above,
            "what reached the caliper and stayed in it, over the air",
            (hottest - Temperature::from_k(air.value)).dk(),
            TEMPERATURE_DIFFERENCE,
        );
        Some(self.line(
            Symbol::computed(sign, meaning, hottest.k(), TEMPERATURE),
            Expr::from(air) + above.into(),
            FOLLOWED,
            "the fluid is as hot as its caliper or wheel cylinder",
        ))
    }

    /// What is left to the boiling point at the fluid's age.
    pub(super) fn fluid_margin(&mut self) -> Option<Symbol> {
        let heat = self.driven()?;
        let at: CornerHeat = *heat.corner(self.nearest_to_boiling(&heat));
        let (running, soak) = (self.fluid_running()?, self.fluid_soak()?);
        let days = heat.boiling.days.map_or(WET_AFTER_DAYS, f64::from);
        let days = Symbol::computed(
            "n_days",
            if heat.boiling.days.is_some() {
                "age of the fluid in days"
            } else {
                "age of the fluid in days: not known, taken as wet"
            },
            days,
            "",
        );
        let wet_after = Symbol::computed("n_wet", "days after which it counts as wet", WET_AFTER_DAYS, "");
        let aged = self.worked(
            ("s_age", "share of the way from dry to wet", ""),
            equations::share_aged(Expr::from(days), wet_after.into()),
            AS_OLD,
            "",
        );
        let key = |sign, meaning, value, key| Symbol::of_key(sign, meaning, value, TEMPERATURE, key);
        let dry = key(
            "T_dry",
            "boiling point, fresh",
            heat.boiling.dry.k(),
            "fluid.boiling.dry",
        );
        let wet = key(
            "T_wet",
            "boiling point, wet",
            heat.boiling.wet.k(),
            "fluid.boiling.wet",
        );
        let boils = self.line(
            Symbol::computed(
                "T_boil",
                "boiling point at its age",
                heat.boiling.now.k(),
                TEMPERATURE,
            ),
            equations::boiling_point(Expr::from(dry), wet.into(), aged.into()),
            AS_OLD,
            "",
        );
        Some(self.line(
            Symbol::computed(
                "M_fluid",
                "what is left to the boiling point, at the worse axle",
                at.to_now.dk(),
                TEMPERATURE_DIFFERENCE,
            ),
            equations::left_to_boil(Expr::from(boils), Expr::from(running).most(soak.into())),
            "one temperature taken from the other",
            "below zero: it boils",
        ))
    }
}

//! Quantities that stand in many workings, each with its one sign.

use quantity::si::{Length, Pressure};

use super::{Arithmetic, Symbol};
use crate::car::{Axle, BalanceBar, Booster, LeverCylinder, Pedal, circle};

impl Symbol {
    pub(super) fn pedal_ratio(pedal: &Pedal) -> Self {
        Self::of_key("i_pedal", "pedal ratio", pedal.ratio, "", "pedal.ratio")
    }

    pub(super) fn pedal_efficiency(pedal: &Pedal) -> Self {
        Self::of_key(
            "eta_pedal",
            "efficiency of the pedal",
            pedal.efficiency,
            "",
            "pedal.efficiency",
        )
    }

    pub(super) fn booster_gain(booster: &Booster) -> Self {
        Self::of_key("G", "gain of the booster", booster.gain, "", "pedal.booster.gain")
    }

    pub(super) fn preload(pedal: &Pedal) -> Self {
        Self::of_key(
            "F_preload",
            "preload of the pedal",
            pedal.preload.n(),
            "N",
            "pedal.preload",
        )
    }

    pub(super) fn jump_in_n(force_n: f64) -> Self {
        Self::computed("F_jump", "rod force at jump-in", force_n, "N")
    }

    pub(super) fn run_out_n(force_n: f64) -> Self {
        Self::computed("F_runout", "rod force at run-out", force_n, "N")
    }

    pub(super) fn master_area(bore: Length) -> Self {
        Self::of_key(
            "A_master",
            "area of the master cylinder",
            circle(bore).m2(),
            "m²",
            "master.bore",
        )
    }

    pub(super) fn front_cylinder_area(bore: Length) -> Self {
        Self::of_key(
            "A_mf",
            "area of the front cylinder",
            circle(bore).m2(),
            "m²",
            "master.front_bore",
        )
    }

    pub(super) fn rear_cylinder_area(bore: Length) -> Self {
        Self::of_key(
            "A_mr",
            "area of the rear cylinder",
            circle(bore).m2(),
            "m²",
            "master.rear_bore",
        )
    }

    pub(super) fn bar_share(bar: &BalanceBar) -> Self {
        Self::of_key(
            "s_bar",
            "front share of the bar",
            bar.front_share,
            "",
            "master.bar.front_share",
        )
    }

    pub(super) fn knee(knee: Pressure) -> Self {
        Self::computed("p_knee", "knee of the bias valve", knee.pa(), "Pa")
    }

    pub(super) fn slope(slope: f64) -> Self {
        Self::of_key("s", "slope of the bias valve", slope, "", "bias_valve.slope")
    }

    pub(super) fn lever_ratio(cylinder: &LeverCylinder) -> Self {
        Self::of_key("i_lever", "lever ratio", cylinder.ratio, "", "lever.ratio")
    }

    pub(super) fn lever_efficiency(cylinder: &LeverCylinder) -> Self {
        Self::of_key(
            "eta_lever",
            "efficiency of the lever",
            cylinder.efficiency,
            "",
            "lever.efficiency",
        )
    }
}

impl Arithmetic<'_> {
    pub(super) fn radius(&self, axle: Axle) -> Symbol {
        let (sign, apart) = if axle == Axle::Front {
            ("R_f", "tyres.front")
        } else {
            ("R_r", "tyres.rear")
        };
        let tyres = self.asked.car.tyres;
        let key = if tyres.front_radius == tyres.rear_radius {
            "tyres.rolling_radius"
        } else {
            apart
        };
        Symbol::of_key(
            sign,
            "rolling radius",
            self.asked.hydraulics.radius(axle).m(),
            "m",
            key,
        )
    }

    pub(super) fn grip(&self) -> Symbol {
        Symbol::computed("mu", "grip of the surface", self.asked.grip, "")
    }

    pub(super) fn laden_mass(&self) -> Symbol {
        Symbol::computed(
            "m",
            "mass of the car as it stands",
            self.asked.laden.mass.kg(),
            "kg",
        )
    }

    pub(super) fn rear_on_scales(&self) -> Symbol {
        let rear = self.asked.car.weighed.rear;
        Symbol::of_key(
            "m_r",
            "rear wheels on the scales",
            rear.kg(),
            "kg",
            "weighed.rear",
        )
    }
}

//! From the foot to the master cylinder's pressures, and back.

use quantity::si::{Area, Force, Length, Pressure, Volume};

use crate::car::{Booster, Car, Master, Pedal, circle};
use crate::equations;

/// The booster's two lines.
#[derive(Clone, Copy, Debug)]
struct Helped {
    gain: f64,
    /// Push-rod force at which the boosted line meets a foot of zero (N).
    jump_in_n: f64,
    /// Push-rod force at which it stops helping (N).
    run_out_n: f64,
    /// Foot force there (N).
    run_out_foot_n: f64,
}

impl Helped {
    /// Push-rod force on the two lines, whether the booster is awake or not (N).
    fn push_rod_n(&self, foot_n: f64, per_foot: f64) -> f64 {
        if foot_n <= self.run_out_foot_n {
            equations::helped_rod(self.jump_in_n, self.gain, foot_n, per_foot)
        } else {
            equations::rod_beyond(self.run_out_n, foot_n, self.run_out_foot_n, per_foot)
        }
    }
}

/// The pedal with its cylinder or cylinders, prepared.
#[derive(Clone, Copy, Debug)]
pub struct FootLaw {
    per_foot: f64,
    /// Foot force that moves nothing without assistance (N); 0 with it.
    preload_n: f64,
    helped: Option<Helped>,
    /// Push-rod force per pressure of the first and the second chamber (m²).
    area_over_share_m2: [f64; 2],
    bores_m2: [f64; 2],
    twin: bool,
    front_share: f64,
    stroke_m: f64,
    pedal_ratio: f64,
}

impl FootLaw {
    /// Of a car. A booster's pressures over twin cylinders are rod forces that would put both at them.
    #[must_use]
    pub fn of(car: &Car) -> Self {
        let Pedal {
            ratio,
            efficiency,
            preload,
            booster,
        } = car.pedal;
        let per_foot = equations::rod_per_foot(ratio, efficiency);
        let (bores, twin, front_share, stroke) = match car.master {
            Master::Tandem { bore, stroke, .. } => ([bore; 2], false, 0.5, stroke),
            Master::Twin {
                front_bore,
                rear_bore,
                stroke,
                bar,
                ..
            } => ([front_bore, rear_bore], true, bar.front_share, stroke),
        };
        let boosted_m2 = car.master.boosted_area().m2();
        let helped = booster.map(|booster| {
            let [jump_in_n, run_out_n] = [booster.jump_in, booster.run_out]
                .map(|pressure| equations::rod_for_pressure(pressure.pa(), boosted_m2));
            Helped {
                gain: booster.gain,
                jump_in_n,
                run_out_n,
                run_out_foot_n: equations::helped_foot(run_out_n, jump_in_n, booster.gain, per_foot),
            }
        });
        Self {
            per_foot,
            preload_n: if helped.is_some() { 0.0 } else { preload.n() },
            helped,
            area_over_share_m2: car.master.rod_per_pressure().map(Area::m2),
            bores_m2: bores.map(|bore| circle(bore).m2()),
            twin,
            front_share,
            stroke_m: stroke.m(),
            pedal_ratio: ratio,
        }
    }

    /// Force on the master's push rod. Without a booster `(F − preload)⁺ · ratio · η`. Behind a booster nothing below
    /// 20 N of foot; from there on jump-in and `gain · F · ratio · η` up to run-out, then one for one.
    #[must_use]
    pub fn push_rod(&self, foot: Force) -> Force {
        let foot_n = foot.n();
        Force::from_n(match self.helped {
            None => equations::unhelped_rod(foot_n, self.preload_n, self.per_foot),
            Some(_) if foot_n < Booster::WAKES.n() => 0.0,
            Some(helped) => helped.push_rod_n(foot_n, self.per_foot),
        })
    }

    /// Foot force for a push-rod force. Whatever the leap passes through belongs to the foot that wakes the booster.
    #[must_use]
    pub fn foot(&self, push_rod: Force) -> Force {
        let out = push_rod.n();
        if out <= 0.0 {
            return Force::ZERO;
        }
        let Some(helped) = self.helped else {
            return Force::from_n(equations::unhelped_foot(self.preload_n, out, self.per_foot));
        };
        let on_the_lines = if out <= helped.run_out_n {
            equations::helped_foot(out, helped.jump_in_n, helped.gain, self.per_foot)
        } else {
            equations::foot_beyond(helped.run_out_foot_n, out, helped.run_out_n, self.per_foot)
        };
        Force::from_n(on_the_lines).max(Booster::WAKES)
    }

    /// Pressures of the first and second chamber under a push-rod force, as long as the cylinders do not run out.
    #[must_use]
    pub fn pressures(&self, push_rod: Force) -> [Pressure; 2] {
        self.area_over_share_m2
            .map(|area| Pressure::from_pa(equations::chamber_pressure(push_rod.n(), area)))
    }

    /// Push-rod force for a pressure of one chamber (0 first, 1 second).
    #[must_use]
    pub fn push_rod_for(&self, chamber: usize, pressure: Pressure) -> Force {
        Force::from_n(equations::rod_for_pressure(
            pressure.pa(),
            self.area_over_share_m2[chamber.min(1)],
        ))
    }

    /// Rod forces at a booster's jump-in and run-out, and the foot at run-out; `None` without one.
    pub(crate) fn helped_ends(&self) -> Option<([Force; 2], Force)> {
        let helped = self.helped?;
        Some((
            [helped.jump_in_n, helped.run_out_n].map(Force::from_n),
            Force::from_n(helped.run_out_foot_n),
        ))
    }

    /// Whether there are two cylinders, each with a stroke of its own.
    #[must_use]
    pub const fn is_twin(&self) -> bool {
        self.twin
    }

    /// Piston area of a chamber.
    #[must_use]
    pub fn area(&self, chamber: usize) -> Area {
        Area::from_m2(self.bores_m2[chamber.min(1)])
    }

    /// Volume that a whole stroke moves: of both chambers of a tandem together, or of one of twin cylinders.
    #[must_use]
    pub fn volume_of_stroke(&self, chamber: usize) -> Volume {
        Volume::from_m3(self.stroke_m * self.bores_m2[chamber.min(1)])
    }

    /// Travel of the foot pad for volumes taken by the chambers. Tandem: the primary piston moves both,
    /// `s = (V₁ + V₂)/A`; twin: the bar's middle, share-weighted. Pedal and bracket are taken as rigid.
    #[must_use]
    pub fn travel(&self, taken: [Volume; 2]) -> Length {
        let strokes = [taken[0].m3() / self.bores_m2[0], taken[1].m3() / self.bores_m2[1]];
        let push_rod_m = if self.twin {
            self.front_share * strokes[0] + (1.0 - self.front_share) * strokes[1]
        } else {
            strokes[0] + strokes[1]
        };
        Length::from_m(push_rod_m * self.pedal_ratio)
    }
}

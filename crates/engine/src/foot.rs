//! From the foot to the master cylinder's pressures, and back.

use quantity::si::{Area, Force, Length, Pressure, Volume};

use crate::car::{Car, Master, Pedal, circle};

/// The pedal with its cylinder or cylinders, prepared.
#[derive(Clone, Copy, Debug)]
pub struct FootLaw {
    per_foot: f64,
    gain: f64,
    /// Push-rod force at which the booster stops helping (N); infinite without one.
    run_out_n: f64,
    /// Push-rod force per pressure of the first and the second chamber (m²).
    area_over_share_m2: [f64; 2],
    bores_m2: [f64; 2],
    twin: bool,
    front_share: f64,
    stroke_m: f64,
    pedal_ratio: f64,
}

impl FootLaw {
    /// Of a car. A booster over twin cylinders runs out at the rod force that would put both at its run-out pressure.
    #[must_use]
    pub fn of(car: &Car) -> Self {
        let Pedal {
            ratio,
            efficiency,
            booster,
        } = car.pedal;
        let (area_over_share_m2, bores_m2, twin, front_share, stroke) = match car.master {
            Master::Tandem { bore, stroke, .. } => {
                let area = circle(bore).m2();
                ([area, area], [area, area], false, 0.5, stroke)
            }
            Master::Twin {
                front_bore,
                rear_bore,
                stroke,
                bar,
                ..
            } => {
                let areas = [circle(front_bore).m2(), circle(rear_bore).m2()];
                let shares = [areas[0] / bar.front_share, areas[1] / (1.0 - bar.front_share)];
                (shares, areas, true, bar.front_share, stroke)
            }
        };
        // Twin cylinders: the rod force at which both would be at the run-out pressure, wherever the bar stands.
        let run_out_area_m2 = if twin {
            bores_m2[0] + bores_m2[1]
        } else {
            bores_m2[0]
        };
        Self {
            per_foot: ratio * efficiency,
            gain: booster.map_or(1.0, |booster| booster.gain),
            run_out_n: booster.map_or(f64::INFINITY, |booster| booster.run_out.pa() * run_out_area_m2),
            area_over_share_m2,
            bores_m2,
            twin,
            front_share,
            stroke_m: stroke.m(),
            pedal_ratio: ratio,
        }
    }

    /// Force on the master's push rod, behind the booster: `gain · F · ratio · η` up to run-out, then one for one.
    #[must_use]
    pub fn push_rod(&self, foot: Force) -> Force {
        let into = foot.n() * self.per_foot;
        let helped = self.gain * into;
        Force::from_n(if helped <= self.run_out_n {
            helped
        } else {
            self.run_out_n + into - self.run_out_n / self.gain
        })
    }

    /// Foot force for a push-rod force.
    #[must_use]
    pub fn foot(&self, push_rod: Force) -> Force {
        let out = push_rod.n();
        let into = if out <= self.run_out_n {
            out / self.gain
        } else {
            out - self.run_out_n + self.run_out_n / self.gain
        };
        Force::from_n(into / self.per_foot)
    }

    /// Pressures of the first and second chamber under a push-rod force, as long as the cylinders do not run out.
    #[must_use]
    pub fn pressures(&self, push_rod: Force) -> [Pressure; 2] {
        self.area_over_share_m2
            .map(|area| Pressure::from_pa(push_rod.n() / area))
    }

    /// Push-rod force for a pressure of one chamber (0 first, 1 second).
    #[must_use]
    pub fn push_rod_for(&self, chamber: usize, pressure: Pressure) -> Force {
        Force::from_n(pressure.pa() * self.area_over_share_m2[chamber.min(1)])
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

//! From a reading to the figure that a sheet wants, where the two are not the same: each in closed form.
//!
//! A reading that cannot be has no figure: `None`. Whether a figure is likely, its key's ranges say.

use core::f64::consts::TAU;

use quantity::si::{Force, Length, Mass, Pressure, Speed};

use crate::{GRAVITY_M_S2, equations};

/// What is weighed and taped with one axle raised.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleRaised {
    /// What the front axle weighs, level.
    pub front: Mass,
    /// What the rear axle weighs, level.
    pub rear: Mass,
    /// What the scales under the other axle gained.
    pub gain: Mass,
    /// How far the raised axle's hubs went up.
    pub by: Length,
    /// Front axle to rear axle.
    pub wheelbase: Length,
    /// Rolling radius of the front tyres.
    pub front_radius: Length,
    /// Rolling radius of the rear tyres.
    pub rear_radius: Length,
}

impl AxleRaised {
    /// Height of the centre of gravity above level ground:
    ///
    /// `h = R_cg + ΔW · L · √(L² − H²)/(W · H)`, `R_cg = (R_f b + R_r a)/L`
    ///
    /// ΔW what the standing axle's scales gained, W the car's weight, H how far the other axle was raised, L the wheelbase,
    /// R rolling radii, a and b from the front and from the rear axle to the centre of gravity. The same for a raised
    /// front. Suspension blocked, tank full or empty, wheels free to roll.
    ///
    /// Source: moments about the standing axle.
    #[must_use]
    pub fn cg_height(&self) -> Option<Length> {
        let lengths = [self.by, self.wheelbase, self.front_radius, self.rear_radius];
        let can_be = lengths.iter().all(|length| length.m() > 0.0)
            && self.front.kg() > 0.0
            && self.rear.kg() > 0.0
            && self.by < self.wheelbase;
        can_be.then(|| self.height())
    }

    pub(crate) fn height(&self) -> Length {
        let (wheelbase, by) = (self.wheelbase.m(), self.by.m());
        let total = self.front.kg() + self.rear.kg();
        let aft = equations::aft_by_scales(wheelbase, self.rear.kg(), total);
        let hub_line = equations::hub_line(self.front_radius.m(), self.rear_radius.m(), wheelbase, aft);
        Length::from_m(equations::height_by_lifting(
            hub_line,
            self.gain.kg(),
            wheelbase,
            by,
            total,
        ))
    }
}

/// Travel of the end that is pushed or pulled over travel of the push rod; or its arm over the rod's. Closed form: a
/// lever is stiff, so that both ends turn by the same angle.
#[must_use]
pub fn lever_ratio(end: Length, rod: Length) -> Option<f64> {
    (end.m() > 0.0 && rod.m() > 0.0).then(|| end / rod)
}

/// Radius on which a tyre rolls: the way of so many turns over 2π turns. Closed form: rolling without slip.
#[must_use]
pub fn rolling_radius(way: Length, turns: f64) -> Option<Length> {
    (way.m() > 0.0 && turns > 0.0).then(|| way / (TAU * turns))
}

/// Mean grip of a stop: `μ = v²/(2 g s)`. Closed form: even deceleration on level ground; air and rolling drag, some
/// hundredths, count as grip.
#[must_use]
pub fn grip_of_stop(from: Speed, way: Length) -> Option<f64> {
    (from.m_s() > 0.0 && way.m() > 0.0).then(|| from.m_s() * from.m_s() / (2.0 * GRAVITY_M_S2 * way.m()))
}

/// Share of the push rod's force that a balance bar gives the front: `p_f d_f²/(p_f d_f² + p_r d_r²)`. Closed form: force
/// is pressure times area, and both forces come from the one rod.
#[must_use]
pub fn front_share(front: Pressure, front_bore: Length, rear: Pressure, rear_bore: Length) -> Option<f64> {
    let can_be = front.pa() > 0.0 && rear.pa() > 0.0 && front_bore.m() > 0.0 && rear_bore.m() > 0.0;
    can_be.then(|| {
        let force = |pressure: Pressure, bore: Length| pressure.pa() * bore.m() * bore.m();
        force(front, front_bore) / (force(front, front_bore) + force(rear, rear_bore))
    })
}

/// What a cable leaves of the force: force at its end over force at the hand, over the ratio between them. Closed form:
/// without losses the forces stand as the ratio.
#[must_use]
pub fn cable_efficiency(hand: Force, end: Force, ratio: f64) -> Option<f64> {
    (hand.n() > 0.0 && end.n() > 0.0 && ratio > 0.0).then(|| end / hand / ratio)
}

//! How well a workshop reads, and how well the equations keep to a car.

use quantity::si::{Force, Length, Pressure};

/// 95 % half-widths of what is read by hand, where a reading carries no tolerance of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kit {
    /// Of the gauge.
    pub gauge: Pressure,
    /// Of the tape at the grip.
    pub tape: Length,
    /// Of the scale under the foot.
    pub foot_scale: Force,
    /// Of the scale at the grip.
    pub hand_scale: Force,
    /// Of the torque at which a hub slips, of itself: the wrench (4 %: ISO 6789-1, from memory), and when it slips.
    pub slip: f64,
    /// Of what is computed for a reading, of itself: what the equations leave out.
    pub equations: f64,
}

impl Default for Kit {
    /// A workshop gauge is read to 1 bar, a tape at the grip to 2 mm, a bathroom scale to 10 N and a luggage scale to 5 N, a
    /// slipping hub to 8 %; the equations keep to 3 % (judgement).
    fn default() -> Self {
        Self {
            gauge: Pressure::from_pa(1e5),
            tape: Length::from_m(2e-3),
            foot_scale: Force::from_n(10.0),
            hand_scale: Force::from_n(5.0),
            slip: 0.08,
            equations: 0.03,
        }
    }
}

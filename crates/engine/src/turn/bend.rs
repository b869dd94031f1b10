//! The bend that a turn is driven for.
//!
//! A bend is a road of one width: straight, an arc about the middle of the road, straight. It turns to the side that the
//! driver steers to. Where along and across the road the run begins is the driver's to choose, and the best is taken.

use quantity::si::{Angle, Length};

use super::fault::TechniqueFault;
use super::placing::Road;

/// Straight parts by which an arc is drawn.
const ARC_PARTS: u8 = 24;

/// A bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// By how much the road turns, 20° to 270°.
    pub angle: Angle,
    /// Of the middle of the road, 1 m to 100 m.
    pub radius: Length,
    /// Of the road, 2 m to 50 m, and no more than twice the radius.
    pub width: Length,
}

impl Bend {
    /// A hairpin: 180°, 7 m to the middle of a road of 5 m (judgement).
    pub const HAIRPIN: Self = Self {
        angle: Angle::from_rad(core::f64::consts::PI),
        radius: Length::from_m(7.0),
        width: Length::from_m(5.0),
    };

    /// A junction: the same at 90° (judgement).
    pub const JUNCTION: Self = Self {
        angle: Angle::from_rad(core::f64::consts::FRAC_PI_2),
        ..Self::HAIRPIN
    };

    /// Whether it is one.
    ///
    /// # Errors
    /// A figure outside its range.
    pub fn check(&self) -> Result<(), TechniqueFault> {
        let within = TechniqueFault::unless_within;
        let angle = self.angle.rad().abs().to_degrees();
        within("the bend's angle", angle, 20.0, 270.0, "deg")?;
        within("the bend's radius", self.radius.m(), 1.0, 100.0, "m")?;
        let widest = (2.0 * self.radius.m()).min(50.0);
        within("the road's width", self.width.m(), 2.0, widest, "m")
    }

    /// Both edges of the road as a run sees it that begins `begun` along and across it and turns to a side (+1: left): so far
    /// before and behind the bend. Points along and to the left of the way in (m), the outer edge first.
    #[must_use]
    pub fn edges(
        &self,
        begun: (f64, f64),
        side: f64,
        before: Length,
        behind: Length,
    ) -> [Vec<(f64, f64)>; 2] {
        let (radius_m, angle_rad) = (self.radius.m(), self.angle.rad().abs());
        let (sin, cos) = angle_rad.sin_cos();
        [1.0, -1.0].map(|outward| {
            let round_m = radius_m + outward * 0.5 * self.width.m();
            let at = |along: f64, across: f64| (along - begun.0, side * (across - begun.1));
            let on_arc = |rad: f64| (round_m * rad.sin(), radius_m - round_m * rad.cos());
            let mut edge = vec![at(-before.m(), radius_m - round_m)];
            edge.extend((0..=ARC_PARTS).map(|part| {
                let (x, y) = on_arc(angle_rad * f64::from(part) / f64::from(ARC_PARTS));
                at(x, y)
            }));
            let (x, y) = on_arc(angle_rad);
            edge.push(at(x + behind.m() * cos, y + behind.m() * sin));
            edge
        })
    }

    pub(super) fn road(&self) -> Road {
        Road::new(self.radius.m(), self.angle.rad().abs())
    }
}

//! What the shape of a brake makes of its linings: the radius at which a pad's friction acts, the factor of a pair of shoes.

use quantity::si::{Angle, Length};

/// Radius at which the friction of a sector pad acts when it presses evenly over its face:
/// `r = ⅔ · (rₒ³ − rᵢ³)/(rₒ² − rᵢ²)`. A pad worn to even work presses harder inside and acts at the plain middle of
/// its edges, 1 % less for the usual pads.
///
/// Source: Bhandari, Design of Machine Elements, brakes, example 12.12 (checked in the validation crate).
#[must_use]
pub fn friction_radius(inner: Length, outer: Length) -> Length {
    let (inner_m, outer_m) = (inner.m(), outer.m());
    Length::from_m(2.0 / 3.0 * (outer_m.powi(3) - inner_m.powi(3)) / (outer_m.powi(2) - inner_m.powi(2)))
}

/// How the shoes are worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shoes {
    /// One shoe pulled on by the drum's turning, the other pushed off.
    LeadingTrailing,
    /// Both pulled on, a cylinder each.
    TwoLeading,
    /// The first shoe presses the second (duo-servo).
    Servo,
}

/// A long shoe that turns about a fixed pivot; both shoes alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShoeGeometry {
    /// Inside of the drum.
    pub drum_radius: Length,
    /// Drum centre to the pivot.
    pub pivot_radius: Length,
    /// Where the lining starts, from the line through the pivot.
    pub heel: Angle,
    /// Where it ends.
    pub toe: Angle,
    /// Pivot to the line of the cylinder's force.
    pub force_arm: Length,
}

/// Moments about the pivot and the torque on the drum of a long shoe, per `p_max · width · drum radius / sin(angle of
/// p_max)`: lengths (m).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShoeMoments {
    /// Of the lining's pressure, away from the drum (m).
    pub normal_m: f64,
    /// Of the lining's friction (m): towards the drum on a leading shoe, away from it on a trailing one.
    pub friction_m: f64,
    /// Torque on the drum (m).
    pub drum_m: f64,
}

impl ShoeGeometry {
    /// Normal and friction moments of a long shoe whose pressure goes with the sine of the angle from the pivot:
    ///
    /// `Mₙ ∝ a ∫ sin²θ dθ`, `M_f ∝ μ ∫ sin θ (r − a cos θ) dθ`, `T ∝ μ r (cos θ₁ − cos θ₂)`
    ///
    /// with r drum radius, a pivot radius, heel θ₁ to toe θ₂. Source: the long-shoe method of machine-design texts;
    /// checked against Bhandari, example 12.9, in the validation crate.
    #[must_use]
    pub fn moments(&self, friction: f64) -> ShoeMoments {
        let (radius, pivot) = (self.drum_radius.m(), self.pivot_radius.m());
        let (heel, toe) = (self.heel.rad(), self.toe.rad());
        let sine_squared = (toe - heel) / 2.0 - ((2.0 * toe).sin() - (2.0 * heel).sin()) / 4.0;
        let cosines = heel.cos() - toe.cos();
        ShoeMoments {
            normal_m: pivot * sine_squared,
            friction_m: friction
                * (radius * cosines - pivot * (toe.sin().powi(2) - heel.sin().powi(2)) / 2.0),
            drum_m: friction * radius * cosines,
        }
    }

    /// Drum friction force over the cylinder's force of a leading shoe; `None` where it would lock itself.
    #[must_use]
    pub fn leading(&self, friction: f64) -> Option<f64> {
        let moments = self.moments(friction);
        let left = moments.normal_m - moments.friction_m;
        (left > 1e-3 * moments.normal_m)
            .then(|| moments.drum_m / self.drum_radius.m() * self.force_arm.m() / left)
    }

    /// The same of a trailing shoe.
    #[must_use]
    pub fn trailing(&self, friction: f64) -> f64 {
        let moments = self.moments(friction);
        moments.drum_m / self.drum_radius.m() * self.force_arm.m() / (moments.normal_m + moments.friction_m)
    }

    /// Shoe factor of the whole brake: drum friction force over the force of one cylinder piston. `None` where a shoe
    /// would lock itself.
    ///
    /// Servo: the first shoe stands on the link between the shoes; by moments about the drum's centre the link passes
    /// `S = F · ((c − a) + C_l r)/a` on to the second, which leads about the anchor with the same geometry
    /// (c force arm, a pivot radius, r drum radius, `C_l` factor of the leading shoe).
    #[must_use]
    pub fn factor(&self, shoes: Shoes, friction: f64) -> Option<f64> {
        let leading = self.leading(friction)?;
        Some(match shoes {
            Shoes::LeadingTrailing => leading + self.trailing(friction),
            Shoes::TwoLeading => 2.0 * leading,
            Shoes::Servo => {
                let (arm, pivot, radius) = (self.force_arm.m(), self.pivot_radius.m(), self.drum_radius.m());
                leading * (1.0 + (arm - pivot + leading * radius) / pivot)
            }
        })
    }
}

/// A shoe factor known at one friction, at another: `C* = C*₀ · (μ/μ₀)^1.35` (from memory, judgement: between the
/// straight line of a trailing shoe and the steep rise of a leading one).
#[must_use]
pub fn factor_at(factor: f64, known_friction: f64, friction: f64) -> f64 {
    factor * (friction / known_friction).powf(1.35)
}

//! Grip of a tyre over its slip.

use std::sync::Arc;

use thiserror::Error;

use crate::thresholds::LOOSE_FROM;

/// A surface: grip over slip, given by four figures that can be pictured.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// What it is called.
    pub name: Arc<str>,
    /// The greatest grip (force over load).
    pub peak: f64,
    /// Slip at which it is reached.
    pub slip_at_peak: f64,
    /// Grip of a locked wheel over the greatest.
    pub slide_over_peak: f64,
    /// Slope of grip over slip at the start.
    pub stiffness: f64,
}

/// Built-in surfaces that stand in no list of all: for tyres that not every car has.
const BY_NAME_ONLY: [&str; 2] = ["studded snow", "studded ice"];

impl Surface {
    /// Whether it is looked at only where it is named.
    #[must_use]
    pub fn is_by_name_only(&self) -> bool {
        BY_NAME_ONLY.contains(&&*self.name)
    }

    /// Whether its ground is loose: a tyre that slides gives next to all there is, since it digs.
    #[must_use]
    pub fn is_loose(&self) -> bool {
        self.slide_over_peak >= LOOSE_FROM
    }

    /// The same surface with another peak; its shape stays.
    #[must_use]
    pub fn with_peak(&self, peak: f64) -> Self {
        Self {
            peak,
            stiffness: self.stiffness * peak / self.peak,
            ..self.clone()
        }
    }
}

/// The grip curve of a surface: `μ(s) = D · sin(C · atan(B s − E (B s − atan B s)))`, with s the *theoretical* slip
/// (sliding speed over rolling speed), which is infinite for a locked wheel; its grip is then `D · sin(C π/2)`.
///
/// Form: Bakker and Pacejka; in this isotropic use for rally manoeuvres: Velenis, Tsiotras and Lu (from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GripCurve {
    /// B, per unit slip.
    pub stiffness_factor: f64,
    /// C.
    pub shape_factor: f64,
    /// D, the peak.
    pub peak_factor: f64,
    /// E.
    pub curvature_factor: f64,
}

/// Why four figures make no grip curve.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum SurfaceFault {
    /// No grip at all.
    #[error("the peak and the starting slope have to be above zero")]
    NoGrip,
    /// A locked wheel would have less than half of the peak.
    #[error(
        "a locked wheel would keep {share:.2} of the grip; below 0.5 the curve means nothing on any ground"
    )]
    SlidesTooEasily {
        /// Sliding over peak.
        share: f64,
    },
    /// The curve cannot pass its peak where the sheet says and start as steeply as it says.
    #[error(
        "a start so {steepness} cannot reach its peak at slip {slip_at_peak:.2} (E would be {curvature:.2}, above 0.9)"
    )]
    NotReached {
        /// `steep` or `flat`.
        steepness: &'static str,
        /// Slip at the peak.
        slip_at_peak: f64,
        /// Curvature factor that it would take.
        curvature: f64,
    },
}

impl GripCurve {
    /// The curve of a surface:
    /// `C = 2 − (2/π) asin(slide/peak)`, `B = K/(C D)`, `E = (x − tan(π/2C))/(x − atan x)` with `x = B s_peak`;
    /// without a peak (slide = peak) `C = 1`, `E = 0`, `B = K/D`.
    ///
    /// # Errors
    /// Unless D > 0, B > 0, 1 ≤ C < 2, E ≤ 0.9 and sin(C π/2) ≥ 0.5.
    pub fn of(surface: &Surface) -> Result<Self, SurfaceFault> {
        let (peak, slide) = (surface.peak, surface.slide_over_peak);
        if !(peak > 0.0 && surface.stiffness > 0.0) {
            return Err(SurfaceFault::NoGrip);
        }
        if !(0.5..=1.0).contains(&slide) {
            return Err(SurfaceFault::SlidesTooEasily { share: slide });
        }
        if slide > 1.0 - 1e-9 {
            return Ok(Self {
                stiffness_factor: surface.stiffness / peak,
                shape_factor: 1.0,
                peak_factor: peak,
                curvature_factor: 0.0,
            });
        }
        let shape_factor = 2.0 - core::f64::consts::FRAC_2_PI * slide.asin();
        let stiffness_factor = surface.stiffness / (shape_factor * peak);
        let at_peak = stiffness_factor * surface.slip_at_peak;
        let wanted = (core::f64::consts::FRAC_PI_2 / shape_factor).tan();
        let curvature_factor = (at_peak - wanted) / (at_peak - at_peak.atan());
        if curvature_factor > 0.9 || !curvature_factor.is_finite() {
            return Err(SurfaceFault::NotReached {
                steepness: "steep",
                slip_at_peak: surface.slip_at_peak,
                curvature: curvature_factor,
            });
        }
        Ok(Self {
            stiffness_factor,
            shape_factor,
            peak_factor: peak,
            curvature_factor,
        })
    }

    /// Grip at a theoretical slip.
    #[must_use]
    pub fn grip(&self, slip: f64) -> f64 {
        if slip.is_infinite() {
            return self.sliding();
        }
        let stretched = self.stiffness_factor * slip;
        let bent = stretched - self.curvature_factor * (stretched - stretched.atan());
        self.peak_factor * (self.shape_factor * bent.atan()).sin()
    }

    /// Slope of the grip over theoretical slip, `dμ/ds`; zero for a locked wheel.
    #[must_use]
    pub fn slope(&self, slip: f64) -> f64 {
        if slip.is_infinite() {
            return 0.0;
        }
        let stretched = self.stiffness_factor * slip;
        let bent = stretched - self.curvature_factor * (stretched - stretched.atan());
        let unbent = 1.0 - self.curvature_factor * stretched * stretched / (1.0 + stretched * stretched);
        self.peak_factor * (self.shape_factor * bent.atan()).cos() * self.shape_factor / (1.0 + bent * bent)
            * unbent
            * self.stiffness_factor
    }

    /// Slope at the start, `B C D`: what a surface calls its stiffness.
    #[must_use]
    pub fn stiffness(&self) -> f64 {
        self.stiffness_factor * self.shape_factor * self.peak_factor
    }

    /// Grip of a locked wheel.
    #[must_use]
    pub fn sliding(&self) -> f64 {
        self.peak_factor * (self.shape_factor * core::f64::consts::FRAC_PI_2).sin()
    }
}

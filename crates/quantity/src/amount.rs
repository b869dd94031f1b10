use crate::Dimension;

/// How far a written number may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// No tolerance was written.
    Exact,
    /// Normal distribution about the value; the half-width holds 95 % of it (1.96 standard deviations). SI, above 0.
    Normal {
        /// Half of the 95 % interval, in the SI unit of the amount (a difference where the amount is a temperature).
        half_width_si: f64,
    },
    /// Every value between the two ends is as likely as any other; the amount's value is their middle. SI.
    Uniform {
        /// Lower end, SI.
        low_si: f64,
        /// Upper end, SI, above the lower.
        high_si: f64,
    },
}

/// A number that a person wrote, in SI, with its tolerance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// What kind of quantity it is.
    pub dimension: Dimension,
    /// The value in the SI unit of the dimension.
    pub si: f64,
    /// How far it may be off.
    pub spread: Spread,
}

impl Amount {
    /// An amount without tolerance. `si` in the SI unit of the dimension.
    #[must_use]
    pub const fn exact(dimension: Dimension, si: f64) -> Self {
        Self {
            dimension,
            si,
            spread: Spread::Exact,
        }
    }

    /// The two ends that the tolerance was written for, SI: value ∓ half-width (which hold 95 % of a normal
    /// distribution), or the ends of a uniform one. Both are the value where it is exact.
    #[must_use]
    pub const fn ends_si(&self) -> (f64, f64) {
        match self.spread {
            Spread::Exact => (self.si, self.si),
            Spread::Normal { half_width_si } => (self.si - half_width_si, self.si + half_width_si),
            Spread::Uniform { low_si, high_si } => (low_si, high_si),
        }
    }
}

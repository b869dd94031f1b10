//! What seeps past seals that hold a pressure.

use quantity::si::{Pressure, Volume};

use crate::car::{Car, MeasuredSoak};
use crate::trapped::{BODY_EXPANDS_PER_K, FLUID_EXPANDS_PER_K, Part};

/// What one seal lets past in an hour at [`USUAL_AT`] (from memory).
pub const USUAL_PER_HOUR: Volume = Volume::from_m3(0.05e-6);

/// Pressure of that.
pub const USUAL_AT: Pressure = Pressure::from_pa(80e5);

/// What seeps, in proportion to the pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seep {
    /// Of each closed part (m³/(s·Pa)).
    pub m3_s_pa: f64,
    /// Whether a measured soak says so.
    pub measured: bool,
}

impl Seep {
    /// What the usual seal lets past.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            m3_s_pa: USUAL_PER_HOUR.m3() / 3600.0 / USUAL_AT.pa(),
            measured: false,
        }
    }

    /// Volume lost in an hour at a pressure, of one closed part.
    #[must_use]
    pub fn per_hour(&self, at: Pressure) -> Volume {
        Volume::from_m3(self.m3_s_pa * 3600.0 * at.pa())
    }

    /// By the newest measured soak, or else the usual one.
    pub(super) fn of(car: &Car, parts: &[Part]) -> Self {
        newest(&car.measured.soak)
            .and_then(|soak| Self::measured(soak, parts))
            .unwrap_or_else(Self::usual)
    }

    /// What a soak leaves to the seals: of the volume that the fall is worth, that which neither cooling fluid nor
    /// creeping rubber explains. A soak that fell by less than those seeps nothing.
    fn measured(soak: &MeasuredSoak, parts: &[Part]) -> Option<Self> {
        let seconds = soak.held_for.s();
        let mean_pa = 0.5 * (soak.from + soak.to).pa();
        if parts.is_empty() || seconds <= 0.0 || mean_pa <= 0.0 {
            return None;
        }
        let cooled_k = soak.air.map_or(0.0, |(start, end)| (start - end).dk());
        let lost_m3: f64 = parts
            .iter()
            .map(|part| {
                let fell = (part.taken(soak.from) - part.taken(soak.to)).m3();
                let shrank = (FLUID_EXPANDS_PER_K - BODY_EXPANDS_PER_K) * part.fluid().m3() * cooled_k;
                fell - shrank - part.crept_m3(soak.from, seconds)
            })
            .sum();
        #[allow(clippy::cast_precision_loss, reason = "a handful of parts")]
        let each = lost_m3.max(0.0) / parts.len() as f64;
        Some(Self {
            m3_s_pa: each / (seconds * mean_pa),
            measured: true,
        })
    }
}

/// The newest soak: by its day where it has one, or else the last on the sheet.
fn newest(soaks: &[MeasuredSoak]) -> Option<&MeasuredSoak> {
    soaks.iter().max_by_key(|soak| soak.on)
}

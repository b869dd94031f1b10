//! Between a tyre and the ground: what slides, and what force answers it.

use crate::car::Axle;
use crate::tyre::GripCurve;

/// How a wheel meets the ground, in the wheel's own frame: x where it points, y to its left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Which axle it turns on.
    pub axle: Axle,
    /// What it carries (N).
    pub load_n: f64,
    /// Speed of its hub along it (m/s).
    pub along_m_s: f64,
    /// Speed of its hub across it, to the left (m/s).
    pub across_m_s: f64,
    /// Speed at which it rolls, ω R (m/s).
    pub rolling_m_s: f64,
}

/// Force of the ground on a tyre, in the wheel's own frame.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GroundForce {
    /// Along the wheel (N).
    pub along_n: f64,
    /// Across it, to the left (N).
    pub across_n: f64,
}

/// How both parts of the force change with the speeds along, across and of rolling [N s/m].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Slopes {
    /// Of the force along the wheel.
    pub along_n_s_m: [f64; 3],
    /// Of the force across it.
    pub across_n_s_m: [f64; 3],
}

/// A tyre on its ground. Whatever force it gives has to vanish with the load.
pub trait Tyre: Sync {
    /// Force of the ground.
    fn force(&self, contact: &Contact) -> GroundForce;

    /// How the force changes with the three speeds. The integration is as accurate with a rough answer, only slower;
    /// the one given here takes differences.
    fn slopes(&self, contact: &Contact) -> Slopes {
        let mut slopes = Slopes::default();
        let step = 1e-5 * (1.0 + contact.along_m_s.abs().max(contact.rolling_m_s.abs()));
        for part in 0..3 {
            let moved = |by: f64| {
                let mut moved = *contact;
                match part {
                    0 => moved.along_m_s += by,
                    1 => moved.across_m_s += by,
                    _ => moved.rolling_m_s += by,
                }
                self.force(&moved)
            };
            let (ahead, behind) = (moved(step), moved(-step));
            slopes.along_n_s_m[part] = (ahead.along_n - behind.along_n) / (2.0 * step);
            slopes.across_n_s_m[part] = (ahead.across_n - behind.across_n) / (2.0 * step);
        }
        slopes
    }
}

/// Below this speed of rolling, slip is taken over it instead (m/s).
pub const SLOWEST_ROLLING_M_S: f64 = 0.1;

/// Least share of its middling grip that load sensitivity may leave a tyre.
const LEAST_SHARE: f64 = 0.1;

/// A surface's grip, the same in every direction: the force opposes what slides.
///
/// `s_x = (u − ωR)/ρ`, `s_y = w/ρ`, `ρ = max(|ωR|, 0.1 m/s)`, `s = √(s_x² + s_y²)`, `F = −N (1 − k (N/N₀ − 1)) μ(s) s⃗/s`
///
/// u and w the hub's speed along and across the wheel, k the load sensitivity, N₀ a quarter of the weight. A wheel that
/// stands has a slip without bound and the curve's sliding grip. Form: Bakker and Pacejka; for rally manoeuvres in this
/// form: Velenis, Tsiotras and Lu (from memory).
///
/// Inside, the curve is read over `σ = s/(1 + s)`, which lies between 0 and 1 and needs no division by a speed that may
/// be zero, from a table of cubics through its values and slopes.
#[derive(Clone, Debug)]
pub struct SurfaceGrip {
    /// Cubics in each cell for μ(s)/σ.
    cells: Vec<[f64; 4]>,
    count: f64,
    load_sensitivity: f64,
    per_middle_load: f64,
}

impl SurfaceGrip {
    /// Of a curve, for a car of a weight.
    #[must_use]
    pub fn new(curve: &GripCurve, load_sensitivity: f64, weight_n: f64) -> Self {
        let mut count = 64_u32;
        loop {
            let cells = cells(curve, count);
            // Sharp curves, which a sheet may describe, take a finer table.
            if count >= 1 << 14 || worst(curve, &cells) < 1e-6 * curve.stiffness().max(curve.peak_factor) {
                return Self {
                    cells,
                    count: f64::from(count),
                    load_sensitivity,
                    per_middle_load: 4.0 / weight_n,
                };
            }
            count *= 2;
        }
    }

    /// μ/σ and its slope over σ.
    #[inline]
    fn read(&self, bounded_slip: f64) -> (f64, f64) {
        let place = bounded_slip * self.count;
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and the count"
        )]
        let index = (place as usize).min(self.cells.len() - 1);
        #[allow(clippy::cast_precision_loss, reason = "a few thousand")]
        let within = place - index as f64;
        let [c0, c1, c2, c3] = self.cells[index];
        let value = c0 + within * (c1 + within * (c2 + within * c3));
        let slope = c1 + within * (2.0 * c2 + within * 3.0 * c3);
        (value, slope * self.count)
    }

    /// Load times what load sensitivity makes of it.
    #[inline]
    fn effective_load_n(&self, load_n: f64) -> f64 {
        let share = 1.0 - self.load_sensitivity * (load_n * self.per_middle_load - 1.0);
        load_n * share.max(LEAST_SHARE)
    }
}

impl Tyre for SurfaceGrip {
    #[inline]
    fn force(&self, contact: &Contact) -> GroundForce {
        let (along, across) = (contact.along_m_s - contact.rolling_m_s, contact.across_m_s);
        let sliding = (along * along + across * across).sqrt();
        let rolling = contact.rolling_m_s.abs().max(SLOWEST_ROLLING_M_S);
        let per = 1.0 / (sliding + rolling);
        let (grip, _) = self.read(sliding * per);
        let force = -self.effective_load_n(contact.load_n) * grip * per;
        GroundForce {
            along_n: force * along,
            across_n: force * across,
        }
    }

    fn slopes(&self, contact: &Contact) -> Slopes {
        let (along, across) = (contact.along_m_s - contact.rolling_m_s, contact.across_m_s);
        let sliding = (along * along + across * across).sqrt();
        let rolling = contact.rolling_m_s.abs().max(SLOWEST_ROLLING_M_S);
        let per = 1.0 / (sliding + rolling);
        let (grip, slope) = self.read(sliding * per);
        let load = -self.effective_load_n(contact.load_n);
        let over_sliding = (slope * rolling * per - grip) * per * per;
        let over_rolling = if contact.rolling_m_s.abs() > SLOWEST_ROLLING_M_S {
            (-slope * sliding * per - grip) * per * per * contact.rolling_m_s.signum()
        } else {
            0.0
        };
        let (cos, sin) = if sliding > 1e-12 {
            (along / sliding, across / sliding)
        } else {
            (0.0, 0.0)
        };
        let steepest = grip * per;
        let xx = load * (steepest + along * over_sliding * cos);
        let xy = load * along * over_sliding * sin;
        let yx = load * across * over_sliding * cos;
        let yy = load * (steepest + across * over_sliding * sin);
        Slopes {
            along_n_s_m: [xx, xy, load * along * over_rolling - xx],
            across_n_s_m: [yx, yy, load * across * over_rolling - yx],
        }
    }
}

/// μ over σ, and its slope over σ, at a node.
fn node(curve: &GripCurve, bounded_slip: f64) -> (f64, f64) {
    let stiffness = curve.stiffness();
    if bounded_slip <= 0.0 {
        return (stiffness, stiffness);
    }
    let slip = bounded_slip / (1.0 - bounded_slip);
    let grip = curve.grip(slip);
    let slope = if bounded_slip < 1.0 {
        curve.slope(slip) * (1.0 + slip) * (1.0 + slip)
    } else {
        // What slope · s² tends to as slip grows without bound.
        let shape = curve.shape_factor;
        curve.peak_factor * shape * (shape * core::f64::consts::FRAC_PI_2).cos()
            / ((1.0 - curve.curvature_factor) * curve.stiffness_factor)
    };
    (
        grip / bounded_slip,
        (slope * bounded_slip - grip) / (bounded_slip * bounded_slip),
    )
}

fn cells(curve: &GripCurve, count: u32) -> Vec<[f64; 4]> {
    let width = 1.0 / f64::from(count);
    let mut from = node(curve, 0.0);
    (1..=count)
        .map(|end| {
            let to = node(curve, if end == count { 1.0 } else { f64::from(end) * width });
            let (rise, first, last) = (to.0 - from.0, from.1 * width, to.1 * width);
            let cell = [
                from.0,
                first,
                3.0 * rise - 2.0 * first - last,
                first + last - 2.0 * rise,
            ];
            from = to;
            cell
        })
        .collect()
}

/// Largest deviation of the table from the curve in the middle of its cells.
fn worst(curve: &GripCurve, cells: &[[f64; 4]]) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "a few thousand")]
    let count = cells.len() as f64;
    let mut at = 0.5 / count;
    let mut worst = 0.0_f64;
    for [c0, c1, c2, c3] in cells {
        worst = worst.max((c0 + 0.5 * c1 + 0.25 * c2 + 0.125 * c3 - node(curve, at).0).abs());
        at += 1.0 / count;
    }
    worst
}

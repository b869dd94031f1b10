//! Between a tyre and the ground: what slides, and what force answers it.

use crate::car::Axle;
use crate::tyre::GripCurve;

use super::dynamics::Meets;
use super::number::Number;
use super::pack::figures;

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

/// How both parts of the force change with the speeds along, across and of rolling [N s/m], and with the load.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Slopes {
    /// Of the force along the wheel.
    pub along_n_s_m: [f64; 3],
    /// Of the force across it.
    pub across_n_s_m: [f64; 3],
    /// Of both over the load.
    pub over_load: [f64; 2],
}

/// A tyre on its ground. Whatever force it gives has to vanish with the load.
pub trait Tyre: Sync {
    /// Force of the ground.
    fn force(&self, contact: &Contact) -> GroundForce;

    /// How the force changes with the three speeds and the load. The integration is as accurate with a rough answer, only slower;
    /// the one given here takes differences.
    fn slopes(&self, contact: &Contact) -> Slopes {
        let mut slopes = Slopes::default();
        let speed = 1e-5 * (1.0 + contact.along_m_s.abs().max(contact.rolling_m_s.abs()));
        for part in 0..4 {
            let step = if part < 3 {
                speed
            } else {
                1e-3 * (1.0 + contact.load_n)
            };
            let moved = |by: f64| {
                let mut moved = *contact;
                match part {
                    0 => moved.along_m_s += by,
                    1 => moved.across_m_s += by,
                    2 => moved.rolling_m_s += by,
                    _ => moved.load_n += by,
                }
                self.force(&moved)
            };
            let (ahead, behind) = (moved(step), moved(-step));
            let along = (ahead.along_n - behind.along_n) / (2.0 * step);
            let across = (ahead.across_n - behind.across_n) / (2.0 * step);
            if part < 3 {
                slopes.along_n_s_m[part] = along;
                slopes.across_n_s_m[part] = across;
            } else {
                slopes.over_load = [along, across];
            }
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
    figures: GripFigures<f64>,
}

figures! {
    /// What a surface's grip is read by.
    GripFigures {
        /// Cells of the table.
        count: N,
        load_sensitivity: N,
        per_middle_load: N,
    }
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
                    figures: GripFigures {
                        count: f64::from(count),
                        load_sensitivity,
                        per_middle_load: 4.0 / weight_n,
                    },
                };
            }
            count *= 2;
        }
    }

    pub(super) fn figures(&self) -> &GripFigures<f64> {
        &self.figures
    }

    pub(super) fn cells(&self) -> &[[f64; 4]] {
        &self.cells
    }
}

/// A table of grip, or one for each car of a pack.
pub(super) trait GripTable<N> {
    /// The four factors of the cell at a place along the table, and how far into the cell it is.
    fn cell(&self, place: N) -> ([N; 4], N);
}

impl GripTable<f64> for SurfaceGrip {
    #[inline(always)]
    fn cell(&self, place: f64) -> ([f64; 4], f64) {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and the count"
        )]
        let index = (place as usize).min(self.cells.len() - 1);
        #[allow(clippy::cast_precision_loss, reason = "a few thousand")]
        let within = place - index as f64;
        (self.cells[index], within)
    }
}

/// What slides at a wheel.
struct Sliding<N> {
    along: N,
    across: N,
    size: N,
    rolling: N,
    per: N,
}

impl<N: Number> Sliding<N> {
    #[inline(always)]
    fn of(meets: &Meets<N>) -> Self {
        let (along, across) = (meets.along_m_s - meets.rolling_m_s, meets.across_m_s);
        let size = along.times_plus(along, across * across).sqrt();
        let rolling = meets.rolling_m_s.abs().most(size.same(SLOWEST_ROLLING_M_S));
        Self {
            along,
            across,
            size,
            rolling,
            per: size.same(1.0) / (size + rolling),
        }
    }
}

impl<N: Number> GripFigures<N> {
    /// Load times what load sensitivity makes of it.
    #[inline(always)]
    fn effective_load_n(&self, load_n: N) -> N {
        let over = (load_n * self.per_middle_load).plus(-1.0);
        let share = load_n.same(1.0) - self.load_sensitivity * over;
        load_n * share.most(share.same(LEAST_SHARE))
    }

    /// Force along and across the wheel (N).
    #[inline(always)]
    pub(super) fn force(&self, table: &impl GripTable<N>, meets: &Meets<N>) -> (N, N) {
        let sliding = Sliding::of(meets);
        let ([c0, c1, c2, c3], within) = table.cell(sliding.size * sliding.per * self.count);
        // μ/σ.
        let grip = c3
            .times_plus(within, c2)
            .times_plus(within, c1)
            .times_plus(within, c0);
        let force = -self.effective_load_n(meets.load_n) * grip * sliding.per;
        (force * sliding.along, force * sliding.across)
    }

    /// How both change with the speeds along, across and of rolling, and with the load.
    #[inline(always)]
    pub(super) fn slopes(&self, table: &impl GripTable<N>, meets: &Meets<N>) -> [[N; 4]; 2] {
        let Sliding {
            along,
            across,
            size,
            rolling,
            per,
        } = Sliding::of(meets);
        let zero = size.same(0.0);
        let ([c0, c1, c2, c3], within) = table.cell(size * per * self.count);
        let grip = c3
            .times_plus(within, c2)
            .times_plus(within, c1)
            .times_plus(within, c0);
        // ... and its slope over σ.
        let slope = within
            .times(3.0)
            .times_plus(c3, c2.times(2.0))
            .times_plus(within, c1)
            * self.count;
        let load = -self.effective_load_n(meets.load_n);
        let less = (meets.load_n * self.per_middle_load).times(2.0).plus(-1.0);
        let over_load = -((load.same(1.0) - self.load_sensitivity * less) * grip * per);
        let over_sliding = (slope * rolling * per - grip) * per * per;
        let way = N::choose(meets.rolling_m_s.above(zero), zero.same(1.0), zero.same(-1.0));
        let over_rolling = N::choose(
            meets.rolling_m_s.abs().above(zero.same(SLOWEST_ROLLING_M_S)),
            (-slope * size * per - grip) * per * per * way,
            zero,
        );
        let slides = size.above(zero.same(1e-12));
        let cos = N::choose(slides, along / size, zero);
        let sin = N::choose(slides, across / size, zero);
        let steepest = grip * per;
        let xx = load * (along * over_sliding).times_plus(cos, steepest);
        let xy = load * along * over_sliding * sin;
        let yx = load * across * over_sliding * cos;
        let yy = load * (across * over_sliding).times_plus(sin, steepest);
        [
            [xx, xy, load * along * over_rolling - xx, over_load * along],
            [yx, yy, load * across * over_rolling - yx, over_load * across],
        ]
    }
}

impl Contact {
    #[inline(always)]
    fn meets(&self) -> Meets<f64> {
        Meets {
            load_n: self.load_n,
            along_m_s: self.along_m_s,
            across_m_s: self.across_m_s,
            rolling_m_s: self.rolling_m_s,
        }
    }
}

impl Tyre for SurfaceGrip {
    #[inline]
    fn force(&self, contact: &Contact) -> GroundForce {
        let (along_n, across_n) = self.figures.force(self, &contact.meets());
        GroundForce { along_n, across_n }
    }

    fn slopes(&self, contact: &Contact) -> Slopes {
        let [along, across] = self.figures.slopes(self, &contact.meets());
        Slopes {
            along_n_s_m: [along[0], along[1], along[2]],
            across_n_s_m: [across[0], across[1], across[2]],
            over_load: [along[3], across[3]],
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

//! The other way round: a bend is given, and a technique is looked for that brings the car through it.
//!
//! A technique does if the car comes out of the bend with all four wheels on the road until then and for a second more;
//! where on the road it begins, and when the lever is let go, is the driver's to choose, and the best is taken. The fastest
//! entry with which any does is the answer. What is looked through is a grid of entry speeds, steers and moments of the
//! driver's own pull: an answer is no proof that nothing faster would do.

use quantity::si::{Angle, Duration, Length, Speed};

use super::bend::{Bend, Through};
use super::best::{Asked, Depth, runs};
use super::many::tallies;
use super::technique::Technique;
use super::{Turn, TurnBench, TurnFault};

/// What keeps a car from coming through a bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StoppedBy {
    /// Nothing that was tried brings its path round; the furthest that it came.
    Rotation(Angle),
    /// It comes round, but not on a road of this width: at best a wheel is this far beyond its edge.
    Width(Length),
}

/// A way through a bend.
#[derive(Clone, Debug, PartialEq)]
pub struct WayThrough {
    /// What the driver does.
    pub technique: Technique,
    /// What comes of it.
    pub turn: Turn,
    /// When it is out of the bend.
    pub reached: Duration,
    /// How fast the car still is then.
    pub speed: Speed,
    /// What is left to the nearer edge of the road at the worst moment.
    pub to_spare: Length,
}

/// Entry speeds that are tried (m/s): 12 to 90 km/h.
const ENTRIES: u32 = 18;
const SLOWEST_M_S: f64 = 12.0 / 3.6;
const FASTEST_M_S: f64 = 90.0 / 3.6;
/// How many of them at once, from the fastest on.
const AT_A_TIME: u32 = 3;
/// Steers, over the furthest that the wheels go.
const STEERS: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];
/// From the start of steering to the pull (s).
const PULLS_S: [f64; 4] = [0.2, 0.5, 0.9, 1.4];

impl TurnBench {
    /// Looks for the fastest way through a bend, beginning from what `like` has for the driver's pull, the clutch, the
    /// lock and the quickness of hands.
    ///
    /// # Errors
    /// A bend that is none: see [`Bend`].
    pub fn search(&self, like: &Technique, bend: &Bend) -> Result<Result<WayThrough, StoppedBy>, TurnFault> {
        like.check()?;
        bend.check()?;
        let half_m = 0.5 * bend.width.m();
        let (mut furthest_rad, mut narrowest_m) = (0.0_f64, f64::INFINITY);
        let mut slower = ENTRIES;
        while slower > 0 {
            let next = slower.saturating_sub(AT_A_TIME);
            let asked: Vec<Asked<'_>> = (next..slower)
                .flat_map(|entry| candidates(like, bend, entry))
                .map(|technique| Asked {
                    bench: self,
                    technique,
                    depth: Depth::Moment,
                })
                .collect();
            slower = next;
            let mut best: Option<(Technique, f64, f64)> = None;
            for run in runs(&asked, tallies).into_iter().flatten() {
                let Through {
                    out_s,
                    off_m,
                    furthest_rad: came_rad,
                    ..
                } = run.judged.through;
                furthest_rad = furthest_rad.max(came_rad);
                let (Some(out_s), Some(off_m)) = (out_s, off_m) else {
                    continue;
                };
                narrowest_m = narrowest_m.min(off_m);
                let better = best.is_none_or(|(known, known_m, _)| {
                    run.technique.entry > known.entry
                        || (run.technique.entry >= known.entry && off_m < known_m)
                });
                if off_m <= half_m && better {
                    best = Some((run.technique, off_m, out_s));
                }
            }
            if let Some((technique, off_m, out_s)) = best {
                let turn = self.turn(&technique)?;
                return Ok(Ok(WayThrough {
                    technique: turn.technique,
                    reached: Duration::from_s(out_s),
                    speed: turn.speed_at(Duration::from_s(out_s)),
                    to_spare: Length::from_m(half_m - off_m),
                    turn,
                }));
            }
        }
        Ok(Err(if narrowest_m.is_finite() {
            StoppedBy::Width(Length::from_m(narrowest_m - half_m))
        } else {
            StoppedBy::Rotation(Angle::from_rad(furthest_rad))
        }))
    }
}

fn candidates(like: &Technique, bend: &Bend, entry: u32) -> Vec<Technique> {
    let side = if bend.angle.rad() < 0.0 { -1.0 } else { 1.0 };
    let share = f64::from(entry) / f64::from(ENTRIES - 1);
    let entry = Speed::from_m_s(SLOWEST_M_S + (FASTEST_M_S - SLOWEST_M_S) * share);
    let mut all = Vec::new();
    for steer in STEERS {
        for pull_s in PULLS_S {
            let pulled = Technique {
                entry,
                steer: like.lock * (side * steer),
                lever_at: like.steer_at + Duration::from_s(pull_s),
                bend: *bend,
                ..*like
            };
            all.push(pulled.at_best());
        }
    }
    all
}

//! The other way round: a bend is given, and a technique is looked for that brings the car through it.
//!
//! A technique does if the car comes out of the bend on the road, as [`Bend`] has it; the lever is let go at the best
//! moment, and the driver goes on round. What is looked through is a grid of entry speeds, the fastest first, steers and
//! moments of the pull with the driver's own force: an answer is no proof that nothing faster would do.

use quantity::si::{Angle, Duration, Length, Speed};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};

use super::bend::{Bend, Through};
use super::technique::Technique;
use super::{NoTurn, Turn, TurnBench};

/// What keeps a car from coming through a bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StoppedBy {
    /// Nothing that was tried turns the car so far; the furthest that it came.
    Rotation(Angle),
    /// It turns, but not on a road of this width: at best a wheel is this far beyond its edge.
    Width(Length),
}

/// A way through a bend.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// What the driver does.
    pub technique: Technique,
    /// What comes of it.
    pub turn: Turn,
    /// When the heading is reached.
    pub reached: Duration,
    /// How fast the car still is then.
    pub speed: Speed,
    /// What is left to the nearer edge of the road at the worst moment.
    pub to_spare: Length,
}

/// Entry speeds that are tried (m/s): 12 to 90 km/h.
const ENTRIES: u32 = 14;
const SLOWEST_M_S: f64 = 12.0 / 3.6;
const FASTEST_M_S: f64 = 90.0 / 3.6;
/// Steers, over the furthest that the wheels go.
const STEERS: [f64; 4] = [0.2, 0.4, 0.7, 1.0];
/// From the start of steering to the pull (s).
const PULLS_S: [f64; 3] = [0.2, 0.5, 1.0];
impl TurnBench {
    /// Looks for the fastest way through a bend, beginning from what `like` has for the driver's pull, the clutch, the
    /// lock and the quickness of hands. The fastest entries are tried first, and the first that any way gets through is the
    /// answer.
    ///
    /// # Errors
    /// A bend that is none: see [`Bend::check`].
    pub fn search(&self, like: &Technique, bend: &Bend) -> Result<Result<Found, StoppedBy>, NoTurn> {
        like.check()?;
        bend.check()?;
        let half_m = 0.5 * bend.width.m();
        let (mut furthest_rad, mut narrowest_m) = (0.0_f64, f64::INFINITY);
        for entry in (0..ENTRIES).rev() {
            let share = f64::from(entry) / f64::from(ENTRIES - 1);
            let entry = Speed::from_m_s(SLOWEST_M_S + (FASTEST_M_S - SLOWEST_M_S) * share);
            let tries: Vec<(Technique, Through)> = candidates(like, bend, entry)
                .into_par_iter()
                .filter_map(|technique| {
                    let run = self.judged_run(&technique).ok()?;
                    Some((technique, run.judged.through))
                })
                .collect();
            let mut best: Option<(Technique, f64, f64)> = None;
            for (technique, through) in tries {
                furthest_rad = furthest_rad.max(through.furthest_rad);
                if let (Some(out_s), Some(off_m)) = (through.out_s, through.off_m) {
                    narrowest_m = narrowest_m.min(off_m);
                    if off_m <= half_m && best.is_none_or(|(_, known_m, _)| off_m < known_m) {
                        best = Some((technique, off_m, out_s));
                    }
                }
            }
            if let Some((technique, off_m, out_s)) = best {
                let turn = self.turn(&technique)?;
                let speed = turn.speed_at(Duration::from_s(out_s));
                return Ok(Ok(Found {
                    technique: turn.technique,
                    turn,
                    reached: Duration::from_s(out_s),
                    speed,
                    to_spare: Length::from_m(half_m - off_m),
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

fn candidates(like: &Technique, bend: &Bend, entry: Speed) -> Vec<Technique> {
    let side = if bend.angle.rad() < 0.0 { -1.0 } else { 1.0 };
    let mut all = Vec::new();
    for steer in STEERS {
        for pull_s in PULLS_S {
            all.push(
                Technique {
                    entry,
                    steer: like.lock * (side * steer),
                    lever_at: like.steer_at + Duration::from_s(pull_s),
                    bend: *bend,
                    ..*like
                }
                .at_best(),
            );
        }
    }
    all
}

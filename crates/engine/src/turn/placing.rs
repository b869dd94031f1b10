//! Where on a road a run is best begun: a run moved along and across the road until its worst wheel is least off the middle.
//!
//! How far a wheel is off changes with the move by the road's normal there, so near a move the worst wheel is the largest of
//! straight lines: its least is found exactly, taken, and looked at anew. A coarse look over all moves says where to begin.
//! Held against moves tried one by one it is within 20 mm where the worst wheel is less than 3.5 m off, and within 60 mm
//! (in one of a thousand) where the road turns by more than half a circle; further off, where no road of 5 m is left, it may
//! be too far by up to a metre.

/// Moves that are looked at first: along, and across in parts of the room.
const ALONG: u32 = 28;
const ACROSS_M: [f64; 5] = [-3.4, -1.7, 0.0, 1.7, 3.4];

/// Every so manieth moment is enough for that; and for the first steps from there.
const COARSEST: usize = 6;
const COARSE: usize = 4;

/// How far a first step may go (m), and below which gain no other is made (m).
const REACH_M: f64 = 1.5;
const ENOUGH_M: f64 = 1e-3;

/// First and last step of what is tried where lines do not tell (m).
const FELT_M: f64 = 0.8;
const FINEST_M: f64 = 0.01;

/// Most steps, and most of those by which the least of some lines is found.
const STEPS: u32 = 12;
const CUTS: u32 = 16;

/// What is left of the difference once it is (m).
const CLOSE_M: f64 = 1e-5;

/// Wheels that decide near a move: the worst in each of so many directions of the road's normal.
const WAYS: usize = 16;

/// The middle of a road, seen from its own start of the bend: it comes in along x and turns to the left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Road {
    radius_m: f64,
    angle_rad: f64,
    sin: f64,
    cos: f64,
}

/// A run where it is best begun.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Placed {
    /// How far off the middle of the road its worst wheel is (m).
    pub(super) off_m: f64,
    /// Its start along the road from the bend's start, and across it to the inside (m).
    pub(super) along_m: f64,
    pub(super) across_m: f64,
}

/// A line over a move: how far off at none, and how that changes.
type Decides = (f64, f64, f64);

impl Road {
    pub(super) fn new(radius_m: f64, angle_rad: f64) -> Self {
        let (sin, cos) = angle_rad.sin_cos();
        Self {
            radius_m,
            angle_rad,
            sin,
            cos,
        }
    }

    pub(super) const fn angle_rad(&self) -> f64 {
        self.angle_rad
    }

    /// How far a place is off the middle, to the inside of the bend, and the way in which that grows.
    #[inline]
    fn off(&self, x: f64, y: f64) -> (f64, f64, f64) {
        let beyond_x = x - self.radius_m * self.sin;
        let beyond_y = y - self.radius_m * (1.0 - self.cos);
        let out = beyond_x * self.cos + beyond_y * self.sin;
        let mut best = (f64::INFINITY, 0.0, 0.0);
        if x <= 0.0 {
            best = (y, 0.0, 1.0);
        }
        if out >= 0.0 {
            let off = beyond_y * self.cos - beyond_x * self.sin;
            if off.abs() < best.0.abs() {
                best = (off, -self.sin, self.cos);
            }
        }
        let round = if self.angle_rad <= core::f64::consts::PI {
            x >= 0.0 && out <= 0.0
        } else {
            x >= 0.0 || out <= 0.0
        };
        if round {
            let from_y = y - self.radius_m;
            let from = (x * x + from_y * from_y).sqrt();
            let off = self.radius_m - from;
            if off.abs() < best.0.abs() {
                let per = 1.0 / from.max(1e-9);
                best = (off, -x * per, -from_y * per);
            }
        }
        best
    }

    /// The furthest that any of the wheels is off, the run moved by this much; no more than `enough` is wanted.
    fn worst_m(&self, wheels: &[(f64, f64)], (along, across): (f64, f64), enough: f64) -> f64 {
        let mut worst = 0.0_f64;
        // What comes last lies furthest off where a move is no good.
        for (x, y) in wheels.iter().rev() {
            worst = worst.max(self.off(x + along, y + across).0.abs());
            if worst > enough {
                return worst;
            }
        }
        worst
    }

    /// The worst wheel, and those that decide nearby.
    fn deciding(&self, wheels: &[(f64, f64)], (along, across): (f64, f64)) -> (f64, [Decides; WAYS]) {
        let mut lines = [(f64::NEG_INFINITY, 0.0, 0.0); WAYS];
        let mut worst = 0.0_f64;
        for (x, y) in wheels {
            let (off, by_x, by_y) = self.off(x + along, y + across);
            let (off, by_x, by_y) = if off < 0.0 {
                (-off, -by_x, -by_y)
            } else {
                (off, by_x, by_y)
            };
            worst = worst.max(off);
            let line = &mut lines[way(by_x, by_y)];
            if off > line.0 {
                *line = (off, by_x, by_y);
            }
        }
        (worst, lines)
    }

    /// Where a run is best begun. `wheels`: the four of every moment behind each other.
    pub(super) fn at_best(&self, wheels: &[(f64, f64)]) -> Placed {
        let few = |of: usize| -> Vec<(f64, f64)> {
            let moments = wheels.chunks(4);
            let last = moments.clone().last();
            moments.step_by(of).chain(last).flatten().copied().collect()
        };
        let coarse = few(COARSE);
        // The middle between the four stands for them.
        let middle = |four: &[(f64, f64)]| {
            let sum = four
                .iter()
                .fold((0.0, 0.0), |sum, wheel| (sum.0 + wheel.0, sum.1 + wheel.1));
            (0.25 * sum.0, 0.25 * sum.1)
        };
        let coarsest: Vec<(f64, f64)> = few(COARSEST).chunks(4).map(middle).collect();
        let reach = wheels.iter().map(|(x, _)| *x).fold(0.0, f64::max) + 1.0;
        let (low, high) = (-reach, self.radius_m + 1.0);
        let between = (high - low) / f64::from(ALONG - 1);
        let mut starts = [(f64::INFINITY, (low, 0.0)); 2];
        for step in 0..ALONG {
            let along = low + between * f64::from(step);
            for across in ACROSS_M {
                let worst = self.worst_m(&coarsest, (along, across), starts[1].0);
                if worst < starts[0].0 {
                    // A neighbour of the best is no other start.
                    if (along - starts[0].1.0).abs() > 2.5 * between {
                        starts[1] = starts[0];
                    }
                    starts[0] = (worst, (along, across));
                } else if worst < starts[1].0 && (along - starts[0].1.0).abs() > 2.5 * between {
                    starts[1] = (worst, (along, across));
                }
            }
        }
        let mut best = self.nearby(&coarse, starts[0].1);
        if starts[1].0 < best.off_m + REACH_M {
            let other = self.nearby(&coarse, starts[1].1);
            if other.off_m < best.off_m {
                best = other;
            }
        }
        let placed = self.nearby(wheels, (best.along_m, best.across_m));
        if self.crosses_itself() {
            self.felt_for(wheels, placed)
        } else {
            placed
        }
    }

    /// Whether a wheel may be as near to one piece of the road as to another.
    fn crosses_itself(&self) -> bool {
        self.angle_rad > core::f64::consts::PI
    }

    /// The best move near one, by trying: where a wheel lies between two pieces of the road no straight line tells how
    /// far off it is.
    fn felt_for(&self, wheels: &[(f64, f64)], placed: Placed) -> Placed {
        let mut best = placed;
        let mut step_m = FELT_M;
        while step_m > FINEST_M {
            let from = best;
            for right in -3..=3_i8 {
                for up in -3..=3_i8 {
                    let along_m = from.along_m + step_m * f64::from(right);
                    let across_m = from.across_m + step_m * f64::from(up);
                    let off_m = self.worst_m(wheels, (along_m, across_m), best.off_m);
                    if off_m < best.off_m {
                        best = Placed {
                            off_m,
                            along_m,
                            across_m,
                        };
                    }
                }
            }
            if best.off_m > from.off_m - ENOUGH_M {
                step_m *= 0.6;
            }
        }
        best
    }

    /// The best move near one.
    fn nearby(&self, wheels: &[(f64, f64)], begun: (f64, f64)) -> Placed {
        let mut at = begun;
        let (mut worst, mut lines) = self.deciding(wheels, at);
        let mut reach = REACH_M;
        for _ in 0..STEPS {
            let (by, promised) = least(&lines, reach);
            if worst - promised < ENOUGH_M {
                break;
            }
            let to = (at.0 + by.0, at.1 + by.1);
            let (found, there) = self.deciding(wheels, to);
            let gain = worst - found;
            if gain > 0.0 {
                (at, worst, lines) = (to, found, there);
            }
            if gain < ENOUGH_M {
                reach *= 0.25;
                if reach < 0.02 {
                    break;
                }
            }
        }
        Placed {
            off_m: worst,
            along_m: at.0,
            across_m: at.1,
        }
    }
}

/// Which of the directions one is.
#[inline]
fn way(x: f64, y: f64) -> usize {
    let (steep, flat) = (x.abs(), y.abs());
    let (first, of) = if steep > flat {
        (flat, steep)
    } else {
        (steep, flat)
    };
    usize::from(x > 0.0)
        | usize::from(y > 0.0) << 1
        | usize::from(steep > flat) << 2
        | usize::from(first > 0.414 * of) << 3
}

/// The move within a reach, along and across, at which the largest of the lines is least, and what it is there.
fn least(lines: &[Decides; WAYS], reach: f64) -> ((f64, f64), f64) {
    let across = |along: f64| {
        let at = |across: f64| {
            let (value, by_along, by_across) = top(lines, along, across);
            (value, by_across, by_along)
        };
        lowest(&at, reach)
    };
    let at = |along: f64| {
        let (_, value, by_along) = across(along);
        (value, by_along, 0.0)
    };
    let (along, value, _) = lowest(&at, reach);
    ((along, across(along).0), value)
}

/// Where a convex figure is least from −`reach` to `reach`, what it is there, and what else grows with it. `at` gives the
/// figure with its slope, and that other slope: between two tangents that fall and rise the next look is where they meet.
fn lowest(at: &impl Fn(f64) -> (f64, f64, f64), reach: f64) -> (f64, f64, f64) {
    let (mut low, mut high) = (-reach, reach);
    let (mut falls, mut rises) = (at(low), at(high));
    if falls.1 >= 0.0 {
        return (low, falls.0, falls.2);
    }
    if rises.1 <= 0.0 {
        return (high, rises.0, rises.2);
    }
    let mut meets = low;
    for _ in 0..CUTS {
        meets = (falls.0 - rises.0 + rises.1 * high - falls.1 * low) / (rises.1 - falls.1);
        let value = falls.0 + falls.1 * (meets - low);
        let there = at(meets);
        if there.0 - value < CLOSE_M {
            // Both tangents hold here: the other slope is theirs, as far as each counts.
            let other = (falls.2 * rises.1 - rises.2 * falls.1) / (rises.1 - falls.1);
            return (meets, there.0, other);
        }
        if there.1 < 0.0 {
            (low, falls) = (meets, there);
        } else {
            (high, rises) = (meets, there);
        }
    }
    let there = at(meets);
    (meets, there.0, there.2)
}

/// The largest of the lines at a move, with its slopes.
#[inline]
fn top(lines: &[Decides; WAYS], along: f64, across: f64) -> Decides {
    let mut top = (f64::NEG_INFINITY, 0.0, 0.0);
    for &(off, by_along, by_across) in lines {
        let there = off + by_along * along + by_across * across;
        if there > top.0 {
            top = (there, by_along, by_across);
        }
    }
    top
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{ProptestConfig, Strategy, proptest};

    /// Against moves tried one by one, ever finer round the best ones.
    fn tried(road: &Road, wheels: &[(f64, f64)]) -> f64 {
        let reach = wheels.iter().map(|(x, _)| *x).fold(0.0, f64::max) + 1.0;
        let mut best = vec![(f64::INFINITY, 0.0, 0.0)];
        let (low, high) = (-reach, road.radius_m + 1.0);
        for step in 0..=120_u16 {
            let along = low + (high - low) * f64::from(step) / 120.0;
            for across in -20..=20_i8 {
                let across = 0.25 * f64::from(across);
                best.push((
                    road.worst_m(wheels, (along, across), f64::INFINITY),
                    along,
                    across,
                ));
            }
        }
        best.sort_by(|one, other| one.0.total_cmp(&other.0));
        best.truncate(12);
        let mut least = f64::INFINITY;
        for (_, along, across) in best {
            let (mut along, mut across, mut step) = (along, across, 0.3);
            while step > 1e-3 {
                let mut to = (
                    road.worst_m(wheels, (along, across), f64::INFINITY),
                    along,
                    across,
                );
                for right in -3..=3_i8 {
                    for up in -3..=3_i8 {
                        let (x, y) = (along + step * f64::from(right), across + step * f64::from(up));
                        let worst = road.worst_m(wheels, (x, y), to.0);
                        if worst < to.0 {
                            to = (worst, x, y);
                        }
                    }
                }
                (along, across) = (to.1, to.2);
                least = least.min(to.0);
                step *= 0.5;
            }
        }
        least
    }

    /// A car that comes in straight, slides round with its nose ahead of its way, and drives off.
    fn slid(radius_m: f64, turned: f64, nose: f64, wobble: f64) -> Vec<(f64, f64)> {
        let mut wheels = Vec::new();
        let (mut x, mut y, mut path) = (0.0_f64, 0.0_f64, 0.0_f64);
        let before = 20;
        for step in 0..120_u8 {
            let share = ((f64::from(step) - f64::from(before)) / 60.0).clamp(0.0, 1.0);
            let bend = turned * share * share * (3.0 - 2.0 * share);
            let turns = bend - path;
            path = bend + wobble * (0.3 * f64::from(step)).sin();
            let length = if turns > 0.0 { radius_m * turns } else { 0.5 };
            x += length.max(0.1) * path.cos();
            y += length.max(0.1) * path.sin();
            let heading = path + nose * (core::f64::consts::PI * share).sin();
            let (sin, cos) = heading.sin_cos();
            for (ahead, left) in [(1.2, 0.7), (1.2, -0.7), (-1.3, 0.7), (-1.3, -0.7)] {
                wheels.push((x + ahead * cos - left * sin, y + ahead * sin + left * cos));
            }
        }
        wheels
    }

    fn ways() -> impl Strategy<Value = (f64, f64, f64, f64, f64)> {
        (
            0.6..4.5_f64,
            4.0..14.0_f64,
            0.7..1.3_f64,
            0.0..1.2_f64,
            0.0..0.05_f64,
        )
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

        #[test]
        fn no_move_that_is_tried_is_better((angle, radius, turned, nose, wobble) in ways()) {
            let road = Road::new(7.0, angle);
            let wheels = slid(radius, angle * turned, nose, wobble);
            let placed = road.at_best(&wheels);
            let best = tried(&road, &wheels);
            // Far off, another piece of the road may be the nearer one beyond a step.
            let near = match best < 3.5 {
                true if road.crosses_itself() => 0.06,
                true => 0.02,
                false => 1.0,
            };
            assert!(placed.off_m < best + near, "{} {best}", placed.off_m);
            let worst = road.worst_m(&wheels, (placed.along_m, placed.across_m), f64::INFINITY);
            assert!((worst - placed.off_m).abs() < 1e-9);
        }
    }

    /// Straight in, along each piece and where they meet: by hand.
    #[test]
    fn how_far_a_place_is_off_the_middle() {
        let road = Road::new(7.0, core::f64::consts::FRAC_PI_2);
        for ((x, y), wanted) in [
            ((-3.0, 0.5), 0.5),
            ((-3.0, -0.5), -0.5),
            ((0.0, 1.0), 1.0),
            // On the arc's bisector, a metre outside.
            ((8.0 * 0.5_f64.sqrt(), 7.0 - 8.0 * 0.5_f64.sqrt()), -1.0),
            // The way out goes up at x = 7.
            ((6.0, 9.0), 1.0),
            ((7.5, 20.0), -0.5),
            // In the middle of the arc.
            ((0.0, 7.0), 7.0),
        ] {
            let found = road.off(x, y).0;
            assert!((found.abs() - f64::abs(wanted)).abs() < 1e-12, "{x} {y}: {found}");
        }
        // Three quarters round, both legs are near each other; the nearer one counts.
        let road = Road::new(7.0, 1.5 * core::f64::consts::PI);
        assert!((road.off(-7.0, 3.0).0.abs()) < 1e-9);
    }
}

//! The bend that a turn is driven for, and where a motion lies in it.
//!
//! A bend is a road of one width: straight, an arc about the middle of the road, straight. It turns to the side that the
//! driver steers to. Where along and across the road the run begins is the driver's to choose, and the best is taken.

use quantity::si::{Angle, Length};

use super::contact::Tyre;
use super::integrate::Node;
use super::measure;
use super::motion::{FORWARD, HEADING, SIDEWAYS, State};
use super::technique::OutOfRange;
use super::vehicle::Vehicle;

/// A bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// By how much the road turns.
    pub angle: Angle,
    /// Of the middle of the road.
    pub radius: Length,
    /// Of the road.
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
    /// An angle outside 20° to 270° either way, a radius outside 1 m to 100 m, a width outside 2 m to 50 m or more than
    /// twice the radius.
    pub fn check(&self) -> Result<(), OutOfRange> {
        let within = |what, found: f64, low: f64, high: f64, unit| {
            if (low..=high).contains(&found) {
                Ok(())
            } else {
                Err(OutOfRange {
                    what,
                    low,
                    high,
                    found,
                    unit,
                })
            }
        };
        let angle = self.angle.rad().abs().to_degrees();
        within("the bend's angle", angle, 20.0, 270.0, "deg")?;
        within("the bend's radius", self.radius.m(), 1.0, 100.0, "m")?;
        let widest = (2.0 * self.radius.m()).min(50.0);
        within("the road's width", self.width.m(), 2.0, widest, "m")
    }

    pub(super) fn road(&self) -> Road {
        Road {
            radius_m: self.radius.m(),
            angle_rad: self.angle.rad().abs(),
            half_m: 0.5 * self.width.m(),
        }
    }
}

/// The car is out of the bend once its path points within this of the road (judgement) ...
pub const OUT_WITHIN: Angle = Angle::from_rad(15.0 / 180.0 * core::f64::consts::PI);

/// ... and it looks within this of its path, going forward (judgement).
pub const LOOKS_WITHIN: Angle = Angle::from_rad(45.0 / 180.0 * core::f64::consts::PI);

/// How long a car has to keep to the road once it is out (s).
pub(super) const KEEPS_TO_IT_S: f64 = 1.0;

/// Backwards, faster than this, it rolls backwards (m/s) (judgement).
const BACKWARDS_M_S: f64 = 1.0;

/// Slower than this it stands (m/s).
const STANDS_M_S: f64 = 0.3;

/// Between the moments at which wheels are looked at (s).
const BETWEEN_S: f64 = 0.04;

/// Where a car stands to the way out of a bend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    /// Still on its way.
    Under,
    /// Its path points down the road, and it looks along.
    Out,
    /// It rolls backwards.
    Backwards,
    /// It has come to rest.
    Stands,
}

/// How a motion stands to a bend that turns the road by `angle_rad` to a side (+1: left).
pub(super) fn standing(state: &State, side: f64, angle_rad: f64) -> Standing {
    let (forward, sideways) = (state[FORWARD], state[SIDEWAYS]);
    let speed = forward.hypot(sideways);
    if speed < STANDS_M_S {
        return Standing::Stands;
    }
    if forward < 0.0 {
        return if speed > BACKWARDS_M_S {
            Standing::Backwards
        } else {
            Standing::Under
        };
    }
    let drift = sideways.atan2(forward);
    let off = side * (state[HEADING] + drift) - angle_rad;
    if off.abs() <= OUT_WITHIN.rad() && drift.abs() <= LOOKS_WITHIN.rad() {
        Standing::Out
    } else {
        Standing::Under
    }
}

/// How far a path's direction has come to a side (rad); what it was where the car no longer goes forward.
fn come_round(state: &State, side: f64) -> Option<f64> {
    (state[FORWARD] > 0.0).then(|| side * (state[HEADING] + state[SIDEWAYS].atan2(state[FORWARD])))
}

/// How a path goes through a bend.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Through {
    /// When the car is out of it (s); `None`: never.
    pub out_s: Option<f64>,
    /// Whether it rolls backwards before.
    pub backwards: bool,
    /// Whether it comes to rest before.
    pub stood: bool,
    /// How far off the middle of the road its worst wheel is until a second after, wherever it is best begun (m).
    pub off_m: Option<f64>,
    /// Where that is: the run's start along the road from the bend's start and across it to the side that it turns to (m).
    pub begun_m: Option<(f64, f64)>,
    /// How far the path's direction came round at most (rad).
    pub furthest_rad: f64,
}

impl Through {
    /// Of a path with a bend to a side (+1: left).
    pub(super) fn of<T: Tyre>(vehicle: &Vehicle<T>, path: &[Node], side: f64, bend: &Bend) -> Self {
        let road = bend.road();
        let mut through = Self::default();
        let Some(last) = path.last() else {
            return through;
        };
        let mut time_s = path[0].time_s;
        while time_s < last.time_s + 1e-9 {
            let Some(state) = measure::at(path, time_s.min(last.time_s)) else {
                break;
            };
            if let Some(round) = come_round(&state, side) {
                through.furthest_rad = through.furthest_rad.max(round);
            }
            match standing(&state, side, road.angle_rad) {
                Standing::Under => {}
                Standing::Out => {
                    through.out_s = Some(time_s);
                    break;
                }
                Standing::Backwards => {
                    through.backwards = true;
                    break;
                }
                Standing::Stands => {
                    through.stood = true;
                    break;
                }
            }
            time_s += 0.5 * BETWEEN_S;
        }
        if let Some(out_s) = through.out_s {
            let until_s = (out_s + KEEPS_TO_IT_S).min(last.time_s);
            let mut places = Vec::with_capacity(512);
            let mut time_s = path[0].time_s;
            loop {
                let at_s = time_s.min(until_s);
                if let Some(state) = measure::at(path, at_s) {
                    places.extend(measure::corners_at(vehicle, &state).map(|(x, y)| (x, side * y)));
                }
                if at_s >= until_s {
                    break;
                }
                time_s += BETWEEN_S;
            }
            let (off_m, along, across) = road.at_best_m(&places);
            through.off_m = Some(off_m);
            through.begun_m = Some((along, across));
        }
        through
    }
}

/// The road, seen from its own start of the bend: it comes in along x and turns to the left.
pub(super) struct Road {
    radius_m: f64,
    angle_rad: f64,
    half_m: f64,
}

impl Road {
    /// How far a place is from the middle of the road (m).
    fn off_the_middle_m(&self, x: f64, y: f64) -> f64 {
        let mut least = f64::INFINITY;
        if x <= 0.0 {
            least = y.abs();
        }
        let (sin, cos) = self.angle_rad.sin_cos();
        let (beyond_x, beyond_y) = (x - self.radius_m * sin, y - self.radius_m * (1.0 - cos));
        if beyond_x * cos + beyond_y * sin >= 0.0 {
            least = least.min((beyond_y * cos - beyond_x * sin).abs());
        }
        let (from_x, from_y) = (x, self.radius_m - y);
        let round = from_x.atan2(from_y).rem_euclid(core::f64::consts::TAU);
        if round <= self.angle_rad {
            least = least.min((from_x.hypot(from_y) - self.radius_m).abs());
        }
        least
    }

    /// The furthest that any of the places is off, the car's way moved by this much.
    fn worst_m(&self, places: &[(f64, f64)], along: f64, across: f64, enough: f64) -> f64 {
        let mut worst = 0.0_f64;
        // What comes last lies furthest off where a try is no good.
        for (x, y) in places.iter().rev() {
            worst = worst.max(self.off_the_middle_m(x + along, y + across));
            if worst > enough {
                return worst;
            }
        }
        worst
    }

    /// The least of that wherever the driver begins, and where along and across that is.
    fn at_best_m(&self, places: &[(f64, f64)]) -> (f64, f64, f64) {
        let reach = places.iter().map(|(x, _)| *x).fold(0.0, f64::max) + 1.0;
        let (low, high) = (-reach, self.radius_m + self.half_m);
        let mut best = (f64::INFINITY, low, 0.0);
        let look = |along: f64, across: f64, best: &mut (f64, f64, f64)| {
            let worst = self.worst_m(places, along, across, best.0);
            if worst < best.0 {
                *best = (worst, along, across);
            }
        };
        for along in 0..32_u8 {
            let along = low + (high - low) * f64::from(along) / 31.0;
            for across in [-0.8, -0.4, 0.0, 0.4, 0.8] {
                look(along, across * self.half_m, &mut best);
            }
        }
        let mut step = (high - low) / 62.0;
        while step > 0.005 {
            let (before, along, across) = best;
            for (by_x, by_y) in [(step, 0.0), (-step, 0.0), (0.0, step), (0.0, -step)] {
                look(along + by_x, across + by_y, &mut best);
            }
            if best.0 >= before {
                step *= 0.5;
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn moving(heading_deg: f64, forward: f64, sideways: f64) -> State {
        let mut state = [0.0; crate::turn::motion::STATES];
        state[HEADING] = heading_deg.to_radians();
        state[FORWARD] = forward;
        state[SIDEWAYS] = sideways;
        state
    }

    fn drifting(path_deg: f64, drift_deg: f64) -> State {
        let (sin, cos) = drift_deg.to_radians().sin_cos();
        moving(path_deg - drift_deg, 6.0 * cos, 6.0 * sin)
    }

    #[test]
    fn out_lies_within_fifteen_degrees_of_the_road_and_forty_five_of_the_path() {
        let turned = core::f64::consts::PI;
        for (path, drift, wanted) in [
            (164.9, 0.0, Standing::Under),
            (165.1, 0.0, Standing::Out),
            (194.9, 0.0, Standing::Out),
            (195.1, 0.0, Standing::Under),
            (180.0, -44.9, Standing::Out),
            (180.0, -45.1, Standing::Under),
            (180.0, 45.1, Standing::Under),
        ] {
            assert_eq!(
                standing(&drifting(path, drift), 1.0, turned),
                wanted,
                "{path}° {drift}°"
            );
            assert_eq!(
                standing(&drifting(-path, -drift), -1.0, turned),
                wanted,
                "{path}° {drift}°"
            );
        }
    }

    #[test]
    fn backwards_is_faster_than_a_metre_a_second_and_standing_slower_than_a_walk() {
        for (forward, sideways, wanted) in [
            (-0.1, 0.97, Standing::Under),
            (-0.1, 1.02, Standing::Backwards),
            (-1.02, 0.0, Standing::Backwards),
            (-0.98, 0.0, Standing::Under),
            (0.0, 5.0, Standing::Under),
            (0.29, 0.0, Standing::Stands),
            (0.31, 0.0, Standing::Under),
        ] {
            let state = moving(90.0, forward, sideways);
            assert_eq!(
                standing(&state, 1.0, core::f64::consts::PI),
                wanted,
                "{forward} {sideways}"
            );
        }
    }

    /// Along the middle all round nothing is off; and one line down each side of a hairpin is off by what it is.
    #[test]
    fn the_middle_of_the_road_is_nowhere_off() {
        let road = Bend::HAIRPIN.road();
        let mut places = Vec::new();
        for step in 0..=20_u8 {
            places.push((-10.0 + 0.5 * f64::from(step), 0.0));
            let round = core::f64::consts::PI * f64::from(step) / 20.0;
            places.push((7.0 * round.sin(), 7.0 * (1.0 - round.cos())));
            places.push((-0.5 * f64::from(step), 14.0));
        }
        // Begun anywhere, it is found again.
        let moved: Vec<(f64, f64)> = places.iter().map(|(x, y)| (x + 10.0, y - 1.0)).collect();
        let (off, along, across) = road.at_best_m(&moved);
        assert!(off < 0.02, "{off}");
        assert!(
            (along + 10.0).abs() < 0.05 && (across - 1.0).abs() < 0.05,
            "{along} {across}"
        );
        // Two metres wider everywhere: two metres off.
        let wide: Vec<(f64, f64)> = (0..=20_u8)
            .map(|step| {
                let round = core::f64::consts::PI * f64::from(step) / 20.0;
                (9.0 * round.sin(), 7.0 - 9.0 * round.cos())
            })
            .chain([(-12.0, -2.0), (-12.0, 16.0)])
            .collect();
        let (off, ..) = road.at_best_m(&wide);
        assert!((off - 2.0).abs() < 0.02, "{off}");
    }
}

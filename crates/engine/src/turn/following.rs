//! How a motion stands to the way out of its bend, and how far a run is followed.

use quantity::si::Speed;

use super::bend::Bend;
use super::motion::{FORWARD, HEADING, SIDEWAYS, State};
use crate::thresholds::{BACKWARDS_FROM, LOOKS_WITHIN, OUT_WITHIN};

/// How long a car has to keep to the road once it is out (s).
pub(super) const KEEPS_TO_IT_S: f64 = 1.0;

/// Slower than this it stands (m/s).
const STANDS_M_S: f64 = 0.3;

/// Between the moments at which the way out is looked for (s).
pub(super) const BETWEEN_S: f64 = 0.02;

/// Longest step (s) while a stop may come to rest: one that does and lets go again within a step is not looked for.
const LONGEST_NEAR_S: f64 = 0.06;

/// Longest step (s) while all turn faster than this (rad/s), or take nothing.
pub(super) const LONGEST_S: f64 = 0.12;
const NEAR_RAD_S: f64 = 5.0;

/// The longest step, given what is left at its start before a stop comes to rest or lets go.
pub(super) fn longest_s(left: f64) -> f64 {
    if left > NEAR_RAD_S {
        LONGEST_S
    } else {
        LONGEST_NEAR_S
    }
}

/// Whoever is not out of a bend so long after letting go (s), and the time that the arc takes at so much of the entry
/// speed, does not come out.
const GIVES_UP_S: f64 = 4.0;
const SHARE_OF_ENTRY: f64 = 0.5;

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
pub(super) fn standing(heading_rad: f64, speeds: (f64, f64), side: f64, angle_rad: f64) -> Standing {
    standing_in(heading_rad, speeds, side, angle_rad, || drift(speeds))
}

/// The path's direction off the heading, going forward (rad).
pub(super) fn drift((forward, sideways): (f64, f64)) -> f64 {
    sideways.atan2(forward)
}

/// The same, with the path's direction where it is known.
pub(super) fn standing_in(
    heading_rad: f64,
    (forward, sideways): (f64, f64),
    side: f64,
    angle_rad: f64,
    drift: impl FnOnce() -> f64,
) -> Standing {
    let square = forward * forward + sideways * sideways;
    if square < STANDS_M_S * STANDS_M_S {
        return Standing::Stands;
    }
    if forward < 0.0 {
        return if square > BACKWARDS_FROM.m_s() * BACKWARDS_FROM.m_s() {
            Standing::Backwards
        } else {
            Standing::Under
        };
    }
    // Looking so far off the road, no path is both along the road and near to where the car looks.
    if (side * heading_rad - angle_rad).abs() > OUT_WITHIN.rad() + LOOKS_WITHIN.rad() {
        return Standing::Under;
    }
    let drift = drift();
    let off = side * (heading_rad + drift) - angle_rad;
    if off.abs() <= OUT_WITHIN.rad() && drift.abs() <= LOOKS_WITHIN.rad() {
        Standing::Out
    } else {
        Standing::Under
    }
}

/// How far a run is followed: until it is out of its bend for as long as that is looked at, and the lever let go; or until
/// it rolls backwards or stands; or until a moment. It has no say in the steps but for the longest.
#[derive(Clone, Copy, Debug)]
pub(super) struct Following {
    side: f64,
    /// By how much the road turns (rad).
    angle_rad: f64,
    /// Not before (s).
    not_before_s: f64,
    /// Nor later (s).
    at_latest_s: f64,
    out_s: Option<f64>,
    /// Whatever it does meanwhile.
    only_time: bool,
}

impl Following {
    /// Until a moment (s).
    pub(super) const fn until(at_latest_s: f64) -> Self {
        Self {
            side: 1.0,
            angle_rad: f64::MAX,
            not_before_s: 0.0,
            at_latest_s,
            out_s: None,
            only_time: true,
        }
    }

    /// Through a bend, entered so fast.
    pub(super) fn through(side: f64, bend: &Bend, entry: Speed, not_before_s: f64) -> Self {
        let angle_rad = bend.angle.rad().abs();
        let round_s = angle_rad * bend.radius.m() / (SHARE_OF_ENTRY * entry.m_s());
        Self {
            side,
            angle_rad,
            not_before_s,
            at_latest_s: not_before_s + GIVES_UP_S + round_s,
            out_s: None,
            only_time: false,
        }
    }

    /// As long as anything can come of letting go of a lever that is pulled in full from a moment (s) on: what a car does that
    /// has kept to the road beyond the bend with the lever still pulled is not looked at.
    pub(super) fn pulled(side: f64, bend: &Bend, in_full_s: f64) -> Self {
        Self {
            side,
            angle_rad: bend.angle.rad().abs(),
            not_before_s: in_full_s,
            at_latest_s: f64::INFINITY,
            out_s: None,
            only_time: false,
        }
    }

    /// When it is given up (s).
    pub(super) const fn at_latest_s(&self) -> f64 {
        self.at_latest_s
    }

    /// Looks at a moment of the run; whether that is its last.
    pub(super) fn ends(&mut self, time_s: f64, state: &State) -> bool {
        if self.out_s.is_none() && !self.only_time {
            let speeds = (state[FORWARD], state[SIDEWAYS]);
            match standing(state[HEADING], speeds, self.side, self.angle_rad) {
                Standing::Under => {}
                Standing::Out => self.out_s = Some(time_s),
                Standing::Backwards => return true,
                Standing::Stands => return time_s > self.not_before_s,
            }
        }
        let last_s = self.out_s.map_or(self.at_latest_s, |out_s| {
            (out_s + KEEPS_TO_IT_S + BETWEEN_S).max(self.not_before_s)
        });
        time_s > last_s
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drifting(path_deg: f64, drift_deg: f64, side: f64) -> Standing {
        let (sin, cos) = (side * drift_deg).to_radians().sin_cos();
        let heading = (side * (path_deg - drift_deg)).to_radians();
        standing(heading, (6.0 * cos, 6.0 * sin), side, core::f64::consts::PI)
    }

    #[test]
    fn out_lies_within_fifteen_degrees_of_the_road_and_forty_five_of_the_path() {
        for (path, drift, wanted) in [
            (164.9, 0.0, Standing::Under),
            (165.1, 0.0, Standing::Out),
            (194.9, 0.0, Standing::Out),
            (195.1, 0.0, Standing::Under),
            (180.0, -44.9, Standing::Out),
            (180.0, -45.1, Standing::Under),
            (180.0, 45.1, Standing::Under),
        ] {
            for side in [1.0, -1.0] {
                assert_eq!(drifting(path, drift, side), wanted, "{path}° {drift}° {side}");
            }
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
            let heading = core::f64::consts::FRAC_PI_2;
            let found = standing(heading, (forward, sideways), 1.0, core::f64::consts::PI);
            assert_eq!(found, wanted, "{forward} {sideways}");
        }
    }

    #[test]
    fn a_run_is_followed_for_a_second_after_it_is_out_or_until_it_rolls_backwards() {
        let moving = |heading_deg: f64, forward: f64| {
            let mut state = [0.0; crate::turn::motion::STATES];
            state[HEADING] = heading_deg.to_radians();
            state[FORWARD] = forward;
            state
        };
        let mut through = Following::through(1.0, &Bend::JUNCTION, Speed::from_m_s(10.0), 0.0);
        assert!(!through.ends(1.0, &moving(40.0, 6.0)));
        assert!(!through.ends(2.0, &moving(80.0, 6.0)));
        assert!(!through.ends(3.0, &moving(120.0, 6.0)));
        assert!(through.ends(3.1, &moving(120.0, 6.0)));
        let mut late = Following::through(1.0, &Bend::JUNCTION, Speed::from_m_s(10.0), 5.0);
        assert!(!late.ends(2.0, &moving(90.0, 6.0)));
        assert!(!late.ends(4.9, &moving(90.0, 6.0)));
        assert!(late.ends(5.1, &moving(90.0, 6.0)));
        // Never out: 4 s after letting go, and 11 m of an arc at 5 m/s.
        let mut never = Following::through(1.0, &Bend::JUNCTION, Speed::from_m_s(10.0), 1.0);
        assert!(!never.ends(7.1, &moving(20.0, 6.0)));
        assert!(never.ends(7.3, &moving(20.0, 6.0)));
        let mut pulled = Following::pulled(1.0, &Bend::HAIRPIN, 0.6);
        assert!(!pulled.ends(2.0, &moving(90.0, 6.0)));
        assert!(!pulled.ends(90.0, &moving(120.0, 6.0)));
        assert!(pulled.ends(91.0, &moving(150.0, -3.0)));
        let mut out = Following::pulled(1.0, &Bend::HAIRPIN, 0.6);
        assert!(!out.ends(3.0, &moving(170.0, 6.0)));
        assert!(!out.ends(4.0, &moving(200.0, 6.0)));
        assert!(out.ends(4.1, &moving(220.0, 6.0)));
        // Out before the lever is pulled in full: on until it is.
        let mut late = Following::pulled(1.0, &Bend::HAIRPIN, 5.0);
        assert!(!late.ends(3.0, &moving(170.0, 6.0)));
        assert!(!late.ends(4.9, &moving(220.0, 6.0)));
        assert!(late.ends(5.1, &moving(220.0, 6.0)));
    }
}

//! The bend that a turn is driven for, and where a motion lies in it.
//!
//! A bend is a road of one width: straight, an arc about the middle of the road, straight. It turns to the side that the
//! driver steers to. Where along and across the road the run begins is the driver's to choose, and the best is taken.

use quantity::si::{Angle, Length, Speed};

use super::measure::Place;
use super::motion::{FORWARD, HEADING, SIDEWAYS, State};
use super::placing::{Placed, Road};
use super::technique::TechniqueFault;
use crate::thresholds::{BACKWARDS_FROM, LOOKS_WITHIN, OUT_WITHIN};

/// A bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// By how much the road turns, 20° to 270°.
    pub angle: Angle,
    /// Of the middle of the road, 1 m to 100 m.
    pub radius: Length,
    /// Of the road, 2 m to 50 m, and no more than twice the radius.
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
    /// A figure outside its range.
    pub fn check(&self) -> Result<(), TechniqueFault> {
        let within = TechniqueFault::unless_within;
        let angle = self.angle.rad().abs().to_degrees();
        within("the bend's angle", angle, 20.0, 270.0, "deg")?;
        within("the bend's radius", self.radius.m(), 1.0, 100.0, "m")?;
        let widest = (2.0 * self.radius.m()).min(50.0);
        within("the road's width", self.width.m(), 2.0, widest, "m")
    }

    /// Both edges of the road as a run sees it that begins `begun` along and across it and turns to a side (+1: left): so far
    /// before and behind the bend. Points along and to the left of the way in (m), the outer edge first.
    #[must_use]
    pub fn edges(
        &self,
        begun: (f64, f64),
        side: f64,
        before: Length,
        behind: Length,
    ) -> [Vec<(f64, f64)>; 2] {
        let (radius_m, angle_rad) = (self.radius.m(), self.angle.rad().abs());
        let (sin, cos) = angle_rad.sin_cos();
        [1.0, -1.0].map(|outward| {
            let round_m = radius_m + outward * 0.5 * self.width.m();
            let at = |along: f64, across: f64| (along - begun.0, side * (across - begun.1));
            let on_arc = |rad: f64| (round_m * rad.sin(), radius_m - round_m * rad.cos());
            let mut edge = vec![at(-before.m(), radius_m - round_m)];
            edge.extend((0..=ARC_PARTS).map(|part| {
                let (x, y) = on_arc(angle_rad * f64::from(part) / f64::from(ARC_PARTS));
                at(x, y)
            }));
            let (x, y) = on_arc(angle_rad);
            edge.push(at(x + behind.m() * cos, y + behind.m() * sin));
            edge
        })
    }

    pub(super) fn road(&self) -> Road {
        Road::new(self.radius.m(), self.angle.rad().abs())
    }
}

/// How long a car has to keep to the road once it is out (s).
pub(super) const KEEPS_TO_IT_S: f64 = 1.0;

/// Slower than this it stands (m/s).
const STANDS_M_S: f64 = 0.3;

/// Between the moments at which the way out is looked for (s).
const BETWEEN_S: f64 = 0.02;

/// The wheels are looked at anew once the car has gone so far (m) or turned by so much (rad): a wheel's way bulges by
/// less than a centimetre between.
const APART_M: f64 = 0.5;
const APART_RAD: f64 = 0.09;

/// Straight parts by which an arc is drawn.
const ARC_PARTS: u8 = 24;

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
fn standing(heading_rad: f64, (forward, sideways): (f64, f64), side: f64, angle_rad: f64) -> Standing {
    let speed = forward.hypot(sideways);
    if speed < STANDS_M_S {
        return Standing::Stands;
    }
    if forward < 0.0 {
        return if speed > BACKWARDS_FROM.m_s() {
            Standing::Backwards
        } else {
            Standing::Under
        };
    }
    let drift = sideways.atan2(forward);
    let off = side * (heading_rad + drift) - angle_rad;
    if off.abs() <= OUT_WITHIN.rad() && drift.abs() <= LOOKS_WITHIN.rad() {
        Standing::Out
    } else {
        Standing::Under
    }
}

/// How far a run is followed: until it is out of its bend for as long as that is looked at, and the lever let go; or until
/// it rolls backwards or stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Following {
    side: f64,
    /// By how much the road turns (rad); without end: coming out ends nothing.
    angle_rad: f64,
    /// Not before (s).
    not_before_s: f64,
    /// Nor later (s).
    at_latest_s: f64,
    out_s: Option<f64>,
}

impl Following {
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
        }
    }

    /// As long as anything can come of letting go.
    pub(super) const fn while_forward(side: f64) -> Self {
        Self {
            side,
            angle_rad: f64::INFINITY,
            not_before_s: 0.0,
            at_latest_s: f64::INFINITY,
            out_s: None,
        }
    }

    /// Looks at a moment of the run; whether that is its last.
    pub(super) fn ends(&mut self, time_s: f64, state: &State) -> bool {
        if self.out_s.is_none() {
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

/// How a run goes through a bend.
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
    /// Of a way through a bend to a side (+1: left). `corners`: where the four wheels stand from the centre of gravity,
    /// ahead and to the left (m).
    pub(super) fn of(way: &[Place], corners: &[(f64, f64); 4], side: f64, bend: &Bend) -> Self {
        let road = bend.road();
        let mut through = Self::default();
        let (Some(first), Some(last)) = (way.first(), way.last()) else {
            return through;
        };
        let mut looks = Looks::along(way);
        let mut time_s = first.time_s;
        while time_s < last.time_s + 1e-9 {
            let place = looks.at(time_s.min(last.time_s));
            if place.forward_m_s > 0.0 {
                let path = side * (place.heading_rad + place.sideways_m_s.atan2(place.forward_m_s));
                through.furthest_rad = through.furthest_rad.max(path);
            }
            let speeds = (place.forward_m_s, place.sideways_m_s);
            match standing(place.heading_rad, speeds, side, road.angle_rad()) {
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
            time_s += BETWEEN_S;
        }
        if let Some(out_s) = through.out_s {
            let placed = placed(way, corners, side, bend, out_s + KEEPS_TO_IT_S);
            through.off_m = Some(placed.off_m);
            through.begun_m = Some((placed.along_m, placed.across_m));
        }
        through
    }

    /// The same, with where a run that does not come out is best begun too.
    pub(super) fn begun(mut self, way: &[Place], corners: &[(f64, f64); 4], side: f64, bend: &Bend) -> Self {
        if self.begun_m.is_none() {
            let placed = placed(way, corners, side, bend, f64::INFINITY);
            self.begun_m = Some((placed.along_m, placed.across_m));
        }
        self
    }
}

/// A way until a moment, where it is best begun.
fn placed(way: &[Place], corners: &[(f64, f64); 4], side: f64, bend: &Bend, until_s: f64) -> Placed {
    let until_s = way.last().map_or(0.0, |last| last.time_s).min(until_s);
    bend.road().at_best(&swept(way, corners, side, until_s))
}

/// Where the wheels go on a way, until a moment, as if it turned to the left: the four of a moment behind each other.
fn swept(way: &[Place], corners: &[(f64, f64); 4], side: f64, until_s: f64) -> Vec<(f64, f64)> {
    let mut wheels = Vec::with_capacity(512);
    let mut put = |place: &Place| {
        let (sin, cos) = place.heading_rad.sin_cos();
        for (ahead, left) in corners {
            let x = place.x_m + ahead * cos - left * sin;
            let y = place.y_m + ahead * sin + left * cos;
            wheels.push((x, side * y));
        }
    };
    let mut looks = Looks::along(way);
    let Some(first) = way.first() else {
        return wheels;
    };
    let mut known = *first;
    put(&known);
    let mut time_s = first.time_s;
    while time_s < until_s {
        let speed = known.forward_m_s.hypot(known.sideways_m_s).max(0.1);
        let turns = known.yaw_rad_s.abs().max(0.01);
        time_s = (time_s + (APART_M / speed).min(APART_RAD / turns).max(5e-3)).min(until_s);
        known = looks.at(time_s);
        put(&known);
    }
    wheels
}

/// Looks at a way, moment after moment.
struct Looks<'a> {
    way: &'a [Place],
    after: usize,
}

impl<'a> Looks<'a> {
    const fn along(way: &'a [Place]) -> Self {
        Self { way, after: 1 }
    }

    /// Where the car is at a moment, no earlier than the one before.
    fn at(&mut self, time_s: f64) -> Place {
        while self.after + 1 < self.way.len() && self.way[self.after].time_s < time_s {
            self.after += 1;
        }
        match (self.way.get(self.after - 1), self.way.get(self.after)) {
            (Some(before), Some(after)) => before.between(after, time_s),
            (Some(only), None) => *only,
            _ => Place::default(),
        }
    }
}

/// The moment of a way.
pub(super) fn at(way: &[Place], time_s: f64) -> Option<Place> {
    let after = way.partition_point(|place| place.time_s < time_s);
    match (way.get(after.wrapping_sub(1)), way.get(after)) {
        (Some(before), Some(after)) => Some(before.between(after, time_s)),
        (None, Some(only)) | (Some(only), None) => Some(*only),
        (None, None) => None,
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

    /// A car without width and length along the middle of the road.
    fn round_the_middle(radius_m: f64) -> Vec<Place> {
        let speed = 5.0;
        let lead_m = 10.0;
        let round_s = core::f64::consts::PI * radius_m / speed;
        (0..=200_u8)
            .map(|step| {
                let time_s = f64::from(step) * 0.05;
                let gone = time_s * speed - lead_m;
                let turned = (gone / radius_m).clamp(0.0, core::f64::consts::PI);
                let after_m = (gone - round_s * speed).max(0.0);
                let (sin, cos) = turned.sin_cos();
                Place {
                    time_s,
                    x_m: radius_m * sin + gone.min(0.0) - after_m,
                    y_m: radius_m * (1.0 - cos),
                    heading_rad: turned,
                    forward_m_s: speed,
                    sideways_m_s: 0.0,
                    yaw_rad_s: 0.0,
                }
            })
            .collect()
    }

    #[test]
    fn along_the_middle_of_the_road_nothing_is_off_and_a_wider_way_is_off_by_what_it_is_wider() {
        let way = round_the_middle(7.0);
        let through = Through::of(&way, &[(0.0, 0.0); 4], 1.0, &Bend::HAIRPIN);
        // Out at 165°: 10 m and 165° of an arc of 7 m, at 5 m/s.
        let wanted = (10.0 + 7.0 * 165.0_f64.to_radians()) / 5.0;
        assert!((through.out_s.unwrap() - wanted).abs() < 0.021, "{through:?}");
        assert!(through.off_m.unwrap() < 0.02, "{through:?}");
        let (along, across) = through.begun_m.unwrap();
        assert!(along.abs() < 0.1 && across.abs() < 0.05, "{through:?}");
        assert!(!through.backwards && !through.stood);
        // A hairpin of 9 m, driven where the road has 7 m: the legs are 4 m too far apart, half of it each.
        let wide = Through::of(&round_the_middle(9.0), &[(0.0, 0.0); 4], 1.0, &Bend::HAIRPIN);
        assert!((wide.off_m.unwrap() - 2.0).abs() < 0.02, "{wide:?}");
    }

    #[test]
    fn a_mirrored_way_goes_as_well_through_a_bend_to_the_other_side() {
        let mirrored: Vec<Place> = round_the_middle(8.0)
            .iter()
            .map(|place| Place {
                y_m: -place.y_m,
                heading_rad: -place.heading_rad,
                ..*place
            })
            .collect();
        let corners = [(1.2, 0.7), (1.2, -0.7), (-1.2, 0.7), (-1.2, -0.7)];
        let left = Through::of(&round_the_middle(8.0), &corners, 1.0, &Bend::HAIRPIN);
        let right = Through::of(&mirrored, &corners, -1.0, &Bend::HAIRPIN);
        assert_eq!(left.out_s, right.out_s);
        assert!(
            (left.off_m.unwrap() - right.off_m.unwrap()).abs() < 1e-3,
            "{left:?} {right:?}"
        );
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
        let mut held = Following::while_forward(1.0);
        assert!(!held.ends(2.0, &moving(90.0, 6.0)));
        assert!(held.ends(9.0, &moving(150.0, -3.0)));
    }
}

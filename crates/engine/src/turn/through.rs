//! How a run goes through its bend: when it is out, and where on the road it is best begun.

use super::bend::Bend;
use super::following::{BETWEEN_S, KEEPS_TO_IT_S, Standing, drift, standing_in};
use super::measure::Place;
use super::placing::Placed;

/// The wheels are looked at anew once the car has gone so far (m) or turned by so much (rad): a wheel's way bulges by
/// less than a centimetre between.
const APART_M: f64 = 0.5;
const APART_RAD: f64 = 0.09;

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
            let speeds = (place.forward_m_s, place.sideways_m_s);
            let drift = (place.forward_m_s > 0.0).then(|| drift(speeds));
            if let Some(drift) = drift {
                through.furthest_rad = through.furthest_rad.max(side * (place.heading_rad + drift));
            }
            // Across the car it does not go along the road.
            let known = || drift.unwrap_or(f64::INFINITY);
            match standing_in(place.heading_rad, speeds, side, road.angle_rad(), known) {
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
                    over_ground_m_s: (speed * cos, speed * sin),
                    gains_m_s2: [(0.0, 0.0); 2],
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
                over_ground_m_s: (place.over_ground_m_s.0, -place.over_ground_m_s.1),
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
}

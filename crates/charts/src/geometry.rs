//! Points, boxes and polylines on the drawing, in user units: x to the right, y down.

/// A place on the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Point {
    pub(crate) x: f64,
    pub(crate) y: f64,
}

/// A box on the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Rect {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

pub(crate) const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    pub(crate) const fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }

    pub(crate) fn distance(self, other: Self) -> f64 {
        // No drawing is so large that the squares run over; `hypot`, which guards against that, takes four times as long.
        let (x, y) = (self.x - other.x, self.y - other.y);
        (x * x + y * y).sqrt()
    }

    /// The point so far along the way to another.
    pub(crate) fn towards(self, other: Self, share: f64) -> Self {
        at(
            self.x + (other.x - self.x) * share,
            self.y + (other.y - self.y) * share,
        )
    }
}

impl Rect {
    pub(crate) const fn new(left: f64, top: f64, right: f64, bottom: f64) -> Self {
        Self {
            left,
            top,
            right,
            bottom,
        }
    }

    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn grown(&self, by: f64) -> Self {
        Self::new(self.left - by, self.top - by, self.right + by, self.bottom + by)
    }

    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(crate) fn holds(&self, inner: &Self) -> bool {
        inner.left >= self.left
            && inner.right <= self.right
            && inner.top >= self.top
            && inner.bottom <= self.bottom
    }

    pub(crate) fn has(&self, point: Point) -> bool {
        (self.left..=self.right).contains(&point.x) && (self.top..=self.bottom).contains(&point.y)
    }

    pub(crate) fn corners(&self) -> [Point; 4] {
        [
            at(self.left, self.top),
            at(self.right, self.top),
            at(self.right, self.bottom),
            at(self.left, self.bottom),
        ]
    }

    /// The point of the box that lies nearest to another.
    pub(crate) fn nearest_to(&self, point: Point) -> Point {
        at(
            point.x.max(self.left).min(self.right),
            point.y.max(self.top).min(self.bottom),
        )
    }

    /// The part of a straight stretch that lies inside (Liang and Barsky's way); `None` if nothing of it does.
    pub(crate) fn clip(&self, from: Point, to: Point) -> Option<(Point, Point)> {
        // Most that is asked about lies to one side of it.
        if from.x.max(to.x) < self.left
            || from.x.min(to.x) > self.right
            || from.y.max(to.y) < self.top
            || from.y.min(to.y) > self.bottom
        {
            return None;
        }
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let mut reaches_in = |slope: f64, room: f64| {
            if slope == 0.0 {
                return room >= 0.0;
            }
            if slope < 0.0 {
                enter = enter.max(room / slope);
            } else {
                leave = leave.min(room / slope);
            }
            enter <= leave
        };
        let reaches = reaches_in(-dx, from.x - self.left)
            && reaches_in(dx, self.right - from.x)
            && reaches_in(-dy, from.y - self.top)
            && reaches_in(dy, self.bottom - from.y);
        reaches.then(|| (from.towards(to, enter), from.towards(to, leave)))
    }
}

/// The fewest of the points, the first and the last with them, whose polyline goes no further than `within` from any that
/// is left out (by Douglas and Peucker).
pub(crate) fn thinned(points: &[Point], within: f64) -> Vec<Point> {
    kept(points, within)
        .into_iter()
        .map(|index| points[index])
        .collect()
}

/// Which points those are, in order.
fn kept(points: &[Point], within: f64) -> Vec<usize> {
    let Some(last) = points.len().checked_sub(1).filter(|&last| last > 1) else {
        return (0..points.len()).collect();
    };
    let mut kept = vec![false; points.len()];
    (kept[0], kept[last]) = (true, true);
    let mut stretches = vec![(0, last)];
    while let Some((from, to)) = stretches.pop() {
        let off = |index: usize| distance_to_line(points[index], points[from], points[to]);
        let furthest = (from + 1..to).max_by(|&one, &other| off(one).total_cmp(&off(other)));
        // What is not a number is not within anything.
        let is_off = |index: &usize| off(*index).is_nan() || off(*index) > within;
        if let Some(furthest) = furthest.filter(is_off) {
            kept[furthest] = true;
            stretches.extend([(from, furthest), (furthest, to)]);
        }
    }
    (0..points.len()).filter(|&index| kept[index]).collect()
}

/// How far a point lies from the straight line between two others, its ends included.
fn distance_to_line(point: Point, from: Point, to: Point) -> f64 {
    let (along_x, along_y) = (to.x - from.x, to.y - from.y);
    let long = along_x * along_x + along_y * along_y;
    if long <= 0.0 {
        return point.distance(from);
    }
    let share = ((point.x - from.x) * along_x + (point.y - from.y) * along_y) / long;
    point.distance(from.towards(to, share.clamp(0.0, 1.0)))
}

/// A polyline cut to a box: the pieces inside. It breaks where a point is not finite.
pub(crate) fn clipped(points: &[Point], inside: &Rect) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut goes_on = false;
    for pair in points.windows(2) {
        let &[from, to] = pair else { continue };
        let part = if from.is_finite() && to.is_finite() {
            inside.clip(from, to)
        } else {
            None
        };
        let Some((start, end)) = part else {
            goes_on = false;
            continue;
        };
        match pieces.last_mut() {
            Some(piece) if goes_on => piece.push(end),
            _ => pieces.push(vec![start, end]),
        }
        goes_on = inside.has(to);
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_at_the_edges_and_breaks_at_nothing() {
        let unit = Rect::new(0.0, 0.0, 10.0, 10.0);
        let line = [
            at(-5.0, 5.0),
            at(5.0, 5.0),
            at(5.0, 25.0),
            at(15.0, 5.0),
            at(8.0, 5.0),
        ];
        assert_eq!(
            clipped(&line, &unit),
            vec![
                vec![at(0.0, 5.0), at(5.0, 5.0), at(5.0, 10.0)],
                vec![at(10.0, 5.0), at(8.0, 5.0)],
            ]
        );
        let broken = [at(1.0, 1.0), at(f64::NAN, 2.0), at(3.0, 3.0), at(4.0, 4.0)];
        assert_eq!(clipped(&broken, &unit), vec![vec![at(3.0, 3.0), at(4.0, 4.0)]]);
        assert!(clipped(&[at(-2.0, 20.0), at(20.0, 30.0)], &unit).is_empty());
    }
}

#[cfg(test)]
mod thin {
    use super::*;

    #[test]
    fn a_thinned_line_goes_no_further_off_than_it_may() {
        let curve: Vec<Point> = (0..400)
            .map(|step| at(f64::from(step), 90.0 * (f64::from(step) / 40.0).sin()))
            .collect();
        let thin = thinned(&curve, 0.1);
        assert!(thin.len() < curve.len() / 2 && thin.first() == curve.first() && thin.last() == curve.last());
        for point in &curve {
            let off = thin
                .windows(2)
                .map(|pair| distance_to_line(*point, pair[0], pair[1]))
                .fold(f64::INFINITY, f64::min);
            assert!(off <= 0.1, "{point:?}: {off}");
        }
        let straight: Vec<Point> = (0..9).map(|step| at(f64::from(step), 2.0)).collect();
        assert_eq!(thinned(&straight, 0.1), [at(0.0, 2.0), at(8.0, 2.0)]);
        assert_eq!(thinned(&straight[..2], 0.1), straight[..2]);
        assert!(thinned(&[], 0.1).is_empty());
    }
}

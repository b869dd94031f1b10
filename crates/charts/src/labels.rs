//! Where labels go: beside what they name, off the curves, never over each other, never out of the drawing.

use crate::geometry::{Point, Rect, at};
use crate::ink::Line;
use crate::svg::{Anchor, Hand, Writer};

/// Air round every label.
const AIR: f64 = 3.0;
/// A label further off than this gets a leader.
const LEADER: f64 = 20.0;
/// Tries of distances from a point.
const DISTANCES: [f64; 8] = [8.0, 13.0, 20.0, 30.0, 44.0, 62.0, 84.0, 110.0];

/// A side of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Right,
    Left,
    Above,
    Below,
    AboveRight,
    AboveLeft,
    BelowRight,
    BelowLeft,
}

impl Side {
    const ALL: [Self; 8] = [
        Self::Right,
        Self::Left,
        Self::Above,
        Self::Below,
        Self::AboveRight,
        Self::AboveLeft,
        Self::BelowRight,
        Self::BelowLeft,
    ];

    const fn direction(self) -> (f64, f64) {
        match self {
            Self::Right => (1.0, 0.0),
            Self::Left => (-1.0, 0.0),
            Self::Above => (0.0, -1.0),
            Self::Below => (0.0, 1.0),
            Self::AboveRight => (0.8, -0.8),
            Self::AboveLeft => (-0.8, -0.8),
            Self::BelowRight => (0.8, 0.8),
            Self::BelowLeft => (-0.8, 0.8),
        }
    }
}

/// Places labels one after the other; what came first stays.
#[derive(Clone, Debug)]
pub(crate) struct Labels {
    bounds: Rect,
    taken: Vec<Rect>,
    curves: Vec<(Vec<Point>, f64)>,
    marks: Vec<Point>,
    waiting: Writer,
}

impl Labels {
    pub(crate) fn within(bounds: Rect) -> Self {
        Self {
            bounds,
            taken: Vec::new(),
            curves: Vec::new(),
            marks: Vec::new(),
            waiting: Writer::default(),
        }
    }

    /// A curve that labels should keep off.
    pub(crate) fn avoid_line(&mut self, points: &[Point]) {
        self.curves.push((points.to_vec(), 1.0));
    }

    /// A thin line that labels may rather cover than stand far away.
    pub(crate) fn avoid_thin_line(&mut self, points: &[Point]) {
        self.curves.push((points.to_vec(), 0.3));
    }

    /// A place that no label may take.
    pub(crate) fn avoid(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// A mark that no label may cover.
    pub(crate) fn avoid_mark(&mut self, centre: Point, radius: f64) {
        self.taken
            .push(Rect::new(centre.x, centre.y, centre.x, centre.y).grown(radius));
        self.marks.push(centre);
    }

    fn crossings(&self, rect: &Rect) -> f64 {
        let rect = rect.grown(2.0);
        let mut crossed = 0.0;
        for (curve, weight) in &self.curves {
            let length: f64 = curve
                .windows(2)
                .filter_map(|pair| rect.clip(pair[0], pair[1]))
                .map(|(from, to)| from.distance(to))
                .sum();
            if length > 0.0 {
                crossed += weight * (1.0 + length / 12.0);
            }
        }
        crossed
    }

    /// How many curves and marks lie nearer to a label than the point that it names: it would be read as theirs.
    fn nearer(&self, rect: &Rect, point: Point) -> f64 {
        let own = rect.nearest_to(point).distance(point) - 1.0;
        let to_rect = |other: Point| rect.nearest_to(other).distance(other);
        let marks = self
            .marks
            .iter()
            .filter(|&&mark| mark.distance(point) > 1.0 && to_rect(mark) < own);
        let curves = self.curves.iter().filter(|(curve, weight)| {
            let middle = |pair: &[Point]| pair[0].towards(pair[1], 0.5);
            let runs_through = |pair: &[Point]| {
                let round = Rect::new(point.x, point.y, point.x, point.y).grown(1.0);
                round.clip(pair[0], pair[1]).is_some()
            };
            *weight >= 1.0
                && curve
                    .windows(2)
                    .any(|pair| to_rect(pair[1]) < own || to_rect(middle(pair)) < own)
                && !curve.windows(2).any(runs_through)
        });
        f64::from(u8::try_from(marks.count() + curves.count()).unwrap_or(u8::MAX))
    }

    fn free(&self, rect: &Rect) -> bool {
        self.bounds.holds(rect) && !self.taken.iter().any(|taken| taken.overlaps(&rect.grown(AIR)))
    }

    /// Puts a label beside the best of some points; the sides that are preferred first. Says whether it found a place.
    pub(crate) fn name(&mut self, hand: Hand, text: &str, points: &[Point], prefer: &[Side]) -> bool {
        let wide = hand.width(text);
        let mut best: Option<(f64, Hand, Point, Rect, Point, f64)> = None;
        for &point in points.iter().filter(|point| point.is_finite()) {
            for side in Side::ALL {
                let rank = prefer.iter().position(|&wanted| wanted == side);
                let dislike = rank.map_or(24.0, |rank| {
                    3.0 * f64::from(u8::try_from(rank).unwrap_or(u8::MAX))
                });
                let (dx, dy) = side.direction();
                for distance in DISTANCES {
                    let fixed = distance * 0.55 + dislike;
                    if best.as_ref().is_some_and(|best| best.0 <= fixed) {
                        break;
                    }
                    let half = hand.size * 0.5;
                    let x = point.x + dx * distance;
                    let middle = point.y + dy * (distance + if dx.abs() < 0.9 { half } else { 0.0 });
                    let (anchor, x) = match dx {
                        _ if dx > 0.0 => (Anchor::Start, x),
                        _ if dx < 0.0 => (Anchor::End, x),
                        // Above or below a point near an edge: as far in as it must.
                        _ => (
                            Anchor::Middle,
                            x.max(self.bounds.left + wide / 2.0)
                                .min(self.bounds.right - wide / 2.0),
                        ),
                    };
                    let hand = hand.anchored(anchor);
                    let base = at(x, middle + 0.28 * hand.size);
                    let rect = hand.boxed(text, base);
                    if !self.free(&rect) {
                        continue;
                    }
                    let mut cost = fixed + 22.0 * self.crossings(&rect);
                    if best.as_ref().is_none_or(|best| cost < best.0) {
                        cost += 18.0 * self.nearer(&rect, point);
                    }
                    if best.as_ref().is_none_or(|best| cost < best.0) {
                        best = Some((cost, hand, base, rect, point, distance));
                    }
                }
            }
        }
        let Some((_, hand, base, rect, point, distance)) = best else {
            return false;
        };
        if distance > LEADER {
            let end = rect.grown(1.0).nearest_to(point);
            self.waiting
                .line(Line::Hair, &[point.towards(end, 5.0 / distance), end]);
        }
        self.write(hand, text, base, rect);
        true
    }

    /// Puts words into an area: where they are free, cross least, and lie nearest to a wanted place. Says whether there
    /// was such a place.
    pub(crate) fn area(
        &mut self,
        hand: Hand,
        text: &str,
        wanted: Point,
        inside: impl Fn(Point) -> bool,
    ) -> bool {
        let hand = hand.anchored(Anchor::Middle);
        let mut best: Option<(f64, Point, Rect)> = None;
        for column in 1..24_u8 {
            for row in 1..20_u8 {
                let base = at(
                    self.bounds.left + self.bounds.width() * f64::from(column) / 24.0,
                    self.bounds.top + self.bounds.height() * f64::from(row) / 20.0,
                );
                let rect = hand.boxed(text, base);
                if !self.free(&rect) || !rect.grown(4.0).corners().into_iter().all(&inside) {
                    continue;
                }
                let cost = 0.2 * base.distance(wanted) + 30.0 * self.crossings(&rect);
                if best.as_ref().is_none_or(|best| cost < best.0) {
                    best = Some((cost, base, rect));
                }
            }
        }
        let Some((_, base, rect)) = best else { return false };
        self.write(hand, text, base, rect);
        true
    }

    /// Names curves at their ends: the names one under the other, in the order in which the curves end, each led to its
    /// own. `left` is where the names begin.
    pub(crate) fn ends(&mut self, hand: Hand, named: &[(&str, Point)], left: f64) {
        let pitch = hand.size * 1.25;
        let mut rows: Vec<(&str, Point, f64)> = named.iter().map(|&(name, end)| (name, end, end.y)).collect();
        rows.sort_by(|one, other| one.1.y.total_cmp(&other.1.y).then(one.1.x.total_cmp(&other.1.x)));
        // Down until none stands on another, and up again from the bottom.
        let mut free = self.bounds.top + pitch / 2.0;
        for row in &mut rows {
            row.2 = row.2.max(free);
            free = row.2 + pitch;
        }
        let mut free = self.bounds.bottom - pitch / 2.0;
        for row in rows.iter_mut().rev() {
            row.2 = row.2.min(free);
            free = row.2 - pitch;
        }
        for (name, end, middle) in rows {
            let base = at(left, middle + 0.34 * hand.size);
            let rect = hand.boxed(name, base);
            self.waiting
                .line(Line::Hair, &[at(end.x + 7.0, end.y), at(left - 4.0, middle)]);
            self.write(hand, name, base, rect);
        }
    }

    fn write(&mut self, hand: Hand, text: &str, base: Point, rect: Rect) {
        self.waiting.paper(&Rect::new(
            rect.left - 2.0,
            rect.top,
            rect.right + 2.0,
            rect.bottom,
        ));
        self.waiting.text(hand, text, base);
        self.taken.push(rect);
    }

    /// Writes all labels, over what is there.
    pub(crate) fn draw(self, out: &mut Writer) {
        out.group("labels");
        out.append(&self.waiting);
        out.close("g");
    }
}

/// Length of a curve.
pub(crate) fn length(points: &[Point]) -> f64 {
    points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

/// Points along a curve, from one share of its length to another: where a label of the curve may stand.
pub(crate) fn along(points: &[Point], from: f64, to: f64) -> Vec<Point> {
    let length = length(points);
    if !length.is_finite() || length <= 0.0 {
        return points.first().copied().into_iter().collect();
    }
    (0..=8_u8)
        .map(|step| {
            let mut left = length * (from + (to - from) * f64::from(step) / 8.0);
            for pair in points.windows(2) {
                let stretch = pair[0].distance(pair[1]);
                if left <= stretch && stretch > 0.0 {
                    return pair[0].towards(pair[1], left / stretch);
                }
                left -= stretch;
            }
            points.last().copied().unwrap_or_default()
        })
        .collect()
}

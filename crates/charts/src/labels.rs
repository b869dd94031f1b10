//! Where labels go: beside what they name, off the curves, never over each other, never out of the drawing.

use crate::geometry::{Point, Rect, at};
use crate::ink::Line;
use crate::svg::{Anchor, Hand, Writer};

/// Air round every label.
const AIR: f64 = 3.0;
/// A label further off than this gets a leader.
const LEADER: f64 = 20.0;
/// Tries of distances from a point.
const DISTANCES: [f64; 10] = [8.0, 13.0, 20.0, 30.0, 44.0, 62.0, 84.0, 110.0, 140.0, 175.0];
/// What a unit of way from its point costs a label.
const FAR: f64 = 0.55;
/// What covering a line costs: more than any distance that is tried.
const COVERS: f64 = 150.0;
/// What standing nearer to something else costs.
const MISREAD: f64 = 70.0;
/// What a side costs that was not asked for.
const DISLIKED: f64 = 24.0;
/// Curves that come nearer than this run beside each other.
const BESIDE: f64 = 12.0;
/// Points of a curve that are looked at together.
const STRETCH: usize = 16;

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

/// Every direction that is tried from a point, with the side that it belongs to.
const DIRECTIONS: [(Side, f64, f64); 16] = [
    (Side::Right, 1.0, 0.0),
    (Side::Left, -1.0, 0.0),
    (Side::Above, 0.0, -1.0),
    (Side::Below, 0.0, 1.0),
    (Side::AboveRight, 0.8, -0.8),
    (Side::AboveLeft, -0.8, -0.8),
    (Side::BelowRight, 0.8, 0.8),
    (Side::BelowLeft, -0.8, 0.8),
    (Side::Right, 0.95, -0.4),
    (Side::Right, 0.95, 0.4),
    (Side::Left, -0.95, -0.4),
    (Side::Left, -0.95, 0.4),
    (Side::AboveRight, 0.4, -0.95),
    (Side::AboveLeft, -0.4, -0.95),
    (Side::BelowRight, 0.4, 0.95),
    (Side::BelowLeft, -0.4, 0.95),
];

/// A stretch of a curve in its box.
#[derive(Clone, Debug)]
struct Stretch {
    round: Rect,
    points: Vec<Point>,
}

/// A curve that labels keep off.
#[derive(Clone, Debug)]
struct Kept {
    stretches: Vec<Stretch>,
    /// Half of how thick it is drawn.
    half: f64,
    /// Whether a label beside it would be read as its own.
    reads: bool,
}

impl Kept {
    fn of(points: &[Point], half: f64, reads: bool) -> Self {
        let known: Vec<Point> = points.iter().copied().filter(|point| point.is_finite()).collect();
        let mut stretches = Vec::new();
        let mut from = 0;
        while from + 1 < known.len() {
            let to = (from + STRETCH).min(known.len() - 1);
            let points = known[from..=to].to_vec();
            let mut round = Rect::new(f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
            for point in &points {
                round.left = round.left.min(point.x);
                round.right = round.right.max(point.x);
                round.top = round.top.min(point.y);
                round.bottom = round.bottom.max(point.y);
            }
            stretches.push(Stretch { round, points });
            from = to;
        }
        Self {
            stretches,
            half,
            reads,
        }
    }

    /// Its pieces that reach into a box, cut off at it.
    fn pieces_in(&self, rect: Rect) -> impl Iterator<Item = (Point, Point)> {
        let near = self.stretches.iter().filter(move |stretch| {
            stretch.round.left <= rect.right
                && stretch.round.right >= rect.left
                && stretch.round.top <= rect.bottom
                && stretch.round.bottom >= rect.top
        });
        near.flat_map(|stretch| stretch.points.windows(2))
            .filter_map(move |pair| rect.clip(pair[0], pair[1]))
    }

    /// How much of it lies in a box.
    fn within(&self, rect: &Rect) -> f64 {
        self.pieces_in(rect.grown(self.half))
            .map(|(from, to)| from.distance(to).max(0.1))
            .sum()
    }

    fn touches(&self, rect: &Rect) -> bool {
        self.pieces_in(rect.grown(self.half)).next().is_some()
    }

    fn runs_through(&self, point: Point) -> bool {
        self.touches(&Rect::new(point.x, point.y, point.x, point.y).grown(1.0))
    }

    /// Whether it comes nearer to a box than that.
    fn comes_within(&self, rect: &Rect, distance: f64) -> bool {
        distance > 0.0 && self.touches(&rect.grown(distance * 0.8))
    }
}

/// A place for a label, with what it costs.
struct Placed {
    cost: f64,
    hand: Hand,
    base: Point,
    rect: Rect,
    /// What it names.
    point: Point,
    distance: f64,
}

/// Places labels one after the other; what came first stays.
#[derive(Clone, Debug)]
pub(crate) struct Labels {
    bounds: Rect,
    taken: Vec<Rect>,
    curves: Vec<Kept>,
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

    /// A curve that labels keep off.
    pub(crate) fn avoid_line(&mut self, points: &[Point]) {
        self.curves.push(Kept::of(points, 1.7, true));
    }

    /// A line of the ground, beside which no label would be read as its own.
    pub(crate) fn avoid_thin_line(&mut self, points: &[Point]) {
        self.curves.push(Kept::of(points, 0.7, false));
    }

    /// A thick line, beside which no label would be read as its own.
    pub(crate) fn avoid_thick_line(&mut self, points: &[Point], thick: f64) {
        self.curves.push(Kept::of(points, thick / 2.0, false));
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
        self.crossings_up_to(rect, f64::INFINITY)
    }

    /// The same, or more than `most` where there are more: then not all are looked at.
    fn crossings_up_to(&self, rect: &Rect, most: f64) -> f64 {
        let rect = rect.grown(2.0);
        let mut crossed = 0.0;
        for curve in &self.curves {
            let length = curve.within(&rect);
            if length > 0.0 {
                crossed += 1.0 + length / 12.0;
            }
            if crossed > most {
                break;
            }
        }
        crossed
    }

    /// How many curves and marks lie nearer to a label than the point that it names: it would be read as theirs. `through`:
    /// which curves run through that point.
    fn nearer(&self, rect: &Rect, point: Point, through: &[bool]) -> f64 {
        let own = rect.nearest_to(point).distance(point) - 1.0;
        let to_rect = |other: Point| rect.nearest_to(other).distance(other);
        let marks = self
            .marks
            .iter()
            .filter(|&&mark| mark.distance(point) > 1.0 && to_rect(mark) < own);
        let curves = self
            .curves
            .iter()
            .zip(through)
            .filter(|(curve, through)| curve.reads && !**through && curve.comes_within(rect, own));
        f64::from(u8::try_from(marks.count() + curves.count()).unwrap_or(u8::MAX))
    }

    /// How many labels and marks a leader would run behind; its own mark is none of them.
    fn led_through(&self, from: Point, to: Point) -> f64 {
        let through = self
            .taken
            .iter()
            .filter(|taken| taken.nearest_to(from).distance(from) > 1.0 && taken.clip(from, to).is_some());
        f64::from(u8::try_from(through.count()).unwrap_or(u8::MAX))
    }

    fn free(&self, rect: &Rect) -> bool {
        self.bounds.holds(rect) && !self.taken.iter().any(|taken| taken.overlaps(&rect.grown(AIR)))
    }

    /// Puts a label beside the best of some points; the sides that are preferred first. Says whether it found a place.
    pub(crate) fn name(&mut self, hand: Hand, text: &str, points: &[Point], prefer: &[Side]) -> bool {
        let best = self.place(hand, text, points, prefer);
        best.is_some_and(|best| self.put(text, best))
    }

    /// The same for a label that is left out where it would cover a line, or be read as something else's. Says whether it
    /// was put.
    pub(crate) fn name_if_clear(
        &mut self,
        hand: Hand,
        text: &str,
        points: &[Point],
        prefer: &[Side],
    ) -> bool {
        let best = self.place(hand, text, points, prefer);
        best.filter(|best| best.cost < MISREAD)
            .is_some_and(|best| self.put(text, best))
    }

    fn place(&self, hand: Hand, text: &str, points: &[Point], prefer: &[Side]) -> Option<Placed> {
        let wide = hand.width(text);
        let mut best: Option<Placed> = None;
        for &point in points.iter().filter(|point| point.is_finite()) {
            let through: Vec<bool> = self
                .curves
                .iter()
                .map(|curve| curve.runs_through(point))
                .collect();
            for (index, &(side, dx, dy)) in DIRECTIONS.iter().enumerate() {
                let rank = prefer.iter().position(|&wanted| wanted == side);
                let between = if index < 8 { 0.0 } else { 2.0 };
                let dislike = between
                    + rank.map_or(DISLIKED, |rank| {
                        3.0 * f64::from(u8::try_from(rank).unwrap_or(u8::MAX))
                    });
                for &distance in &DISTANCES {
                    let fixed = distance * FAR + dislike;
                    if best.as_ref().is_some_and(|best| best.cost <= fixed) {
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
                    let rect = hand.boxed_so_wide(wide, base);
                    if !self.free(&rect) {
                        continue;
                    }
                    // What is dearer than the best so far need not be known to the last.
                    let most = best
                        .as_ref()
                        .map_or(f64::INFINITY, |best| (best.cost - fixed) / COVERS);
                    let mut cost = fixed + COVERS * self.crossings_up_to(&rect, most);
                    if best.as_ref().is_none_or(|best| cost < best.cost) {
                        cost += MISREAD * self.nearer(&rect, point, &through);
                        if distance > LEADER {
                            cost += 0.5 * COVERS * self.led_through(point, rect.grown(1.0).nearest_to(point));
                        }
                    }
                    if best.as_ref().is_none_or(|best| cost < best.cost) {
                        best = Some(Placed {
                            cost,
                            hand,
                            base,
                            rect,
                            point,
                            distance,
                        });
                    }
                }
            }
        }
        best
    }

    fn put(&mut self, text: &str, placed: Placed) -> bool {
        let Placed {
            hand,
            base,
            rect,
            point,
            distance,
            ..
        } = placed;
        if distance > LEADER {
            let end = rect.grown(1.0).nearest_to(point);
            let leader = [point.towards(end, 5.0 / distance), end];
            self.waiting.line(Line::Hair, &leader);
            // What is named later stays off it.
            self.avoid_thin_line(&leader);
        }
        self.write(hand, text, base, rect);
        true
    }

    /// Puts words into an area: where they are free, cover no line, and lie nearest to a wanted place. Says whether there
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
                if self.crossings(&rect) > 0.0 {
                    continue;
                }
                let cost = base.distance(wanted);
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

/// Those points of a curve beside which no other curve runs; all of them where there is no such point.
pub(crate) fn apart<'a>(points: Vec<Point>, others: impl Iterator<Item = &'a [Point]>) -> Vec<Point> {
    let others: Vec<Kept> = others.map(|other| Kept::of(other, BESIDE, false)).collect();
    let alone: Vec<Point> = points
        .iter()
        .copied()
        .filter(|&point| !others.iter().any(|other| other.runs_through(point)))
        .collect();
    if alone.is_empty() { points } else { alone }
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
    (0..=16_u8)
        .map(|step| {
            let mut left = length * (from + (to - from) * f64::from(step) / 16.0);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::axes::LABELS;

    #[test]
    fn a_label_keeps_off_the_leader_of_another() {
        let mut labels = Labels::within(Rect::new(0.0, 0.0, 400.0, 400.0));
        let point = at(200.0, 200.0);
        labels.avoid_mark(point, 40.0);
        let hand = Hand::plain("label", LABELS);
        assert!(labels.name(hand, "far", &[point], &[Side::Above]));
        // Straight above the mark its leader runs: whatever would lie on it is dear.
        let on_it = Rect::new(190.0, 165.0, 210.0, 175.0);
        assert!(labels.crossings(&on_it) > 0.0, "{:?}", labels.curves);
        let beside = Rect::new(240.0, 165.0, 260.0, 175.0);
        assert!(labels.crossings(&beside) == 0.0);
        // Nor does a leader run behind the label.
        assert!(labels.led_through(point, at(200.0, 100.0)) >= 1.0);
        assert!(labels.led_through(point, at(300.0, 200.0)) == 0.0);
    }
}

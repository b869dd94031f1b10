//! What drawings of measuring are made of: outlines, dimension lines with arrows, notes, arrows of force and of turning.
//! A place is x and y in user units from the top left of the drawing.

use crate::geometry::{Point, at};
use crate::ink::{FAINT, INK, Line, PAPER};
use crate::svg::{Anchor, Hand, Writer, polygon};

/// A place on the drawing.
pub(super) type Place = (f64, f64);

/// Size of words, and of the letters that name a dimension.
const WORDS: f64 = 14.0;
const LETTER: f64 = 16.0;

/// What a shape is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    Paper,
    Tint,
    Ink,
}

/// Which side of a dimension line its letter stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum At {
    Above,
    Below,
    Left,
    Right,
}

/// How a text stands to its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum From {
    Left,
    Middle,
    Right,
}

impl From {
    const fn anchor(self) -> Anchor {
        match self {
            Self::Left => Anchor::Start,
            Self::Middle => Anchor::Middle,
            Self::Right => Anchor::End,
        }
    }
}

/// A drawing as it grows.
#[derive(Debug)]
pub(super) struct Sketch {
    pub(super) out: Writer,
    top: f64,
}

/// Pairs of a flat list: x, y, x, y.
pub(super) fn places(flat: &[f64]) -> Vec<Place> {
    flat.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// The place so far from another in a direction: degrees, to the right 0, up 90.
pub(super) fn polar((x, y): Place, radius: f64, degrees: f64) -> Place {
    let angle = degrees.to_radians();
    (x + radius * angle.cos(), y - radius * angle.sin())
}

/// An arc as a line through places, from one angle to another.
pub(super) fn arc(centre: Place, radius: f64, from: f64, to: f64) -> Vec<Place> {
    const STEPS: u8 = 24;
    (0..=STEPS)
        .map(|step| {
            polar(
                centre,
                radius,
                from + (to - from) * f64::from(step) / f64::from(STEPS),
            )
        })
        .collect()
}

/// A ring's sector between two radii and two angles.
pub(super) fn sector(centre: Place, inner: f64, outer: f64, from: f64, to: f64) -> Vec<Place> {
    let mut round = arc(centre, outer, from, to);
    round.extend(arc(centre, inner, to, from));
    round
}

/// Along a line from a place towards another: so far along it, so far to its right.
pub(super) fn beside((ax, ay): Place, (bx, by): Place, along: f64, aside: f64) -> Place {
    let long = (bx - ax).hypot(by - ay).max(1e-9);
    let (dx, dy) = ((bx - ax) / long, (by - ay) / long);
    (ax + dx * along - dy * aside, ay + dy * along + dx * aside)
}

pub(super) fn apart((ax, ay): Place, (bx, by): Place) -> f64 {
    (bx - ax).hypot(by - ay)
}

impl Sketch {
    pub(super) fn new(top: f64) -> Self {
        Self {
            out: Writer::default(),
            top,
        }
    }

    fn point(&self, (x, y): Place) -> Point {
        at(x, y + self.top)
    }

    fn points(&self, line: &[Place]) -> Vec<Point> {
        line.iter().map(|&place| self.point(place)).collect()
    }

    /// A line of the one code of lines.
    pub(super) fn coded(&mut self, line: Line, flat: &[f64]) {
        let points = self.points(&places(flat));
        self.out.line(line, &points);
    }

    /// A thin line through places.
    pub(super) fn through(&mut self, line: &[Place]) {
        let points = self.points(line);
        self.out.line(Line::Outline, &points);
    }

    /// A thin line: what belongs to a thing.
    pub(super) fn thin(&mut self, flat: &[f64]) {
        self.through(&places(flat));
    }

    /// A faint line: where a dimension comes from, or what is led to.
    pub(super) fn hair(&mut self, flat: &[f64]) {
        self.coded(Line::Hair, flat);
    }

    /// A dotted line: an axis, or where something else would be.
    pub(super) fn dotted(&mut self, line: &[Place]) {
        let points = self.points(line);
        self.out.line(Line::Ideal, &points);
    }

    /// A closed shape.
    pub(super) fn shape(&mut self, line: &[Place], fill: Fill) {
        let path = polygon(&self.points(line));
        let ink = match fill {
            Fill::Paper => PAPER,
            Fill::Tint => FAINT,
            Fill::Ink => INK,
        };
        self.out
            .element("path", "shape")
            .word("d", &path)
            .word("fill", ink)
            .word("stroke", INK)
            .number("stroke-width", 1.5)
            .word("stroke-linejoin", "round")
            .end();
    }

    /// A closed shape of paper.
    pub(super) fn solid(&mut self, flat: &[f64]) {
        self.shape(&places(flat), Fill::Paper);
    }

    /// A closed shape of faint ink.
    pub(super) fn tinted(&mut self, flat: &[f64]) {
        self.shape(&places(flat), Fill::Tint);
    }

    /// A box by two corners.
    pub(super) fn block(&mut self, left: f64, top: f64, right: f64, bottom: f64, fill: Fill) {
        self.shape(
            &places(&[left, top, right, top, right, bottom, left, bottom]),
            fill,
        );
    }

    /// A bar along a line, so wide.
    pub(super) fn bar(&mut self, from: Place, to: Place, wide: f64, fill: Fill) {
        let long = apart(from, to);
        let corner = |along: f64, aside: f64| beside(from, to, along, aside);
        let half = wide / 2.0;
        self.shape(
            &[
                corner(0.0, -half),
                corner(long, -half),
                corner(long, half),
                corner(0.0, half),
            ],
            fill,
        );
    }

    /// A circle.
    pub(super) fn circle(&mut self, centre: Place, radius: f64, fill: Fill) {
        let centre = self.point(centre);
        let ink = match fill {
            Fill::Paper => PAPER,
            Fill::Tint => FAINT,
            Fill::Ink => INK,
        };
        self.out
            .element("circle", "shape")
            .number("cx", centre.x)
            .number("cy", centre.y)
            .number("r", radius)
            .word("fill", ink)
            .word("stroke", INK)
            .number("stroke-width", 1.5)
            .end();
    }

    /// A pin that something turns on, or a place that is meant.
    pub(super) fn pin(&mut self, centre: Place) {
        self.circle(centre, 2.6, Fill::Ink);
    }

    fn written(&mut self, hand: Hand, words: &str, place: Place) {
        let base = self.point(place);
        self.out.text(hand, words, base);
    }

    /// Words.
    pub(super) fn words(&mut self, words: &str, place: Place, from: From) {
        let hand = Hand::plain("label", WORDS).anchored(from.anchor());
        self.written(hand, words, place);
    }

    /// A letter that the list below the drawing explains.
    pub(super) fn letter(&mut self, letter: &str, place: Place, from: From) {
        let hand = Hand::plain("mark", LETTER).bold().anchored(from.anchor());
        self.written(hand, letter, place);
    }

    /// Words, and a line from beside them to what they name.
    pub(super) fn note(&mut self, words: &str, place: Place, from: From, to: Place) {
        let wide = Hand::plain("label", WORDS).width(words);
        let (x, y) = place;
        let middle = y - 5.0;
        let start = match from {
            From::Left if to.0 > x + wide => (x + wide + 3.0, middle),
            From::Left if to.0 < x => (x - 3.0, middle),
            From::Right if to.0 < x - wide => (x - wide - 3.0, middle),
            From::Right if to.0 > x => (x + 3.0, middle),
            _ => {
                let centre = match from {
                    From::Left => x + wide / 2.0,
                    From::Middle => x,
                    From::Right => x - wide / 2.0,
                };
                (centre, if to.1 > y { y + 5.0 } else { y - 14.0 })
            }
        };
        self.coded(Line::Dimension, &[start.0, start.1, to.0, to.1]);
        self.circle(to, 1.6, Fill::Ink);
        self.words(words, place, from);
    }

    fn head(&mut self, from: Place, tip: Place, long: f64, half: f64) {
        let whole = apart(from, tip);
        let back = whole - long;
        let corners = [tip, beside(from, tip, back, half), beside(from, tip, back, -half)];
        let path = polygon(&self.points(&corners));
        self.out
            .element("path", "dimension arrow")
            .word("d", &path)
            .word("fill", INK)
            .word("stroke", INK)
            .number("stroke-width", 0.6)
            .end();
    }

    /// A dimension: a thin line with an arrow at either end, and its letter beside it.
    pub(super) fn dimension(&mut self, from: Place, to: Place, letter: &str, side: At) {
        self.coded(Line::Dimension, &[from.0, from.1, to.0, to.1]);
        let long = (apart(from, to) / 3.0).min(8.0);
        self.head(from, to, long, 2.7);
        self.head(to, from, long, 2.7);
        let (x, y) = (f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1));
        match side {
            At::Above => self.letter(letter, (x, y - 6.0), From::Middle),
            At::Below => self.letter(letter, (x, y + 18.0), From::Middle),
            At::Left => self.letter(letter, (x - 8.0, y + 5.5), From::Right),
            At::Right => self.letter(letter, (x + 8.0, y + 5.5), From::Left),
        }
    }

    /// A dimension along the floor or a wall, with lines from where it is taken.
    pub(super) fn across(
        &mut self,
        (left, from_left): Place,
        (right, from_right): Place,
        y: f64,
        letter: &str,
    ) {
        let over = if y > from_left { 4.0 } else { -4.0 };
        self.hair(&[left, from_left, left, y + over]);
        self.hair(&[right, from_right, right, y + over]);
        let side = if y > from_left { At::Below } else { At::Above };
        self.dimension((left, y), (right, y), letter, side);
    }

    /// The same up and down: heights, each from where it is taken, at `x`.
    pub(super) fn upright(
        &mut self,
        (from_top, top): Place,
        (from_bottom, bottom): Place,
        x: f64,
        letter: &str,
    ) {
        let over = if x > from_top { 4.0 } else { -4.0 };
        self.hair(&[from_top, top, x + over, top]);
        self.hair(&[from_bottom, bottom, x + over, bottom]);
        let side = if x > from_top { At::Right } else { At::Left };
        self.dimension((x, top), (x, bottom), letter, side);
    }

    /// A force or a push, to its point.
    pub(super) fn push(&mut self, from: Place, to: Place) {
        let end = beside(from, to, apart(from, to) - 7.0, 0.0);
        self.coded(Line::Rule, &[from.0, from.1, end.0, end.1]);
        self.head(from, to, 11.0, 4.6);
    }

    /// A turning, in degrees from the right, anticlockwise upwards.
    pub(super) fn turn(&mut self, centre: Place, radius: f64, from: f64, to: f64) {
        let round = arc(centre, radius, from, to);
        self.through(&round);
        if let [.., before, last] = round[..] {
            let on = beside(before, last, apart(before, last) + 4.0, 0.0);
            self.head(before, on, 9.0, 4.0);
        }
    }

    /// The floor, hatched below.
    pub(super) fn floor(&mut self, left: f64, right: f64, y: f64) {
        self.coded(Line::Rule, &[left, y, right, y]);
        let mut x = left + 4.0;
        while x < right - 4.0 {
            self.hair(&[x + 5.0, y + 1.5, x, y + 7.0]);
            x += 10.0;
        }
    }

    /// A wall, hatched on its right.
    pub(super) fn wall(&mut self, x: f64, top: f64, bottom: f64) {
        self.coded(Line::Rule, &[x, top, x, bottom]);
        let mut y = top + 4.0;
        while y < bottom - 4.0 {
            self.hair(&[x + 1.5, y + 5.0, x + 7.0, y]);
            y += 10.0;
        }
    }
}

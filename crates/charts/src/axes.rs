//! Scales and the ruled ground on which curves are drawn: values stand on their lines like entries in a ruled book, in a
//! column of their own left of the margin rule.

use quantity::Unit;

use crate::geometry::{Point, Rect, at};
use crate::ink::Line;
use crate::svg::{Anchor, Hand, Writer};
use wording::{named, number};

/// Size of the values on an axis.
pub(crate) const VALUES: f64 = 14.0;
/// Size of labels on curves.
pub(crate) const LABELS: f64 = 14.0;

/// The furthest that any axis reaches.
const FURTHEST: f64 = 1e12;

/// Round values along an axis: steps of 1, 2 or 5 times a power of ten.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ticks {
    pub(crate) at: Vec<f64>,
    pub(crate) step: f64,
    pub(crate) places: i8,
}

/// At most about so many round values between two ends.
pub(crate) fn ticks(low: f64, high: f64, most: u8) -> Ticks {
    let raw = ((high - low) / f64::from(most.max(1))).clamp(1e-9, FURTHEST);
    let mut decade: i8 = -9;
    while decade < 12 && 10_f64.powi(i32::from(decade) + 1) <= raw * (1.0 + 1e-9) {
        decade += 1;
    }
    let unit = 10_f64.powi(i32::from(decade));
    let (factor, decade) = match raw / unit {
        share if share <= 1.0 + 1e-9 => (1.0, decade),
        share if share <= 2.0 + 1e-9 => (2.0, decade),
        share if share <= 5.0 + 1e-9 => (5.0, decade),
        _ => (10.0, decade + 1),
    };
    let step = factor * unit;
    let mut count = (low / step - 1e-6).ceil();
    let mut values = Vec::new();
    while count * step <= high + step * 1e-6 && values.len() < 40 {
        // A zero without a sign.
        values.push(count * step + 0.0);
        count += 1.0;
    }
    Ticks {
        at: values,
        step,
        places: (-decade).max(0),
    }
}

/// An axis: what it shows, in which unit, between which values of that unit.
#[derive(Clone, Debug)]
pub(crate) struct Axis {
    pub(crate) name: &'static str,
    pub(crate) unit: Unit,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Axis {
    /// An axis over values in SI, from the lower to the higher; both made finite and apart.
    pub(crate) fn over(name: &'static str, unit: Unit, low_si: f64, high_si: f64) -> Self {
        let tame = |si: f64, otherwise: f64| {
            let value = unit.from_si(si);
            if value.is_finite() {
                value.clamp(-FURTHEST, FURTHEST)
            } else {
                otherwise
            }
        };
        let low = tame(low_si, 0.0);
        let high = tame(high_si, low + 1.0);
        let high = if high - low > 1e-9 * (1.0 + low.abs()) {
            high
        } else {
            low + 1.0
        };
        Self {
            name,
            unit,
            low,
            high,
        }
    }

    /// Its ends moved outward to round values.
    fn widened(mut self, most: u8) -> (Self, Ticks) {
        let rough = ticks(self.low, self.high, most);
        self.low = (self.low / rough.step + 1e-6).floor() * rough.step + 0.0;
        self.high = (self.high / rough.step - 1e-6).ceil() * rough.step + 0.0;
        let ticks = ticks_by(self.low, self.high, &rough);
        (self, ticks)
    }
}

fn ticks_by(low: f64, high: f64, rough: &Ticks) -> Ticks {
    let mut at = Vec::new();
    let mut count = (low / rough.step).round();
    while count * rough.step <= high + rough.step * 1e-6 && at.len() < 40 {
        at.push(count * rough.step + 0.0);
        count += 1.0;
    }
    Ticks { at, ..rough.clone() }
}

/// The ground of a diagram.
#[derive(Clone, Debug)]
pub(crate) struct Plot {
    pub(crate) area: Rect,
    x: Axis,
    y: Axis,
    x_ticks: Ticks,
    y_ticks: Ticks,
    card: (f64, f64),
}

/// Where a diagram stands on its card.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    /// Left and right edge of the card's ruling.
    pub(crate) left: f64,
    pub(crate) right: f64,
    /// Top of the drawing area; the vertical axis' name stands above it.
    pub(crate) top: f64,
    /// Height of the drawing area.
    pub(crate) height: f64,
}

/// Room that the name of the vertical axis needs above the drawing area.
pub(crate) const ABOVE: f64 = 42.0;
/// Room that values and name of the horizontal axis need below it.
pub(crate) const BELOW: f64 = 44.0;

impl Plot {
    /// Lays a diagram out: the margin as wide as the values in it.
    pub(crate) fn new(place: Place, x: Axis, y: Axis) -> Self {
        let hand = Hand::plain("value", VALUES);
        let rows = if place.height < 140.0 { 3 } else { 6 };
        let (y, y_ticks) = y.widened(rows);
        let margin = y_ticks
            .at
            .iter()
            .map(|&value| hand.width(&number(value, y.unit, y_ticks.places)))
            .fold(24.0, f64::max);
        let area = Rect::new(
            place.left + margin + 14.0,
            place.top,
            place.right - 14.0,
            place.top + place.height,
        );
        // As many values as fit with air between them.
        let mut most = 10;
        let x_ticks = loop {
            let x_ticks = ticks(x.low, x.high, most);
            let widest = x_ticks
                .at
                .iter()
                .map(|&value| hand.width(&number(value, x.unit, x_ticks.places)))
                .fold(0.0, f64::max);
            let pitch = area.width() * x_ticks.step / (x.high - x.low);
            if pitch >= widest + 16.0 || most <= 1 {
                break x_ticks;
            }
            most -= 1;
        };
        Self {
            area,
            x,
            y,
            x_ticks,
            y_ticks,
            card: (place.left, place.right),
        }
    }

    /// Where labels may stand: off the margin rule and the base rule.
    pub(crate) fn label_room(&self) -> Rect {
        Rect {
            left: self.area.left + 6.0,
            bottom: self.area.bottom - 3.0,
            ..self.area
        }
    }

    /// A point by its figures in SI.
    pub(crate) fn point(&self, x_si: f64, y_si: f64) -> Point {
        at(self.across(x_si), self.up(y_si))
    }

    pub(crate) fn across(&self, x_si: f64) -> f64 {
        let share = (self.x.unit.from_si(x_si) - self.x.low) / (self.x.high - self.x.low);
        self.area.left + share * self.area.width()
    }

    pub(crate) fn up(&self, y_si: f64) -> f64 {
        let share = (self.y.unit.from_si(y_si) - self.y.low) / (self.y.high - self.y.low);
        self.area.bottom - share * self.area.height()
    }

    /// The highest value of the vertical axis, in SI.
    pub(crate) fn top_si(&self) -> f64 {
        self.y.unit.to_si(self.y.high)
    }

    /// The ruling with its values, the margin rule, the base rule, both names.
    pub(crate) fn draw_ground(&self, out: &mut Writer) {
        out.group("ground");
        let value = Hand::plain("value", VALUES).anchored(Anchor::End);
        for &tick in &self.y_ticks.at {
            let y = self.up(self.y.unit.to_si(tick));
            out.line(Line::Hair, &[at(self.card.0, y), at(self.card.1, y)]);
            out.text(
                value,
                &number(tick, self.y.unit, self.y_ticks.places),
                at(self.area.left - 7.0, y - 4.0),
            );
        }
        let name = Hand::plain("axis-name", VALUES);
        let room = self.card.1 - self.card.0;
        out.text_in(
            name,
            &named(self.y.name, self.y.unit),
            at(self.card.0, self.area.top - 26.0),
            room,
        );
        out.line(
            Line::Rule,
            &[
                at(self.area.left, self.area.top - 12.0),
                at(self.area.left, self.area.bottom),
            ],
        );
        self.draw_base(out);
        let name = name.anchored(Anchor::End);
        let words = format!("{} →", named(self.x.name, self.x.unit));
        out.text_in(name, &words, at(self.card.1, self.area.bottom + 39.0), room);
        out.close("g");
    }

    /// The base rule with its values.
    fn draw_base(&self, out: &mut Writer) {
        let bottom = self.area.bottom;
        out.line(Line::Rule, &[at(self.card.0, bottom), at(self.card.1, bottom)]);
        let mut until = f64::NEG_INFINITY;
        for &tick in &self.x_ticks.at {
            let x = self.across(self.x.unit.to_si(tick));
            out.line(Line::Outline, &[at(x, bottom), at(x, bottom + 5.0)]);
            let words = number(tick, self.x.unit, self.x_ticks.places);
            let mut hand = Hand::plain("value", VALUES).anchored(Anchor::Middle);
            let mut base = at(x, bottom + 20.0);
            if hand.boxed(&words, base).right > self.card.1 {
                hand = hand.anchored(Anchor::End);
                base.x = self.card.1;
            }
            let taken = hand.boxed(&words, base);
            if taken.left > until + 6.0 {
                out.text(hand, &words, base);
                until = taken.right;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(low: f64, high: f64, most: u8) -> Vec<f64> {
        ticks(low, high, most).at
    }

    #[test]
    fn steps_are_one_two_or_five() {
        assert_eq!(values(0.0, 1.0, 5), [0.0, 0.2, 0.4, 0.6000000000000001, 0.8, 1.0]);
        assert_eq!(values(0.0, 9_800.0, 6), [0.0, 2000.0, 4000.0, 6000.0, 8000.0]);
        assert_eq!(values(-13.0, 22.0, 6), [-10.0, 0.0, 10.0, 20.0]);
        assert_eq!(ticks(0.0, 0.07, 6).places, 2);
        assert_eq!(values(0.0, 7.0, 10).len(), 8);
        assert_eq!(ticks(0.0, 1e6, 6).places, 0);
        assert!(values(0.0, 1e12, 6).len() <= 8);
    }

    #[test]
    fn an_axis_over_nothing_still_has_two_ends() {
        let unit = crate::picture::bare();
        for (low, high) in [(f64::NAN, f64::NAN), (3.0, 3.0), (0.0, f64::INFINITY), (5.0, 1.0)] {
            let axis = Axis::over("grip", unit, low, high);
            assert!(axis.low.is_finite() && axis.high > axis.low, "{low} {high}");
        }
    }
}

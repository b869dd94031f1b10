//! One figure with its range: a bar from its 5 % to its 95 % end, the middle as a tick, and the limit that it is held
//! against.

use engine::ranges::Range;
use quantity::{Unit, digits_for_range, show, show_range};

use crate::axes::{Axis, VALUES};
use crate::card::Card;
use crate::figures::{named, with_unit};
use crate::geometry::{Rect, at};
use crate::ink::Line;
use crate::labels::{Labels, Side};
use crate::picture::{Look, Picture, Table};
use crate::svg::{Anchor, Hand};

/// A figure with its range. Values in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct RangeBar {
    /// What the figure is: `force of the hand to lock`.
    pub name: String,
    /// Unit that it is shown in.
    pub unit: Unit,
    /// The figure itself, from the sheet's middle values; SI.
    pub middle_si: f64,
    /// Its range; `None` where it was not drawn.
    pub range: Option<Range>,
    /// What it is held against, in words and SI: `the driver's pull`.
    pub limit: Option<(String, f64)>,
    /// Whether it rests on a guess.
    pub guessed: bool,
}

impl RangeBar {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let range = self
            .range
            .filter(|range| range.low.is_finite() && range.high.is_finite());
        let words = self.words(range);
        let headless = Look { head: false, ..*look };
        let mut card = Card::new(&headless, "range-bar", self.name.clone());
        let (left, right) = card.sides();
        let name = Hand::plain("figure-name", 15.0);
        let value = Hand::plain("figure", 17.0)
            .bold()
            .italic(self.guessed)
            .anchored(Anchor::End);
        let guessed = Hand::plain("guessed", 14.0).italic(true).anchored(Anchor::End);
        let wide = value.width(&words);
        let stacked = look.narrow();
        let base = card.filled + 20.0;
        card.out.text_in(
            name,
            &self.name,
            at(left, base),
            if stacked {
                right - left
            } else {
                right - left - wide - 80.0
            },
        );
        let base = if stacked { base + 26.0 } else { base };
        card.out.text(value, &words, at(right, base));
        if self.guessed {
            card.out.text(guessed, "guessed", at(right - wide - 8.0, base));
        }
        card.filled = base + 8.0;
        if self.middle_si.is_finite() {
            self.bar(&mut card, range);
        }
        card.say(format!(
            "{words}{}.",
            if self.guessed { ", rests on a guess" } else { "" }
        ));
        if let Some((what, si)) = &self.limit {
            card.say(format!("Against {what}: {}.", with_unit(*si, self.unit)));
        }
        let table = self.table(range);
        card.finish(false, table)
    }

    fn bar(&self, card: &mut Card<'_>, range: Option<Range>) {
        let (left, right) = card.sides();
        let limit = self.limit.as_ref().map(|(_, si)| *si).filter(|si| si.is_finite());
        let known = [
            Some(self.middle_si),
            range.map(|range| range.low),
            range.map(|range| range.high),
            limit,
        ];
        let low = known.iter().flatten().copied().fold(f64::INFINITY, f64::min);
        let high = known.iter().flatten().copied().fold(f64::NEG_INFINITY, f64::max);
        // From zero where the figures are not all far from it.
        let low = if low > 0.0 && low < high * 0.6 { 0.0 } else { low };
        let high = if high < 0.0 && high > low * 0.6 { 0.0 } else { high };
        let air = ((high - low) * 0.08)
            .max(high.abs().max(low.abs()) * 0.02)
            .max(1e-12);
        let (from, to) = (if low.abs() < 1e-12 { 0.0 } else { low - air }, high + air);
        let axis = Axis::over("", self.unit, from, to);
        let across = |si: f64| {
            let share = (self.unit.from_si(si) - axis.low) / (axis.high - axis.low);
            left + 8.0 + share.clamp(0.0, 1.0) * (right - left - 16.0)
        };
        let y = card.filled + 16.0;
        card.out.group("range");
        card.out.line(Line::Hair, &[at(left, y), at(right, y)]);
        if let Some(range) = range {
            let rect = Rect::new(
                across(range.low),
                y - 6.0,
                across(range.high).max(across(range.low) + 2.0),
                y + 6.0,
            );
            card.out.bar("range-span", &rect);
        }
        let middle = across(self.middle_si);
        let tick = Rect::new(middle - 1.8, y - 11.0, middle + 1.8, y + 11.0);
        card.out.boxed("range-middle", &tick, 0.0, crate::ink::INK, None);
        card.filled = y + 14.0;
        if let (Some(si), Some((what, _))) = (limit, &self.limit) {
            let x = across(si);
            card.out.line(Line::Limit, &[at(x, y - 15.0), at(x, y + 17.0)]);
            let hand = Hand::plain("limit-name", VALUES);
            let words = format!("{what} {}", with_unit(si, self.unit));
            let mut labels = Labels::within(Rect::new(left, y + 14.0, right, y + 44.0));
            if labels.name(hand, &words, &[at(x, y + 14.0)], &[Side::Below]) {
                labels.draw(&mut card.out);
            } else {
                card.out.text_in(hand, &words, at(left, y + 34.0), right - left);
            }
            card.filled = y + 40.0;
        }
        card.out.close("g");
    }

    fn words(&self, range: Option<Range>) -> String {
        match range {
            Some(range) => show_range(
                range.low,
                range.high,
                self.unit,
                digits_for_range(range.low, range.high, self.unit),
            ),
            None => with_unit(self.middle_si, self.unit),
        }
    }

    fn table(&self, range: Option<Range>) -> Table {
        let digits = range.map(|range| digits_for_range(range.low, range.high, self.unit));
        let cell = |si: f64| {
            let shown = digits.map_or_else(|| with_unit(si, self.unit), |digits| show(si, self.unit, digits));
            let unit = self.unit.shown().replace(' ', "\u{A0}");
            shown
                .strip_suffix(&unit)
                .unwrap_or(&shown)
                .trim_end_matches('\u{A0}')
                .to_owned()
        };
        let mut rows = vec![vec!["middle".to_owned(), cell(self.middle_si)]];
        if let Some(range) = range {
            rows.push(vec!["5 % lie below".to_owned(), cell(range.low)]);
            rows.push(vec!["95 % lie below".to_owned(), cell(range.high)]);
        }
        if let Some((what, si)) = &self.limit {
            rows.push(vec![what.clone(), cell(*si)]);
        }
        let head = vec!["point".to_owned(), named("value", self.unit)];
        Table {
            caption: self.name.clone(),
            head,
            rows,
        }
    }
}

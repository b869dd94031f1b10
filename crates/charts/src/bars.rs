//! Rows of bars, each against its whole: what a figure rests on, how much of a limit is used.

use crate::card::Card;
use crate::geometry::{Rect, at};
use crate::ink::{INK, Line, PAPER};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Anchor, Hand};
use crate::text::wrapped;
use wording::per_cent;

/// Size of all text.
const TEXT: f64 = 14.0;
/// A line of text.
const LINE: f64 = 20.0;
/// Height of a bar.
const BAR: f64 = 14.0;
/// Between two groups.
const GAP: f64 = 10.0;
/// Room for what stands behind a bar.
const BEHIND: f64 = 132.0;

/// A bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// What it is of.
    pub name: String,
    /// How much of the whole, from 0; what is more than the whole fills it.
    pub share: f64,
    /// The figure that stands behind it: `42 %`, `160 N`.
    pub figure: String,
}

/// Bars under one head.
#[derive(Clone, Debug, PartialEq)]
pub struct BarGroup {
    /// What they are of.
    pub head: String,
    /// The bars, in their order.
    pub bars: Vec<Bar>,
}

/// All of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Bars {
    /// What the picture shows.
    pub title: &'static str,
    /// Heads of its table: of a group, of a bar, of its figure, of its share.
    pub heads: [&'static str; 4],
    /// The groups, in their order.
    pub groups: Vec<BarGroup>,
    /// What the whole of a bar is, in a sentence.
    pub whole: &'static str,
    /// What is said where there is no group.
    pub none: &'static str,
}

impl Bars {
    /// Draws them.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "bars", self.title);
        let table = self.table();
        if self.groups.is_empty() {
            card.empty(self.none);
            return card.finish(true, table);
        }
        let (left, right) = card.sides();
        let bold = Hand::plain("head", TEXT).bold();
        let plain = Hand::plain("name", TEXT);
        let behind = Hand::plain("figure", TEXT).anchored(Anchor::End);
        // On a phone the name stands above its bar.
        let from = if look.narrow() {
            left
        } else {
            let names = self.groups.iter().flat_map(|group| &group.bars);
            let wide = names.map(|bar| plain.width(&bar.name)).fold(60.0, f64::max);
            left + wide.min(0.4 * (right - left)) + 12.0
        };
        let to = if look.narrow() { right } else { right - BEHIND };
        let mut y = card.filled + 2.0;
        for group in &self.groups {
            card.out.group("bars");
            for line in wrapped(&group.head, TEXT * 1.14, right - left) {
                y += LINE;
                card.out.text(bold, &line, at(left, y - 5.0));
            }
            card.out.line(Line::Rule, &[at(left, y), at(right, y)]);
            y += 4.0;
            for bar in &group.bars {
                let figure = behind.width(&bar.figure);
                if look.narrow() {
                    card.out
                        .text_in(plain, &bar.name, at(left, y + 15.0), right - left - figure - 10.0);
                    card.out.text(behind, &bar.figure, at(right, y + 15.0));
                    y += LINE;
                } else {
                    card.out
                        .text_in(plain, &bar.name, at(left, y + 15.0), from - left - 12.0);
                    card.out
                        .text_in(behind, &bar.figure, at(right, y + 15.0), BEHIND - 10.0);
                }
                let whole = Rect::new(from, y + 3.0, to, y + 3.0 + BAR);
                card.out.boxed("frame", &whole, 0.0, PAPER, Some(1.0));
                let share = if bar.share.is_finite() {
                    bar.share.clamp(0.0, 1.0)
                } else {
                    1.0
                };
                let filled = Rect::new(from, whole.top, from + share * (to - from), whole.bottom);
                card.out.boxed("filled", &filled, 0.0, INK, None);
                y += LINE + 2.0;
            }
            card.out.close("g");
            y += GAP;
        }
        card.filled = y - GAP;
        card.say(self.whole);
        card.finish(true, table)
    }

    fn table(&self) -> PictureTable {
        let rows = self.groups.iter().flat_map(|group| {
            group.bars.iter().map(|bar| {
                vec![
                    group.head.clone(),
                    bar.name.clone(),
                    bar.figure.clone(),
                    per_cent(bar.share),
                ]
            })
        });
        PictureTable {
            caption: self.title.to_owned(),
            head: self.heads.map(str::to_owned).to_vec(),
            rows: rows.collect(),
        }
    }
}

//! Where a balance bar goes: turns from where it stands, a row a ground and load.

use quantity::si::Turns;

use crate::card::Card;
use crate::geometry::{Rect, at};
use crate::ink::{INK, Line, PAPER};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Anchor, Hand};

/// Size of all text.
const TEXT: f64 = 14.0;
/// A line of text.
const LINE: f64 = 20.0;
/// Height of a range.
const RANGE: f64 = 12.0;
/// How far a load stands in from its ground.
const INDENT: f64 = 10.0;
/// Half the width of a mark.
const MARK: f64 = 2.5;

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub struct BarTurnsRow {
    /// Ground: rows of one stand behind each other.
    pub ground: String,
    /// Load: `fuel 24.0 L`.
    pub load: String,
    /// Turns towards the front; below zero towards the rear.
    pub turns: Turns,
    /// Their range; `None` where nothing was drawn.
    pub range: Option<[Turns; 2]>,
    /// Both in words.
    pub figure: String,
    /// Whether it is what was asked about.
    pub here: bool,
}

/// The picture of a bar's turns.
#[derive(Clone, Debug, PartialEq)]
pub struct BarTurns {
    /// The rows, in their order.
    pub rows: Vec<BarTurnsRow>,
}

impl BarTurns {
    /// Draws them.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "bar-turns", "Balance bar");
        let (left, right) = card.sides();
        let plain = Hand::plain("name", TEXT);
        let behind = Hand::plain("figure", TEXT).anchored(Anchor::End);
        let widest = |hand: Hand, text: &dyn Fn(&BarTurnsRow) -> &str| {
            let rows = self.rows.iter();
            rows.map(|row| hand.width(text(row))).fold(60.0, f64::max)
        };
        // On a phone what a row is of, and its figure, stand above it.
        let (from, to) = if look.narrow() {
            (left + 6.0, right - 6.0)
        } else {
            let names = widest(plain.bold(), &|row| &row.load).min(0.3 * (right - left));
            let figures = widest(behind.bold(), &|row| &row.figure).min(0.4 * (right - left));
            (left + INDENT + names + 16.0, right - figures - 16.0)
        };
        let all = || {
            let rows = self.rows.iter();
            rows.flat_map(|row| row.range.into_iter().flatten().chain([row.turns]))
                .map(Turns::turns)
                .filter(|turns| turns.is_finite())
        };
        // A turn either way at least, so that a hair is not drawn as far.
        let (most_front, most_rear) = (all().fold(1.0, f64::max), all().fold(-1.0, f64::min));
        let across = |turns: f64| from + (most_front - turns) / (most_front - most_rear) * (to - from);
        let mut y = card.filled + LINE;
        card.out.text(plain, "← to the front", at(from, y - 4.0));
        card.out
            .text(plain.anchored(Anchor::End), "to the rear →", at(to, y - 4.0));
        card.out.line(Line::Rule, &[at(left, y), at(right, y)]);
        let mut ground: Option<&str> = None;
        let zero = across(0.0);
        for row in &self.rows {
            if ground != Some(row.ground.as_str()) {
                ground = Some(&row.ground);
                card.out.text_in(
                    plain,
                    &row.ground,
                    at(left, y + 18.0),
                    from.max(0.6 * right) - left,
                );
                y += LINE + 4.0;
            }
            let (name, figure) = if row.here {
                (plain.bold(), behind.bold())
            } else {
                (plain, behind)
            };
            let wide = figure.width(&row.figure);
            let room = if look.narrow() {
                right - left - wide - 10.0
            } else {
                from - left - 12.0
            };
            card.out
                .text_in(name, &row.load, at(left + INDENT, y + 14.0), room - INDENT);
            card.out.text_in(
                figure,
                &row.figure,
                at(right, y + 14.0),
                if look.narrow() {
                    right - left
                } else {
                    right - to - 10.0
                },
            );
            if look.narrow() {
                y += LINE;
            }
            if let Some(ends) = row.range {
                let [one, other] = ends.map(|turns| across(turns.turns()));
                let range = Rect::new(one.min(other), y + 4.0, one.max(other), y + 4.0 + RANGE);
                card.out.boxed("range", &range, 0.0, PAPER, Some(1.2));
            }
            card.out
                .line(Line::Limit, &[at(zero, y), at(zero, y + 8.0 + RANGE)]);
            let mark = across(row.turns.turns());
            if mark.is_finite() {
                let mark = Rect::new(mark - MARK, y + 1.0, mark + MARK, y + 7.0 + RANGE);
                card.out.boxed("mark", &mark, 0.0, INK, None);
            }
            y += LINE + 4.0;
        }
        let words = Hand::plain("label", TEXT).anchored(Anchor::Middle);
        let half = 0.5 * words.width("as it is");
        let middle = zero.clamp(left + half, right - half);
        card.out.text(words, "as it is", at(middle, y + 16.0));
        card.filled = y + LINE;
        card.say("Turns from where the bar stands. A box is their range, the mark in it what the sheet's figures give.");
        let table = self.table();
        card.finish(true, table)
    }

    fn table(&self) -> PictureTable {
        PictureTable {
            caption: "Where the balance bar goes".to_owned(),
            head: ["ground", "fuel", "turns to"].map(str::to_owned).to_vec(),
            rows: self
                .rows
                .iter()
                .map(|row| vec![row.ground.clone(), row.load.clone(), row.figure.clone()])
                .collect(),
        }
    }
}

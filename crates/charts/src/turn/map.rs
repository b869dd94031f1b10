//! One technique over entry speed and pull: what becomes of it where.

use engine::turn::{Grid, Technique, TurnVerdict};
use quantity::si::Angle;
use quantity::{Dimension, find_unit, units_of};

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot, VALUES};
use crate::card::Card;
use crate::geometry::{Rect, at};
use crate::ink::{FAINT, INK, Line, PAPER};
use crate::labels::{Labels, Side};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Hand, Writer};
use wording::{NONE, degrees, seconds, speed};

/// Everything that the picture shows.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnMap {
    /// The runs.
    pub grid: Grid,
    /// The technique in the middle of them.
    pub technique: Technique,
}

/// How each verdict is filled: ground, and strokes across it from lower left to upper right: none, close, wide apart.
const fn ground(verdict: TurnVerdict) -> (&'static str, u8) {
    match verdict {
        TurnVerdict::ComesRound => (PAPER, 0),
        TurnVerdict::ComesRoundLate => (PAPER, 2),
        TurnVerdict::RotatesLittle => (FAINT, 0),
        TurnVerdict::Ploughs => (PAPER, 1),
        TurnVerdict::Spins => (FAINT, 1),
    }
}

impl TurnMap {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "turn-map", "How it turns, by speed and pull");
        let table = self.table(look);
        let (entries, hands) = (&self.grid.entries, &self.grid.hands);
        let (Some(slowest), Some(fastest), Some(least), Some(most)) =
            (entries.first(), entries.last(), hands.first(), hands.last())
        else {
            card.empty("Nothing was run.");
            return card.finish(true, table);
        };
        let (left, right) = card.sides();
        let place = Place {
            left,
            right,
            top: card.filled + ABOVE,
            height: if look.narrow() { 230.0 } else { 320.0 },
        };
        let km_h_unit = find_unit("km/h", Dimension::Speed).unwrap_or(units_of(Dimension::Speed)[0]);
        let plot = Plot::new(
            place,
            Axis::over("pull of the hand", look.units.force, least.n(), most.n()),
            Axis::over("entry speed", km_h_unit, slowest.m_s(), fastest.m_s()),
        );
        plot.draw_ground(&mut card.out);
        let mut labels = Labels::within(plot.label_room());
        self.fill(&mut card.out, &plot);
        let here = plot.point(self.technique.hand.n(), self.technique.entry.m_s());
        card.out.disc("mark", here, 5.0, true);
        labels.avoid_mark(here, 6.0);
        labels.name(
            Hand::plain("label", LABELS).bold(),
            "as asked",
            &[here],
            &[Side::AboveRight, Side::BelowRight, Side::Right],
        );
        self.name_headings(&plot, &mut labels, look.narrow());
        labels.draw(&mut card.out);
        card.filled = plot.area.bottom + BELOW + 8.0;
        legend(&mut card, &self.found());
        card.say(format!(
            "Everything else as asked: steer {}, the handbrake from {} on. Each run is let go as it goes best, unless a moment was given; the word is by the bend.",
            degrees(self.technique.steer),
            seconds(self.technique.lever_at)
        ));
        card.finish(true, table)
    }

    /// The heading, here and there.
    fn name_headings(&self, plot: &Plot, labels: &mut Labels, narrow: bool) {
        let (down, across) = if narrow { (3, 3) } else { (4, 6) };
        let hand = Hand::plain("label", 14.0);
        let place = |step: usize, of: usize, count: usize| (2 * step + 1) * count / (2 * of);
        for row in (0..down).map(|step| place(step, down, self.grid.entries.len())) {
            for column in (0..across).map(|step| place(step, across, self.grid.hands.len())) {
                let cell = self.grid.cells.get(row).and_then(|cells| *cells.get(column)?);
                if let Some(cell) = cell {
                    let heading = cell.heading_at_release.unwrap_or(cell.heading_end);
                    let point = plot.point(self.grid.hands[column].n(), self.grid.entries[row].m_s());
                    labels.name(
                        hand,
                        &degrees(heading),
                        &[point],
                        &[Side::Above, Side::Below, Side::Right],
                    );
                }
            }
        }
    }

    /// Verdicts that are there, in their order.
    fn found(&self) -> Vec<TurnVerdict> {
        TurnVerdict::ALL
            .into_iter()
            .filter(|&wanted| {
                self.grid
                    .cells
                    .iter()
                    .flatten()
                    .flatten()
                    .any(|cell| cell.verdict == wanted)
            })
            .collect()
    }

    /// Stretches of one verdict, a row an entry speed, each cell round its own figures.
    fn fill(&self, out: &mut Writer, plot: &Plot) {
        out.group("cells");
        let ends = |values: Vec<f64>, low: f64, high: f64| -> Vec<f64> {
            let mut ends = vec![low];
            ends.extend(values.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])));
            ends.push(high);
            ends
        };
        let across = ends(
            self.grid.hands.iter().map(|hand| plot.across(hand.n())).collect(),
            plot.area.left,
            plot.area.right,
        );
        let up = ends(
            self.grid
                .entries
                .iter()
                .map(|entry| plot.up(entry.m_s()))
                .collect(),
            plot.area.bottom,
            plot.area.top,
        );
        for (row, cells) in self.grid.cells.iter().enumerate() {
            let (Some(&bottom), Some(&top)) = (up.get(row), up.get(row + 1)) else {
                continue;
            };
            let mut from = 0;
            while from < cells.len() {
                let kind = cells[from].map(|cell| cell.verdict);
                let to = (from..cells.len())
                    .find(|&index| cells[index].map(|cell| cell.verdict) != kind)
                    .unwrap_or(cells.len());
                if let (Some(verdict), Some(&left), Some(&right)) = (kind, across.get(from), across.get(to)) {
                    // A hair more, so that no seam shows between rows.
                    patch(out, &Rect::new(left, top - 0.3, right, bottom), verdict);
                }
                from = to;
            }
        }
        // Where one verdict gives way to another stands a rule, so that neighbours can be told apart on any paper.
        for (row, cells) in self.grid.cells.iter().enumerate() {
            for column in 0..cells.len() {
                let kind = cells[column].map(|cell| cell.verdict);
                if column + 1 < cells.len() && cells[column + 1].map(|cell| cell.verdict) != kind {
                    let x = across[column + 1];
                    out.line(Line::Outline, &[at(x, up[row]), at(x, up[row + 1])]);
                }
                let above = self.grid.cells.get(row + 1).and_then(|cells| cells.get(column));
                if above.is_some_and(|above| above.map(|cell| cell.verdict) != kind) {
                    let y = up[row + 1];
                    out.line(Line::Outline, &[at(across[column], y), at(across[column + 1], y)]);
                }
            }
        }
        out.close("g");
    }

    /// At most nine rows and columns, evenly taken.
    fn table(&self, look: &Look<'_>) -> PictureTable {
        let few = |count: usize| -> Vec<usize> {
            let step = count.saturating_sub(1).div_ceil(8).max(1);
            (0..count).step_by(step).collect()
        };
        let columns = few(self.grid.hands.len());
        let mut head = vec!["entry speed".to_owned()];
        head.extend(
            columns
                .iter()
                .map(|&column| look.units.say_force(self.grid.hands[column])),
        );
        let rows = few(self.grid.entries.len())
            .into_iter()
            .map(|row| {
                let mut all = vec![speed(self.grid.entries[row])];
                all.extend(columns.iter().map(|&column| {
                    self.grid
                        .cells
                        .get(row)
                        .and_then(|cells| *cells.get(column)?)
                        .map_or_else(
                            || NONE.to_owned(),
                            |cell| {
                                let heading: Angle = cell.heading_at_release.unwrap_or(cell.heading_end);
                                format!("{}, {}", degrees(heading), cell.verdict.words())
                            },
                        )
                }));
                all
            })
            .collect();
        PictureTable {
            caption: "Heading when the handbrake is let go, over entry speed and pull".into(),
            head,
            rows,
        }
    }
}

fn patch(out: &mut Writer, rect: &Rect, verdict: TurnVerdict) {
    let (fill, strokes) = ground(verdict);
    out.boxed(&format!("cell {}", verdict.name()), rect, 0.0, fill, None);
    if strokes == 0 {
        return;
    }
    // Strokes on one lattice of the whole drawing, so that they run on from row to row.
    let pitch = if strokes > 1 { 22.0 } else { 9.0 };
    let reach = rect.width() + rect.height();
    let mut start = ((rect.left + rect.top) / pitch).ceil() * pitch;
    while start < rect.left + rect.top + reach {
        let sum = start;
        let (from, to) = (at(sum - rect.bottom, rect.bottom), at(sum - rect.top, rect.top));
        if let Some((from, to)) = rect.clip(from, to) {
            out.element("path", "hatch")
                .word("d", &crate::svg::polyline(&[from, to]))
                .word("fill", "none")
                .word("stroke", INK)
                .number("stroke-width", 0.9)
                .end();
        }
        start += pitch;
    }
}

fn legend(card: &mut Card<'_>, found: &[TurnVerdict]) {
    let (left, right) = card.sides();
    let hand = Hand::plain("label", VALUES);
    card.out.group("legend");
    let (mut x, mut y) = (left, card.filled);
    for &kind in found {
        let wide = 30.0 + hand.width(kind.words()) + 18.0;
        if x + wide > right {
            x = left;
            y += 24.0;
        }
        let swatch = Rect::new(x, y, x + 22.0, y + 14.0);
        patch(&mut card.out, &swatch, kind);
        card.out
            .element("rect", "outline")
            .number("x", swatch.left)
            .number("y", swatch.top)
            .number("width", swatch.width())
            .number("height", swatch.height())
            .word("fill", "none")
            .word("stroke", INK)
            .number("stroke-width", 1.2)
            .end();
        card.out.text(hand, kind.words(), at(x + 30.0, y + 12.0));
        x += wide;
    }
    card.out.close("g");
    card.filled = y + 20.0;
}

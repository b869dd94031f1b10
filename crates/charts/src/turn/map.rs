//! One technique over entry speed and pull: what becomes of it where.

use engine::turn::{Cell, Grid, Technique, TurnVerdict};
use quantity::si::Angle;
use quantity::{Dimension, find_unit, units_of};

use crate::axes::{ABOVE, Axis, BELOW, LABELS, Place, Plot, VALUES};
use crate::card::Card;
use crate::geometry::{Point, Rect, at};
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

/// What lies on one side of a border, with how it is drawn and what is so on that side.
struct Border {
    line: Line,
    says: &'static str,
    holds: fn(&Cell) -> bool,
}

/// Of lock, of the bend and of its room; where two run on each other, the one before.
const BORDERS: [Border; 3] = [
    Border {
        line: Line::Limit,
        says: "keeps to the road",
        holds: Cell::keeps_to_the_road,
    },
    Border {
        line: Line::Car,
        says: "gets out of the bend",
        holds: Cell::is_out,
    },
    Border {
        line: Line::RearEdge,
        says: "rear wheels lock",
        holds: Cell::locks,
    },
];

/// Most cells along either way that are ways to their runs; of a finer map some of them are.
const MOST_LEADS: usize = 64;

/// Where cells meet on the drawing: across and up, one more than there are cells.
struct Lattice {
    across: Vec<f64>,
    up: Vec<f64>,
}

impl Lattice {
    fn of(grid: &Grid, plot: &Plot) -> Self {
        let ends = |values: Vec<f64>, low: f64, high: f64| -> Vec<f64> {
            let mut ends = vec![low];
            ends.extend(values.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])));
            ends.push(high);
            ends
        };
        Self {
            across: ends(
                grid.hands.iter().map(|hand| plot.across(hand.n())).collect(),
                plot.area.left,
                plot.area.right,
            ),
            up: ends(
                grid.entries.iter().map(|entry| plot.up(entry.m_s())).collect(),
                plot.area.bottom,
                plot.area.top,
            ),
        }
    }

    /// The cell at a place of the drawing: row and column.
    fn cell_at(&self, point: Point) -> (usize, usize) {
        let column = self.across.partition_point(|end| *end <= point.x).max(1) - 1;
        let row = self.up.partition_point(|end| *end >= point.y).max(1) - 1;
        (
            row.min(self.up.len().saturating_sub(2)),
            column.min(self.across.len().saturating_sub(2)),
        )
    }
}

/// A side of a cell on the drawing, with a point on its good side.
struct Edge {
    from: Point,
    to: Point,
    good: Point,
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
            height: if look.narrow() { 260.0 } else { 380.0 },
        };
        let km_h_unit = find_unit("km/h", Dimension::Speed).unwrap_or(units_of(Dimension::Speed)[0]);
        let plot = Plot::new(
            place,
            Axis::over("pull of the hand", look.units.force, least.n(), most.n()),
            Axis::over("entry speed", km_h_unit, slowest.m_s(), fastest.m_s()),
        );
        plot.draw_ground(&mut card.out);
        let lattice = Lattice::of(&self.grid, &plot);
        let mut labels = Labels::within(plot.label_room());
        self.fill(&mut card.out, &lattice);
        let here = plot.point(self.technique.hand.n(), self.technique.entry.m_s());
        labels.avoid_mark(here, 6.0);
        let borders = self.borders(&mut card.out, &lattice, &mut labels);
        card.out.disc("mark", here, 5.0, true);
        self.name_grounds(&plot, &lattice, &mut labels);
        for (border, edges) in &borders {
            name_border(border, edges, &mut labels);
        }
        self.name_headings(&plot, &mut labels, look.narrow());
        labels.draw(&mut card.out);
        self.leads(&mut card.out, &lattice, look);
        card.filled = plot.area.bottom + BELOW + 8.0;
        let lines: Vec<&Border> = borders.iter().map(|(border, _)| *border).collect();
        legend(&mut card, &self.found(), &lines);
        card.say(format!(
            "Everything else as asked: steer {}, the handbrake from {} on. Each run is let go as it goes best, unless a moment was given; the word is by the bend.",
            degrees(self.technique.steer),
            seconds(self.technique.lever_at)
        ));
        card.finish(true, table)
    }

    fn cell(&self, row: usize, column: usize) -> Option<Cell> {
        self.grid.cells.get(row).and_then(|cells| *cells.get(column)?)
    }

    /// The word of each verdict, on its ground where there is room for it.
    fn name_grounds(&self, plot: &Plot, lattice: &Lattice, labels: &mut Labels) {
        let hand = Hand::plain("label", LABELS).bold();
        for wanted in self.found() {
            let inside = |point: Point| {
                let (row, column) = lattice.cell_at(point);
                plot.area.has(point) && self.cell(row, column).is_some_and(|cell| cell.verdict == wanted)
            };
            // Near the middle of its cells, where the word does not leave them.
            let mut middle = (0.0, at(0.0, 0.0));
            for (row, cells) in self.grid.cells.iter().enumerate() {
                for (column, cell) in cells.iter().enumerate() {
                    if cell.is_some_and(|cell| cell.verdict == wanted) {
                        middle.0 += 1.0;
                        middle.1.x += f64::midpoint(lattice.across[column], lattice.across[column + 1]);
                        middle.1.y += f64::midpoint(lattice.up[row], lattice.up[row + 1]);
                    }
                }
            }
            let count = f64::max(middle.0, 1.0);
            let middle = at(middle.1.x / count, middle.1.y / count);
            labels.area(hand, wanted.words(), middle, inside);
        }
    }

    /// The heading, here and there, where nothing else stands.
    fn name_headings(&self, plot: &Plot, labels: &mut Labels, narrow: bool) {
        let (down, across) = if narrow { (3, 3) } else { (4, 6) };
        let hand = Hand::plain("label", 14.0);
        let place = |step: usize, of: usize, count: usize| (2 * step + 1) * count / (2 * of);
        for row in (0..down).map(|step| place(step, down, self.grid.entries.len())) {
            for column in (0..across).map(|step| place(step, across, self.grid.hands.len())) {
                if let Some(cell) = self.cell(row, column) {
                    let heading = cell.heading_at_release.unwrap_or(cell.heading_end);
                    let point = plot.point(self.grid.hands[column].n(), self.grid.entries[row].m_s());
                    labels.name_if_clear(
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
    fn fill(&self, out: &mut Writer, lattice: &Lattice) {
        out.group("cells");
        for (row, cells) in self.grid.cells.iter().enumerate() {
            let (Some(&bottom), Some(&top)) = (lattice.up.get(row), lattice.up.get(row + 1)) else {
                continue;
            };
            let mut from = 0;
            while from < cells.len() {
                let kind = cells[from].map(|cell| cell.verdict);
                let to = (from..cells.len())
                    .find(|&index| cells[index].map(|cell| cell.verdict) != kind)
                    .unwrap_or(cells.len());
                if let (Some(verdict), Some(&left), Some(&right)) =
                    (kind, lattice.across.get(from), lattice.across.get(to))
                {
                    // A hair more, so that no seam shows between rows.
                    patch(out, &Rect::new(left, top - 0.3, right, bottom), verdict);
                }
                from = to;
            }
        }
        // Where one verdict gives way to another stands a rule, so that neighbours can be told apart on any paper.
        for edge in self.edges(lattice, &|cell| cell.map(|cell| cell.verdict), &|_| false) {
            out.line(Line::Outline, &[edge.from, edge.to]);
        }
        out.close("g");
    }

    /// Sides of cells across which something changes.
    fn edges<K: PartialEq>(
        &self,
        lattice: &Lattice,
        kind: &dyn Fn(Option<Cell>) -> K,
        is_good: &dyn Fn(&K) -> bool,
    ) -> Vec<Edge> {
        const BESIDE: f64 = 9.0;
        let (across, up) = (&lattice.across, &lattice.up);
        let mut edges = Vec::new();
        for row in 0..self.grid.entries.len() {
            for column in 0..self.grid.hands.len() {
                let here = kind(self.cell(row, column));
                if column + 1 < self.grid.hands.len() && kind(self.cell(row, column + 1)) != here {
                    let (x, low, high) = (across[column + 1], up[row], up[row + 1]);
                    let to = if is_good(&here) { -BESIDE } else { BESIDE };
                    edges.push(Edge {
                        from: at(x, low),
                        to: at(x, high),
                        good: at(x + to, f64::midpoint(low, high)),
                    });
                }
                if row + 1 < self.grid.entries.len() && kind(self.cell(row + 1, column)) != here {
                    let (y, left, right) = (up[row + 1], across[column], across[column + 1]);
                    let to = if is_good(&here) { BESIDE } else { -BESIDE };
                    edges.push(Edge {
                        from: at(left, y),
                        to: at(right, y),
                        good: at(f64::midpoint(left, right), y + to),
                    });
                }
            }
        }
        edges
    }

    /// Draws the borders that there are.
    fn borders<'b>(
        &self,
        out: &mut Writer,
        lattice: &Lattice,
        labels: &mut Labels,
    ) -> Vec<(&'b Border, Vec<Edge>)> {
        out.group("borders");
        let mut all = Vec::new();
        for border in BORDERS.iter().rev() {
            let holds = |cell: Option<Cell>| cell.is_some_and(|cell| (border.holds)(&cell));
            let edges = self.edges(lattice, &holds, &|holds| *holds);
            if edges.is_empty() {
                continue;
            }
            let path: String = edges
                .iter()
                .map(|edge| crate::svg::polyline(&[edge.from, edge.to]))
                .collect();
            out.path(border.line, "", &path);
            for edge in &edges {
                labels.avoid_thin_line(&[edge.from, edge.to]);
            }
            all.push((border, edges));
        }
        out.close("g");
        all
    }

    /// What is pressed on a page: each cell is the way to its run.
    fn leads(&self, out: &mut Writer, lattice: &Lattice, look: &Look<'_>) {
        let Some(lead) = look.lead.filter(|_| !look.narrow()) else {
            return;
        };
        let (rows, columns) = (self.grid.entries.len(), self.grid.hands.len());
        let step = |count: usize| count.div_ceil(MOST_LEADS).max(1);
        out.element("g", "to-runs")
            .word("fill", "none")
            .word("pointer-events", "all")
            .open();
        for row in (0..rows).step_by(step(rows)) {
            for column in (0..columns).step_by(step(columns)) {
                let (top, right) = (
                    (row + step(rows)).min(rows),
                    (column + step(columns)).min(columns),
                );
                // The run of the cell in the middle of it.
                let middle = (usize::midpoint(row, top - 1), usize::midpoint(column, right - 1));
                let Some(cell) = self.cell(middle.0, middle.1) else {
                    continue;
                };
                let (entry, hand) = (self.grid.entries[middle.0], self.grid.hands[middle.1]);
                // A keyboard takes the table.
                out.element("a", "to-run")
                    .word("href", &lead.to(entry, hand))
                    .word("tabindex", "-1")
                    .open();
                out.element("title", "whole").words(
                    None,
                    &format!(
                        "{}, {}: {}",
                        speed(entry),
                        look.units.say_force(hand),
                        cell.verdict.words()
                    ),
                );
                let (from, to) = (
                    at(lattice.across[column], lattice.up[top]),
                    at(lattice.across[right], lattice.up[row]),
                );
                out.boxed("run", &Rect::new(from.x, from.y, to.x, to.y), 0.0, "none", None);
                out.close("a");
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

/// What a border says, on its good side, where it is clear.
fn name_border(border: &Border, edges: &[Edge], labels: &mut Labels) {
    const TRIED: usize = 24;
    let step = edges.len().div_ceil(TRIED).max(1);
    let points: Vec<(Point, Side)> = edges
        .iter()
        .step_by(step)
        .map(|edge| {
            let (middle, good) = (
                at(
                    f64::midpoint(edge.from.x, edge.to.x),
                    f64::midpoint(edge.from.y, edge.to.y),
                ),
                edge.good,
            );
            let side = if good.x > middle.x + 1.0 {
                Side::Right
            } else if good.x < middle.x - 1.0 {
                Side::Left
            } else if good.y < middle.y {
                Side::Above
            } else {
                Side::Below
            };
            (good, side)
        })
        .collect();
    let hand = Hand::plain("label", LABELS).italic(true);
    for (point, side) in points {
        if labels.name_if_clear(hand, border.says, &[point], &[side]) {
            break;
        }
    }
}

fn legend(card: &mut Card<'_>, found: &[TurnVerdict], borders: &[&Border]) {
    let (left, right) = card.sides();
    let hand = Hand::plain("label", VALUES);
    card.out.group("legend");
    let (mut x, mut y) = (left, card.filled);
    let mut next = |words: &str| {
        let wide = 30.0 + hand.width(words) + 18.0;
        if x + wide > right {
            x = left;
            y += 24.0;
        }
        let place = at(x, y);
        x += wide;
        place
    };
    for &kind in found {
        let Point { x, y } = next(kind.words());
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
    }
    for border in borders {
        let says = format!("border: {}", border.says);
        let Point { x, y } = next(&says);
        card.out
            .line(border.line, &[at(x, y + 7.0), at(x + 22.0, y + 7.0)]);
        card.out.text(hand, &says, at(x + 30.0, y + 12.0));
    }
    let Point { x, y: last } = next("as asked");
    card.out.disc("mark", at(x + 11.0, last + 7.0), 5.0, true);
    card.out.text(hand, "as asked", at(x + 30.0, last + 12.0));
    card.out.close("g");
    card.filled = last + 20.0;
}

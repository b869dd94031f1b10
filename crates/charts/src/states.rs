//! The answer over everything that changes: a cell a state, ground under ground, loads and warmth side by side.

use crate::card::Card;
use crate::geometry::{Rect, at};
use crate::ink::{Line, PAPER};
use crate::picture::{Look, Picture, PictureTable};
use crate::svg::{Anchor, Hand, Writer};
use wording::{NONE, per_cent};

/// Size of a cell's word.
const WORD: f64 = 14.0;
/// Size of its figures and of what stands beside the cells.
const FIGURE: f64 = 14.0;
/// Height of a cell.
const CELL: f64 = 66.0;
/// Between two cells.
const GAP: f64 = 8.0;
/// A line of heads.
const LINE: f64 = 22.0;

/// How a cell is framed: as the stamp of its assessment is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellFrame {
    /// Yes.
    Solid,
    /// Half, or no.
    Heavy,
    /// Not known, or nothing to know it of.
    Broken,
}

/// The answer in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateCell {
    /// What is driven on.
    pub ground: String,
    /// What is in the tank.
    pub load: String,
    /// Brakes warm or cold.
    pub warmth: String,
    /// The word.
    pub word: String,
    /// Its frame.
    pub frame: CellFrame,
    /// Torque there is over torque needed.
    pub in_hand: Option<f64>,
    /// By how much the front leads under the foot.
    pub front_first_by: Option<f64>,
}

/// Every state of a car.
#[derive(Clone, Debug, PartialEq)]
pub struct StatesGrid {
    /// A ground after the other, each with its loads, each of those warm and cold.
    pub cells: Vec<StateCell>,
    /// The worst, in a sentence.
    pub worst: Option<String>,
    /// Whether a cell says that what ties the axles is in the way.
    pub tied: bool,
}

/// Where cells stand that share a warmth.
#[derive(Clone, Copy, Debug)]
struct Block {
    left: f64,
    right: f64,
    top: f64,
    /// From the top of a ground's cells to those of the next.
    step: f64,
}

impl StatesGrid {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, look: &Look<'_>) -> Picture {
        let mut card = Card::new(look, "states", "Over ground, fuel and warmth");
        let table = self.table();
        if self.cells.is_empty() {
            card.empty("No ground is known to this car.");
            return card.finish(true, table);
        }
        let grounds = self.distinct(|cell| &cell.ground);
        let warmths = self.distinct(|cell| &cell.warmth);
        let (left, right) = card.sides();
        let bold = Hand::plain("ground", FIGURE).bold();
        let mut top = card.filled + 6.0;
        if look.narrow() {
            // A block a warmth, one under the other; each ground above its cells.
            for warmth in &warmths {
                let step = CELL + GAP + LINE;
                let block = Block {
                    left,
                    right,
                    top: top + 2.0 * LINE + LINE,
                    step,
                };
                self.heads(&mut card.out, block, top, warmth);
                for (row, ground) in (0_u8..).zip(&grounds) {
                    let y = block.top + f64::from(row) * step - 6.0;
                    card.out.text_in(bold, ground, at(left, y), right - left);
                }
                self.block(&mut card.out, block, warmth, &grounds);
                top = block.top + step * count(grounds.len());
            }
            card.filled = top - LINE;
        } else {
            // All of it side by side; each ground before its cells.
            let names = grounds.iter().map(|ground| bold.width(ground));
            let beside = names.fold(60.0, f64::max).min(150.0) + 12.0;
            let wide = (right - left - beside) / count(warmths.len());
            let step = CELL + GAP;
            for (row, ground) in (0_u8..).zip(&grounds) {
                let y = top + 2.0 * LINE + f64::from(row) * step + CELL / 2.0 + 5.0;
                card.out.text_in(bold, ground, at(left, y), beside - 12.0);
            }
            for (place, warmth) in (0_u8..).zip(&warmths) {
                let from = left + beside + wide * f64::from(place);
                let block = Block {
                    left: from,
                    right: from + wide - GAP,
                    top: top + 2.0 * LINE,
                    step,
                };
                self.heads(&mut card.out, block, top, warmth);
                self.block(&mut card.out, block, warmth, &grounds);
            }
            card.filled = top + 2.0 * LINE + step * count(grounds.len());
        }
        card.say("In a cell: the word, the torque in hand, and which end leads under the foot.");
        if self.tied {
            card.say("Tied: the lever would do, and what ties the axles does not let it.");
        }
        if let Some(worst) = &self.worst {
            card.say(worst.clone());
        }
        card.finish(true, table)
    }

    /// What there is of something, in the order in which it comes.
    fn distinct(&self, of: impl Fn(&StateCell) -> &String) -> Vec<&str> {
        let mut found: Vec<&str> = Vec::new();
        for cell in &self.cells {
            let said = of(cell).as_str();
            if !found.contains(&said) {
                found.push(said);
            }
        }
        found
    }

    /// The warmth over its block, and each load over its column.
    fn heads(&self, out: &mut Writer, block: Block, top: f64, warmth: &str) {
        let loads = self.distinct(|cell| &cell.load);
        let wide = (block.right - block.left) / count(loads.len());
        out.group("heads");
        out.text(
            Hand::plain("warmth", FIGURE).bold(),
            warmth,
            at(block.left, top + 14.0),
        );
        out.line(
            Line::Rule,
            &[at(block.left, top + 20.0), at(block.right, top + 20.0)],
        );
        for (column, load) in (0_u8..).zip(&loads) {
            let middle = block.left + wide * (f64::from(column) + 0.5) - GAP / 2.0;
            let hand = Hand::plain("load", FIGURE).anchored(Anchor::Middle);
            out.text_in(hand, load, at(middle, top + 36.0), wide - 4.0);
        }
        out.close("g");
    }

    /// The cells of one warmth.
    fn block(&self, out: &mut Writer, block: Block, warmth: &str, grounds: &[&str]) {
        let loads = self.distinct(|cell| &cell.load);
        let wide = (block.right - block.left) / count(loads.len());
        for cell in self.cells.iter().filter(|cell| cell.warmth == warmth) {
            let place =
                |names: &[&str], name: &str| names.iter().position(|known| *known == name).unwrap_or(0);
            let x = block.left + wide * count(place(&loads, &cell.load));
            let y = block.top + block.step * count(place(grounds, &cell.ground));
            draw(out, cell, &Rect::new(x + 2.0, y, x + wide - GAP + 2.0, y + CELL));
        }
    }

    fn table(&self) -> PictureTable {
        let heads = ["ground", "fuel", "brakes", "word", "in hand", "front leads by"];
        let figure = |share: Option<f64>| share.map_or_else(|| NONE.to_owned(), per_cent);
        let row = |cell: &StateCell| {
            vec![
                cell.ground.clone(),
                cell.load.clone(),
                cell.warmth.clone(),
                cell.word.clone(),
                figure(cell.in_hand),
                figure(cell.front_first_by),
            ]
        };
        PictureTable {
            caption: "The answer in every state".to_owned(),
            head: heads.map(str::to_owned).to_vec(),
            rows: self.cells.iter().map(row).collect(),
        }
    }
}

/// A cell: its frame as a stamp has it, its word, its figures.
fn draw(out: &mut Writer, cell: &StateCell, rect: &Rect) {
    out.group("state");
    match cell.frame {
        CellFrame::Solid => out.boxed("frame solid", rect, 0.0, PAPER, Some(1.6)),
        CellFrame::Heavy => out.boxed("frame heavy", &rect.grown(-1.0), 0.0, PAPER, Some(4.0)),
        CellFrame::Broken => {
            let [one, two, three, four] = rect.corners();
            out.line(Line::Ideal, &[one, two, three, four, one]);
        }
    }
    let middle = f64::midpoint(rect.left, rect.right);
    let room = rect.width() - 6.0;
    let word = Hand::plain("word", WORD).bold().anchored(Anchor::Middle);
    let small = Hand::plain("figure", FIGURE).anchored(Anchor::Middle);
    // A word that is wider than its cell stands in two lines, and the figures closer below it.
    let below = match cell.word.split_once(' ') {
        Some((first, rest)) if word.width(&cell.word) > room => {
            out.text_in(word, first, at(middle, rect.top + 15.0), room);
            out.text_in(word, rest, at(middle, rect.top + 30.0), room);
            [44.5, 59.5]
        }
        _ => {
            out.text_in(word, &cell.word, at(middle, rect.top + 20.0), room);
            [39.0, 57.0]
        }
    };
    let in_hand = cell.in_hand.map_or_else(|| NONE.to_owned(), per_cent);
    out.text_in(small, &in_hand, at(middle, rect.top + below[0]), room);
    let lead = match cell.front_first_by {
        None => NONE.to_owned(),
        Some(lead) if lead < 0.0 => format!("rear {}", per_cent(-lead)),
        Some(lead) => format!("front {}", per_cent(lead)),
    };
    out.text_in(small, &lead, at(middle, rect.top + below[1]), room);
    out.close("g");
}

/// A small count as a number.
fn count(of: usize) -> f64 {
    f64::from(u8::try_from(of).unwrap_or(u8::MAX))
}

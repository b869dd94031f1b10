//! One technique over entry speed and pull.

use quantity::si::{Angle, Duration, Force, Length, Speed};

use super::best::{Asked, Depth};
use super::fault::TechniqueFault;
use super::many::Cores;
use super::technique::Technique;
use super::together::runs;
use super::{Brief, TurnBench, TurnFault, TurnVerdict};

/// What a technique comes to at one entry speed and one pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Heading at the end.
    pub heading_end: Angle,
    /// Heading when the lever is let go; `None`: never.
    pub heading_at_release: Option<Angle>,
    /// For how long both rear wheels stood.
    pub rear_for: Duration,
    /// How much further into the bend the car looks at letting go for the lever; `None` where it is not let go, or so slow
    /// that its path has no direction.
    pub lever_gave: Option<Angle>,
    /// What is left to the nearer edge of the road at the worst moment, below zero beyond it; `None` where the car does not
    /// come out of the bend.
    pub to_spare: Option<Length>,
    /// In a word.
    pub verdict: TurnVerdict,
}

impl Cell {
    /// Whether both rear wheels ever stood.
    #[must_use]
    pub fn locks(&self) -> bool {
        self.rear_for > Duration::ZERO
    }

    /// Whether the car comes out of the bend, on the road or off it.
    #[must_use]
    pub const fn is_out(&self) -> bool {
        self.to_spare.is_some()
    }

    /// Whether it does so with all four wheels on the road.
    #[must_use]
    pub fn keeps_to_the_road(&self) -> bool {
        self.to_spare.is_some_and(|spare| spare >= Length::ZERO)
    }
}

/// One technique over entry speed (rows) and pull (columns).
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Entry speeds, rising.
    pub entries: Vec<Speed>,
    /// Pulls, rising.
    pub hands: Vec<Force>,
    /// A row an entry speed; `None` where the motion could not be followed.
    pub cells: Vec<Vec<Option<Cell>>>,
}

/// Most cells of a grid along either way.
pub const MOST_CELLS: usize = 256;

/// Cells that are driven at once.
const AT_A_TIME: usize = 1024;

/// Entry speeds from this share of the technique's to twice less this.
const SLOWEST: f64 = 0.4;

fn steps(from: f64, to: f64, count: usize) -> impl Iterator<Item = f64> {
    #[allow(clippy::cast_precision_loss, reason = "a few hundred")]
    let last = (count.max(2) - 1) as f64;
    #[allow(clippy::cast_precision_loss, reason = "a few hundred")]
    (0..count).map(move |step| from + (to - from) * step as f64 / last)
}

impl TurnBench {
    /// Runs a technique at `rows` entry speeds (0.4 to 1.6 of its own) and `columns` pulls (a twentieth of its own to
    /// twice that), on all cores. `tell` is told the share that is done.
    ///
    /// # Errors
    /// A number of the technique that cannot be driven; fewer than two rows or columns, or more than [`MOST_CELLS`].
    pub fn grid(
        &self,
        technique: &Technique,
        (rows, columns): (usize, usize),
        tell: &dyn Fn(f64),
    ) -> Result<Grid, TurnFault> {
        technique.check()?;
        for (what, count) in [("the map's rows", rows), ("the map's columns", columns)] {
            if !(2..=MOST_CELLS).contains(&count) {
                #[allow(clippy::cast_precision_loss, reason = "a count, to be shown")]
                return Err(TechniqueFault {
                    what,
                    low: 2.0,
                    high: MOST_CELLS as f64,
                    found: count as f64,
                    unit: "",
                }
                .into());
            }
        }
        let entry_m_s = technique.entry.m_s();
        let hand_n = technique.hand.n().max(20.0);
        let entries: Vec<Speed> = steps(SLOWEST * entry_m_s, (2.0 - SLOWEST) * entry_m_s, rows)
            .map(|speed| Speed::from_m_s(speed.clamp(0.5, 80.0)))
            .collect();
        let hands: Vec<Force> = steps(0.05 * hand_n, 2.0 * hand_n, columns)
            .map(|force| Force::from_n(force.min(2000.0)))
            .collect();
        let techniques: Vec<Technique> = entries
            .iter()
            .flat_map(|&entry| {
                hands.iter().map(move |&hand| Technique {
                    entry,
                    hand,
                    ..*technique
                })
            })
            .collect();
        let asked: Vec<Asked<'_>> = techniques
            .into_iter()
            .map(|technique| Asked {
                bench: self,
                technique,
                depth: Depth::Moment,
                unless: None,
            })
            .collect();
        // So many at a time that their ways do not fill the memory.
        let mut cells: Vec<Option<Cell>> = Vec::with_capacity(asked.len());
        for some in asked.chunks(AT_A_TIME) {
            let found = runs(some, Cores::All).into_iter();
            cells.extend(found.map(|run| run.ok().map(|run| Cell::of(&run.brief()))));
            #[allow(clippy::cast_precision_loss, reason = "some ten thousand cells")]
            tell(cells.len() as f64 / asked.len() as f64);
        }
        Ok(Grid {
            entries,
            hands,
            cells: cells.chunks(columns).map(<[_]>::to_vec).collect(),
        })
    }
}

impl Cell {
    fn of(brief: &Brief) -> Self {
        Self {
            heading_end: brief.heading.end,
            heading_at_release: brief.heading.at_release,
            rear_for: brief.rear_for,
            lever_gave: brief.judged.lever_gave,
            to_spare: brief.judged.to_spare,
            verdict: brief.verdict,
        }
    }
}

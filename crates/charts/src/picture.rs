//! What comes out: a drawing with its figures beside it; and what a caller chooses.

use core::fmt;

use quantity::si::{Force, Speed};
use quantity::{Dimension, Unit, find_unit, units_of};
use wording::{Precision, Units};

/// A drawing, and its figures as a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The drawing: one `<svg>` element that stands alone as a file or inside a page.
    pub svg: String,
    /// The figures that are drawn, in the same units and as far rounded.
    pub table: PictureTable,
    /// What it shows, in words: its title and its description. Plain text, not escaped.
    pub said: String,
}

/// The figures of a picture. Plain text, not escaped.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PictureTable {
    /// What the figures are.
    pub caption: String,
    /// A head for every column, with its unit.
    pub head: Vec<String>,
    /// Rows as long as the head; a dash stands where there is no figure.
    pub rows: Vec<Vec<String>>,
}

/// How wide a picture is laid out. Text keeps its size; what it stands in changes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Width {
    /// 720 units: a page, a sheet of paper.
    #[default]
    Wide,
    /// 340 units: a phone, a card.
    Narrow,
}

impl Width {
    /// In user units: pixels, where the picture is shown at its own size.
    #[must_use]
    pub const fn units(self) -> f64 {
        match self {
            Self::Wide => 720.0,
            Self::Narrow => 340.0,
        }
    }
}

/// What every picture is told: for whom it is drawn, and of what.
#[derive(Clone, Copy, Debug)]
pub struct Look<'a> {
    /// Begins every id of the drawing: on one page no two pictures may share it. Characters that an id cannot have are
    /// left out.
    pub prefix: &'a str,
    /// What the car is called; any text.
    pub car: &'a str,
    /// What was asked, in a few words: `crew, half tank`; any text.
    pub state: &'a str,
    /// Units of the figures.
    pub units: Units,
    /// How far the figures are known that every answer begins with: they keep the digits that they have in sentences.
    pub precision: Precision,
    /// How wide.
    pub width: Width,
    /// Whether the picture carries its own head with title, car and state. A page that has them above it leaves it out.
    pub head: bool,
    /// Whether a drawing's joints are listed under it. Paper that says more of each in its text leaves the list out.
    pub listed: bool,
    /// Where the run at an entry speed and a pull is found, on a page; `None` where nothing can be opened.
    pub lead: Option<ToRun<'a>>,
}

/// Says where a run is found: its address, from entry speed and pull.
#[derive(Clone, Copy)]
pub struct ToRun<'a>(pub &'a dyn Fn(Speed, Force) -> String);

impl ToRun<'_> {
    pub(crate) fn to(self, entry: Speed, hand: Force) -> String {
        (self.0)(entry, hand)
    }
}

impl fmt::Debug for ToRun<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("ToRun")
    }
}

impl Default for Look<'_> {
    fn default() -> Self {
        Self {
            prefix: "picture",
            car: "",
            state: "",
            units: Units::default(),
            precision: Precision::default(),
            width: Width::Wide,
            head: true,
            listed: true,
            lead: None,
        }
    }
}

impl Look<'_> {
    /// An id that starts with the prefix.
    pub(crate) fn id(&self, of: &str) -> String {
        let prefix: String = self
            .prefix
            .chars()
            .filter(|&character| character.is_ascii_alphanumeric() || matches!(character, '-' | '_'))
            .collect();
        let start = if prefix.starts_with(|first: char| first.is_ascii_alphabetic()) {
            ""
        } else {
            "p"
        };
        format!("{start}{prefix}-{of}")
    }

    pub(crate) fn narrow(&self) -> bool {
        self.width == Width::Narrow
    }
}

/// A bare number, and a share in per cent.
pub(crate) fn bare() -> Unit {
    units_of(Dimension::Ratio)[0]
}

pub(crate) fn per_cent() -> Unit {
    find_unit("%", Dimension::Ratio).unwrap_or(units_of(Dimension::Ratio)[0])
}

//! The book as plain data: what stands where, finished, before anything is set.

use engine::car::Date;
use questions::report::{Detail, Headline, Stroke, Table, Tick, WorkingLine};

/// The sheets that it is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 in.
    Letter,
}

impl Paper {
    /// Both.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// As a person writes it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        }
    }

    /// The paper of a name, in any case.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|paper| paper.name().eq_ignore_ascii_case(name.trim()))
    }
}

/// A whole book.
#[derive(Clone, Debug)]
pub(crate) struct Document {
    /// What it is called in a list of files.
    pub title: String,
    /// One sentence of it.
    pub description: String,
    /// What a program finds of it without reading it.
    pub keywords: Vec<String>,
    /// Stands at the foot of every page.
    pub running: String,
    /// The day that it is of.
    pub day: Date,
    /// What it is printed on.
    pub paper: Paper,
    /// What stands in it.
    pub parts: Vec<Part>,
}

/// A part, as the contents name it.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// Its head.
    pub title: String,
    /// Where its head stands.
    pub begins: Begins,
    /// What is in it.
    pub pieces: Vec<Piece>,
}

/// Where a part begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Begins {
    /// On a page of its own: it is handed over, filled in or cut out by itself.
    OnItsOwn,
    /// Behind the part before it, where its head and its answer have room: no page stays nearly empty for it.
    WhereThereIsRoom,
}

/// What can be set.
#[derive(Clone, Debug)]
pub(crate) enum Piece {
    /// A head below a part's: level 2 or 3.
    Heading {
        /// 2: a section; 3: something in it.
        level: u8,
        /// What it says.
        title: String,
        /// Whose it is, where it is somebody's.
        stroke: Option<Stroke>,
    },
    /// The answer in one look.
    Headline(Headline),
    /// A finding.
    Finding(assess::Finding),
    /// Names, each with what there is to say.
    Details(Vec<Detail>),
    /// Keys of the sheet, each with what there is to say of it.
    Keys(Vec<(String, String)>),
    /// A paragraph.
    Text(String),
    /// A paragraph in small print.
    Aside(String),
    /// What must not be overlooked.
    Large(String),
    /// Items.
    List(Vec<String>),
    /// Rows; with columns that a pen fills in.
    Table {
        /// What is printed.
        table: Table,
        /// Heads of what is left blank.
        blanks: Vec<String>,
    },
    /// What is ticked off.
    Ticks(Vec<Tick>),
    /// Something that must not be forgotten.
    Caution(String),
    /// A drawing, and in words what it shows.
    Picture {
        /// The drawing.
        svg: String,
        /// For who does not see it.
        said: String,
    },
    /// Lines of arithmetic.
    Steps(Vec<WorkingLine>),
    /// A name with a line behind it to write on.
    Line(String),
    /// What is cut out.
    Card(Card),
    /// The contents.
    Contents,
}

/// What is stuck to the dash.
#[derive(Clone, Debug)]
pub(crate) struct Card {
    /// Whose it is.
    pub title: String,
    /// What it was made of.
    pub print: String,
    /// Two columns.
    pub columns: [Vec<Piece>; 2],
    /// Below them.
    pub foot: Vec<String>,
}

impl Piece {
    /// A head of a section.
    pub(crate) fn section(title: impl Into<String>) -> Self {
        Self::Heading {
            level: 2,
            title: title.into(),
            stroke: None,
        }
    }
}

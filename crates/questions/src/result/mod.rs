//! Results as other programs read them: figures, the head of every object, and schemas.

mod figure;
mod head;
mod headline;
mod schema;

use serde::Serialize;
use serde_json::Value;

pub use figure::{Num, OrWhy};
pub use head::{DefaultView, Head, Headed, WarningView, defaults, warnings};
pub use headline::{ChancesView, HeadlineView, RangeView, chances};
pub use schema::{any_of as schema_of_any, of as schema_of};

/// Number of the contract that results keep to; it rises when a key changes its meaning.
pub const CONTRACT: u32 = 1;

/// A table for a spreadsheet: the name of its file, its head, its rows.
#[derive(Debug)]
pub struct CsvTable {
    /// `parts.csv`
    pub name: &'static str,
    /// A head a column.
    pub head: Vec<&'static str>,
    /// As many cells a row.
    pub rows: Vec<Vec<String>>,
}

/// A view as one JSON object: keys without a figure are null, with the reason beside them.
///
/// # Errors
/// What cannot be written as JSON: a fault of ours, since views have texts for keys and nothing else that can refuse.
pub fn to_json(view: &impl Serialize) -> Result<Value, serde_json::Error> {
    serde_json::to_value(view).map(figure::with_reasons)
}

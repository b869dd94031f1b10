//! Results as other programs read them: the shape of every JSON object, and its schema.

pub(crate) mod assess;
pub(crate) mod balance;
pub(crate) mod errors;
mod figure;
mod head;
mod headline;
pub(crate) mod lever;
pub(crate) mod lines;
pub(crate) mod logbook;
pub(crate) mod plan;
pub(crate) mod pressures;
pub(crate) mod prove;
mod schema;
pub(crate) mod settings;
pub(crate) mod turn;
pub(crate) mod working;

use serde::Serialize;

use crate::ending::Stop;

pub(crate) use figure::{Num, OrWhy};
pub(crate) use head::{Head, Headed};
pub(crate) use logbook::entry_json;
pub(crate) use schema::{any_of as schema_of_any, of as schema_of};

/// Number of the contract that results keep to; it rises when a key changes its meaning.
pub(crate) const CONTRACT: u32 = 1;

/// A view as one JSON object: keys without a figure are null, with the reason beside them.
pub(crate) fn to_json(view: &impl Serialize) -> Result<serde_json::Value, Stop> {
    let value = serde_json::to_value(view).map_err(|error| Stop::Output(error.into()))?;
    Ok(figure::with_reasons(value))
}

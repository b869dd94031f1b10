//! Results as other programs read them: the shape of every JSON object, and its schema.

pub(crate) mod book;
pub(crate) mod errors;
pub(crate) mod how;
pub(crate) mod logbook;
pub(crate) mod proposals;
pub(crate) mod seats;
pub(crate) mod working;

use serde::Serialize;

use crate::ending::Stop;

pub(crate) use logbook::entry_json;
pub(crate) use questions::result::{CONTRACT, Head, Headed, Num, OrWhy, schema_of};

/// A view as one JSON object: keys without a figure are null, with the reason beside them.
pub(crate) fn to_json(view: &impl Serialize) -> Result<serde_json::Value, Stop> {
    questions::result::to_json(view).map_err(|error| Stop::Output(error.into()))
}

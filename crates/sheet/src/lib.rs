//! Text files that a person writes, read with errors that point. The car's sheet, `car.toml`, the map of a logger's columns, and the
//! person's own prices in `preferences.toml`.
//!
//! What may stand on a sheet is the engine's one table of keys; nothing here knows a key's unit, range or default by
//! itself. From that table come the reader ([`read()`], [`ReadSheet::assemble`]), overrides ([`ReadSheet::with`],
//! [`override_key`]), edits in place ([`splice()`], [`cut`]), the blank sheet ([`Blank`]), the page of all keys
//! ([`reference()`]) and the schema for editors ([`json_schema`]).
//!
//! **All faults at once.** The text is parsed with recovery, the tree walked along the table of keys, and every fault
//! kept with its bytes: first what is no TOML, then names, types, quantities, words; last what the engine refuses of
//! the car as a whole, unless that only follows from a key that could not be read. [`Problems`] are in the order of
//! the text; the first [`MOST_SHOWN`] are kept, the others counted.
//!
//! **Edits** replace the bytes of one value and no other, and are checked by reading the result before it is given out.
//!
//! This crate knows no files, screens or clocks. [`read_from`] takes an open file and reads no more of it than
//! [`MAX_BYTES`] and one.
//!
//! ```
//! let text = "format = 2\n[lever]\nbore = \"70 bar\"\n";
//! let read = sheet::read(text.as_bytes(), "car.toml");
//! let problems = read.problems();
//! let problem = &problems.shown()[0];
//! assert_eq!((problem.line, problem.column), (3, 9));
//! assert_eq!(problem.to_string(), "car.toml:3:9: `70 bar` is a pressure, and here a length is wanted");
//! assert_eq!(problem.key.as_deref(), Some("lever.bore"));
//!
//! let edited = sheet::splice(text, "lever.bore", "5/8 in")?;
//! assert_eq!(edited, "format = 2\n[lever]\nbore = \"5/8 in\"\n");
//! # Ok::<(), sheet::Problem>(())
//! ```

mod about;
mod arrangement;
mod blank;
mod changed_lines;
mod columns;
mod example;
mod fault;
mod first;
mod layout;
mod places;
mod preferences;
mod prices;
mod problem;
mod proposal;
mod read;
mod reference;
mod schema;
mod show;
mod source;
mod splice;
mod stage;
mod syntax;
mod upgrade;
mod value;
mod with;

pub use arrangement::Arrangement;
pub use blank::Blank;
pub use columns::{ColumnMap, MappedColumn, column_map, with_column};
pub use fault::{CountFlaw, Fault, Kind, Meant};
pub use first::{FIRST_QUESTIONS, FirstAnswer, FirstQuestion};
pub use places::{SheetPlaces, TablePlace, TableStyle, ValuePlace, slot_of};
pub use preferences::{preference, with_preference};
pub use prices::{PriceFault, PriceList, price_list};
pub use problem::{MOST_SHOWN, Problem, Problems};
pub use proposal::{MOST_PROPOSED, Proposal, proposal};
pub use read::{Located, ReadSheet, assemble, read, read_from};
pub use reference::reference;
pub use schema::json_schema;
pub use show::Styles;
pub use splice::{EDIT, cut, splice};
pub use stage::{BUILT_IN_STAGES, LONGEST_STAGE, MOST_ROWS, MOST_STOPS, built_in_stage, stage};
pub use syntax::{MOST_SIGNS, SyntaxFault};
pub use upgrade::{MIGRATIONS, Migration, MigrationStep, Upgrade, upgrade};
pub use value::{LONGEST_NAME, LONGEST_TEXT, MOST_MEMBERS};
pub use with::{WITH, override_key};

/// The most bytes that a sheet may have; more is not read.
pub const MAX_BYTES: usize = 4_000_000;
/// The format that this program reads and writes.
pub const FORMAT: u32 = 2;
/// The oldest format that it reads as it stands, with the meanings of that time and a warning.
pub const OLDEST_FORMAT: u32 = 1;

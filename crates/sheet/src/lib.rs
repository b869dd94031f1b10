//! Text files that a person writes, read with errors that point. So far: the car's sheet.

mod blank;
mod example;
mod fault;
mod layout;
mod near;
mod places;
mod problem;
mod read;
mod reference;
mod schema;
mod show;
mod source;
mod splice;
mod syntax;
mod upgrade;
mod value;
mod with;

pub use blank::Blank;
pub use fault::{CountFlaw, Fault, Kind, Offer};
pub use places::{Places, TablePlace, TableStyle, ValuePlace, slot_of};
pub use problem::{MOST_SHOWN, Problem, Problems};
pub use read::{FORMAT, Located, MAX_BYTES, Read, assemble, read, read_from};
pub use reference::reference;
pub use schema::json_schema;
pub use show::Styles;
pub use splice::{EDIT, cut, splice};
pub use syntax::Syntax;
pub use upgrade::{MIGRATIONS, Migration, Step, Upgrade, upgrade};
pub use value::{LONGEST_NAME, LONGEST_TEXT, MOST_MEMBERS};
pub use with::{WITH, override_key};

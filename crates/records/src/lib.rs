//! What is kept: the cars folder, saves that cannot tear, and the logbook.
//!
//! A car is a folder with a `car.toml` in it. [`Cars`] lists such folders, finds one by its name, makes and copies
//! them; [`CarFolder`] says where each thing of a car lies. [`TextFile`] reads and replaces one text file: the new text is
//! complete on the disk before the old one goes, and a text that changed since it was read is never overwritten.
//! [`logbook`] keeps dated entries that can be struck but not altered.
//!
//! Nothing here knows what a sheet or an entry means, and nothing reads a clock: whoever calls brings the text, the
//! day and the instant. Every refusal is a [`Fault`] that says what is wrong and what to do about it.
//!
//! ```
//! use records::{CarName, Cars};
//!
//! # let somewhere = tempfile::tempdir()?;
//! # let folder = somewhere.path().join("cars");
//! let cars = Cars::make(&folder)?;
//! let car = cars.add(&CarName::new("fell")?, "format = 1\n")?;
//!
//! let read = car.sheet().read(records::LARGEST_SHEET)?;
//! car.sheet().save(Some(read.digest), "format = 1\n# lever moved\n", records::LARGEST_SHEET)?;
//!
//! // Someone else who read the first text is refused, and gets both texts back.
//! let refused = car.sheet().save(Some(read.digest), "format = 1\n# pads\n", records::LARGEST_SHEET);
//! assert!(matches!(refused, Err(records::Fault::Changed(_))));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod logbook;

mod advice;
mod answers;
mod cars;
mod digest;
mod fault;
mod kind;
mod name;
mod output;
mod read;
mod save;
mod text;
mod text_file;
mod within;

pub use answers::{Answers, KeptAnswer};
pub use cars::{CarFolder, CarName, Cars, Copied, LeftOut, Listing, Shelf};
pub use digest::{Digest, DigestFault};
pub use fault::{Conflict, Fault, IoCause};
pub use name::{LONGEST_NAME, NameFlaw};
pub use output::{Mark, Output, look_before_writing, write};
pub use text::Text;
pub use text_file::TextFile;

/// The most bytes that a sheet, or any other text of a car, may have.
pub const LARGEST_SHEET: u64 = 4 * 1024 * 1024;

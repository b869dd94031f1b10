//! Sets the build book. It knows nothing of cars: a manuscript is values under names, with the template that says how they
//! look, and the same manuscript gives the same bytes on one machine: nothing here reads a clock, a file of its own, or a font
//! that is not in the program.

mod legible;
mod set;
mod values;
mod world;

use manuscript::{Manuscript, Printed, Refused};

/// Version of this press: what it is handed must be of the same.
const VERSION: &str = env!("CARGO_PKG_VERSION");

/// Sets a manuscript.
///
/// # Errors
/// It is of another version; or, which is a fault of this program, the typesetter refused.
pub fn print(manuscript: &Manuscript) -> Result<Printed, Refused> {
    if manuscript.version == VERSION {
        set::pdf(manuscript).map_err(Refused::NotSet)
    } else {
        Err(Refused::OtherVersion {
            press: VERSION.to_owned(),
            program: manuscript.version.clone(),
        })
    }
}

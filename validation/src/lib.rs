//! The engine against what stands outside it. A folder a source: its figures in `data.toml`, with where they come from
//! and what may be off and why; what asks our code for the same figures in `check.rs`.

use std::path::Path;

mod car;
mod error;
mod loaded;
mod row;
mod second_reading;
mod single_track;
mod source;
mod table;

pub use error::Error;
pub use row::{Block, Row, Status};
pub use table::print;

/// Declares the sources: module, folder, and the module's place.
macro_rules! sources {
    ($($module:ident $folder:literal $path:literal),* $(,)?) => {
        $(
            #[path = $path]
            mod $module;
        )*

        const SOURCES: &[source::Source] = &[$(
            source::Source {
                folder: $folder,
                data: include_str!(concat!("../", $folder, "/data.toml")),
                check: $module::check,
            },
        )*];
    };
}

sources! {
    gillespie_ch3 "gillespie-ch3" "../gillespie-ch3/check.rs",
    khurmi_brakes "khurmi-brakes" "../khurmi-brakes/check.rs",
    halliday_resnick_walker "halliday-resnick-walker" "../halliday-resnick-walker/check.rs",
    bhandari_ch12 "bhandari-ch12" "../bhandari-ch12/check.rs",
    openstax_college_physics "openstax-college-physics" "../openstax-college-physics/check.rs",
    un_r13h "un-r13h" "../un-r13h/check.rs",
    lumped_heat "lumped-heat" "../lumped-heat/check.rs",
    standing_disc "standing-disc" "../standing-disc/check.rs",
    disc_in_the_wind "disc-in-the-wind" "../disc-in-the-wind/check.rs",
    cfr_571_116 "cfr-571-116" "../cfr-571-116/check.rs",
    cfr_571_106 "cfr-571-106" "../cfr-571-106/check.rs",
    sae_j527 "sae-j527" "../sae-j527/check.rs",
    iso_724 "iso-724" "../iso-724/check.rs",
    asme_b1_1 "asme-b1-1" "../asme-b1-1/check.rs",
    sae_j533 "sae-j533" "../sae-j533/check.rs",
    laminar "laminar" "../laminar/check.rs",
    fittings "fittings" "../fittings/check.rs",
    nist_sp811 "nist-sp811" "../nist-sp811/check.rs",
    boyle "boyle" "../boyle/check.rs",
    statics "statics" "../statics/check.rs",
    couplings "couplings" "../couplings/check.rs",
    magic_formula "magic-formula" "../magic-formula/check.rs",
    genta_tyre "genta-tyre" "../genta-tyre/check.rs",
    chrono_tyre "chrono-tyre" "../chrono-tyre/check.rs",
    surfaces "surfaces" "../surfaces/check.rs",
    locked_wheel "locked-wheel" "../locked-wheel/check.rs",
    single_track_drift "single-track-drift" "../single-track-drift/check.rs",
    fiala_drift "fiala-drift" "../fiala-drift/check.rs",
    abe_ch3 "abe-ch3" "../abe-ch3/check.rs",
    service_manuals "service-manuals" "../service-manuals/check.rs",
    trade "trade" "../trade/check.rs",
}

/// Every check, source by source.
///
/// # Errors
/// Data that cannot be read, a car that cannot be assembled. A figure that is off is no error; its row says so.
pub fn run() -> Result<Vec<Block>, Error> {
    let mut blocks = SOURCES
        .iter()
        .map(source::Source::run)
        .collect::<Result<Vec<_>, _>>()?;
    blocks.push(second_reading::check(None)?);
    Ok(blocks)
}

/// The engine against a file of the second reading's results, for the cars in its folder.
///
/// # Errors
/// A file that cannot be read.
pub fn second_reading(file: &Path) -> Result<Block, Error> {
    second_reading::check(Some(file))
}

/// Folders of all published and practical sources.
pub fn folders() -> impl Iterator<Item = &'static str> {
    SOURCES.iter().map(|source| source.folder)
}

//! Any text, read as any dimension: read or refused in words, never a panic, and what is read survives being printed.
//! The first byte of the input picks the dimension, the rest is the text.

#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use quantity::Dimension;

#[path = "../../crates/quantity/tests/it/well_behaved.rs"]
mod well_behaved;

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some((pick, text)) = data.split_first() else {
        return Corpus::Reject;
    };
    let Ok(text) = core::str::from_utf8(text) else {
        return Corpus::Reject;
    };
    let wanted = Dimension::ALL[usize::from(*pick) % Dimension::ALL.len()];
    well_behaved::well_behaved(text, wanted);
    Corpus::Keep
});

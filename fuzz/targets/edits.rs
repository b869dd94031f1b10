//! A sheet, a key and a value with zero bytes between: the value is written there, taken out again, and typed as an
//! override. Each gives a text that says so, or a reason; no other byte changes.

#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};

#[allow(dead_code, reason = "shared with the tests of the crate, which use more of it")]
#[path = "../../crates/sheet/tests/it/well_behaved.rs"]
mod well_behaved;

fuzz_target!(|data: &[u8]| -> Corpus {
    if well_behaved::any_edit(data) {
        Corpus::Keep
    } else {
        Corpus::Reject
    }
});

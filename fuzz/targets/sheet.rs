//! Any bytes, read as a sheet: what it says, or problems at places that there are; never a panic. No car is put together,
//! so that thousands are read in a second.

#![no_main]

use libfuzzer_sys::fuzz_target;

#[allow(dead_code, reason = "shared with the tests of the crate, which use more of it")]
#[path = "../../crates/sheet/tests/it/well_behaved.rs"]
mod well_behaved;

fuzz_target!(|data: &[u8]| {
    well_behaved::well_read(data);
});

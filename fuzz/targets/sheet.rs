//! Any bytes as a sheet: a car, or problems at places that there are; never a panic. Where zero bytes part them: a sheet,
//! a key and a value, which is written there, taken out again, and typed as an override.

#![no_main]

use libfuzzer_sys::fuzz_target;

#[path = "../../crates/sheet/tests/it/well_behaved.rs"]
mod well_behaved;

fuzz_target!(|data: &[u8]| well_behaved::any_input(data));

//! A demonstration car, a key and a value: the override, the edited sheet and the sheet written anew give the same car, or
//! none. The first byte picks the car, the two behind it the key, the rest is typed.

#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::{Corpus, fuzz_target};

#[allow(dead_code, reason = "shared with the tests of the crate, which use more of it")]
#[path = "../../crates/sheet/tests/it/twins.rs"]
mod twins;

const SHEETS: [&str; 3] = [
    include_str!("../../crates/sheet/tests/fixtures/full.toml"),
    include_str!("../../demo/scree/car.toml"),
    include_str!("../../demo/half-known/car.toml"),
];

static KEYS: LazyLock<Vec<String>> = LazyLock::new(|| {
    engine::car::KeyId::all()
        .map(|id| id.key().path.replace("[]", "[1]"))
        .collect()
});

fuzz_target!(|data: &[u8]| -> Corpus {
    let [sheet, high, low, typed @ ..] = data else {
        return Corpus::Reject;
    };
    let Ok(typed) = core::str::from_utf8(typed) else {
        return Corpus::Reject;
    };
    let key = usize::from(*high) * 256 + usize::from(*low);
    twins::alike(SHEETS[usize::from(*sheet) % SHEETS.len()], &KEYS[key % KEYS.len()], typed);
    Corpus::Keep
});

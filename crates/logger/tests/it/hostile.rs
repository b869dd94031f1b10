//! Bytes that nobody wrote for a reader.

use engine::loads::{Aboard, Laden};
use logger::demonstration::Truth;
use proptest::prelude::*;

use crate::truth::{car, made};
use crate::well_behaved::well_behaved;

fn cases() -> ProptestConfig {
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok())
        .unwrap_or(64);
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn any_bytes_give_a_log_or_a_fault(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let car = car("tarn");
        well_behaved(&bytes, &car, &Laden::of(&car, Aboard::default()));
    }

    #[test]
    fn any_figures_under_good_heads_give_a_log_or_a_fault(
        rows in prop::collection::vec(prop::collection::vec("[-+0-9.,eE:nNaAiIfF\"; ]{0,8}", 11), 0..60)
    ) {
        let car = car("tarn");
        let heads = "time [s],front pressure [bar],rear pressure [bar],speed [km/h],wheel front left [km/h],wheel front right [rpm],wheel rear left [km/h],wheel rear right [km/h],longitudinal acceleration [g],front disc [C],rear disc [F]\n";
        let text = rows.iter().fold(heads.to_owned(), |text, row| text + &row.join(",") + "\n");
        well_behaved(text.as_bytes(), &car, &Laden::of(&car, Aboard::default()));
    }
}

/// A true log with bytes turned, cut and doubled.
#[test]
fn a_damaged_log_gives_a_log_or_a_fault() {
    let car = car("tarn");
    let laden = Laden::of(&car, Aboard::default());
    let whole = made(&car, Truth::default(), 1);
    let mut seed = 1_u64;
    let mut next = |below: usize| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(seed >> 33).unwrap() % below.max(1)
    };
    for _ in 0..24 {
        let from = next(whole.len() / 2);
        let mut bytes = whole[..140].to_vec();
        bytes.extend_from_slice(&whole[from..(from + 30_000).min(whole.len())]);
        for _ in 0..next(40) {
            let at = next(bytes.len());
            bytes[at] = u8::try_from(next(256)).unwrap();
        }
        bytes.truncate(next(bytes.len()));
        well_behaved(&bytes, &car, &laden);
    }
}

/// What fuzzing kept.
#[test]
fn kept_inputs_are_well_behaved() {
    let car = car("tarn");
    let laden = Laden::of(&car, Aboard::default());
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let mut tried = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        well_behaved(&std::fs::read(entry.unwrap().path()).unwrap(), &car, &laden);
        tried += 1;
    }
    assert!(tried >= 2);
}

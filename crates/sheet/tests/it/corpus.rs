//! Inputs that were once found to reach something new, or to break it.

use crate::well_behaved::{any_edit, well_behaved};

#[test]
fn kept_inputs_are_well_behaved() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/corpus");
    let mut count = 0;
    for file in std::fs::read_dir(folder).unwrap() {
        let input = std::fs::read(file.unwrap().path()).unwrap();
        if !any_edit(&input) {
            well_behaved(&input);
        }
        count += 1;
    }
    assert!((1..=200).contains(&count), "{count} inputs");
}

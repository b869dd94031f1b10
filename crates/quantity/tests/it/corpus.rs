//! The texts that the fuzzer found to reach the most of the reader, each a file of one byte (that picks the fuzzer's
//! dimension) and the text. Here every text is read as every dimension.

use std::{fs, path::Path};

use quantity::Dimension;

use crate::well_behaved::well_behaved;

#[test]
fn kept_texts_are_read_or_refused_in_words() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let mut texts = 0;
    let mut read = [0; Dimension::ALL.len()];
    for entry in fs::read_dir(folder).unwrap() {
        let bytes = fs::read(entry.unwrap().path()).unwrap();
        let text = str::from_utf8(&bytes[1..]).unwrap();
        texts += 1;
        for (wanted, count) in Dimension::ALL.into_iter().zip(&mut read) {
            *count += usize::from(well_behaved(text, wanted));
        }
    }
    assert!((50..=200).contains(&texts), "{texts} texts");
    for (wanted, count) in Dimension::ALL.into_iter().zip(read) {
        assert!(count > 0, "none of them is {}", wanted.with_article());
    }
}

//! The texts that the fuzzer found to reach the most of the reader, each a line in quotes, a section for the dimension that
//! it was found with. Here every text is read as every dimension.

use quantity::Dimension;

use crate::well_behaved::well_behaved;

#[test]
fn kept_texts_are_read_or_refused_in_words() {
    let lines = include_str!("../corpus.txt").lines();
    let texts: Vec<String> = lines
        .filter(|line| line.starts_with('"'))
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    let mut read = [0; Dimension::ALL.len()];
    for text in &texts {
        for (wanted, count) in Dimension::ALL.into_iter().zip(&mut read) {
            *count += usize::from(well_behaved(text, wanted));
        }
    }
    assert!((50..=200).contains(&texts.len()), "{} texts", texts.len());
    for (wanted, count) in Dimension::ALL.into_iter().zip(read) {
        assert!(count > 0, "none of them is {}", wanted.with_article());
    }
}

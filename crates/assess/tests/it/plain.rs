//! A finding is read aloud in a workshop: short sentences, no bracket in a bracket.

use assess::Finding;
use wording::sentences;

/// Words that a sentence of a finding may have; a figure and its unit are one word.
const MOST: usize = 20;
/// Words that a title may have.
const MOST_IN_A_TITLE: usize = 8;

fn words(sentence: &str) -> usize {
    sentence.split(' ').count()
}

/// How deep brackets lie in each other.
fn depth(text: &str) -> usize {
    let (mut now, mut most) = (0_usize, 0);
    for letter in text.chars() {
        match letter {
            '(' => now += 1,
            ')' => now = now.saturating_sub(1),
            _ => {}
        }
        most = most.max(now);
    }
    most
}

/// What is not plain about a finding.
pub(crate) fn faults(finding: &Finding) -> Vec<String> {
    let mut found = Vec::new();
    if words(&finding.title) > MOST_IN_A_TITLE {
        found.push(format!(
            "{}: title of {} words: {}",
            finding.slug,
            words(&finding.title),
            finding.title
        ));
    }
    for text in [&finding.because, &finding.remedy] {
        if depth(text) > 1 {
            found.push(format!("{}: a bracket in a bracket: {text}", finding.slug));
        }
        for sentence in sentences(text) {
            if words(&sentence) > MOST {
                found.push(format!(
                    "{}: {} words: {sentence}",
                    finding.slug,
                    words(&sentence)
                ));
            }
        }
    }
    found
}

#[test]
fn words_are_counted_as_they_are_read() {
    assert_eq!(
        sentences("At 30.5\u{a0}bar it locks. It is dry; go on. 4 turns in."),
        ["At 30.5\u{a0}bar it locks.", "It is dry; go on.", "4 turns in."]
    );
    assert_eq!(words("At 30.5\u{a0}bar it locks."), 4);
    assert_eq!((depth("a (b) (c)"), depth("a (b (c))")), (1, 2));
}

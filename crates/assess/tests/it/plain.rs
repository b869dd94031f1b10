//! A finding is read aloud in a workshop: short sentences, no bracket in a bracket.

use assess::Finding;

/// Words that a sentence of a finding may have; a figure and its unit are one word.
const MOST: usize = 20;
/// Words that a title may have.
const MOST_IN_A_TITLE: usize = 8;

/// Words of each sentence: one ends where a stop is followed by a capital letter, a figure or nothing.
fn sentences(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
    let mut all = Vec::new();
    let mut from = 0;
    for (at, word) in words.iter().enumerate() {
        let next = words.get(at + 1).and_then(|next| next.chars().next());
        let begins = next.is_none_or(|first| !first.is_lowercase());
        if word.trim_end_matches(['`', '"', ')']).ends_with(['.', '?', '!']) && begins {
            all.push(words[from..=at].join(" "));
            from = at + 1;
        }
    }
    if from < words.len() {
        all.push(words[from..].join(" "));
    }
    all
}

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

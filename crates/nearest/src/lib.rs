//! Which of several names was meant by one that is misspelt: every *did you mean* of the house asks here.

/// Names longer than this are compared with nothing.
const LONGEST: usize = 64;
/// The most names that are offered.
const MOST: usize = 3;

/// The names spelt most like the one that was written, nearest first, letter case aside; none where none is near.
///
/// A slip is a letter more, fewer, another, or two that changed places; a third of the letters may be slips, three at
/// most. The beginning of a longer name, and a whole word of one, are as near as one slip.
#[must_use]
pub fn nearest<'a>(written: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    if written.len() > LONGEST {
        return Vec::new();
    }
    let plain = plain(written);
    let reach = plain.chars().count().div_ceil(3).clamp(1, 3);
    let mut near: Vec<(usize, &str)> = names
        .into_iter()
        .filter_map(|name| Some((slips(&plain, &self::plain(name), reach)?, name)))
        .filter(|&(slips, name)| slips < name.chars().count().max(2) - 1)
        .collect();
    near.sort_by_key(|&(slips, _)| slips);
    let fewest = near.first().map_or(0, |&(slips, _)| slips);
    near.into_iter()
        .take_while(|&(slips, _)| slips <= fewest + usize::from(fewest > 0))
        .take(MOST)
        .map(|(_, name)| name)
        .collect()
}

/// The one name that comes nearest.
#[must_use]
pub fn nearest_one<'a>(written: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    nearest(written, names).first().copied()
}

/// How many slips two names are apart, where that is within reach.
fn slips(written: &str, name: &str, reach: usize) -> Option<usize> {
    let in_part = name.starts_with(written) || name.split('_').any(|word| word == written);
    if written.chars().count() >= 3 && in_part && written != name {
        return Some(1);
    }
    // Each letter more costs one, in whatever script it is written.
    if name.chars().count().abs_diff(written.chars().count()) > reach {
        return None;
    }
    Some(strsim::osa_distance(written, name)).filter(|&slips| slips <= reach)
}

/// Without regard to letter case, and to which sign joins words.
fn plain(name: &str) -> String {
    name.trim()
        .chars()
        .flat_map(char::to_lowercase)
        .map(|c| if matches!(c, '-' | ' ') { '_' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{nearest, nearest_one};

    const SURFACES: [&str; 6] = [
        "dry tarmac",
        "wet tarmac",
        "hard gravel",
        "loose gravel",
        "packed snow",
        "ice",
    ];

    #[test]
    fn a_word_of_two_names_offers_both() {
        assert_eq!(nearest("gravel", SURFACES), ["hard gravel", "loose gravel"]);
        assert_eq!(nearest("Tarmac", SURFACES), ["dry tarmac", "wet tarmac"]);
        assert_eq!(nearest("snow", SURFACES), ["packed snow"]);
    }

    #[test]
    fn slips_of_the_pen() {
        assert_eq!(nearest_one("hard grvel", SURFACES), Some("hard gravel"));
        assert_eq!(nearest_one("dry-tarmac", SURFACES), Some("dry tarmac"));
        assert_eq!(
            nearest_one("tran", ["tarn", "scree"]),
            Some("tarn"),
            "two letters swapped"
        );
        assert_eq!(nearest_one("SCRE", ["tarn", "scree"]), Some("scree"));
    }

    #[test]
    fn what_is_far_from_all_offers_none() {
        assert!(nearest("cobbles", SURFACES).is_empty());
        assert!(nearest("", SURFACES).is_empty());
        assert!(nearest(&"gravel ".repeat(20), SURFACES).is_empty());
    }
}

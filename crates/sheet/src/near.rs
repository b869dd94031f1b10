//! Which of several names was meant by one that is misspelt.

/// Names longer than this are compared with nothing.
const LONGEST: usize = 64;
/// The most names that are offered.
const MOST: usize = 3;

/// The names spelt most like the one that was written, nearest first; none where none is near.
pub(crate) fn nearest<'a>(written: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    if written.len() > LONGEST {
        return Vec::new();
    }
    let plain = plain(written);
    let reach = plain.chars().count().div_ceil(3).clamp(1, 3);
    let mut near: Vec<(usize, &str)> = names
        .into_iter()
        .filter_map(|name| Some((distance(&plain, &self::plain(name), reach)?, name)))
        .filter(|&(distance, name)| distance < name.chars().count().max(2) - 1)
        .collect();
    near.sort_by_key(|&(distance, _)| distance);
    let closest = near.first().map_or(0, |&(distance, _)| distance);
    near.into_iter()
        .take_while(|&(distance, _)| distance <= closest + usize::from(closest > 0))
        .take(MOST)
        .map(|(_, name)| name)
        .collect()
}

/// How many letters apart two names are, where that is within reach. A word cut short is as near as one letter.
fn distance(written: &str, name: &str, reach: usize) -> Option<usize> {
    if written.len() >= 3 && name.starts_with(written) && written != name {
        return Some(1);
    }
    // Each letter more costs one, in whatever script it is written.
    if name.chars().count().abs_diff(written.chars().count()) > reach {
        return None;
    }
    Some(strsim::osa_distance(written, name)).filter(|&distance| distance <= reach)
}

/// Without regard to letter case, and to which sign joins words.
fn plain(name: &str) -> String {
    name.trim()
        .chars()
        .map(|c| {
            if matches!(c, '-' | ' ') {
                '_'
            } else {
                c.to_ascii_lowercase()
            }
        })
        .collect()
}

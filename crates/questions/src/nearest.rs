//! What a misspelt name may have been meant for.

/// Most single slips (a letter more, fewer, another, two swapped) between a name and one that is offered for it.
const MOST_SLIPS: usize = 3;

/// The name spelt most like `wanted`, letter case aside; `None` where none is near.
#[must_use]
pub fn nearest<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = wanted.trim().to_lowercase();
    let reach = (wanted.chars().count() / 3).clamp(1, MOST_SLIPS);
    names
        .into_iter()
        .map(|name| (strsim::osa_distance(&wanted, &name.to_lowercase()), name))
        .filter(|&(slips, _)| slips <= reach)
        .min_by_key(|&(slips, _)| slips)
        .map(|(_, name)| name)
}

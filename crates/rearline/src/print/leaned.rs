//! What does not come from the sheet, and what a computed figure is not.

use engine::car::Assembled;

use super::page::Page;
use wording::counted;

/// Guesses that are written out.
const MOST_GUESSES: usize = 6;

/// What does not come from the sheet; `most` keys that were left out are named.
pub(crate) fn defaults(page: &mut Page, assembled: &Assembled, most: usize) {
    let (guesses, left_out): (Vec<_>, Vec<_>) =
        assembled.defaults_used.iter().partition(|leaned| leaned.guess);
    if guesses.is_empty() && left_out.is_empty() {
        return;
    }
    page.heading("Not known of this car");
    for guess in guesses.iter().take(MOST_GUESSES) {
        page.item(&format!(
            "{} is a guess: {} ({})",
            guess.slot.path(),
            wording::taken(guess),
            guess.source
        ));
    }
    if guesses.len() > MOST_GUESSES {
        page.item(&format!("{} more guesses", guesses.len() - MOST_GUESSES));
    }
    let measured = guesses
        .iter()
        .chain(&left_out)
        .find(|leaned| leaned.slot.key.key().drawing.is_some());
    if let Some(leaned) = measured {
        page.item(&format!(
            "how one of them is measured: `rearline how {}`",
            leaned.slot.key.key().path
        ));
    }
    if !left_out.is_empty() {
        let mut names: Vec<String> = left_out
            .iter()
            .take(most)
            .map(|leaned| leaned.slot.path())
            .collect();
        let others = left_out.len() - names.len();
        if others > 0 {
            names.push(format!("{others} more (--json lists all)"));
        }
        page.item(&format!(
            "{} left out, {}: {}",
            counted(left_out.len(), "one key", &format!("{} keys", left_out.len())),
            counted(left_out.len(), "a default is used", "defaults are used"),
            names.join(", ")
        ));
    }
}

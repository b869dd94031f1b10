//! What stands below every answer.

use engine::car::Assembled;
use maud::{Markup, html};

use crate::shell::parts::{CAUTION, coded};

/// Guesses and left out keys that are shown at once.
const MOST_SHOWN: usize = 6;

/// What an answer leaned on, what is unusual on the sheet, and what a computed figure is not.
pub(crate) fn foot(assembled: &Assembled, units: &wording::Units) -> Markup {
    let (guesses, left_out): (Vec<_>, Vec<_>) = assembled.leaned.iter().partition(|leaned| leaned.guess);
    html! {
        section class="foot" aria-label="What this rests on" {
            @if !assembled.warnings.is_empty() {
                h2 { "Look at this again" }
                ul { @for warning in &assembled.warnings { li { code { (warning.path) } ": " (coded(&wording::remark(&warning.text, units))) } } }
            }
            @if !assembled.leaned.is_empty() {
                h2 { "Not known of this car" }
                @for (said, list) in [("guessed", &guesses), ("left out", &left_out)] {
                    @if !list.is_empty() {
                        details open[list.len() <= MOST_SHOWN] {
                            summary { (list.len()) " " (said) ": a default stands in" }
                            ul {
                                @for leaned in list {
                                    li {
                                        code { (leaned.slot.path()) } ": " (leaned.value.replace(' ', "\u{a0}"))
                                        " (" (leaned.source) ")"
                                    }
                                }
                            }
                        }
                    }
                }
            }
            p class="caution" { (CAUTION) }
        }
    }
}

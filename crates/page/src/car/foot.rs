//! What stands below every answer.

use engine::car::{Assembled, DefaultUsed};
use maud::{Markup, html};
use questions::report::CAUTION;

use super::key_links::{key, linked};
use crate::shell::parts::fold;

/// What an answer leaned on, what is unusual on the sheet, and what a computed figure is not.
pub(crate) fn foot(car: &str, assembled: &Assembled, units: &wording::Units) -> Markup {
    let warned = assembled.warnings.len();
    html! {
        section class="foot" aria-label="What this rests on" {
            @if warned > 0 {
                (fold("Look at this again", &format!("{warned} on the sheet"), &warnings(Some(car), assembled, units)))
            }
            @if !assembled.defaults_used.is_empty() { (fold("Not known of this car", &counted(assembled), &defaults(Some(car), assembled))) }
            p class="caution" { (CAUTION) }
        }
    }
}

/// The same where nothing can be opened.
pub(crate) fn alone(assembled: &Assembled, units: &wording::Units) -> Markup {
    html! {
        section class="foot" aria-label="What this rests on" {
            @if !assembled.warnings.is_empty() { h2 { "Look at this again" } (warnings(None, assembled, units)) }
            @if !assembled.defaults_used.is_empty() { h2 { "Not known of this car" } (defaults(None, assembled)) }
            p class="caution" { (CAUTION) }
        }
    }
}

fn warnings(car: Option<&str>, assembled: &Assembled, units: &wording::Units) -> Markup {
    html! {
        ul { @for warning in &assembled.warnings { li { (key(car, &warning.path)) ": " (linked(car, &wording::remark(&warning.text, units))) } } }
    }
}

/// What the sheet calls a guess, and what it leaves out.
fn told_apart(assembled: &Assembled) -> [(&'static str, Vec<&DefaultUsed>); 2] {
    let (guesses, left_out) = assembled.defaults_used.iter().partition(|leaned| leaned.guess);
    [("guessed", guesses), ("left out", left_out)]
}

fn counted(assembled: &Assembled) -> String {
    let counts = told_apart(assembled)
        .into_iter()
        .filter(|(_, list)| !list.is_empty());
    let counts: Vec<String> = counts
        .map(|(said, list)| format!("{} {said}", list.len()))
        .collect();
    format!("{}: defaults are used", counts.join(", "))
}

fn defaults(car: Option<&str>, assembled: &Assembled) -> Markup {
    html! {
        @for (said, list) in told_apart(assembled) {
            @if !list.is_empty() {
                h3 { (list.len()) " " (said) }
                ul class="defaults" {
                    @for leaned in list {
                        li {
                            (key(car, &leaned.slot.path())) ": " (wording::taken(leaned))
                            " (" (leaned.source) ")"
                        }
                    }
                }
            }
        }
    }
}

//! Which figures explain themselves, and where.

use engine::working::FIGURES;
use maud::{Markup, html};

use super::address::segment;
use super::visit::Visit;

/// Whether a figure can explain itself.
pub(crate) fn is_explained(figure: &str) -> bool {
    FIGURES.iter().any(|(name, _)| *name == figure)
}

/// A working that unfolds in its place; without the script a link to its own page.
pub(crate) fn unfolds(visit: &Visit<'_>, figure: &str) -> Markup {
    let name = FIGURES
        .iter()
        .find(|(name, _)| *name == figure)
        .map_or(figure, |(_, name)| name);
    let link = format!(
        "/car/{}/working/{figure}{}",
        segment(visit.name()),
        visit.asking.query()
    );
    html! {
        details class="working" data-from=(link) {
            summary { "How it came about: " (name) }
            p { a href=(link) { "Open the working: " (name) } }
        }
    }
}

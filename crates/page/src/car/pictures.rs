//! Pictures with their tables, for wide and for narrow screens.

use charts::{Look, Picture, Table, Width};
use maud::{Markup, PreEscaped, html};

use super::visit::Visit;
use crate::shell::parts::table;

/// A picture for wide and for narrow screens, with its figures as a table. `id` is unique on the page.
pub(crate) fn picture(visit: &Visit<'_>, id: &str, draw: impl Fn(&Look<'_>) -> Picture) -> Markup {
    let (drawn, figures) = drawn(visit, id, draw);
    html! {
        figure class="drawn" id=(id) {
            (drawn)
            @if let Some(figures) = figures {
                details class="as-table" {
                    summary { "The same as a table" }
                    (table(&figures))
                }
            }
        }
    }
}

/// The picture alone, and its figures for a table elsewhere.
pub(crate) fn drawn(
    visit: &Visit<'_>,
    id: &str,
    draw: impl Fn(&Look<'_>) -> Picture,
) -> (Markup, Option<Table>) {
    let state = questions::state_in_words(&visit.opened, &visit.units);
    let look = |prefix, width| Look {
        prefix,
        car: &visit.opened.car().name,
        state: &state,
        units: visit.units,
        width,
        head: false,
        ..Look::default()
    };
    let (wide_id, narrow_id) = (format!("{id}-w"), format!("{id}-n"));
    let wide = visit.wide().then(|| draw(&look(&wide_id, Width::Wide)));
    let narrow = visit.narrow().then(|| draw(&look(&narrow_id, Width::Narrow)));
    let shown = html! {
        @if let Some(wide) = &wide { div class="for-wide" { (PreEscaped(&wide.svg)) } }
        @if let Some(narrow) = &narrow { div class="for-narrow" { (PreEscaped(&narrow.svg)) } }
    };
    (shown, wide.or(narrow).map(|picture| picture.table))
}

/// One picture whatever the screen.
pub(crate) fn small_picture(visit: &Visit<'_>, id: &str, draw: impl Fn(&Look<'_>) -> Picture) -> Markup {
    small_if_any(visit, id, |look| Some(draw(look))).unwrap_or_default()
}

/// The same where there may be none.
pub(crate) fn small_if_any(
    visit: &Visit<'_>,
    id: &str,
    draw: impl FnOnce(&Look<'_>) -> Option<Picture>,
) -> Option<Markup> {
    let state = questions::state_in_words(&visit.opened, &visit.units);
    let picture = draw(&Look {
        prefix: id,
        car: &visit.opened.car().name,
        state: &state,
        units: visit.units,
        width: Width::Narrow,
        head: false,
        ..Look::default()
    })?;
    Some(html! {
        figure class="drawn small" {
            (PreEscaped(&picture.svg))
            details class="as-table" {
                summary { "The same as a table" }
                (table(&picture.table))
            }
        }
    })
}

//! Pictures with their tables, for wide and for narrow screens.

use charts::{Look, Picture, PictureTable, ToRun, Width};
use maud::{Markup, PreEscaped, html};
use quantity::si::{Force, Speed};
use questions::Question as _;
use questions::turn::{Ask as Turn, of_cell};

use super::address::path;
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
) -> (Markup, Option<PictureTable>) {
    let state = questions::state_in_words(&visit.opened, &visit.units);
    let to_run = |entry: Speed, hand: Force| {
        let (says, unsays) = of_cell(entry, hand);
        let asking = visit.asking.clone().unsaying(&unsays);
        let asking = says
            .iter()
            .fold(asking, |asking, (row, value)| asking.saying(row, value));
        format!("{}{}", path(visit.name(), Turn.room()), asking.query())
    };
    let look = |prefix, width| Look {
        prefix,
        car: &visit.opened.car().name,
        state: &state,
        units: visit.units,
        width,
        head: false,
        lead: visit.links_to().map(|_| ToRun(&to_run)),
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

/// The car from above as a strip of its four wheels, each with its figure, that unfolds to the picture and what it `says`.
pub(crate) fn wheels(
    visit: &Visit<'_>,
    id: &str,
    draw: impl FnOnce(&Look<'_>) -> Option<Picture>,
    says: &Markup,
) -> Option<Markup> {
    let picture = one_width(visit, id, draw)?;
    Some(html! {
        details class="wheels" {
            summary {
                span class="strip" {
                    @for (index, row) in picture.table.rows.iter().enumerate() {
                        // Front axle first: so a car is read.
                        @let stroke = if index < 2 { "front" } else { "rear" };
                        @if let [wheel, figure, ..] = row.as_slice() {
                            span class={ "wheel " (stroke) } { span class="where" { (wheel) } " " strong { (figure) } }
                        }
                    }
                }
            }
            p class="plan-says" { (picture.table.caption) "." }
            (small(&picture))
            (says)
        }
    })
}

/// One picture whatever the screen.
pub(crate) fn small_picture(visit: &Visit<'_>, id: &str, draw: impl Fn(&Look<'_>) -> Picture) -> Markup {
    one_width(visit, id, |look| Some(draw(look))).map_or_else(Markup::default, |picture| small(&picture))
}

fn one_width(
    visit: &Visit<'_>,
    id: &str,
    draw: impl FnOnce(&Look<'_>) -> Option<Picture>,
) -> Option<Picture> {
    let state = questions::state_in_words(&visit.opened, &visit.units);
    draw(&Look {
        prefix: id,
        car: &visit.opened.car().name,
        state: &state,
        units: visit.units,
        width: Width::Narrow,
        head: false,
        ..Look::default()
    })
}

fn small(picture: &Picture) -> Markup {
    html! {
        figure class="drawn small" {
            (PreEscaped(&picture.svg))
            details class="as-table" {
                summary { "The same as a table" }
                (table(&picture.table))
            }
        }
    }
}

//! Pieces that every room is made of: pictures with their tables, findings, workings, lists of what is wrong.

use assess::{Assessment, Finding};
use charts::{Look, Picture, Table, Width};
use engine::car::Assembled;
use engine::working::{Expr, FIGURES, Symbol, Working};
use maud::{Markup, PreEscaped, html};
use questions::{Shown, Trouble, Wrong};

use crate::visit::Visit;

/// Guesses and left out keys that are shown at once.
const MOST_SHOWN: usize = 6;
/// Significant digits of the numbers in a formula.
const DIGITS: usize = 5;

/// What stands at the foot of every answer.
pub(crate) const CAUTION: &str =
    "Computed figures do not replace a brake test at walking pace, in a safe place.";

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
        units: questions::picture::units(&visit.units),
        width,
        head: false,
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
    let state = questions::state_in_words(&visit.opened, &visit.units);
    let picture = draw(&Look {
        prefix: id,
        car: &visit.opened.car().name,
        state: &state,
        units: questions::picture::units(&visit.units),
        width: Width::Narrow,
        head: false,
    });
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

/// Figures in rows. A table that is wider than the screen is pushed aside under the finger, not the page.
pub(crate) fn table(figures: &Table) -> Markup {
    rows(&figures.caption, &figures.head, &figures.rows)
}

/// A table of texts; the first of each row is its head.
pub(crate) fn rows(caption: &str, head: &[impl AsRef<str>], rows: &[Vec<String>]) -> Markup {
    rows_of("table", caption, head, rows)
}

/// The same of sentences rather than figures: they are wrapped, and stand at the left.
pub(crate) fn rows_of_words(caption: &str, head: &[impl AsRef<str>], rows: &[Vec<String>]) -> Markup {
    rows_of("table words", caption, head, rows)
}

fn rows_of(class: &str, caption: &str, head: &[impl AsRef<str>], rows: &[Vec<String>]) -> Markup {
    html! {
        div class=(class) role="region" tabindex="0" aria-label=(caption) {
            table {
                caption { (caption) }
                thead { tr { @for name in head { th scope="col" { (name.as_ref()) } } } }
                tbody {
                    @for row in rows {
                        tr {
                            @for (index, cell) in row.iter().enumerate() {
                                @if index == 0 { th scope="row" { (cell) } }
                                @else { td data-head=[head.get(index).map(AsRef::as_ref)] { (cell) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Name and text, one below the other.
pub(crate) fn facts(facts: &[(&str, String)]) -> Markup {
    html! {
        dl class="facts" {
            @for (name, text) in facts { div { dt { (name) } dd { (text) } } }
        }
    }
}

/// A finding. Its caution stands with it unless it was said before.
pub(crate) fn finding(visit: &Visit<'_>, finding: &Finding, said: &mut Vec<&'static str>) -> Markup {
    let caution = finding.caution.filter(|caution| !said.contains(caution));
    said.extend(caution);
    let explained: Vec<&str> = finding
        .figures
        .iter()
        .map(|(name, _)| *name)
        .filter(|name| is_explained(name))
        .collect();
    html! {
        article class={ "finding " (finding.weight.word()) } id={ "finding-" (finding.slug) } {
            h3 { strong class="weight" { (finding.weight.word()) } " " (finding.title) }
            p { (coded(&finding.because)) }
            p class="do" { strong { "Do: " } (coded(&finding.remedy)) }
            @if let Some(caution) = caution { p class="caution" { (caution) } }
            @for name in explained { (unfolds(visit, name)) }
        }
    }
}

/// What stops the car first, before any word about it.
pub(crate) fn stops(visit: &Visit<'_>) -> Markup {
    let link = format!(
        "{}{}",
        crate::frame::path(visit.name(), "assessment"),
        visit.asking.query()
    );
    html! { @if let Some(assessed) = visit.glanced() { (stops_of(&assessed.assessment, &link)) } }
}

/// The same of an assessment that is at hand: the first of them, which leads to its finding under a `link`.
pub(crate) fn stops_of(assessment: &Assessment, link: &str) -> Markup {
    html! {
        @if let Some(finding) = assessment.stops().next() {
            @let more = assessment.stops().count() - 1;
            p class="stop-first" {
                strong class="weight" { "stop" } " "
                a href={ (link) "#finding-" (finding.slug) } {
                    (finding.title) @if more > 0 { ", and " (more) " more" }
                }
            }
        }
    }
}

/// A sentence in which names of keys stand between back quotes.
pub(crate) fn coded(text: &str) -> Markup {
    html! {
        @for (index, piece) in text.split('`').enumerate() {
            @if index % 2 == 1 { code { (piece) } } @else { (piece) }
        }
    }
}

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
        crate::frame::segment(visit.name()),
        visit.asking.query()
    );
    html! {
        details class="working" data-from=(link) {
            summary { "How it came about: " (name) }
            p { a href=(link) { "Open the working of the " (name) } }
        }
    }
}

/// The arithmetic of a figure, line by line.
pub(crate) fn working(working: &Working) -> Markup {
    html! {
        ol class="steps" {
            @for step in &working.steps {
                li {
                    p class="meaning" { (step.result.meaning) }
                    p class="formula" { (step.result.sign) " = " (step.formula.in_symbols()) }
                    p class="formula" { "= " (step.formula.with_numbers(DIGITS)) }
                    p class="formula result" { "= " (value(&step.result)) }
                    p class="source" {
                        (step.source)
                        @if !step.assumes.is_empty() { "; " (step.assumes) }
                    }
                    @let keys: Vec<_> = step.formula.symbols().into_iter().filter_map(|symbol| symbol.key.map(|key| (symbol.sign, key))).collect();
                    @if !keys.is_empty() {
                        p class="source" {
                            "From the sheet: "
                            @for (index, (sign, key)) in keys.iter().enumerate() {
                                @if index > 0 { ", " }
                                (sign) " is " code { (key) }
                            }
                        }
                    }
                }
            }
        }
        p class="source" { "In SI units, from the sheet's figures on." }
    }
}

/// A value with its unit.
pub(crate) fn value(symbol: &Symbol) -> String {
    let text = Expr::from(symbol).with_numbers(6);
    if symbol.unit.is_empty() {
        text
    } else {
        format!("{text}\u{a0}{}", symbol.unit)
    }
}

/// Who sends a form that writes something down, and to which car.
pub(crate) struct Sender<'a> {
    pub(crate) car: &'a str,
    /// What the address asks, behind its question mark.
    pub(crate) query: String,
    pub(crate) token: &'a str,
    /// A word that no other page has.
    pub(crate) page_id: &'a str,
}

impl Sender<'_> {
    /// The form. The id of what it writes is made here, so that it is written once however often the form arrives; the
    /// script makes one of its own and keeps what could not be sent. `number` is unique on the page.
    pub(crate) fn form(&self, room: &str, class: &str, number: usize, fields: &Markup) -> Markup {
        html! {
            form class=(class) method="post" data-writes
                action={ (crate::frame::path(self.car, room)) (self.query) }
            {
                input type="hidden" name=(crate::guard::TOKEN) value=(self.token);
                input type="hidden" name="entry" value={ (self.page_id) "-" (number) };
                (fields)
                p class="sending" role="status" {}
            }
        }
    }
}

/// A form of a room that writes something down.
pub(crate) fn writes(visit: &Visit<'_>, room: &str, class: &str, number: usize, fields: &Markup) -> Markup {
    visit.sender().form(room, class, number, fields)
}

/// Everything that is wrong with what was put in.
pub(crate) fn wrong(wrong: &Wrong) -> Markup {
    html! {
        ul class="wrong" {
            @for trouble in &wrong.troubles { li { (one(trouble)) } }
            @if wrong.more > 0 { li { "and " (wrong.more) " more" } }
        }
    }
}

fn one(trouble: &Trouble) -> Markup {
    // On a page nobody wrote dashes before a name.
    let file = trouble.file.trim_start_matches("--");
    html! {
        p {
            strong {
                @if let Some(key) = &trouble.key { code { (key) } ": " }
                @else if matches!(trouble.shown, Shown::Option { .. }) { code { (file) } ": " }
                (coded(&trouble.text))
            }
        }
        @if let Some((line, column)) = trouble.place
            && matches!(trouble.shown, Shown::Sheet(_))
        {
            p class="place" { "line " (line) ", column " (column) }
        }
        p class="do" { strong { "Do: " } (coded(&trouble.remedy)) }
    }
}

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

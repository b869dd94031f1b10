//! Pieces that every page is made of: tables, facts, workings, lists of what is wrong.

use charts::PictureTable;
use maud::{Markup, html};
use questions::report::WorkingLine;
use questions::{Quotation, Trouble, Wrong};

use super::formula;

/// Figures in rows. A table that is wider than the screen is pushed aside under the finger, not the page.
pub(crate) fn table(figures: &PictureTable) -> Markup {
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

/// What is folded under its head, with one line that stands for it meanwhile. On paper it is open.
pub(crate) fn fold(title: &str, summary: &str, inside: &Markup) -> Markup {
    html! {
        details class="fold" {
            summary { h2 { (title) } @if !summary.is_empty() { span class="in-short" { (coded(summary)) } } }
            (inside)
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

/// The arithmetic of a figure, line by line: each formula as mathematics, the numbers put in below it.
pub(crate) fn steps(steps: &[WorkingLine]) -> Markup {
    html! {
        ol class="steps" {
            @for step in steps {
                li {
                    p class="meaning" { (step.meaning) }
                    @if step.is_found() {
                        p class="formula result" { (formula::sign(step.sign)) " = " (step.value) }
                    } @else {
                        div class="formula" tabindex="0" {
                            (formula::sign(step.sign)) " " (formula::behind_equals(step.symbols(), formula::SIGNS))
                        }
                        div class="formula" tabindex="0" { (formula::behind_equals(step.numbers(), formula::NUMBERS)) }
                        p class="formula result" { "= " (step.value) }
                    }
                    p class="source" { (step.source) }
                    @if !step.keys.is_empty() {
                        p class="source" {
                            "From the sheet: "
                            @for (index, (sign, key)) in step.keys.iter().enumerate() {
                                @if index > 0 { ", " }
                                (formula::sign(sign)) " is " code { (key) }
                            }
                        }
                    }
                }
            }
        }
    }
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
                @else if matches!(trouble.shown, Quotation::Option { .. }) { code { (file) } ": " }
                (coded(&trouble.text))
            }
        }
        @if let Some((line, column)) = trouble.place
            && matches!(trouble.shown, Quotation::Sheet(_))
        {
            p class="place" { "line " (line) ", column " (column) }
        }
        p class="do" { strong { "Do: " } (coded(&trouble.remedy)) }
    }
}

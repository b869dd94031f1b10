//! "What did the logger show?": the report, the car's logs with the form that takes one in, and what the columns are called.

use maud::{Markup, html};
use questions::logger::{self, Ask as Question, Channel, Is, Named, NamedColumn};
use questions::options::FILE;
use questions::{Stop, Wrong};

use super::question::Asked;
use super::{Room, Said};
use crate::car::address::path;
use crate::car::forms::writes;
use crate::car::handles::Handle;
use crate::car::visit::Visit;
use crate::car::writing::Writing;
use crate::car::{logs, pictures, report_forms};
use crate::shell::parts;
use crate::web::guard::TOKEN;

const ASKED: Asked = Asked(&Question);
/// What the form of the columns sends in the field that says which form it is.
const COLUMNS: &str = "columns";
/// Columns that the form shows: what a person goes through by thumb.
const MOST: usize = 100;

pub(crate) struct Logger;

impl Room for Logger {
    fn slug(&self) -> &'static str {
        logs::ROOM
    }

    fn question(&self) -> &'static str {
        ASKED.question()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        // The logs lie beside the sheet: they are counted each time.
        questions::Question::short(ASKED.0, &visit.case())
    }

    fn handles(&self, visit: &Visit<'_>) -> Vec<Handle> {
        ASKED.handles(visit)
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let said = ASKED.told(visit, &|answer| {
            pictures::picture(visit, ASKED.slug(), |look| answer.draw(look))
        });
        if visit.asking.part {
            return said;
        }
        Said {
            more: html! { (said.more) (shelf(visit)) (columns(visit)) },
            ..said
        }
    }

    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        if writing.sent.get("what") == COLUMNS {
            return name_columns(writing);
        }
        report_forms::write(writing)
    }
}

/// The car's logs, and the form that takes one in.
fn shelf(visit: &Visit<'_>) -> Markup {
    let case = visit.case();
    let shown = logger::asked(&case);
    let there = logger::on_shelf(&case);
    html! {
        section class="on-screen" aria-label="The car's logs" {
            h2 { "The car's logs" }
            @if there.is_empty() { p { "None yet." } } @else {
                ul class="entered" {
                    @for name in &there {
                        @let asking = visit.asking.clone().saying(&FILE, name);
                        li {
                            span { (name) }
                            @if shown.as_ref() == Some(name) { span class="aside" { "shown here" } } @else {
                                a class="key" href={ (path(visit.name(), logs::ROOM)) (asking.query()) } { "Show it" }
                            }
                        }
                    }
                }
            }
            form class="reading" method="post" enctype="multipart/form-data" data-sends
                action=(path(visit.name(), "logs"))
            {
                input type="hidden" name=(TOKEN) value=(visit.caller.token);
                label {
                    span { "A logger's file (CSV) on this device" }
                    input type="file" name=(logs::FILE) accept=".csv,.txt,text/csv,text/plain" required;
                }
                button type="submit" { "Put it with the car's logs" }
                p class="sending" role="status" {}
            }
        }
    }
}

/// What the columns are taken for, to be put right.
fn columns(visit: &Visit<'_>) -> Markup {
    let columns = logger::columns(&visit.case());
    if columns.is_empty() {
        return html! {};
    }
    let known = columns
        .iter()
        .filter(|column| column.is.is_some_and(|is| is != Is::Nothing))
        .count();
    let summary = format!("{known} of {} understood", columns.len());
    let fields = html! {
        input type="hidden" name="what" value=(COLUMNS);
        @for (number, column) in columns.iter().take(MOST).enumerate() { (self::column(number, column)) }
        button type="submit" { "Use these" }
    };
    let missing = columns.len().saturating_sub(MOST);
    let inside = html! {
        p { "Say what a column is where its head does not. It is kept for this car's next logs." }
        (writes(visit, logs::ROOM, "reading columns", visit.next_form(), &fields))
        @if missing > 0 { p { (missing) " more are named in " code { "logs/columns.toml" } "." } }
    };
    html! {
        section class="on-screen" aria-label="Columns" { (parts::fold("Columns", &summary, &inside)) }
    }
}

fn column(number: usize, column: &NamedColumn) -> Markup {
    let all = [Is::Time]
        .into_iter()
        .chain(Channel::ALL.map(Is::Of))
        .chain([Is::Nothing]);
    html! {
        fieldset {
            legend { (column.head) }
            input type="hidden" name={ "head." (number) } value=(column.head);
            label {
                span { "is" }
                select name={ "is." (number) } {
                    option value="" selected[column.is.is_none()] { "not known" }
                    @for is in all { option value=(is.name()) selected[column.is == Some(is)] { (is.name()) } }
                }
            }
            label {
                span { "in" }
                input name={ "unit." (number) } value=[column.unit.as_deref()] placeholder="unit" maxlength="20"
                    autocomplete="off" autocapitalize="off" spellcheck="false";
            }
        }
    }
}

/// Writes what a person says that the columns are. What it is taken for anyway is not written.
fn name_columns(writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
    let wrong = |what: &str| {
        Wrong::plain(
            "form",
            "columns",
            what.to_owned(),
            "load the page again".to_owned(),
        )
    };
    let Some(visit) = writing.visit() else {
        return Err(wrong("columns are named for a car whose sheet reads").into());
    };
    let taken_for = logger::columns(&visit.case());
    let mut named = Vec::new();
    for number in 0..MOST {
        let head = writing.sent.get(&format!("head.{number}"));
        let said = writing.sent.get(&format!("is.{number}"));
        if head.is_empty() || said.is_empty() {
            continue;
        }
        let Some(is) = Is::named(said) else {
            return Err(wrong("that is nothing that a column can be").into());
        };
        let unit = writing.sent.get(&format!("unit.{number}")).trim().to_owned();
        let as_it_is = taken_for.iter().any(|column| {
            column.head == head && column.is == Some(is) && column.unit.as_deref().unwrap_or_default() == unit
        });
        if !as_it_is {
            named.push(Named {
                head: head.to_owned(),
                is,
                unit,
            });
        }
    }
    logger::name_columns(&visit.opened, &named)?;
    Ok(Vec::new())
}

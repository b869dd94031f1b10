//! Keys and fields of a report: ways on, offers to the sheet, readings taken at the car. What they send is read here too.

use maud::{Markup, html};
use proving::{NewEntry, SheetChange};
use questions::onto_sheet::{read_changes, write_changes};
use questions::readings::ReadingForm;
use questions::report::{Choice, Offer};
use questions::{Stop, Wrong};

use super::address::path;
use super::forms::writes;
use super::visit::Visit;
use super::writing::Writing;
use crate::shell::parts;

/// What a form of a room sends, in its field `what`.
const WHAT: &str = "what";
const AN_ENTRY: &str = "entry-of";
const A_CHANGE: &str = "sheet";
const A_READING: &str = "reading";

/// A form that goes to the room that is shown.
fn form(visit: &Visit<'_>, class: &str, what: &str, fields: &Markup) -> Markup {
    form_in(visit, visit.room(), class, what, fields)
}

fn form_in(visit: &Visit<'_>, room: &str, class: &str, what: &str, fields: &Markup) -> Markup {
    let number = visit.next_form();
    writes(
        visit,
        room,
        class,
        number,
        &html! { input type="hidden" name=(WHAT) value=(what); (fields) },
    )
}

/// A way on: a key that writes it down, or one that asks with it.
pub(crate) fn choice(visit: &Visit<'_>, choice: &Choice) -> Markup {
    let noted = choice.notes.as_ref().and_then(|fact| NewEntry::of(fact).ok());
    let key = match noted {
        Some(entry) => form(
            visit,
            "inline",
            AN_ENTRY,
            &html! {
                input type="hidden" name="kind" value=(entry.kind());
                input type="hidden" name="data" value=(entry.data());
                button type="submit" { (choice.label) }
            },
        ),
        None => {
            let asking = visit.asking.clone().unsaying(&choice.unsays);
            let asking = choice
                .says
                .iter()
                .fold(asking, |asking, (row, value)| asking.saying(row, value));
            let room = choice
                .asks
                .and_then(questions::named)
                .map_or_else(|| visit.room(), |question| question.room());
            let waits = choice.says.iter().any(|(row, _)| row.takes_long());
            html! {
                @if visit.links_to().is_none() { strong { (choice.label) ":" } }
                @else {
                    a class="key" href={ (path(visit.name(), room)) (asking.query()) } data-waits-for[waits] {
                        (choice.label)
                    }
                }
            }
        }
    };
    html! {
        // A key is not printed; what stands on it is.
        (key) " " @if visit.links_to().is_some() { strong class="printed" { (choice.label) ": " } } span class="leads" { (parts::coded(&choice.text)) }
    }
}

fn change(visit: &Visit<'_>, changes: &[SheetChange], label: &str) -> Markup {
    change_in(visit, visit.room(), changes, label)
}

/// A key that puts changes onto the sheet, read in a room.
pub(crate) fn change_in(visit: &Visit<'_>, room: &str, changes: &[SheetChange], label: &str) -> Markup {
    form_in(
        visit,
        room,
        "inline",
        A_CHANGE,
        &html! {
            input type="hidden" name="changes" value=(write_changes(changes));
            button type="submit" { (label) }
        },
    )
}

/// What the sheet might take over, with the key that does.
pub(crate) fn offer(visit: &Visit<'_>, offer: &Offer) -> Markup {
    html! {
        p { (offer.name) ": " strong { (offer.value) } }
        p class="source" {
            @if offer.changes.is_empty() { "on the sheet already" } @else { "now " (offer.now) }
            "; rests on " (offer.because)
        }
        @if !offer.changes.is_empty() { (change(visit, &offer.changes, "Take it over")) }
    }
}

/// What was changed last, with the key that puts it back.
pub(crate) fn put_back(visit: &Visit<'_>, said: &str, back: &[SheetChange]) -> Markup {
    put_back_in(visit, visit.room(), said, back)
}

/// The same, read in a room.
pub(crate) fn put_back_in(visit: &Visit<'_>, room: &str, said: &str, back: &[SheetChange]) -> Markup {
    html! { p class="changed" { (said) " " (change_in(visit, room, back, "Put it back")) } }
}

/// A reading: what is on the sheet of its kind, and the fields for one more.
pub(crate) fn reading(visit: &Visit<'_>, reading: ReadingForm) -> Markup {
    let entered = reading.entered(visit.opened.sheet.read.text());
    let fields = html! {
        input type="hidden" name="reading" value=(reading.name());
        @for field in reading.fields(&visit.units) {
            label {
                span {
                    (field.label)
                    @if let Some(unit) = field.unit { " (" (unit.symbol()) ")" }
                    @if field.optional { ", if it was read" }
                }
                @if field.choices.is_empty() {
                    input name=(field.name) inputmode="decimal" autocomplete="off" maxlength="40" required[!field.optional];
                } @else {
                    select name=(field.name) { @for choice in field.choices { option { (choice) } } }
                }
            }
        }
        button type="submit" { "Put it onto the sheet" }
    };
    html! {
        details class="reading" open[reading == ReadingForm::Pull] {
            summary { (reading.title()) ": " (entered.len()) " on the sheet" }
            p { (parts::coded(reading.how())) }
            (form(visit, "reading", A_READING, &fields))
            @if !entered.is_empty() {
                ul class="entered" {
                    @for entry in &entered {
                        li { span { (entry.says) } (change(visit, &entry.off, "Take it off")) }
                    }
                }
            }
        }
    }
}

/// Writes what a form of a report sends.
///
/// # Errors
/// What would not count, or does not read; a sheet or logbook that cannot be written.
pub(crate) fn write(writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
    let sent = writing.sent;
    match sent.get(WHAT) {
        AN_ENTRY => {
            let entry = NewEntry::read(sent.get("kind"), sent.get("data"))
                .map_err(|why| wrong("entry", &why.to_string()))?;
            writing.keep(&[entry])
        }
        A_CHANGE => writing.put_on(&read_changes(sent.get("changes"))?),
        A_READING => {
            let Some(visit) = writing.visit() else {
                return Err(wrong(
                    "sheet",
                    "a reading is put onto a sheet that reads, and this one has faults",
                )
                .into());
            };
            let Some(reading) = ReadingForm::named(sent.get("reading")) else {
                return Err(wrong("form", "that is no reading").into());
            };
            if writing.is_again() {
                return Ok(Vec::new());
            }
            let changes = reading.changes(
                visit.opened.car(),
                visit.opened.sheet.read.text(),
                writing.today(),
                &visit.units,
                &|name| sent.get(name).to_owned(),
            )?;
            writing.put_on(&changes)
        }
        _ => Err(wrong("form", "nothing is written in this room").into()),
    }
}

fn wrong(file: &str, what: &str) -> Wrong {
    Wrong::plain(file, "no-form", what.to_owned(), "load the page again".to_owned())
}

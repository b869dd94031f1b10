//! The build book: the key that prints it, and the PDF that lies beside the sheet. What prints it is handed to the page.

use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::{Markup, html};
use records::{Fault, TextFile};

use super::address::path;
use super::desk::{Desk, Press};
use super::report::ASSESSMENT;
use super::visit::{Visit, folder};
use crate::shell::trouble;
use crate::web::guard::{Caller, TOKEN};

/// The most bytes of a book that are served.
const LARGEST: u64 = 64 * 1024 * 1024;
/// As much of its end as is looked at for what it was made of.
const END: u64 = 1024 * 1024;
/// As much of a digest as a person compares.
const COMPARED: usize = 12;

/// The part of an address.
pub(crate) const PRINT: &str = "book";
/// See [`PRINT`].
const PDF: &str = "book.pdf";

/// The key, and what the newest book was made of; nothing where nothing prints here.
pub(crate) fn keys(visit: &Visit<'_>) -> Markup {
    let Some(press) = visit.desk.press else {
        return html! {};
    };
    let sheet = visit.opened.sheet.digest.to_string();
    html! {
        section class="on-screen" aria-label="Build book" {
            form method="post" action=(path(visit.name(), PRINT)) {
                input type="hidden" name=(TOKEN) value=(visit.caller.token);
                p class="keys" {
                    button type="submit" { "Print the build book" }
                    @if let Some(of) = newest(visit, press) {
                        a class="key" href=(path(visit.name(), PDF)) { "Open the build book" }
                        @match of {
                            Some(of) if of == sheet => { " It is of this sheet, " code { (short(&sheet)) } "." }
                            Some(of) => { " It is of an older sheet, " code { (short(&of)) } "; this one is " code { (short(&sheet)) } ". Print it anew." }
                            None => { " Nobody knows of which sheet it is." }
                        }
                    }
                }
            }
        }
    }
}

fn short(digest: &str) -> &str {
    digest.get(..COMPARED).unwrap_or(digest)
}

/// The sheet that the newest book was made of; `None` without a book.
fn newest(visit: &Visit<'_>, press: Press) -> Option<Option<String>> {
    let book = TextFile::at(visit.opened.sheet.folder.book());
    let end = book.end(END).ok()?;
    Some((press.sheet_of)(&end))
}

/// Prints it, and goes back to the assessment.
pub(crate) fn print(desk: &Desk, caller: &Caller, car: &str) -> Response {
    let Some(press) = desk.press else {
        return trouble::nowhere();
    };
    let printed = folder(desk, car).and_then(|folder| {
        (press.print)(&desk.folder, &folder, desk.today(), desk.units()).map(|()| folder.name().to_owned())
    });
    match printed {
        Ok(name) => Redirect::to(&path(&name, ASSESSMENT)).into_response(),
        Err(stop) => trouble::stop(&stop, caller),
    }
}

/// The PDF.
pub(crate) fn pdf(desk: &Desk, caller: &Caller, car: &str) -> Response {
    let read = folder(desk, car).and_then(|folder| {
        let book = TextFile::at(folder.book());
        book.beginning(LARGEST).map_err(|fault| {
            let remedy = matches!(fault, Fault::Missing { .. })
                .then(|| "print it first: the key stands under the assessment".to_owned());
            questions::of_records("book.pdf", &fault, remedy)
        })
    });
    match read {
        Ok(bytes) => (
            [
                (CONTENT_TYPE, "application/pdf"),
                (CONTENT_DISPOSITION, "inline; filename=\"build-book.pdf\""),
            ],
            bytes,
        )
            .into_response(),
        Err(stop) => trouble::stop(&stop, caller),
    }
}

//! "What is on the car?": the sheet by thumb. A figure a screen, the list of all, several at once, the text itself; whether
//! the sheet reads or not.

mod choice;
mod figure;
mod list;
mod several;
mod text;

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::{Markup, html};
use proving::SheetChange;
use questions::on_the_car::{OnTheCar, Steps};
use questions::onto_sheet::Leaves;
use questions::{Sheet, Stop, Wrong};
use records::logbook::{Filter, Logbook, WAIT};

use super::address::path;
use super::desk::Desk;
use super::forms::Sender;
use super::visit::{Refused, Visit, folder};
use super::writing::Writing;
use crate::shell::frame::{self, Stands};
use crate::shell::{parts, trouble};
use crate::web::guard::{Caller, Sent};
use crate::web::pairing;

pub(crate) use list::{all, question, short};
pub(crate) use text::{bring, brought};

/// Its part of the address.
pub(crate) const SLUG: &str = "sheet";
/// The part of the address of the text itself.
pub(crate) const TEXT: &str = "text";

/// The address of a figure's screen.
pub(crate) fn of_figure(car: &str, figure: &str) -> String {
    format!("{}/{figure}", path(car, SLUG))
}

/// The address of a form of several figures.
fn of_several(car: &str, name: &str) -> String {
    format!("{}/{name}", path(car, "several"))
}

/// A car whose sheet is looked at figure by figure, whether it reads or not.
pub(crate) struct At<'v> {
    name: String,
    folder: records::CarFolder,
    visit: Option<&'v Visit<'v>>,
    car: OnTheCar,
    digest: String,
    token: String,
    page_id: String,
    stands: Stands,
    steps: Steps,
}

impl<'v> At<'v> {
    fn of_visit(visit: &'v Visit<'v>) -> Self {
        Self::new(
            &visit.opened.sheet,
            Some(visit),
            visit.caller,
            visit.stands.clone(),
        )
    }

    fn new(sheet: &Sheet, visit: Option<&'v Visit<'v>>, caller: &Caller, stands: Stands) -> Self {
        let text = sheet.read.text();
        let noted = Logbook::open_if_there(&sheet.folder.logbook(), WAIT)
            .ok()
            .flatten()
            .and_then(|book| book.list(&Filter::default()).ok())
            .map(|entries| questions::history(&entries).noted)
            .unwrap_or_default();
        Self {
            name: sheet.name().to_owned(),
            folder: sheet.folder.clone(),
            visit,
            car: OnTheCar::of(text),
            digest: sheet.digest.to_string(),
            token: caller.token.clone(),
            page_id: pairing::once(),
            stands,
            steps: Steps::of(&noted, text),
        }
    }

    fn sender(&self) -> Sender<'_> {
        Sender {
            car: &self.name,
            query: String::new(),
            token: &self.token,
            page_id: &self.page_id,
        }
    }

    /// What the car is called: as its sheet says, or as its folder.
    fn called(&self) -> &str {
        self.visit.map_or(&self.name, |visit| &visit.opened.car().name)
    }

    /// The answer so far in a few words, or how many figures are left before there is one.
    fn so_far(&self) -> Markup {
        html! {
            p class="so-far" role="status" {
                strong { (self.car.short()) }
                @if let Some(outcome) = self.visit.and_then(Visit::glanced) {
                    " " a href=(path(&self.name, "assessment")) { "so far: " (outcome.in_short()) }
                }
            }
        }
    }

    /// Keys that take the last change back, and make it again.
    fn steps(&self) -> Markup {
        let key = |what: &str, label: &str, number: usize, changes: &Option<Vec<SheetChange>>| {
            let fields = |changes: &[SheetChange]| {
                html! {
                    input type="hidden" name="what" value=(what);
                    input type="hidden" name="changes" value=(questions::onto_sheet::write_changes(changes));
                    button type="submit" { (label) }
                }
            };
            changes
                .as_ref()
                .map(|changes| self.sender().form(SLUG, "inline", number, &fields(changes)))
        };
        html! {
            @if let Some(undo) = key("undo", "Undo", 900, &self.steps.undo) { (undo) }
            @if let Some(redo) = key("redo", "Redo", 901, &self.steps.redo) { (redo) }
        }
    }

    /// A page of its own, for one figure or for the text.
    fn page(&self, title: &str, refused: Option<&Wrong>, inside: &Markup) -> Response {
        let body = html! {
            a class="skip" href="#main" { "To the figure" }
            header class="top" {
                div class="house" {
                    a href="/" { "All cars" }
                    p class="car" { (self.called()) }
                    a class="to-sheet" href=(path(&self.name, SLUG)) { "All figures" }
                }
                (self.so_far())
            }
            main id="main" tabindex="-1" {
                @if let Some(wrong) = refused {
                    div class="refused" role="alert" {
                        p { strong { "That was not written." } " Nothing was changed." }
                        (parts::wrong(wrong))
                    }
                }
                (inside)
            }
        };
        let page = frame::page(
            &format!("{title} · {}", self.called()),
            &self.token,
            Some(&self.stands),
            &body,
        );
        let status = if refused.is_some() {
            StatusCode::CONFLICT
        } else {
            StatusCode::OK
        };
        (status, page).into_response()
    }
}

/// The page of the room of a car whose sheet reads, with what was refused.
pub(crate) type WholeRoom = fn(&Visit<'_>, Option<&Wrong>) -> Markup;

/// What is asked for.
#[derive(Clone, Debug)]
pub(crate) enum Part {
    /// The list of all figures.
    All,
    /// A figure's screen.
    Figure(String),
    /// A form of several figures.
    Several(String),
    /// The text itself.
    Text,
}

impl Part {
    fn show(&self, at: &At<'_>, sent: Option<&Sent>, refused: Option<&Wrong>, room: WholeRoom) -> Response {
        match self {
            Self::All => {
                let page = match at.visit {
                    Some(visit) => room(visit, refused),
                    None => list::unread(at, refused),
                };
                let status = if refused.is_some() {
                    StatusCode::CONFLICT
                } else {
                    StatusCode::OK
                };
                (status, page).into_response()
            }
            Self::Figure(figure) => figure::page(at, figure, sent, refused),
            Self::Several(name) => several::page(at, name, sent, refused),
            Self::Text => text::page(at, sent, refused),
        }
    }

    /// The changes that a form of it sends.
    fn changes(&self, at: &At<'_>, sent: &Sent) -> Result<Vec<SheetChange>, Stop> {
        Ok(match self {
            Self::All => list::changes(sent)?,
            Self::Figure(figure) => vec![figure::change(at, figure, sent)?],
            Self::Several(name) => several::changes(at, name, sent)?,
            Self::Text => Vec::new(),
        })
    }

    /// Where to go once it is written.
    fn onward(&self, at: &At<'_>, sent: &Sent) -> String {
        match self {
            Self::Figure(figure) => at
                .car
                .next(Some(figure))
                .map_or_else(|| path(&at.name, SLUG), |next| of_figure(&at.name, &next.path)),
            // A step back or forward shows the figure that it was of.
            Self::All if sent.get("what") != "out" => list::changes(sent)
                .ok()
                .and_then(|changes| at.car.figure(&changes.first()?.key))
                .map_or_else(
                    || path(&at.name, SLUG),
                    |figure| of_figure(&at.name, &figure.path),
                ),
            Self::All | Self::Several(_) => path(&at.name, SLUG),
            Self::Text => path(&at.name, TEXT),
        }
    }
}

/// Enters a car, whether its sheet reads or not.
fn entered(
    desk: &Desk,
    caller: &Caller,
    car: &str,
    query: &str,
    answer: impl FnOnce(&At<'_>) -> Response,
) -> Response {
    match Visit::enter(desk, caller, car, query) {
        Ok(visit) => answer(&At::of_visit(&visit)),
        Err(Refused::Sheet(sheet, _, stands)) => answer(&At::new(&sheet, None, caller, stands)),
        Err(Refused::Stop(stop)) => trouble::stop(&stop, caller),
    }
}

/// A page of it.
pub(crate) fn show(
    desk: &Desk,
    caller: &Caller,
    car: &str,
    query: &str,
    part: &Part,
    room: WholeRoom,
) -> Response {
    entered(desk, caller, car, query, |at| part.show(at, None, None, room))
}

/// A figure while it is typed: a piece of its page.
pub(crate) fn check(desk: &Desk, caller: &Caller, car: &str, figure: &str, query: &str) -> Response {
    match folder(desk, car).and_then(Sheet::read) {
        Ok(sheet) => figure::checked(sheet.read.text(), figure, query),
        Err(stop) => trouble::stop(&stop, caller),
    }
}

/// A form that was sent.
#[derive(Clone, Copy)]
pub(crate) struct Form<'f> {
    pub(crate) part: &'f Part,
    pub(crate) sent: &'f Sent,
    /// Whether the page's own script sends it, and wants a line.
    pub(crate) in_place: bool,
}

/// A form of it: written, and onward; or the page with what is wrong, and what was typed.
pub(crate) fn write(desk: &Desk, caller: &Caller, car: &str, form: Form<'_>, room: WholeRoom) -> Response {
    let Form { part, sent, .. } = form;
    entered(desk, caller, car, "", |at| {
        let written = if matches!(part, Part::Text) {
            text::keep(at, sent).map(|()| Vec::new())
        } else {
            Writing::begin(desk, caller, &at.folder, at.visit, sent).and_then(|writing| {
                let changes = if writing.is_again() {
                    Vec::new()
                } else {
                    part.changes(at, sent)?
                };
                writing.put_on_and(Leaves::Unfinished, &changes)
            })
        };
        match written {
            Ok(entries) => onward(desk, caller, car, form, &entries),
            Err(stop) => {
                let (status, wrong) = match &stop {
                    Stop::Wrong(wrong) => (StatusCode::CONFLICT, wrong),
                    Stop::File(_) => trouble::told(&stop),
                };
                if form.in_place {
                    return (status, parts::wrong(wrong)).into_response();
                }
                let mut page = part.show(at, Some(sent), Some(wrong), room);
                *page.status_mut() = status;
                page
            }
        }
    })
}

/// To where the sheet as it is now leads.
fn onward(desk: &Desk, caller: &Caller, car: &str, form: Form<'_>, entries: &[i64]) -> Response {
    entered(desk, caller, car, "", |at| {
        let next = form.part.onward(at, form.sent);
        if form.in_place {
            let entries: Vec<String> = entries.iter().map(i64::to_string).collect();
            return ([("x-onward", next)], entries.join(" ")).into_response();
        }
        Redirect::to(&next).into_response()
    })
}

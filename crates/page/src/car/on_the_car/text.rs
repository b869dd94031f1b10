//! The sheet as text: with the same pointed faults, kept only when it reads; and a sheet that is brought from elsewhere.

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::{Markup, html};
use questions::on_the_car::OnTheCar;
use questions::{Quotation, Stop, Wrong};
use records::{CarName, LARGEST_SHEET};

use super::{At, SLUG, TEXT};
use crate::car::address::path;
use crate::car::desk::Desk;
use crate::shell::{frame, parts};
use crate::web::guard::{Caller, Sent, TOKEN};

/// Faults of a text that keep it from being kept: not those of figures that are still to be found.
fn faults(text: &str) -> Result<(), Wrong> {
    let read = sheet::read(text.as_bytes(), "what was typed");
    let Err(problems) = read.assemble() else {
        return Ok(());
    };
    let mut wrong = Wrong::default();
    for problem in problems.shown().iter().filter(|problem| !problem.is_open()) {
        wrong.add(Wrong::from(problem.clone()));
    }
    wrong.more += problems.more();
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

/// Keeps what was typed in the place of the sheet that the page was made of.
pub(super) fn keep(at: &At<'_>, sent: &Sent) -> Result<(), Stop> {
    let typed = unified(sent.get("text"), at.car.text());
    faults(&typed)?;
    let file = at.folder.sheet();
    let refused = |fault: &records::Fault| questions::of_records("the sheet", fault, None);
    let now = file.read(LARGEST_SHEET).map_err(|fault| refused(&fault))?;
    if now.text == typed {
        return Ok(());
    }
    if now.digest.to_string() != sent.get("digest") {
        let what = "the sheet was changed meanwhile: both stand below".to_owned();
        let remedy = "take over what is missing in yours, then keep it".to_owned();
        return Err(Wrong::plain("the sheet", "changed", what, remedy).into());
    }
    file.save(Some(now.digest), &typed, LARGEST_SHEET)
        .map_err(|fault| refused(&fault))?;
    Ok(())
}

/// A form sends every line end in one way; the sheet keeps its own.
fn unified(sent: &str, sheet: &str) -> String {
    let plain = sent.replace("\r\n", "\n");
    if sheet.contains("\r\n") {
        plain.replace('\n', "\r\n")
    } else {
        plain
    }
}

/// The page of the text. `sent`: what was typed and not kept.
pub(super) fn page(at: &At<'_>, sent: Option<&Sent>, refused: Option<&Wrong>) -> Response {
    let now = at.car.text();
    let typed = sent.map_or(now, |sent| sent.get("text"));
    let theirs = refused.is_some_and(|wrong| wrong.troubles.iter().any(|trouble| trouble.slug == "changed"));
    let inside = html! {
        h1 { "The sheet as text" }
        p { "It is kept once it reads. Figures that are still to be found may say \"…\"." }
        @if let Some(wrong) = refused { (places(wrong)) }
        form class="text" method="post" action=(path(&at.name, TEXT)) data-draft=(at.name) {
            input type="hidden" name=(TOKEN) value=(at.token);
            input type="hidden" name="digest" value=(at.digest);
            label for="text" { @if theirs { "Yours" } @else { "car.toml" } }
            textarea id="text" name="text" rows="30" spellcheck="false" wrap="off" autocapitalize="off" { "\n" (typed) }
            div class="keys" {
                button type="submit" { @if theirs { "Keep mine in its place" } @else { "Keep it" } }
                a class="key" href=(path(&at.name, SLUG)) { "Back to the figures" }
            }
        }
        @if theirs {
            section { h2 { "As it is on the disk now" } p { (differing(typed, now)) } pre tabindex="0" { (now) } }
        }
    };
    at.page("The sheet as text", refused, &inside)
}

/// How many lines differ, and the first of them.
fn differing(one: &str, other: &str) -> String {
    let mine: Vec<&str> = one.lines().collect();
    let news: Vec<&str> = other
        .lines()
        .filter(|line| !mine.contains(&line.trim_end()))
        .collect();
    match news.as_slice() {
        [] => "Every line of it stands in yours.".to_owned(),
        [line] => format!("One line is not in yours: {}", line.trim()),
        [line, ..] => format!(
            "{} lines are not in yours. The first: {}",
            news.len(),
            line.trim()
        ),
    }
}

/// Faults with their lines quoted.
fn places(wrong: &Wrong) -> Markup {
    html! {
        ol class="wrong sheet" {
            @for trouble in &wrong.troubles {
                @if let Quotation::Sheet(problem) = &trouble.shown
                    && let Some((before, marked, after)) = problem.quoted()
                {
                    li { p { "line " (problem.line) } pre tabindex="0" { (before) mark { (marked) } (after) } }
                }
            }
        }
    }
}

/// The form for a sheet from elsewhere.
pub(crate) fn bring(caller: &Caller) -> Response {
    bring_page(caller, None, None)
}

fn bring_page(caller: &Caller, sent: Option<&Sent>, refused: Option<&Wrong>) -> Response {
    let said = |name: &str| sent.map_or("", |sent| sent.get(name));
    let main = html! {
        @if let Some(wrong) = refused {
            div class="refused" role="alert" { p { strong { "That was not kept." } " What you brought stands below." } (parts::wrong(wrong)) (places(wrong)) }
        }
        p { "Paste a sheet here, or drop its file. It is read before it is kept." }
        form class="text" method="post" action="/cars/bring" data-drop data-draft="" {
            input type="hidden" name=(TOKEN) value=(caller.token);
            label for="bring-name" { "Name of its folder" }
            input type="text" id="bring-name" name="name" required maxlength="60" autocomplete="off" value=(said("name"));
            label class="with-script" hidden { "Its file " input type="file" accept=".toml,text/plain" data-file; }
            label for="text" { "Its text" }
            textarea id="text" name="text" rows="20" required spellcheck="false" wrap="off" autocapitalize="off" { "\n" (said("text")) }
            div class="keys" { button type="submit" { "Read it and keep it" } }
        }
    };
    let status = if refused.is_some() {
        StatusCode::BAD_REQUEST
    } else {
        StatusCode::OK
    };
    (status, frame::plain("Bring a sheet", &caller.token, None, &main)).into_response()
}

/// A sheet from elsewhere: read, then kept.
pub(crate) fn brought(desk: &Desk, caller: &Caller, sent: &Sent) -> Response {
    let text = unified(sent.get("text"), "");
    let kept = || -> Result<String, Stop> {
        let refused = |fault: records::Fault| questions::of_records(sent.get("name"), &fault, None);
        let name = CarName::new(sent.get("name")).map_err(refused)?;
        faults(&text)?;
        let car = desk.cars()?.add(&name, &text).map_err(refused)?;
        Ok(car.name().to_owned())
    };
    match kept() {
        Ok(name) if OnTheCar::of(&text).left() > 0 => Redirect::to(&path(&name, SLUG)).into_response(),
        Ok(name) => Redirect::to(&path(&name, "assessment")).into_response(),
        Err(Stop::Wrong(wrong) | Stop::File(wrong)) => bring_page(caller, Some(sent), Some(&wrong)),
    }
}

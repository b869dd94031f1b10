//! How to measure: a card a page, with its drawing, its steps, its cautions and its arithmetic; what a car's sheet says of
//! the figure, where the card is asked for from a car.
//!
//! `/how/lever-ratio?car=tarn&key=lever.ratio&a=278&b=62`

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use charts::{HowMeasured, Look};
use engine::car::{Assembled, Drawing, Key};
use maud::{Markup, PreEscaped, html};
use proving::SheetChange;
use questions::measuring::{self, Card, Present, Sum, Worked, present};
use questions::{Sheet, Stop, Wrong};
use wording::Units;

use super::address;
use super::desk::Desk;
use super::on_the_car;
use super::visit::{find, folder};
use super::writing::Writing;
use crate::shell::{frame, parts, trouble};
use crate::web::guard::{Caller, Sent, TOKEN};
use crate::web::pairing;

/// The most that an address may say.
const MOST: usize = 16;
/// Says which of a card's sums was worked out.
const SUM: &str = "sum";

/// What is asked of a card.
#[derive(Debug, Default)]
struct Asked {
    car: Option<String>,
    /// Path of a key, entries counted from 1.
    key: Option<String>,
    said: Vec<(String, String)>,
}

impl Asked {
    fn read(query: &str) -> Self {
        let mut asked = Self::default();
        for (name, value) in form_urlencoded::parse(query.as_bytes()).into_owned().take(MOST) {
            match name.as_str() {
                "car" if !value.is_empty() => asked.car = Some(value),
                "key" if !value.is_empty() => asked.key = Some(value),
                _ => asked.said.push((name, value)),
            }
        }
        asked
    }

    fn get(&self, name: &str) -> Option<&str> {
        let said = self.said.iter().find(|(said, _)| said == name);
        said.map(|(_, value)| value.as_str())
    }
}

/// The car that a card is asked for from.
struct From {
    sheet: Sheet,
    assembled: Option<Assembled>,
}

impl From {
    fn of(desk: &Desk, car: &str) -> Result<Self, Stop> {
        let sheet = find(desk, car)?;
        let assembled = sheet.read.assemble().ok();
        Ok(Self { sheet, assembled })
    }

    fn present(&self, path: &str) -> Present {
        present(self.sheet.read.text(), self.assembled.as_ref(), path)
    }
}

/// Every card.
pub(crate) fn list(desk: &Desk, caller: &Caller, query: &str) -> Response {
    let asked = Asked::read(query);
    let car = match asked.car.as_deref().map(|car| From::of(desk, car)).transpose() {
        Ok(car) => car,
        Err(stop) => return trouble::stop(&stop, caller),
    };
    let name = car.as_ref().map(|car| car.sheet.name());
    let main = html! {
        p { "A card a way of measuring: where the tape or the gauge goes, what it takes, and what to mind." }
        ul class="hows" {
            @for card in measuring::CARDS {
                li {
                    a href=(address::how(card.drawing, name, None)) { (card.title()) }
                    " " span class="source" { (figures_of(card)) }
                }
            }
        }
        (back(name))
    };
    frame::plain("How to measure", &caller.token, None, &main).into_response()
}

/// The first few figures of a card, each once.
fn figures_of(card: &Card) -> String {
    const MOST: usize = 4;
    let mut labels: Vec<&str> = Vec::new();
    for key in card.keys() {
        if !labels.contains(&key.label) {
            labels.push(key.label);
        }
    }
    let more = labels.len().saturating_sub(MOST);
    let said = labels[..labels.len().min(MOST)].join("; ");
    if more > 0 {
        format!("{said}; {more} more")
    } else {
        said
    }
}

/// One card.
pub(crate) fn card(desk: &Desk, caller: &Caller, name: &str, query: &str) -> Response {
    let Some(card) = Drawing::named(name).and_then(measuring::card) else {
        return trouble::nowhere();
    };
    let asked = Asked::read(query);
    match asked.car.as_deref().map(|car| From::of(desk, car)).transpose() {
        Ok(car) => shown(desk, caller, card, &asked, car.as_ref(), None),
        Err(stop) => trouble::stop(&stop, caller),
    }
}

fn shown(
    desk: &Desk,
    caller: &Caller,
    card: &'static Card,
    asked: &Asked,
    car: Option<&From>,
    refused: Option<&Stop>,
) -> Response {
    let units = desk.units();
    let name = car.map(|car| car.sheet.name());
    // A key that is measured in another way is not this card's.
    let key = asked
        .key
        .as_deref()
        .filter(|path| measuring::of_path(path).is_some_and(|key| key.key().drawing == Some(card.drawing)));
    let row = key.and_then(measuring::of_path).map(engine::car::KeyId::key);
    let drawn = HowMeasured(card.drawing).draw(&Look {
        prefix: "how",
        head: false,
        units,
        ..Look::default()
    });
    let main = html! {
        @if let Some(row) = row {
            p class="sentence" { (row.part()) ": " strong { (row.label) } }
            p class="source" { (parts::coded(row.help)) }
        }
        @if let Some(Stop::Wrong(wrong) | Stop::File(wrong)) = refused {
            div class="refused" role="alert" {
                p { strong { "That was not written." } " Nothing was changed." }
                (parts::wrong(wrong))
            }
        }
        div class="how" {
            figure class="drawn small" id="drawing" { (PreEscaped(&drawn.svg)) }
            div class="steps-of" {
                p { strong { "Tool: " } (parts::coded(card.tool)) }
                ol { @for step in card.steps { li { (parts::coded(step)) } } }
                @if let Some(row) = row { p { strong { "This figure: " } (parts::coded(row.how)) } }
                @for caution in card.cautions { p class="caution" { (parts::coded(caution)) } }
                p { strong { "Without the tool: " } (parts::coded(card.trick)) }
                p class="source" { "From: " (parts::coded(card.source)) "." }
            }
        }
        @for (number, sum) in card.sums_for(row.and_then(|row| engine::car::KeyId::of(row.path))).enumerate() {
            (worked(&units, caller, card, sum, number, asked, key, car))
        }
        @match (key, car) {
            (Some(key), Some(car)) => (stands(car, key)),
            _ => (figures(card, car)),
        }
        (back(name))
    };
    let status = match refused {
        Some(_) => StatusCode::CONFLICT,
        None => StatusCode::OK,
    };
    (status, frame::plain(card.title(), &caller.token, None, &main)).into_response()
}

/// What stands for the figure now, and where it is put in.
fn stands(car: &From, key: &str) -> Markup {
    html! {
        section aria-labelledby="now" {
            h2 id="now" { "On this car now" }
            p { (said(&car.present(key))) }
            p class="keys" { a class="key" href=(figure(car.sheet.name(), key)) { "Put the figure in" } }
        }
    }
}

fn said(present: &Present) -> Markup {
    html! {
        @match present {
            Present::Says(value) => { strong { (value) } ", on the sheet" },
            Present::Taken { shown, source, guess, .. } => {
                strong { (shown) }
                @if *guess { ", a guess" } @else { ", left out of the sheet" }
                " (" (source) ")"
            },
            Present::Nothing => "Nothing yet.",
        }
    }
}

/// Every figure that is measured so: those that the car has with what stands for them, the others behind.
fn figures(card: &Card, car: Option<&From>) -> Markup {
    let name = car.map(|car| car.sheet.name());
    let keys: Vec<(&Key, Option<Present>)> = card
        .keys()
        .map(|key| {
            let present = car
                .filter(|_| !key.path.contains("[]"))
                .map(|car| car.present(key.path))
                .filter(|present| *present != Present::Nothing);
            (key, present)
        })
        .collect();
    let (stand, others): (Vec<_>, Vec<_>) = keys.into_iter().partition(|(_, present)| present.is_some());
    html! {
        section aria-labelledby="figures" {
            h2 id="figures" { "Figures that are measured so" }
            (list_of(card, name, &stand))
            @if !stand.is_empty() && !others.is_empty() { p { "Not on its sheet:" } }
            (list_of(card, name, &others))
        }
    }
}

fn list_of(card: &Card, car: Option<&str>, keys: &[(&Key, Option<Present>)]) -> Markup {
    let begins = |index: usize| index == 0 || keys[index - 1].0.part() != keys[index].0.part();
    html! {
        @if !keys.is_empty() {
            ul {
                @for (index, (key, present)) in keys.iter().enumerate() {
                    li {
                        @if begins(index) { span class="source" { (key.part()) ": " } }
                        a href=(address::how(card.drawing, car, Some(key.path))) { (key.label) }
                        @if let Some(present) = present { ": " (said(present)) }
                    }
                }
            }
        }
    }
}

/// Where a figure of a car is put in: its own screen, or all of them where there may be several of its kind.
fn figure(car: &str, key: &str) -> String {
    if key.contains("[]") {
        address::path(car, on_the_car::SLUG)
    } else {
        on_the_car::of_figure(car, key)
    }
}

/// A sum: its fields, and what it gives once they are filled in. Works without the script.
#[expect(clippy::too_many_arguments, reason = "what a page knows of a card")]
fn worked(
    units: &Units,
    caller: &Caller,
    card: &Card,
    sum: &Sum,
    number: usize,
    asked: &Asked,
    key: Option<&str>,
    car: Option<&From>,
) -> Markup {
    let counted = number.to_string();
    let is_asked = asked.get(SUM) == Some(&counted);
    let id = key.and_then(measuring::of_path);
    let found =
        is_asked.then(|| sum.worked(&|name| asked.get(name).unwrap_or_default().to_owned(), units, id));
    html! {
        section class="sum" id={ "sum-" (number) } aria-label=(sum.title) {
            h2 { (sum.title) }
            p class="source" { (sum.formula) }
            form class="sent" method="get" action={ (address::how(card.drawing, None, None)) "#sum-" (number) } {
                @if let Some(car) = car { input type="hidden" name="car" value=(car.sheet.name()); }
                @if let Some(key) = key { input type="hidden" name="key" value=(key); }
                input type="hidden" name=(SUM) value=(number);
                @for ask in sum.asks {
                    @let typed = if is_asked { asked.get(ask.name).map(str::to_owned) } else { None };
                    @let stands = || car.map_or_else(String::new, |car| ask.on_the_sheet(car.sheet.read.text(), car.assembled.as_ref(), units));
                    label {
                        span {
                            @if ask.name.len() == 1 { strong { (ask.name) } ": " }
                            (ask.what)
                            @if let Some(unit) = ask.unit(units) { " (" (unit.shown()) ")" }
                        }
                        input type="text" name=(ask.name) value=(typed.unwrap_or_else(stands)) required
                            inputmode=[ask.dimension.map(|_| "decimal")] autocomplete="off" maxlength="60";
                    }
                }
                button type="submit" { "Work it out" }
            }
            div role="status" {
                @match &found {
                    Some(Ok(found)) => {
                        p class="sentence" { (sum.title) ": " strong { (found.shown) } }
                        @if let Some(mind) = &found.mind { p { (mind) } }
                        @if let (Some(key), Some(car)) = (key, car) { (put_on(caller, card, key, car, found)) }
                    },
                    Some(Err(wrong)) => div class="refused" { (parts::wrong(wrong)) },
                    None => {},
                }
            }
        }
    }
}

/// The key that puts a figure onto the sheet.
fn put_on(caller: &Caller, card: &Card, key: &str, car: &From, found: &Worked) -> Markup {
    let was = questions::onto_sheet::written(car.sheet.read.text(), key);
    html! {
        form class="inline" method="post" action=(address::put_on(car.sheet.name(), card.drawing)) {
            input type="hidden" name=(TOKEN) value=(caller.token);
            input type="hidden" name="entry" value={ (pairing::once()) "-0" };
            input type="hidden" name="key" value=(key);
            input type="hidden" name="value" value=(found.written);
            @if let Some(was) = was { input type="hidden" name="was" value=(was); }
            button type="submit" { "Put " (found.written) " onto the sheet" }
        }
    }
}

/// Puts a figure that was worked out onto a car's sheet, then the card again.
pub(crate) fn put(desk: &Desk, caller: &Caller, car: &str, name: &str, sent: &Sent) -> Response {
    let Some(card) = Drawing::named(name).and_then(measuring::card) else {
        return trouble::nowhere();
    };
    let path = sent.get("key");
    let done = folder(desk, car).and_then(|folder| {
        let change = change_of(card, path, sent)?;
        Writing::begin(desk, caller, &folder, None, sent)?.put_on(&[change])
    });
    match done {
        Ok(_) => Redirect::to(&address::how(card.drawing, Some(car), Some(path))).into_response(),
        Err(stop) => match From::of(desk, car) {
            Ok(from) => {
                let asked = Asked {
                    car: Some(car.to_owned()),
                    key: Some(path.to_owned()),
                    said: Vec::new(),
                };
                shown(desk, caller, card, &asked, Some(&from), Some(&stop))
            }
            Err(stop) => trouble::stop(&stop, caller),
        },
    }
}

/// The same card by the car's own address.
pub(crate) fn by_car(car: &str, name: &str) -> Response {
    match Drawing::named(name) {
        Some(drawing) => Redirect::to(&address::how(drawing, Some(car), None)).into_response(),
        None => trouble::nowhere(),
    }
}

/// The change of the sheet that a form of a card sends.
fn change_of(card: &Card, path: &str, sent: &Sent) -> Result<SheetChange, Wrong> {
    let row: Option<&Key> = measuring::of_path(path).map(engine::car::KeyId::key);
    let Some(dimension) = row
        .filter(|row| row.drawing == Some(card.drawing))
        .and_then(Key::dimension)
    else {
        let what = format!("`{path}` is no figure of this card");
        return Err(Wrong::plain(
            "form",
            "no-such-key",
            what,
            "load the page again".to_owned(),
        ));
    };
    let value = sent.get("value");
    quantity::parse(value, dimension).map_err(|fault| Wrong::quantity("value", value, &fault))?;
    // A bare number stands on a sheet without quotes.
    let now = if value.parse::<f64>().is_ok() {
        value.to_owned()
    } else {
        format!("\"{value}\"")
    };
    let was = sent.get("was");
    Ok(SheetChange {
        key: path.to_owned(),
        was: (!was.is_empty()).then(|| was.to_owned()),
        now: Some(now),
    })
}

fn back(car: Option<&str>) -> Markup {
    html! {
        p class="keys" {
            @if let Some(car) = car { a class="key" href=(address::path(car, "assessment")) { "Back to the car" } }
            a class="key" href=(address::all_hows(car)) { "All cards" }
        }
    }
}

//! Several figures on one screen: another entry of a list, or another way to say a figure.

use axum::response::Response;
use engine::car::{Form, Key, KeyId};
use maud::{Markup, html};
use proving::SheetChange;
use questions::on_the_car::{Typed, several, sures, unit_keys, unit_of};
use questions::{Stop, Wrong};
use wording::capital;

use super::At;
use crate::shell::trouble;
use crate::web::guard::Sent;

fn field_name(key: &str, what: &str) -> String {
    format!("{what}:{key}")
}

/// The changes that such a form sends.
pub(super) fn changes(at: &At<'_>, name: &str, sent: &Sent) -> Result<Vec<SheetChange>, Stop> {
    let Some(several) = several(name) else {
        let what = "there is no such form".to_owned();
        return Err(Wrong::plain("form", "no-form", what, "go back to the list".to_owned()).into());
    };
    Ok(several.changes(at.car.text(), |key| Typed {
        figure: sent.get(&field_name(key, "figure")),
        unit: sent.get(&field_name(key, "unit")),
        sure: sent.get(&field_name(key, "sure")),
    })?)
}

/// Its screen.
pub(super) fn page(at: &At<'_>, name: &str, sent: Option<&Sent>, refused: Option<&Wrong>) -> Response {
    let Some(several) = several(name) else {
        return trouble::nowhere();
    };
    let keys = several
        .keys
        .iter()
        .filter_map(|path| Some(KeyId::of(path)?.key()));
    let fields = html! {
        @for key in keys { (field(at, key, sent)) }
        div class="keep-keys" { button type="submit" class="keep" { "Keep them" } }
    };
    let inside = html! {
        h1 { (several.title) }
        p class="part" { (several.part) }
        (at.sender().form(&format!("several/{name}"), "several", 0, &fields))
    };
    at.page(several.title, refused, &inside)
}

fn field(at: &At<'_>, key: &Key, sent: Option<&Sent>) -> Markup {
    let name = |what: &str| field_name(key.path, what);
    let id = key.path.replace(['.', '[', ']'], "-");
    let person = at.visit.map_or_else(wording::Units::default, |visit| visit.units);
    let said = |what: &str| sent.map_or("", |sent| sent.get(&name(what)));
    let units = unit_keys(key);
    let unit = if said("unit").is_empty() {
        unit_of(key, "", &person)
    } else {
        said("unit")
    };
    html! {
        div class="one-of-several" {
            label for=(id) { (capital(key.label)) @if key.default.is_some() { ", if it is known" } }
            @match key.form {
                Form::Word(words) => {
                    select id=(id) name=(name("figure")) { @for word in words { option value=(word) selected[said("figure") == *word] { (word) } } }
                },
                Form::Text => { input type="text" id=(id) name=(name("figure")) value=(said("figure")) autocomplete="off" maxlength="200"; },
                _ => {
                    input type="text" id=(id) name=(name("figure")) value=(said("figure")) inputmode="decimal" autocomplete="off" maxlength="200";
                    @if !units.is_empty() {
                        select name=(name("unit")) aria-label="unit" { @for one in units { option selected[*one == unit] { (one) } } }
                    }
                    @if !sures(key).is_empty() {
                        select name=(name("sure")) aria-label="how sure" { @for sure in sures(key) { option value=(sure.word) selected[said("sure") == sure.word] { (sure.says) " " (sure.tolerance) } } }
                    }
                },
            }
            @if !key.how.is_empty() { p class="source" { (key.how) } }
        }
    }
}

//! One figure a screen: what it is, how it is measured, its keys, how sure it is, what a guess costs.

use axum::response::{IntoResponse as _, Response};
use engine::car::Form;
use maud::{Markup, html};
use proving::SheetChange;
use questions::on_the_car::{
    CostOfGuess, Several, SheetFigure, Stands, Typed, Usual, check, keep, sures, unit_keys, unit_of,
};
use questions::{Stop, Wrong};
use wording::capital;

use super::choice::{is_choice, word};
use super::{At, SLUG, of_figure, of_several};
use crate::car::address::{self, path};
use crate::shell::{parts, trouble};
use crate::web::guard::Sent;

/// What is sent with a figure.
const FIGURE: &str = "figure";
const UNIT: &str = "unit";
const SURE: &str = "sure";
const SEEN: &str = "seen";
const GUESS: &str = "guess";

/// Keys in the order of a hand: what each puts into the field.
const PAD: [(&str, &str); 16] = [
    ("7", "7"),
    ("8", "8"),
    ("9", "9"),
    ("back", "⌫"),
    ("4", "4"),
    ("5", "5"),
    ("6", "6"),
    ("/", "/"),
    ("1", "1"),
    ("2", "2"),
    ("3", "3"),
    ("-", "−"),
    (",", ","),
    ("0", "0"),
    (".", "."),
    ("±", "±"),
];

fn typed(sent: &Sent) -> Typed<'_> {
    let is_guess = !sent.get(GUESS).is_empty();
    Typed {
        figure: if is_guess { "guess" } else { sent.get(FIGURE) },
        unit: sent.get(UNIT),
        sure: sent.get(SURE),
    }
}

/// The change that a form of a figure sends.
pub(super) fn change(at: &At<'_>, path: &str, sent: &Sent) -> Result<SheetChange, Stop> {
    Ok(keep(at.car.text(), path, typed(sent), sent.get(SEEN))?)
}

/// What a figure that is typed is read as: the piece of its page that says so.
pub(super) fn checked(text: &str, path: &str, query: &str) -> Response {
    let sent = Sent(
        form_urlencoded::parse(query.as_bytes())
            .map(|(name, value)| (name.into_owned(), value.into_owned()))
            .collect(),
    );
    if sheet::slot_of(path).is_none() {
        return trouble::nowhere();
    }
    if sent.get(FIGURE).trim().is_empty() {
        return said(path, None, None).into_response();
    }
    match check(text, path, typed(&sent)) {
        Ok(checked) => said(path, Some(&checked.means), checked.usual).into_response(),
        Err(wrong) => not_read(path, &wrong).into_response(),
    }
}

/// What it is read as, and the usual range with the figure on it.
fn said(path: &str, means: Option<&str>, usual: Option<Usual>) -> Markup {
    let usual = usual.or_else(|| Usual::of(sheet::slot_of(path)?.key, None));
    html! {
        @if let Some(means) = means.filter(|means| !means.is_empty()) { p class="means" { "= " (means) } }
        @if let Some(usual) = &usual { (line(usual)) }
    }
}

fn not_read(path: &str, wrong: &Wrong) -> Markup {
    html! {
        div class="wrong-here" role="alert" {
            @for trouble in &wrong.troubles {
                p { strong { (parts::coded(&capital(&trouble.text))) "." } }
                p class="do" { (parts::coded(&trouble.remedy)) }
            }
        }
        @if let Some(usual) = sheet::slot_of(path).and_then(|slot| Usual::of(slot.key, None)) { (line(&usual)) }
    }
}

/// The usual range as the middle half of a line.
fn line(usual: &Usual) -> Markup {
    let x = |at: f64| format!("{:.1}", (75.0 + 150.0 * at).clamp(4.0, 296.0));
    html! {
        div class="usual" {
            svg class="bar" viewBox="0 0 300 30" preserveAspectRatio="none" aria-hidden="true" {
                line x1="0" x2="300" y1="15" y2="15" stroke="#c3bdae" stroke-width="2" {}
                rect x="75" y="8" width="150" height="14" fill="#c3bdae" stroke="#1d2328" {}
                @if let Some(at) = usual.at { line x1=(x(at)) x2=(x(at)) y1="1" y2="29" stroke="#1d2328" stroke-width="5" {} }
            }
            p class="ends" { span { "usual: " (usual.low) " to " (usual.high) } @if usual.is_unusual() { strong { "outside: look again" } } }
        }
    }
}

/// Its screen. `sent`: what was typed and not taken.
pub(super) fn page(at: &At<'_>, path_of: &str, sent: Option<&Sent>, refused: Option<&Wrong>) -> Response {
    let Some(figure) = at.car.figure(path_of) else {
        return trouble::nowhere();
    };
    let key = figure.key;
    let title = capital(key.label);
    let inside = html! {
        div class="one-figure" {
            div class="this" {
                h1 { (title) }
                p class="part" { (key.part()) @if let Some(entry) = entry_of(path_of) { ", " (entry) } }
                p class="help" { (key.help) }
                @if let Some((text, remedy)) = &figure.wrong {
                    div class="wrong-here" { p { strong { (parts::coded(&capital(text))) "." } } p class="do" { (parts::coded(remedy)) } }
                }
                @if is_choice(key) { (choice(at, figure)) } @else { (field(at, figure, sent)) }
                (around(at, figure))
            }
            (beside(at, figure))
        }
    };
    at.page(&title, refused, &inside)
}

/// `2` of `load.item[2].mass`, in words.
fn entry_of(path: &str) -> Option<String> {
    let (_, rest) = path.split_once('[')?;
    let (number, _) = rest.split_once(']')?;
    Some(format!("number {number}"))
}

fn raw(at: &At<'_>, path: &str) -> String {
    questions::onto_sheet::written(at.car.text(), path).unwrap_or_default()
}

/// A key a word: one tap keeps it.
fn choice(at: &At<'_>, figure: &SheetFigure) -> Markup {
    let words: &[&str] = match figure.key.form {
        Form::Word(words) => words,
        _ => &["true", "false"],
    };
    // A word in the place of a table: the other answer is the table's first figure.
    let instead = match figure.path.as_str() {
        "pedal.booster" => Some(("fitted", "pedal.booster.gain")),
        "bias_valve" => Some(("fitted", "bias_valve.kind")),
        "load.crew" => Some(("aboard", "load.crew.mass")),
        _ => None,
    };
    let fields = html! {
        input type="hidden" name=(SEEN) value=(raw(at, &figure.path));
        div class="big-keys choices" {
            @for &one in words {
                button type="submit" name=(FIGURE) value=(one) aria-pressed=[(figure.says == one).then_some("true")] { (word(one)) }
            }
            @if let Some((label, first)) = instead { a class="key" href=(of_figure(&at.name, first)) { (label) } }
            @if figure.key.default.is_some() && !words.contains(&"none") && figure.stands == Stands::LeftOut {
                p class="source" { "Left out now: " (word(figure.key.default.unwrap_or_default())) " is taken." }
            }
        }
    };
    at.sender()
        .form(&format!("{SLUG}/{}", figure.path), "figure-form", 0, &fields)
}

/// A figure that is typed: its field, its units, how sure it is, its pad of keys.
fn field(at: &At<'_>, figure: &SheetFigure, sent: Option<&Sent>) -> Markup {
    let key = figure.key;
    let units = unit_keys(key);
    let person = at.visit.map_or_else(wording::Units::default, |visit| visit.units);
    let unit = sent.map_or_else(|| unit_of(key, &figure.says, &person), |sent| sent.get(UNIT));
    let guessed = figure.stands == Stands::Guessed;
    let value = match sent {
        Some(sent) => sent.get(FIGURE).to_owned(),
        None if guessed => String::new(),
        None => figure.says.clone(),
    };
    let is_number = !matches!(key.form, Form::Text | Form::Texts | Form::Date);
    let is_list = matches!(key.form, Form::Quantities(_));
    let pads = is_number && !matches!(key.form, Form::Row(_) | Form::Rows { .. });
    let may_guess = key.default.is_some() && !guessed && is_number;
    let fields = html! {
        input type="hidden" name=(SEEN) value=(raw(at, &figure.path));
        div class="value" {
            label for="figure" class="sr" { (capital(key.label)) }
            input id="figure" type="text" name=(FIGURE) value=(value) autocomplete="off" spellcheck="false" maxlength="2000"
                inputmode=[pads.then_some("decimal")] data-check=(format!("{}/check", of_figure(&at.name, &figure.path))) data-pad[pads]
                autofocus aria-describedby="said";
            @if guessed { p class="source" { "A guess now." } }
        }
        div id="said" class="said" aria-live="polite" { (said(&figure.path, None, None)) }
        @if units.len() > 1 {
            fieldset class="unit-keys" {
                legend { "Unit" }
                @for one in units {
                    label { input type="radio" name=(UNIT) value=(one) checked[*one == unit]; span { (one) } }
                }
            }
        } @else if let Some(one) = units.first() {
            input type="hidden" name=(UNIT) value=(one);
            p class="source" { "in " (one) }
        }
        @if pads {
            div class="pad with-script" hidden {
                @for (puts, label) in PAD { button type="button" data-puts=(puts) aria-label=[(puts == "back").then_some("delete")] { (label) } }
                @if is_list { button type="button" class="wide" data-puts="; " { "and another" } }
                @if matches!(key.form, Form::RollingRadius) { button type="button" data-puts="R" { "R" } }
            }
        }
        @if is_list { p class="source without-script" { "More than one: a semicolon between them." } }
        @if matches!(key.form, Form::Row(_) | Form::Rows { .. }) {
            p class="source" { "Each figure with its unit, a comma between them, a semicolon between rows." }
        }
        @if !sures(key).is_empty() {
            fieldset class="sures" {
                legend { "How sure" }
                @for (index, sure) in sures(key).iter().enumerate() {
                    @let first = index == 0 && !figure.says.contains('±');
                    label { input type="radio" name=(SURE) value=(sure.word) checked[sent.map_or(first, |sent| sent.get(SURE) == sure.word)];
                        span { (sure.says) @if !sure.tolerance.is_empty() { small { " " (sure.tolerance) } } } }
                }
                @if figure.says.contains('±') {
                    label { input type="radio" name=(SURE) value="" checked[sent.is_none()]; span { "as it stands" } }
                }
            }
        }
        div class="keep-keys" {
            // Enter presses the first: the style puts it last.
            button type="submit" class="keep" { "Keep it" }
            @if may_guess { button type="submit" name=(GUESS) value="1" formnovalidate { "Don't know" } }
        }
    };
    at.sender()
        .form(&format!("{SLUG}/{}", figure.path), "figure-form", 0, &fields)
}

/// How it is measured, what a guess costs, another way to say it, and the way on.
fn around(at: &At<'_>, figure: &SheetFigure) -> Markup {
    let key = figure.key;
    let cost = at
        .visit
        .and_then(|visit| CostOfGuess::of(&visit.opened, &figure.path));
    let belongs = |path: &str| at.car.figure(path).is_some();
    html! {
        @if !key.how.is_empty() {
            details class="how" open[figure.stands == Stands::Open] {
                summary { "How to measure it" }
                p { (parts::coded(key.how)) }
                @if let Some(drawing) = key.drawing {
                    p { a class="key" href=(address::how(drawing, Some(&at.name), Some(key.path))) { "With a drawing" } }
                }
            }
        }
        @if let Some(default) = key.default {
            details class="how" {
                summary { "What a guess costs" }
                p { "Taken then: " (default.strip_prefix("by rule: ").unwrap_or(default)) "." }
                @match &cost {
                    Some(cost) => { p { (cost.in_words()) } },
                    None if at.visit.is_none() => { p { "What it costs the answer is told once there is one." } },
                    None => {},
                }
            }
        }
        @for several in Several::instead_of(key.path).filter(|several| several.instead_of.iter().all(|path| belongs(path))) {
            p { a class="key" href=(of_several(&at.name, several.name)) { "Instead: " (several.title.to_lowercase()) } }
        }
        div class="keys onward" {
            @if let Some(next) = at.car.next(Some(&figure.path)).filter(|next| next.path != figure.path) {
                a class="key" href=(of_figure(&at.name, &next.path)) { "Skip to: " (next.key.label) }
            }
            a class="key" href=(path(&at.name, SLUG)) { "All figures" }
            (at.steps())
        }
    }
}

/// The figures of the same part of the car, for a screen that has room beside this one.
fn beside(at: &At<'_>, here: &SheetFigure) -> Markup {
    let part = at.car.parts().find(|(title, _)| *title == here.key.part());
    html! {
        @if let Some((title, figures)) = part {
            nav class="beside" aria-label=(title) {
                h2 { (title) }
                ul { @for figure in figures.iter().filter(|figure| figure.asked || figure.path == here.path) { (super::list::row(at, figure, figure.path == here.path)) } }
            }
        }
    }
}

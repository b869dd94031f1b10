//! The units in which a person reads figures and the paper of the build book, remembered beside the cars.

use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Redirect, Response};
use maud::html;
use quantity::{Dimension, Unit, units_of};

use super::desk::Desk;
use super::preferences::{PAPER, PreferenceFault, Preferences, UNITS};
use crate::shell::{frame, trouble};
use crate::web::guard::{Caller, Sent, TOKEN};

/// Kinds of figure that a unit is chosen for: name of the field, label, units worth offering.
const KINDS: [(&str, &str, Dimension, &[&str]); 6] = [
    (
        "pressure",
        "Pressure",
        Dimension::Pressure,
        &["bar", "psi", "MPa", "kPa"],
    ),
    (
        "length",
        "Travel and length",
        Dimension::Length,
        &["mm", "cm", "in"],
    ),
    ("force", "Force", Dimension::Force, &["N", "kgf", "lbf"]),
    ("torque", "Torque", Dimension::Torque, &["N m", "kgf m", "lbf ft"]),
    ("mass", "Mass", Dimension::Mass, &["kg", "lb"]),
    ("volume", "Brake fluid", Dimension::Volume, &["cm3", "L", "in3"]),
];

/// Papers that the build book is printed on, the usual one first.
const PAPERS: [&str; 2] = ["A4", "Letter"];

/// The form.
pub(crate) fn form(desk: &Desk, caller: &Caller) -> Response {
    page(desk, caller, StatusCode::OK, None)
}

fn page(desk: &Desk, caller: &Caller, status: StatusCode, refused: Option<&str>) -> Response {
    let units = desk.units();
    let now = [
        units.pressure,
        units.length,
        units.force,
        units.torque,
        units.mass,
        units.fluid,
    ];
    let paper = desk.preferences().paper;
    let main = html! {
        @if let Some(refused) = refused { div class="refused" role="alert" { p { (refused) } } }
        @if desk.units_are_given() {
            p { "rearline was started with --units: those go before what is chosen here." }
        }
        p { "A figure on a sheet keeps the unit that it was written in." }
        form class="sent" method="post" action="/preferences" {
            input type="hidden" name=(TOKEN) value=(caller.token);
            @for ((name, label, dimension, offered), now) in KINDS.into_iter().zip(now) {
                div class="handle" {
                    label for={ "unit-" (name) } { (label) }
                    select id={ "unit-" (name) } name=(name) {
                        @if !offered.contains(&now.symbol()) { option value=(now.symbol()) selected { (now.shown()) } }
                        @for unit in offer(dimension, offered) {
                            option value=(unit.symbol()) selected[unit == now] { (unit.shown()) }
                        }
                    }
                }
            }
            @if desk.press.is_some() {
                div class="handle" {
                    label for="paper" { "Paper of the build book" }
                    select id="paper" name=(PAPER) {
                        @for one in PAPERS { option value=(one) selected[paper.as_deref() == Some(one)] { (one) } }
                    }
                }
            }
            button type="submit" { "Keep" }
        }
        p class="keys" { a class="key" href="/" { "All cars" } }
    };
    (status, frame::plain("Units", &caller.token, None, &main)).into_response()
}

fn offer(dimension: Dimension, offered: &[&str]) -> Vec<Unit> {
    offered
        .iter()
        .filter_map(|symbol| {
            units_of(dimension)
                .iter()
                .find(|unit| unit.symbol() == *symbol)
                .copied()
        })
        .collect()
}

/// Keeps them.
pub(crate) fn keep(desk: &Desk, caller: &Caller, sent: &Sent) -> Response {
    let chosen: Vec<&str> = KINDS
        .iter()
        .map(|(name, ..)| sent.get(name))
        .filter(|unit| !unit.is_empty())
        .collect();
    let list = chosen.join(",");
    if let Err(wrong) = questions::units(Some(&list)) {
        let said = wrong
            .troubles
            .first()
            .map_or_else(String::new, |trouble| trouble.text.clone());
        return page(desk, caller, StatusCode::BAD_REQUEST, Some(&said));
    }
    let mut chosen = vec![(UNITS, list.as_str())];
    let paper = sent.get(PAPER);
    if !paper.is_empty() {
        if !PAPERS.contains(&paper) {
            let said = format!(
                "`{paper}` is no paper that is printed on: {}.",
                PAPERS.join(" or ")
            );
            return page(desk, caller, StatusCode::BAD_REQUEST, Some(&said));
        }
        chosen.push((PAPER, paper));
    }
    let kept = match desk.cars() {
        Ok(cars) => Preferences::keep(&cars, &chosen),
        Err(stop) => return trouble::stop(&stop, caller),
    };
    let said = match kept {
        Ok(()) => return Redirect::to("/preferences").into_response(),
        Err(PreferenceFault::Disk(fault)) => format!("{fault}. {}", fault.help()),
        Err(PreferenceFault::Unreadable(why)) => {
            format!(
                "preferences.toml cannot be read any more: {why}. It was left as it is: put that line right."
            )
        }
    };
    page(desk, caller, StatusCode::CONFLICT, Some(&said))
}

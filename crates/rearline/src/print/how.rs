//! A card of measuring on a terminal.

use charts::{HowMeasured, Look};
use questions::measuring::{CARDS, CardTold, Present, Sum, SumReading};
use wording::Units;

use super::ink;
use super::page::Page;

/// The cards that there are.
pub(crate) fn list() -> String {
    let mut page = Page::default();
    page.paragraph(ink::heavy, "How to measure: the cards");
    page.gap();
    let widest = CARDS.iter().map(|card| card.name().len()).max().unwrap_or(0);
    for card in CARDS {
        page.named(card.name(), widest, card.title());
    }
    page.gap();
    page.plain("One of them, or of a key of the sheet: `rearline how lever.ratio`.");
    page.into_text()
}

/// One card.
pub(crate) fn card(told: &CardTold, units: &Units) -> String {
    let card = told.card;
    let mut page = Page::default();
    page.paragraph(ink::heavy, card.title());
    if let Some(key) = told.key.map(engine::car::KeyId::key) {
        page.paragraph(
            ink::aside,
            &format!("{}: {}. {}", key.part(), key.label, key.help_as_text()),
        );
    }
    page.gap();
    page.labelled("tool", card.tool);
    for (number, step) in (1..).zip(card.steps) {
        page.labelled(&number.to_string(), step);
    }
    if let Some(key) = told.key.map(engine::car::KeyId::key) {
        page.labelled("figure", key.how);
    }
    for caution in card.cautions {
        page.gap();
        page.paragraph(ink::heavy, caution);
    }
    page.gap();
    page.labelled("without it", card.trick);
    page.labelled("from", card.source);
    for sum in card.sums_for(told.key) {
        page.heading(sum.title);
        page.labelled("formula", sum.formula);
        for ask in sum.asks {
            page.labelled(ask.name, &asked(ask, units));
        }
        if told.worked.is_none() {
            page.plain(&format!("Work it out: `{}`", called(told, sum, units)));
        }
    }
    if let Some((sum, worked)) = &told.worked {
        page.gap();
        page.paragraph(ink::heavy, &format!("{}: {}", sum.title, worked.shown));
        if let Some(mind) = &worked.mind {
            page.plain(mind);
        }
        if let Some(key) = told.key {
            let number = worked.written.parse::<f64>().is_ok();
            let quote = if number { "" } else { "\"" };
            page.plain(&format!(
                "On the sheet: `{} = {quote}{}{quote}`",
                key.key().path,
                worked.written
            ));
        }
    }
    let marks = HowMeasured(card.drawing).draw(&Look::default()).table;
    page.heading("On its drawing (--svg FILE writes it)");
    for row in &marks.rows {
        page.labelled(&row[0], &row[1]);
    }
    match (&told.present, told.key) {
        (Some((car, present)), _) => {
            page.gap();
            page.plain(&said(car, present));
        }
        (None, None) => {
            page.heading("Figures that are measured so");
            for key in card.keys() {
                page.item(&format!("`{}`: {}", key.path, key.label));
            }
        }
        (None, Some(_)) => {}
    }
    page.into_text()
}

/// What a reading is, and the unit of a bare number.
fn asked(ask: &SumReading, units: &Units) -> String {
    match ask.unit(units) {
        Some(unit) => format!("{}; a bare number in {}", ask.what, unit.symbol()),
        None => ask.what.to_owned(),
    }
}

fn called(told: &CardTold, sum: &Sum, units: &Units) -> String {
    let figure = told.key.map_or(told.card.name(), |key| key.key().path);
    let readings: Vec<String> = sum
        .asks
        .iter()
        .map(|ask| match ask.unit(units) {
            Some(unit) => format!("{}=...{}", ask.name, unit.symbol().replace(' ', "")),
            None => format!("{}=...", ask.name),
        })
        .collect();
    format!("rearline how {figure} {}", readings.join(" "))
}

fn said(car: &str, present: &Present) -> String {
    match present {
        Present::Says(value) => format!("{car} has {value}."),
        Present::Taken {
            shown, source, guess, ..
        } => {
            let so = if *guess { "guesses" } else { "leaves it out" };
            format!("{car} {so}: {shown} is taken ({source}).")
        }
        Present::Nothing => format!("{car} has nothing there."),
    }
}

//! The page of `working`.

use engine::working::{Expr, Symbol, Working};
use questions::Opened;
use wording::Units;

use super::page::Page;
use super::{ink, leaned, title};
use crate::views::working::meaning;

/// Significant digits of the numbers in a formula.
const DIGITS: usize = 5;

/// Line by line: in symbols, with the numbers in, the result.
pub(crate) fn page(opened: &Opened, working: &Working) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, &Units::default());
    page.gap();
    if let Some(last) = working.last() {
        page.paragraph(
            ink::heavy,
            &format!(
                "{}: {} = {}",
                working.figure,
                last.result.sign,
                value(&last.result)
            ),
        );
        page.plain(&format!(
            "{}. In SI units, from the sheet's figures on.",
            sentence(meaning(working.figure))
        ));
    }
    for (number, step) in (1..).zip(&working.steps) {
        page.gap();
        page.line(&ink::heavy(&format!("{number}  {}", step.result.meaning)));
        page.labelled(step.result.sign, &format!("= {}", step.formula.in_symbols()));
        page.labelled("", &format!("= {}", step.formula.with_numbers(DIGITS)));
        page.labelled("", &format!("= {}", value(&step.result)));
        let from: Vec<String> = step
            .formula
            .symbols()
            .iter()
            .filter_map(|symbol| symbol.key.map(|key| format!("{} is {key}", symbol.sign)))
            .collect();
        let mut said = step.source.to_owned();
        if !step.assumes.is_empty() {
            said.push_str(&format!("; {}", step.assumes));
        }
        if !from.is_empty() {
            said.push_str(&format!(". {}", from.join(", ")));
        }
        page.paragraph(ink::aside, &said);
    }
    leaned::foot(&mut page, &opened.assembled, &Units::default());
    page.into_text()
}

/// Figures that this car can explain.
pub(crate) fn list(opened: &Opened, all: &[Working]) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, &Units::default());
    page.gap();
    page.paragraph(ink::heavy, "Figures that explain themselves, in SI units:");
    for working in all {
        if let Some(last) = working.last() {
            page.item(&format!(
                "{} = {}: {}",
                working.figure,
                value(&last.result),
                meaning(working.figure)
            ));
        }
    }
    page.gap();
    page.plain("rearline working CAR FIGURE shows the arithmetic of one.");
    page.into_text()
}

fn value(symbol: &Symbol) -> String {
    let text = Expr::from(symbol).with_numbers(6);
    if symbol.unit.is_empty() {
        text
    } else {
        format!("{text}\u{a0}{}", symbol.unit)
    }
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

//! The page of `plan`.

use proving::order::Order;
use questions::{History, Opened};
use wording::Units;

use super::logbook::lost as logbook_lost;
use super::page::Page;
use super::{ink, leaned, title};

/// What is next, then every step.
pub(crate) fn page(opened: &Opened, order: &Order, history: &History, units: &Units) -> String {
    let mut page = Page::default();
    title::car(&mut page, opened, units);
    page.gap();
    logbook_lost(&mut page, history);
    page.paragraph(ink::heavy, &format!("Next: {}.", order.short()));
    page.gap();
    let next = order.next().map(|step| step.slug);
    for (step, number) in order.steps.iter().zip(1..) {
        let sign = match (step.done, next == Some(step.slug)) {
            (true, _) => "[x]",
            (false, true) => "[>]",
            (false, false) => "[ ]",
        };
        page.labelled(
            &format!("{sign} {number}"),
            &format!("{}: {}.", step.slug, step.what),
        );
        if !step.done {
            page.labelled("", &format!("With: {}.", step.tools));
            let (may, what) = step.night();
            let may = if step.may_stop_after {
                may.to_owned()
            } else {
                may.to_uppercase()
            };
            page.labelled("", &format!("{may}: {what}."));
        }
    }
    page.gap();
    page.plain(
        "`rearline plan CAR --done STEP` writes a step down; joints and checks are written with `rearline prove`. Work under \
         the car only on stands; gloves and glasses for fluid.",
    );
    page.gap();
    page.paragraph(ink::heavy, leaned::CAUTION);
    page.into_text()
}

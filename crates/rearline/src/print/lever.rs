//! The page of `lever`.

use questions::Opened;
use wording::Units;

use super::page::{Page, Stroke};
use super::{ink, leaned, ranges, title};
use questions::answers::lever::{Outcome, coupling_facts, torque_facts, what_it_takes};

/// One sentence, warm and cold against what there is, the coupling, the other layout, and what it all rests on.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let car = opened.car();
    page.paragraph(ink::heavy, &outcome.sentence(car, units));
    ranges::lever(&mut page, outcome.headline.as_ref(), units);
    page.gap();
    page.rule(Stroke::Hand, "handbrake: to stop the rear wheels");
    let Some(lever) = &car.lever else {
        return page.into_text();
    };
    page.labelled(
        "there is",
        &format!(
            "{} of hand, {} of room at the grip",
            wording::pull(outcome.pull.hand, units),
            wording::figure(lever.room.m(), units.length)
        ),
    );
    page.labelled("warm", &what_it_takes(&outcome.answer.to_lock, units));
    page.labelled("cold", &what_it_takes(&outcome.answer.cold, units));
    page.gap();
    page.rule(Stroke::Rear, "rear axle, standing");
    for (name, text) in torque_facts(&outcome.answer.to_lock, units) {
        page.labelled(name, &text);
    }
    let coupling = coupling_facts(car, &outcome.answer);
    if !coupling.is_empty() {
        page.heading("Centre");
        for (name, text) in coupling {
            page.labelled(name, &text);
        }
    }
    if let Some((layout, other)) = &outcome.other {
        page.heading(&format!("The {layout} layout instead"));
        page.labelled("warm", &what_it_takes(&other.to_lock, units));
        page.labelled("cold", &what_it_takes(&other.cold, units));
    }
    page.gap();
    page.plain("A lever latched on pressure is not a parking brake: chocks, in gear, level ground.");
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

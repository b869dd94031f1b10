//! The page of `balance`.

use engine::balance::First;
use questions::Opened;
use wording::Units;

use super::page::{Page, Table};
use super::{ink, leaned, ranges, title};
use questions::answers::balance::{Outcome, first_word, one_circuit_gone};

/// One sentence, lock order, utilisation, one circuit gone, and what it all rests on.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    page.paragraph(ink::heavy, &outcome.sentence(opened, units));
    if outcome.tied {
        page.plain(
            "The centre ties front to rear: an axle stops alone only once its brakes exceed its grip by more than the \
             coupling carries; otherwise all four stop together.",
        );
    }
    ranges::balance(&mut page, outcome.headline.as_ref());
    page.heading("First lock");
    locks(outcome, units).onto(&mut page);
    page.heading("Share of its load that each axle uses");
    utilisation(outcome).onto(&mut page);
    road(&mut page, opened, outcome);
    page.heading("One circuit gone, 500 N of foot");
    for failed in &outcome.failed {
        page.item(&one_circuit_gone(opened, failed, units));
    }
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

fn locks(outcome: &Outcome, units: &Units) -> Table {
    let mut table = Table::new(vec!["first", "by", "foot", "decel.", "of grip", "rear brakes"]);
    let points = || outcome.locks.iter().filter_map(|lock| lock.at.as_ref());
    let feet = wording::column(points().map(|point| point.foot.n()), units.force);
    let rears = wording::column(points().map(|point| point.rear.pa()), units.pressure);
    for lock in &outcome.locks {
        let label = format!("grip {}", wording::ratio(lock.grip));
        let cells = match &lock.at {
            None => vec!["neither".to_owned(), String::new(), "beyond the foot".to_owned()],
            Some(point) => vec![
                first_word(lock).to_owned(),
                wording::margin(point.front_first_by),
                quantity::show(point.foot.n(), units.force, feet),
                wording::rate(point.rate),
                wording::per_cent(point.efficiency),
                quantity::show(point.rear.pa(), units.pressure, rears),
            ],
        };
        let remark = if lock.first == First::Rear {
            "rear first"
        } else {
            ""
        };
        table.row(&label, cells, remark);
    }
    table
}

fn utilisation(outcome: &Outcome) -> Table {
    let mut table = Table::new(vec!["front", "rear"]);
    for used in outcome.utilisation.iter().step_by(2) {
        let remark = if used.rear > used.front {
            "rear above front"
        } else {
            ""
        };
        table.row(
            &format!("at {}", wording::rate(used.rate)),
            vec![wording::ratio(used.front), wording::ratio(used.rear)],
            remark,
        );
    }
    table
}

fn road(page: &mut Page, opened: &Opened, outcome: &Outcome) {
    if !opened.car().road_registered {
        return;
    }
    page.heading("Road rule on utilisation (UN Regulation 13-H, Annex 5; from memory)");
    let said = |held: bool| if held { "yes" } else { "no" };
    page.item(&format!(
        "rear below front from 0.15 to 0.80 g, as loaded: {}",
        said(outcome.road.rear_below_front)
    ));
    page.item(&format!(
        "rear below front at every load: {}",
        said(outcome.road_at_every_load)
    ));
    page.item(&format!(
        "least braking rate for what is used: {}",
        said(outcome.road.least_rate_met)
    ));
}

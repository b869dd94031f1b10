//! The page of `balance`.

use asked::{Opened, Units};
use engine::balance::{FailedCircuit, First, LEAST_SECONDARY, Left, Lock};

use super::page::{Page, Table};
use super::{ink, leaned, ranges, title, words};
use crate::verbs::balance::Outcome;

/// One sentence, lock order, utilisation, one circuit gone, and what it all rests on.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    page.paragraph(ink::heavy, &answer(opened, outcome, units));
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
        page.item(&one_gone(opened, failed, units));
    }
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

fn answer(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let surface = &opened.state.surface;
    let on = format!("On {} (grip\u{a0}{})", surface.name, words::ratio(surface.peak));
    let Some(point) = &outcome.here.at else {
        return format!("{on} nothing locks: the foot or the pedal's stroke ends before the ground does.");
    };
    let foot = words::pull(point.foot, units);
    let used = words::per_cent(point.efficiency);
    let margin = words::front_first(point.front_first_by);
    match outcome.here.first {
        First::Front => {
            format!("{on} the front locks first, by {margin}, at {foot} of foot and {used} of the grip.")
        }
        First::Rear => {
            format!("{on} the rear locks first, by {margin}, at {foot} of foot and {used} of the grip.")
        }
        _ => {
            let lead = match point.front_first_by {
                even if even.abs() < 0.005 => "both ends would be even".to_owned(),
                front if front > 0.0 => format!("the brakes would lock the front first by {margin}"),
                _ => format!("the brakes would lock the rear first by {margin}"),
            };
            format!("{on} all four lock together at {foot} of foot; left to themselves, {lead}.")
        }
    }
}

fn locks(outcome: &Outcome, units: &Units) -> Table {
    let mut table = Table::new(vec!["first", "by", "foot", "decel.", "of grip", "rear brakes"]);
    let points = || outcome.locks.iter().filter_map(|lock| lock.at.as_ref());
    let feet = asked::column(points().map(|point| point.foot.n()), units.force);
    let rears = asked::column(points().map(|point| point.rear.pa()), units.pressure);
    for lock in &outcome.locks {
        let label = format!("grip {}", words::ratio(lock.grip));
        let cells = match &lock.at {
            None => vec!["neither".to_owned(), String::new(), "beyond the foot".to_owned()],
            Some(point) => vec![
                first(lock).to_owned(),
                words::margin(point.front_first_by),
                quantity::show(point.foot.n(), units.force, feet),
                words::rate(point.rate),
                words::per_cent(point.efficiency),
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

const fn first(lock: &Lock) -> &'static str {
    match lock.first {
        First::Front => "front",
        First::Rear => "rear",
        First::Together => "together",
        First::Neither => "neither",
    }
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
            &format!("at {}", words::rate(used.rate)),
            vec![words::ratio(used.front), words::ratio(used.rear)],
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

fn one_gone(opened: &Opened, failed: &FailedCircuit, units: &Units) -> String {
    let left = match failed.left {
        Left::Front => "only the front brakes",
        Left::Rear => "only the rear brakes",
        Left::OneDiagonal => "only one diagonal",
    };
    if failed.joined {
        return format!(
            "{left}: both circuits are joined at the lever, one leak empties both and nothing brakes"
        );
    }
    let mut said = format!(
        "{left}: {:.2}\u{a0}m/s² on {}, pedal {}",
        failed.rate.m_s2(),
        opened.state.surface.name,
        words::figure(failed.travel.m(), units.length)
    );
    if failed.runs_out {
        said.push_str(", more than the stroke has: it is not reached");
    }
    match failed.met {
        Some(true) => said.push_str(&format!(
            "; the road rule's {:.2}\u{a0}m/s² are met",
            LEAST_SECONDARY.m_s2()
        )),
        Some(false) => said.push_str(&format!(
            "; the road rule's {:.2}\u{a0}m/s² are not met on this ground",
            LEAST_SECONDARY.m_s2()
        )),
        None => {}
    }
    said
}

//! The page that `rearline` by itself prints.

use std::path::Path;

use asked::Units;
use engine::car::Axle;

use super::page::{Page, Stroke};
use super::{ink, leaned, words};
use crate::verbs::overview::{PushAndPull, Seen};
use asked::answers::pressures::Outcome;

/// What each car does, and what to do next.
pub(crate) fn page(folder: &Path, made: bool, seen: &[Seen], left_out: &[String], units: &Units) -> String {
    let mut page = Page::default();
    let shown = folder.display();
    if made {
        page.paragraph(
            ink::heavy,
            &format!(
                "Made the folder {shown} with cars to look at. The cars and their figures are invented."
            ),
        );
        page.gap();
    }
    if seen.is_empty() {
        page.paragraph(ink::heavy, &format!("{shown} holds no car yet."));
    }
    for car in seen {
        one(&mut page, car, units);
        page.gap();
    }
    for left in left_out {
        page.paragraph(ink::remedy, &format!("passed over: {left}"));
    }
    page.gap();
    match seen.first() {
        Some(first) => {
            page.plain("More of one of them, and a sheet of your own:");
            let name = words::quoted(&first.name);
            page.line(&format!("  rearline assess {name}"));
            page.line(&format!(
                "  rearline pressures {name} --foot \"300 N\" --hand \"150 N\""
            ));
        }
        None => page.plain("A sheet of your own:"),
    }
    page.line("  rearline new NAME");
    page.gap();
    page.paragraph(ink::heavy, leaned::CAUTION);
    page.into_text()
}

fn one(page: &mut Page, car: &Seen, units: &Units) {
    match &car.outcome {
        Ok(done) => {
            let on = done.opened.car();
            let build = on
                .build
                .as_ref()
                .map(|build| format!(", {build}"))
                .unwrap_or_default();
            page.paragraph(ink::heavy, &format!("{}: {}{build}", car.name, on.name));
            let assessment = &done.assessed.assessment;
            page.plain(&assessment.answer);
            if let Some(worst) = assessment.findings.first() {
                let others = assessment.findings.len() - 1;
                let behind = if others == 0 {
                    String::new()
                } else {
                    format!("; {others} more")
                };
                page.item(&format!("{}: {}{behind}", worst.weight.word(), worst.title));
            }
            page.bulleted(Stroke::Front, &push(done, units));
            let pull = match &done.pull {
                Some(pull) => self::pull(done, pull, units),
                None => "no handbrake on this car".to_owned(),
            };
            page.bulleted(Stroke::Hand, &pull);
        }
        Err(wrong) => {
            let count = wrong.troubles.len() + wrong.more;
            page.paragraph(ink::heavy, &car.name);
            page.item(&format!(
                "its sheet has {count} {}: rearline check-sheet {}",
                words::counted(count, "fault", "faults"),
                words::quoted(&car.name)
            ));
        }
    }
}

fn push(done: &PushAndPull, units: &Units) -> String {
    let push = &done.push;
    let answer = &push.answer;
    let [front, _, rear, _] = answer
        .wheels
        .map(|wheel| words::figure(wheel.pressure.pa(), units.pressure));
    let share = answer
        .front_share
        .map(|share| format!(", {} in front", words::per_cent(share)))
        .unwrap_or_default();
    let end = if answer.pedal.runs_out {
        ", where its stroke ends"
    } else {
        ""
    };
    format!(
        "{} of foot: {}{share}; front {front}, rear {rear}; pedal {}{end}",
        words::figure(push.asked.foot.n(), units.force),
        words::rate(answer.braking_rate),
        words::figure(answer.pedal.travel.m(), units.length)
    )
}

fn pull(done: &PushAndPull, pull: &Outcome, units: &Units) -> String {
    let answer = &pull.answer;
    let [_, _, rear, _] = answer.wheels;
    let mut said = format!("{} of hand: ", words::pull(pull.asked.hand, units));
    if answer.lever.is_some_and(|lever| lever.own.is_some()) {
        let pressure = rear.lever_pressure.unwrap_or(rear.pressure);
        said.push_str(&format!(
            "rear {}; ",
            words::figure(pressure.pa(), units.pressure)
        ));
    }
    if let Some((lever, travel)) = answer.lever.and_then(|lever| Some((lever, lever.travel?))) {
        let end = if lever.runs_out.is_some() {
            ", where it ends"
        } else {
            ""
        };
        said.push_str(&format!(
            "lever {}{end}; ",
            words::figure(travel.m(), units.length)
        ));
    }
    said.push_str(&format!(
        "asks {} of each rear wheel, {} gives {}",
        words::figure(rear.ground_force.n(), units.force),
        done.opened.state.surface.name,
        words::figure(pull.ground.gives(Axle::Rear).n(), units.force)
    ));
    said
}

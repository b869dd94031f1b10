//! The page that `rearline` by itself prints.

use std::path::Path;

use page::Reach;
use questions::pressures::Outcome;
use questions::report::CAUTION;
use questions::{Opened, Wrong, assess as assessment};
use wording::Units;

use super::ink;
use super::page::{Page, Stroke};

/// A car of the folder.
#[derive(Debug)]
pub(crate) struct Seen {
    /// Name of its folder.
    pub(crate) name: String,
    /// What came out, or what is wrong with the sheet.
    pub(crate) outcome: Result<Box<PushAndPull>, Wrong>,
}

/// What a push of the foot alone and a pull of the hand alone do in a car.
#[derive(Debug)]
pub(crate) struct PushAndPull {
    pub(crate) opened: Opened,
    /// Whether it will work, and what was found.
    pub(crate) assessed: assessment::Outcome,
    pub(crate) push: Outcome,
    /// `None` where there is no handbrake.
    pub(crate) pull: Option<Outcome>,
}

/// What each car does, and what to do next.
pub(crate) fn page(folder: &Path, made: bool, seen: &[Seen], left_out: &[String], units: &Units) -> String {
    let mut text = head(folder, made, seen.len());
    for car in seen {
        text.push_str(&of_car(car, units));
    }
    text.push_str(&foot(left_out, 0, seen.first().map(|first| first.name.as_str())));
    text
}

/// What stands above the cars.
pub(crate) fn head(folder: &Path, made: bool, cars: usize) -> String {
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
    if cars == 0 {
        page.paragraph(ink::heavy, &format!("{shown} holds no car yet."));
    }
    page.into_text()
}

/// A car.
pub(crate) fn of_car(car: &Seen, units: &Units) -> String {
    let mut page = Page::default();
    one(&mut page, car, units);
    page.gap();
    page.into_text()
}

/// What stands below the cars: what was passed over, how many more there are, what to do next.
pub(crate) fn foot(left_out: &[String], more: usize, first: Option<&str>) -> String {
    let mut page = Page::default();
    if more > 0 {
        let cars = wording::counted(more, "car", "cars");
        page.plain(&format!(
            "{more} more {cars}: the page has them; so has rearline --no-page."
        ));
        page.gap();
    }
    for left in left_out {
        page.paragraph(ink::remedy, &format!("passed over: {left}"));
    }
    page.gap();
    match first {
        Some(first) => {
            page.plain("More of one of them, and a sheet of your own:");
            let name = wording::quoted(first);
            page.line(&format!("  rearline assess {name}"));
            page.line(&format!(
                "  rearline pressures {name} --foot \"300 N\" --hand \"150 N\""
            ));
        }
        None => page.plain("A sheet of your own:"),
    }
    page.line("  rearline new NAME");
    page.gap();
    page.paragraph(ink::heavy, CAUTION);
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
            let answer = &done.assessed.assessment.answer;
            if let Some(((_, worst), others)) = answer.stops_first.split_first() {
                let more = match others.len() {
                    0 => String::new(),
                    more => format!("; {more} more"),
                };
                page.paragraph(ink::heavy, &format!("stop: {worst}{more}"));
            }
            page.plain(&format!("{}. {}", answer.said, answer.because));
            if let Some(first) = &answer.first {
                page.plain(&format!("First: {first}"));
            }
            page.bulleted(Stroke::Front, &done.push.push_sentence(units));
            let pull = match &done.pull {
                Some(pull) => pull.pull_sentence(&done.opened, units),
                None => "no handbrake on this car".to_owned(),
            };
            page.bulleted(Stroke::Hand, &pull);
        }
        Err(wrong) => {
            let count = wrong.troubles.len() + wrong.more;
            page.paragraph(ink::heavy, &car.name);
            page.item(&format!(
                "its sheet has {count} {}: rearline check-sheet {}",
                wording::counted(count, "fault", "faults"),
                wording::quoted(&car.name)
            ));
            if let Some(first) = wrong.troubles.first() {
                let place = first.place.map(|(line, _)| format!("line {line}: "));
                page.item(&format!("{}{}", place.unwrap_or_default(), first.text));
            }
        }
    }
}

/// Where the page is served, in a line.
pub(crate) fn served_at(addresses: &[String]) -> String {
    let mut page = Page::default();
    if let [first, ..] = addresses {
        page.paragraph(ink::heavy, &format!("The workshop page: {first}"));
    }
    page.into_text()
}

/// Where the page is served, and what has to be known about it.
pub(crate) fn served(addresses: &[String], reach: Reach, invitation: Option<&str>) -> String {
    let mut page = Page::default();
    page.line(served_at(addresses).trim_end());
    for other in addresses.iter().skip(1) {
        page.line(&format!("                   {other}"));
    }
    if reach == Reach::Network {
        page.plain("Paired devices of this network reach it. What is sent is not encrypted: use a network that is yours.");
    }
    if let Some(invitation) = invitation {
        page.gap();
        invitation.lines().for_each(|line| page.line(line));
    }
    page.plain("^C ends it.");
    page.into_text()
}

//! The empty sheet for the clipboard: everything that is ticked, on one page.

use proving::Check;

use super::outcome::Outcome;
use super::{Ask, report as words};
use crate::question::Case;
use crate::report::{Block, Frame, Headline, Report, Section, Table, Tick};

/// What is filled in by hand at the end.
const SIGNED: [&str; 2] = [
    "Not done, because ________________________________",
    "Signed __________________ Checked by __________________",
];

/// The sheet of a car, whatever is proved of it.
#[must_use]
pub fn report(case: &Case<'_>, outcome: &Outcome) -> Report {
    let headline = Headline {
        stamp: "Proving sheet".to_owned(),
        frame: Frame::Broken,
        because: "Date ______________ By ______________________ Air ______\u{a0}°C".to_owned(),
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: None,
    };
    let mut sheet = Report::of(&Ask, case, headline);
    sheet.section(words::bleeding(outcome, &case.units, false));
    sheet.section(words::holding(case, outcome, false));
    sheet.section(joints(outcome));
    sheet.section(checks(case));
    let signed = SIGNED.iter().map(|line| Block::Text((*line).to_owned()));
    let signature = signed.fold(Section::new("Signature", "by hand", None), Section::with);
    sheet.section(signature);
    words::cautions(&mut sheet);
    sheet
}

fn joints(outcome: &Outcome) -> Section {
    let heads = ["joint", "marked", "dry", "weep", "remade", "dry"];
    let joints = &outcome.plumbing.joints;
    let rows = joints.iter().map(|joint| {
        let mut cells = vec![format!("{} {}", joint.number, joint.place)];
        cells.resize(heads.len(), "[ ]".to_owned());
        cells.into()
    });
    Section::new("Joints", format!("{} to feel", joints.len()), None).with(Block::Table(Table {
        caption: "Marked, then dry or weep; a weep is remade and felt again".to_owned(),
        heads: heads.map(str::to_owned).to_vec(),
        names_row: 0,
        rows: rows.collect(),
        of_words: false,
    }))
}

fn checks(case: &Case<'_>) -> Section {
    let car = case.opened.car();
    let checks = Check::of(car);
    let ticks = checks.iter().map(|check| Tick {
        code: Some(check.name().to_owned()),
        done: false,
        label: check.words().to_owned(),
        name: String::new(),
        text: format!("{}: {}{}", check.words(), check.how(car), figures(*check)),
    });
    Section::new("Checks", format!("{} to make", checks.len()), None).with(Block::Ticks(ticks.collect()))
}

/// Where the figures of a check are written.
const fn figures(check: Check) -> &'static str {
    match check {
        Check::FirmPedal | Check::FirmHand => " First ______ mm, second ______ mm, at ______ N.",
        Check::Soak => " From _____ bar to _____ bar in _____ min; air _____ to _____ °C.",
        Check::Even => " Left ______ N m, right ______ N m, at ______ bar.",
        _ => "",
    }
}

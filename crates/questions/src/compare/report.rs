//! Both, as they are shown.

use wording::Shown;

use super::Ask;
use super::outcome::{OneOfBoth, Outcome, both};
use crate::proposals::ProposedKey;
use crate::question::{Case, Question};
use crate::report::{Block, Detail, Figure, Frame, Headline, Report, Section, Table, TableRow};

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let mut report = Report::of(&Ask, case, headline(outcome));
    report.section(match &outcome.second {
        Some(second) => side_by_side(
            title(outcome.is_of_one_car(), &outcome.first, second),
            &outcome.first,
            second,
        ),
        None => Section::new("The answer now", "", None).with(Block::Details(vec![says(&outcome.first)])),
    });
    if !outcome.changed.is_empty() {
        report.section(changed(&outcome.changed));
    }
    if !outcome.unlike.is_empty() {
        report.section(unlike(outcome));
    }
    if !outcome.kept.is_empty() {
        report.section(
            Section::new("Proposals kept beside the car", outcome.kept.join(", "), None)
                .with(Block::List(outcome.kept.clone())),
        );
    }
    report
}

/// What stands on the page of a question while something is proposed: both answers to it. `None` where nothing is, or where
/// the question is not compared.
#[must_use]
pub fn beside(question: &'static dyn Question, case: &Case<'_>) -> Option<Section> {
    if case.opened.overrides.is_empty() || !super::is_compared(question) {
        return None;
    }
    let (first, second) = both(question, case).ok()?;
    Some(side_by_side(title(true, &first, &second), &first, &second))
}

fn title(of_one_car: bool, first: &OneOfBoth, second: &OneOfBoth) -> String {
    if of_one_car {
        "As it is, and as proposed".to_owned()
    } else {
        format!("{} and {}", first.label, second.label)
    }
}

fn headline(outcome: &Outcome) -> Headline {
    let first = &outcome.first;
    let Some(second) = &outcome.second else {
        return Headline {
            stamp: "Nothing tried yet".to_owned(),
            frame: Frame::Broken,
            because: "Both answers stand here once a part, a setting or another car is tried.".to_owned(),
            though: Vec::new(),
            stops_first: first.headline.stops_first.clone(),
            figures: Vec::new(),
            first: Some("Try another part or setting, or name another car.".to_owned()),
        };
    };
    let named = |side: &OneOfBoth| wording::capital(&side.label);
    let same = first.headline.stamp == second.headline.stamp;
    let of_one_car = outcome.is_of_one_car();
    // What stops either car is said, and whose it is.
    let mut stops: Vec<String> = second.headline.stops_first.clone();
    let others = first.headline.stops_first.iter();
    let others = others.filter(|stop| !second.headline.stops_first.contains(stop));
    stops.extend(others.map(|stop| format!("{}: {stop}", named(first))));
    Headline {
        stamp: second.headline.stamp.clone(),
        frame: second.headline.frame,
        because: match (same, of_one_car) {
            (true, true) => "Both as it is and as proposed.".to_owned(),
            (true, false) => format!("Both {} and {}.", first.label, second.label),
            (false, true) => format!(
                "As proposed. As it is: {}.",
                wording::lower(&first.headline.stamp)
            ),
            (false, false) => format!(
                "Said of {}. Of {}: {}.",
                second.label,
                first.label,
                wording::lower(&first.headline.stamp)
            ),
        },
        though: second.headline.though.clone(),
        stops_first: stops,
        figures: second.headline.figures.clone(),
        first: second.headline.first.clone(),
    }
}

/// What one of both is told, with everything that stops it.
fn says(side: &OneOfBoth) -> Detail {
    let mut said = String::new();
    for stop in &side.headline.stops_first {
        said.push_str(&format!("stop: {stop}. "));
    }
    said.push_str(&format!("{}. {}", side.headline.stamp, side.headline.because));
    Detail::new(side.label.clone(), said)
}

/// Both answers: what each says, then figure by figure.
fn side_by_side(title: String, first: &OneOfBoth, second: &OneOfBoth) -> Section {
    let mut names: Vec<&'static str> = second.headline.figures.iter().map(|figure| figure.name).collect();
    for figure in &first.headline.figures {
        if !names.contains(&figure.name) {
            names.push(figure.name);
        }
    }
    let of = |side: &OneOfBoth, name: &str| -> Option<Figure> {
        side.headline
            .figures
            .iter()
            .find(|figure| figure.name == name)
            .cloned()
    };
    let row = |name: &&'static str| {
        let (was, now) = (of(first, name), of(second, name));
        let text = |figure: &Option<Figure>| {
            figure.as_ref().map_or_else(
                || wording::NONE.to_owned(),
                |figure| figure.measured.value.text.clone(),
            )
        };
        let change = change(
            was.as_ref().map(|figure| &figure.measured.value),
            now.as_ref().map(|figure| &figure.measured.value),
        );
        TableRow {
            cells: vec![(*name).to_owned(), text(&was), text(&now), change.to_owned()],
            own: change != SAME,
            ..TableRow::default()
        }
    };
    let section = Section::new(title, "", None).with(Block::Details(vec![says(first), says(second)]));
    if names.is_empty() {
        return section;
    }
    section.with(Block::Table(Table {
        caption: "Figure by figure".to_owned(),
        heads: vec![
            "figure".to_owned(),
            first.label.clone(),
            second.label.clone(),
            "change".to_owned(),
        ],
        names_row: 0,
        rows: names.iter().map(row).collect(),
        of_words: false,
    }))
}

const SAME: &str = "same";

/// What has become of a figure, in a word.
fn change(was: Option<&Shown>, now: Option<&Shown>) -> &'static str {
    match (was, now) {
        (Some(was), Some(now)) if was.text == now.text => SAME,
        (Some(was), Some(now)) if now.number > was.number => "more",
        (Some(_), Some(_)) => "less",
        (None, Some(_)) => "new",
        (Some(_), None) => "gone",
        (None, None) => SAME,
    }
}

fn changed(changed: &[ProposedKey]) -> Section {
    let row = |change: &ProposedKey| TableRow {
        cells: vec![
            named(change),
            change
                .was
                .as_deref()
                .map_or("not on the sheet", |was| was.trim_matches('"'))
                .to_owned(),
            change.now.trim_matches('"').to_owned(),
        ],
        own: !change.stands,
        ..TableRow::default()
    };
    Section::new(
        "What is other",
        format!(
            "{} {}",
            changed.len(),
            wording::counted(changed.len(), "key of the sheet", "keys of the sheet")
        ),
        None,
    )
    .with(Block::Table(Table {
        caption: "Keys of the sheet that are other".to_owned(),
        heads: ["key", "on the sheet", "as proposed"].map(str::to_owned).to_vec(),
        names_row: 0,
        rows: changed.iter().map(row).collect(),
        of_words: true,
    }))
}

/// What people call a key, and the key.
fn named(change: &ProposedKey) -> String {
    if change.label.is_empty() {
        return format!("`{}`", change.key);
    }
    format!("{}, `{}`", change.label, change.key)
}

fn unlike(outcome: &Outcome) -> Section {
    let second = outcome.second.as_ref().map_or("", |second| second.label.as_str());
    let row = |(name, first, other): &(&'static str, String, String)| TableRow {
        cells: vec![(*name).to_owned(), first.clone(), other.clone()],
        own: true,
        ..TableRow::default()
    };
    let section = Section::new("Parts that are not the same", "", None).with(Block::Table(Table {
        caption: "Parts of both cars, where they differ".to_owned(),
        heads: vec!["part".to_owned(), outcome.first.label.clone(), second.to_owned()],
        names_row: 0,
        rows: outcome.unlike.iter().map(row).collect(),
        of_words: true,
    }));
    section.with_some(outcome.mind.map(|mind| Block::Text(mind.to_owned())))
}

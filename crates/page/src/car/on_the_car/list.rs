//! The list of all figures, a part of the car each.

use maud::{Markup, html};
use proving::SheetChange;
use questions::Wrong;
use questions::on_the_car::{OnTheCar, Several, SheetFigure, Stands};
use questions::onto_sheet::{read_changes, stands};
use questions::report::Frame;
use wording::capital;

use super::choice::{is_choice, word};
use super::{At, SLUG, TEXT, of_figure, of_several};
use crate::car::address::path;
use crate::car::visit::Visit;
use crate::shell::{frame, look, parts};
use crate::web::guard::Sent;

/// As it is asked.
pub(crate) const fn question() -> &'static str {
    "What is on the car?"
}

/// The present answer in a few words.
pub(crate) fn short(visit: &Visit<'_>) -> String {
    OnTheCar::of(visit.opened.sheet.read.text()).short()
}

/// Answer and list of a car whose sheet reads.
pub(crate) fn all(visit: &Visit<'_>) -> (Markup, Markup) {
    let at = At::of_visit(visit);
    (answer(&at), list(&at))
}

/// The page of a car whose sheet does not read yet.
pub(super) fn unread(at: &At<'_>, refused: Option<&Wrong>) -> Markup {
    let main = html! {
        @if let Some(wrong) = refused {
            div class="refused" role="alert" { p { strong { "That was not written." } " Nothing was changed." } (parts::wrong(wrong)) }
        }
        (answer(at))
        (list(at))
    };
    frame::plain(
        &format!("{}: what is on the car?", at.name),
        &at.token,
        Some(&at.stands),
        &main,
    )
}

fn answer(at: &At<'_>) -> Markup {
    let left = at.car.left();
    let (said, frame) = match left {
        0 => (at.car.short(), Frame::Solid),
        _ => (format!("{left} left"), Frame::Broken),
    };
    html! {
        (look::stamp(&said, frame))
        @if left > 0 {
            p class="sentence" { "A first answer wants " (left) " more " (wording::counted(left, "figure", "figures")) "." }
        }
        @if !at.car.others().is_empty() {
            div class="refused" {
                p { strong { "The text of the sheet has something that is no figure." } }
                @for problem in at.car.others() { p { "line " (problem.line) ": " (parts::coded(&problem.text())) } }
                p { a class="key" href=(path(&at.name, TEXT)) { "Put it right in the text" } }
            }
        }
        p class="keys" {
            @if let Some(next) = at.car.next(None) {
                a class="key next" href=(of_figure(&at.name, &next.path)) { "Next: " (next.key.label) }
            }
            (at.steps())
        }
    }
}

fn list(at: &At<'_>) -> Markup {
    html! {
        div class="parts" {
            @for (title, figures) in at.car.parts() { (part(at, title, &figures)) }
        }
        p class="keys" {
            a class="key" href=(path(&at.name, TEXT)) { "The sheet as text" }
            a class="key" href=(path(&at.name, "files")) { "Copy, rename, put away" }
        }
    }
}

fn part(at: &At<'_>, title: &str, figures: &[&SheetFigure]) -> Markup {
    let (asked, folded): (Vec<&SheetFigure>, Vec<&SheetFigure>) =
        figures.iter().copied().partition(|figure| figure.asked);
    let belongs = |path: &str| at.car.figure(path).is_some();
    let more: Vec<&Several> = Several::of(title, belongs).collect();
    html! {
        section class="part-of-car" {
            h2 { (title) }
            @if !asked.is_empty() { ul { @for figure in &asked { (row(at, figure, false)) } } }
            @for entry in entries(&asked) { (take_out(at, &entry)) }
            @if !folded.is_empty() || !more.is_empty() {
                details {
                    summary { @if folded.is_empty() { "More" } @else { (folded.len()) " more, usually left as they are" } }
                    @if !folded.is_empty() { ul { @for figure in &folded { (row(at, figure, false)) } } }
                    @for several in more { p { a class="key" href=(of_several(&at.name, several.name)) { (several.title) } } }
                }
            }
        }
    }
}

/// A figure in a line, which leads to its screen.
pub(super) fn row(at: &At<'_>, figure: &SheetFigure, here: bool) -> Markup {
    let state = match figure.stands {
        Stands::Known => "known",
        Stands::Guessed => "guessed",
        Stands::Open => "open",
        Stands::LeftOut => "left-out",
    };
    let default = figure.key.default.unwrap_or_default();
    let default = default.strip_prefix("by rule: ").unwrap_or(default);
    let said = |text: &str| {
        if is_choice(figure.key) {
            word(text)
        } else {
            shortened(text)
        }
    };
    html! {
        li class=(state) {
            a href=(of_figure(&at.name, &figure.path)) aria-current=[here.then_some("page")] {
                span class="name" { (capital(figure.key.label)) }
                " "
                span class="says" {
                    @match figure.stands {
                        _ if figure.wrong.is_some() => strong { "does not read" },
                        Stands::Known => (said(&figure.says)),
                        Stands::Guessed => { em { (said(default)) } " " small { "guessed" } },
                        Stands::Open => strong { "to find" },
                        Stands::LeftOut => { small { (said(default)) } },
                    }
                }
            }
        }
    }
}

fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let head: String = text.chars().take(MOST).collect();
    format!("{head} …")
}

/// Entries of repeated tables: `load.item[2]`.
fn entries(figures: &[&SheetFigure]) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for figure in figures {
        if let Some((entry, _)) = figure
            .path
            .rsplit_once('.')
            .filter(|(entry, _)| entry.ends_with(']'))
            && !found.iter().any(|known| known == entry)
        {
            found.push(entry.to_owned());
        }
    }
    found
}

/// A key that takes an entry off the sheet, key by key, so that it can be put back.
fn take_out(at: &At<'_>, entry: &str) -> Markup {
    let read = sheet::read(at.car.text().as_bytes(), "");
    let changes: Vec<SheetChange> = at
        .car
        .figures()
        .iter()
        .filter(|figure| figure.path.starts_with(&format!("{entry}.")))
        .filter_map(|figure| {
            Some(SheetChange {
                key: figure.path.clone(),
                was: Some(stands(&read, &figure.path)?),
                now: None,
            })
        })
        .collect();
    let name = at
        .car
        .figure(&format!("{entry}.name"))
        .map_or_else(|| "it".to_owned(), |figure| shortened(&figure.says));
    let fields = html! {
        input type="hidden" name="what" value="out";
        input type="hidden" name="changes" value=(questions::onto_sheet::write_changes(&changes));
        button type="submit" { "Take out " (name) }
    };
    at.sender().form(SLUG, "inline", 700, &fields)
}

/// What a form of the list sends: steps back and forward, an entry taken out.
pub(super) fn changes(sent: &Sent) -> Result<Vec<SheetChange>, Wrong> {
    read_changes(sent.get("changes"))
}

//! A report on a terminal: the verdict alone on the first line, why, the figures in a row, then the rest.

use questions::options::Shape;
use questions::report::{Block, Choice, Figure, Headline, Report, Section, Table, WorkingLine};
use unicode_width::UnicodeWidthStr as _;
use wording::NONE;

use super::page::{self, Page};
use super::{findings, ink};

/// Columns of a figure; so many stand in a row as there is room for.
const FIGURE: usize = 25;
/// Columns of the mark before a row that is somebody's.
const STROKE: usize = 3;
/// Lines that a terminal shows at once: of a longer answer the verdict stands at the foot too.
const SCREEN: usize = 40;

/// The text of a report, as wide as the terminal that it is for, and never wider than a page.
pub(crate) fn text(report: &Report) -> String {
    of_width(report, page::width())
}

fn of_width(report: &Report, width: usize) -> String {
    let mut page = Page::of_width(width);
    headline(&mut page, &report.headline, width);
    page.gap();
    page.paragraph(ink::heavy, &report.car);
    page.paragraph(ink::aside, &report.state);
    for measured in &report.measured {
        page.paragraph(ink::aside, measured);
    }
    if let Some(proposal) = &report.proposal {
        page.paragraph(ink::heavy, proposal);
    }
    if let Some(other) = &report.other {
        page.paragraph(ink::aside, other);
    }
    if report.folded {
        findings::titles(&mut page, &report.findings);
        page.gap();
        for section in &report.sections {
            page.plain(&format!("{}: {}", section.title, section.summary));
        }
    } else {
        let mut said: Vec<&str> = report.cautions.iter().map(String::as_str).collect();
        findings::onto(&mut page, &report.findings, &mut said);
        for section in &report.sections {
            self::section(&mut page, section, width);
        }
    }
    page.gap();
    rests_on(&mut page, report);
    for caution in &report.cautions {
        page.paragraph(ink::heavy, caution);
    }
    let text = page.into_text();
    if text.lines().count() < SCREEN {
        return text;
    }
    let mut foot = Page::of_width(width);
    verdict(&mut foot, &report.headline);
    format!("{text}\n{}", foot.into_text())
}

/// What stops the car first, the stamp, and why.
fn verdict(page: &mut Page, headline: &Headline) {
    if let Some((worst, others)) = headline.stops_first.split_first() {
        let more = match others.len() {
            0 => String::new(),
            more => format!("; {more} more"),
        };
        page.paragraph(ink::heavy, &format!("stop: {worst}{more}"));
    }
    page.paragraph(ink::heavy, &headline.stamp);
    page.plain(&headline.because);
}

/// In symbols, with the numbers in, the result, and where it comes from.
fn steps(page: &mut Page, steps: &[WorkingLine]) {
    for (number, step) in (1..).zip(steps) {
        if number > 1 {
            page.gap();
        }
        page.paragraph(ink::heavy, &format!("{number}  {}", step.meaning));
        if step.is_found() {
            page.labelled(step.sign, &format!("= {}", step.value));
        } else {
            page.labelled(step.sign, &format!("= {}", step.in_symbols()));
            page.labelled("", &format!("= {}", step.with_numbers()));
            page.labelled("", &format!("= {}", step.value));
        }
        let keys: Vec<String> = step
            .keys
            .iter()
            .map(|(sign, key)| format!("{sign} is {key}"))
            .collect();
        let mut said = step.source.clone();
        if !keys.is_empty() {
            said.push_str(&format!(". {}", keys.join(", ")));
        }
        page.paragraph(ink::aside, &said);
    }
}

fn headline(page: &mut Page, headline: &Headline, width: usize) {
    verdict(page, headline);
    page.gap();
    let in_a_row = (width / FIGURE).max(1);
    for row in headline.figures.chunks(in_a_row) {
        figures(page, row);
        page.gap();
    }
    for though in &headline.though {
        page.plain(though);
    }
    if let Some(first) = &headline.first {
        page.plain(&format!("First: {first}"));
    }
}

/// Figures beside each other, each with its name, its range and its limit.
fn figures(page: &mut Page, figures: &[Figure]) {
    let names: Vec<Vec<String>> = figures
        .iter()
        .map(|figure| page::wrapped(figure.name, FIGURE - 2, "", ""))
        .collect();
    let deepest = names.iter().map(Vec::len).max().unwrap_or(0);
    for line in 0..deepest {
        // Names end at one line, above their figures.
        let cells = names.iter().map(|name| {
            (line + name.len())
                .checked_sub(deepest)
                .map_or("", |line| name[line].as_str())
        });
        page.line(&ink::aside(&beside(cells)));
    }
    let texts = figures.iter().map(|figure| figure.measured.value.text.as_str());
    page.line(&ink::heavy(&beside(texts)));
    let ranges: Vec<&str> = figures
        .iter()
        .map(|figure| {
            let range = figure.measured.range.as_ref();
            range.map_or("", |range| range.text.as_str())
        })
        .collect();
    if ranges.iter().any(|range| !range.is_empty()) {
        page.line(&beside(ranges.into_iter()));
    }
    let limits: Vec<String> = figures.iter().map(limit).collect();
    page.line(&beside(limits.iter().map(String::as_str)));
}

fn limit(figure: &Figure) -> String {
    figure.limit.as_ref().map_or_else(String::new, |limit| {
        format!("{} {}", limit.name, limit.shown.text)
    })
}

fn beside<'t>(cells: impl Iterator<Item = &'t str>) -> String {
    let line: String = cells
        .map(|cell| format!("{cell}{}", " ".repeat(FIGURE.saturating_sub(cell.width()).max(1))))
        .collect();
    line.trim_end().to_owned()
}

fn section(page: &mut Page, section: &Section, width: usize) {
    page.gap();
    match section.stroke {
        Some(stroke) => page.rule(stroke, &section.title),
        None => page.heading(&section.title),
    }
    for block in &section.blocks {
        match block {
            Block::Details(facts) => {
                page.labelled_list(facts.iter().map(|fact| (fact.name.as_str(), fact.text.as_str())));
            }
            Block::Text(text) => page.plain(text),
            Block::Ticks(ticks) => {
                // What follows the boxes begins in one column.
                let widest = ticks.iter().map(|tick| tick.name.width()).max().unwrap_or(0);
                for tick in ticks {
                    let blanks = " ".repeat(widest - tick.name.width());
                    page.labelled(&format!("{} {}{blanks}", tick.sign(), tick.name), &tick.text);
                }
            }
            Block::List(items) => {
                for item in items {
                    page.item(item);
                }
            }
            Block::Table(table) => self::table(page, table, width),
            Block::Caution(caution) => page.paragraph(ink::heavy, caution),
            Block::Picture(_) => {}
            Block::Choose(choices) => {
                for choice in choices {
                    let says = said(choice);
                    page.labelled(&choice.label, &format!("{}{says}", choice.text));
                }
            }
            Block::Steps(steps) => self::steps(page, steps),
            Block::Offers(offers) => {
                for offer in offers {
                    let stands = if offer.changes.is_empty() {
                        "on the sheet already".to_owned()
                    } else {
                        format!("now {}", offer.now)
                    };
                    let said = format!("{}; {stands}; rests on {}", offer.value, offer.because);
                    page.item(&format!("{}: {said}", offer.name));
                }
            }
            Block::Reading(reading) => page.labelled(reading.title(), reading.how()),
            Block::UnderWay { what, share } => page.plain(&format!("{what}: {}.", wording::per_cent(*share))),
            Block::Changed { said, .. } => page.plain(said),
        }
    }
}

/// How a way on is said: the question where it is another one, and the options.
fn said(choice: &Choice) -> String {
    let options = choice.says.iter().filter_map(|(row, value)| match row.value {
        Shape::Behind(_) => None,
        Shape::Flag => Some(row.dashed()),
        _ if value.contains(' ') => Some(format!("{} \"{value}\"", row.dashed())),
        _ => Some(format!("{} {value}", row.dashed())),
    });
    let words: Vec<String> = choice
        .asks
        .map(str::to_owned)
        .into_iter()
        .chain(options)
        .collect();
    let without: Vec<String> = choice
        .unsays
        .iter()
        .filter(|_| words.is_empty())
        .map(|row| row.dashed())
        .collect();
    match (words.as_slice(), without.as_slice()) {
        ([], []) => String::new(),
        ([], without) => format!(" \u{2013} without `{}`", without.join(" ")),
        (words, _) => format!(" \u{2013} `{}`", words.join(" ")),
    }
}

/// Rows with their columns in line; where they would be wider than the page, a line a row.
fn table(page: &mut Page, table: &Table, width: usize) {
    let columns = table.heads.len();
    let drawn = table.rows.iter().any(|row| row.stroke.is_some());
    let before = if drawn { STROKE } else { 0 };
    let widest = |column: usize| {
        let cells = table.rows.iter().map(|row| row.cells[column].width());
        cells.chain([table.heads[column].width()]).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(widest).collect();
    let whole = before + widths.iter().sum::<usize>() + 2 * columns.saturating_sub(1);
    if whole > width || table.of_words {
        let lines: Vec<(&str, String)> = table
            .rows
            .iter()
            .map(|row| {
                let rest = (0..columns).filter(|column| {
                    *column != table.names_row && !matches!(row.cells[*column].as_str(), "" | NONE)
                });
                let rest: Vec<String> = rest.map(|column| table.in_a_line(row, column)).collect();
                (row.cells[table.names_row].as_str(), rest.join(", "))
            })
            .collect();
        page.labelled_list(lines.iter().map(|(name, rest)| (*name, rest.as_str())));
        return;
    }
    let line = |cells: &[String]| -> String {
        (0..columns)
            .map(|column| {
                let blanks = " ".repeat(widths[column].saturating_sub(cells[column].width()));
                if column == table.names_row {
                    format!("{}{blanks}", cells[column])
                } else {
                    format!("{blanks}{}", cells[column])
                }
            })
            .collect::<Vec<_>>()
            .join("  ")
    };
    page.line(&format!(
        "{}{}",
        " ".repeat(before),
        ink::aside(&line(&table.heads))
    ));
    for row in &table.rows {
        let mark = match row.stroke {
            Some(stroke) => format!("{} ", page::mark(stroke)),
            None => " ".repeat(before),
        };
        let cells = line(&row.cells);
        let cells = match (row.struck, row.own) {
            (true, _) => ink::struck(&cells),
            (false, true) => ink::heavy(&cells),
            (false, false) => cells,
        };
        page.line(&format!("{mark}{cells}"));
    }
}

/// What the answer rests on, in a line each, with how to see it whole.
fn rests_on(page: &mut Page, report: &Report) {
    let car = wording::quoted(&report.folder);
    let (of_options, of_sheet): (Vec<_>, Vec<_>) = report
        .warnings
        .iter()
        .partition(|warning| warning.is_of_an_option());
    for warning in of_options {
        page.plain(&format!("{} {}.", warning.key, warning.text));
    }
    let guesses = report.defaults.iter().filter(|default| default.guess).count();
    let left_out = report.defaults.len() - guesses;
    let count = |number: usize, one: &str, several: &str| match number {
        0 => None,
        1 => Some(format!("one {one}")),
        number => Some(format!("{number} {several}")),
    };
    let said: Vec<String> = [
        count(of_sheet.len(), "unusual figure", "unusual figures"),
        count(guesses, "guess", "guesses"),
        count(left_out, "default", "defaults"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !said.is_empty() {
        page.plain(&format!(
            "It leans on {}: `rearline check-sheet {car}` names them, `rearline how KEY` says how each is measured.",
            wording::list(&said)
        ));
    }
    if report.folded {
        page.plain(&format!(
            "Each finding whole, with what to do: `rearline {} {car} --all`.",
            report.question
        ));
    }
    if !report.workings.is_empty() {
        page.plain(&format!("How a figure came about: `rearline working {car}`."));
    }
}

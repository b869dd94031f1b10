//! A report on a page: the stamp, why, the figures against their limits, then the rest. Everything that it says was decided
//! before; here is only where it stands.

use assess::{Finding, Weight};
use maud::{Markup, html};
use questions::Answer;
use questions::report::{Block, Figure, Lead, Report, Section, Stroke, Table, TableRow, Tick};

use super::address::path;
use super::key_links::linked;
use super::visit::Visit;
use super::{findings, pictures, report_forms as forms, studying, workings};
use crate::shell::{look, parts};

/// The question whose answer leads with every stop there is, and the room that it is in.
const ASSESS: &str = "assess";
/// See [`ASSESS`].
pub(crate) const ASSESSMENT: &str = "assessment";

/// What is read in one look, on a page of the frame. What stops the car stands above, and is not said twice.
pub(crate) fn answer(visit: &Visit<'_>, report: &Report) -> Markup {
    let assesses = visit.room() == ASSESSMENT;
    headline(report, |stop| assesses || !findings::is_said_above(visit, stop))
}

/// The same where nothing stands above.
pub(crate) fn answer_alone(report: &Report) -> Markup {
    headline(report, |_| true)
}

fn headline(report: &Report, is_new: impl Fn(&str) -> bool) -> Markup {
    let headline = &report.headline;
    html! {
        @if report.question == ASSESS {
            @let stops: Vec<&Finding> = report.findings.iter().filter(|finding| finding.weight == Weight::Stop).collect();
            (findings::stop_bar(&stops, ""))
        } @else {
            @for stop in headline.stops_first.iter().filter(|stop| is_new(stop)) {
                p class="stop-first" { strong class="weight" { "stop" } " " span { (stop) } }
            }
        }
        div class="verdict" {
            (look::stamp(&headline.stamp, headline.frame))
            div class="why" {
                p class="sentence" { (headline.because) }
                @if let Some(first) = &headline.first { p class="do" { strong { "First: " } (parts::coded(first)) } }
            }
        }
        @if !headline.figures.is_empty() {
            dl class="figures" { @for figure in &headline.figures { (self::figure(figure)) } }
        }
        @for though in &headline.though { p class="though" { (though) } }
    }
}

fn figure(figure: &Figure) -> Markup {
    let limit = figure.limit.as_ref().map(|limit| (limit.name, &limit.shown));
    look::figure(figure.name, &figure.measured, limit)
}

/// The same where nothing can be opened: every working stands below it anyway.
pub(crate) fn alone(visit: &Visit<'_>, report: &Report, answer: Option<&dyn Answer>) -> Markup {
    let mut said = Vec::new();
    html! {
        @for finding in &report.findings { (findings::finding(visit, finding, &mut said)) }
        @for section in &report.sections { (self::section(visit, section, answer)) }
        (cautions(report))
        @for next in &report.next { p class="do" { (parts::coded(next)) } }
    }
}

/// Everything behind the answer: findings, sections, cautions, workings, each folded under a line that stands for it.
/// `own`: what a room has in the place of a section, because something is pressed there.
pub(crate) fn more(
    visit: &Visit<'_>,
    report: &Report,
    answer: Option<&dyn Answer>,
    own: &dyn Fn(&Section) -> Option<Markup>,
) -> Markup {
    html! {
        (findings::all(visit, &report.findings))
        @for section in &report.sections {
            @if let Some(own) = own(section) { (own) }
            @else if is_pressed(section) || section.summary.is_empty() { (self::section(visit, section, answer)) }
            @else {
                section class=[section.stroke.map(stroke)] aria-label=(section.title) {
                    (parts::fold(&section.title, &section.summary, &blocks(visit, section, answer, &ticked)))
                }
            }
        }
        (cautions_beside(report, findings::open(&report.findings)))
        @for next in &report.next { p class="do" { (parts::coded(next)) } }
        @if !report.workings.is_empty() {
            @let names: Vec<&str> = report.workings.iter().map(|(_, meaning)| *meaning).collect();
            section class="on-screen" aria-label="Workings" {
                (parts::fold("How it came about", &names.join(", "), &html! {
                    @for (name, _) in &report.workings { (workings::unfolds(visit, name)) }
                }))
            }
        }
    }
}

/// The answer's own cautions; the last is every answer's and stands at the foot of the page.
pub(crate) fn cautions(report: &Report) -> Markup {
    cautions_beside(report, &[])
}

/// The same without what findings on the page say already.
fn cautions_beside(report: &Report, told: &[Finding]) -> Markup {
    let own = report.cautions.split_last().map_or(&[][..], |(_, own)| own);
    let is_told = |caution: &str| told.iter().any(|finding| finding.caution == Some(caution));
    html! { @for caution in own.iter().filter(|caution| !is_told(caution)) { p class="caution" { (caution) } } }
}

/// The class of what belongs to an axle or to the hand.
const fn stroke(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::Front => "front",
        Stroke::Rear => "rear",
        Stroke::Hand => "hand",
    }
}

/// Whether something is pressed, typed or waited for in a section: it is not folded away.
fn is_pressed(section: &Section) -> bool {
    section.blocks.iter().any(|block| {
        matches!(
            block,
            Block::Choose(_)
                | Block::Offers(_)
                | Block::Reading(_)
                | Block::UnderWay { .. }
                | Block::Changed { .. }
                | Block::Ticks(_)
        )
    })
}

/// A section as it is, open.
pub(crate) fn section(visit: &Visit<'_>, section: &Section, answer: Option<&dyn Answer>) -> Markup {
    let stroke = section.stroke.map(stroke);
    html! {
        section class=[stroke] aria-label=(section.title) {
            h2 { (section.title) }
            (blocks(visit, section, answer, &ticked))
        }
    }
}

/// What is in a section; `key`: what stands before a line that is ticked off.
pub(crate) fn blocks(
    visit: &Visit<'_>,
    section: &Section,
    answer: Option<&dyn Answer>,
    key: &dyn Fn(&Tick) -> Markup,
) -> Markup {
    html! {
        @for block in &section.blocks {
            @if let Block::Ticks(ticks) = block {
                ul class="ticks" {
                    @for tick in ticks {
                        li {
                            @if tick.code.is_some() { (key(tick)) } @else { span class="no-tick" { "–" } }
                            span { strong { (tick.name) } " " (parts::coded(&tick.text)) }
                        }
                    }
                }
            } @else {
                (self::block(visit, block, answer))
            }
        }
    }
}

/// A box that is ticked with a pen, or was ticked.
pub(crate) fn ticked(tick: &Tick) -> Markup {
    html! { span class="box" { (if tick.done { "☒" } else { "☐" }) } }
}

/// What stands in the sections of a report, without their heads.
pub(crate) fn without_heads(visit: &Visit<'_>, report: &Report) -> Markup {
    html! { @for section in &report.sections { @for block in &section.blocks { (self::block(visit, block, None)) } } }
}

fn block(visit: &Visit<'_>, block: &Block, answer: Option<&dyn Answer>) -> Markup {
    match block {
        Block::Details(facts) => html! {
            dl class="facts" { @for fact in facts { div { dt { (fact.name) } dd { (linked(visit.links_to(), &fact.text)) } } } }
        },
        Block::Text(text) => html! { p { (linked(visit.links_to(), text)) } },
        Block::List(items) => html! { ul { @for item in items { li { (linked(visit.links_to(), item)) } } } },
        Block::Table(table) => self::table(visit, table),
        Block::Ticks(_) => html! {},
        Block::Caution(caution) => html! { p class="caution" { (caution) } },
        Block::Picture(name) => answer.map_or_else(
            || html! {},
            |answer| pictures::picture(visit, name, |look| answer.draw_more(name, look)),
        ),
        Block::Choose(choices) => html! {
            ul class="ways" { @for choice in choices { li { (forms::choice(visit, choice)) } } }
        },
        Block::Steps(steps) => parts::steps(steps),
        Block::Offers(offers) => html! {
            ul class="offers" { @for offer in offers { li { (forms::offer(visit, offer)) } } }
        },
        Block::Reading(reading) => forms::reading(visit, *reading),
        Block::UnderWay { what, share } => studying::under_way(visit, what, *share),
        Block::Changed { said, back } => forms::put_back(visit, said, back),
    }
}

/// Rows; each cell carries its column's head, so that a narrow screen can show a row as a line. What a row tries is tried by
/// its name.
fn table(visit: &Visit<'_>, table: &Table) -> Markup {
    let class = if table.of_words { "table words" } else { "table" };
    let tried = |tries: &[String]| {
        let asking = visit.asking.clone().trying(tries.iter().map(String::as_str));
        format!("{}{}", path(visit.name(), visit.room()), asking.query())
    };
    let led = |lead: &Lead| {
        let says = lead.says.iter();
        let asking = visit.asking.clone().unsaying(&lead.unsays);
        let asking = says.fold(asking, |asking, (row, value)| asking.saying(row, value));
        let room = questions::named(lead.question).map_or(lead.question, |question| question.room());
        format!("{}{}", path(visit.name(), room), asking.query())
    };
    html! {
        div class=(class) role="region" tabindex="0" aria-label=(table.caption) {
            table {
                caption { (table.caption) }
                thead { tr { @for head in &table.heads { th scope="col" { (head) } } } }
                tbody {
                    @for row in &table.rows {
                        tr class=[row_class(row)] {
                            @for (index, cell) in row.cells.iter().enumerate() {
                                @let lead = row.leads.iter().find(|lead| lead.cell == index);
                                @if let Some(lead) = lead { td data-head=[table.heads.get(index)] { a href=(led(lead)) { (cell) } } }
                                @else if index != table.names_row { td data-head=[table.heads.get(index)] { (linked(visit.links_to(), cell)) } }
                                @else if row.tries.is_empty() { th scope="row" { (linked(visit.links_to(), cell)) } }
                                @else { th scope="row" { a class="try" href=(tried(&row.tries)) title="Try it" { (cell) } } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn row_class(row: &TableRow) -> Option<String> {
    let marks = [
        row.stroke.map(stroke),
        row.struck.then_some("struck"),
        row.own.then_some("own"),
    ];
    let marks: Vec<&str> = marks.into_iter().flatten().collect();
    (!marks.is_empty()).then(|| marks.join(" "))
}

//! "What do I buy and cut?": the report, with a key before each line that is ticked off, and the drawing.

use core::cell::Cell;

use maud::{Markup, PreEscaped, html};
use proving::Fact;
use questions::lines::{Ask as Asked, JOINTS};
use questions::report::{Block, Report, Section, Tick};
use questions::{Answer, History, Question as _, Stop, Wrong};

use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::visit::{Visit, told_of};
use crate::car::writing::Writing;
use crate::car::{forms, pictures, report};
use crate::shell::parts;

const SLUG: &str = "lines";

pub(crate) struct Lines;

impl Room for Lines {
    fn slug(&self) -> &'static str {
        SLUG
    }

    fn question(&self) -> &'static str {
        Asked.asked_as()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        Asked.short(&visit.case())
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let case = visit.case();
        let mut wrong = Wrong::default();
        wrong.add(visit.of_prices.clone());
        if let Some(stop) = &visit.history().lost {
            wrong.add(told_of(stop));
        }
        let answer = Asked.answer(&case);
        let report = match &answer {
            Ok(answer) => answer.report(),
            Err(unlisted) => {
                wrong.add(unlisted.clone());
                Report::refused(&Asked, &case, unlisted)
            }
        };
        let answer = answer.as_deref().ok();
        let numbers = Cell::new(0);
        let own = |section: &Section| own(visit, section, answer, &numbers);
        Said {
            answer: html! {
                (report::answer(visit, &report))
                @if !wrong.is_empty() { (parts::wrong(&wrong)) }
            },
            plan: answer.map(|_| html! {
                (pictures::small_picture(visit, "plan-above", |look| questions::picture::circuit(&visit.opened, look)))
                p { a class="key" href="#lines-drawing" { "Enlarge it, with every joint" } }
            }),
            picture: None,
            more: report::more(visit, &report, answer, &own),
        }
    }

    /// A tick that is set is an entry; one that is taken back strikes it.
    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        let got = writing.sent.get("got");
        let on = writing.sent.get("now") != "off";
        let Some(visit) = writing.visit() else {
            if on {
                return writing.note(&[Fact::Got { what: got.to_owned() }]);
            }
            let what = "which entry this tick is cannot be seen while the sheet does not read".to_owned();
            let remedy = "put the sheet right; this waits until then".to_owned();
            return Err(Stop::File(Wrong::plain(SLUG, "not-now", what, remedy)));
        };
        let plumbing = &visit.proving().plumbing;
        let known = plumbing.parts.iter().any(|part| part.kind.code() == got)
            || plumbing.cuts.iter().any(|cut| cut.run == got);
        if !known {
            let what = format!("`{got}` is on no list of this car any more");
            return Err(Wrong::plain(SLUG, "not-listed", what, "load the page again".to_owned()).into());
        }
        let ticked = ticked(visit.history().whole().map_err(Clone::clone)?, got);
        match (on, ticked.last()) {
            (false, Some(&entry)) => writing.strike(entry, "ticked by mistake"),
            (false, None) => Ok(Vec::new()),
            (true, Some(&entry)) => Ok(vec![entry]),
            (true, None) => writing.note(&[Fact::Got { what: got.to_owned() }]),
        }
    }
}

/// The sections that are more than what is read: the drawing beside the joints, a key before what is ticked off.
fn own(
    visit: &Visit<'_>,
    section: &Section,
    answer: Option<&dyn Answer>,
    numbers: &Cell<usize>,
) -> Option<Markup> {
    let ticks = section
        .blocks
        .iter()
        .any(|block| matches!(block, Block::Ticks(_)));
    let drawn = section.title == JOINTS;
    (ticks || drawn).then(|| {
        html! {
            section aria-label=(section.title) class=[ticks.then_some("list")] {
                h2 { (section.title) }
                @if drawn && let Some(answer) = answer { (drawing(visit, answer)) }
                (report::blocks(visit, section, answer, &|line| tick(visit, line, numbers.replace(numbers.get() + 1))))
            }
        }
    })
}

/// One drawing whatever the screen, that is pushed aside under the finger where it is wider.
fn drawing(visit: &Visit<'_>, answer: &dyn Answer) -> Markup {
    let drawn = answer.draw(&charts::Look {
        prefix: SLUG,
        car: &visit.opened.car().name,
        units: visit.units,
        head: false,
        // They stand below it, each with its threads.
        listed: false,
        ..charts::Look::default()
    });
    html! {
        figure class="drawn lines" id="lines-drawing" role="region" tabindex="0" aria-label="Drawing of the pipes" {
            (PreEscaped(drawn.svg))
        }
    }
}

/// Entries that tick something off, oldest first.
fn ticked(history: &History, got: &str) -> Vec<i64> {
    history
        .noted
        .iter()
        .filter(|noted| matches!(&noted.fact, Fact::Got { what } if what == got))
        .map(|noted| noted.id)
        .collect()
}

/// A key that is on or off, and stays so.
fn tick(visit: &Visit<'_>, line: &Tick, number: usize) -> Markup {
    let (on, label) = (line.done, &line.label);
    forms::writes(
        visit,
        SLUG,
        "tick-off",
        number,
        &html! {
            input type="hidden" name="got" value=[line.code.as_ref()];
            input type="hidden" name="now" value=(if on { "off" } else { "on" });
            button type="submit" aria-pressed=(on.to_string()) aria-label={ (label) @if on { ": got" } @else { ": not yet" } } {
                (if on { "✓" } else { "\u{a0}" })
            }
        },
    )
}

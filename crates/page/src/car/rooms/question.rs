//! A room a question: its handles from the one table of options, its answer through its report.

use charts::Look;
use engine::ranges::Sampling;
use maud::{Markup, html};
use questions::options::{Row, Said as Options};
use questions::report::Report;
use questions::{Answer, Case, Question, Stop};

use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::pictures;
use crate::car::report;
use crate::car::report_forms;
use crate::car::studying;
use crate::car::visit::Visit;
use crate::car::what_if;
use crate::car::writing::Writing;
use crate::shell::parts;

/// A question of the list.
pub(crate) struct Asked(pub(crate) &'static dyn Question);

impl Room for Asked {
    fn slug(&self) -> &'static str {
        self.0.room()
    }

    fn question(&self) -> &'static str {
        self.0.asked_as()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        // The frame has looked at that already.
        if self.slug() == "assessment" {
            return visit
                .glanced()
                .map_or_else(String::new, |outcome| outcome.in_short());
        }
        visit.short(self.slug(), || self.0.short(&visit.case()))
    }

    fn handles(&self, visit: &Visit<'_>) -> Vec<Handle> {
        let usual = self.0.usual(&visit.case());
        let stands = |row: &Row| usual.iter().find(|(of, _)| core::ptr::eq(*of, row));
        let moved = self.0.handles().into_iter();
        moved
            .map(|row| stands(row).map_or_else(|| Handle::of(row), |(_, at)| Handle::untouched(row, *at)))
            .collect()
    }

    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        what_if::write(writing).unwrap_or_else(|| report_forms::write(writing))
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        self.told(visit, &|answer| {
            pictures::picture(visit, self.0.name(), |look: &Look<'_>| answer.draw(look))
        })
    }
}

impl Asked {
    /// The whole answer, with the picture that moves as the room shows it.
    pub(crate) fn told(&self, visit: &Visit<'_>, picture: &dyn Fn(&dyn Answer) -> Markup) -> Said {
        let case = visit.case();
        let said = usual(self.0, &case);
        let sampling = Sampling {
            draws: case.sampling.draws.min(self.0.draws()),
            ..case.sampling
        };
        let case = Case {
            said: &said,
            sampling,
            ..case
        };
        if self.0.takes_long(&said) {
            visit.opened.know_of_turn(studying::of(visit));
        }
        let answer = self.0.answer(&case);
        let report = match &answer {
            Ok(answer) => answer.report(),
            Err(wrong) => Report::refused(self.0, &case, wrong),
        };
        let picture = answer.as_deref().ok().map(picture);
        let braked = self.0.braked(&case);
        Said {
            answer: report::answer(visit, &report),
            plan: (!self.0.without_the_car_from_above()).then(|| {
                answer
                    .as_deref()
                    .ok()
                    .and_then(|answer| {
                        pictures::wheels(visit, "plan-above", |look| answer.above(look), &html! {})
                    })
                    .unwrap_or_else(|| super::plan(visit, braked.foot, braked.hand))
            }),
            picture,
            more: if visit.asking.part {
                html! {}
            } else {
                html! {
                    @if self.0.reads_prices() && !visit.of_prices.is_empty() { (parts::wrong(&visit.of_prices)) }
                    (report::more(visit, &report, answer.as_deref().ok(), &|_| None))
                }
            },
        }
    }
}

/// What is said, and what is usual where nothing is.
fn usual(question: &dyn Question, case: &Case<'_>) -> Options {
    let mut said = case.said.clone();
    for (row, stands) in question.usual(case) {
        if !case.said.has(row) {
            said.say(row, row.in_full(&format!("{stands}"), false));
        }
    }
    said
}

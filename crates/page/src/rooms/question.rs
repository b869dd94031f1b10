//! A room a question: its handles from the one table of options, its answer through its report.

use charts::Look;
use maud::html;
use quantity::si::Force;
use questions::report::Report;

use super::Room;
use crate::frame::Said;
use crate::handles::Handle;
use crate::visit::Visit;
use crate::{parts, report};

/// A question of the list.
pub(crate) struct Asked(pub(crate) &'static dyn questions::Question);

impl Room for Asked {
    fn slug(&self) -> &'static str {
        self.0.name()
    }

    fn question(&self) -> &'static str {
        self.0.asked_as()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        self.0.short(&visit.case())
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        let moved = self.0.takes().iter().filter(|row| row.handle.is_some());
        moved.map(|row| Handle::of(row)).collect()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let case = visit.case();
        let answer = self.0.answer(&case);
        let report = match &answer {
            Ok(answer) => answer.report(),
            Err(wrong) => Report::refused(self.0, &case, wrong),
        };
        let picture = answer
            .as_ref()
            .ok()
            .map(|answer| parts::picture(visit, self.0.name(), |look: &Look<'_>| answer.draw(look)));
        Said {
            answer: report::answer(&report),
            plan: Some(super::plan(visit, Force::ZERO, visit.pull())),
            picture,
            more: if visit.asking.part {
                html! {}
            } else {
                report::more(visit, &report)
            },
        }
    }
}

//! "What next?": the order of work, what is done, where one may stop for the night.

use maud::html;
use proving::Fact;
use questions::plan::{Ask, order_of, steps, words};
use questions::report::Report;
use questions::{Question as _, Stop, Wrong};

use super::{Room, Said};
use crate::car::forms;
use crate::car::handles::Handle;
use crate::car::report;
use crate::car::visit::Visit;
use crate::car::writing::Writing;
use crate::shell::parts;

const SLUG: &str = "plan";

pub(crate) struct Next;

impl Room for Next {
    fn slug(&self) -> &'static str {
        SLUG
    }

    fn question(&self) -> &'static str {
        Ask.asked_as()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        Ask.short(&visit.case())
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let order = order_of(&visit.opened);
        let next = order.next().map(|step| step.slug);
        let case = visit.case();
        let report = match Ask.answer(&case) {
            Ok(answer) => answer.report(),
            Err(wrong) => Report::refused(&Ask, &case, &wrong),
        };
        Said {
            answer: report::answer(visit, &report),
            plan: None,
            picture: None,
            more: html! {
                ol class="work" {
                    @for (number, step) in order.steps.iter().enumerate() {
                        @let said = words(step);
                        li class=[step.done.then_some("done")] id={ "step-" (step.slug) } {
                            p class="step" {
                                strong { (if step.done { "Done: " } else if Some(step.slug) == next { "Next: " } else { "" }) }
                                (parts::coded(&said.what))
                            }
                            @if !step.done {
                                p class="source" { (said.with) }
                                p class=(if step.may_stop_after { "source" } else { "caution" }) { (said.night) }
                                (forms::writes(visit, SLUG, "inline", number, &html! {
                                    input type="hidden" name="step" value=(step.slug);
                                    button type="submit" { "Done" }
                                }))
                            }
                        }
                    }
                }
                (report::cautions(&report))
            },
        }
    }

    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        let step = writing.sent.get("step");
        if let Some(visit) = writing.visit()
            && !steps(&visit.opened).contains(&step)
        {
            let what = format!("`{step}` is no step of this car's work");
            return Err(Wrong::plain(SLUG, "no-such-step", what, "load the page again".to_owned()).into());
        }
        writing.note(&[Fact::Step {
            step: step.to_owned(),
        }])
    }
}

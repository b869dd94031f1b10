//! "What next?": the order of work, what is done, where one may stop for the night.

use maud::html;
use proving::Fact;
use proving::order::Order;
use questions::answers::proving::order_of;
use questions::{Stop, Wrong};

use super::Room;
use crate::frame::Said;
use crate::handles::Handle;
use crate::parts;
use crate::visit::{Visit, told_of};
use crate::writing::Writing;

const SLUG: &str = "next";

pub(crate) struct Next;

impl Room for Next {
    fn slug(&self) -> &'static str {
        SLUG
    }

    fn question(&self) -> &'static str {
        "What next?"
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        if visit.history().lost.is_some() {
            return "the logbook does not read".to_owned();
        }
        order(visit).short()
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let order = order(visit);
        let next = order.next().map(|step| step.slug);
        Said {
            answer: html! {
                @if let Some(stop) = &visit.history().lost { (parts::wrong(&told_of(stop))) }
                @match order.next() {
                    Some(step) => { p class="sentence" { "Next: " (parts::coded(&step.what)) } p { "With: " (step.tools) "." }
                        @if !step.may_stop_after { @let (may, what) = step.night(); p class="caution" { (may) ": " (what) "." } }
                    },
                    None => p class="sentence" { "All of it is done, as far as sheet and logbook tell." },
                }
            },
            plan: None,
            picture: None,
            more: html! {
                ol class="work" {
                    @for (number, step) in order.steps.iter().enumerate() {
                        li class=[step.done.then_some("done")] id={ "step-" (step.slug) } {
                            p class="step" {
                                strong { (if step.done { "Done: " } else if Some(step.slug) == next { "Next: " } else { "" }) }
                                (parts::coded(&step.what))
                            }
                            p class="source" { "With: " (step.tools) }
                            @let (may, what) = step.night();
                            @if !step.done && step.may_stop_after { p class="source" { strong { (may) ": " } (what) "." } }
                            @if !step.done && !step.may_stop_after { p class="caution" { (may) ": " (what) "." } }
                            @if !step.done {
                                (parts::writes(visit, SLUG, "inline", number, &html! {
                                    input type="hidden" name="step" value=(step.slug);
                                    button type="submit" { "Done" }
                                }))
                            }
                        }
                    }
                }
            },
        }
    }

    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        let step = writing.sent.get("step");
        if let Some(visit) = writing.visit()
            && !order(visit).steps.iter().any(|known| known.slug == step)
        {
            let what = format!("`{step}` is no step of this car's work");
            return Err(Wrong::plain(SLUG, "no-such-step", what, "load the page again".to_owned()).into());
        }
        writing.note(&[Fact::Step {
            step: step.to_owned(),
        }])
    }
}

fn order(visit: &Visit<'_>) -> Order {
    order_of(&visit.opened, visit.history())
}

//! What `plan` answers, as other programs read it.

use proving::order::WorkOrder;
use schemars::JsonSchema;
use serde::Serialize;

use crate::result::OrWhy;

/// The order of work.
#[derive(Serialize, JsonSchema)]
pub(super) struct PlanView {
    steps: Vec<StepView>,
    /// The first step that is not done.
    next: OrWhy<&'static str>,
}

#[derive(Serialize, JsonSchema)]
struct StepView {
    /// A word for it that never changes.
    step: &'static str,
    what: String,
    tools: &'static str,
    done: bool,
    may_stop_after: bool,
    /// What may be left overnight after it, or must not.
    overnight: &'static str,
}

impl PlanView {
    /// Of an order of work.
    pub(super) fn of(order: &WorkOrder) -> Self {
        Self {
            steps: order
                .steps
                .iter()
                .map(|step| StepView {
                    step: step.slug,
                    what: step.what.clone(),
                    tools: step.tools,
                    done: step.done,
                    may_stop_after: step.may_stop_after,
                    overnight: step.overnight,
                })
                .collect(),
            next: OrWhy::or(order.next().map(|step| step.slug), "all of it is done"),
        }
    }
}

//! What figures of an opened car explain themselves with.

use engine::Conditions;
use engine::balance::Wish;
use engine::heat::{HeatBench, Stage};
use engine::hold::HoldBench;
use engine::loads::Grade;
use engine::working::WorkingBench;

use crate::hold::on_its_slope;
use crate::opened::Opened;

/// Ready to explain any figure: of the lever and the balance under conditions, of heat over a stage (the usual one where
/// none is named), of a latched lever on the slope that it is asked on.
#[must_use]
pub fn working_bench<'o>(
    opened: &'o Opened,
    conditions: &Conditions,
    stage: Option<Stage>,
    wish: Wish,
) -> WorkingBench<'o> {
    let (car, state) = (opened.car(), &opened.state);
    let pull = conditions.pull_at(car, state.surface.peak);
    let bench = WorkingBench::of(car, state.laden, conditions.warmth, pull, wish)
        .parked(HoldBench::of(car, &on_its_slope(opened, conditions)));
    let level = Conditions {
        grade: Grade::LEVEL,
        ..conditions.clone()
    };
    match stage.or_else(|| sheet::built_in_stage(crate::heat::USUAL_STAGE)) {
        Some(stage) => bench.over(HeatBench::of(car, &level), stage),
        None => bench,
    }
}

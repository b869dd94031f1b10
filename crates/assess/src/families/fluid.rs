//! The brake fluid: age and grade.

use engine::car::FluidGrade;
use engine::thresholds::SEASON_DAYS;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [age(seen), grade(seen)].into_iter().flatten().collect()
}

fn age(seen: &Seen<'_>) -> Option<Finding> {
    let day = seen.figures.conditions.day?;
    let Some(fitted) = seen.car.fluid.fitted else {
        return Some(
            Finding::new(
                "fluid-age-unknown",
                Weight::Fix,
                "Nobody knows how old the fluid is",
            )
            .because("The sheet has no date for it. Fluid draws water from the day it is opened.")
            .remedy("Change it, and write the day under `fluid.fitted`.")
            .caution(cautions::FLUID),
        );
    };
    let days = seen.figures.fluid.days?;
    if days < 0 {
        return Some(
            Finding::new("fluid-date", Weight::Know, "The fluid's date lies ahead")
                .because(format!("It says {fitted}, and the day looked at is {day}."))
                .remedy("Put `fluid.fitted` right.")
                .figure("days", f64::from(days)),
        );
    }
    (days > SEASON_DAYS).then(|| {
        Finding::new("fluid-old", Weight::Fix, "The fluid is older than a season")
            .because(format!(
                "It went in on {fitted}, {days} days ago. With its share of water it boils at {} rather than {}.",
                wording::celsius(seen.car.fluid.boiling_wet),
                wording::celsius(seen.car.fluid.boiling_dry)
            ))
            .remedy("Change it, all four corners and the lever's cylinder.")
            .caution(cautions::FLUID)
            .figure("days", f64::from(days))
            .figure("boiling_wet_k", seen.car.fluid.boiling_wet.k())
    })
}

fn grade(seen: &Seen<'_>) -> Option<Finding> {
    let (fluid, promises) = (&seen.car.fluid, seen.figures.fluid.grade_promises);
    if seen.figures.fluid.below_grade {
        return Some(
            Finding::new(
                "fluid-below-grade",
                Weight::Fix,
                "The fluid boils below what its grade promises",
            )
            .because(format!(
                "The sheet says {} fresh and {} wet; its grade promises {} and {} at least.",
                wording::celsius(fluid.boiling_dry),
                wording::celsius(fluid.boiling_wet),
                wording::celsius(promises.0),
                wording::celsius(promises.1)
            ))
            .remedy("Read the bottle again; if it was a tester that said so, change the fluid.")
            .caution(cautions::FLUID)
            .figure("boiling_dry_k", fluid.boiling_dry.k())
            .figure("boiling_wet_k", fluid.boiling_wet.k()),
        );
    }
    match fluid.grade {
        FluidGrade::Dot3 => Some(
            Finding::new("fluid-grade", Weight::Fix, "The lowest fluid grade, and driven hard")
                .because(format!(
                    "It boils at {} fresh and {} with its share of water.",
                    wording::celsius(fluid.boiling_dry),
                    wording::celsius(fluid.boiling_wet)
                ))
                .remedy("DOT 4 or DOT 5.1 mixes with what is in there; flush until the new one comes.")
                .caution(cautions::FLUID)
                .figure("boiling_dry_k", fluid.boiling_dry.k())
                .figure("boiling_wet_k", fluid.boiling_wet.k()),
        ),
        FluidGrade::Dot5 => Some(
            Finding::new("fluid-silicone", Weight::Know, "The fluid is silicone")
                .because("It gives more under pressure than glycol fluids, more so hot. It holds air, and mixes with \
                    none of them.")
                .remedy("Keep every bottle of the other family away from this car.")
                .caution(cautions::FLUID),
        ),
        FluidGrade::Dot4 | FluidGrade::Dot51 => None,
    }
}

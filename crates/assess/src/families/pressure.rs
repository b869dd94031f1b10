//! The pressure at an abuse pull against what parts are made for.

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use engine::thresholds::{ABUSE_HAND, GAUGE_END, HOSE_TESTED, VALVE_LIMIT};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let Some(abuse) = seen.figures.hand.as_ref().and_then(|hand| hand.abuse) else {
        return Vec::new();
    };
    let over = |limit: quantity::si::Pressure| abuse.own > limit;
    let mut past = Vec::new();
    if over(GAUGE_END) {
        past.push(format!(
            "That is past the end of a common gauge ({}).",
            seen.say.pressure(GAUGE_END)
        ));
    }
    let mut grave = false;
    if abuse.reaches_valve && over(VALVE_LIMIT) {
        past.push(format!(
            "It is past what a common bias valve is made for ({}).",
            seen.say.pressure(VALVE_LIMIT)
        ));
        grave = true;
    }
    if over(HOSE_TESTED) {
        past.push(format!(
            "It is past what a brake hose is tested at ({}).",
            seen.say.pressure(HOSE_TESTED)
        ));
        grave = true;
    }
    if past.is_empty() {
        return Vec::new();
    }
    let weight = if grave { Weight::Fix } else { Weight::Know };
    let title = if grave {
        "An abuse pull overloads some parts"
    } else {
        "An abuse pull goes past a common gauge"
    };
    let ends = if abuse.runs_out {
        ", where the travel ends"
    } else {
        ""
    };
    vec![
        Finding::new("abuse-pressure", weight, title)
            .because(format!(
                "{} at the grip make {}{ends}. {}",
                seen.say.hand(ABUSE_HAND),
                seen.say.pressure(abuse.own),
                past.join(" ")
            ))
            .remedy("Screw gauges in for slow pulls only. Compare the makers' ratings of hose, valve and gauge with \
                this figure.")
            .caution(cautions::FLUID)
            .figure("own_pa", abuse.own.pa())
            .figure("at_brakes_pa", abuse.at_brakes.pa()),
    ]
}

//! The bias valve: where it sits, and the factory's that is gone.

use engine::car::{LeverKind, Master, ValvePlace};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::percent;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [factory_valve(seen), unsaid(seen), after_lever(seen)]
        .into_iter()
        .flatten()
        .collect()
}

fn factory_valve(seen: &Seen<'_>) -> Option<Finding> {
    let replaced = seen.car.bias_valve.is_some() || matches!(seen.car.master, Master::Twin { .. });
    if !seen.car.before.factory_valve || replaced {
        return None;
    }
    let leads = seen.figures.braked.rear_leads().next().is_some();
    let weight = if leads && seen.car.road_registered {
        Weight::Stop
    } else {
        Weight::Fix
    };
    let now = if leads {
        "As the car is now, the rear leads on surfaces that it runs on."
    } else {
        "On the car's own surfaces the front still leads; pads, fuel or rain may change that."
    };
    Some(
        Finding::new("factory-valve-gone", weight, "The factory's valve is gone, with no substitute")
            .because(format!("It held the rear back as load moved forward. {now}"))
            .remedy("Fit a bias valve in the rear line before the lever. A diagonal split takes one in each rear line.")
            .caution(cautions::FLUID)
            .figure("front_first_by", seen.figures.braked.lock.at.map(|point| point.front_first_by)),
    )
}

fn unsaid(seen: &Seen<'_>) -> Option<Finding> {
    (seen.leaned_on("bias_valve") && seen.car.road_registered).then(|| {
        Finding::new("bias-valve-unsaid", Weight::Fix, "Nobody said whether the rear has a valve")
            .because(
                "The sheet leaves it out, and none is counted. Most road cars have one from the factory, in the rear \
                 line or in the master cylinder. It decides which end locks first.",
            )
            .remedy("Follow the rear line from the master. Write [bias_valve] with its kind and knee, or write \
                bias_valve = \"none\" at the top.")
            .caution(cautions::FLUID)
    })
}

fn after_lever(seen: &Seen<'_>) -> Option<Finding> {
    let valve = seen
        .car
        .bias_valve
        .as_ref()
        .filter(|valve| valve.place == ValvePlace::AfterLever)?;
    let lever = seen.car.lever.as_ref()?;
    if !matches!(lever.kind, LeverKind::Inline(_)) {
        return None;
    }
    let knee = seen.figures.foot.hard.knee.unwrap_or_default();
    let needs = seen.locking().and_then(|to_lock| to_lock.pressure);
    let cut = if valve.slope <= 0.0 {
        format!(
            "However hard the pull, the brakes get {} at most",
            seen.say.pressure(knee)
        )
    } else {
        format!(
            "Above {} the brakes get only {} of what the pull adds",
            seen.say.pressure(knee),
            percent(valve.slope)
        )
    };
    let wanted = needs.map_or_else(String::new, |needs| {
        format!("; locking takes {} there", seen.say.needed_pressure(needs))
    });
    Some(
        Finding::new(
            "valve-after-lever",
            Weight::Fix,
            "The bias valve also cuts the hand's pressure",
        )
        .because(format!("It sits between lever and brakes. {cut}{wanted}."))
        .remedy("Move it to the inlet side of the lever, so that only the foot's pressure passes it.")
        .caution(cautions::FLUID)
        .figure("knee_pa", knee.pa())
        .figure("pressure_pa", needs.map(quantity::si::Pressure::pa)),
    )
}

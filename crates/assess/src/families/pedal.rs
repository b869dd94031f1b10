//! The pedal and its cylinder.

use engine::car::{Brake, Master};
use engine::thresholds::BOOSTED;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [runs_out(seen), booster_unsaid(seen), residual(seen), lamps(seen)]
        .into_iter()
        .flatten()
        .collect()
}

fn runs_out(seen: &Seen<'_>) -> Option<Finding> {
    let pedal = &seen.figures.foot.hard.pedal;
    pedal.runs_out.then(|| {
        Finding::new(
            "pedal-runs-out",
            Weight::Stop,
            "The pedal bottoms before full braking",
        )
        .because(format!(
            "At {} of foot the master's stroke ends after {} at the foot, at {}.",
            seen.say.force(engine::thresholds::FOOT_LIMIT_ROAD),
            seen.say.length(pedal.travel),
            seen.say.pressure(pedal.chambers[0].min(pedal.chambers[1]))
        ))
        .remedy(
            "Bleed, take up clearances, shorten soft hose. Then fit a master with a larger bore or a longer \
                stroke.",
        )
        .caution(cautions::FIRST_DRIVE)
        .figure("travel_m", pedal.travel.m())
        .figure("master_pa", pedal.chambers[0].min(pedal.chambers[1]).pa())
    })
}

fn booster_unsaid(seen: &Seen<'_>) -> Option<Finding> {
    let mass = seen.car.weighed.front + seen.car.weighed.rear;
    (seen.leaned_on("pedal.booster") && mass > BOOSTED).then(|| {
        Finding::new("booster-unsaid", Weight::Fix, "Nobody said whether there is a booster")
            .because(format!(
                "The sheet leaves it out, and none is counted. A car of {} without one is rare. With one the foot \
                 makes several times the pressure.",
                seen.say.mass(mass)
            ))
            .remedy("Look behind the master cylinder. Write [pedal.booster] with its gain and run_out, or write \
                booster = \"none\" under [pedal].")
            .caution(cautions::FIRST_DRIVE)
            .figure("mass_kg", mass.kg())
    })
}

fn residual(seen: &Seen<'_>) -> Option<Finding> {
    let (Master::Tandem { residual_valve, .. } | Master::Twin { residual_valve, .. }) = seen.car.master;
    match (residual_valve, &seen.car.rear_brake) {
        (true, Brake::Disc(_)) => Some(
            Finding::new("residual-valve-with-discs", Weight::Fix, "A residual valve holds the rear discs on")
                .because(
                    "The master keeps a little pressure back for drums. Discs have no springs to push against it: \
                     the pads drag, and the fluid heats. It looks like a handbrake that does not let go.",
                )
                .remedy("Take the residual valve out of the master's rear outlet, or fit a master made for discs.")
                .caution(cautions::FLUID),
        ),
        (false, Brake::Drum(_)) => Some(
            Finding::new("residual-valve-missing", Weight::Know, "No residual valve for the rear drums")
                .because(
                    "Cups of some wheel cylinders want a little pressure at rest so that they draw no air. Cups with \
                     expanders behind them do not.",
                )
                .remedy("Open one cylinder and look for the expander. Without one, fit a residual valve to the rear \
                    outlet.")
                .caution(cautions::FLUID),
        ),
        _ => None,
    }
}

fn lamps(seen: &Seen<'_>) -> Option<Finding> {
    let lever = seen.car.lever.as_ref().filter(|_| seen.by_fluid())?;
    (!lever.switch).then(|| {
        let weight = if seen.car.road_registered {
            Weight::Fix
        } else {
            Weight::Know
        };
        Finding::new("brake-lamps", weight, "The lever does not light the brake lamps")
            .because(
                "The lever has no switch. The car slows hard on the handbrake, and nobody behind it is told.",
            )
            .remedy("Fit a switch at the lever and wire it beside the pedal's.")
            .caution(cautions::EVENT)
    })
}

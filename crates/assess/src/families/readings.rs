//! What was measured, where it does not fit.

use engine::car::Wheel;
use engine::figures::{HeldAgainst, ReadingKind, Sides};
use engine::thresholds::{READING_OFF, UNEVEN};
use proving::newest_soak;
use quantity::si::{Pressure, Torque};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::percent;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let figures = seen.figures;
    let off = figures
        .readings
        .iter()
        .filter(|reading| reading.off_by.abs() > READING_OFF);
    let uneven: Vec<&Sides> = figures
        .sides
        .iter()
        .filter(|sides| sides.less_by > UNEVEN)
        .collect();
    let told_as_uneven = |reading: &HeldAgainst| matches!(reading.kind, ReadingKind::Wheel(wheel) if uneven.iter().any(|sides| sides.weaker == wheel));
    let mut findings: Vec<Finding> = uneven.iter().map(|sides| differ(sides)).collect();
    findings.extend(
        off.filter(|reading| !told_as_uneven(reading))
            .map(|reading| disagrees(seen, reading)),
    );
    findings.extend(lost(seen));
    findings
}

const fn name(wheel: Wheel) -> &'static str {
    match wheel {
        Wheel::FrontLeft => "front left",
        Wheel::FrontRight => "front right",
        Wheel::RearLeft => "rear left",
        Wheel::RearRight => "rear right",
    }
}

fn disagrees(seen: &Seen<'_>, reading: &HeldAgainst) -> Finding {
    let pressure = |pa: f64| seen.say.pressure(Pressure::from_pa(pa));
    let torque = |nm: f64| seen.say.torque(Torque::from_nm(nm));
    let (low, high) = reading.computed_si;
    let more = if reading.off_by < 0.0 { "less" } else { "more" };
    let (slug, what, measured, computed, look) = match reading.kind {
        ReadingKind::Pedal => (
            "pedal-reading",
            "The pedal's pressure is not as written",
            pressure(reading.measured_si),
            pressure(low),
            "Read it again with the engine running. Then look at booster gain and run-out, pedal ratio and bore. \
             Every force of the foot on these pages rests on them.",
        ),
        ReadingKind::Valve => (
            "valve-reading",
            "The bias valve is not as written",
            pressure(reading.measured_si),
            pressure(low),
            "Read two more settings with both gauges. What they say goes before the maker's figures.",
        ),
        ReadingKind::Wheel(wheel) => {
            let between = format!("{} to {}", torque(low), torque(high));
            return Finding::new(
                "wheel-reading",
                Weight::Fix,
                format!("The {} brake is not as written", name(wheel)),
            )
            .because(format!(
                "Measured: {}. Cold to warm, the sheet's figures make {between}. The reading is {} {more}.",
                torque(reading.measured_si),
                percent(reading.off_by)
            ))
            .remedy("Bed the pads in and measure again; then put the friction right on the sheet.")
            .caution(cautions::STANDS)
            .figure("measured_nm", reading.measured_si)
            .figure("computed_low_nm", low)
            .figure("computed_high_nm", high);
        }
    };
    Finding::new(slug, Weight::Fix, what)
        .because(format!(
            "Measured: {measured}. The sheet's figures make {computed}. The reading is {} {more}.",
            percent(reading.off_by)
        ))
        .remedy(look)
        .figure("measured_pa", reading.measured_si)
        .figure("computed_pa", low)
}

fn differ(sides: &Sides) -> Finding {
    let axle = if matches!(sides.weaker, Wheel::FrontLeft | Wheel::FrontRight) {
        "front"
    } else {
        "rear"
    };
    Finding::new("uneven-sides", Weight::Fix, format!("The {axle} brakes pull unevenly"))
        .because(format!(
            "At the same pressure the {} wheel held {} less than the one across. The car pulls to one side, and one \
             rear \
             wheel locks long before the other.",
            name(sides.weaker),
            percent(sides.less_by)
        ))
        .remedy("On that side look for oil on the pads, a seized slide or piston, a worn pad, a pinched hose. Then \
            measure again.")
        .caution(cautions::STANDS)
        .figure("less_by", sides.less_by)
}

/// The round and the assessment judge a closed pressure by one rule, and a weep is a weep in both.
fn lost(seen: &Seen<'_>) -> Option<Finding> {
    let (soak, verdict) = newest_soak(seen.car).filter(|(_, verdict)| verdict.weeps())?;
    Some(
        Finding::new("pressure-lost", Weight::Stop, "Held pressure goes away")
            .because(format!(
                "From {} to {} in {}. Temperature and creeping rubber explain {}, give or take {}. The rest is a \
                 weep of {} an hour, at a joint or a seal.",
                seen.say.pressure(soak.from),
                seen.say.pressure(soak.to),
                wording::minutes(soak.held_for),
                seen.say.pressure(verdict.explained),
                seen.say.pressure(verdict.unsure),
                seen.say.fluid(verdict.loses)
            ))
            .remedy("Dry every joint. Hold pressure with a prop on the pedal or a strap on the lever, and feel \
                round. Then look at the cylinder's seals.")
            .caution(cautions::FLUID)
            .figure("from_pa", soak.from.pa())
            .figure("to_pa", soak.to.pa())
            .figure("held_for_s", soak.held_for.s())
            .figure("explained_pa", verdict.explained.pa())
            .figure("unsure_pa", verdict.unsure.pa()),
    )
}

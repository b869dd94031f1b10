//! Pads and linings: cold bite and thickness.

use engine::car::Brake;
use engine::thresholds::{COLD_BITE, PAD_THIN, PAD_WORN};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::percent;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (which, brake) in seen.disc_brakes() {
        let thickness = brake.pad_thickness;
        if thickness < PAD_THIN {
            let weight = if thickness < PAD_WORN {
                Weight::Stop
            } else {
                Weight::Fix
            };
            findings.push(
                Finding::new("thin-pads", weight, format!("The {which} pads are nearly gone"))
                    .because(format!(
                        "{} of friction material are left. Thin pads run hotter, pass the heat to the fluid, and \
                         leave the pistons far out.",
                        seen.say.length(thickness)
                    ))
                    .remedy("Fit new ones, and bed them in before the balance is set.")
                    .caution(cautions::STANDS)
                    .figure("thickness_m", thickness.m()),
            );
        }
        findings.extend(cold(which, "pads", brake.friction.cold, brake.friction.warm));
    }
    for (which, brake) in [("front", &seen.car.front_brake), ("rear", &seen.car.rear_brake)] {
        if let Brake::Drum(drum) = brake {
            findings.extend(cold(which, "linings", drum.friction.cold, drum.friction.warm));
        }
    }
    findings
}

fn cold(which: &str, what: &str, cold: f64, warm: f64) -> Option<Finding> {
    let bite = cold / warm;
    (bite < COLD_BITE).then(|| {
        Finding::new("cold-bite", Weight::Fix, format!("The {which} {what} hardly bite cold"))
            .because(format!(
                "Cold they have {} of their warm friction ({} against {}). After a wait the car brakes otherwise in \
                 its first corners. There balance and handbrake go by the cold figure.",
                percent(bite),
                wording::ratio(cold),
                wording::ratio(warm)
            ))
            .remedy("Fit a compound made for short, cold work. Or warm them by dragging the brakes before they are \
                needed.")
            .figure("cold_friction", cold)
            .figure("friction", warm)
    })
}

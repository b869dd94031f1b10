//! Heat over a stage, and how long a latched lever holds.

use engine::car::{Axle, Car};
use engine::heat::{CornerHeat, Heat, HeatHelp, NOBODY_DRIVES_ON, What};
use engine::hold::{Hold, Kept};
use engine::thresholds::{
    AGE_MATTERS_WITHIN, FADED_BELOW, HEAVIER, HOSE_TESTED, LITTLE_LEFT, PARKED_ON, RISES, SERVICE,
    START_LINE, STILL_MOVING,
};
use quantity::si::{Temperature, TemperatureDifference};
use wording::{Units, apart, celsius, minutes};

use crate::cautions::{FLUID, LATCH, ROAD};
use crate::finding::{Finding, Weight};
use crate::say::{Say, percent};

const fn name(axle: Axle) -> &'static str {
    match axle {
        Axle::Front => "front",
        Axle::Rear => "rear",
    }
}

/// What a stage's heat means, worst first.
#[must_use]
pub fn heat(car: &Car, heat: &Heat, helps: &[HeatHelp]) -> Vec<Finding> {
    let mut found: Vec<Finding> = [
        drags(heat),
        boils(heat),
        pads(heat, helps),
        foot(heat),
        age(car, heat),
        ends_moving(heat),
    ]
    .into_iter()
    .flatten()
    .collect();
    found.sort_by_key(|finding| finding.weight);
    found
}

fn drags(heat: &Heat) -> Option<Finding> {
    let drags = heat.drags?;
    let pressure = drags.pressure.pa();
    let title = "Without free play the rear brakes may drag";
    let finding = |weight: Weight, because: String| {
        Finding::new("heat-drags", weight, title)
            .because(because)
            .remedy("Set some free play at the grip; after a run the rear wheels have to turn by hand.")
            .figure("pressure_pa", pressure)
            .figure("felt_at_s", drags.felt_at.map(|at| at.s()))
            .figure("ends_at_s", drags.ends_at.map(|at| at.s()))
    };
    Some(match (drags.felt_at, drags.ends_at) {
        (_, Some(ends)) => finding(
            Weight::Stop,
            format!(
                "If the by-pass stays covered, the warming fluid holds the rear by {} of the weight after {}.",
                percent(NOBODY_DRIVES_ON),
                minutes(ends)
            ),
        ),
        (Some(felt), None) => finding(
            Weight::Fix,
            format!(
                "If the by-pass stays covered, the rear is felt to drag after {}.",
                minutes(felt)
            ),
        ),
        (None, None) => finding(
            Weight::Know,
            "If the by-pass stays covered, warmth raises the rear pressure; in this stage it does not drag \
             yet."
                .to_owned(),
        ),
    })
}

fn hottest(corner: &CornerHeat) -> Temperature {
    corner.fluid_running.max(corner.fluid_soak)
}

fn boils(heat: &Heat) -> Option<Finding> {
    let axle = if heat.rear.to_wet < heat.front.to_wet {
        Axle::Rear
    } else {
        Axle::Front
    };
    let corner = heat.corner(axle);
    let (slug, weight, title) = match () {
        () if corner.to_now.dk() < 0.0 => ("fluid-boils", Weight::Stop, "The fluid boils at its age"),
        () if corner.to_wet.dk() < 0.0 => (
            "fluid-boils-wet",
            Weight::Fix,
            "Only fresh fluid will do for this stage",
        ),
        () if corner.to_wet < LITTLE_LEFT => {
            ("fluid-near-boiling", Weight::Know, "The fluid comes near boiling")
        }
        () => return None,
    };
    let boiling = &heat.boiling;
    Some(
        Finding::new(slug, weight, title)
            .because(format!(
                "The {} fluid reaches {}. It boils at {} wet, {} at its age, {} dry.",
                name(axle),
                celsius(hottest(corner)),
                celsius(boiling.wet),
                celsius(boiling.now),
                celsius(boiling.dry)
            ))
            .remedy(
                "Change the fluid before such a stage, and lead air to the brakes. Roll on after the finish \
                rather than stop.",
            )
            .caution(FLUID)
            .figure("fluid_peak_k", hottest(corner).k())
            .figure("boiling_now_k", boiling.now.k())
            .figure("boiling_wet_k", boiling.wet.k()),
    )
}

fn pads(heat: &Heat, helps: &[HeatHelp]) -> Option<Finding> {
    let nearest_first = if heat.rear.to_fade < heat.front.to_fade {
        [Axle::Rear, Axle::Front]
    } else {
        [Axle::Front, Axle::Rear]
    };
    // Pads made for more heat may be further from fading and yet beyond what is known.
    let axle = nearest_first.into_iter().find(|&axle| {
        let corner = heat.corner(axle);
        corner.to_fade.dk() < 0.0 || corner.left_tables
    })?;
    let corner = heat.corner(axle);
    // What would help was asked of what governs: fresh fluid does nothing for pads.
    let asked_of_these = heat.governs.what == What::Pads && heat.governs.axle == axle;
    let more = helps
        .iter()
        .filter(|_| asked_of_these)
        .map(|help| help.gains.dk())
        .fold(0.0, f64::max);
    let because = if corner.left_tables {
        format!(
            "The {} discs or drums reach {}, beyond what iron or the pads' curve is known for. Read it as too hot, \
             not to the degree.",
            name(axle),
            celsius(corner.disc_peak)
        )
    } else {
        format!(
            "The {} discs or drums reach {}, {} beyond where {} of the friction is left.",
            name(axle),
            celsius(corner.disc_peak),
            apart(corner.to_fade),
            percent(FADED_BELOW)
        )
    };
    let (slug, weight, title) = if corner.to_fade.dk() < 0.0 {
        ("pads-fade", Weight::Fix, "The pads fade")
    } else {
        (
            "heat-beyond-tables",
            Weight::Know,
            "Hotter than pads or iron are known for",
        )
    };
    Some(
        Finding::new(slug, weight, title)
            .because(because)
            .remedy(if more > 0.0 {
                format!(
                    "The best single change gives {}; see what would help.",
                    apart(TemperatureDifference::from_dk(more))
                )
            } else {
                "Bigger discs, air, or pads made for more heat.".to_owned()
            })
            .figure("disc_peak_k", corner.disc_peak.k())
            .figure("fade_worst", corner.fade_worst),
    )
}

fn foot(heat: &Heat) -> Option<Finding> {
    let foot = heat.foot.filter(|foot| foot.over_warm >= HEAVIER)?;
    Some(
        Finding::new("fade-in-the-foot", Weight::Know, "Fade makes the foot heavier")
            .because(format!("At the hottest a stop asks for {} of what it asks with warm pads.", percent(foot.over_warm)))
            .remedy("Tell the driver. A pedal that is heavy and firm is fade; one that is long and soft is vapour.")
            .figure("over_warm", foot.over_warm)
            .figure("foot_force_n", foot.most.n()),
    )
}

fn age(car: &Car, heat: &Heat) -> Option<Finding> {
    (car.fluid.fitted.is_none() && heat.front.to_dry.min(heat.rear.to_dry) < AGE_MATTERS_WITHIN).then(|| {
        Finding::new(
            "heat-fluid-age",
            Weight::Know,
            "Fluid of unknown age counts as wet",
        )
        .because(format!(
            "It boils at {} wet and {} dry.",
            celsius(heat.boiling.wet),
            celsius(heat.boiling.dry)
        ))
        .remedy("Change it, and write the day under `fluid.fitted`.")
        .figure("boiling_wet_k", heat.boiling.wet.k())
    })
}

fn ends_moving(heat: &Heat) -> Option<Finding> {
    let given_up = heat.drags.is_some_and(|drags| drags.ends_at.is_some());
    (heat.ends_at > STILL_MOVING && !given_up).then(|| {
        Finding::new(
            "stage-ends-moving",
            Weight::Know,
            "The stage ends before the car stops",
        )
        .because(format!(
            "Its last speed is {}; the stop that follows is not counted.",
            wording::speed(heat.ends_at)
        ))
        .remedy("Write the stop behind the finish as a last [[stop]] down to \"0 km/h\".")
        .figure("ends_at_m_s", heat.ends_at.m_s())
    })
}

/// What the holding means, worst first, its figures in a person's own units.
#[must_use]
pub fn hold(car: &Car, hold: &Hold, units: Units) -> Vec<Finding> {
    let mut found: Vec<Finding> = [
        lets_go(hold),
        leaves(car, hold),
        rises(hold, Say::new(units, wording::Precision::default())),
        kept(car, hold),
        unmeasured(hold),
    ]
    .into_iter()
    .flatten()
    .collect();
    found.sort_by_key(|finding| finding.weight);
    found
}

fn lets_go(hold: &Hold) -> Option<Finding> {
    let worst = hold.worst()?;
    let held = worst.holds_for?;
    let (slug, weight, title) = if !hold.holds(START_LINE) {
        (
            "hold-start-line",
            Weight::Fix,
            "It does not hold for a start line",
        )
    } else if !hold.holds(SERVICE) {
        (
            "hold-service",
            Weight::Know,
            "It holds a start line, not a service",
        )
    } else {
        return None;
    };
    Some(
        Finding::new(slug, weight, title)
            .because(if held.s() > 0.0 {
                format!("From {} it lets go after {}.", worst.from.name(), minutes(held))
            } else {
                format!("From {} it does not hold at all.", worst.from.name())
            })
            .remedy("Somebody stays in the car with a foot on the pedal. Put chocks under before anybody gets out.")
            .caution(LATCH)
            .figure("minutes", held.s() / 60.0)
            .figure("slope", hold.grade.slope),
    )
}

fn leaves(car: &Car, hold: &Hold) -> Option<Finding> {
    let by_fluid = hold.seep.is_some();
    (by_fluid && hold.kept == Kept::None).then(|| {
        let weight = if car.road_registered {
            Weight::Stop
        } else {
            Weight::Know
        };
        Finding::new("hold-not-parking", weight, "Nothing mechanical parks this car")
            .because(
                "Pressure that is trapped cools, creeps and seeps away, however long it is computed to last.",
            )
            .remedy("Keep or fit a mechanical parking brake. Until then: chocks, in gear, level ground.")
            .caution(if car.road_registered { ROAD } else { LATCH })
    })
}

fn rises(hold: &Hold, say: Say) -> Option<Finding> {
    let (most, latched) = hold
        .arrivals
        .iter()
        .filter_map(|arrival| Some((arrival.pressure_max?, arrival.pressure?)))
        .reduce(|most, next| if next.0 > most.0 { next } else { most })?;
    if most.pa() < RISES * latched.pa() {
        return None;
    }
    let beyond = most > HOSE_TESTED;
    Some(
        Finding::new(
            "hold-pressure-rises",
            if beyond { Weight::Fix } else { Weight::Know },
            "Latched hot, pressure rises before it falls",
        )
        .because(format!(
            "The calipers warm up behind the latch: from {} to {}.",
            say.pressure(latched),
            say.pressure(most)
        ))
        .remedy(if beyond {
            "That is beyond what a hose is tested at: do not latch it hot."
        } else {
            "Latch, hose and seals have to withstand it; let go and pull again after a few minutes."
        })
        .figure("pressure_max_pa", most.pa())
        .figure("pressure_pa", latched.pa()),
    )
}

fn kept(car: &Car, hold: &Hold) -> Option<Finding> {
    let Kept::Computed(kept) = hold.kept else {
        return None;
    };
    (car.road_registered && kept.steepest < PARKED_ON).then(|| {
        Finding::new(
            "kept-cable-weak",
            Weight::Fix,
            "The kept cable does not hold the slope",
        )
        .because(format!(
            "At the driver's pull it holds {}; the road rule's slope is {}.",
            percent(kept.steepest),
            percent(PARKED_ON)
        ))
        .remedy("Adjust cable and shoes, and try it on a slope; an inspector decides.")
        .caution(ROAD)
        .figure("steepest", kept.steepest)
    })
}

fn unmeasured(hold: &Hold) -> Option<Finding> {
    hold.seep.filter(|seep| !seep.measured).map(|seep| {
        Finding::new(
            "hold-seep-unmeasured",
            Weight::Know,
            "What the seals let past is a guess",
        )
        .because("No soak was measured on this car.")
        .remedy("Latch it cold against a gauge for ten minutes, and put the soak on the sheet.")
        .figure("seep_m3_s_pa", seep.m3_s_pa)
    })
}

//! Which end locks first under the foot.

use engine::balance::{Purpose, Setting};
use engine::car::{KnobScale, Master};
use engine::figures::{RoadRow, ScanPoint};
use engine::thresholds::{FAR_AHEAD, MANY_TURNS, ONE_SETTING, TOO_FAR_AHEAD, WANTED_LEAD};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::{grip, list, percent};

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = [on_the_road(seen), least_rate(seen)]
        .into_iter()
        .flatten()
        .collect();
    findings.extend(rear_first(seen));
    findings.extend(
        [front_far_ahead(seen), many_turns(seen), stage_and_road(seen)]
            .into_iter()
            .flatten(),
    );
    findings
}

/// How valve or bar would be set, in words; or why it cannot.
fn how_to_set(seen: &Seen<'_>, row: &Setting) -> String {
    wording::turned::setting(row, None, &seen.figures.settings, seen.say.units())
}

fn row_for<'a>(seen: &Seen<'a>, purpose: Purpose) -> Option<&'a Setting> {
    seen.figures
        .settings
        .rows
        .iter()
        .find(|row| row.purpose == purpose)
}

const LESS_BEHIND: &str =
    "Else less brake behind: pads with less friction, smaller pistons; or more in front.";

/// What would cure a rear that locks first, on every surface and fuel load of the car's.
fn cure(seen: &Seen<'_>) -> String {
    let set = seen.figures.braked.for_all;
    let how = wording::turned::set_so(
        wording::turned::Set {
            knob: set.knob,
            bar: set.bar,
            knee: set.knee,
            why_not: set.why_not,
            known: None,
        },
        &seen.figures.settings,
        seen.say.units(),
    );
    if set.why_not.is_none() || set.bar.is_some() {
        format!(
            "For front first by {} on all its surfaces, whatever the fuel, {how}. {LESS_BEHIND}",
            percent(WANTED_LEAD)
        )
    } else {
        format!("What there is cannot be set right for all its surfaces: {how}. {LESS_BEHIND}")
    }
}

/// What would put the front first on the road.
fn cure_for_road(seen: &Seen<'_>) -> String {
    let set = row_for(seen, Purpose::Road).map(|row| (row.reachable, how_to_set(seen, row)));
    match set {
        Some((true, how)) => format!(
            "For front first by {} at every grip and load, {how}. {LESS_BEHIND}",
            percent(WANTED_LEAD)
        ),
        Some((false, why)) => format!("The parts on the car do not reach it: {why}. {LESS_BEHIND}"),
        None => LESS_BEHIND.to_owned(),
    }
}

fn loads(seen: &Seen<'_>, rows: &[&RoadRow]) -> String {
    let of = |crew: bool| -> Vec<String> {
        rows.iter()
            .filter(|row| row.crew == crew)
            .map(|row| seen.say.fuel(row.fuel))
            .collect()
    };
    let all = |crew: bool| {
        seen.figures
            .braked
            .road
            .iter()
            .filter(|row| row.crew == crew)
            .count()
    };
    let said: Vec<String> = [(true, "with crew aboard"), (false, "with nobody aboard")]
        .into_iter()
        .map(|(crew, who)| (of(crew), all(crew), who))
        .filter(|(fuels, ..)| !fuels.is_empty())
        .map(|(fuels, all, who)| {
            if fuels.len() == all {
                format!("{who}, whatever the fuel")
            } else {
                format!("{who} and {}", list(&fuels))
            }
        })
        .collect();
    list(&said)
}

fn on_the_road(seen: &Seen<'_>) -> Option<Finding> {
    let broken: Vec<&RoadRow> = seen
        .figures
        .braked
        .road
        .iter()
        .filter(|row| !row.rules.rear_below_front)
        .collect();
    if broken.is_empty() {
        return None;
    }
    let driven = broken.iter().any(|row| row.crew);
    let (weight, title) = if driven {
        (Weight::Stop, "On the road the rear locks first")
    } else {
        (Weight::Fix, "On the road, empty, the rear locks first")
    };
    let alone = if driven {
        ""
    } else {
        " A driver alone lies between nobody and a crew."
    };
    Some(
        Finding::new("rear-first-road", weight, title)
            .because(format!(
                "As the car is set now, the rear axle uses more of its grip than the front somewhere between braking \
                 rates of 0.15 and 0.80, {}.{alone} Road rules want the front first at every load.",
                loads(seen, &broken)
            ))
            .remedy(format!("Before it goes on the road: {}", lower(&cure_for_road(seen))))
            .caution(cautions::ROAD),
    )
}

fn least_rate(seen: &Seen<'_>) -> Option<Finding> {
    let broken: Vec<&RoadRow> = seen
        .figures
        .braked
        .road
        .iter()
        .filter(|row| !row.rules.least_rate_met)
        .collect();
    if broken.is_empty() {
        return None;
    }
    let weight = if broken.iter().any(|row| row.crew) {
        Weight::Fix
    } else {
        Weight::Know
    };
    Some(
        Finding::new("road-least-rate", weight, "One axle wastes grip the road rule wants")
            .because(format!(
                "{}: the axle that works harder is at its grip before the car brakes at 0.1 + 0.7 × (grip − 0.2).",
                capital(&loads(seen, &broken))
            ))
            .remedy(format!("Share the work out better. {}", cure_for_road(seen)))
            .caution(cautions::ROAD),
    )
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Rear first at the asked grip or above; or right there and rear first at a lower one.
fn rear_first(seen: &Seen<'_>) -> Option<Finding> {
    let braked = &seen.figures.braked;
    let asked = seen.figures.surface.peak;
    let leading: Vec<&ScanPoint> = braked.rear_leads().collect();
    let at_or_above: Vec<&ScanPoint> = leading
        .iter()
        .copied()
        .filter(|point| point.grip >= asked - 1e-9)
        .collect();
    if !at_or_above.is_empty() {
        return Some(leads(seen, &leading));
    }
    let below = braked.rear_leads_below(asked)?;
    let matters = !leading.is_empty();
    let weight = if matters { Weight::Fix } else { Weight::Know };
    Some(
        Finding::new(
            "rear-first-lower",
            weight,
            format!(
                "Right on {}, rear first where slippery",
                seen.figures.surface.name
            ),
        )
        .because(format!(
            "At a grip of {} the front goes first; from {} down, with {}, the rear does, there by {}.{}",
            grip(asked),
            grip(below.grip),
            seen.say.fuel(below.fuel),
            percent(below.front_first_by),
            if matters {
                ""
            } else {
                " The car's own surfaces all have more grip than that."
            }
        ))
        .remedy(format!(
            "Set it for all of the day's surfaces, not for one. {}",
            cure(seen)
        ))
        .caution(cautions::FIRST_DRIVE)
        .figure("rear_first_below_grip", below.grip)
        .figure("front_first_by", below.front_first_by),
    )
}

fn leads(seen: &Seen<'_>, points: &[&ScanPoint]) -> Finding {
    let by = |point: &ScanPoint| point.front_first_by;
    let worst = points
        .iter()
        .copied()
        .min_by(|one, other| by(one).total_cmp(&by(other)));
    let (low, high) = points
        .iter()
        .fold((f64::INFINITY, 0.0_f64), |(low, high), point| {
            (low.min(point.grip), high.max(point.grip))
        });
    let between = if high - low < 1e-9 {
        format!("at a grip of {}", grip(high))
    } else {
        format!("between grips of {} and {}", grip(low), grip(high))
    };
    let tied = if seen.figures.braked.tied {
        " While the centre holds, all four wheels let go together; it is the rear brakes that make them, and once it \
         parts or slips the rear goes alone."
    } else {
        ""
    };
    let fuel = worst.map_or_else(String::new, |point| seen.say.fuel(point.fuel));
    Finding::new("rear-first", Weight::Fix, "Under the foot the rear locks first")
        .because(format!(
            "As it is set, {between} the rear axle uses more of its grip than the front, by up to {} with {fuel}. \
             A car whose rear goes first turns round.{tied}",
            percent(worst.map_or(0.0, by))
        ))
        .remedy(cure(seen))
        .caution(cautions::FIRST_DRIVE)
        .figure("front_first_by", worst.map(by))
        .figure("from_grip", low)
        .figure("to_grip", high)
}

fn front_far_ahead(seen: &Seen<'_>) -> Option<Finding> {
    let lock = &seen.figures.braked.lock;
    let point = lock.at.filter(|point| point.front_first_by > FAR_AHEAD)?;
    let weight = if point.front_first_by > TOO_FAR_AHEAD {
        Weight::Fix
    } else {
        Weight::Know
    };
    let set = row_for(seen, Purpose::Stage).map_or_else(String::new, |row| how_to_set(seen, row));
    Some(
        Finding::new("front-far-ahead", weight, "The rear idles: the front locks long before")
            .because(format!(
                "On {} {}, and the car stops with {} of what the ground offers.",
                seen.figures.surface.name,
                if point.front_first_by.is_finite() {
                    format!(
                        "the front uses {} more of its grip than the rear at first lock",
                        percent(point.front_first_by)
                    )
                } else {
                    "the rear brakes do nothing at first lock".to_owned()
                },
                percent(point.efficiency)
            ))
            .remedy(format!(
                "For front first by {} here and nowhere else: {set}. Everywhere: more brake behind, by friction, pistons or disc.",
                percent(WANTED_LEAD)
            ))
            .figure("front_first_by", point.front_first_by)
            .figure("efficiency", point.efficiency),
    )
}

fn many_turns(seen: &Seen<'_>) -> Option<Finding> {
    let Master::Twin { .. } = seen.car.master else {
        return None;
    };
    let turns: Vec<(&str, f64)> = seen
        .figures
        .settings
        .rows
        .iter()
        .filter(|row| row.purpose == Purpose::Stage)
        .filter_map(|row| Some((&*row.surface, row.bar?.turns)))
        .collect();
    let by = |one: &&(&str, f64), other: &&(&str, f64)| one.1.total_cmp(&other.1);
    let (least, most) = (turns.iter().min_by(by)?, turns.iter().max_by(by)?);
    (most.1 - least.1 > MANY_TURNS).then(|| {
        Finding::new("bar-turns", Weight::Know, "The bar wants many turns between surfaces")
            .because(format!(
                "For front first by {} it goes {} from here for {}, and {} for {}.",
                percent(WANTED_LEAD),
                wording::turned::bar(least.1),
                least.0,
                wording::turned::bar(most.1),
                most.0
            ))
            .remedy("Set the bar for the surface with the most grip and let the rear idle on the others; or leave the difference to a \
                 bias valve.")
            .figure("least_turns", least.1)
            .figure("most_turns", most.1)
    })
}

/// Stage and road want different settings of a knob.
fn stage_and_road(seen: &Seen<'_>) -> Option<Finding> {
    let Some(KnobScale::Turns(_)) = seen.figures.settings.scale else {
        return None;
    };
    let (stage, road) = (row_for(seen, Purpose::Stage)?, row_for(seen, Purpose::Road)?);
    let (on_stage, on_road) = (stage.knob?, road.knob?);
    ((on_stage - on_road).abs() > ONE_SETTING).then(|| {
        Finding::new("stage-and-road", Weight::Know, "Stage and road want two settings")
            .because(format!(
                "Front first by {}: {} turns in for {} as it is laden, {} for the road at every \
                 grip and load: {} turns between them.",
                percent(WANTED_LEAD),
                wording::turns(on_stage),
                stage.surface,
                wording::turns(on_road),
                wording::turns((on_stage - on_road).abs())
            ))
            .remedy("Mark both on the knob, and turn back before the road section.")
            .caution(cautions::ROAD)
            .figure("stage_turns", on_stage)
            .figure("road_turns", on_road)
    })
}

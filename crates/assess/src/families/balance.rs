//! Which end locks first under the foot.

use engine::balance::{Purpose, SettingRow};
use engine::car::{KnobScale, Master};
use engine::figures::{RoadRow, ScanPoint};
use engine::thresholds::{FAR_AHEAD, MANY_TURNS, ONE_SETTING, TOO_FAR_AHEAD, WANTED_LEAD};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::{capital, grip, list, lower, percent};

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
fn how_to_set(seen: &Seen<'_>, row: &SettingRow) -> String {
    wording::turned::setting(row, None, &seen.figures.settings, seen.say.units())
}

fn row_for<'a>(seen: &Seen<'a>, purpose: Purpose) -> Option<&'a SettingRow> {
    seen.figures
        .settings
        .rows
        .iter()
        .find(|row| row.purpose == purpose)
}

/// What cures a rear that locks first where nothing can be set.
const LESS_BEHIND: &str =
    "Fit less brake behind, by pads with less friction or smaller pistons. Or fit more in front.";

/// A cure that sets valve or bar for some conditions; or what stops it, behind what else cures it.
fn set_or_less(reachable: bool, how: &str, conditions: &str) -> String {
    let how = capital(how);
    if reachable {
        let lead = percent(WANTED_LEAD);
        format!(
            "{how}. Then the front goes first by {lead} or more {conditions}. Or: {}",
            lower(LESS_BEHIND)
        )
    } else {
        format!("{LESS_BEHIND} No setting of these parts does it {conditions}. {how}.")
    }
}

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
    let reachable = set.why_not.is_none() || set.bar.is_some();
    set_or_less(reachable, &how, "on all its surfaces, whatever the fuel")
}

/// What would put the front first on the road.
fn cure_for_road(seen: &Seen<'_>) -> String {
    row_for(seen, Purpose::Road).map_or_else(
        || LESS_BEHIND.to_owned(),
        |row| set_or_less(row.reachable, &how_to_set(seen, row), "at every grip and load"),
    )
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
    let said: Vec<String> = [(true, "With crew aboard"), (false, "With nobody aboard")]
        .into_iter()
        .map(|(crew, who)| (of(crew), all(crew), who))
        .filter(|(fuels, ..)| !fuels.is_empty())
        .map(|(fuels, all, who)| {
            if fuels.len() == all {
                format!("{who} it is so whatever the fuel.")
            } else {
                format!("{who} it is so with {}.", list(&fuels))
            }
        })
        .collect();
    said.join(" ")
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
                "As it is set, the rear axle uses more of its grip than the front. It does so at some braking rate \
                 between 0.15 and 0.80. {}{alone} Road rules want the front first at every load.",
                loads(seen, &broken)
            ))
            .remedy(format!("{} This has to be right before the car goes on the road.", cure_for_road(seen)))
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
        Finding::new(
            "road-least-rate",
            weight,
            "One axle wastes grip the road rule wants",
        )
        .because(format!(
            "The harder-worked axle reaches its grip before the car brakes at 0.1 + 0.7 × (grip − 0.2). {}",
            loads(seen, &broken)
        ))
        .remedy(format!("Share the work out better. {}", cure_for_road(seen)))
        .caution(cautions::ROAD),
    )
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
            "At a grip of {} the front goes first. From {} down, with {}, the rear does, there by {}.{}",
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
        " While the centre holds, the rear brakes make all four wheels let go together. Once it parts or slips, the \
         rear goes alone."
    } else {
        ""
    };
    let fuel = worst.map_or_else(String::new, |point| seen.say.fuel(point.fuel));
    Finding::new("rear-first", Weight::Fix, "Under the foot the rear locks first")
        .because(format!(
            "{} the rear axle uses more of its grip than the front. As it is set, it does so by up to {} with {fuel}. \
             A car whose rear goes first turns round.{tied}",
            capital(&between),
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
    let set = row_for(seen, Purpose::Stage).map_or_else(String::new, |row| {
        let how = capital(&how_to_set(seen, row));
        let lead = percent(WANTED_LEAD);
        if row.reachable {
            format!("{how}. Then the front goes first by {lead} here, and nowhere else. ")
        } else {
            format!("No setting of these parts puts the front first by {lead} here. {how}. ")
        }
    });
    Some(
        Finding::new(
            "front-far-ahead",
            weight,
            "The rear idles: the front locks long before",
        )
        .because(format!(
            "On {} {}. The car stops with {} of what the ground offers.",
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
            "{set}For every surface, fit more brake behind: friction, pistons or disc."
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
        Finding::new(
            "bar-turns",
            Weight::Know,
            "The bar wants many turns between surfaces",
        )
        .because(format!(
            "Front first by {} on {} wants it {}. On {} it wants it {}.",
            percent(WANTED_LEAD),
            least.0,
            wording::turned::bar(least.1),
            most.0,
            wording::turned::bar(most.1)
        ))
        .remedy(
            "Set the bar for the surface with the most grip, and let the rear idle on the others. Or leave \
                the difference to a bias valve.",
        )
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
                "For front first by {} it takes {} turns in for {} as it is laden. For the road it takes {}, at \
                 every grip and load. The two are {} turns apart.",
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

//! Whether the hand has enough force, stroke and room; warm and cold; on every surface.

use engine::car::Driven;
use engine::figures::Hand;
use engine::hydraulics::TravelEnd;
use engine::lever::{ToLock, WhatStops};
use engine::thresholds::{FIERCE, SAME_IN_HAND, UNNOTICED};
use quantity::si::Force;

use super::Seen;
use super::surfaces::OnSurface;
use crate::finding::{Finding, Weight};
use crate::say::percent;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    let Some(hand) = &seen.figures.hand else {
        return vec![no_lever()];
    };
    let mut findings = short(seen, hand);
    findings.extend(
        [
            one_temperature(seen, hand),
            late(seen, hand),
            fierce(seen, hand),
            other_surfaces(seen, hand),
            moves_nothing(seen, hand),
            clutch(seen, hand),
            other_layout(seen, hand),
        ]
        .into_iter()
        .flatten(),
    );
    findings
}

fn no_lever() -> Finding {
    Finding::new("no-lever", Weight::Know, "No handbrake lever is on the sheet")
        .because("Everything said here is about the foot's brakes alone.")
        .remedy("Write a [lever] table, as it is or as you mean to fit it, to see what it would do.")
}

/// Whether the lever would do were the axles not tied: then the centre's finding says what is wrong.
pub(crate) fn only_the_centre(hand: &Hand) -> bool {
    let now = &hand.answer.to_lock;
    now.outcome != WhatStops::Rear && hand.uncoupled.is_some_and(|free| free.outcome == WhatStops::Rear)
}

/// What is short on the surface that was asked about.
fn short(seen: &Seen<'_>, hand: &Hand) -> Vec<Finding> {
    let to_lock = &hand.answer.to_lock;
    let mut findings = Vec::new();
    if to_lock.outcome != WhatStops::None || only_the_centre(hand) {
        return findings;
    }
    let surface = &seen.figures.surface.name;
    let capped = to_lock.hand.is_none() && to_lock.pressure.is_some();
    if capped {
        findings.push(
            Finding::new("valve-caps-lever", Weight::Fix, "The valve keeps the rear from locking")
                .because(format!(
                    "Locking on {surface} takes {} at the brakes. A limiting valve behind the lever ends below that, \
                     however hard the pull.",
                    to_lock.pressure.map_or_else(String::new, |pressure| seen.say.needed_pressure(pressure))
                ))
                .remedy("Move the valve to the inlet side of the lever.")
                .figure("pressure_pa", to_lock.pressure.map(quantity::si::Pressure::pa)),
        );
    } else if !to_lock.enough_force {
        findings.push(
            Finding::new("lever-force", Weight::Fix, "The hand is too weak for this lever")
                .because(format!(
                    "Locking the rear on {surface} takes {}. The driver pulls {}, which makes {} of the torque needed.",
                    to_lock.hand.map_or_else(String::new, |hand| seen.say.needed_hand(hand)),
                    seen.say.hand(hand.pull),
                    percent(to_lock.in_hand)
                ))
                .remedy(
                    "Fit a smaller bore or a longer ratio; both cost travel. Or fit more brake behind: friction, \
                     pistons, disc.",
                )
                .figure("hand_force_n", to_lock.hand.map(Force::n))
                .figure("hand_pull_n", hand.pull.n())
                .figure("in_hand", to_lock.in_hand),
        );
    }
    let ends = hand.reached.lever.and_then(|lever| lever.runs_out);
    if to_lock.enough_travel == Some(false) || ends.is_some() {
        findings.extend(travel_ends(seen, hand, to_lock));
    }
    findings
}

fn travel_ends(seen: &Seen<'_>, hand: &Hand, to_lock: &ToLock) -> Option<Finding> {
    let (usable, limit) = hand.usable?;
    let (slug, title, ends, remedy) = match limit {
        TravelEnd::Room => (
            "lever-room",
            "The lever's room ends before the rear locks",
            "the grip meets something",
            "Make room, or shorten what eats the travel: air, clearance, hose. Or fit a larger bore or a shorter \
             ratio; both cost force.",
        ),
        TravelEnd::Stroke => (
            "lever-stroke",
            "The cylinder's stroke ends before the rear locks",
            "the cylinder is at its end",
            "Fit a cylinder with more stroke or a larger bore. Or leave less to fill: air, clearance, hose.",
        ),
    };
    let reached = hand.reached.lever.and_then(|lever| lever.own);
    let needs = to_lock.travel.map_or_else(
        || {
            to_lock.pressure.map_or_else(String::new, |needs| {
                format!("locking takes {}", seen.say.needed_pressure(needs))
            })
        },
        |travel| format!("locking takes {} of travel", seen.say.needed_travel(travel)),
    );
    Some(
        Finding::new(slug, Weight::Fix, title)
            .because(format!(
                "After {} at the grip {ends}{}; {needs}.",
                seen.say.length(usable),
                reached
                    .filter(|_| hand.reached.lever.is_some_and(|lever| lever.runs_out.is_some()))
                    .map_or_else(String::new, |reached| format!(
                        ", at {}",
                        seen.say.pressure(reached)
                    ))
            ))
            .remedy(remedy)
            .figure("usable_travel_m", usable.m())
            .figure("travel_m", to_lock.travel.map(quantity::si::Length::m))
            .figure("own_pa", reached.map(quantity::si::Pressure::pa))
            .figure("pressure_pa", to_lock.pressure.map(quantity::si::Pressure::pa)),
    )
}

/// Locks warm and not cold, or the other way round.
fn one_temperature(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let locks = |to_lock: &ToLock| to_lock.outcome != WhatStops::None;
    if locks(asked) == locks(cold) {
        return None;
    }
    let (title, weak) = if locks(asked) {
        ("Warm the rear locks, cold it does not", cold)
    } else {
        ("Cold the rear locks, warm it does not", asked)
    };
    let force = weak.hand.map_or_else(String::new, |needs| {
        format!(
            "it takes {} against a pull of {}",
            seen.say.needed_hand(needs),
            seen.say.hand(hand.pull)
        )
    });
    let travel = match (weak.enough_travel, weak.travel, hand.usable) {
        (Some(false), Some(travel), Some((usable, _))) => {
            format!(
                " It takes {} of travel where {} are usable.",
                seen.say.needed_travel(travel),
                seen.say.length(usable)
            )
        }
        _ => String::new(),
    };
    Some(
        Finding::new("one-temperature", Weight::Fix, title)
            .because(format!("On {} {force}.{travel}", seen.figures.surface.name))
            .remedy("Fit pads or linings that bite cold, or more lever. Or drag the brakes before the first corner.")
            .figure("in_hand", asked.in_hand)
            .figure("in_hand_cold", cold.in_hand)
            .figure("hand_force_n", weak.hand.map(Force::n))
            .figure("travel_m", weak.travel.map(quantity::si::Length::m)),
    )
}

/// Little in hand, warm or cold.
fn late(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let time = |to_lock: &ToLock| {
        if to_lock.stands_first {
            return " The car comes to rest before its rear wheels do.".to_owned();
        }
        to_lock.time_to_lock.map_or_else(String::new, |time| {
            format!(" It locks some {} after the pull.", wording::seconds(time))
        })
    };
    let slow = "The inner wheel goes first and the car has slowed before it turns";
    if asked.is_late() {
        return Some(
            Finding::new("late", Weight::Fix, "The rear locks late")
                .because(format!(
                    "On {} the pull makes {} of the torque needed.{} {slow}.",
                    seen.figures.surface.name,
                    percent(asked.in_hand),
                    time(asked)
                ))
                .remedy("Fit more ratio or less bore where travel allows it, or pads with more friction. Or find a \
                    stronger arm.")
                .figure("in_hand", asked.in_hand)
                .figure("seconds_to_lock_s", asked.time_to_lock.map(quantity::si::Duration::s)),
        );
    }
    cold.is_late().then(|| {
        Finding::new("late-cold", Weight::Know, "Cold, the rear locks late")
            .because(format!(
                "With cold pads or linings the pull makes {} of the torque needed on {}.{} {slow}.",
                percent(cold.in_hand),
                seen.figures.surface.name,
                time(cold)
            ))
            .remedy("Drag the brakes on the way to the start, or choose friction that bites cold.")
            .figure("in_hand_cold", cold.in_hand)
            .figure(
                "seconds_to_lock_s",
                cold.time_to_lock.map(quantity::si::Duration::s),
            )
    })
}

fn fierce(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    let needs = hand.answer.to_lock.hand.filter(|&needs| needs < FIERCE)?;
    Some(
        Finding::new("fierce", Weight::Fix, "The lever is too fierce")
            .because(format!(
                "{} lock the rear on {}. A knock of the elbow does it, and nothing between rolling and locked can be \
                 held.",
                seen.say.needed_hand(needs),
                seen.figures.surface.name
            ))
            .remedy("A larger bore or a shorter ratio; travel gets shorter with it.")
            .figure("hand_force_n", needs.n()),
    )
}

/// Surfaces of the car's on which the lever does less: where the run fails, where the rear stops in the bend alone, and
/// where cold brakes do not stop it.
fn other_surfaces(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    if hand.answer.to_lock.outcome != WhatStops::Rear {
        return None;
    }
    let surfaces = OnSurface::all(seen);
    let say = |surface: &OnSurface<'_>, to_lock: &ToLock| {
        let needs = to_lock.hand.map_or_else(String::new, |needs| {
            format!("; it takes {}", seen.say.needed_hand(needs))
        });
        format!(
            "{}: {} of the torque{needs}",
            surface.row.surface,
            percent(to_lock.in_hand)
        )
    };
    let asked = |surface: &OnSurface<'_>| surface.row.surface == seen.figures.surface.name;
    let straight = |works: bool| -> Vec<&OnSurface<'_>> {
        surfaces
            .iter()
            .filter(|surface| !surface.stops_straight() && surface.works() == works)
            .collect()
    };
    let (short, in_the_bend) = (straight(false), straight(true));
    let cold: Vec<&OnSurface<'_>> = surfaces
        .iter()
        .filter(|surface| surface.stops_straight() && !asked(surface))
        .filter(|surface| surface.row.answer.cold.outcome != WhatStops::Rear)
        .collect();
    let mut said: Vec<String> = Vec::new();
    for surface in &short {
        said.push(format!(
            "It does not on {}.",
            say(surface, &surface.row.answer.to_lock)
        ));
    }
    for surface in &in_the_bend {
        let told = say(surface, &surface.row.answer.to_lock);
        said.push(format!(
            "In the bend alone, not going straight, it does on {told}."
        ));
    }
    for surface in &cold {
        let told = say(surface, &surface.row.answer.cold);
        said.push(format!("Warm, but not cold, it does on {told}."));
    }
    if said.is_empty() {
        return None;
    }
    let (weight, title) = if short.is_empty() {
        (Weight::Know, "On some surfaces the lever barely does it")
    } else {
        (Weight::Fix, "The rear does not lock on every surface")
    };
    let least = short.first().or(in_the_bend.first());
    Some(
        Finding::new("not-on-every-surface", weight, title)
            .because(format!(
                "A pull of {} locks it on {}. {}",
                seen.say.hand(hand.pull),
                seen.figures.surface.name,
                said.join(" ")
            ))
            .remedy("Size the lever for the best surface, or turn without it there.")
            .figure("in_hand", least.map(|surface| surface.row.answer.to_lock.in_hand))
            .figure(
                "in_hand_cold",
                cold.first().map(|surface| surface.row.answer.cold.in_hand),
            ),
    )
}

fn moves_nothing(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    let nothing = hand.moves_nothing;
    if nothing < UNNOTICED {
        return None;
    }
    let weight = if nothing >= hand.pull {
        Weight::Fix
    } else {
        Weight::Know
    };
    Some(
        Finding::new("foot-hides-hand", weight, "With the foot on the pull starts late")
            .because(format!(
                "An inline cylinder passes on the greater of two pressures. With {} of foot the first {} of pull \
                 move nothing. Only what comes on top of them does.",
                seen.say.force(engine::figures::USUAL_FOOT),
                seen.say.hand(nothing)
            ))
            .remedy("Come off the brake before the lever, or expect to pull that much more. A cylinder with a \
                smaller rear seal adds the two.")
            .figure("moves_nothing_n", nothing.n()),
    )
}

fn clutch(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    let to_lock = &hand.answer.to_lock;
    let (down, up) = (to_lock.time_to_lock?, hand.time_with_clutch_up?);
    let driven = match seen.car.drivetrain.driven {
        Driven::Front => return None,
        Driven::Rear => "The engine drives the rear wheels.",
        Driven::All => "The engine drives the rear wheels too.",
    };
    (up > down * 1.5).then(|| {
        Finding::new("clutch-down", Weight::Know, "It works with the clutch down")
            .because(format!(
                "{driven} With the clutch down they stop after some {}; with it up after {}, or the engine stalls.",
                wording::seconds(down),
                wording::seconds(up)
            ))
            .remedy("Clutch first, then lever.")
            .figure("seconds_to_lock_s", down.s())
            .figure("seconds_clutch_up_s", up.s())
    })
}

fn other_layout(seen: &Seen<'_>, hand: &Hand) -> Option<Finding> {
    let (layout, other) = hand.other_layout.as_ref()?;
    let now = &hand.answer.to_lock;
    if now.outcome == other.outcome && (now.in_hand - other.in_hand).abs() < SAME_IN_HAND {
        return None;
    }
    let what = match *layout {
        "separate" => "calipers of its own",
        _ => "its cylinder in the foot's rear line",
    };
    let needs = match (other.hand, other.travel) {
        (Some(needs), Some(travel)) => {
            format!(
                " Locking would take {} at the grip and {} of travel.",
                seen.say.needed_hand(needs),
                seen.say.needed_travel(travel)
            )
        }
        _ => String::new(),
    };
    Some(
        Finding::new(
            "other-layout",
            Weight::Know,
            "The other layout would do otherwise",
        )
        .because(format!(
            "With {what} the same lever would make {} of the torque needed.{needs} As it is, it makes {}.",
            percent(other.in_hand),
            percent(now.in_hand)
        ))
        .remedy("Compare the two before pipes are cut.")
        .figure("in_hand", now.in_hand)
        .figure("other_in_hand", other.in_hand),
    )
}

//! What ties the axles together while the hand wants the rear to stand.

use engine::car::{Centre, Coupling};
use engine::drivetrain::CouplingReading;
use engine::lever::{ToLock, WhatStops};
use engine::thresholds::{DragGrade, PRESSURE_RISES_IN, ROLL_APART};
use engine::turn::TurnVerdict;

use super::Seen;
use super::lever::only_the_centre;
use crate::finding::{Finding, Weight};
use crate::say::MOST_WORDS;
use crate::say::{capital, percent};

const fn words_of(grade: DragGrade) -> &'static str {
    match grade {
        DragGrade::Turns => "the front wheels hardly notice",
        DragGrade::Partly => "the car comes round in part",
        DragGrade::Spoilt => "the turn is spoilt",
        DragGrade::AllFour => "all four wheels stop",
    }
}

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [
        not_told(seen),
        late(seen),
        drags(seen),
        reading(seen),
        roll_apart(seen),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn not_told(seen: &Seen<'_>) -> Option<Finding> {
    let (Centre::Disengaging { .. }, Some(lever)) = (&seen.car.drivetrain.centre, &seen.car.lever) else {
        return None;
    };
    (!lever.switch).then(|| {
        let carried = seen.locking().map(|to_lock| to_lock.of_which_coupling);
        let said = carried.map_or_else(String::new, |torque| {
            format!(
                " Held, the centre brings back {} from the front wheels.",
                seen.say.torque(torque)
            )
        });
        Finding::new(
            "centre-not-told",
            Weight::Fix,
            "Nothing tells the centre to let go",
        )
        .because(format!(
            "The lever has no switch.{said} The pull works against all of it."
        ))
        .remedy("Fit a switch that closes before the cylinder moves, and wire it to the centre's control.")
        .figure("of_which_coupling_nm", carried.map(quantity::si::Torque::nm))
    })
}

fn late(seen: &Seen<'_>) -> Option<Finding> {
    let (Centre::Disengaging { delay, .. }, Some(lever)) = (&seen.car.drivetrain.centre, &seen.car.lever)
    else {
        return None;
    };
    (lever.switch && *delay > PRESSURE_RISES_IN).then(|| {
        Finding::new("centre-late", Weight::Fix, "The centre parts after the pressure is up")
            .because(format!(
                "It takes {} to part; a brisk pull has the rear at pressure in {}. Until then it brakes all four.",
                wording::seconds(*delay),
                wording::seconds(PRESSURE_RISES_IN)
            ))
            .remedy("Let the switch close early in the lever's travel, or speed the centre's valve up. Then pull a \
                touch later.")
            .figure("delay_s", delay.s())
    })
}

fn roll_apart(seen: &Seen<'_>) -> Option<Finding> {
    let tied = match &seen.car.drivetrain.centre {
        Centre::None => false,
        Centre::Fixed(coupling) | Centre::Disengaging { held: coupling, .. } => *coupling != Coupling::Open,
        Centre::Guess { .. } => true,
    };
    let (front, rear) = (seen.car.tyres.front_radius, seen.car.tyres.rear_radius);
    let apart = 2.0 * (rear - front).m().abs() / (rear + front).m();
    (tied && apart > ROLL_APART).then(|| {
        Finding::new("axles-roll-apart", Weight::Fix, "Tied axles roll on different radii")
            .because(format!(
                "The front tyres roll on {}, the rear ones on {}. The centre slips or winds up on every straight.",
                seen.say.length(front),
                seen.say.length(rear)
            ))
            .remedy(
                "Measure both over ten turns of the wheel, crew aboard. Then fit four tyres that roll alike, as worn \
                 as each other.",
            )
            .figure("radii_apart", apart)
    })
}

fn drags(seen: &Seen<'_>) -> Option<Finding> {
    let to_lock = seen.locking()?;
    if to_lock.of_which_coupling.nm() <= 0.0 {
        return None;
    }
    let grade = DragGrade::of(to_lock.drag);
    // A weak lever may lack just what even a soft centre brings back.
    if grade == DragGrade::Turns && !seen.figures.hand.as_ref().is_some_and(only_the_centre) {
        return None;
    }
    let own = to_lock.torque_needed - to_lock.of_which_coupling;
    let free = seen.figures.hand.as_ref().and_then(|hand| hand.uncoupled);
    let freed = free.map_or_else(String::new, |free| {
        format!(
            " The pull makes {} of the torque needed; with the axles free it would make {}.",
            percent(to_lock.in_hand),
            percent(free.in_hand)
        )
    });
    let title = match grade {
        DragGrade::AllFour => "The centre stops all four wheels",
        DragGrade::Spoilt => "The centre spoils the turn",
        DragGrade::Turns => "The lever lacks what the centre brings back",
        DragGrade::Partly => "The centre holds part of the turn back",
    };
    Some(
        Finding::new("centre-drags", Weight::Fix, title)
            .because(format!(
                "To stop the rear on {} takes {} for its own tyres. It takes {} more that the centre brings back \
                 from the front wheels: {}.{freed} Pressing the clutch takes the engine away, not the centre.",
                seen.figures.surface.name,
                seen.say.torque(own),
                seen.say.torque(to_lock.of_which_coupling),
                words_of(grade)
            ))
            .remedy(
                "Fit a centre that lets go while the lever is pulled, or a softer one. More lever only stops more wheels.",
            )
            .figure("torque_needed_nm", to_lock.torque_needed.nm())
            .figure("of_which_coupling_nm", to_lock.of_which_coupling.nm())
            .figure("drag", to_lock.drag)
            .figure("in_hand", to_lock.in_hand)
            .figure("in_hand_uncoupled", free.map(|free| free.in_hand)),
    )
}

/// How a reading of the coupling goes, in words.
pub(crate) fn reading_words(reading: CouplingReading) -> String {
    let so = wording::if_read(&reading);
    if so.is_empty() {
        return "as the sheet has it".to_owned();
    }
    format!("if {so}")
}

/// What stops with the coupling read one way, in sentences that stay short.
fn stops_so(reading: CouplingReading, outcome: WhatStops) -> String {
    let whole = format!(
        "{}, {}.",
        capital(&reading_words(reading)),
        outcome_words(outcome)
    );
    if whole.split(' ').count() <= MOST_WORDS {
        return whole;
    }
    format!(
        "Say {}. Then {}.",
        wording::if_read(&reading),
        outcome_words(outcome)
    )
}

/// What becomes of the turn with the coupling read another way.
pub(crate) fn run_as(seen: &Seen<'_>, reading: CouplingReading) -> Option<TurnVerdict> {
    let turned = seen.figures.turned.as_ref().ok()?;
    let (_, brief) = turned.otherwise.iter().find(|(known, _)| *known == reading)?;
    Some(brief.verdict)
}

const fn outcome_words(outcome: WhatStops) -> &'static str {
    match outcome {
        WhatStops::Rear => "the rear stops and the front rolls",
        WhatStops::AllFour => "all four stop",
        WhatStops::None => "nothing stops",
    }
}

/// Whether two answers would be told apart in the yard.
pub(crate) fn differ(one: &ToLock, other: &ToLock) -> bool {
    one.outcome != other.outcome
        || (one.outcome == WhatStops::Rear && DragGrade::of(one.drag) != DragGrade::of(other.drag))
}

fn reading(seen: &Seen<'_>) -> Option<Finding> {
    let hand = seen.figures.hand.as_ref()?;
    let main = &hand.answer.to_lock;
    let others: Vec<&(CouplingReading, ToLock)> = hand
        .answer
        .also
        .iter()
        .filter(|(_, other)| differ(main, other))
        .collect();
    if others.is_empty() {
        return None;
    }
    let said: Vec<String> = others
        .iter()
        .map(|(reading, other)| {
            let run = run_as(seen, *reading).map_or_else(
                || words_of(DragGrade::of(other.drag)).to_owned(),
                |verdict| format!("run so, it {}", verdict.words()),
            );
            format!(
                "{} The pull makes {} of the torque; {run}.",
                stops_so(*reading, other.outcome),
                percent(other.in_hand),
            )
        })
        .collect();
    Some(
        Finding::new("coupling-reading", Weight::Fix, "What the centre is decides the verdict")
            .because(format!(
                "The worst case decides. {} The pull makes {} of the torque. {}",
                main.reading.map_or_else(
                    || format!("As it is, {}.", outcome_words(main.outcome)),
                    |reading| stops_so(reading, main.outcome)
                ),
                percent(main.in_hand),
                said.join(" ")
            ))
            .remedy(
                "Look where the coupling sits and put `drivetrain.centre.turns_per_wheel_turn` on the sheet. If its curve ends \
                 too \
                 soon, have it measured at the speed difference of a pull.",
            )
            .figure("in_hand", main.in_hand)
            .figure("other_in_hand", others.first().map(|(_, other)| other.in_hand)),
    )
}

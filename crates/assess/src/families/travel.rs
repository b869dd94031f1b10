//! What eats the lever's travel, and what happens where none is left at rest.

use engine::car::{Brake, LeverKind, ShoeAdjuster};
use engine::figures::KNOCK_BACK;
use engine::thresholds::{DOUBTFUL_PLAY, HOSES_SWALLOW};
use quantity::si::Length;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::percent;

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [
        free_play(seen),
        shoes(seen),
        air(seen),
        knocked_back(seen),
        hoses(seen),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn free_play(seen: &Seen<'_>) -> Option<Finding> {
    let lever = seen.car.lever.as_ref().filter(|_| seen.by_fluid())?;
    if lever.free_play >= DOUBTFUL_PLAY {
        return None;
    }
    let (weight, title) = if lever.free_play <= Length::ZERO {
        (Weight::Stop, "No free play: the by-pass may stay shut")
    } else {
        (Weight::Fix, "Hardly any free play: the by-pass may shut")
    };
    Some(
        Finding::new("no-free-play", weight, title)
            .because(format!(
                "The grip has {} before the cylinder moves. With the by-pass shut, fluid that warms has nowhere to \
                 go. The rear brakes drag, heat themselves and come on by themselves.",
                if lever.free_play <= Length::ZERO { "nothing".to_owned() } else { seen.say.length(lever.free_play) }
            ))
            .remedy(
                "Give the push rod a little slack. Then turn the rear wheels by hand, cold and again after three \
                 hard stops. They have to run free both times.",
            )
            .caution(cautions::FIRST_DRIVE)
            .figure("free_play_m", lever.free_play.m()),
    )
}

fn shoes(seen: &Seen<'_>) -> Option<Finding> {
    let lever = seen.car.lever.as_ref().filter(|_| seen.by_fluid())?;
    let Brake::Drum(drum) = &seen.car.rear_brake else {
        return None;
    };
    if matches!(lever.kind, LeverKind::Separate(..)) {
        return None;
    }
    let wear = seen.figures.hand.as_ref()?.shoe_wear;
    let (slug, weight, title, how) = match drum.adjuster {
        ShoeAdjuster::Automatic => return None,
        ShoeAdjuster::LeverRatchet if lever.cable_kept => return None,
        ShoeAdjuster::LeverRatchet => (
            "shoes-unadjusted",
            Weight::Fix,
            "Nothing takes up the rear shoes any more",
            "Their ratchet was worked by the parking cable, and the cable is gone",
        ),
        ShoeAdjuster::Manual => (
            "shoes-by-hand",
            Weight::Know,
            "The rear shoes are set by hand",
            "They have a spanner for an adjuster",
        ),
    };
    let grows = wear.map_or_else(String::new, |wear| {
        let mm = Length::from_m(1e-3);
        let left = wear.left.map_or_else(
            || ". Already now it does not suffice".to_owned(),
            |left| {
                format!(
                    ". After {} more of wear the rear no longer locks",
                    seen.say.fine(left, 2)
                )
            },
        );
        format!(
            ". For every tenth of a millimetre that the linings wear the grip comes {} further{left}",
            seen.say.length(mm * (wear.travel_per_wear / 10.0))
        )
    });
    Some(
        Finding::new(slug, weight, title)
            .because(format!("{how}{grows}."))
            .remedy(
                "Set the shoes before every event and write the travel down. Better, fit self-adjusters, or keep a \
                 cable that works them.",
            )
            .caution(cautions::STANDS)
            .figure("travel_per_wear", wear.map(|wear| wear.travel_per_wear))
            .figure("wear_left_m", wear.and_then(|wear| wear.left).map(Length::m)),
    )
}

fn air(seen: &Seen<'_>) -> Option<Finding> {
    let bled = seen.figures.hand.as_ref()?.bled?;
    let now = seen.locking().and_then(|to_lock| to_lock.travel);
    let reached = seen
        .figures
        .hand
        .as_ref()?
        .reached
        .lever
        .and_then(|lever| lever.own);
    let costs = match (now, bled.travel, reached, bled.reached) {
        (Some(now), Some(without), ..) => format!(
            "it costs {} of the {} that locking takes",
            seen.say.length(now - without),
            seen.say.needed_travel(now)
        ),
        (_, _, Some(reached), Some(without)) => format!(
            "the pull ends at {}, and without the air it would reach {}",
            seen.say.pressure(reached),
            seen.say.pressure(without)
        ),
        _ => "it costs travel".to_owned(),
    };
    let amount = seen.car.air.rear + seen.car.air.lever;
    Some(
        Finding::new("air", Weight::Fix, "There is air in the line")
            .because(format!("{} at rest: {costs}.", seen.say.fluid(amount)))
            .remedy(
                "Bleed again with the nipples uppermost. Leave the lever at rest, so that its by-pass lets fluid and \
                 air through. If two pulls still differ, stand the lever's cylinder with its outlet uppermost.",
            )
            .caution(cautions::FLUID)
            .figure("air_m3", amount.m3())
            .figure("travel_m", now.map(Length::m))
            .figure("travel_without_air_m", bled.travel.map(Length::m))
            .figure("own_without_air_pa", bled.reached.map(quantity::si::Pressure::pa)),
    )
}

fn knocked_back(seen: &Seen<'_>) -> Option<Finding> {
    let hand = seen.figures.hand.as_ref()?;
    let now = &hand.answer.to_lock;
    let after = hand.knock_back?;
    let (travel, longer) = (now.travel?, after.travel?);
    // Where it does not lock as it is, that is said elsewhere.
    let (usable, _) = hand.usable.filter(|_| now.enough_travel == Some(true))?;
    let short = after.enough_travel == Some(false);
    let (weight, title) = if short {
        (Weight::Fix, "After rough ground the pull may run out")
    } else {
        (Weight::Know, "After rough ground the pull is longer")
    };
    Some(
        Finding::new("first-pull-long", weight, title)
            .because(format!(
                "Knocks push the pads back. With {} more at each face the first pull takes {} instead of {}. The \
                 lever has {} usable.",
                seen.say.fine(KNOCK_BACK, 1),
                seen.say.needed_travel(longer),
                seen.say.needed_travel(travel),
                seen.say.length(usable)
            ))
            .remedy("Give pedal or lever a short dab before the corner. If it grows, look for a loose hub or a bent \
                disc.")
            .figure("travel_m", travel.m())
            .figure("first_pull_travel_m", longer.m())
            .figure("usable_travel_m", usable.m()),
    )
}

fn hoses(seen: &Seen<'_>) -> Option<Finding> {
    let hand = seen.figures.hand.as_ref()?;
    (hand.hose_share > HOSES_SWALLOW).then(|| {
        Finding::new("hoses-swallow", Weight::Know, "Hoses swallow much of the travel")
            .because(format!(
                "Of the fluid that a pull moves, {} goes into hoses that grow.",
                percent(hand.hose_share)
            ))
            .remedy("Pipe for the long run, hose only where something moves.")
            .caution(cautions::FLUID)
            .figure("hose_share", hand.hose_share)
    })
}

//! Pipes and hoses: the right sort, held and guarded.

use engine::car::{LeverKind, Line, Outlets, Pipe, Place};
use quantity::si::Length;

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::list;

/// Longest free run of pipe between two clips (common practice, no source).
const BETWEEN_CLIPS: Length = Length::from_m(0.5);
/// Longest rubber hose that a wheel's movement asks for (common practice, no source).
const LONG_HOSE: Length = Length::from_m(0.6);

pub(super) fn findings(seen: &Seen<'_>) -> Vec<Finding> {
    [
        quarter_inch(seen),
        rubber_run(seen),
        long_hose(seen),
        bare(seen),
        clips(seen),
        old_pipe(seen),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The lines that this car has, with what they are called.
fn lines<'a>(seen: &Seen<'a>) -> Vec<(&'static str, &'a Line)> {
    let mut lines = vec![("front", &seen.car.front_line), ("rear", &seen.car.rear_line)];
    if seen
        .car
        .lever
        .as_ref()
        .is_some_and(|lever| matches!(lever.kind, LeverKind::Separate(..)))
    {
        lines.push(("handbrake", &seen.car.lever_line));
    }
    lines
}

fn quarter_inch(seen: &Seen<'_>) -> Option<Finding> {
    let (which, _) = lines(seen)
        .into_iter()
        .find(|(_, line)| matches!(line.pipe, Pipe::Steel14 | Pipe::CopperNickel14))?;
    let ports = &seen.car.ports;
    let small: Vec<String> = [
        ("master", &ports.master),
        ("bias valve", &ports.bias_valve),
        ("lever", &ports.lever),
        ("calipers", &ports.caliper),
        ("tee", &ports.tee),
    ]
    .into_iter()
    .filter(|(_, written)| written.as_deref().is_some_and(is_for_small_pipe))
    .map(|(part, _)| part.to_owned())
    .collect();
    let (weight, because) = if small.is_empty() {
        (
            Weight::Know,
            "It holds more than twice the fluid of 3/16 in pipe, which has to be bled and kept cool, and gains nothing \
             at these flows."
                .to_owned(),
        )
    } else {
        (
            Weight::Fix,
            format!(
                "Its nuts are larger than 3/16 in pipe's, and the ports of {} are cut for those. A nut that starts in \
                 the wrong thread strips it.",
                list(&small)
            ),
        )
    };
    Some(
        Finding::new(
            "quarter-inch-pipe",
            weight,
            format!("The {which} line is quarter-inch pipe"),
        )
        .because(because)
        .remedy("Run 3/16 in pipe with nuts and flares that suit the ports.")
        .caution(cautions::FLUID),
    )
}

/// Threads that 3/16 in pipe is used with.
fn is_for_small_pipe(written: &str) -> bool {
    let written = written.trim().to_lowercase();
    ["m10x1", "3/8-24", "-3"]
        .iter()
        .any(|thread| written.starts_with(thread))
}

fn rubber_run(seen: &Seen<'_>) -> Option<Finding> {
    let (which, _) = lines(seen)
        .into_iter()
        .find(|(_, line)| line.pipe == Pipe::Rubber)?;
    Some(
        Finding::new("rubber-run", Weight::Fix, format!("The whole {which} line is rubber hose"))
            .because("Rubber hose grows three times as much as braided hose for the same pressure, chafes where it is clipped, and ages.")
            .remedy("Pipe for the run, hose only from the body to what moves.")
            .caution(cautions::FLUID),
    )
}

fn long_hose(seen: &Seen<'_>) -> Option<Finding> {
    let (which, line) = lines(seen).into_iter().find(|(_, line)| {
        line.flexible == Pipe::Rubber && line.pipe != Pipe::Rubber && line.flexible_last > LONG_HOSE
    })?;
    Some(
        Finding::new("long-hose", Weight::Fix, format!("Long rubber hoses at the {which} wheels"))
            .because(format!(
                "{} a wheel, where 0.3 to 0.5 m let it move. The rest only grows under pressure and finds something to \
                 chafe on.",
                seen.say.length(line.flexible_last)
            ))
            .remedy("End the pipe at a bracket near the wheel; braided hose grows less.")
            .caution(cautions::FLUID)
            .figure("flexible_last_m", line.flexible_last.m()),
    )
}

fn bare(seen: &Seen<'_>) -> Option<Finding> {
    let places = seen.car.places;
    (places.rear_run == Place::Outside && !places.rear_guard && seen.car.lever.is_some()).then(|| {
        Finding::new("bare-run", Weight::Fix, "The rear line lies bare under the car")
            .because(
                "Nothing guards it against stones and what the car lands on. FIA Appendix J, article 253-3.1, asks for \
                 that wherever the series line is not kept (2020 text).",
            )
            .remedy("Lay it in a tunnel or behind a sill, or put a guard over it.")
            .caution(cautions::EVENT)
    })
}

/// The part of the rear run that is clipped: from the bulkhead to where it parts to the wheels, or to the farther wheel
/// where two runs leave the lever.
fn clipped_run(seen: &Seen<'_>) -> Length {
    let routes = seen.car.routes;
    let two = seen
        .car
        .lever
        .as_ref()
        .and_then(|lever| lever.cylinder())
        .is_some_and(|cylinder| cylinder.outlets != Outlets::One);
    match seen.car.lever.as_ref().map(|lever| &lever.kind) {
        Some(LeverKind::Inline(_)) if two => {
            routes.bulkhead_to_lever + routes.tee_to_rear_left.max(routes.tee_to_rear_right)
        }
        Some(LeverKind::Inline(_)) => routes.bulkhead_to_lever + routes.lever_to_rear_tee,
        _ => routes.bulkhead_to_rear_tee,
    }
}

fn clips(seen: &Seen<'_>) -> Option<Finding> {
    let clips = seen.car.places.rear_clips?;
    let run = clipped_run(seen);
    let between = run / f64::from(clips + 1);
    (between > BETWEEN_CLIPS).then(|| {
        Finding::new("few-clips", Weight::Fix, "The rear line hangs on too few clips")
            .because(format!(
                "{clips} on {}: {} between them. A line that swings work-hardens at its nuts and cracks there.",
                seen.say.length(run),
                seen.say.length(between)
            ))
            .remedy("A clip every 0.3 m, close to every bend and joint.")
            .caution(cautions::STANDS)
            .figure("between_clips_m", between.m())
    })
}

fn old_pipe(seen: &Seen<'_>) -> Option<Finding> {
    let place = seen.car.before.old_rear_pipe.as_ref()?;
    Some(
        Finding::new("old-pipe", Weight::Fix, "The old rear pipe is still there")
            .because(format!("It is left {place}. It catches on what the car lands on, and one day somebody joins it up again."))
            .remedy("Take it out, and close the ports that it came from.")
            .caution(cautions::STANDS),
    )
}

//! Pipes and hoses: the right sort, held and guarded.

use engine::car::Pipe;
use plumbing::rules::{BETWEEN_CLIPS, between_clips, car_lines, clipped_run, is_bare, long_rubber};

use super::Seen;
use crate::cautions;
use crate::finding::{Finding, Weight};
use crate::say::list;

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

fn quarter_inch(seen: &Seen<'_>) -> Option<Finding> {
    let (which, _) = car_lines(seen.car)
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
            "It holds more than twice the fluid of 3/16 in pipe. That fluid has to be bled and kept cool, and \
             nothing is gained at these flows."
                .to_owned(),
        )
    } else {
        (
            Weight::Fix,
            format!(
                "Its nuts are larger than 3/16 in pipe's. The ports of {} are cut for the smaller ones. A nut that \
                 starts in the wrong thread strips it.",
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
    let (which, _) = car_lines(seen.car)
        .into_iter()
        .find(|(_, line)| line.pipe == Pipe::Rubber)?;
    Some(
        Finding::new(
            "rubber-run",
            Weight::Fix,
            format!("The whole {which} line is rubber hose"),
        )
        .because(
            "For the same pressure rubber hose grows three times as much as braided hose. It chafes where \
                it is clipped, and ages.",
        )
        .remedy("Pipe for the run, hose only from the body to what moves.")
        .caution(cautions::FLUID),
    )
}

fn long_hose(seen: &Seen<'_>) -> Option<Finding> {
    let (which, length) = car_lines(seen.car)
        .into_iter()
        .find_map(|(which, line)| Some((which, long_rubber(line)?)))?;
    Some(
        Finding::new("long-hose", Weight::Fix, format!("Long rubber hoses at the {which} wheels"))
            .because(format!(
                "{} a wheel, where 0.3 to 0.5 m let it move. The rest only grows under pressure and finds something to \
                 chafe on.",
                seen.say.length(length)
            ))
            .remedy("End the pipe at a bracket near the wheel; braided hose grows less.")
            .caution(cautions::FLUID)
            .figure("flexible_last_m", length.m()),
    )
}

fn bare(seen: &Seen<'_>) -> Option<Finding> {
    is_bare(seen.car).then(|| {
        Finding::new("bare-run", Weight::Fix, "The rear line lies bare under the car")
            .because(
                "Nothing guards it against stones and what the car lands on. FIA Appendix J, article 253-3.1 (2020 \
                 text), asks for a guard. It does so wherever the series line is not kept.",
            )
            .remedy("Lay it in a tunnel or behind a sill, or put a guard over it.")
            .caution(cautions::EVENT)
    })
}

fn clips(seen: &Seen<'_>) -> Option<Finding> {
    let clips = seen.car.places.rear_clips?;
    let run = clipped_run(seen.car);
    let between = between_clips(seen.car)?;
    (between > BETWEEN_CLIPS).then(|| {
        Finding::new("few-clips", Weight::Fix, "The rear line has too few clips")
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
            .because(format!(
                "It is left {place}. It catches on what the car lands on. One day somebody joins it up \
                again."
            ))
            .remedy("Take it out, and close the ports that it came from.")
            .caution(cautions::STANDS),
    )
}

//! What goes wrong with threads, seats, pipes and hoses, each with its reason: rules of the trade.

use engine::car::circuit::Piece;
use engine::car::{Car, Lever, LeverKind, Line, Outlets, Pipe, Place};
use quantity::si::Length;

use crate::mating::Meeting;
use crate::seat::Seat;
use crate::system::Plumbing;
use crate::words::run_words;

/// From one clip to the next (common practice, no source).
pub const CLIP_EVERY: Length = Length::from_m(0.3);
/// Longest free run of pipe between two clips (common practice, no source).
pub const BETWEEN_CLIPS: Length = Length::from_m(0.5);
/// Longest rubber hose that a wheel's movement asks for (common practice, no source).
pub const LONG_HOSE: Length = Length::from_m(0.6);
/// Shortest hose that lets a wheel steer and droop (common practice, no source).
pub const SHORT_HOSE: Length = Length::from_m(0.25);

/// A trap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// A word for it that never changes.
    pub slug: &'static str,
    /// What is so.
    pub title: &'static str,
    /// Why it matters.
    pub because: &'static str,
    /// What to do.
    pub remedy: &'static str,
}

const fn rule(slug: &'static str, title: &'static str, because: &'static str, remedy: &'static str) -> Rule {
    Rule {
        slug,
        title,
        because,
        remedy,
    }
}

/// Every rule, in the order of the work: threads and seats, ends, pipe and hose, where it lies. Common practice, no source, where none is named.
pub const RULES: [Rule; 20] = [
    rule(
        "starts-and-strips",
        "M10x1 starts in 3/8-24 and strips it",
        "The one is 10.0 mm with a pitch of 1.000 mm, the other 9.525 mm with 1.058 mm. The first turns go in by \
         hand, then the crests are torn off.",
        "Hold nut and port side by side, and count threads with a gauge. What goes stiff within three turns comes \
         out again.",
    ),
    rule(
        "one-nut-two-flares",
        "One M10x1 nut serves two flares",
        "They are the bubble and the Japanese double flare, and the nut does not tell which the port wants. Sources \
         differ about the angle of the Japanese one.",
        "Identify the port: a funnel is for the bubble, a cone that points at you is not. Copy the flare of the pipe \
         that came out of it.",
    ),
    rule(
        "thread-not-seat",
        "-3 and 3/8-24: one thread, two seats",
        "Both are 3/8-24, but a 37° cone pushes outward and a 45° inverted flare sits inside. Screwed together they \
         feel tight and leak.",
        "Go by the seat. Between the two goes an adapter, 3/8-24 male inverted to -3 male 37°.",
    ),
    rule(
        "seven-sixteenths",
        "7/16-24 and 7/16-20: one diameter, two pitches",
        "The nut for 1/4 in pipe (24) starts on a -4 cone (20) and jams after two turns and a half.",
        "Keep -4 parts and 1/4 in pipe nuts in two boxes.",
    ),
    rule(
        "six-is-no-quarter",
        "6 mm pipe is not 1/4 in pipe",
        "The one is 6.00 mm, the other 6.35 mm. The nut of one does not pass the other, and a flare of the smaller \
         pulls through.",
        "Measure the pipe with a vernier before nuts are ordered.",
    ),
    rule(
        "nut-without-lead",
        "A bubble flare wants an unthreaded lead",
        "A nut that is threaded to its end bottoms in the port before the pipe is tight.",
        "Compare the nut with the one that came out.",
    ),
    rule(
        "bubble-few-times",
        "A bubble flare reseals only a few times",
        "It is crushed to the shape of its seat. Each time there is less left to crush.",
        "Nip a joint once. Where one has been opened often, flare the pipe anew.",
    ),
    rule(
        "washers-once",
        "Sealing washers are not used twice",
        "Copper hardens as it is crushed and follows the next face no more.",
        "Two new washers a banjo, every time it is opened; keep spares in the box that goes along.",
    ),
    rule(
        "taper-in-straight",
        "No tapered 1/8 NPT in a straight port",
        "It jams on its flanks, splits the casting and never reaches a seat.",
        "Screw taper only into taper, with sealant that brake fluid does not attack, never with tape.",
    ),
    rule(
        "banjo-wants-flat",
        "A banjo closes on a flat face only",
        "In a flare's port the bolt reaches neither funnel nor cone, and the washer has nothing to sit on.",
        "Fit an adapter, or a hose with the end that the port wants.",
    ),
    rule(
        "compression-fitting",
        "No compression fittings in a brake line",
        "An olive holds by friction alone; vibration and pressure pull the pipe out of it.",
        "Flare and nut, or a union for flared pipe.",
    ),
    rule(
        "plain-copper",
        "No plain copper pipe in a brake line",
        "It hardens and cracks where it shakes, and its strength is half of copper-nickel's.",
        "Copper-nickel (90/10) or coated steel.",
    ),
    rule(
        "long-rubber",
        "Rubber hose is only for what moves",
        "It grows three times as much as braided hose for the same pressure, chafes and ages.",
        "Pipe to a bracket near the wheel, 0.3 to 0.5 m of hose from there.",
    ),
    rule(
        "rigid-to-the-wheel",
        "A pipe right to a wheel breaks",
        "Pipe hardens as it is bent to and fro and cracks at the nut.",
        "End it at a bracket on the body, or on the axle where it is a beam. Go on with a hose.",
    ),
    rule(
        "pulled-hose",
        "No hose may be pulled or twisted",
        "Steering and droop pull at it. What it lacks in length it takes from its ends.",
        "Let the wheel hang, steer it lock to lock, then lift it right up. Look at every hose each time, tyre on.",
    ),
    rule(
        "bare-run",
        "A line under the car needs a guard",
        "It meets stones, and what the car lands on. FIA Appendix J, article 253-3.1 (2020 text), asks for one \
         wherever the series line is not kept.",
        "In a tunnel, behind a sill, or under a guard.",
    ),
    rule(
        "cabin-joints",
        "A joint in the cabin needs a cover",
        "Boots, jacks and helmets lie on it, and a leak sprays inside.",
        "A cover that can be taken off to feel the joint.",
    ),
    rule(
        "few-clips",
        "A line needs a clip every 0.3 m",
        "It needs one beside every bend and joint too. What swings work-hardens at its nuts and cracks there.",
        "Rubber-lined clips; none on the hose that moves.",
    ),
    rule(
        "none-made",
        "Some ends fit nothing that is made",
        "What is tried in its place is a thread that nearly fits.",
        "Change one of the two, as said beside the joint.",
    ),
    rule(
        "port-not-known",
        "A port that nobody has looked at",
        "The list of nuts and adapters rests on its thread and seat.",
        "Take out what is in it, look at the floor of the hole, and count the thread. Write it on the sheet, at the part's ports.",
    ),
];

/// A rule by its slug.
#[must_use]
pub fn named(slug: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.slug == slug)
}

/// A rule that a car breaks, or that a joint of it asks to mind.
#[derive(Clone, Debug, PartialEq)]
pub struct Caught {
    /// The rule.
    pub rule: &'static Rule,
    /// Where: runs or joints in words.
    pub places: Vec<String>,
    /// The figure that it rests on, where it is a length.
    pub length: Option<Length>,
    /// Whether it is only something to mind.
    pub mind: bool,
}

/// What a car's sheet shows of the rules.
#[must_use]
pub fn caught(car: &Car, plumbing: &Plumbing) -> Vec<Caught> {
    let mut all = Vec::new();
    let mut add = |slug: &str, places: Vec<String>, length: Option<Length>, mind: bool| {
        if let Some(rule) = named(slug).filter(|_| !places.is_empty()) {
            all.push(Caught {
                rule,
                places,
                length,
                mind,
            });
        }
    };
    let joints = |wanted: &dyn Fn(&crate::joint::Joint) -> bool| -> Vec<String> {
        plumbing
            .joints
            .iter()
            .filter(|joint| wanted(joint))
            .map(|joint| format!("{} ({})", joint.number, joint.place))
            .collect()
    };
    let seat = |joint: &crate::joint::Joint, seat: Seat| joint.spec.is_some_and(|spec| spec.seat == seat);
    let seats: Vec<Seat> = plumbing
        .joints
        .iter()
        .filter_map(|joint| Some(joint.spec?.seat))
        .collect();
    let threads = |wanted: &str| {
        plumbing.joints.iter().any(|joint| {
            joint
                .spec
                .is_some_and(|spec| spec.thread.name() == wanted && spec.seat != Seat::Male37)
        })
    };
    add(
        "none-made",
        joints(&|joint| matches!(joint.meeting, Meeting::None { .. })),
        None,
        false,
    );
    add(
        "port-not-known",
        joints(&|joint| joint.meeting == Meeting::NotKnown),
        None,
        true,
    );
    if threads("M10x1") && threads("3/8-24") {
        add(
            "starts-and-strips",
            joints(&|joint| {
                joint
                    .spec
                    .is_some_and(|spec| spec.thread.name() == "3/8-24" && spec.seat != Seat::Male37)
            }),
            None,
            true,
        );
    }
    add(
        "one-nut-two-flares",
        joints(&|joint| seat(joint, Seat::Japanese)),
        None,
        true,
    );
    if seats.contains(&Seat::Inverted) && seats.contains(&Seat::Male37) {
        add(
            "thread-not-seat",
            joints(&|joint| seat(joint, Seat::Inverted)),
            None,
            true,
        );
    }
    let bare_wheels = rigid_to_the_wheel(plumbing);
    add("rigid-to-the-wheel", bare_wheels, None, false);
    for (which, line) in car_lines(car) {
        if let Some(length) = long_rubber(line) {
            add("long-rubber", vec![format!("{which} line")], Some(length), false);
        }
    }
    let short = short_hoses(plumbing);
    add(
        "pulled-hose",
        short.iter().map(|(name, _)| run_words(name)).collect(),
        short.first().map(|&(_, length)| length),
        false,
    );
    if is_bare(car) {
        add("bare-run", vec!["rear line".to_owned()], None, false);
    }
    if car.places.rear_run == Place::Cabin && !car.places.rear_guard {
        add("cabin-joints", joints(&|joint| joint.in_cabin), None, false);
    }
    if let Some(between) = between_clips(car).filter(|&between| between > BETWEEN_CLIPS) {
        add("few-clips", vec!["rear line".to_owned()], Some(between), false);
    }
    all
}

/// The lines that a car has, with what they are called.
#[must_use]
pub fn car_lines(car: &Car) -> Vec<(&'static str, &Line)> {
    let mut lines = vec![("front", &car.front_line), ("rear", &car.rear_line)];
    if matches!(
        car.lever,
        Some(Lever {
            kind: LeverKind::Separate(..),
            ..
        })
    ) {
        lines.push(("handbrake", &car.lever_line));
    }
    lines
}

/// Length of a line's rubber hoses where it is more than a wheel asks for.
#[must_use]
pub fn long_rubber(line: &Line) -> Option<Length> {
    let hose = line.flexible_last.length;
    (line.flexible == Pipe::Rubber && line.pipe != Pipe::Rubber && hose > LONG_HOSE).then_some(hose)
}

/// Whether the rear line lies bare under the car.
#[must_use]
pub fn is_bare(car: &Car) -> bool {
    car.places.rear_run == Place::Outside && !car.places.rear_guard && car.lever.is_some()
}

/// Runs of rigid pipe that end at a wheel's brake.
#[must_use]
pub fn rigid_to_the_wheel(plumbing: &Plumbing) -> Vec<String> {
    let circuit = &plumbing.circuit;
    circuit
        .runs
        .iter()
        .filter(|run| {
            !run.run.pipe.is_hose()
                && [run.from, run.to].iter().any(|port| {
                    matches!(
                        circuit.components[port.component].part,
                        Piece::Brake(_) | Piece::LeverBrake(_)
                    )
                })
        })
        .map(|run| run_words(run.name))
        .collect()
}

/// Hoses from a bracket to a wheel that are too short to follow it, with their length.
#[must_use]
pub fn short_hoses(plumbing: &Plumbing) -> Vec<(String, Length)> {
    let circuit = &plumbing.circuit;
    circuit
        .runs
        .iter()
        .filter(|run| {
            run.run.pipe.is_hose()
                && run.run.length < SHORT_HOSE
                && circuit.components[run.from.component].part == Piece::Bracket
        })
        .map(|run| (run.name.to_owned(), run.run.length))
        .collect()
}

/// The part of the rear run that is clipped: from the bulkhead to where it parts to the wheels, or to the farther wheel
/// where two runs leave the lever.
#[must_use]
pub fn clipped_run(car: &Car) -> Length {
    let routes = car.routes;
    let two = car
        .lever
        .as_ref()
        .and_then(Lever::cylinder)
        .is_some_and(|cylinder| cylinder.outlets != Outlets::One);
    match car.lever.as_ref().map(|lever| &lever.kind) {
        Some(LeverKind::Inline(_)) if two => {
            let farther = routes
                .tee_to_rear_left
                .length
                .max(routes.tee_to_rear_right.length);
            routes.bulkhead_to_lever.length + farther
        }
        Some(LeverKind::Inline(_)) => routes.bulkhead_to_lever.then(routes.lever_to_rear_tee).length,
        _ => routes.bulkhead_to_rear_tee.length,
    }
}

/// How far apart the rear line's clips are, where they were counted.
#[must_use]
pub fn between_clips(car: &Car) -> Option<Length> {
    let clips = car.places.rear_clips?;
    Some(clipped_run(car) / f64::from(clips.saturating_add(1)))
}

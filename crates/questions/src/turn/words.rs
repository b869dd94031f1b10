//! A run in words.

use engine::turn::{After, Brief, Clutch, Headings, Release, Swing, Technique, Turn, Varied};
use quantity::si::{Angle, Duration, Length};
use wording::Units;

use crate::report::Detail;

/// Where it may be tried.
pub const WHERE: &str = "Try it where there is room and nobody stands: wide open ground, slowly first. A public road is no place for it; \
                                local law decides, and the rules of the event.";

/// What a run leaves out, how much it is, and which way it goes.
pub(super) const LEFT_OUT: &[&str] = &[
    "Rolling resistance, slope and bumps. The ground is the same everywhere.",
    "The tyres' relaxation: put in, it moves what the lever gains by up to 3\u{a0}%. The front wheels' different steer, air, \
     trail and the body's roll: by up to 8\u{a0}% each.",
];

/// What a run on loose ground leaves out.
pub(super) const PILES_UP: &str = "Loose ground piles up before sliding wheels, and that is left out. It slows the real car more. Where both rear wheels \
                                   lock it moves what the lever gains by up to 8\u{a0}%. Where only the inner one locks, by up to a third. It drags \
                                   the car inward, and the real car turns more.";

/// The heading that a run is called by: when the handbrake is let go; else at the end.
pub(super) fn called_by(heading: &Headings) -> Angle {
    heading.at_release.unwrap_or(heading.end)
}

/// What the lever does, for the index: the word may turn on what the tolerances allow, and the index draws nothing.
pub(super) fn in_short(turn: &Turn) -> String {
    match (turn.judged.lever_gave, turn.judged.to_spare) {
        (Some(gave), Some(spare)) => {
            format!(
                "the lever gives {}; {}",
                wording::degrees(gave),
                spare_words(spare)
            )
        }
        (Some(gave), None) => format!(
            "the lever gives {}; never out of the bend",
            wording::degrees(gave)
        ),
        _ => "never let go under way".to_owned(),
    }
}

/// What the rear wheels do.
fn stood(turn: &Turn) -> String {
    match turn.locking.rear_from {
        Some(from) => format!(
            "locks at {}, for {}",
            wording::seconds(from),
            wording::seconds(turn.locking.rear_for)
        ),
        None => "slides without locking".to_owned(),
    }
}

/// What the driver does: name and words.
pub(super) fn driver_facts(technique: &Technique, units: &Units) -> Vec<Detail> {
    let mut facts = Vec::new();
    facts.push(Detail::new(
        "steers",
        format!(
            "{} from {} on, within {}",
            wording::degrees(technique.steer),
            wording::seconds(technique.steer_at),
            wording::seconds(technique.steer_in)
        ),
    ));
    if let Some(foot) = technique.foot {
        facts.push(Detail::new(
            "foot",
            format!(
                "{} from {}{}",
                wording::figure(foot.force.n(), units.force),
                wording::seconds(foot.at),
                foot.off
                    .map_or_else(String::new, |off| format!(" to {}", wording::seconds(off)))
            ),
        ));
    }
    let clutch = match technique.clutch {
        Clutch::Up => "stays up, throttle closed".to_owned(),
        Clutch::DownAt(at) => format!("down at {}", wording::seconds(at)),
    };
    facts.push(Detail::new("clutch", clutch));
    let release = match technique.release {
        Release::At(at) if at < technique.until => format!("let go at {}", wording::seconds(at)),
        Release::Heading(angle) => format!("let go at {}", wording::degrees(angle)),
        Release::Best => "let go at the best moment".to_owned(),
        Release::At(_) | Release::Never => "not let go".to_owned(),
    };
    facts.push(Detail::new(
        "pulls",
        format!(
            "{} from {} on, up within {}; {release}",
            wording::pull(technique.hand, units),
            wording::seconds(technique.lever_at),
            wording::seconds(technique.lever_rise)
        ),
    ));
    let mut then = match technique.after {
        After::Hold => "holds the wheel".to_owned(),
        After::IntoSlide => "steers into the slide".to_owned(),
        After::Drives => "catches the slide and drives on round the bend".to_owned(),
    };
    if let Some(throttle) = technique.throttle {
        then.push_str(&format!(
            ", throttle at {}{}",
            wording::figure(throttle.torque.nm(), units.torque),
            throttle
                .at
                .map_or_else(String::new, |at| format!(" from {} on", wording::seconds(at)))
        ));
    }
    facts.push(Detail::new(
        "then",
        if technique.until < Technique::LONGEST {
            format!("{then}; followed for {}", wording::seconds(technique.until))
        } else {
            then
        },
    ));
    facts.push(Detail::new("bend", bend_words(technique)));
    facts
}

fn bend_words(technique: &Technique) -> String {
    let bend = &technique.bend;
    format!(
        "{}, {} to the middle of a road of {}",
        wording::degrees(bend.angle),
        wording::metres(bend.radius),
        wording::metres(bend.width)
    )
}

/// How it goes through the bend.
fn through_facts(turn: &Turn) -> Vec<Detail> {
    let mut facts = Vec::new();
    let through = &turn.judged.through;
    let way = match (through.out_s, turn.judged.to_spare) {
        (Some(out_s), Some(spare)) => format!(
            "out of it at {}, {}",
            wording::seconds(Duration::from_s(out_s)),
            spare_words(spare)
        ),
        _ if through.backwards => "rolls backwards before it is out".to_owned(),
        _ if through.stood => "stands before it is out".to_owned(),
        _ => format!(
            "never out of it; its path comes {} round at most",
            wording::degrees(Angle::from_rad(through.furthest_rad))
        ),
    };
    facts.push(Detail::new("bend", way));
    if let [Some(with), Some(without)] = turn.nose_in {
        facts.push(Detail::new(
            "nose",
            format!(
                "points {} into the bend when let go, {} without the handbrake",
                wording::degrees(with),
                wording::degrees(without)
            ),
        ));
    }
    if let Some(released) = turn.released {
        facts.push(Detail::new(
            "let go",
            format!("at {}", wording::seconds(released)),
        ));
    }
    if let Some(best) = turn.beside.and_then(|beside| beside.best) {
        facts.push(Detail::new(
            "best moment",
            format!(
                "let go at {} and driven on, it {}",
                wording::seconds(best.released),
                best.verdict.words()
            ),
        ));
    }
    facts
}

/// What is left to the nearer edge of the road, or how far beyond it a wheel is.
pub(super) fn spare_words(spare: Length) -> String {
    if spare >= Length::ZERO {
        format!("{} to spare", wording::metres(spare))
    } else {
        format!("{} off the road", wording::metres(-spare))
    }
}

/// What the run shows: name and figures.
pub(super) fn run_facts(turn: &Turn) -> Vec<Detail> {
    let mut facts = through_facts(turn);
    let locking = &turn.locking;
    let mut rear = stood(turn);
    if locking.inner_only_for.s() >= 0.005 {
        rear.push_str(&format!(
            "; the inner wheel alone for {}",
            wording::seconds(locking.inner_only_for)
        ));
    }
    facts.push(Detail::new("rear", rear));
    let mut front = match locking.front_speed_ratio {
        Some(ratio) => format!(
            "rolls at {} of its own speed while pulled",
            wording::per_cent(ratio)
        ),
        None => "rolls".to_owned(),
    };
    if locking.front_for.s() > 0.0 {
        front.push_str(&format!("; locked for {}", wording::seconds(locking.front_for)));
    }
    if locking.front_dragged_for.s() >= 0.005 {
        front.push_str(&format!(
            "; below {}, where it no longer steers, for {}",
            wording::per_cent(turn.front_keeps),
            wording::seconds(locking.front_dragged_for)
        ));
    }
    facts.push(Detail::new("front", front));
    let both = |at_release: Option<Angle>, end: Angle| match at_release {
        Some(heading) => format!(
            "{} when let go, {} at the end",
            wording::degrees(heading),
            wording::degrees(end)
        ),
        None => format!("{} at the end", wording::degrees(end)),
    };
    facts.push(Detail::new(
        "heading",
        both(turn.heading.at_release, turn.heading.end),
    ));
    facts.push(Detail::new(
        "without it",
        both(turn.without_lever.at_release, turn.without_lever.end),
    ));
    facts.push(Detail::new(
        "turns",
        format!(
            "{}/s at most",
            wording::degrees(Angle::from_rad(turn.yaw_rate_peak.rad_s()))
        ),
    ));
    let at_release = turn.speed_at_release.map_or_else(String::new, |speed| {
        format!("{} when let go, ", wording::speed(speed))
    });
    facts.push(Detail::new(
        "speed",
        format!("{at_release}{} at the end", wording::speed(turn.speed_end)),
    ));
    facts.push(Detail::new(
        "room",
        format!(
            "{} across, {} along, for the wheels",
            wording::metres(turn.room[0]),
            wording::metres(turn.room[1])
        ),
    ));
    facts
}

/// What was moved, in a word or two.
pub(super) const fn moved(varied: Varied) -> &'static str {
    match varied {
        Varied::YawInertia => "inertia",
        Varied::Grip => "grip",
        Varied::RollShare => "roll share",
    }
}

/// How far an input that was moved moves the heading.
pub(super) fn swung(swing: &Swing) -> String {
    let by = match swing.varied {
        Varied::YawInertia => "15\u{a0}% less and more",
        Varied::Grip => "10\u{a0}% less and more",
        Varied::RollShare => "0.10 less and more at the front",
    };
    let heading = |brief: &Brief| wording::degrees(called_by(&brief.heading));
    let mut said = format!("{by}: {} and {}", heading(&swing.less), heading(&swing.more));
    if swing.less.verdict != swing.more.verdict {
        said.push_str(&format!(
            "; {} and {}",
            swing.less.verdict.words(),
            swing.more.verdict.words()
        ));
    }
    said
}

//! A run in words.

use engine::turn::{After, Brief, Clutch, Headings, Release, Swing, Technique, Turn, TurnVerdict, Varied};
use quantity::si::Angle;
use wording::Units;

use crate::report::Fact;

/// Where it may be tried.
pub const WHERE: &str = "Try it where there is room and nobody stands: wide open ground, slowly first. A public road is no place for it; \
                                local law decides, and the rules of the event.";

/// What a run leaves out.
pub(super) const LEFT_OUT: &str = "Left out: rolling resistance, air, the front wheels' different steer, the springs' own motion. The ground \
                                   is level and the same everywhere.";

/// The heading that a run is called by: when the handbrake is let go; else at the end.
pub(super) fn called_by(heading: &Headings) -> Angle {
    heading.at_release.unwrap_or(heading.end)
}

/// The heading, for the index: the verdict may turn on what the tolerances allow, and the index draws nothing.
pub(super) fn in_short(turn: &Turn) -> String {
    let when = if turn.heading.at_release.is_some() {
        "when let go"
    } else {
        "at the end"
    };
    format!("{} {when}", wording::degrees(called_by(&turn.heading)))
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
pub(super) fn driver_facts(technique: &Technique, units: &Units) -> Vec<Fact> {
    let mut facts = Vec::new();
    facts.push(Fact::of(
        "steers",
        format!(
            "{} from {} on, within {}",
            wording::degrees(technique.steer),
            wording::seconds(technique.steer_at),
            wording::seconds(technique.steer_in)
        ),
    ));
    if let Some(foot) = technique.foot {
        facts.push(Fact::of(
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
    facts.push(Fact::of("clutch", clutch));
    let release = match technique.release {
        Release::At(at) if at < technique.until => format!("let go at {}", wording::seconds(at)),
        Release::Heading(angle) => format!("let go at {}", wording::degrees(angle)),
        Release::At(_) | Release::Never => "not let go".to_owned(),
    };
    facts.push(Fact::of(
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
    };
    if let Some(throttle) = technique.throttle {
        then.push_str(&format!(
            ", throttle at {}",
            wording::figure(throttle.torque.nm(), units.torque)
        ));
    }
    facts.push(Fact::of(
        "then",
        format!("{then}; followed for {}", wording::seconds(technique.until)),
    ));
    facts
}

/// What the run shows: name and figures.
pub(super) fn run_facts(turn: &Turn) -> Vec<Fact> {
    let mut facts = Vec::new();
    let locking = &turn.locking;
    let mut rear = stood(turn);
    if locking.inner_only_for.s() >= 0.005 {
        rear.push_str(&format!(
            "; the inner wheel alone for {}",
            wording::seconds(locking.inner_only_for)
        ));
    }
    facts.push(Fact::of("rear", rear));
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
    facts.push(Fact::of("front", front));
    let both = |at_release: Option<Angle>, end: Angle| match at_release {
        Some(heading) => format!(
            "{} when let go, {} at the end",
            wording::degrees(heading),
            wording::degrees(end)
        ),
        None => format!("{} at the end", wording::degrees(end)),
    };
    facts.push(Fact::of(
        "heading",
        both(turn.heading.at_release, turn.heading.end),
    ));
    facts.push(Fact::of(
        "without it",
        both(turn.without_lever.at_release, turn.without_lever.end),
    ));
    facts.push(Fact::of(
        "turns",
        format!(
            "{}/s at most",
            wording::degrees(Angle::from_rad(turn.yaw_rate_peak.rad_s()))
        ),
    ));
    let at_release = turn.speed_at_release.map_or_else(String::new, |speed| {
        format!("{} when let go, ", wording::speed(speed))
    });
    facts.push(Fact::of(
        "speed",
        format!("{at_release}{} at the end", wording::speed(turn.speed_end)),
    ));
    facts.push(Fact::of(
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
            in_words(swing.less.verdict),
            in_words(swing.more.verdict)
        ));
    }
    said
}

/// A verdict in words.
pub(crate) const fn in_words(verdict: TurnVerdict) -> &'static str {
    match verdict {
        TurnVerdict::ComesRound => "comes round",
        TurnVerdict::RotatesLittle => "rotates little",
        TurnVerdict::Ploughs => "ploughs",
        TurnVerdict::Spins => "spins",
    }
}

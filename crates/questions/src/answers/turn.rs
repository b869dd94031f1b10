//! Whether the car comes round: what a run says, in words.

use engine::ranges::{Range, Study};
use engine::thresholds::LEVERS_SHARE;
use engine::turn::{After, Brief, Clutch, Release, Swing, Technique, Turn, TurnVerdict, Varied};
use quantity::si::{Angle, Duration, Length, Speed};
use records::Car as Folder;

use crate::opened::{Changes, Opened, Sheet};
use crate::state::StateText;
use crate::trouble::Stop;
use wording::Units;

/// Where it may be tried.
pub const WHERE: &str = "Try it where there is room and nobody stands: wide open ground, slowly first. A public road is no place for it; \
                         local law decides, and the rules of the event.";

/// What a run leaves out.
pub const LEFT_OUT: &str = "Left out: rolling resistance, air, the two front wheels' different steer, the springs' own motion; the ground \
                            is level and the same everywhere.";

/// Another car's run beside it.
#[derive(Debug)]
pub struct Beside {
    /// The other car's folder.
    pub car: String,
    /// That car.
    pub opened: Opened,
    /// Its run.
    pub turn: Turn,
    /// What is not the same for both.
    pub mind: Option<&'static str>,
}

impl Beside {
    /// The car of a folder doing the same in the same state: same ground, same fuel, same people aboard. Where its tank
    /// does not hold the fuel, it has what it was weighed with, and that is said.
    ///
    /// # Errors
    /// Its sheet does not read; it knows no such ground; it cannot be run so.
    pub fn of(folder: &Folder, state: &StateText, technique: &Technique) -> Result<Self, Stop> {
        let open =
            |state: &StateText| Opened::of_sheet(Sheet::read(folder.clone())?, &Changes::default(), state);
        let (opened, mind) = match open(state) {
            Err(stop) if state.fuel.is_some() => {
                let as_weighed = StateText {
                    fuel: None,
                    ..state.clone()
                };
                let opened = open(&as_weighed).map_err(|_| stop)?;
                (
                    opened,
                    Some(
                        "Its tank does not hold the fuel that was asked for: it has what it was weighed with.",
                    ),
                )
            }
            other => (other?, None),
        };
        Ok(Self {
            car: opened.sheet.name().to_owned(),
            turn: crate::turn::turn(&opened, technique)?,
            opened,
            mind,
        })
    }
}

/// What came out of one technique.
#[derive(Debug)]
pub struct Outcome {
    /// The run.
    pub turn: Turn,
    /// The cars that the tolerances allow; `None` where none was drawn.
    pub drawn: Option<Study<Brief>>,
    /// Inertia, grip and roll share moved one by one.
    pub swings: Vec<Swing>,
    /// Another set-up beside it.
    pub against: Option<Beside>,
}

/// What becomes of it, in one sentence.
#[must_use]
pub fn sentence(turn: &Turn, surface: &str) -> String {
    let heading = turn.heading.at_release.unwrap_or(turn.heading.end);
    let without = turn.without_lever.at_release.unwrap_or(turn.without_lever.end);
    let when = if turn.heading.at_release.is_some() {
        "when the handbrake is let go"
    } else {
        "at the end, the handbrake still pulled"
    };
    let from = format!("from {} on {surface}", km_h(turn.technique.entry));
    let looks = format!(
        "it looks {} round {when}, {} without it",
        degrees(heading),
        degrees(without)
    );
    match turn.verdict {
        TurnVerdict::ComesRound => format!("Comes round: {from} {looks}; {}.", stood(turn)),
        TurnVerdict::RotatesLittle => {
            let added = heading - without;
            let share = if heading.rad().abs() > 0.0 {
                added / heading
            } else {
                0.0
            };
            let why = if turn.locking.rear_from.is_none() && turn.locking.inner_only_for.s() > 0.05 {
                "; only the inner rear wheel stands"
            } else if turn.locking.rear_from.is_none() {
                "; the rear never stands"
            } else if share < LEVERS_SHARE {
                "; most of it is the steering's"
            } else {
                "; that is not enough to drive out of a hairpin"
            };
            format!("Rotates little: {from} {looks}{why}.")
        }
        TurnVerdict::Ploughs => format!(
            "Ploughs: {from} {looks}, but the front wheels are dragged to {} of their own speed and no longer steer.",
            turn.locking
                .front_speed_ratio
                .map_or_else(|| "little".to_owned(), wording::per_cent)
        ),
        TurnVerdict::Spins => format!(
            "Spins: {from} {looks}; past 120° it can no longer be driven out forward. Let go earlier."
        ),
    }
}

fn stood(turn: &Turn) -> String {
    match turn.locking.rear_from {
        Some(from) => format!(
            "the rear stands from {} on, for {}",
            seconds(from),
            seconds(turn.locking.rear_for)
        ),
        None => "the rear slides without standing".to_owned(),
    }
}

/// How sure it is, in one sentence.
#[must_use]
pub fn sure(drawn: Option<&Study<Brief>>) -> Option<String> {
    let drawn = drawn?;
    let at_release = drawn.range(|brief: &Brief| brief.heading.at_release.map(|heading| heading.rad()));
    let (what, found) = match at_release {
        Some(found) => ("when the handbrake is let go", found),
        None => (
            "at the end",
            drawn.range(|brief: &Brief| Some(brief.heading.end.rad()))?,
        ),
    };
    let chances: Vec<String> = [
        (TurnVerdict::ComesRound, "comes round"),
        (TurnVerdict::RotatesLittle, "rotates little"),
        (TurnVerdict::Ploughs, "ploughs"),
        (TurnVerdict::Spins, "spins"),
    ]
    .into_iter()
    .filter_map(|(wanted, said)| {
        let chance = drawn.chance(|brief: &Brief| brief.verdict == wanted)?;
        (chance > 0.0).then(|| format!("{said} in {}", wording::chance(chance)))
    })
    .collect();
    Some(format!(
        "Nine times in ten {} {what}; of the cars that the tolerances allow it {}.",
        between(found),
        wording::list(&chances)
    ))
}

/// What the driver does: name and words.
#[must_use]
pub fn driver_facts(technique: &Technique, units: &Units) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    facts.push((
        "steers",
        format!(
            "{} from {} on, within {}",
            degrees(technique.steer),
            seconds(technique.steer_at),
            seconds(technique.steer_in)
        ),
    ));
    if let Some(foot) = technique.foot {
        facts.push((
            "foot",
            format!(
                "{} from {}{}",
                wording::figure(foot.force.n(), units.force),
                seconds(foot.at),
                foot.off
                    .map_or_else(String::new, |off| format!(" to {}", seconds(off)))
            ),
        ));
    }
    let clutch = match technique.clutch {
        Clutch::Up => "stays up, throttle closed".to_owned(),
        Clutch::DownAt(at) => format!("down at {}", seconds(at)),
    };
    facts.push(("clutch", clutch));
    let release = match technique.release {
        Release::At(at) if at < technique.until => format!("let go at {}", seconds(at)),
        Release::Heading(angle) => format!("let go at {}", degrees(angle)),
        Release::At(_) | Release::Never => "not let go".to_owned(),
    };
    facts.push((
        "pulls",
        format!(
            "{} from {} on, up within {}; {release}",
            wording::pull(technique.hand, units),
            seconds(technique.lever_at),
            seconds(technique.lever_rise)
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
    facts.push((
        "then",
        format!("{then}; followed for {}", seconds(technique.until)),
    ));
    facts
}

/// What the run shows: name and figures.
#[must_use]
pub fn run_facts(turn: &Turn) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    let locking = &turn.locking;
    let mut rear = stood(turn).trim_start_matches("the rear ").to_owned();
    if locking.inner_only_for.s() >= 0.005 {
        rear.push_str(&format!(
            "; the inner wheel alone for {}",
            seconds(locking.inner_only_for)
        ));
    }
    facts.push(("rear", rear));
    let mut front = match locking.front_speed_ratio {
        Some(ratio) => format!(
            "rolls at {} of its own speed while pulled",
            wording::per_cent(ratio)
        ),
        None => "rolls".to_owned(),
    };
    if locking.front_for.s() > 0.0 {
        front.push_str(&format!("; stands for {}", seconds(locking.front_for)));
    }
    if locking.front_dragged_for.s() >= 0.005 {
        front.push_str(&format!(
            "; below {}, where it no longer steers, for {}",
            wording::per_cent(turn.front_keeps),
            seconds(locking.front_dragged_for)
        ));
    }
    facts.push(("front", front));
    let both = |at_release: Option<Angle>, end: Angle| match at_release {
        Some(heading) => format!("{} at letting go, {} at the end", degrees(heading), degrees(end)),
        None => format!("{} at the end", degrees(end)),
    };
    facts.push(("heading", both(turn.heading.at_release, turn.heading.end)));
    facts.push((
        "without it",
        both(turn.without_lever.at_release, turn.without_lever.end),
    ));
    facts.push((
        "turns",
        format!(
            "{}/s at most",
            degrees(Angle::from_rad(turn.yaw_rate_peak.rad_s()))
        ),
    ));
    let at_release = turn
        .speed_at_release
        .map_or_else(String::new, |speed| format!("{} at letting go, ", km_h(speed)));
    facts.push((
        "speed",
        format!("{at_release}{} at the end", km_h(turn.speed_end)),
    ));
    facts.push((
        "room",
        format!(
            "{} across, {} along, for the wheels",
            metres(turn.room[0]),
            metres(turn.room[1])
        ),
    ));
    facts
}

/// What was moved, in a word or two.
#[must_use]
pub const fn moved(varied: Varied) -> &'static str {
    match varied {
        Varied::YawInertia => "inertia",
        Varied::Grip => "grip",
        Varied::RollShare => "roll share",
    }
}

/// How far an input that was moved moves the heading.
#[must_use]
pub fn swung(swing: &Swing) -> String {
    let by = match swing.varied {
        Varied::YawInertia => "15\u{a0}% less and more",
        Varied::Grip => "10\u{a0}% less and more",
        Varied::RollShare => "0.10 less and more at the front",
    };
    let heading = |brief: &Brief| degrees(brief.heading.at_release.unwrap_or(brief.heading.end));
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
#[must_use]
pub const fn in_words(verdict: TurnVerdict) -> &'static str {
    match verdict {
        TurnVerdict::ComesRound => "comes round",
        TurnVerdict::RotatesLittle => "rotates little",
        TurnVerdict::Ploughs => "ploughs",
        TurnVerdict::Spins => "spins",
    }
}

fn between(range: Range) -> String {
    let degrees = |rad: f64| format!("{:.0}", rad.to_degrees()).replace('-', "−");
    format!("{} to {}°", degrees(range.low), degrees(range.high))
}

/// Whole degrees.
#[must_use]
pub fn degrees(angle: Angle) -> String {
    format!("{:.0}°", angle.rad().to_degrees() + 0.0)
        .replace("-0°", "0°")
        .replace('-', "−")
}

/// Seconds to a hundredth.
#[must_use]
pub fn seconds(time: Duration) -> String {
    format!("{:.2}\u{a0}s", time.s())
}

/// Whole kilometres an hour.
#[must_use]
pub fn km_h(speed: Speed) -> String {
    format!("{:.0}\u{a0}km/h", speed.m_s() * 3.6)
}

/// Metres to a tenth.
#[must_use]
pub fn metres(length: Length) -> String {
    format!("{:.1}\u{a0}m", length.m())
}

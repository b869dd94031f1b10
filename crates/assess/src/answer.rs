//! Whether it will work in this car, in one sentence.

use engine::figures::{Figures, Hand, Headlined};
use engine::hydraulics::Limit;
use engine::lever::{Outcome, ToLock};
use engine::ranges::Range;
use engine::turn::Verdict as Run;
use quantity::{Dimension, digits_for_range, show, units_of};

use crate::families::Seen;
use crate::families::centre::{Grade, differ, reading_words, run_as};
use crate::families::guesses::is_open;
use crate::families::lever::only_the_centre;
use crate::families::turn::{degrees, heading, words};
use crate::finding::{Finding, Weight};
use crate::say::{list, percent, times};
use crate::surfaces::OnSurface;

/// The kind of answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// The run comes round, and the rear stops promptly, warm and cold.
    Yes,
    /// It comes round warm and not cold, or late, or the lever does too little of it.
    Half,
    /// The lever would do; what ties the axles does not let it: the run ploughs or never starts.
    NotWithThisCentre,
    /// Force, stroke, room or a valve stand in the way.
    No,
    /// What the sheet leaves open decides it.
    Open,
    /// No lever is on the sheet.
    NoLever,
}

/// The answer: its kind, and the sentence.
pub(crate) fn answer(seen: &Seen<'_>, findings: &[Finding]) -> (Verdict, String) {
    let Some(hand) = &seen.figures.hand else {
        return (Verdict::NoLever, behind_stops(findings, &no_lever(seen)));
    };
    let verdict = verdict(seen.figures, hand);
    let said = match verdict {
        Verdict::Yes => yes(seen, hand),
        Verdict::Half => half(seen, hand),
        Verdict::NotWithThisCentre => not_with_this_centre(seen, hand),
        Verdict::No | Verdict::NoLever => {
            let said = no(seen, hand);
            ran(seen).map_or_else(|| said.clone(), |ran| format!("{said}; {ran}"))
        }
        Verdict::Open => {
            let said = open(seen, hand);
            ran(seen).map_or_else(
                || said.clone(),
                |ran| format!("{said}; as its figures stand, {ran}"),
            )
        }
    };
    let drawn = if seen.figures.headlines.drawn.answers.is_empty() {
        "; tolerances were not looked at"
    } else {
        ""
    };
    (verdict, behind_stops(findings, &format!("{said}{drawn}")))
}

/// The answer, behind what stops the car before any of it counts.
fn behind_stops(findings: &[Finding], said: &str) -> String {
    match stop_first(findings) {
        Some(stop) => format!("{stop} {said}."),
        None => format!("{said}."),
    }
}

/// The run decides; what the hand makes of the standing car says why, and where there is no run stands for it.
fn verdict(figures: &Figures, hand: &Hand) -> Verdict {
    if is_open(figures.headlines.chance_rear_stops_at_worst()) {
        return Verdict::Open;
    }
    let stopped = stopped(hand);
    let Ok(turned) = &figures.turned else {
        return stopped;
    };
    let tied = hand.answer.to_lock.of_which_coupling.nm() > 0.0;
    match (turned.turn.verdict, stopped) {
        // It comes round although the rear does not stop by the rule for a car going straight.
        (Run::ComesRound | Run::Spins, Verdict::NotWithThisCentre | Verdict::No) => Verdict::Half,
        (Run::Ploughs, Verdict::Yes | Verdict::Half) if tied => Verdict::NotWithThisCentre,
        (Run::Ploughs | Run::RotatesLittle, Verdict::Yes) => Verdict::Half,
        _ => stopped,
    }
}

/// What the rule for a car going straight says.
fn stopped(hand: &Hand) -> Verdict {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    match (asked.outcome, Grade::of(asked)) {
        (Outcome::AllFour, _) | (Outcome::Rear, Grade::Spoilt | Grade::AllFour) => Verdict::NotWithThisCentre,
        (Outcome::None, _) if only_the_centre(hand) => Verdict::NotWithThisCentre,
        (Outcome::None, _) => Verdict::No,
        (Outcome::Rear, Grade::Partly) => Verdict::Half,
        (Outcome::Rear, Grade::Turns)
            if asked.is_late() || cold.is_late() || cold.outcome == Outcome::None =>
        {
            Verdict::Half
        }
        (Outcome::Rear, Grade::Turns) => Verdict::Yes,
    }
}

/// What has to be put right before any of it counts.
pub(crate) fn stops(findings: &[Finding]) -> impl Iterator<Item = &Finding> {
    findings.iter().filter(|finding| finding.weight == Weight::Stop)
}

/// The same in words, by the first of them.
pub(crate) fn stop_first(findings: &[Finding]) -> Option<String> {
    let worst = stops(findings).next()?;
    let title = lower(&worst.title);
    Some(match stops(findings).count() - 1 {
        0 => format!("Stop first: {title}."),
        more => format!("Stop first: {title}, and {more} more."),
    })
}

fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn range(seen: &Seen<'_>, figure: Headlined) -> Option<Range> {
    seen.figures.headlines.range(|headline| figure.of(headline))
}

/// Torque there is over torque needed, rounded to what its range supports.
fn in_hand(seen: &Seen<'_>, ratio: f64) -> String {
    range(seen, Headlined::InHand).map_or_else(
        || times(ratio),
        |range| {
            let bare = units_of(Dimension::Ratio)[0];
            show(ratio, bare, digits_for_range(range.low, range.high, bare))
        },
    )
}

/// Force and travel that lock the rear, in words.
fn at(seen: &Seen<'_>, to_lock: &ToLock) -> String {
    let force = to_lock
        .hand
        .map(|hand| seen.say.hand_in(hand, range(seen, Headlined::HandForce)));
    let travel = to_lock
        .travel
        .map(|travel| seen.say.length_in(travel, range(seen, Headlined::Travel)));
    list(&[force, travel].into_iter().flatten().collect::<Vec<_>>())
}

/// What the run says, in words.
fn ran(seen: &Seen<'_>) -> Option<String> {
    let turn = &seen.figures.turned.as_ref().ok()?.turn;
    let (with, without) = heading(turn);
    let then = match turn.verdict {
        Run::Ploughs => turn.locking.front_speed_ratio.map_or_else(String::new, |ratio| {
            format!(", the front wheels dragged to {} of their speed", percent(ratio))
        }),
        _ => String::new(),
    };
    Some(format!(
        "run from {:.0}\u{A0}km/h on {} it {}: {} round at letting go, {} without the handbrake{then}",
        turn.technique.entry.m_s() * 3.6,
        seen.figures.surface.name,
        words(turn.verdict),
        degrees(with),
        degrees(without)
    ))
}

/// The run first, where there is one, then the rest.
fn ran_then(seen: &Seen<'_>, rest: String) -> String {
    match ran(seen) {
        Some(ran) => format!("{ran}; {rest}"),
        None => rest,
    }
}

/// What the other surfaces and cold brakes take away, in words.
fn though(seen: &Seen<'_>, hand: &Hand) -> String {
    let short: Vec<String> = OnSurface::all(seen)
        .iter()
        .filter(|surface| !surface.works())
        .map(OnSurface::words)
        .collect();
    let mut said = Vec::new();
    if let (Some(down), Some(up)) = (hand.answer.to_lock.time_to_lock, hand.time_with_clutch_up)
        && seen.car.drivetrain.driven == engine::car::Driven::Rear
        && up > down * 1.5
    {
        said.push("with the clutch down".to_owned());
    }
    let cold = &hand.answer.cold;
    if cold.is_late() && !hand.answer.to_lock.is_late() {
        said.push(format!("late when cold ({})", times(cold.in_hand)));
    }
    if !short.is_empty() {
        said.push(format!("not on {}", list(&short)));
    }
    if said.is_empty() {
        String::new()
    } else {
        format!("; {}", list(&said))
    }
}

fn yes(seen: &Seen<'_>, hand: &Hand) -> String {
    let to_lock = &hand.answer.to_lock;
    let rest = format!(
        "the rear stops at {}, and the driver's {} make {} times the torque that it takes{}",
        at(seen, to_lock),
        seen.say.hand(hand.pull),
        in_hand(seen, to_lock.in_hand),
        though(seen, hand)
    );
    format!("Yes: {}", ran_then(seen, rest))
}

fn half(seen: &Seen<'_>, hand: &Hand) -> String {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let rest = match asked.outcome {
        Outcome::None => format!(
            "going straight, the driver's {} make only {} of the torque that stops the rear{}",
            seen.say.hand(hand.pull),
            in_hand(seen, asked.in_hand),
            though(seen, hand)
        ),
        _ if Grade::of(asked) != Grade::Turns => format!(
            "the rear stops at {}, but the centre brings back {} from the front wheels",
            at(seen, asked),
            seen.say.torque(asked.of_which_coupling)
        ),
        _ if cold.outcome == Outcome::None => format!(
            "warm, the rear stops at {}; cold, the driver's {} make {} of what it takes{}",
            at(seen, asked),
            seen.say.hand(hand.pull),
            times(cold.in_hand),
            though(seen, hand)
        ),
        _ if asked.is_late() => format!(
            "the rear stops at {}, but late: the driver's {} make only {} times the torque that it takes{}",
            at(seen, asked),
            seen.say.hand(hand.pull),
            in_hand(seen, asked.in_hand),
            though(seen, hand)
        ),
        _ => format!(
            "going straight, the rear stops at {}, and the driver's {} make {} times the torque that it takes{}",
            at(seen, asked),
            seen.say.hand(hand.pull),
            in_hand(seen, asked.in_hand),
            though(seen, hand)
        ),
    };
    format!("Half: {}", ran_then(seen, rest))
}

fn not_with_this_centre(seen: &Seen<'_>, hand: &Hand) -> String {
    let to_lock = &hand.answer.to_lock;
    let brings = format!(
        "the centre brings back {} from the front wheels",
        seen.say.torque(to_lock.of_which_coupling)
    );
    let then = match to_lock.outcome {
        Outcome::AllFour => "the pull stops all four".to_owned(),
        Outcome::Rear => "the turn is spoilt".to_owned(),
        Outcome::None => format!(
            "the driver's {} make {} of what it takes",
            seen.say.hand(hand.pull),
            in_hand(seen, to_lock.in_hand)
        ),
    };
    let mut otherwise: Vec<String> = Vec::new();
    if let Some(free) = &hand.uncoupled {
        let runs = seen
            .figures
            .turned
            .as_ref()
            .ok()
            .and_then(|turned| turned.uncoupled)
            .map_or_else(String::new, |free| format!(", and it {}", words(free.verdict)));
        otherwise.push(format!("{} with the axles free{runs}", times(free.in_hand)));
    }
    otherwise.extend(
        hand.answer
            .also
            .iter()
            .filter(|(_, other)| differ(to_lock, other) && other.outcome == Outcome::Rear)
            .map(|&(reading, other)| {
                let run = run_as(seen, reading)
                    .map_or_else(String::new, |verdict| format!(", and it {}", words(verdict)));
                format!("{} {}{run}", times(other.in_hand), reading_words(reading))
            }),
    );
    let otherwise = if otherwise.is_empty() {
        String::new()
    } else {
        format!(" ({})", otherwise.join("; "))
    };
    let rest = format!("{brings}, and {then}{otherwise}");
    format!("Not with this centre: {}", ran_then(seen, rest))
}

fn no(seen: &Seen<'_>, hand: &Hand) -> String {
    let to_lock = &hand.answer.to_lock;
    let surface = &seen.figures.surface.name;
    let reached = hand.reached.lever.filter(|lever| lever.runs_out.is_some());
    if let (Some(reached), Some(needs)) = (reached, to_lock.pressure) {
        let what = match reached.runs_out {
            Some(Limit::Stroke) => "the cylinder's stroke",
            _ => "the room for the grip",
        };
        return format!(
            "No: {what} ends at {}, and locking the rear on {surface} takes {}",
            reached.own.map_or_else(String::new, |own| seen.say.pressure(own)),
            seen.say.pressure(needs)
        );
    }
    match (to_lock.hand, to_lock.pressure) {
        (None, Some(needs)) => format!(
            "No: the valve behind the lever ends below the {} that locking the rear on {surface} takes",
            seen.say.pressure(needs)
        ),
        (Some(needs), _) if !to_lock.enough_force => format!(
            "No: locking the rear on {surface} takes {}, and the driver pulls {}",
            seen.say.hand_in(needs, range(seen, Headlined::HandForce)),
            seen.say.hand(hand.pull)
        ),
        _ => format!(
            "No: on {surface} the driver's {} make {} of the torque that it takes",
            seen.say.hand(hand.pull),
            times(to_lock.in_hand)
        ),
    }
}

fn open(seen: &Seen<'_>, hand: &Hand) -> String {
    let chance = seen
        .figures
        .headlines
        .chance_rear_stops_at_worst()
        .unwrap_or_default();
    let bare = units_of(Dimension::Ratio)[0];
    let between = range(seen, Headlined::InHand).map_or_else(
        || times(hand.answer.to_lock.in_hand),
        |range| {
            quantity::show_range(
                range.low,
                range.high,
                bare,
                digits_for_range(range.low, range.high, bare),
            )
        },
    );
    let settles = seen
        .figures
        .settles
        .iter()
        .find(|(figure, _)| *figure == Headlined::InHand);
    let next = settles
        .and_then(|(_, settles)| settles.first())
        .map_or_else(String::new, |settles| {
            format!("; `{}` decides most", settles.slot.path())
        });
    format!(
        "Cannot be said yet: by the sheet's tolerances the driver's pull makes anything from {between} times the torque that it takes \
         on {}, and the rear stops in {} of the cars that they allow{next}",
        seen.figures.surface.name,
        percent(chance)
    )
}

fn no_lever(seen: &Seen<'_>) -> String {
    let lock = &seen.figures.braked.lock;
    let braking = lock.at.map_or_else(
        || "nothing locks under the foot".to_owned(),
        |point| {
            let (who, by) = if point.front_first_by >= 0.0 {
                ("front", point.front_first_by)
            } else {
                ("rear", point.front_first_by)
            };
            format!("under the foot the {who} leads by {} at first lock", percent(by))
        },
    );
    format!(
        "No handbrake is on the sheet; on {} {braking}",
        seen.figures.surface.name
    )
}

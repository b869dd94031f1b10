//! Whether it will work in this car, in one sentence.

use engine::figures::{Figures, Hand, Headlined};
use engine::hydraulics::Limit;
use engine::lever::{Outcome, ToLock};
use engine::ranges::Range;
use quantity::{Dimension, digits_for_range, show, units_of};

use crate::families::Seen;
use crate::families::centre::{Grade, differ, reading_words};
use crate::families::guesses::is_open;
use crate::families::lever::{LATE, only_the_centre};
use crate::finding::{Finding, Weight};
use crate::say::{list, percent, times};

/// The kind of answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// The rear stops promptly, warm and cold, and the front rolls.
    Yes,
    /// Warm and not cold, late, or held back in part.
    Half,
    /// The lever would do; what ties the axles does not let it.
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
        return (
            Verdict::NoLever,
            format!("{}{}.", no_lever(seen), first(findings)),
        );
    };
    let verdict = verdict(seen.figures, hand);
    let said = match verdict {
        Verdict::Yes => yes(seen, hand),
        Verdict::Half => half(seen, hand),
        Verdict::NotWithThisCentre => not_with_this_centre(seen, hand),
        Verdict::No | Verdict::NoLever => no(seen, hand),
        Verdict::Open => open(seen, hand),
    };
    let drawn = if seen.figures.headlines.drawn.answers.is_empty() {
        "; tolerances were not looked at"
    } else {
        ""
    };
    (verdict, format!("{said}{drawn}{}.", first(findings)))
}

fn verdict(figures: &Figures, hand: &Hand) -> Verdict {
    if is_open(figures.headlines.chance_rear_stops()) {
        return Verdict::Open;
    }
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    match (asked.outcome, Grade::of(asked)) {
        (Outcome::AllFour, _) | (Outcome::Rear, Grade::Spoilt | Grade::AllFour) => Verdict::NotWithThisCentre,
        (Outcome::None, _) if only_the_centre(hand) => Verdict::NotWithThisCentre,
        (Outcome::None, _) => Verdict::No,
        (Outcome::Rear, Grade::Partly) => Verdict::Half,
        (Outcome::Rear, Grade::Turns) if asked.in_hand < LATE || cold.outcome == Outcome::None => {
            Verdict::Half
        }
        (Outcome::Rear, Grade::Turns) => Verdict::Yes,
    }
}

/// What has to be put right before any of it counts.
fn first(findings: &[Finding]) -> String {
    let stops: Vec<&Finding> = findings
        .iter()
        .filter(|finding| finding.weight == Weight::Stop)
        .collect();
    let Some(worst) = stops.first() else {
        return String::new();
    };
    let title = lower(&worst.title);
    match stops.len() - 1 {
        0 => format!("; but one thing stops the car first: {title}"),
        1 => format!("; but two things stop the car first: {title}, and one more"),
        more => format!(
            "; but {} things stop the car first: {title}, and {more} more",
            more + 1
        ),
    }
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

/// What the other surfaces and cold brakes take away, in words.
fn though(seen: &Seen<'_>, hand: &Hand) -> String {
    let short: Vec<String> = hand
        .rows
        .iter()
        .filter(|row| row.answer.to_lock.outcome != Outcome::Rear)
        .map(|row| row.surface.to_string())
        .collect();
    let mut said = Vec::new();
    if let (Some(down), Some(up)) = (hand.answer.to_lock.time_to_lock, hand.time_with_clutch_up)
        && seen.car.drivetrain.driven == engine::car::Driven::Rear
        && up > down * 1.5
    {
        said.push("with the clutch down".to_owned());
    }
    let cold = &hand.answer.cold;
    if cold.outcome == Outcome::Rear && cold.in_hand < LATE && hand.answer.to_lock.in_hand >= LATE {
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
    format!(
        "Yes, at {} on {}, where the driver's {} make {} times the torque that it takes{}",
        at(seen, to_lock),
        seen.figures.surface.name,
        seen.say.hand(hand.pull),
        in_hand(seen, to_lock.in_hand),
        though(seen, hand)
    )
}

fn half(seen: &Seen<'_>, hand: &Hand) -> String {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let surface = &seen.figures.surface.name;
    if Grade::of(asked) == Grade::Partly {
        return format!(
            "Half: on {surface} the rear stops at {}, but the centre brings back {} from the front wheels and the car \
             comes round in part",
            at(seen, asked),
            seen.say.torque(asked.of_which_coupling)
        );
    }
    if cold.outcome == Outcome::None {
        return format!(
            "Half: warm, the rear locks on {surface} at {}; cold, the driver's {} make {} of what it takes{}",
            at(seen, asked),
            seen.say.hand(hand.pull),
            times(cold.in_hand),
            though(seen, hand)
        );
    }
    format!(
        "Half: the rear locks on {surface} at {}, but late: the driver's {} make only {} times the torque that it takes{}",
        at(seen, asked),
        seen.say.hand(hand.pull),
        in_hand(seen, asked.in_hand),
        though(seen, hand)
    )
}

fn not_with_this_centre(seen: &Seen<'_>, hand: &Hand) -> String {
    let to_lock = &hand.answer.to_lock;
    let surface = &seen.figures.surface.name;
    let brings = format!(
        "on {surface} it brings back {} from the front wheels",
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
    let mut otherwise: Vec<String> = hand
        .uncoupled
        .iter()
        .map(|free| format!("{} with the axles free", times(free.in_hand)))
        .collect();
    otherwise.extend(
        hand.answer
            .also
            .iter()
            .filter(|(_, other)| differ(to_lock, other) && other.outcome == Outcome::Rear)
            .map(|&(reading, other)| format!("{} {}", times(other.in_hand), reading_words(reading))),
    );
    let otherwise = if otherwise.is_empty() {
        String::new()
    } else {
        format!(" ({})", otherwise.join("; "))
    };
    format!("Not with this centre: {brings}, and {then}{otherwise}")
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
    let chance = seen.figures.headlines.chance_rear_stops().unwrap_or_default();
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

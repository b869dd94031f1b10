//! Joints, cuts, parts and layouts in words.

use engine::balance::Leaking;
use plumbing::layouts::Layout;
use plumbing::{Counted, Cut, Joint, Made, Meeting, NOT_TAPED, Part};
use quantity::si::Length;
use wording::{Precision, Units};

use super::outcome::{Compared, Outcome};

/// How a run's length reads, in a person's unit: what it was measured as, and what it is cut to, or why it is not.
pub(crate) fn cut_words(cut: &Cut, units: &Units) -> [String; 2] {
    let length = |of: Length| wording::figure(of.m(), units.length);
    let to = match cut.cut() {
        Some(to) => length(to),
        None if cut.made == Made::Direct => "screwed on".to_owned(),
        None if cut.stays => "stays".to_owned(),
        None => NOT_TAPED.to_owned(),
    };
    [
        if cut.taped {
            length(cut.length)
        } else {
            "–".to_owned()
        },
        to,
    ]
}

/// Thread and seat of a joint, in words.
pub(crate) fn spec_words(joint: &Joint) -> String {
    match joint.spec {
        Some(spec) => spec.to_string(),
        None => match joint.meeting {
            Meeting::Crimped => "the hose's own end".to_owned(),
            Meeting::Stays => "as it is".to_owned(),
            _ => "thread and seat not known".to_owned(),
        },
    }
}

/// What has to be said where a joint would make one circuit of two.
const JOINS: &str = "it would join the two circuits, and one leak would empty both";
const INSTEAD: &str = "fit a cylinder with two outlets, one for each circuit";

/// How two ends meet, in words.
pub(super) fn meets_words(joint: &Joint) -> String {
    match &joint.meeting {
        Meeting::Mates { .. } => "mates".to_owned(),
        Meeting::Adapter { adapter, .. } => format!("adapter: {adapter}"),
        Meeting::None { why, change } => format!("NOTHING JOINS THEM: {why}; {change}"),
        Meeting::Joins => format!("NOT TO BE FITTED: {JOINS}; {INSTEAD}"),
        Meeting::Crimped => "nothing is screwed".to_owned(),
        Meeting::Stays => "stays".to_owned(),
        Meeting::NotKnown => "look first".to_owned(),
    }
}

/// Why it is not said whether two ends mate, or why they do not; `None` where they do, by themselves or with an adapter.
pub(super) fn why_not(joint: &Joint) -> Option<&'static str> {
    match &joint.meeting {
        Meeting::Mates { .. } | Meeting::Adapter { .. } | Meeting::Crimped => None,
        Meeting::None { why, .. } => Some(why),
        Meeting::Joins => Some(JOINS),
        Meeting::Stays => Some("it is not touched"),
        Meeting::NotKnown => Some("look first: the sheet does not say what the port is"),
    }
}

/// What to change where two ends cannot be joined.
pub(super) fn change(joint: &Joint) -> Option<&'static str> {
    match &joint.meeting {
        Meeting::None { change, .. } => Some(change),
        Meeting::Joins => Some(INSTEAD),
        _ => None,
    }
}

/// What manuals tighten it to, in words.
pub(super) fn band_words(joint: &Joint, units: &Units) -> Option<String> {
    let (low, high) = joint.torque_band?;
    let (low, high) = (units.torque.from_si(low.nm()), units.torque.from_si(high.nm()));
    let places = if high < 10.0 { 1 } else { 0 };
    Some(format!(
        "{low:.places$} to {high:.places$}\u{a0}{}",
        units.torque.shown().replace(' ', "\u{a0}")
    ))
}

/// A count with what it is counted in.
pub(super) fn count_of(part: &Part) -> String {
    let metres = || wording::metres(Length::from_m(part.count));
    match part.kind.counted() {
        Counted::Pieces => wording::whole(part.count),
        Counted::Metres => match (part.count > 0.0, part.to_tape) {
            (_, 0) => metres(),
            (true, _) => format!("{}, more", metres()),
            (false, _) => "tape first".to_owned(),
        },
        Counted::Bottles => format!(
            "{} {}",
            wording::whole(part.count),
            if part.count > 1.5 { "bottles" } else { "bottle" }
        ),
    }
}

/// Wheels by name.
pub(super) fn wheels_words(wheels: &[engine::car::Wheel]) -> String {
    use engine::car::Wheel;
    match wheels {
        [] => "nothing".to_owned(),
        [Wheel::FrontLeft, Wheel::FrontRight] => "the front wheels".to_owned(),
        [Wheel::RearLeft, Wheel::RearRight] => "the rear wheels".to_owned(),
        all if all.len() == 4 => "all four wheels".to_owned(),
        some => {
            let names: Vec<String> = some.iter().map(|wheel| wheel.name().replace('_', " ")).collect();
            wording::list(&names)
        }
    }
}

/// What the hand still has once a run leaks.
pub(super) fn hand_after_leak(leaking: &Leaking) -> String {
    if leaking.hand.is_empty() {
        "has nothing".to_owned()
    } else {
        format!("still has {}", wheels_words(&leaking.hand))
    }
}

/// A short name for the head of a column. A cable that the car has anyway tells no layout from another.
pub(super) fn column(layout: &Layout, own: Option<&Layout>) -> &'static str {
    use plumbing::layouts::LayoutKind;
    let cable_added = layout.cable_kept && own.is_none_or(|own| !own.cable_kept);
    match (layout.way, cable_added) {
        (LayoutKind::Inline, true) => "inline, cable",
        (LayoutKind::TwoOutlets, true) => "two outlets, cable",
        (LayoutKind::Separate, true) => "separate, cable",
        (LayoutKind::Inline, _) => "inline",
        (LayoutKind::TwoOutlets, _) => "two outlets",
        (LayoutKind::Separate, _) => "separate",
        (LayoutKind::Cable, _) => "cable",
        (LayoutKind::NoLever, _) => "no lever",
    }
}

/// Layouts side by side: what is compared, and a cell for each layout.
pub(super) fn layout_rows(
    outcome: &Outcome,
    precision: &Precision,
    units: &Units,
) -> Vec<(&'static str, Vec<String>)> {
    let can = &outcome.can;
    let mut rows: Vec<(&'static str, Vec<String>)> = Vec::new();
    let mut row = |label: &'static str, cell: &dyn Fn(&Compared) -> String| {
        rows.push((label, can.iter().map(cell).collect()));
    };
    let dash = || "–".to_owned();
    row("parts", &|of| wording::whole(of.layout.pieces));
    row("pipe and hose", &|of| wording::metres(of.layout.line));
    row("joints", &|of| of.layout.plumbing.joints.len().to_string());
    row("of them in the cabin", &|of| {
        of.layout.joints_in_cabin.to_string()
    });
    if can.iter().any(|of| of.layout.to_tape > 0) {
        row("runs to tape", &|of| of.layout.to_tape.to_string());
    }
    row("fluid in the cabin", &|of| {
        wording::figure(of.layout.fluid_in_cabin.m3(), units.fluid)
    });
    row("cost", &|of| {
        of.layout.cost.map_or_else(dash, |cost| {
            let more = if cost.without > 0 || cost.to_tape > 0 {
                "+"
            } else {
                ""
            };
            format!("{}{more}", wording::whole(cost.sum))
        })
    });
    row("hand to lock", &|of| {
        let hand = of.to_lock.as_ref().and_then(|to_lock| to_lock.hand);
        hand.map_or_else(dash, |hand| precision.hand(hand, units))
    });
    row("travel to lock", &|of| {
        let travel = of.to_lock.as_ref().and_then(|to_lock| to_lock.travel);
        travel.map_or_else(dash, |travel| precision.travel(travel, units))
    });
    row("torque there is", &|of| {
        of.to_lock
            .as_ref()
            .map_or_else(dash, |to_lock| wording::per_cent(to_lock.in_hand))
    });
    row("least left by a leak", &|of| {
        of.worst()
            .map_or_else(dash, |worst| wording::deceleration(worst.rate))
    });
    row("leaks that take the hand", &|of| {
        format!("{} of {}", of.runs_that_take_the_hand(), of.leaking.len())
    });
    if can.iter().any(|of| of.layout.joined) {
        row("STOP: joins circuits", &|of| {
            if of.layout.joined { "YES" } else { "no" }.to_owned()
        });
    }
    row("parks mechanically", &|of| {
        if of.layout.cable_kept { "yes" } else { "no" }.to_owned()
    });
    rows
}

//! Whether it will work in this car: the verdict in parts, each short enough to be read in one look.

use engine::car::Driven;
use engine::figures::{Figures, Hand, Headlined, Turned};
use engine::hydraulics::TravelEnd;
use engine::lever::{ToLock, WhatStops};
use engine::thresholds::{BORDER_GRIP, DragGrade};
use engine::turn::{Turn, TurnVerdict as Run};
use wording::Measured;

use crate::families::Seen;
use crate::families::centre::{differ, reading_words, run_as};
use crate::families::guesses::is_open;
use crate::families::lever::only_the_centre;
use crate::families::surfaces::OnSurface;
use crate::families::turn::{degrees, gave, short_of};
use crate::finding::{Finding, Weight};
use crate::measure::MeasureNext;
use crate::say::{MOST_WORDS, capital, list, lower, percent};

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

impl Verdict {
    /// The word for it that never changes.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::Half => "half",
            Self::NotWithThisCentre => "not-with-this-centre",
            Self::No => "no",
            Self::Open => "open",
            Self::NoLever => "no-lever",
        }
    }
}

/// The answer in parts.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictInParts {
    /// Its kind.
    pub verdict: Verdict,
    /// In at most four words.
    pub said: &'static str,
    /// Why, in at most 14 words.
    pub because: String,
    /// What else has to be known, a sentence each.
    pub though: Vec<String>,
    /// Findings that stop the car before any of it counts: slug and title, worst first. They never change the verdict.
    pub stops_first: Vec<(&'static str, String)>,
    /// What to do first.
    pub first: Option<String>,
}

impl VerdictInParts {
    /// The same as sentences, what stops the car before everything else.
    #[must_use]
    pub fn in_sentences(&self) -> String {
        let stops = self
            .stops_first
            .iter()
            .map(|(_, title)| format!("Stop: {title}."));
        let said = core::iter::once(format!("{}.", self.said));
        let because = core::iter::once(self.because.clone());
        let all: Vec<String> = stops
            .chain(said)
            .chain(because)
            .chain(self.though.iter().cloned())
            .collect();
        all.join(" ")
    }
}

pub(crate) fn answer(seen: &Seen<'_>, findings: &[Finding], measure: &[MeasureNext]) -> VerdictInParts {
    let (verdict, said, because, mut though) = match &seen.figures.hand {
        None => {
            let (because, though) = no_lever(seen);
            (Verdict::NoLever, "No handbrake", because, though)
        }
        Some(hand) => {
            let verdict = verdict(seen.figures, hand);
            let (said, because) = said_and_why(seen, hand, verdict);
            (verdict, said, because, though(seen, hand, verdict))
        }
    };
    if seen.figures.headlines.drawn.answers.is_empty() {
        though.push("Tolerances were not looked at.".to_owned());
    }
    VerdictInParts {
        verdict,
        said,
        because,
        though,
        stops_first: findings
            .iter()
            .filter(|finding| finding.weight == Weight::Stop)
            .map(|finding| (finding.slug, finding.title.clone()))
            .collect(),
        first: first(verdict, findings, measure),
    }
}

/// The run decides, and the worst reading of the coupling decides among runs; where there is no run, the rule for a car
/// going straight stands for it.
fn verdict(figures: &Figures, hand: &Hand) -> Verdict {
    if is_open(figures.headlines.chance_rear_stops_at_worst()) || hangs_on_the_centre(figures, hand) {
        return Verdict::Open;
    }
    let Ok(turned) = &figures.turned else {
        return stopped(hand, &hand.answer.to_lock, Some(&hand.answer.cold));
    };
    if is_on_the_border(&turned.turn) {
        return Verdict::Open;
    }
    let rank = |word: &Verdict| match word {
        Verdict::Yes => 2,
        Verdict::Half => 1,
        _ => 0,
    };
    let words = runs_as_read(turned, hand);
    words.into_iter().min_by_key(rank).unwrap_or(Verdict::No)
}

/// That a little more or less grip makes the run another word, in a sentence.
#[must_use]
pub fn on_the_border() -> String {
    format!("{} more or less grip changes the answer.", percent(BORDER_GRIP))
}

/// Whether a little more or less grip makes the run another word.
fn is_on_the_border(turn: &Turn) -> bool {
    turn.beside.is_some_and(|beside| beside.on_the_border)
}

/// What each reading of the coupling comes to, the deciding one first.
fn runs_as_read(turned: &Turned, hand: &Hand) -> Vec<Verdict> {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let plenty = |to_lock: &ToLock| to_lock.outcome == WhatStops::Rear && !to_lock.is_late();
    let freed = turned.uncoupled.is_some_and(|free| free.verdict.is_round());
    let word = |run: Run, plenty: bool| match run {
        Run::ComesRound if plenty => Verdict::Yes,
        Run::ComesRound | Run::ComesRoundLate => Verdict::Half,
        _ if freed => Verdict::NotWithThisCentre,
        _ => Verdict::No,
    };
    let others = turned.otherwise.iter().map(|(reading, brief)| {
        let lock = hand.answer.also.iter().find(|(known, _)| known == reading);
        word(brief.verdict, lock.is_none_or(|(_, lock)| plenty(lock)))
    });
    core::iter::once(word(turned.turn.verdict, plenty(asked) && plenty(cold)))
        .chain(others)
        .collect()
}

/// Whether nobody knows what the centre is, and what it may be does not share one word: then nothing is known.
fn hangs_on_the_centre(figures: &Figures, hand: &Hand) -> bool {
    let asked = &hand.answer.to_lock;
    let words = match &figures.turned {
        Ok(turned) => runs_as_read(turned, hand),
        Err(_) => core::iter::once(asked)
            .chain(hand.answer.also.iter().map(|(_, other)| other))
            .map(|read| stopped(hand, read, None))
            .collect(),
    };
    let unknown = asked.reading.is_some_and(|reading| reading.supposed.is_some());
    unknown && words.iter().any(|word| *word != words[0])
}

/// What the rule for a car going straight says, warm, and cold where that was asked.
fn stopped(hand: &Hand, asked: &ToLock, cold: Option<&ToLock>) -> Verdict {
    let late_cold = cold.is_some_and(|cold| cold.is_late() || cold.outcome == WhatStops::None);
    match (asked.outcome, DragGrade::of(asked.drag)) {
        (WhatStops::AllFour, _) | (WhatStops::Rear, DragGrade::Spoilt | DragGrade::AllFour) => {
            Verdict::NotWithThisCentre
        }
        (WhatStops::None, _) if only_the_centre(hand) => Verdict::NotWithThisCentre,
        (WhatStops::None, _) => Verdict::No,
        (WhatStops::Rear, DragGrade::Partly) => Verdict::Half,
        (WhatStops::Rear, DragGrade::Turns) if asked.is_late() || late_cold => Verdict::Half,
        (WhatStops::Rear, DragGrade::Turns) => Verdict::Yes,
    }
}

/// What to do first: what the worst finding wants; where too little is known, what is to be measured.
fn first(verdict: Verdict, findings: &[Finding], measure: &[MeasureNext]) -> Option<String> {
    let worst = findings.first().filter(|finding| finding.weight != Weight::Know);
    let stop = worst.filter(|finding| finding.weight == Weight::Stop);
    let of = |finding: &Finding| {
        short(&finding.remedy).unwrap_or_else(|| format!("See to this: {}.", lower(&finding.title)))
    };
    if let Some(stop) = stop {
        return Some(of(stop));
    }
    if verdict == Verdict::Open
        && let Some(next) = measure.first()
    {
        return Some(format!("Measure {}.", wording::key_name(next.slot)));
    }
    worst.map(of)
}

/// The first sentence of a text, where it is short and names no key of the sheet.
fn short(text: &str) -> Option<String> {
    let end = text.find(". ").map_or(text.len(), |at| at + 1);
    let sentence = text[..end].trim_end();
    let fits =
        words_of(sentence) <= MOST_WORDS && !sentence.contains(['`', '_', '[']) && sentence.ends_with('.');
    fits.then(|| sentence.to_owned())
}

/// A figure and its unit are one word.
fn words_of(text: &str) -> usize {
    text.split(' ').count()
}

/// Torque there is over torque needed.
fn over(to_lock: &ToLock) -> String {
    percent(to_lock.in_hand)
}

/// The verdict in at most four words, and why in at most 14.
fn said_and_why(seen: &Seen<'_>, hand: &Hand, verdict: Verdict) -> (&'static str, String) {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let makes = |to_lock: &ToLock| format!("The pull makes {} of the torque needed.", over(to_lock));
    let brings = || {
        format!(
            "The centre brings back {} from the front wheels.",
            seen.say.torque(asked.of_which_coupling)
        )
    };
    let run = seen.figures.turned.as_ref().ok().map(|turned| &turned.turn);
    match verdict {
        Verdict::Yes if run.is_some() => ("Yes, it comes round", makes(asked)),
        Verdict::Yes => ("Yes, the rear stops", makes(asked)),
        Verdict::NotWithThisCentre => ("Not with this centre", brings()),
        Verdict::Open if hangs_on_the_centre(seen.figures, hand) => (
            "Not yet known",
            "It depends on the centre, and nobody knows which it is.".to_owned(),
        ),
        Verdict::Open
            if run.is_some_and(is_on_the_border)
                && !is_open(seen.figures.headlines.chance_rear_stops_at_worst()) =>
        {
            ("Not yet known", on_the_border())
        }
        Verdict::Open => {
            let range = seen
                .figures
                .headlines
                .range(|headline| Headlined::InHand.of(headline));
            let between = Measured::per_cent(asked.in_hand, range);
            let between = between.range.map_or(between.value.text, |range| range.text);
            (
                "Not yet known",
                format!("The pull makes {between} of the torque needed."),
            )
        }
        Verdict::NoLever | Verdict::No => no(seen, hand),
        Verdict::Half => match (asked.outcome, run) {
            (_, Some(run)) if run.verdict == Run::ComesRoundLate => ("Half: round, but late", late(run)),
            (WhatStops::None, _) => (
                "Only in the turn",
                format!("Going straight, {}", lower(&makes(asked))),
            ),
            // Another reading of the coupling decides.
            (_, Some(run))
                if run.verdict == Run::ComesRound
                    && !asked.is_late()
                    && !cold.is_late()
                    && cold.outcome == WhatStops::Rear =>
            {
                (
                    "Half: as read otherwise",
                    "With the coupling read otherwise it does less well.".to_owned(),
                )
            }
            (_, None) if DragGrade::of(asked.drag) != DragGrade::Turns => {
                ("Half: the centre drags", brings())
            }
            _ if cold.outcome == WhatStops::None => {
                ("Only with warm brakes", format!("Cold, {}", lower(&makes(cold))))
            }
            _ if asked.outcome == WhatStops::AllFour => ("Half: all four stop", brings()),
            _ if asked.is_late() => ("Yes, but late", makes(asked)),
            _ => ("Late when cold", format!("Cold, {}", lower(&makes(cold)))),
        },
    }
}

/// How far off the road a run that comes round late is.
fn late(run: &Turn) -> String {
    let off = run.judged.off_the_road.unwrap_or_default();
    format!(
        "It is out of the bend, and {} off the road.",
        wording::metres(off)
    )
}

/// What stands in the way, and why: what keeps the rear from stopping, or else what the run lacks.
fn no(seen: &Seen<'_>, hand: &Hand) -> (&'static str, String) {
    let to_lock = &hand.answer.to_lock;
    if to_lock.outcome != WhatStops::None
        && let Ok(turned) = &seen.figures.turned
    {
        let turn = &turned.turn;
        return match turn.verdict {
            Run::ComesRound | Run::ComesRoundLate => (
                "No, as read otherwise",
                "With the coupling read otherwise it does not come round.".to_owned(),
            ),
            Run::Spins => (
                "No: it spins",
                "It rolls backwards before it is out of the bend.".to_owned(),
            ),
            Run::Ploughs => (
                "No: it ploughs",
                "The front wheels are dragged and no longer steer.".to_owned(),
            ),
            Run::RotatesLittle => ("No: it rotates little", short_of(turn)),
        };
    }
    let reached = hand.reached.lever.filter(|lever| lever.runs_out.is_some());
    if let (Some(reached), Some(needs)) = (reached, to_lock.pressure) {
        let (said, what) = match reached.runs_out {
            Some(TravelEnd::Stroke) => ("No: the stroke ends", "The cylinder's stroke"),
            _ => ("No: the room ends", "The room for the grip"),
        };
        let at = reached
            .own
            .map_or_else(String::new, |own| format!(" at {}", seen.say.pressure(own)));
        let needs = seen.say.needed_pressure(needs);
        return (said, format!("{what} ends{at}; locking the rear takes {needs}."));
    }
    match (to_lock.hand, to_lock.pressure) {
        (None, Some(needs)) => (
            "No: the valve caps",
            format!(
                "The valve behind the lever ends below the {} that it takes.",
                seen.say.needed_pressure(needs)
            ),
        ),
        (Some(needs), _) if !to_lock.enough_force => (
            "No: too little force",
            format!(
                "Locking the rear takes {}; the driver pulls {}.",
                seen.say.needed_force(needs),
                seen.say.force(hand.pull)
            ),
        ),
        _ => (
            "No",
            format!("The pull makes {} of the torque needed.", over(to_lock)),
        ),
    }
}

/// The run, cold brakes, other surfaces, other readings, chances: a sentence each.
fn though(seen: &Seen<'_>, hand: &Hand, verdict: Verdict) -> Vec<String> {
    let (asked, cold) = (&hand.answer.to_lock, &hand.answer.cold);
    let mut said = Vec::new();
    said.extend(ran(seen));
    if verdict == Verdict::NotWithThisCentre {
        said.push(match asked.outcome {
            WhatStops::AllFour => "The pull stops all four.".to_owned(),
            WhatStops::Rear => "The rear stops, and the turn is spoilt.".to_owned(),
            WhatStops::None => format!("The pull makes {} of the torque needed.", over(asked)),
        });
    }
    if let Some(free) = hand.uncoupled
        && matches!(verdict, Verdict::NotWithThisCentre)
    {
        let runs = seen
            .figures
            .turned
            .as_ref()
            .ok()
            .and_then(|turned| turned.uncoupled)
            .map_or_else(String::new, |free| format!(", and it {}", free.verdict.words()));
        said.push(format!("With the axles free it makes {}{runs}.", over(&free)));
    }
    for (reading, other) in &hand.answer.also {
        if differ(asked, other) && other.outcome == WhatStops::Rear {
            let run = run_as(seen, *reading)
                .map_or_else(String::new, |verdict| format!(": it {}", verdict.words()));
            let read = reading_words(*reading);
            let then = format!("the pull makes {}{run}.", over(other));
            let whole = format!("{}, {then}", capital(&read));
            said.push(if words_of(&whole) <= MOST_WORDS {
                whole
            } else {
                format!("With the coupling read otherwise {then}")
            });
        }
    }
    if asked.outcome == WhatStops::Rear && !asked.is_late() && verdict != Verdict::Half {
        if cold.outcome == WhatStops::None {
            said.push("With cold brakes the rear does not stop.".to_owned());
        } else if cold.is_late() {
            said.push("With cold brakes it stops late.".to_owned());
        }
    }
    if let (Some(down), Some(up)) = (asked.time_to_lock, hand.time_with_clutch_up)
        && seen.car.drivetrain.driven == Driven::Rear
        && up > down * 1.5
    {
        said.push("Press the clutch: without it the rear stops late.".to_owned());
    }
    let short: Vec<String> = OnSurface::all(seen)
        .iter()
        .filter(|surface| !surface.works())
        .map(OnSurface::words)
        .collect();
    if matches!(verdict, Verdict::Yes | Verdict::Half) && !short.is_empty() {
        said.push(format!("Not on {}.", list(&short)));
    }
    let headlines = &seen.figures.headlines;
    if is_open(headlines.chance_rear_stops()) {
        said.extend(crate::say::rear_stops_in(headlines));
    }
    said
}

/// What the run says, in a sentence or two.
fn ran(seen: &Seen<'_>) -> Vec<String> {
    let Ok(turned) = &seen.figures.turned else {
        return Vec::new();
    };
    let turn = &turned.turn;
    let mut said = vec![format!(
        "Driven at {} into a bend of {}, it {}.",
        wording::speed(turn.technique.entry),
        degrees(turn.technique.bend.angle),
        turn.verdict.words()
    )];
    said.extend(turn.judged.lever_gave.map(gave));
    if turn.verdict == Run::RotatesLittle {
        said.push(short_of(turn));
    }
    // Where it is not the reason itself.
    if is_on_the_border(turn) && is_open(seen.figures.headlines.chance_rear_stops_at_worst()) {
        said.push(on_the_border());
    }
    if turn.verdict == Run::Ploughs
        && let Some(ratio) = turn.locking.front_speed_ratio
    {
        said.push(format!(
            "The front wheels are dragged to {} of their speed.",
            percent(ratio)
        ));
    }
    said
}

fn no_lever(seen: &Seen<'_>) -> (String, Vec<String>) {
    let lock = &seen.figures.braked.lock;
    let braking = lock.at.map_or_else(
        || "Under the foot nothing locks.".to_owned(),
        |point| {
            let who = if point.front_first_by >= 0.0 {
                "front"
            } else {
                "rear"
            };
            format!(
                "Under the foot the {who} leads by {} at first lock.",
                percent(point.front_first_by.abs())
            )
        },
    );
    ("No handbrake is on the sheet.".to_owned(), vec![braking])
}

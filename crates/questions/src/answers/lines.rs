//! What comes out, what to buy, how long to cut it, what is screwed into what.

use std::path::Path;

use assess::{ComesOut, comes_out};
use engine::Conditions;
use engine::balance::{Leaking, leaking_runs};
use engine::hydraulics::{Forces, Hydraulics};
use engine::lever::{LeverBench, Pull, ToLock};
use plumbing::layouts::{Layout, Layouts, NotOnThis};
use plumbing::prices::Prices;
use plumbing::rules::{Caught, caught};
use plumbing::{Counted, Cut, Joint, Made, Meeting, NOT_TAPED, Part, Plumbing, run_words};
use quantity::si::{Force, Length, Pressure, Speed, Volume};
use records::Cars;

use crate::opened::Opened;
use crate::trouble::{Shown, Stop, Trouble, Wrong, of_records};
use wording::Units;

/// What hoses give back as travel at the driver's pull.
#[derive(Clone, Copy, Debug)]
pub struct HoseTravel {
    /// In the lever's cylinder.
    pub pressure: Pressure,
    /// That the hoses grow by.
    pub volume: Volume,
    /// At the grip.
    pub travel: Length,
    /// Of all the travel that there is at that pull.
    pub share: f64,
}

/// A layout, and what the car does with it.
#[derive(Debug)]
pub struct Compared {
    /// Its plumbing, what it costs.
    pub layout: Layout,
    /// What the hand has to do; `None` without a lever.
    pub to_lock: Option<ToLock>,
    /// Every run, open.
    pub leaking: Vec<Leaking>,
}

impl Compared {
    fn of(layout: Layout, opened: &Opened, pull: Pull) -> Self {
        let (car, state) = (&layout.car, &opened.state);
        let bench = LeverBench::of(car, state.conditions.warmth);
        Self {
            to_lock: bench.map(|bench| bench.answer(&state.laden, pull).to_lock),
            leaking: leaking_runs(car, &layout.plumbing.circuit, &state.laden, pull.grip),
            layout,
        }
    }

    /// The run whose leak leaves least: by deceleration, then by what the hand still has.
    #[must_use]
    pub fn worst(&self) -> Option<&Leaking> {
        self.leaking.iter().min_by(|one, other| {
            one.rate
                .m_s2()
                .total_cmp(&other.rate.m_s2())
                .then(one.hand.len().cmp(&other.hand.len()))
        })
    }

    /// How many of its runs, open, take the hand too.
    #[must_use]
    pub fn runs_that_take_the_hand(&self) -> usize {
        let takes = |leaking: &&Leaking| leaking.hand.is_empty();
        self.leaking.iter().filter(takes).count()
    }
}

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Joints, parts, cuts.
    pub plumbing: Plumbing,
    /// Rules of the trade that the sheet breaks or asks to mind.
    pub caught: Vec<Caught>,
    /// Layouts that this car can have, side by side, the sheet's own first.
    pub can: Vec<Compared>,
    /// Those that it cannot.
    pub cannot: Vec<NotOnThis>,
    /// What the new parts replace or make useless.
    pub comes_out: Vec<ComesOut>,
    /// The person's own prices.
    pub prices: Prices,
    /// What hoses give back as travel; `None` without a lever's cylinder.
    pub hoses: Option<HoseTravel>,
}

impl Outcome {
    /// What is said of prices that nothing of this car needs: they may be written wrongly. `None` where there are none.
    #[must_use]
    pub fn idle_prices(&self) -> Option<String> {
        let parts: Vec<&Part> = self.can.iter().flat_map(|of| &of.layout.plumbing.parts).collect();
        let idle = self.prices.unknown(&parts);
        (!idle.is_empty()).then(|| {
            format!(
                "for nothing that any layout of this car needs: {}",
                idle.join(", ")
            )
        })
    }

    /// Of an opened car; prices as the person wrote them.
    #[must_use]
    pub fn of(opened: &Opened, pull: Pull, prices: Prices) -> Self {
        let car = opened.car();
        let plumbing = Plumbing::of(car);
        let Layouts { can, cannot } = Layouts::of(car, &prices);
        Self {
            caught: caught(car, &plumbing),
            can: can
                .into_iter()
                .map(|layout| Compared::of(layout, opened, pull))
                .collect(),
            cannot,
            comes_out: comes_out(car),
            hoses: hoses(opened, pull.hand),
            prices,
            plumbing,
        }
    }

    /// How much there is to buy and to join, in one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let joints = &self.plumbing.joints;
        let count =
            |wanted: &dyn Fn(&Meeting) -> bool| joints.iter().filter(|joint| wanted(&joint.meeting)).count();
        let Some(own) = self.can.first().map(|own| &own.layout) else {
            return String::new();
        };
        let tape = match own.to_tape {
            0 => String::new(),
            runs => format!(", {} to tape", run_count(runs)),
        };
        let mut said = format!(
            "{:.0} parts, {:.1}\u{a0}m of pipe and hose{tape}, {} joints",
            own.pieces,
            own.line.m(),
            joints.len()
        );
        let adapters = count(&|meeting| meeting.adapter().is_some());
        let none = count(&|meeting| matches!(meeting, Meeting::None { .. }));
        let unknown = count(&|meeting| *meeting == Meeting::NotKnown);
        if adapters > 0 {
            said.push_str(&format!(", {adapters} of them with an adapter"));
        }
        if none > 0 {
            said.push_str(&format!("; {none} that nothing joins as it is"));
        }
        if unknown > 0 {
            said.push_str(&format!(
                "; {unknown} at ports whose thread and seat the sheet does not give: look first"
            ));
        }
        said.push('.');
        said
    }

    /// The short answer: `73 parts, 8.0 m`, or `41 parts, 3.5 m and 2 runs to tape`.
    #[must_use]
    pub fn short(&self) -> String {
        let Some(own) = self.can.first().map(|own| &own.layout) else {
            return String::new();
        };
        format!("{:.0} parts, {}", own.pieces, line_words(own.line, own.to_tape))
    }

    /// The runs that are not touched, in words; `None` where every run is made anew.
    #[must_use]
    pub fn stays(&self) -> Option<String> {
        let staying: Vec<String> = self
            .plumbing
            .cuts
            .iter()
            .filter(|cut| cut.stays)
            .map(|cut| run_words(&cut.run))
            .collect();
        (!staying.is_empty()).then(|| {
            format!(
                "These stay, and nothing is listed for them: {}. To make one anew, tape it and look at its ports.",
                wording::list(&staying)
            )
        })
    }

    /// What is left out of the list of parts, because nobody knows it yet: a sentence each.
    #[must_use]
    pub fn not_listed(&self) -> Vec<String> {
        let to_tape = self.plumbing.cuts.iter().filter(|cut| cut.wants_tape()).count();
        let made = |joint: &&Joint| !self.plumbing.cuts[joint.run].stays;
        let to_look_at = self
            .plumbing
            .joints
            .iter()
            .filter(made)
            .filter(|joint| joint.meeting == Meeting::NotKnown)
            .count();
        let mut said = Vec::new();
        if to_tape > 0 {
            said.push(format!(
                "Not on the list: pipe, hose and clips for {}, not measured. Tape first, then order.",
                wording::counted(to_tape, "one run", &format!("{to_tape} runs"))
            ));
        }
        if to_look_at > 0 {
            said.push(format!(
                "Not on the list: nuts, ends and adapters at {} whose thread and seat nobody gave. Look first, then order.",
                wording::counted(to_look_at, "one port", &format!("{to_look_at} ports"))
            ));
        }
        said
    }
}

/// Length of pipe and hose, and how many runs are to be measured yet: `3.5 m and 2 runs to tape`.
fn line_words(line: Length, to_tape: usize) -> String {
    match (line > Length::ZERO, to_tape) {
        (_, 0) => format!("{:.1}\u{a0}m", line.m()),
        (true, _) => format!("{:.1}\u{a0}m and {} to tape", line.m(), run_count(to_tape)),
        (false, _) => format!("{} to tape", run_count(to_tape)),
    }
}

fn run_count(count: usize) -> String {
    format!("{count} {}", wording::counted(count, "run", "runs"))
}

/// How a run's length reads, in a person's unit: what it was measured as, and what it is cut to, or why it is not.
#[must_use]
pub fn cut_words(cut: &Cut, units: &Units) -> [String; 2] {
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

/// The pull of a car, as asked or as on its sheet.
#[must_use]
pub fn pull_of(opened: &Opened, hand: Option<Force>, speed: Speed) -> Pull {
    let conditions = Conditions {
        hand,
        speed,
        ..opened.state.conditions.clone()
    };
    conditions.pull_at(opened.car(), opened.state.surface.peak)
}

fn hoses(opened: &Opened, hand: Force) -> Option<HoseTravel> {
    let car = opened.car();
    let lever = car.lever.as_ref()?;
    let cylinder = lever.cylinder()?;
    let asked = Forces {
        foot: Force::ZERO,
        hand,
    };
    let answer = Hydraulics::of(car, opened.state.conditions.warmth).answer(&opened.state.laden, asked);
    let lever = answer.lever?;
    let volume = lever.taken.hoses;
    let travel = Length::from_m(volume.m3() / cylinder.pressed_area_m2() * cylinder.ratio);
    let all = lever.travel?;
    Some(HoseTravel {
        pressure: lever.own?,
        volume,
        travel,
        share: if all > Length::ZERO { travel / all } else { 0.0 },
    })
}

/// Ports of the sheet that are not listed are wrong input here.
#[must_use]
pub fn unlisted(opened: &Opened, plumbing: &Plumbing) -> Wrong {
    let mut wrong = Wrong::default();
    for unlisted in &plumbing.unlisted {
        wrong.add(
            Trouble {
                file: opened.sheet.path(),
                place: None,
                key: Some(unlisted.key.to_owned()),
                slug: "unlisted-port".to_owned(),
                text: format!("{}: {}", unlisted.key, unlisted.fault),
                remedy: unlisted.fault.help(),
                shown: Shown::Nothing,
            }
            .into(),
        );
    }
    wrong
}

/// The person's prices, from the preferences beside the cars; what is wrong with them joins what is wrong already.
///
/// # Errors
/// A file that cannot be read.
pub fn prices(folder: &Path, wrong: &mut Wrong) -> Result<Prices, Stop> {
    let Ok(cars) = Cars::open(folder) else {
        return Ok(Prices::default());
    };
    let file = cars.preferences();
    let shown = file.path().display().to_string();
    let text = file
        .read_if_there(records::LARGEST_SHEET)
        .map_err(|fault| of_records(&shown, &fault, None))?;
    let list = match text.map(|text| sheet::price_list(&text.text)) {
        None => return Ok(Prices::default()),
        Some(Ok(list)) => list,
        Some(Err(faults)) => {
            for fault in faults {
                wrong.add(
                    Trouble {
                        file: shown.clone(),
                        place: Some((fault.line, fault.column)),
                        key: None,
                        slug: "price".to_owned(),
                        text: fault.text.clone(),
                        remedy: fault.remedy.to_owned(),
                        shown: Shown::Nothing,
                    }
                    .into(),
                );
            }
            return Ok(Prices::default());
        }
    };
    Ok(Prices {
        currency: list.currency,
        each: list.each,
    })
}

/// Thread and seat of a joint, in words.
#[must_use]
pub fn spec_words(joint: &Joint) -> String {
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
#[must_use]
pub fn meets_words(joint: &Joint) -> String {
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
#[must_use]
pub fn why_not(joint: &Joint) -> Option<&'static str> {
    match &joint.meeting {
        Meeting::Mates { .. } | Meeting::Adapter { .. } | Meeting::Crimped => None,
        Meeting::None { why, .. } => Some(why),
        Meeting::Joins => Some(JOINS),
        Meeting::Stays => Some("it is not touched"),
        Meeting::NotKnown => Some("look first: the sheet does not say what the port is"),
    }
}

/// What to change where two ends cannot be joined.
#[must_use]
pub fn change(joint: &Joint) -> Option<&'static str> {
    match &joint.meeting {
        Meeting::None { change, .. } => Some(change),
        Meeting::Joins => Some(INSTEAD),
        _ => None,
    }
}

/// What manuals tighten it to, in words.
#[must_use]
pub fn band_words(joint: &Joint, units: &Units) -> Option<String> {
    let (low, high) = joint.torque_band?;
    let (low, high) = (units.torque.from_si(low.nm()), units.torque.from_si(high.nm()));
    let places = if high < 10.0 { 1 } else { 0 };
    Some(format!(
        "{low:.places$} to {high:.places$}\u{a0}{}",
        units.torque.symbol().replace(' ', "\u{a0}")
    ))
}

/// A count with what it is counted in.
#[must_use]
pub fn counted(part: &Part) -> String {
    match part.kind.counted() {
        Counted::Pieces => format!("{:.0}", part.count),
        Counted::Metres => match (part.count > 0.0, part.to_tape) {
            (_, 0) => format!("{:.1}\u{a0}m", part.count),
            (true, _) => format!("{:.1}\u{a0}m, more", part.count),
            (false, _) => "tape first".to_owned(),
        },
        Counted::Bottles => format!(
            "{:.0} {}",
            part.count,
            if part.count > 1.5 { "bottles" } else { "bottle" }
        ),
    }
}

/// A sum in the person's currency.
#[must_use]
pub fn money(sum: f64, currency: &str) -> String {
    format!("{sum:.2}\u{a0}{currency}").trim_end().to_owned()
}

/// Wheels by name.
#[must_use]
pub fn wheels_words(wheels: &[engine::car::Wheel]) -> String {
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
#[must_use]
pub fn hand_after_leak(leaking: &Leaking) -> String {
    if leaking.hand.is_empty() {
        "has nothing".to_owned()
    } else {
        format!("still has {}", wheels_words(&leaking.hand))
    }
}

/// A short name for the head of a column.
#[must_use]
pub fn column(layout: &Layout) -> &'static str {
    use plumbing::layouts::Way;
    match (layout.way, layout.cable_kept) {
        (_, true) => "cable kept",
        (Way::Inline, _) => "inline",
        (Way::TwoOutlets, _) => "two outlets",
        (Way::Separate, _) => "separate",
        (Way::Cable, _) => "cable",
        (Way::NoLever, _) => "no lever",
    }
}

/// Layouts side by side: what is compared, and a cell for each layout.
#[must_use]
pub fn layout_rows(outcome: &Outcome, units: &Units) -> Vec<(&'static str, Vec<String>)> {
    let can = &outcome.can;
    let mut rows: Vec<(&'static str, Vec<String>)> = Vec::new();
    let mut row = |label: &'static str, cell: &dyn Fn(&Compared) -> String| {
        rows.push((label, can.iter().map(cell).collect()));
    };
    let dash = || "–".to_owned();
    row("parts", &|of| format!("{:.0}", of.layout.pieces));
    row("pipe and hose", &|of| format!("{:.1}\u{a0}m", of.layout.line.m()));
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
            format!("{:.0}{more}", cost.sum)
        })
    });
    row("hand to lock", &|of| {
        let hand = of.to_lock.as_ref().and_then(|to_lock| to_lock.hand);
        hand.map_or_else(dash, |hand| wording::figure(hand.n(), units.force))
    });
    row("travel to lock", &|of| {
        let travel = of.to_lock.as_ref().and_then(|to_lock| to_lock.travel);
        travel.map_or_else(dash, |travel| wording::figure(travel.m(), units.length))
    });
    row("in hand", &|of| {
        of.to_lock
            .as_ref()
            .map_or_else(dash, |to_lock| wording::ratio(to_lock.in_hand))
    });
    row("least left by a leak", &|of| {
        of.worst()
            .map_or_else(dash, |worst| format!("{:.1}\u{a0}m/s²", worst.rate.m_s2()))
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

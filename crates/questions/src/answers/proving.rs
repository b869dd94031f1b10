//! Dry, firm, written down: bleeding, the round, the checks.

use engine::car::{Date, MeasuredSoak};
use plumbing::Plumbing;
use plumbing::bleeding::{BleedPlan, Corner, LeverAt, ValveAt, plan};
use plumbing::due::{Due, due};
use plumbing::order::{Order, order};
use plumbing::proving::{Alone, Fact, Noted, Proof, SoakVerdict, alone, newest_soak, prove};
use records::Fault;
use records::logbook::{Appended, Data, Draft, Kind, Logbook, Stamp, WAIT};

use crate::history::History;
use crate::opened::Opened;
use crate::trouble::{Stop, Wrong, of_records};
use wording::Units;

/// What came out.
#[derive(Debug)]
pub struct Outcome {
    /// Joints.
    pub plumbing: Plumbing,
    /// The order of bleeding.
    pub bleed: BleedPlan,
    /// What one person can hold.
    pub alone: Alone,
    /// Where the round stands.
    pub proof: Proof,
    /// Entries that cannot be read.
    pub not_read: Vec<(i64, String)>,
    /// Why nothing of the logbook is known, where it does not read, and what to do.
    pub stop: Option<(String, String)>,
    /// The newest soak on the sheet, judged.
    pub soak: Option<(MeasuredSoak, SoakVerdict)>,
}

impl Outcome {
    /// Of a car and its logbook.
    #[must_use]
    pub fn of(opened: &Opened, history: &History) -> Self {
        let car = opened.car();
        let plumbing = Plumbing::of(car);
        let stop = history.stop();
        let mut proof = prove(car, &plumbing, &history.noted);
        if let Some((said, _)) = &stop {
            proof.open.insert(0, said.clone());
        }
        Self {
            bleed: plan(car, &plumbing),
            alone: alone(car, &opened.state.laden),
            proof,
            not_read: history.not_read.clone(),
            stop,
            soak: newest_soak(car),
            plumbing,
        }
    }

    /// The short answer: `14 of 19 dry, 1 weeps`.
    #[must_use]
    pub fn short(&self) -> String {
        match self.stop {
            Some(_) => "the logbook does not read".to_owned(),
            None => self.proof.short(),
        }
    }
}

/// The history with what is to be written on a day behind it.
///
/// # Errors
/// What would not count, each with why, or a logbook that does not read: then nothing should be written.
pub fn counted(opened: &Opened, history: &History, facts: &[Fact], today: Date) -> Result<Vec<Noted>, Stop> {
    history.whole().map_err(Clone::clone)?;
    let plumbing = Plumbing::of(opened.car());
    let mut all = history.noted.clone();
    // The numbers that they will have; only their order is used.
    let last = all.iter().map(|noted| noted.id).max().unwrap_or(0);
    for (fact, id) in facts.iter().zip(last + 1..) {
        all.push(Noted {
            id,
            day: today,
            fact: fact.clone(),
        });
    }
    let proof = prove(opened.car(), &plumbing, &all);
    let mut wrong = Wrong::default();
    for ignored in proof.ignored.iter().filter(|ignored| ignored.id > last) {
        let (slug, remedy) = if ignored.why.contains("signs while") {
            (
                "not-yet",
                "`prove` shows what is open; a check may be left with a reason, a joint may not",
            )
        } else {
            (
                "does-not-count",
                "a joint goes from marked to dry or weep, and from weep over remade to dry",
            )
        };
        wrong.add(Wrong::plain(
            opened.sheet.name(),
            slug,
            ignored.why.clone(),
            remedy.to_owned(),
        ));
    }
    if wrong.is_empty() {
        Ok(all)
    } else {
        Err(wrong.into())
    }
}

/// The order of work of a car with its history.
#[must_use]
pub fn order_of(opened: &Opened, history: &History) -> Order {
    let car = opened.car();
    let plumbing = Plumbing::of(car);
    let proof = prove(car, &plumbing, &history.noted);
    order(car, &plumbing, &history.noted, &proof)
}

/// What falls due on the day that is asked about.
#[must_use]
pub fn due_of(opened: &Opened, history: &History) -> Vec<Due> {
    let car = opened.car();
    due(car, &Plumbing::of(car), &history.noted, opened.state.day)
}

/// Where it stands and what is open first, in one sentence.
#[must_use]
pub fn sentence(outcome: &Outcome) -> String {
    let proof = &outcome.proof;
    if let Some((said, _)) = &outcome.stop {
        return format!("Stop: {said}. What is dry and what weeps is not known.");
    }
    let short = outcome.short();
    if proof.signed.is_some() {
        return format!("{short}.");
    }
    match proof.open.len() {
        0 => format!("{short}. Nothing is open: it may be signed."),
        1 => format!("{short}. Not to be signed yet: {}.", proof.open[0]),
        many => format!(
            "{short}. Not to be signed yet: {many} things are open, the first: {}.",
            proof.open[0]
        ),
    }
}

/// A corner by name.
#[must_use]
pub fn corner_name(corner: &Corner) -> String {
    let wheel = corner.wheel.name().replace('_', " ");
    if corner.lever == LeverAt::Works {
        format!("{wheel}, second")
    } else {
        wheel
    }
}

/// Where the knob of the valve stands meanwhile.
#[must_use]
pub const fn valve_word(at: ValveAt) -> &'static str {
    match at {
        ValveAt::None => "–",
        ValveAt::Mid => "mid",
        ValveAt::Fixed => "as it is",
    }
}

/// What the lever does meanwhile.
#[must_use]
pub const fn lever_word(at: LeverAt) -> &'static str {
    match at {
        LeverAt::None => "–",
        LeverAt::Rest => "rest",
        LeverAt::Works => "pumps",
    }
}

/// What the soak on the sheet says; `None` where there is none.
#[must_use]
pub fn soak_sentence(outcome: &Outcome, units: &Units) -> Option<String> {
    let (measured, verdict) = outcome.soak.as_ref()?;
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    let on = measured.on.map_or_else(String::new, |day| format!("{day}: "));
    Some(format!(
        "{on}fell {} in {:.0} min; temperature and creeping rubber explain {}, give or take {}. Here a degree is worth {}, \
         a drop lost {}. {}",
        pressure(verdict.fell.pa()),
        measured.held_for.s() / 60.0,
        pressure(verdict.explained.pa()),
        pressure(verdict.unsure.pa()),
        pressure(verdict.closed.per_degree_pa_k),
        pressure(verdict.closed.per_drop.pa()),
        if verdict.weeps() {
            format!(
                "That leaves a weep of {:.2} cm³ an hour: find it.",
                verdict.loses.m3() * 1e6
            )
        } else {
            "Nothing is left that a gauge could call a weep.".to_owned()
        }
    ))
}

/// Writes facts into the car's logbook, in their order, each under a stamp of its own. What was sent before under the same
/// stamp is not written again.
///
/// # Errors
/// A logbook that cannot be written; a stamp that was used for something else.
pub fn append(
    opened: &Opened,
    facts: &[Fact],
    mut stamp: impl FnMut(usize) -> Result<Stamp, Fault>,
) -> Result<Vec<Appended>, Stop> {
    if facts.is_empty() {
        return Ok(Vec::new());
    }
    let path = opened.sheet.folder.logbook();
    let refused = |fault: &Fault| of_records(&path.display().to_string(), fault, None);
    let mut book = Logbook::open_or_create(&path, WAIT).map_err(|fault| refused(&fault))?;
    let mut written = Vec::with_capacity(facts.len());
    for (number, fact) in facts.iter().enumerate() {
        let (kind, data) = fact.entry();
        let appended = stamp(number).and_then(|stamp| {
            book.append(&Draft {
                stamp,
                kind: kind.parse::<Kind>()?,
                data: Data::parse(&data.to_string())?,
            })
        });
        written.push(appended.map_err(|fault| refused(&fault))?);
    }
    Ok(written)
}

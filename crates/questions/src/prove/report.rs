//! Where bleeding, the round and the checks stand, as it is shown.

use engine::car::Car;
use plumbing::bleeding::{BledCorner, LeverAt, ValveAt};
use proving::{Check, CheckResult, CheckState, JointState, Standing};
use wording::{Units, counted};

use super::Ask;
use super::outcome::Outcome;
use crate::question::Case;
use crate::report::{Block, Detail, Frame, Headline, Report, Section, Table, sentence};

/// Titles of sections beside which a page has keys.
pub const BLEEDING: &str = "Bleed in this order";
/// Joint by joint.
pub const ROUND: &str = "The round";
/// Check by check.
pub const CHECKS: &str = "The checks";
/// Who signs.
pub const SIGNATURE: &str = "The signature";

/// What is open is told one by one, while it is no more than this.
const MOST_LISTED: usize = 6;

/// What follows on each state of a joint.
pub const NEXT_OF_A_JOINT: &str = "Untried: tighten it, and draw a witness mark across. Marked or remade: feel it under \
                                   pressure. It weeps: remake it. Whatever is opened makes its joints untried again.";

/// What is said of a joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JointWords {
    /// `joint 1, master cylinder front left`
    pub name: String,
    /// `marked, not yet felt dry, since 2026-05-01, entry 3`
    pub state: String,
}

/// What is said of a check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckWords {
    /// `[x]`
    pub sign: &'static str,
    /// `left and right alike`
    pub name: &'static str,
    /// What came of it, or how it is made.
    pub says: String,
}

/// What is said of a joint.
#[must_use]
pub fn joint(joint: &JointState) -> JointWords {
    let state = match joint.state {
        Standing::Untried => "untried",
        Standing::Marked => "marked, not yet felt dry",
        Standing::Dry => "dry",
        Standing::Weep => "WEEPS",
        Standing::Remade => "remade, not yet felt dry",
    };
    let since = joint.since.map_or_else(String::new, |(entry, day)| {
        format!(", since {day}, entry {entry}")
    });
    JointWords {
        name: format!("joint {}, {}", joint.number, joint.place),
        state: format!("{state}{since}"),
    }
}

/// What is screwed together at a joint: `on master to front left; M10x1 bubble; in the cabin`.
#[must_use]
pub fn on(joint: &JointState, outcome: &Outcome) -> String {
    let plumbing = &outcome.plumbing;
    let listed = &plumbing.joints[joint.index];
    let run = plumbing::run_words(plumbing.circuit.runs[listed.run].name);
    let inside = if listed.in_cabin { "; in the cabin" } else { "" };
    format!("on {run}; {}{inside}", crate::lines::spec_words(listed))
}

/// What is said of a check.
#[must_use]
pub fn check(state: &CheckState, car: &Car) -> CheckWords {
    let (sign, says) = match &state.judged {
        None => ("[ ]", state.check.how(car)),
        Some(CheckResult::Holds(says)) => ("[x]", format!("Holds: {says}")),
        Some(CheckResult::Fails(says)) => ("[!]", format!("FAILS: {says}")),
        Some(CheckResult::Left(because)) => ("[-]", format!("NOT DONE, because {because}")),
        Some(CheckResult::TellsNothing(says)) => ("[?]", format!("Tells nothing: {says}")),
    };
    let since = state
        .since
        .map_or_else(String::new, |(entry, day)| format!(" ({day}, entry {entry})"));
    CheckWords {
        sign,
        name: state.check.words(),
        says: format!("{says}{since}"),
    }
}

/// Where it stands.
#[must_use]
pub fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let mut report = Report::of(&Ask, case, headline(outcome));
    report.section(bleeding(outcome, &case.units, true));
    report.section(round(outcome));
    report.section(checks(case, outcome));
    report.sections.extend(soak(outcome, &case.units));
    report.section(signature(outcome));
    report.section(holding(case, outcome, true));
    report.sections.extend(ignored(outcome));
    cautions(&mut report);
    report
}

pub(super) fn cautions(report: &mut Report) {
    report.caution(
        "Gloves and glasses: fluid strips paint and hurts eyes. Wash down with water, and let everything dry before joints \
         are felt: water is not fluid. Jack stands under the car, never a jack alone.",
    );
    report.caution("A computed figure proves no joint. A signature is a note of what was found; it takes nobody's place.");
}

fn headline(outcome: &Outcome) -> Headline {
    let proof = &outcome.proof;
    let left = proof.left.iter();
    let left = left.map(|(check, because)| {
        let what = check.words().to_uppercase();
        format!("NOT DONE: {what}, BECAUSE {}.", because.trim_end_matches('.'))
    });
    if let Some((said, remedy)) = &outcome.stop {
        return Headline {
            stamp: "Not known".to_owned(),
            frame: Frame::Broken,
            because: "What is dry and what weeps is not known.".to_owned(),
            though: Vec::new(),
            stops_first: vec![said.clone()],
            figures: Vec::new(),
            first: Some(sentence(remedy)),
        };
    }
    let so_many = |wanted: Standing| proof.joints.iter().filter(|joint| joint.state == wanted).count();
    let (joints, dry, weep) = (
        proof.joints.len(),
        so_many(Standing::Dry),
        so_many(Standing::Weep),
    );
    let to_make = proof.checks.iter().filter(|state| !state.is_settled()).count();
    let (stamp, frame) = match (joints, weep) {
        _ if proof.signed.is_some() => ("Signed off".to_owned(), Frame::Solid),
        (0, _) => ("No joint yet".to_owned(), Frame::Broken),
        (_, 0) if proof.may_sign() => ("Dry: sign it".to_owned(), Frame::Solid),
        (_, 0) => (format!("{dry} of {joints} dry"), Frame::Broken),
        (_, 1) => ("One joint weeps".to_owned(), Frame::Heavy),
        (_, many) => (format!("{many} joints weep"), Frame::Heavy),
    };
    let open = |count: usize, one: &str, several: &str| {
        (count > 0).then(|| format!("{count} {}", counted(count, one, several)))
    };
    let what: Vec<String> = [
        open(joints - dry, "joint", "joints"),
        open(to_make, "check", "checks"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let because = match &proof.signed {
        Some((_, day, _)) => format!("Signed on {day}; nothing was opened since."),
        None if what.is_empty() => "Every joint is dry and every check settled.".to_owned(),
        None => format!(
            "Not to be signed yet: {} {} open.",
            wording::list(&what),
            counted((joints - dry) + to_make, "is", "are")
        ),
    };
    Headline {
        stamp,
        frame,
        because,
        though: left.collect(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: first(outcome),
    }
}

/// What to do first: a weep before everything, then bleeding, then joint by joint, then the checks.
fn first(outcome: &Outcome) -> Option<String> {
    let proof = &outcome.proof;
    let of = |wanted: &[Standing]| {
        let mut joints = proof.joints.iter();
        joints
            .find(|joint| wanted.contains(&joint.state))
            .map(|found| joint(found).name)
    };
    if let Some(joint) = of(&[Standing::Weep]) {
        return Some(format!("Remake {joint}."));
    }
    let to_make = proof.checks.iter().find(|state| !state.is_settled());
    let (untried, unfelt) = (
        of(&[Standing::Untried]),
        of(&[Standing::Marked, Standing::Remade]),
    );
    match (to_make, untried, unfelt) {
        (Some(state), _, _) if state.check == Check::Bled => {
            let corner = outcome.bleed.corners.first().map(corner_name);
            Some(corner.map_or_else(
                || "Bleed it.".to_owned(),
                |corner| format!("Bleed it, {corner} first."),
            ))
        }
        (_, Some(joint), _) => Some(format!("Tighten {joint}, and draw a witness mark.")),
        (_, None, Some(joint)) => Some(format!("Feel {joint}, under pressure.")),
        (Some(state), None, None) => Some(format!("Check: {}.", state.check.words())),
        (None, None, None) if proof.signed.is_none() => Some("Sign it.".to_owned()),
        (None, None, None) => None,
    }
}

/// A corner by name.
fn corner_name(corner: &BledCorner) -> String {
    let wheel = corner.wheel.name().replace('_', " ");
    if corner.lever == LeverAt::Works {
        format!("{wheel}, second")
    } else {
        wheel
    }
}

/// Where the knob of the valve stands meanwhile.
const fn valve_word(at: ValveAt) -> &'static str {
    match at {
        ValveAt::None => "–",
        ValveAt::Mid => "mid",
        ValveAt::Fixed => "as it is",
    }
}

/// What the lever does meanwhile.
const fn lever_word(at: LeverAt) -> &'static str {
    match at {
        LeverAt::None => "–",
        LeverAt::Rest => "rest",
        LeverAt::Works => "pumps",
    }
}

/// The order, the fluid, and with `how` what to mind meanwhile.
pub(super) fn bleeding(outcome: &Outcome, units: &Units, how: bool) -> Section {
    let plan = &outcome.bleed;
    let volume = |m3: f64| wording::figure(m3, units.fluid);
    let rows = plan.corners.iter().zip(1..).map(|(corner, number)| {
        let least = corner.least_time.map(wording::whole_seconds);
        vec![
            format!("{number} {}", corner_name(corner)),
            wording::figure(corner.length.m(), units.length),
            volume((corner.run + corner.brake).m3()),
            volume(corner.through.m3()),
            least.unwrap_or_else(|| "–".to_owned()),
            valve_word(corner.valve).to_owned(),
            lever_word(corner.lever).to_owned(),
        ]
        .into()
    });
    let table = Table {
        caption: "Longest line first; valve and lever as they are meanwhile".to_owned(),
        heads: [
            "corner",
            "line",
            "in it",
            "let through",
            "least",
            "valve",
            "lever",
        ]
        .map(str::to_owned)
        .to_vec(),
        names_row: 0,
        rows: rows.collect(),
        of_words: false,
    };
    let corners: Vec<String> = plan.corners.iter().map(corner_name).collect();
    let bottles = usize::try_from(plan.bottles).unwrap_or(usize::MAX);
    let fluid = format!(
        "Fluid: {} go through, reservoirs included; buy {} ({} of 0.5\u{a0}L).",
        volume(plan.needed.m3()),
        volume(plan.buy().m3()),
        counted(bottles, "one bottle", &format!("{bottles} bottles"))
    );
    let summary = format!("{}; buy {}", corners.join(", "), volume(plan.buy().m3()));
    let section = Section::new(BLEEDING, summary, None)
        .with(Block::Table(table))
        .with(Block::Text(fluid));
    if !how {
        return section;
    }
    section
        .with(Block::Text(
            "\"Least\" is the line's own resistance to a bleeder at 1 bar and 20\u{a0}°C; the screw adds its own.".to_owned(),
        ))
        .with(Block::List(outcome.mind.clone()))
}

/// To what pressure one person can hold, and with `how` how that is done.
pub(super) fn holding(case: &Case<'_>, outcome: &Outcome, how: bool) -> Section {
    let (alone, units) = (&outcome.alone, &case.units);
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    let propped = pressure(alone.propped.pa());
    let mut facts = vec![Detail::new(
        "pedal",
        format!(
            "{propped} propped with {}, {} with the engine running",
            wording::figure(proving::PROP.n(), units.force),
            pressure(alone.running.pa())
        ),
    )];
    if let Some(strapped) = alone.strapped {
        facts.push(Detail::new(
            "handbrake",
            format!("{} strapped back at the driver's pull", pressure(strapped.pa())),
        ));
    }
    let section = Section::new("Hold pressure while alone", format!("{propped} propped"), None)
        .with(Block::Details(facts));
    let latch = case.opened.car().lever.as_ref().is_some_and(|lever| lever.latch);
    if how {
        section.with(Block::List(alone.how(latch)))
    } else {
        section
    }
}

fn round(outcome: &Outcome) -> Section {
    let section = Section::new(ROUND, outcome.short(), None);
    if outcome.proof.joints.is_empty() {
        return section.with(Block::Text(
            "This car has no joint yet: write its lines on the sheet under `[routes]`.".to_owned(),
        ));
    }
    let facts = outcome.proof.joints.iter().map(|state| {
        let said = joint(state);
        Detail::new(said.name, said.state)
    });
    section
        .with(Block::Details(facts.collect()))
        .with(Block::Text(NEXT_OF_A_JOINT.to_owned()))
}

fn checks(case: &Case<'_>, outcome: &Outcome) -> Section {
    let checks = &outcome.proof.checks;
    let facts = checks.iter().map(|state| {
        let said = check(state, case.opened.car());
        let name = format!("{} {} ({})", said.sign, said.name, state.check.name());
        Detail::new(name, said.says)
    });
    let settled = checks.iter().filter(|state| state.is_settled()).count();
    let summary = format!("{settled} of {} settled", checks.len());
    Section::new(CHECKS, summary, None).with(Block::Details(facts.collect()))
}

/// What the soak on the sheet says; `None` where there is none.
fn soak(outcome: &Outcome, units: &Units) -> Option<Section> {
    let (measured, verdict) = outcome.soak.as_ref()?;
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    let on = measured.on.map_or_else(String::new, |day| format!("{day}: "));
    let (weeps, so) = if verdict.weeps() {
        let loses = wording::figure(verdict.loses.m3(), units.fluid);
        (
            "a weep",
            format!("That leaves a weep of {loses} an hour: find it."),
        )
    } else {
        (
            "no weep",
            "A gauge could show no weep in what is left.".to_owned(),
        )
    };
    let said = format!(
        "{on}fell {} in {}; temperature and creeping rubber explain {}, give or take {}. Here a degree is worth {}, \
         a drop lost {}. {so}",
        pressure(verdict.fell.pa()),
        wording::minutes(measured.held_for),
        pressure(verdict.explained.pa()),
        pressure(verdict.unsure.pa()),
        pressure(verdict.closed.per_degree_pa_k),
        pressure(verdict.closed.per_drop.pa()),
    );
    Some(Section::new("The soak on the sheet", weeps, None).with(Block::Text(said)))
}

fn signature(outcome: &Outcome) -> Section {
    let proof = &outcome.proof;
    let section = |summary: &str| Section::new(SIGNATURE, summary, None);
    if let Some((entry, day, signature)) = &proof.signed {
        let checked = signature.checked_by.as_ref().map_or_else(
            || "checked by nobody else".to_owned(),
            |name| format!("checked by {name}"),
        );
        return section("signed").with(Block::Text(format!(
            "Signed off by {} on {day} (entry {entry}), {checked}.",
            signature.by
        )));
    }
    if proof.may_sign() {
        return section("it may be signed").with(Block::Text(
            "Every joint is dry and every check settled: it may be signed.".to_owned(),
        ));
    }
    let section = section(&format!("{} open", proof.open.len()));
    if proof.open.len() <= MOST_LISTED {
        let items = proof.open.iter().map(|open| sentence(open)).collect();
        let said = "Open before it may be signed:".to_owned();
        return section.with(Block::Text(said)).with(Block::List(items));
    }
    section.with(Block::Text(format!(
        "{} things are open before it may be signed, the first: {}.",
        proof.open.len(),
        proof.open[0]
    )))
}

fn ignored(outcome: &Outcome) -> Option<Section> {
    let ignored = outcome.proof.ignored.iter();
    let mut items: Vec<String> = ignored
        .map(|ignored| format!("entry {}: {}", ignored.id, ignored.why))
        .collect();
    let not_read = outcome.not_read.iter();
    items.extend(not_read.map(|(entry, why)| format!("entry {entry}: {why}")));
    let summary = format!("{} {}", items.len(), counted(items.len(), "entry", "entries"));
    (!items.is_empty())
        .then(|| Section::new("Entries that do not count", summary, None).with(Block::List(items)))
}

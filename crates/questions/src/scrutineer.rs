//! What a scrutineer asks for first: circuits, parking, lines, joints proved and by whom, and what is not done.

use ::assess::{Finding, Weight};
use engine::balance::failed_circuits;
use engine::car::{LeverKind, Split};
use engine::hydraulics::Hydraulics;
use plumbing::{pipe_name, run_words};
use proving::Standing;

use crate::balance::one_circuit_gone;
use crate::lines::cut_words;
use crate::prove::{self, Outcome};
use crate::question::Case;
use crate::report::{Block, Detail, Frame, Headline, Report, Section, Table, sentence};

/// Title of the section in which a check that was left out stands large.
pub const NOT_DONE: &str = "What is not done";

/// Findings that belong to the circuits.
const CIRCUITS: &[&str] = &[
    "circuits-joined",
    "one-circuit-gone",
    "hand-shares-the-rear",
    "factory-valve-gone",
    "bias-valve-unsaid",
    "valve-after-lever",
    "antilock-fitted",
    "antilock-removed",
];
/// Findings that belong to what holds the parked car.
const PARKING: &[&str] = &[
    "parking-unknown",
    "no-parking-brake",
    "latched-parking",
    "hold-not-parking",
    "parking-shoes-left",
    "caliper-mechanism-left",
    "caliper-mechanism-gutted",
];
/// Findings that belong to where lines run, and what protects them.
const ROUTING: &[&str] = &[
    "reservoir-in-cabin",
    "cabin-joints",
    "quarter-inch-pipe",
    "rubber-run",
    "long-hose",
    "bare-run",
    "few-clips",
    "old-pipe",
    "pulled-hose",
];

/// Every finding that is shown to a scrutineer, by its slug.
pub fn slugs() -> impl Iterator<Item = &'static str> {
    [CIRCUITS, PARKING, ROUTING].into_iter().flatten().copied()
}

/// The two pages. `findings`: those of the assessment.
#[must_use]
pub fn report(case: &Case<'_>, findings: &[Finding]) -> Report {
    let outcome = Outcome::of(case.opened, case.opened.history());
    let mut report = Report::named(
        "scrutineer",
        "What does the scrutineer ask for?",
        case,
        headline(&outcome, findings),
    );
    report.section(with_findings(circuits(case), findings, CIRCUITS));
    report.section(with_findings(
        Section::new("What holds the parked car", "parking", None),
        findings,
        PARKING,
    ));
    report.section(with_findings(lines(case, &outcome), findings, ROUTING));
    report.section(not_done(&outcome));
    report.section(joints(&outcome));
    report
}

fn headline(outcome: &Outcome, findings: &[Finding]) -> Headline {
    let stops = findings.iter().filter(|finding| finding.weight == Weight::Stop);
    let (stamp, frame, because) = match (&outcome.stop, &outcome.proof.signed) {
        (Some((said, _)), _) => ("Not known", Frame::Broken, sentence(said)),
        (None, Some((_, day, signature))) => (
            "Proved and signed",
            Frame::Solid,
            format!("Signed by {} on {day}; nothing was opened since.", signature.by),
        ),
        (None, None) => (
            "Not signed off",
            Frame::Heavy,
            format!("Joints: {}.", outcome.proof.short()),
        ),
    };
    Headline {
        stamp: stamp.to_owned(),
        frame,
        because,
        though: Vec::new(),
        stops_first: stops.map(|finding| finding.title.clone()).collect(),
        figures: Vec::new(),
        first: None,
    }
}

/// Findings below what they belong to: weight and title; the assessment has each whole.
fn with_findings(section: Section, findings: &[Finding], slugs: &[&str]) -> Section {
    let found = findings.iter().filter(|finding| slugs.contains(&finding.slug));
    let facts: Vec<Detail> = found
        .map(|finding| {
            let mut said = sentence(&finding.title);
            // What stops the car is said whole.
            if finding.weight == Weight::Stop {
                said.push(' ');
                said.push_str(&finding.because);
            }
            Detail::new(finding.weight.word(), said)
        })
        .collect();
    if facts.is_empty() {
        return section.with(Block::Text("The assessment found nothing against it.".to_owned()));
    }
    section.with(Block::Details(facts))
}

fn circuits(case: &Case<'_>) -> Section {
    let (opened, units) = (case.opened, &case.units);
    let (car, state) = (opened.car(), &opened.state);
    let split = match car.master.split() {
        Split::Axle => "two circuits: front axle, rear axle",
        Split::Diagonal => "two circuits: each a front wheel and the rear wheel across",
    };
    let lever = match car.lever.as_ref().map(|lever| &lever.kind) {
        None => "none on the sheet",
        Some(LeverKind::Inline(_)) => "a cylinder in the rear line, behind the foot's own pressure",
        Some(LeverKind::Separate(..)) => "a cylinder with calipers of its own",
        Some(LeverKind::Cable(_)) => "by cable, without fluid",
    };
    let hydraulics = Hydraulics::of(car, state.conditions.warmth);
    let failed = failed_circuits(car, &hydraulics, &state.laden, state.surface.peak);
    let mut facts = vec![Detail::new("foot", split), Detail::new("handbrake", lever)];
    facts.extend(
        failed
            .iter()
            .map(|failed| Detail::new("one circuit gone", one_circuit_gone(opened, failed, units))),
    );
    Section::new("Circuits and their independence", split, None).with(Block::Details(facts))
}

fn lines(case: &Case<'_>, outcome: &Outcome) -> Section {
    let section = Section::new("Lines: where they run, what protects them", "lines", None);
    let cuts = &outcome.plumbing.cuts;
    if cuts.is_empty() {
        return section.with(Block::Text("No line is on the sheet yet.".to_owned()));
    }
    let rows = cuts.iter().map(|cut| {
        let joints = outcome.plumbing.joints.iter();
        let inside = joints
            .filter(|joint| joint.run == cut.index && joint.in_cabin)
            .count();
        let [measured, _] = cut_words(cut, &case.units);
        vec![
            run_words(&cut.run),
            pipe_name(cut.pipe).to_owned(),
            measured,
            if inside > 0 {
                inside.to_string()
            } else {
                "–".to_owned()
            },
        ]
        .into()
    });
    section.with(Block::Table(Table {
        caption: String::new(),
        heads: ["line", "made of", "measured", "joints in the cabin"]
            .map(str::to_owned)
            .to_vec(),
        names_row: 0,
        rows: rows.collect(),
        of_words: true,
    }))
}

/// What is not done: checks that were left out first, and large.
fn not_done(outcome: &Outcome) -> Section {
    let proof = &outcome.proof;
    let section = Section::new(NOT_DONE, "open", None);
    let section = proof.left.iter().fold(section, |section, (check, because)| {
        section.with(Block::Caution(format!(
            "NOT DONE: {}, because {}.",
            check.words(),
            because.trim_end_matches('.')
        )))
    });
    let open: Vec<String> = proof
        .checks
        .iter()
        .filter(|state| !state.is_settled())
        .map(|state| state.check.words().to_owned())
        .collect();
    let unfelt = proof
        .joints
        .iter()
        .filter(|joint| joint.state != Standing::Dry)
        .count();
    let joints = match unfelt {
        0 => "Every joint was found dry.".to_owned(),
        many => format!(
            "{many} of {} joints not found dry since they were last touched.",
            proof.joints.len()
        ),
    };
    let section = if open.is_empty() {
        section.with(Block::Text("Every check is settled.".to_owned()))
    } else {
        section
            .with(Block::Text("Checks still open:".to_owned()))
            .with(Block::List(open))
    };
    section.with(Block::Text(joints))
}

fn joints(outcome: &Outcome) -> Section {
    let proof = &outcome.proof;
    let by = match &proof.signed {
        Some((entry, day, signature)) => {
            let checked = signature
                .checked_by
                .as_ref()
                .map_or_else(|| "nobody else".to_owned(), Clone::clone);
            format!(
                "Signed off by {} on {day}, entry {entry}. Checked by {checked}.",
                signature.by
            )
        }
        None => "Not signed off: nobody vouches for these joints yet.".to_owned(),
    };
    let section = Section::new("Joints proved, and by whom", proof.short(), None).with(Block::Text(by));
    if proof.joints.is_empty() {
        return section.with(Block::Text(
            "No joint is known: the sheet has no lines yet.".to_owned(),
        ));
    }
    let rows = proof.joints.iter().map(|state| {
        let said = prove::joint(state);
        let run = outcome.plumbing.joints[state.index].run;
        vec![
            said.name,
            run_words(outcome.plumbing.circuit.runs[run].name),
            said.state,
        ]
        .into()
    });
    section.with(Block::Table(Table {
        caption: String::new(),
        heads: ["joint", "on", "found"].map(str::to_owned).to_vec(),
        names_row: 0,
        rows: rows.collect(),
        of_words: true,
    }))
}

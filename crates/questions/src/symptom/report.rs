//! What is wrong, as it is shown.

use symptoms::{Diagnosis, InThisCar, Symptom as Says, Trial, TrialResult};
use wording::{Units, figure, per_cent};

use super::{Ask, Known, Outcome};
use crate::options::{FOUND, SAYS};
use crate::question::Case;
use crate::report::{Block, Choice, Detail, Frame, Headline, Report, Section, Table, sentence};

/// What stands beside every test with a wheel clear of the ground.
const STANDS: &str = "Jack stands, wheels chocked, nobody under the car while the brakes are worked.";
/// And beside every hose.
const CLAMPS: &str = "Braided hose is never clamped; rubber hose only with smooth jaws.";

pub(super) fn of(case: &Case<'_>, outcome: &Outcome) -> Report {
    let mut report = Report::of(&Ask, case, headline(outcome));
    match outcome {
        Outcome::Silent | Outcome::Unknown(_) => {
            let said = Says::ALL
                .iter()
                .map(|says| format!("{} (`{}`)", says.said(), says.slug()));
            report.section(
                Section::new("What drivers say", "pick one", None).with(Block::List(said.collect())),
            );
        }
        Outcome::Found(known) => {
            let Known {
                verdict,
                written,
                others,
            } = &**known;
            if let Some(test) = verdict.test {
                report.section(trial(test, verdict));
            }
            report.section(causes(verdict, &case.units));
            report.section(remedies(verdict));
            if !verdict.done.is_empty() {
                let said = verdict.done.iter().map(|(test, answer)| {
                    let answer = match answer {
                        TrialResult::Yes => "yes",
                        TrialResult::No => "no",
                    };
                    let on = written
                        .iter()
                        .find(|tried| tried.trial == *test)
                        .map_or_else(String::new, |tried| format!(", in the logbook on {}", tried.on));
                    Detail::new(
                        test.slug().replace('-', " "),
                        format!("{} {answer}{on}", test.asks()),
                    )
                });
                let right = Choice {
                    label: "It is put right".to_owned(),
                    text: "what was tried before counts no longer; on a terminal with `--right`".to_owned(),
                    says: vec![(&SAYS, verdict.symptom.slug().to_owned())],
                    notes: Some(proving::Fact::PutRight {
                        symptom: verdict.symptom.slug().to_owned(),
                    }),
                    ..Choice::default()
                };
                let mut section =
                    Section::new("What tests said", "so far", None).with(Block::Details(said.collect()));
                if !written.is_empty() {
                    section = section.with(Block::Choose(vec![right]));
                }
                report.section(section);
            }
            if !others.is_empty() {
                let said = others.iter().map(|says| says.said().to_owned()).collect();
                report.section(
                    Section::new("Or did you mean", "what else it may mean", None).with(Block::List(said)),
                );
            }
        }
    }
    report.caution(STANDS);
    report.caution(CLAMPS);
    report
}

fn headline(outcome: &Outcome) -> Headline {
    let plain = |stamp: &str, because: &str, first: &str| Headline {
        stamp: stamp.to_owned(),
        frame: Frame::Broken,
        because: because.to_owned(),
        though: Vec::new(),
        stops_first: Vec::new(),
        figures: Vec::new(),
        first: Some(first.to_owned()),
    };
    match outcome {
        Outcome::Silent => plain(
            "What does it do?",
            "Say what the driver says, and the causes come ranked for this car.",
            "Pick what fits best from the list.",
        ),
        Outcome::Unknown(_) => plain(
            "Not understood",
            "No word of it is one that a symptom is known by.",
            "Pick what fits best from the list.",
        ),
        Outcome::Found(known) => found(&known.verdict),
    }
}

fn found(verdict: &Diagnosis) -> Headline {
    let stop = verdict.symptom.stop();
    let (stamp, because) = match &verdict.causes[..] {
        [] => (
            "Nothing fits",
            "None of the usual causes can do that to this car.".to_owned(),
        ),
        [one] => (
            one.cause.brief(),
            "It is the only usual cause that this car can have.".to_owned(),
        ),
        [one, other, ..] => (
            one.cause.brief(),
            format!(
                "{} likely; next: {}.",
                per_cent(one.weight),
                other.cause.said().split([':', ',']).next().unwrap_or_default()
            ),
        ),
    };
    let first = match verdict.test {
        Some(test) => format!("Do the test below: it takes {} minutes.", test.minutes()),
        None => verdict
            .causes
            .first()
            .map_or("Look at everything once more.", |one| one.cause.remedy())
            .to_owned(),
    };
    Headline {
        stamp: stamp.to_owned(),
        frame: if stop.is_some() {
            Frame::Heavy
        } else {
            Frame::Broken
        },
        because,
        though: Vec::new(),
        stops_first: stop
            .map(|stop| format!("Do not drive. {}", stop.because))
            .into_iter()
            .collect(),
        figures: Vec::new(),
        first: Some(first),
    }
}

fn trial(test: Trial, verdict: &Diagnosis) -> Section {
    let facts = vec![Detail::new("do", test.todo()), Detail::new("look", test.asks())];
    let mut leads = [String::new(), String::new()];
    if let [one, other, ..] = &verdict.causes[..] {
        let (yes, no) = if symptoms::leans_to_first(test, one.cause, other.cause) {
            (one, other)
        } else {
            (other, one)
        };
        leads = [yes, no].map(|ranked| format!("rather {}", ranked.cause.said()));
    }
    let choices = [true, false].into_iter().zip(leads).map(|(is, text)| {
        let word = if is { "yes" } else { "no" };
        Choice {
            label: if is { "Yes" } else { "No" }.to_owned(),
            text,
            says: vec![(&FOUND, format!("{}={word}", test.slug()))],
            notes: Some(proving::Fact::Tried {
                symptom: verdict.symptom.slug().to_owned(),
                test: test.slug().to_owned(),
                yes: is,
            }),
            ..Choice::default()
        }
    });
    Section::new(
        "The test that splits the first two",
        format!("{} minutes", test.minutes()),
        None,
    )
    .with(Block::Details(facts))
    .with(Block::Choose(choices.collect()))
    .with(Block::Text(
        "What is written into the logbook counts until it is put right; on a terminal `--write-down` does that.".to_owned(),
    ))
}

fn causes(verdict: &Diagnosis, units: &Units) -> Section {
    let rows = verdict
        .causes
        .iter()
        .map(|ranked| {
            vec![
                ranked.cause.said().to_owned(),
                per_cent(ranked.weight),
                in_this_car(&ranked.here, units),
                ranked.cause.source().said().to_owned(),
            ]
            .into()
        })
        .collect();
    Section::new(verdict.symptom.said(), "causes, the likeliest first", None).with(Block::Table(Table {
        caption: "Causes".to_owned(),
        heads: vec![
            "cause".to_owned(),
            "likely".to_owned(),
            "in this car".to_owned(),
            "from".to_owned(),
        ],
        names_row: 0,
        rows,
        of_words: true,
    }))
}

fn remedies(verdict: &Diagnosis) -> Section {
    let facts = verdict
        .causes
        .iter()
        .take(3)
        .map(|ranked| Detail::new(ranked.cause.brief().to_lowercase(), ranked.cause.remedy()))
        .collect();
    Section::new("What is done about it", "of the first three", None).with(Block::Details(facts))
}

/// What a cause would do to this car, in its own figures.
pub(super) fn in_this_car(here: &InThisCar, units: &Units) -> String {
    let more = |si: f64, unit| {
        let word = if si < 0.0 { "less" } else { "more" };
        format!("{} {word}", figure(si.abs(), unit))
    };
    let mut said = Vec::new();
    if let Some(grip) = here.grip {
        said.push(format!("grip {}", more(grip.m(), units.length)));
    }
    if let Some(pedal) = here.pedal {
        said.push(format!("pedal {}", more(pedal.m(), units.length)));
    }
    if let Some(line) = here.line {
        said.push(format!("line {}", more(line.pa(), units.pressure)));
    }
    if let Some(rear) = here.rear {
        said.push(format!("rear {}", more(rear.pa(), units.pressure)));
    }
    if let Some(pull) = here.pull {
        said.push(format!("pull to lock {}", wording::times(pull)));
    }
    if let Some((fast, slow)) = here.centre {
        said.push(format!(
            "takes {} of the torque at 50 km/h, {} at walking pace",
            per_cent(fast),
            per_cent(slow)
        ));
    }
    if said.is_empty() {
        "no figure tells".to_owned()
    } else {
        said.join(", ")
    }
}

/// What a test tells, for other programs.
pub(super) fn tells(test: Trial, verdict: &Diagnosis) -> String {
    match &verdict.causes[..] {
        [one, other, ..] => {
            let (yes, no) = if symptoms::leans_to_first(test, one.cause, other.cause) {
                (one, other)
            } else {
                (other, one)
            };
            format!(
                "{} Yes: rather {}. No: rather {}.",
                test.asks(),
                yes.cause.said(),
                no.cause.said()
            )
        }
        _ => sentence(test.asks()),
    }
}

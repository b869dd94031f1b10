//! `prove`: bleeding, the round of joints, the checks, the signature.

use clap::Args;
use plumbing::Plumbing;
use proving::{Check, Fact, Found, Reading, Said, Signature};
use questions::answers::lines::unlisted;
use questions::answers::proving::Outcome;
use questions::{Opened, Wrong, writing};

use crate::ending::{Ending, Stop};
use crate::options::{
    self, COMMAND_LINE, CarOption, IdleDraws, IdleForces, IdleSpeed, IdleStrict, OutputOptions, SheetOptions,
    StateOptions, help,
};
use crate::print;
use crate::verbs::logbook;
use crate::views::prove::ProveView;
use crate::views::{self, Head, Headed};
use crate::voice::Voice;

/// Name of the verb.
pub(crate) const NAME: &str = "prove";

/// Dry, firm, written down
///
/// The order of bleeding and the fluid for it; what one person can hold alone; every joint with its state, from untried
/// over marked to dry, and what reopens it; the checks; what is still open before it may be signed. What is found is
/// written into the car's logbook.
#[derive(Args, Debug)]
#[command(after_long_help = help::PROVE)]
pub(crate) struct ProveVerb {
    #[command(flatten)]
    car: CarOption,
    /// An empty sheet for the clipboard
    #[arg(long, conflicts_with_all = ["joint", "touched", "check", "sign", "json"])]
    blank: bool,
    #[command(flatten)]
    found: FoundOptions,
    #[command(flatten)]
    changes: SheetOptions,
    #[command(flatten)]
    state: StateOptions,
    #[command(flatten)]
    output: OutputOptions,
    #[command(flatten)]
    speed: IdleSpeed,
    #[command(flatten)]
    draws: IdleDraws,
    #[command(flatten)]
    forces: IdleForces,
    #[command(flatten)]
    strict: IdleStrict,
}

/// What was found, to be written down.
#[derive(Args, Debug)]
#[command(next_help_heading = "What was found, to be written down")]
struct FoundOptions {
    /// A joint, by its number on the list or by its name; "all" for every one; may be given again
    #[arg(long, value_name = "JOINT", requires = "state_of_joint")]
    joint: Vec<String>,
    /// How it is: marked (tight, with a witness mark), dry, weep, remade
    #[arg(long = "is", id = "state_of_joint", value_name = "STATE", requires = "joint")]
    state: Option<String>,
    /// A component or run that was opened or changed: its joints are untried again; may be given again
    #[arg(long, value_name = "NAME")]
    touched: Vec<String>,
    /// A check: bled, screws, pressed, soak, firm-pedal, firm-hand, bypass-cold, walking, bypass-hot, even, slope
    #[arg(long, value_name = "CHECK")]
    check: Option<String>,
    /// The check holds
    #[arg(long, requires = "check", conflicts_with_all = ["failed", "not_done", "read"])]
    held: bool,
    /// The check does not hold
    #[arg(long, requires = "check", conflicts_with_all = ["not_done", "read"])]
    failed: bool,
    /// The check is not done, because of this
    #[arg(
        long,
        value_name = "WHY",
        requires = "check",
        conflicts_with = "read",
        allow_hyphen_values = true
    )]
    not_done: Option<String>,
    /// The check's figures, as JSON: {"first": "84 mm", "second": "82 mm"}
    #[arg(long, value_name = "JSON", requires = "check")]
    read: Option<String>,
    /// Sign it off
    #[arg(long, value_name = "NAME")]
    sign: Option<String>,
    /// Who looked at it beside whoever signs
    #[arg(long, value_name = "NAME", requires = "sign")]
    checked_by: Option<String>,
}

/// Writes facts into the car's logbook, in their order.
pub(crate) fn write(opened: &Opened, facts: &[Fact]) -> Result<(), Stop> {
    let entries = writing::entries_of(COMMAND_LINE, facts)?;
    let folder = &opened.sheet.folder;
    writing::write(
        folder,
        Some(opened),
        &entries,
        options::today(),
        logbook::stamp_numbered,
    )?;
    Ok(())
}

impl ProveVerb {
    /// Opens the car, writes down what was found, and shows where it stands.
    pub(crate) fn run(&self, voice: &mut Voice<'_>) -> Result<Ending, Stop> {
        let mut wrong = Wrong::default();
        let units = wrong.note(questions::units(self.output.units.list.as_deref()));
        let opened = options::open(&mut wrong, &self.car, &self.changes, &self.state)?;
        let (Some(units), Some(mut opened)) = (units, opened) else {
            return Err(wrong.into());
        };
        for option in self
            .speed
            .given()
            .chain(self.draws.given())
            .chain(self.forces.given())
            .chain(self.strict.given())
        {
            opened.warn(option, format!("has no effect on `{NAME}`"));
        }
        let plumbing = Plumbing::of(opened.car());
        wrong.add(unlisted(&opened, &plumbing));
        let facts = wrong.note(self.found.facts(&plumbing)).unwrap_or_default();
        if !wrong.is_empty() {
            return Err(wrong.into());
        }
        write(&opened, &facts)?;
        opened.warn_of_the_logbook();
        let outcome = Outcome::of(&opened, opened.history());
        if self.blank {
            voice.say(&print::prove::blank(&opened, &outcome, &units))?;
        } else if self.output.json.json {
            let view = Headed {
                head: Head::of(NAME, &opened),
                answer: ProveView::of(&outcome),
            };
            voice.say_json(&views::to_json(&view)?)?;
        } else {
            voice.say(&print::prove::page(&opened, &outcome, &units))?;
        }
        Ok(Ending::with_logbook(opened.history()))
    }
}

impl FoundOptions {
    /// What the options say, in the order of the work: touched, joints, check, signature.
    fn facts(&self, plumbing: &Plumbing) -> Result<Vec<Fact>, Wrong> {
        let mut wrong = Wrong::default();
        let mut facts = Vec::new();
        for what in &self.touched {
            if plumbing.joints_of(what).is_empty() && plumbing.joint(what).is_none() {
                let names = plumbing
                    .circuit
                    .components
                    .iter()
                    .map(|component| component.name.as_str());
                let names = names.chain(plumbing.circuit.runs.iter().map(|run| run.name.as_str()));
                wrong.add(unknown("--touched", what, "component or run", names));
            }
            facts.push(Fact::Touched {
                what: what.trim().to_owned(),
            });
        }
        if let Some(state) = &self.state {
            let found = Found::ALL.into_iter().find(|found| found.word() == state.trim());
            match found {
                None => wrong.add(unknown(
                    "--is",
                    state,
                    "state of a joint",
                    Found::ALL.map(Found::word),
                )),
                Some(found) => facts.extend(
                    self.joints(plumbing, &mut wrong)
                        .into_iter()
                        .map(|joint| Fact::Joint { joint, found }),
                ),
            }
        }
        if let Some(name) = &self.check {
            match Check::named(name.trim()) {
                None => wrong.add(unknown("--check", name, "check", Check::names())),
                Some(check) => {
                    if let Some(said) = wrong.note(self.said(check)) {
                        facts.push(Fact::Checked { check, said });
                    }
                }
            }
        }
        if let Some(by) = &self.sign {
            let name = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
            match name(by) {
                Some(by) => facts.push(Fact::Signed(Signature {
                    by,
                    checked_by: self.checked_by.as_deref().and_then(name),
                })),
                None => {
                    let remedy = "write who signs".to_owned();
                    wrong.add(Wrong::plain(
                        "--sign",
                        "no-name",
                        "nobody signs".to_owned(),
                        remedy,
                    ));
                }
            }
        }
        if wrong.is_empty() { Ok(facts) } else { Err(wrong) }
    }

    fn joints(&self, plumbing: &Plumbing, wrong: &mut Wrong) -> Vec<String> {
        let mut ids = Vec::new();
        for given in &self.joint {
            if given.trim() == "all" {
                ids.extend(plumbing.joints.iter().map(|joint| joint.id.clone()));
            } else if let Some(joint) = plumbing.joint(given) {
                ids.push(joint.id.clone());
            } else {
                let names = plumbing.joints.iter().map(|joint| joint.id.as_str());
                wrong.add(unknown("--joint", given, "joint of this car", names));
            }
        }
        ids
    }

    fn said(&self, check: Check) -> Result<Said, Wrong> {
        let plain = |slug: &str, what: String, remedy: &str| {
            Err(Wrong::plain("--check", slug, what, remedy.to_owned()))
        };
        match (self.held, self.failed, &self.not_done, &self.read) {
            (true, ..) => Ok(Said::Held),
            (_, true, ..) => Ok(Said::Failed),
            (_, _, Some(because), _) if because.trim().is_empty() => plain(
                "no-reason",
                "a check that is not done has a reason".to_owned(),
                "write why behind --not-done",
            ),
            (_, _, Some(because), _) => Ok(Said::NotDone(because.trim().to_owned())),
            (_, _, _, Some(json)) => {
                let data = serde_json::from_str(json).map_err(|error| {
                    let remedy = "write a JSON object, such as {\"first\": \"84 mm\", \"second\": \"82 mm\"}"
                        .to_owned();
                    Wrong::option(
                        "--read",
                        json,
                        0..json.len(),
                        "not-json",
                        error.to_string(),
                        remedy,
                    )
                })?;
                Reading::read(check, &data).map(Said::Read).map_err(|why| {
                    let remedy =
                        "firm-*: first, second; soak: from, to, in, air; even: left, right, how".to_owned();
                    Wrong::option("--read", json, 0..json.len(), "reading", why.to_string(), remedy)
                })
            }
            _ => plain(
                "no-result",
                format!("nothing is said of the check `{}`", check.name()),
                "add --held, --failed, --not-done WHY or --read JSON",
            ),
        }
    }
}

/// A name that is none, with the nearest that is one.
pub(crate) fn unknown<'a>(
    option: &str,
    given: &str,
    what: &str,
    names: impl IntoIterator<Item = &'a str>,
) -> Wrong {
    let names: Vec<&str> = names.into_iter().collect();
    let remedy = match questions::nearest(given, names.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if names.len() <= 12 => format!("there are: {}", names.join(", ")),
        None => format!("`{NAME}` lists them with their numbers"),
    };
    let text = format!("`{given}` is no {what}");
    Wrong::option(option, given, 0..given.len(), "unknown-name", text, remedy)
}

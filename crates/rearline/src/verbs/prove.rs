//! `prove`: what was found is written down before the answer.

use clap::{ArgMatches, Args, Command, FromArgMatches as _};
use plumbing::Plumbing;
use proving::{Check, CheckFound, CheckReading, Fact, JointFound, Signature};
use questions::lines::unlisted;
use questions::{Opened, Wrong, writing};

use crate::ending::Stop;
use crate::options::{self, COMMAND_LINE};
use crate::verbs::logbook;

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

/// With the options of what was found.
pub(crate) fn with_options(command: Command) -> Command {
    let written = ["joint", "touched", "check", "sign", "json"];
    FoundOptions::augment_args(command).mut_arg("blank", |blank| blank.conflicts_with_all(written))
}

/// Writes down what was found.
pub(crate) fn write_down(matches: &ArgMatches, opened: &Opened) -> Result<(), Stop> {
    let found = FoundOptions::from_arg_matches(matches)
        .map_err(|error| Wrong::plain(COMMAND_LINE, "command-line", error.to_string(), String::new()))?;
    let plumbing = Plumbing::of(opened.car());
    let mut wrong = unlisted(opened, &plumbing);
    let facts = wrong.note(found.facts(&plumbing)).unwrap_or_default();
    if !wrong.is_empty() {
        return Err(wrong.into());
    }
    write(opened, &facts)
}

impl FoundOptions {
    /// What the options say, in the order of the work: touched, joints, check, signature.
    fn facts(&self, plumbing: &Plumbing) -> Result<Vec<Fact>, Wrong> {
        let mut wrong = Wrong::default();
        let mut facts = Vec::new();
        for what in &self.touched {
            if plumbing.joints_of(what).is_empty() && plumbing.joint(what).is_none() {
                let names = plumbing.circuit.components.iter().map(|component| component.name);
                let names = names.chain(plumbing.circuit.runs.iter().map(|run| run.name));
                wrong.add(unknown("--touched", what, "component or run", names));
            }
            facts.push(Fact::Touched {
                what: what.trim().to_owned(),
            });
        }
        if let Some(state) = &self.state {
            let found = JointFound::ALL
                .into_iter()
                .find(|found| found.word() == state.trim());
            match found {
                None => wrong.add(unknown(
                    "--is",
                    state,
                    "state of a joint",
                    JointFound::ALL.map(JointFound::word),
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

    fn said(&self, check: Check) -> Result<CheckFound, Wrong> {
        let plain = |slug: &str, what: String, remedy: &str| {
            Err(Wrong::plain("--check", slug, what, remedy.to_owned()))
        };
        match (self.held, self.failed, &self.not_done, &self.read) {
            (true, ..) => Ok(CheckFound::Held),
            (_, true, ..) => Ok(CheckFound::Failed),
            (_, _, Some(because), _) if because.trim().is_empty() => plain(
                "no-reason",
                "a check that is not done has a reason".to_owned(),
                "write why behind --not-done",
            ),
            (_, _, Some(because), _) => Ok(CheckFound::NotDone(because.trim().to_owned())),
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
                CheckReading::read(check, &data)
                    .map(CheckFound::Read)
                    .map_err(|why| {
                        let remedy = "firm-*: first, second; soak: from, to, in, air; even: left, right, how"
                            .to_owned();
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
        None => "`prove` lists them with their numbers".to_owned(),
    };
    let text = format!("`{given}` is no {what}");
    Wrong::option(option, given, 0..given.len(), "unknown-name", text, remedy)
}

//! The one place where entries are written into a logbook: read by `proving`, held against the car, and then kept.

use engine::car::Date;
use plumbing::Plumbing;
use proving::order::order;
use proving::{EntryFault, Fact, NewEntry, Noted, Signature, prove};
use records::logbook::{Appended, Data, Draft, EntryKind, Filter, KindFault, Logbook, Stamp, WAIT};
use records::{CarFolder as Folder, Fault};

use crate::history::history;
use crate::opened::Opened;
use crate::trouble::{Stop, Wrong, of_records};
use nearest::nearest_one;

/// An entry that a person wrote as a kind, a text and perhaps a JSON object with more; `subject` is what they wrote it
/// with, in messages.
///
/// # Errors
/// Data that is no JSON object; a kind, a key, a word or a figure that would mean nothing, with what was expected.
pub fn entry(subject: &str, kind: &str, text: &str, more: Option<&str>) -> Result<NewEntry, Stop> {
    let refused = |fault: &Fault| of_records(subject, fault, None);
    let kind: EntryKind = kind
        .parse()
        .map_err(|word: KindFault| of_records("--kind", &word.into(), None))?;
    let data = Data::with_text(text, more).map_err(|fault| refused(&fault))?;
    NewEntry::read(kind.as_str(), data.as_str()).map_err(|why| not_read(subject, &why).into())
}

/// The entries that say facts.
///
/// # Errors
/// A figure that cannot be.
pub fn entries_of(subject: &str, facts: &[Fact]) -> Result<Vec<NewEntry>, Stop> {
    let entry = |fact| NewEntry::of(fact).map_err(|why| not_read(subject, &why).into());
    facts.iter().map(entry).collect()
}

fn not_read(subject: &str, why: &EntryFault) -> Wrong {
    let remedy = "write it as it is meant; words that nothing is to count are a note".to_owned();
    Wrong::plain(subject, "entry", why.to_string(), remedy)
}

/// Writes entries into a car's logbook, in their order, each under a stamp of its own. What was sent before under the same
/// stamp is not written again. `opened` is `None` where the sheet has faults: then joints cannot be held against it, and
/// are taken as they are said.
///
/// # Errors
/// What would not count, with why, and then nothing is written; a logbook that cannot be read or written; a stamp that
/// was used for something else.
pub fn write(
    folder: &Folder,
    opened: Option<&Opened>,
    entries: &[NewEntry],
    today: Date,
    stamp: impl FnMut(usize) -> Result<Stamp, Fault>,
) -> Result<Vec<Appended>, Stop> {
    if entries.is_empty() {
        return Ok(Vec::new());
    }
    let path = folder.logbook();
    let refused = |fault: &Fault| of_records(&path.display().to_string(), fault, None);
    let stamps = (0..entries.len())
        .map(stamp)
        .collect::<Result<Vec<_>, _>>()
        .map_err(|fault| refused(&fault))?;
    let there = Logbook::open_if_there(&path, WAIT)
        .and_then(|book| book.map_or_else(|| Ok(Vec::new()), |book| book.list(&Filter::default())))
        .map_err(|fault| refused(&fault))?;
    let sent_before = |stamp: &Stamp| {
        there.iter().any(|entry| {
            (entry.device.as_str(), entry.device_entry.as_str()) == (stamp.device(), stamp.device_entry())
        })
    };
    // What an earlier sending has left unwritten is all that has to count now.
    let facts: Vec<&Fact> = entries
        .iter()
        .zip(&stamps)
        .filter(|(_, stamp)| !sent_before(stamp))
        .filter_map(|(entry, _)| entry.fact())
        .collect();
    match opened {
        Some(opened) => counts(opened, history(&there).noted, &facts, today)?,
        None if facts.iter().any(|fact| matches!(fact, Fact::Signed(_))) => {
            let what = "it is not signed while its sheet has faults".to_owned();
            let remedy = "put the sheet right first: check-sheet shows what is wrong".to_owned();
            return Err(Wrong::plain(folder.name(), "not-yet", what, remedy).into());
        }
        None => {}
    }
    let mut book = Logbook::open_or_create(&path, WAIT).map_err(|fault| refused(&fault))?;
    let draft = |entry: &NewEntry, stamp| -> Result<Draft, Fault> {
        Ok(Draft {
            stamp,
            kind: entry.kind().parse::<EntryKind>()?,
            data: Data::parse(entry.data())?,
        })
    };
    entries
        .iter()
        .zip(stamps)
        .map(|(entry, stamp)| book.append(&draft(entry, stamp)?))
        .collect::<Result<_, _>>()
        .map_err(|fault| refused(&fault))
}

/// Whether facts count behind what is written already.
fn counts(opened: &Opened, mut all: Vec<Noted>, facts: &[&Fact], today: Date) -> Result<(), Wrong> {
    let car = opened.car();
    let plumbing = Plumbing::of(car);
    let mut wrong = Wrong::default();
    let steps = order(car, &plumbing, &all, &prove(car, &plumbing, &all)).steps;
    // The numbers that they will have; only their order is used.
    let last = all.iter().map(|noted| noted.id).max().unwrap_or(0);
    for (fact, id) in facts.iter().zip(last + 1..) {
        match fact {
            Fact::Step { step } if !steps.iter().any(|known| known.slug == step) => {
                let names: Vec<&str> = steps.iter().map(|known| known.slug).collect();
                wrong.add(unknown(opened, step, "step of the work", &names));
            }
            Fact::Got { what } => {
                let codes: Vec<String> = plumbing.parts.iter().map(|part| part.kind.code()).collect();
                let mut names: Vec<&str> = codes.iter().map(String::as_str).collect();
                names.extend(plumbing.cuts.iter().map(|cut| cut.run.as_str()));
                if !names.contains(&what.as_str()) {
                    wrong.add(unknown(opened, what, "part or run of the list", &names));
                }
            }
            Fact::Tried { symptom, test, .. } => {
                let (symptoms, tests) = crate::symptom::slugs();
                if !symptoms.contains(&symptom.as_str()) {
                    wrong.add(unknown(opened, symptom, "symptom", &symptoms));
                }
                if !tests.contains(&test.as_str()) {
                    wrong.add(unknown(opened, test, "test", &tests));
                }
            }
            Fact::PutRight { symptom } => {
                let (symptoms, _) = crate::symptom::slugs();
                if !symptoms.contains(&symptom.as_str()) {
                    wrong.add(unknown(opened, symptom, "symptom", &symptoms));
                }
            }
            _ => {}
        }
        all.push(Noted {
            id,
            day: today,
            fact: (*fact).clone(),
        });
    }
    let proof = prove(car, &plumbing, &all);
    for ignored in proof.ignored.iter().filter(|ignored| ignored.id > last) {
        let fact = usize::try_from(ignored.id - last - 1)
            .ok()
            .and_then(|at| facts.get(at));
        let (slug, remedy) = match fact {
            Some(Fact::Signed(Signature { .. })) => (
                "not-yet",
                "`prove` shows what is open; a check may be left with a reason, a joint may not",
            ),
            Some(Fact::Checked { .. }) => (
                "not-yet",
                "`plan` shows the order of the work; what fails may be written down at any time",
            ),
            _ => (
                "does-not-count",
                "a joint goes from marked to dry or weep, and from weep over remade to dry",
            ),
        };
        wrong.add(Wrong::plain(
            opened.sheet.name(),
            slug,
            ignored.why.clone(),
            remedy.to_owned(),
        ));
    }
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

fn unknown(opened: &Opened, given: &str, what: &str, names: &[&str]) -> Wrong {
    let remedy = match nearest_one(given, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there are: {}", names.join(", ")),
    };
    Wrong::plain(
        opened.sheet.name(),
        "unknown-name",
        format!("`{given}` is no {what}"),
        remedy,
    )
}

//! A logbook's entries in words: joints as people call them, whoever shows them.

use plumbing::{Plumbing, component_words, run_words};
use proving::Fact;
use records::logbook::{Entry, EntryKind};
use serde_json::Value;

/// What is said of a logbook without entries.
pub const NOTHING_YET: &str = "Nothing is written down yet.";

/// An entry in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryTold {
    /// `2026-05-01 10:22`, where it was written.
    pub at: String,
    /// `joint`
    pub kind: &'static str,
    /// `struck by entry 9`
    pub struck: Option<String>,
    /// What it says.
    pub said: String,
    /// What else there is to it, a line each: the event, what came of it, a figure that its words leave out.
    pub more: Vec<String>,
}

/// An entry in words. `plumbing`: the car's, where its sheet reads.
#[must_use]
pub fn told(entry: &Entry, plumbing: Option<&Plumbing>) -> EntryTold {
    let data = entry.data.value();
    let text = entry.data.text().unwrap_or_default();
    let own = Some(text.trim()).filter(|text| !text.is_empty());
    let fact = Fact::read(entry.kind.as_str(), &data).ok().flatten();
    // What would stand there if nobody had written words of their own.
    let usual = fact.as_ref().map(|fact| {
        let (_, data) = fact.entry();
        data["text"].as_str().unwrap_or_default().to_owned()
    });
    let own = own.filter(|own| usual.as_deref() != Some(own));
    let named = fact.as_ref().and_then(|fact| in_words(fact, plumbing));
    let mut more = Vec::new();
    let said = match (entry.strikes, named, own) {
        (Some(id), ..) => format!("strikes entry {id}: {text}"),
        (None, Some(named), None) => named,
        (None, Some(named), Some(own)) => format!("{named}; {own}"),
        (None, None, _) => {
            let leaves_out = matches!(
                entry.kind,
                EntryKind::Pads | EntryKind::Fluid | EntryKind::Reading
            );
            more.extend(usual.filter(|_| own.is_some() && leaves_out));
            text
        }
    };
    for (key, name) in [("event", "Event"), ("came_of_it", "What came of it")] {
        if let Some(text) = data.get(key).and_then(Value::as_str) {
            more.push(format!("{name}: {text}"));
        }
    }
    EntryTold {
        at: entry
            .offset
            .to_datetime(entry.at)
            .strftime("%Y-%m-%d %H:%M")
            .to_string(),
        kind: entry.kind.as_str(),
        struck: entry.struck_by.map(|by| format!("struck by entry {by}")),
        said,
        more,
    }
}

/// What names something of the car, by its name; `None`: the entry's own text says it.
fn in_words(fact: &Fact, plumbing: Option<&Plumbing>) -> Option<String> {
    match fact {
        Fact::Joint { joint, found } => Some(format!("{}: {}", joint_words(joint, plumbing), found.word())),
        Fact::Touched { what } => Some(format!("{} was opened", part_words(what, plumbing))),
        Fact::Got { what } => Some(format!("{}: got", thing_words(what, plumbing))),
        _ => None,
    }
}

/// `joint 1, master cylinder front left`; of one that the car no longer has, where it was.
fn joint_words(id: &str, plumbing: Option<&Plumbing>) -> String {
    match plumbing.and_then(|plumbing| plumbing.joint(id)) {
        Some(joint) => joint.words(),
        None => {
            let port = id.split('\u{2013}').next().unwrap_or(id);
            format!("a joint at {}", port.replace(['.', '_'], " "))
        }
    }
}

/// A component, a run, or a joint.
fn part_words(what: &str, plumbing: Option<&Plumbing>) -> String {
    let Some(plumbing) = plumbing else {
        return run_words(what);
    };
    let component = plumbing.circuit.components.iter();
    let component = component.into_iter().find(|component| component.name == what);
    match (component, plumbing.joint(what)) {
        (Some(component), _) => component_words(component),
        (None, Some(joint)) => joint.words(),
        (None, None) => run_words(what),
    }
}

/// A part of the list by its code, or a run.
fn thing_words(code: &str, plumbing: Option<&Plumbing>) -> String {
    let parts = plumbing.into_iter().flat_map(|plumbing| &plumbing.parts);
    let mut parts = parts.filter(|part| part.kind.code() == code);
    parts
        .next()
        .map_or_else(|| run_words(code), |part| part.kind.what())
}

//! A proposal: keys of a car's sheet that would be other, kept beside the car (`proposals/*.toml`).
//!
//! ```toml
//! note = "lighter to pull"
//! with = ["lever.bore=9/16 in", "lever.ratio=8"]
//! ```

use core::fmt::Write as _;
use core::ops::Range;

use engine::car::Slot;
use toml::Spanned;
use toml::de::DeValue;

use crate::prices::{PriceFault as ProposalFault, fault};
use crate::problem::{Finding, Problem};
use crate::read::ReadSheet;
use crate::source::Source;
use crate::syntax;

/// The most keys that a proposal changes.
pub const MOST_PROPOSED: usize = 256;

const NOTE: &str = "note";
const WITH: &str = "with";
const SHAPE: &str =
    "write note = \"why\", and with = [\"lever.bore=9/16 in\"], a text in quotes for each key";

/// What is proposed.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// Why, in a person's words; may be empty.
    pub note: String,
    /// `KEY=VALUE` each, in their order.
    pub with: Vec<String>,
    source: Source,
    places: Vec<Range<usize>>,
}

impl Proposal {
    /// The proposal as its file writes it.
    #[must_use]
    pub fn write(note: &str, with: &[String]) -> String {
        let mut text = String::new();
        if !note.is_empty() {
            let _ = writeln!(text, "{NOTE} = {}", quoted(note));
        }
        let _ = writeln!(text, "{WITH} = [");
        for assignment in with {
            let _ = writeln!(text, "  {},", quoted(assignment));
        }
        text.push_str("]\n");
        text
    }

    /// What is wrong with an assignment, at its place in the file.
    fn at_its_place(&self, number: usize, problem: Problem) -> Problem {
        let place = self.places.get(number).cloned().unwrap_or(0..0);
        // Between its quotes, as long as it is written plainly there.
        let inside = place.start + 1..place.end.saturating_sub(1).max(place.start + 1);
        let plain = self.source.text().get(inside.clone()) == self.with.get(number).map(String::as_str);
        let span = if plain {
            inside.start + problem.span.start..inside.start + problem.span.end
        } else {
            place
        };
        Finding {
            source: 0,
            span,
            key: problem.key,
            fault: *problem.fault,
        }
        .into_problem(&self.source)
    }
}

impl ReadSheet {
    /// Takes what is proposed in the place of what the sheet says.
    ///
    /// # Errors
    /// Everything that is wrong with it, pointed at in the proposal's own file; a key that is proposed twice.
    pub fn propose(&mut self, proposal: &Proposal) -> Result<Vec<Slot>, Vec<Problem>> {
        let mut slots: Vec<Slot> = Vec::new();
        let mut problems = Vec::new();
        for (number, assignment) in proposal.with.iter().enumerate() {
            match self.with(assignment) {
                Ok(slot) => slots.push(slot),
                Err(problem) => problems.push(proposal.at_its_place(number, problem)),
            }
        }
        if problems.is_empty() {
            Ok(slots)
        } else {
            Err(problems)
        }
    }
}

/// Reads a proposal. `file` is what problems call it.
///
/// ```
/// let proposal = sheet::proposal("note = \"lighter\"\nwith = [\"lever.bore=9/16 in\"]\n", "small.toml").unwrap();
/// assert_eq!((proposal.note.as_str(), proposal.with.len()), ("lighter", 1));
/// ```
///
/// # Errors
/// Every fault, in the order of the text.
pub fn proposal(text: &str, file: &str) -> Result<Proposal, Vec<ProposalFault>> {
    let tree = syntax::tree(text).map_err(|(at, what)| vec![fault(text, at, what, SHAPE)])?;
    let mut proposal = Proposal {
        note: String::new(),
        with: Vec::new(),
        source: Source::new(file, text),
        places: Vec::new(),
    };
    let mut faults = Vec::new();
    for (key, value) in tree.get_ref() {
        match (key.get_ref().as_ref(), value.get_ref()) {
            (NOTE, DeValue::String(note)) => proposal.note = note.trim().to_owned(),
            (WITH, DeValue::Array(members)) => {
                if members.len() > MOST_PROPOSED {
                    let what = format!("a proposal changes {MOST_PROPOSED} keys at most");
                    faults.push(fault(text, value.span(), what, "leave some out"));
                }
                for member in members.iter().take(MOST_PROPOSED) {
                    match assignment(member) {
                        Some(said) => {
                            proposal.with.push(said);
                            proposal.places.push(member.span());
                        }
                        None => faults.push(fault(
                            text,
                            member.span(),
                            "a key of the sheet with its value is a text in quotes".to_owned(),
                            SHAPE,
                        )),
                    }
                }
            }
            (NOTE | WITH, _) => {
                let what = format!("`{}` is not written so", key.get_ref());
                faults.push(fault(text, value.span(), what, SHAPE));
            }
            (other, _) => {
                let what = format!("`{other}` is nothing that a proposal says");
                faults.push(fault(text, key.span(), what, SHAPE));
            }
        }
    }
    faults.sort_by_key(|fault| (fault.line, fault.column));
    if faults.is_empty() {
        Ok(proposal)
    } else {
        Err(faults)
    }
}

fn assignment(member: &Spanned<DeValue<'_>>) -> Option<String> {
    match member.get_ref() {
        DeValue::String(said) => Some(said.trim().to_owned()),
        _ => None,
    }
}

/// A text as TOML writes it on one line.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for character in text.chars() {
        match character {
            '"' | '\\' => quoted.extend(['\\', character]),
            control if control.is_control() => {
                let _ = write!(quoted, "\\u{:04X}", u32::from(control));
            }
            plain => quoted.push(plain),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back() {
        let with = ["lever.bore=9/16 in", "car.name=\"T\\4\"", "x=\u{7}"].map(str::to_owned);
        let text = Proposal::write("lighter, \"they\" say", &with);
        let read = proposal(&text, "p.toml").unwrap();
        assert_eq!(
            (read.note.as_str(), &read.with[..]),
            ("lighter, \"they\" say", &with[..])
        );
        assert_eq!(
            proposal(&Proposal::write("", &[]), "p.toml").unwrap().with.len(),
            0
        );
    }

    #[test]
    fn every_fault_is_pointed_at() {
        let faults = proposal("note = 3\nwith = [1, \"a=b\"]\nwhy = \"\"\n", "p.toml").unwrap_err();
        let places: Vec<_> = faults.iter().map(|fault| (fault.line, fault.column)).collect();
        assert_eq!(places, [(1, 8), (2, 9), (3, 1)]);
        assert_eq!(proposal("with = [\n", "p.toml").unwrap_err().len(), 1);
    }

    #[test]
    fn what_is_wrong_with_a_value_is_pointed_at_in_the_file() {
        let text = "note = \"\"\nwith = [\n  \"lever.bore=5/8 in\",\n  \"lever.bor=1/2 in\",\n  \"lever.ratio=70 bar\",\n]\n";
        let proposal = proposal(text, "p.toml").unwrap();
        let mut read = crate::read(b"format = 2\n", "car.toml");
        let problems = read.propose(&proposal).unwrap_err();
        let places: Vec<_> = problems
            .iter()
            .map(|problem| (&*problem.file, problem.line, problem.column))
            .collect();
        assert_eq!(places, [("p.toml", 4, 10), ("p.toml", 5, 16)]);
    }
}

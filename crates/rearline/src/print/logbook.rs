//! The logbook as a person reads it.

use records::logbook::{Entry, EntryKind, Verified};

use super::ink;
use super::marks;
use super::page::Page;

/// Entries, oldest first; what was struck stays, and says so.
pub(crate) fn page(entries: &[Entry]) -> String {
    let mut page = Page::default();
    if entries.is_empty() {
        page.paragraph(ink::heavy, "Nothing is written down yet.");
        page.plain("rearline logbook add CAR --kind note --text \"...\" writes the first entry.");
        return page.into_text();
    }
    for entry in entries {
        let at = entry.offset.to_datetime(entry.at);
        let mut said = format!(
            "{}  {} {:02}:{:02}  {}",
            entry.id,
            at.date(),
            at.hour(),
            at.minute(),
            entry.kind
        );
        if let Some(by) = entry.struck_by {
            said.push_str(&format!("  (struck by entry {by})"));
        }
        page.paragraph(
            if entry.struck_by.is_some() {
                ink::aside
            } else {
                ink::heavy
            },
            &said,
        );
        let text = marks::shown(&entry.data.text().unwrap_or_default());
        let text = match (entry.kind, entry.strikes) {
            (EntryKind::Strike, Some(id)) => format!("strikes entry {id}: {text}"),
            _ => text,
        };
        page.labelled("", &text);
    }
    page.into_text()
}

/// Whether it is whole.
pub(crate) fn verdict(shown: &str, verdict: &Verified) -> String {
    let mut page = Page::default();
    let count = format!(
        "{} {}",
        verdict.entries,
        wording::counted(usize::from(verdict.entries == 1), "entry", "entries")
    );
    if verdict.ok() {
        page.paragraph(ink::heavy, &format!("{shown}: whole, {count}."));
    } else {
        page.paragraph(ink::heavy, &format!("{shown}: not whole; {count} could be read."));
        verdict.flaws.iter().for_each(|flaw| page.item(&flaw.to_string()));
    }
    if let Some(head) = &verdict.head {
        page.plain("Head, to be noted elsewhere: with --head it later finds a tail that was cut off:");
        page.line(&format!("  {head}"));
    }
    page.plain("This shows accident, not forgery: whoever can write the file can write it anew.");
    page.into_text()
}

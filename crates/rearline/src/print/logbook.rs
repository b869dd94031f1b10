//! The logbook as a person reads it.

use plumbing::Plumbing;
use questions::logbook::{EntryTold, NOTHING_YET, told};
use records::logbook::{Entry, Verified};

use super::ink;
use super::marks;
use super::page::Page;

/// Entries, oldest first; what was struck stays, and says so.
pub(crate) fn page(entries: &[Entry], plumbing: Option<&Plumbing>) -> String {
    let mut page = Page::default();
    if entries.is_empty() {
        page.paragraph(ink::heavy, NOTHING_YET);
        page.plain("rearline logbook add CAR --kind note --text \"...\" writes the first entry.");
        return page.into_text();
    }
    for entry in entries {
        let EntryTold {
            at,
            kind,
            struck,
            said,
            more,
        } = told(entry, plumbing);
        let ink = if struck.is_some() { ink::aside } else { ink::heavy };
        let struck = struck.map_or_else(String::new, |struck| format!("  ({struck})"));
        page.paragraph(ink, &format!("{}  {at}  {kind}{struck}", entry.id));
        for line in [said].iter().chain(&more) {
            page.labelled("", &marks::shown(line));
        }
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

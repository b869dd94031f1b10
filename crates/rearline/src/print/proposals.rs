//! Proposals on a terminal.

use questions::proposals::ProposedKey;

use super::ink;
use super::page::Page;

/// What became of them, and what each says: name, note, and keys; without a note it does not read.
pub(crate) fn page(said: &str, all: &[(&str, Option<&str>, &[ProposedKey])]) -> String {
    let mut page = Page::of_width(super::page::width());
    page.plain(said);
    for (name, note, changed) in all {
        page.gap();
        page.heading(name);
        match note {
            None => page.plain("It does not fit the car as it is: `rearline proposal show` says why."),
            Some("") => {}
            Some(note) => page.paragraph(ink::aside, note),
        }
        for change in *changed {
            let was = change
                .was
                .as_deref()
                .unwrap_or("not on the sheet")
                .trim_matches('"');
            let now = change.now.trim_matches('"');
            let said = if change.stands {
                format!("{now}, on the sheet already")
            } else {
                format!("{now}; on the sheet: {was}")
            };
            let said = change
                .mind
                .map_or_else(|| said.clone(), |mind| format!("{said}; {mind}"));
            page.labelled(&format!("`{}`", change.key), &said);
        }
    }
    page.into_text()
}

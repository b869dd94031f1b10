//! "What was done?": what falls due, every entry, a new one, one that is struck, and what was set for which event.

use maud::{Markup, html};
use plumbing::Plumbing;
use questions::due;
use questions::logbook::{NOTHING_YET, told};
use questions::report::Report;
use questions::writing::entry;
use questions::{Question as _, Stop, Wrong};
use records::logbook::{Entry, EntryKind, Filter, Logbook as Book, Stretch, WAIT};
use serde_json::{Map, Value};

use super::{Room, Said};
use crate::car::address;
use crate::car::forms::Sender;
use crate::car::handles::Handle;
use crate::car::report;
use crate::car::visit::{Visit, told_of};
use crate::car::writing::Writing;
use crate::shell::parts;

const SLUG: &str = "logbook";
/// Entries of one page.
const AT_ONCE: usize = 40;
/// Kinds that are written here; joints and signatures have their own room.
const KINDS: [(EntryKind, &str); 6] = [
    (EntryKind::Note, "note"),
    (EntryKind::Setting, "setting for an event"),
    (EntryKind::Fluid, "fluid"),
    (EntryKind::Pads, "pads"),
    (EntryKind::Reading, "heat of the fluid"),
    (EntryKind::Fault, "fault"),
];

pub(crate) struct Logbook;

impl Room for Logbook {
    fn slug(&self) -> &'static str {
        SLUG
    }

    fn question(&self) -> &'static str {
        due::Ask.asked_as()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        due::Ask.short(&visit.case())
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        // All of it was held against its hashes when it was read for this; here the entries that are shown are.
        let shown = match &visit.history().lost {
            Some(stop) => Err(told_of(stop)),
            None => stretches(visit),
        };
        let (set, stretch) = match shown {
            Ok(shown) => shown,
            Err(wrong) => {
                return Said {
                    answer: html! { p class="sentence" { "The logbook does not read." } (parts::wrong(&wrong)) },
                    plan: None,
                    picture: None,
                    more: html! {},
                };
            }
        };
        let case = visit.case();
        let report = match due::Ask.answer(&case) {
            Ok(answer) => answer.report(),
            Err(wrong) => Report::refused(&due::Ask, &case, &wrong),
        };
        Said {
            answer: report::answer(visit, &report),
            plan: None,
            picture: None,
            more: html! {
                (report::more(visit, &report, None, &|_| None))
                (add(&Sender::of(visit)))
                (settings(visit, &set))
                (page(visit, &stretch))
                p class="source" {
                    "The file shows accident, not forgery: each entry carries the hash of the one before. "
                    code { "rearline logbook verify " (visit.name()) } " looks at all of it. Struck entries stay."
                }
            },
        }
    }

    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        match writing.sent.get("what") {
            "strike" => {
                let id = writing.sent.get("id").parse::<i64>().map_err(|_| {
                    Wrong::plain(
                        SLUG,
                        "no-such-entry",
                        "that is no entry".to_owned(),
                        "load the page again".to_owned(),
                    )
                })?;
                writing.strike(id, writing.sent.get("why"))
            }
            _ => written(writing),
        }
    }
}

/// The form and the entries of a car whose sheet does not read: what is done to it can be written down all the same.
pub(crate) fn of_folder(sender: &Sender<'_>, folder: &records::CarFolder) -> Markup {
    html! {
        (add(sender))
        @match entries(folder) {
            Ok(entries) => (list(sender, &entries)),
            Err(wrong) => { p class="sentence" { "The logbook does not read." } (parts::wrong(&wrong)) },
        }
    }
}

fn entries(folder: &records::CarFolder) -> Result<Vec<Entry>, Wrong> {
    let path = folder.logbook();
    let refused = |fault| told_of(&questions::of_records(&path.display().to_string(), &fault, None));
    match Book::open_if_there(&path, WAIT).map_err(refused)? {
        None => Ok(Vec::new()),
        Some(book) => book.list(&Filter::default()).map_err(refused),
    }
}

/// A new entry from the form.
fn written(writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
    let sent = writing.sent;
    let plain =
        |slug: &str, what: &str, remedy: &str| Wrong::plain(SLUG, slug, what.to_owned(), remedy.to_owned());
    let kind = sent.get("kind").parse::<EntryKind>().ok();
    let kind = kind.ok_or_else(|| {
        plain(
            "no-such-kind",
            "there is no such kind of entry",
            "load the page again",
        )
    })?;
    if !KINDS.iter().any(|(known, _)| *known == kind) {
        return Err(plain(
            "other-room",
            "that kind is not written here",
            "joints, checks and the signature are written where they are asked",
        )
        .into());
    }
    let text = sent.get("text").trim();
    let mut data = Map::new();
    let mut put = |key: &str, value: &str| {
        let value = value.trim();
        if !value.is_empty() {
            data.insert(key.to_owned(), Value::String(value.to_owned()));
        }
    };
    match kind {
        EntryKind::Setting | EntryKind::Note => put("event", sent.get("event")),
        EntryKind::Pads => {
            put("axle", sent.get("axle"));
            put("left", sent.get("left"));
        }
        EntryKind::Fluid => put("boils", sent.get("boils")),
        EntryKind::Reading => put("fluid", sent.get("fluid")),
        _ => {}
    }
    if kind == EntryKind::Setting {
        put("came_of_it", sent.get("came_of_it"));
    }
    if kind == EntryKind::Fluid && sent.get("changed") == "1" {
        data.insert("changed".to_owned(), Value::Bool(true));
    }
    if kind == EntryKind::Pads && sent.get("fitted") == "1" {
        data.insert("fitted".to_owned(), Value::Bool(true));
    }
    if text.is_empty() {
        return Err(plain("no-text", "the entry says nothing", "write what was done or seen").into());
    }
    let more = Value::Object(data).to_string();
    writing.keep(&[entry(SLUG, kind.as_str(), text, Some(&more))?])
}

fn add(sender: &Sender<'_>) -> Markup {
    html! {
        section aria-labelledby="add" {
            h2 id="add" { "Write an entry" }
            (sender.form(SLUG, "sent", 0, &html! {
                input type="hidden" name="what" value="add";
                label for="entry-kind" { "Kind" }
                select id="entry-kind" name="kind" data-kinds { @for (kind, name) in KINDS { option value=(kind.as_str()) { (name) } } }
                label for="entry-text" { "What was done, set or seen" }
                textarea id="entry-text" name="text" rows="3" maxlength="4000" {}
                span class="field" data-for="setting note" { label for="entry-event" { "Event" } input type="text" id="entry-event" name="event" maxlength="120" autocomplete="off"; }
                span class="field" data-for="setting" { label for="entry-came" { "What came of it" } input type="text" id="entry-came" name="came_of_it" maxlength="400" autocomplete="off"; }
                span class="field" data-for="pads" { label for="entry-axle" { "Pads: axle" }
                    select id="entry-axle" name="axle" { option value="" { "–" } option value="front" { "front" } option value="rear" { "rear" } } }
                span class="field" data-for="pads" { label for="entry-left" { "Pads: thinnest lining" } input type="text" id="entry-left" name="left" placeholder="6.2 mm" autocomplete="off"; }
                label class="tick" data-for="pads" { input type="checkbox" name="fitted" value="1"; span { "Pads: new ones fitted" } }
                span class="field" data-for="fluid" { label for="entry-boils" { "Fluid: boils at" } input type="text" id="entry-boils" name="boils" placeholder="182 C" autocomplete="off"; }
                span class="field" data-for="reading" { label for="entry-fluid" { "Fluid at a caliper got to" } input type="text" id="entry-fluid" name="fluid" placeholder="168 C" autocomplete="off"; }
                label class="tick" data-for="fluid" { input type="checkbox" name="changed" value="1"; span { "Fluid: changed" } }
                button type="submit" { "Write it" }
            }))
        }
    }
}

/// What was set for events, and the entries that are asked for.
fn stretches(visit: &Visit<'_>) -> Result<(Stretch, Stretch), Wrong> {
    let path = visit.opened.sheet.folder.logbook();
    let refused = |fault| told_of(&questions::of_records(&path.display().to_string(), &fault, None));
    let nothing = || Stretch {
        entries: Vec::new(),
        more: false,
        read: 0,
    };
    let Some(book) = Book::open_if_there(&path, WAIT).map_err(refused)? else {
        return Ok((nothing(), nothing()));
    };
    let counts = &visit.desk.counts;
    let setting = Some(EntryKind::Setting);
    let set = book
        .stretch(None, setting, AT_ONCE, &mut |entry| entry.struck_by.is_none())
        .map_err(refused)?;
    let asked = &visit.asking.entries;
    let wanted = asked.words.to_lowercase();
    let plumbing = &visit.proving().plumbing;
    let holds = |entry: &Entry| {
        let said = told(entry, Some(plumbing));
        let mut words = said.more.iter().chain([&said.said, &said.at]);
        words.any(|words| words.to_lowercase().contains(&wanted))
    };
    let stretch = book
        .stretch(asked.before, asked.kind, AT_ONCE, &mut |entry| {
            wanted.is_empty() || holds(entry)
        })
        .map_err(refused)?;
    counts.entries_read(set.read + stretch.read);
    Ok((set, stretch))
}

/// What was set for which event, and what came of it.
fn settings(visit: &Visit<'_>, set: &Stretch) -> Markup {
    let rows: Vec<Vec<String>> = set
        .entries
        .iter()
        .map(|entry| {
            let data = entry.data.value();
            let text = |key: &str| {
                data.get(key)
                    .and_then(Value::as_str)
                    .map_or_else(|| "–".to_owned(), str::to_owned)
            };
            vec![text("event"), day(entry), text("text"), text("came_of_it")]
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            section aria-labelledby="set" {
                h2 id="set" { "What was set for which event" }
                (parts::rows_of_words("Newest first", &["Event", "Day", "Set", "What came of it"], &rows))
                @if set.more {
                    p { a class="key" href={ (address::path(visit.name(), SLUG)) "?entries=setting#entries" } { "All settings" } }
                }
            }
        }
    }
}

/// Entries of one page, with what looks for others: a form that works without script.
fn page(visit: &Visit<'_>, stretch: &Stretch) -> Markup {
    let asking = &visit.asking;
    let asked = &asking.entries;
    let here = address::path(visit.name(), SLUG);
    let to = |before| format!("{here}{}#entries", asking.query_of_entries(before));
    let oldest = stretch.entries.last().map(|entry| entry.id);
    let looks = asked.kind.is_some() || !asked.words.is_empty();
    let plumbing = &visit.proving().plumbing;
    html! {
        section aria-labelledby="entries" {
            h2 id="entries" { "Every entry" }
            @if looks || asked.before.is_some() || !stretch.entries.is_empty() {
                form class="filter" method="get" action=(here) data-entries {
                    @for (name, value) in asking.pairs() { input type="hidden" name=(name) value=(value); }
                    label for="only-kind" { "Only" }
                    select id="only-kind" name="entries" {
                        option value="" { "every kind" }
                        @for kind in EntryKind::WRITTEN { option value=(kind.as_str()) selected[asked.kind == Some(kind)] { (kind.as_str()) } }
                    }
                    label for="only-text" { "with" }
                    input type="text" id="only-text" name="words" maxlength="200" autocomplete="off" value=(asked.words);
                    button type="submit" { "Look" }
                }
            }
            div id="entries-shown" {
                @if stretch.entries.is_empty() {
                    @if looks || asked.before.is_some() { p { "No such entry." } } @else { p { (NOTHING_YET) } }
                }
                ol class="entries" reversed {
                    @for (index, entry) in stretch.entries.iter().enumerate() { (one(&Sender::of(visit), entry, Some(plumbing), index)) }
                }
                @if asked.before.is_some() || stretch.more {
                    nav class="keys" aria-label="Entries" {
                        @if asked.before.is_some() { a class="key" href=(to(None)) { "The newest" } }
                        @if let (true, Some(oldest)) = (stretch.more, oldest) { a class="key" rel="next" href=(to(Some(oldest))) { "Older than entry " (oldest) } }
                    }
                }
            }
        }
    }
}

fn day(entry: &Entry) -> String {
    entry.offset.to_datetime(entry.at).date().to_string()
}

/// Every entry of a car whose sheet does not read.
fn list(sender: &Sender<'_>, entries: &[Entry]) -> Markup {
    html! {
        section aria-labelledby="entries" {
            h2 id="entries" { "Every entry" }
            @if entries.is_empty() { p { (NOTHING_YET) } }
            ol class="entries" reversed {
                @for (index, entry) in entries.iter().rev().take(AT_ONCE).enumerate() { (one(sender, entry, None, index)) }
            }
            @if entries.len() > AT_ONCE {
                details {
                    summary { "The " (entries.len() - AT_ONCE) " before" }
                    ol class="entries" reversed {
                        @for (index, entry) in entries.iter().rev().enumerate().skip(AT_ONCE) { (one(sender, entry, None, index)) }
                    }
                }
            }
        }
    }
}

fn one(sender: &Sender<'_>, entry: &Entry, plumbing: Option<&Plumbing>, index: usize) -> Markup {
    let said = told(entry, plumbing);
    let may_be_struck = said.struck.is_none() && entry.strikes.is_none() && entry.kind != EntryKind::Copied;
    html! {
        li class={ "entry" @if said.struck.is_some() { " struck" } } value=(entry.id) data-kind=(said.kind) {
            p {
                strong { (said.kind) } " " span class="source" { (said.at) }
                @if let Some(struck) = &said.struck { " " strong { (struck) } }
            }
            p class="words" { (said.said) }
            @for more in &said.more { p class="source" { (more) } }
            @if may_be_struck {
                details {
                    summary { "Strike it" }
                    (sender.form(SLUG, "check-keys", 100 + index, &html! {
                        input type="hidden" name="what" value="strike";
                        input type="hidden" name="id" value=(entry.id);
                        span class="field" {
                            label for={ "why-" (entry.id) } { "Because" }
                            input type="text" id={ "why-" (entry.id) } name="why" maxlength="200" autocomplete="off" required;
                        }
                        button type="submit" { "Strike entry " (entry.id) }
                    }))
                }
            }
        }
    }
}

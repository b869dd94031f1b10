//! What if: the drawer of parts and settings that stands on the page of each question that they could move, and both
//! answers side by side while something is proposed.

use engine::car::sold::Series;
use maud::{Markup, html};
use questions::options::PROPOSAL;
use questions::parts::{Alternative, Exchangeable, parts};
use questions::proposals::{self, ProposedKey};
use questions::{Stop, Wrong, compare};

use super::asking::{Asking, names};
use super::report_forms as forms;
use super::visit::Visit;
use super::writing::Writing;
use super::{forms as written, report};

/// The room that its forms are read in.
pub(crate) const ROOM: &str = "compare";
/// Rooms of what is, was done or was read: no part that is only tried moves what they say.
const OF_WHAT_IS: [&str; 8] = [
    "prove", "plan", "logbook", "logger", "pull", "symptom", "leak", "sheet",
];
/// What a form sends: keep what is proposed under a name.
pub(crate) const KEEP: &str = "keep-proposal";
/// What a form sends: put a proposal aside.
pub(crate) const PUT_ASIDE: &str = "drop-proposal";

/// Both answers to the question of a room, while something is other than on the sheet.
pub(crate) fn beside(visit: &Visit<'_>, room: &str) -> Markup {
    let of_room = questions::ALL
        .iter()
        .copied()
        .find(|question| question.room() == room);
    let section = of_room.and_then(|question| compare::beside(question, &visit.case()));
    html! { div id="beside" { @if let Some(section) = section { (report::section(visit, &section, None)) } } }
}

/// The drawer: folded, with a line that says what it is for; nothing where no answer would move.
pub(crate) fn drawer(visit: &Visit<'_>, room: &str, here: &str) -> Markup {
    let opened = &visit.opened;
    let changed = proposals::changed(opened);
    let said = match changed.len() {
        0 => "try another part or setting".to_owned(),
        count => format!(
            "{count} {} other",
            wording::counted(count, "thing is", "things are")
        ),
    };
    let has_use = !changed.is_empty() || !OF_WHAT_IS.contains(&room);
    html! {
        div id="what-if" class="on-screen" {
            @if has_use { details class="what-if" open[!changed.is_empty() || room == ROOM] {
                summary { span class="name" { "What if?" } " " span class="now" { (said) } }
                (tried(visit, here))
                @if !changed.is_empty() { (proposed(visit, here, &changed)) }
                (kept(visit, here))
                @if visit.room() == ROOM && let Some((said, back)) = questions::last_change(opened) { (forms::put_back_in(visit, ROOM, &said, &back)) }
            } }
        }
    }
}

/// Parts and settings, each with what may be tried in its place.
fn tried(visit: &Visit<'_>, here: &str) -> Markup {
    let set = visit.asking.get("valve").is_some();
    let parts: Vec<Exchangeable> = parts(&visit.opened)
        .into_iter()
        // The valve's handle has it already.
        .filter(|part| !(set && part.key == "bias_valve.setting"))
        .collect();
    // Those that a list says itself are not said once more.
    let selected = |with: &str| {
        let of = |part: &Exchangeable| {
            part.is_plain() && part.choices.len() > 2 && with.split('=').next() == Some(part.key)
        };
        parts.iter().any(of)
    };
    html! {
        form class="parts" method="get" action=(here) data-tries {
            @for part in &parts { (self::part(visit, here, part)) }
            @for with in visit.asking.with().filter(|with| !selected(with)) { input type="hidden" name="with" value=(with); }
            @for name in names() {
                @if let Some(said) = visit.asking.get(&name) { input type="hidden" name=(name) value=(said); }
            }
            div class="keys" { button type="submit" class="without-script" { "Try them" } }
        }
    }
}

/// A part: what there is, the next smaller and the next larger as keys, and all of them as a list.
fn part(visit: &Visit<'_>, here: &str, part: &Exchangeable) -> Markup {
    let id = format!("part-{}", part.key.replace('.', "-"));
    let link = |choice: &Alternative| {
        let asking = visit
            .asking
            .clone()
            .trying(choice.sets.iter().map(String::as_str));
        format!("{here}{}", asking.query())
    };
    let [below, above] = part.beside();
    let is_tried = visit
        .asking
        .with()
        .any(|with| with.split('=').next() == Some(part.key));
    let stands = part.was.as_deref().unwrap_or(&part.now);
    let listed = part.is_plain() && part.choices.len() > 2;
    html! {
        div class={ "part" @if part.was.is_some() { " other" } } {
            @if listed { label class="name" for=(id) { (wording::capital(part.name)) } }
            @else { span class="name" { (wording::capital(part.name)) } }
            span class="is" {
                (part.now)
                @if let Some(was) = &part.was { " " span class="was" { "as it is: " (was) } }
            }
            div class="choices" {
                @if let Some(below) = below { a class="key" href=(link(below)) aria-label={ (part.name) ", " (below.label) } { "− " (below.label) } }
                @if let Some(above) = above { a class="key" href=(link(above)) aria-label={ (part.name) ", " (above.label) } { "+ " (above.label) } }
                @if listed {
                    select id=(id) name="with" {
                        option value="" selected[!is_tried] { (if is_tried { stands } else { part.now.as_str() }) }
                        (options(part, is_tried))
                    }
                } @else {
                    @for choice in part.choices.iter().filter(|choice| !choice.is_now && below != Some(choice) && above != Some(choice)) {
                        a class="key" href=(link(choice)) aria-label={ (part.name) ", " (choice.label) } { (choice.label) }
                    }
                }
            }
        }
    }
}

fn options(part: &Exchangeable, is_tried: bool) -> Markup {
    let one = |choice: &Alternative| {
        html! { option value=[choice.sets.first()] selected[is_tried && choice.is_now] { (choice.label) } }
    };
    let shown: Vec<&Alternative> = part
        .choices
        .iter()
        .filter(|choice| is_tried || !choice.is_now)
        .collect();
    let of = |series: Option<Series>| {
        shown
            .iter()
            .copied()
            .filter(move |choice| choice.series == series)
    };
    html! {
        @for choice in of(None) { (one(choice)) }
        @for (series, label) in [(Series::Inch, "Sold in inches"), (Series::Metric, "Sold in millimetres")] {
            @if of(Some(series)).next().is_some() {
                optgroup label=(label) { @for choice in of(Some(series)) { (one(choice)) } }
            }
        }
    }
}

/// What is other than on the sheet: taken over one by one, put back, kept under a name, thrown away.
fn proposed(visit: &Visit<'_>, here: &str, changed: &[ProposedKey]) -> Markup {
    let opened = &visit.opened;
    let own = opened.own_overrides();
    let without = |key: &str| {
        let others = own.iter().filter(|(other, _)| other != key);
        let with: Vec<String> = others.map(|(key, value)| format!("{key}={value}")).collect();
        format!("{here}{}", visit.asking.clone().with_only(&with).query())
    };
    html! {
        h3 { "What is other" }
        ul class="offers" {
            @for change in changed {
                li {
                    p { (change.label) " " code { (change.key) } ": " strong { (change.now.trim_matches('"')) } }
                    p class="source" {
                        @if change.stands { "on the sheet already" }
                        @else { "on the sheet: " (change.was.as_deref().unwrap_or("nothing").trim_matches('"')) }
                    }
                    @if let Some(mind) = change.mind { p class="source" { (wording::capital(mind)) "." } }
                    div class="keys" {
                        @if !change.stands {
                            @match proposals::onto_sheet(opened, std::slice::from_ref(&change.key)) {
                                Ok(changes) => (forms::change_in(visit, ROOM, &changes, "Take it over")),
                                Err(wrong) => @for trouble in &wrong.troubles { p class="source" { (trouble.text) ": " (trouble.remedy) "." } },
                            }
                        }
                        @if own.iter().any(|(key, _)| *key == change.key) {
                            a class="key" href=(without(&change.key)) aria-label={ (change.key) ", as it is" } { "As it is" }
                        }
                    }
                }
            }
        }
        (written::writes(visit, ROOM, "keep", visit.next_form(), &html! {
            input type="hidden" name="what" value=(KEEP);
            label { span { "Name" } input name="name" maxlength="60" required autocomplete="off" value=[opened.proposal.as_ref().map(|proposed| &proposed.name)]; }
            label { span { "Why, if you like" } input name="note" maxlength="200" autocomplete="off" value=[opened.proposal.as_ref().map(|proposed| &proposed.proposal.note)]; }
            button type="submit" { "Keep it" }
        }))
        p class="keys" { a class="key" href={ (here) (visit.asking.clone().with_only(&[]).query()) } { "Throw it away" } }
    }
}

/// The proposals that are kept beside the car.
fn kept(visit: &Visit<'_>, here: &str) -> Markup {
    let names = proposals::names(&visit.opened.sheet.folder).unwrap_or_default();
    let open = visit
        .opened
        .proposal
        .as_ref()
        .map(|proposed| proposed.name.as_str());
    let link = |name: &str| {
        let asking = visit.asking.clone().with_only(&[]).saying(&PROPOSAL, name);
        format!("{here}{}", asking.query())
    };
    html! {
        @if !names.is_empty() {
            h3 { "Kept beside the car" }
            ul class="offers" {
                @for name in &names {
                    li {
                        p { strong { (name) } @if open == Some(name) { ", open now" } }
                        div class="keys" {
                            @if open != Some(name) { a class="key" href=(link(name)) aria-label={ "Open " (name) } { "Open" } }
                            (written::writes(visit, ROOM, "inline", visit.next_form(), &html! {
                                input type="hidden" name="what" value=(PUT_ASIDE);
                                input type="hidden" name="name" value=(name);
                                button type="submit" aria-label={ "Put " (name) " aside" } { "Put aside" }
                            }))
                        }
                    }
                }
            }
        }
    }
}

/// Does what a form of the drawer sends; `None` where it is not one of these.
///
/// # Errors
/// A name that no file may have; nothing that is proposed; the disk refuses.
pub(crate) fn write(writing: &Writing<'_>) -> Option<Result<Vec<i64>, Stop>> {
    let sent = writing.sent;
    let name = sent.get("name");
    let done = match sent.get("what") {
        KEEP => {
            let Some(visit) = writing.visit() else {
                let what = "a proposal is kept beside a sheet that reads, and this one has faults".to_owned();
                return Some(Err(Wrong::plain(
                    "sheet",
                    "no-form",
                    what,
                    "load the page again".to_owned(),
                )
                .into()));
            };
            if let Some(wrong) = &visit.wrong {
                return Some(Err(wrong.clone().into()));
            }
            proposals::keep(&visit.opened, name, sent.get("note")).map(|_| ())
        }
        PUT_ASIDE => {
            // What was put aside before is aside.
            match proposals::names(writing.folder()) {
                Ok(names) if !names.iter().any(|there| there == name) => Ok(()),
                Ok(_) => proposals::put_aside(writing.folder(), name).map(|_| ()),
                Err(stop) => Err(stop),
            }
        }
        _ => return None,
    };
    Some(done.map(|()| Vec::new()))
}

impl Asking {
    /// The same with these keys of the sheet alone, and without a proposal.
    fn with_only(self, with: &[String]) -> Self {
        let bare = self.without(&["with", "proposal"]);
        with.iter()
            .fold(bare, |asking, written| asking.and("with", written))
    }
}

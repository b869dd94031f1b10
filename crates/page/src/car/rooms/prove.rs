//! "Is it dry?": one joint at a time, with keys for gloves; the checks; bleeding; the signature.

use maud::{Markup, html};
use plumbing::run_words;
use proving::{
    Check, CheckFound as CheckSaid, CheckReading, CheckResult, CheckState, Fact, JointFound, JointState,
    Signature, Standing,
};
use questions::prove::{
    Ask as Asked, BLEEDING, CHECKS, NEXT_OF_A_JOINT, ROUND, SIGNATURE, blank, check, joint, on,
};
use questions::report::{Report, Section};
use questions::{Question as _, Stop, Wrong};
use serde_json::{Map, Value};

use super::{Room, Said};
use crate::car::handles::Handle;
use crate::car::visit::{Visit, told_of};
use crate::car::writing::Writing;
use crate::car::{forms, pictures, report};
use crate::shell::parts;
use crate::web::guard::Sent;

const SLUG: &str = "prove";

pub(crate) struct Prove;

impl Room for Prove {
    fn slug(&self) -> &'static str {
        SLUG
    }

    fn question(&self) -> &'static str {
        Asked.asked_as()
    }

    fn short(&self, visit: &Visit<'_>) -> String {
        visit.proving().short()
    }

    fn handles(&self, _visit: &Visit<'_>) -> Vec<Handle> {
        Vec::new()
    }

    fn say(&self, visit: &Visit<'_>) -> Said {
        let case = visit.case();
        let report = questions::prove::report(&case, visit.proving());
        let first = |section: &&Section| [BLEEDING, ROUND].contains(&section.title.as_str());
        let (first, then): (Vec<&Section>, Vec<&Section>) = report.sections.iter().partition(first);
        let then = Report {
            sections: then.into_iter().cloned().collect(),
            // The first stands before the work.
            cautions: report.cautions.iter().skip(1).cloned().collect(),
            ..report.clone()
        };
        Said {
            answer: html! {
                (report::answer(visit, &report))
                @if let Some(stop) = &visit.history().lost { (parts::wrong(&told_of(stop))) }
            },
            plan: Some(pictures::small_picture(visit, "plan-above", |look| {
                questions::picture::proving(
                    &visit.opened,
                    look,
                    &visit.proving().plumbing,
                    &visit.proving().proof,
                )
            })),
            picture: Some(html! {
                @if let Some(caution) = report.cautions.first() { p class="caution" { (caution) } }
                @for section in first {
                    @if section.title == BLEEDING { (bleeding(visit, section)) } @else { (round(visit)) }
                }
            }),
            more: html! {
                (report::more(visit, &then, None, &|section| own(visit, section)))
                (touched(visit, visit.proving().proof.joints.len() + 20))
                (on_paper(visit, &blank(&case, visit.proving())))
            },
        }
    }

    fn write(&self, writing: &Writing<'_>) -> Result<Vec<i64>, Stop> {
        if writing.sent.get("what") == "all-marked" {
            return writing.note(&all_marked(writing)?);
        }
        writing.note(&[fact(writing)?])
    }
}

fn refuse(slug: &str, what: String, remedy: &str) -> Wrong {
    Wrong::plain(SLUG, slug, what, remedy.to_owned())
}

/// What a form of this room says. Joints and parts are those of the car, where its sheet reads.
fn fact(writing: &Writing<'_>) -> Result<Fact, Stop> {
    let sent = writing.sent;
    let again = "load the page again";
    Ok(match sent.get("what") {
        "joint" => {
            let (joint, found) = (sent.get("joint"), sent.get("found"));
            let none = || {
                refuse(
                    "no-such-joint",
                    format!("`{joint}` is no joint of this car any more"),
                    again,
                )
            };
            let found = JointFound::ALL
                .into_iter()
                .find(|known| known.word() == found)
                .ok_or_else(none)?;
            if let Some(visit) = writing.visit() {
                let stands = visit
                    .proving()
                    .proof
                    .joints
                    .iter()
                    .find(|known| known.id == joint);
                let stands = stands.ok_or_else(none)?;
                if !writing.is_again() && sent.get("since") != since(stands) && !sent.get("since").is_empty()
                {
                    return Err(refuse(
                        "since-changed",
                        format!(
                            "joint {} is {} since entry {}, which came after this was pressed",
                            stands.number,
                            stands.state.word(),
                            since(stands)
                        ),
                        "look at the joint once more, and press what you find",
                    )
                    .into());
                }
            }
            Fact::Joint {
                joint: joint.to_owned(),
                found,
            }
        }
        "touched" => {
            let what = sent.get("part").trim();
            let known = |visit: &Visit<'_>| !visit.proving().plumbing.joints_of(what).is_empty();
            if what.is_empty() || !writing.visit().is_none_or(known) {
                let told = format!("`{what}` is nothing of this car that has joints");
                return Err(refuse("no-such-part", told, again).into());
            }
            Fact::Touched {
                what: what.to_owned(),
            }
        }
        "check" => {
            let check = Check::named(sent.get("check"))
                .ok_or_else(|| refuse("no-such-check", "that is no check of this car".to_owned(), again))?;
            Fact::Checked {
                check,
                said: said(check, sent)?,
            }
        }
        "sign" => {
            if writing.visit().is_none() {
                return Err(Stop::File(refuse(
                    "not-now",
                    "nobody can sign while the sheet does not read".to_owned(),
                    "put the sheet right; this waits until then",
                )));
            }
            let name = |field: &str| Some(sent.get(field).trim().to_owned()).filter(|name| !name.is_empty());
            let by =
                name("by").ok_or_else(|| refuse("no-name", "nobody signs".to_owned(), "write who signs"))?;
            Fact::Signed(Signature {
                by,
                checked_by: name("checked_by"),
            })
        }
        _ => return Err(refuse("no-form", "that is no form of this page".to_owned(), again).into()),
    })
}

/// Every joint that nobody has tried yet is tight and marked.
fn all_marked(writing: &Writing<'_>) -> Result<Vec<Fact>, Stop> {
    let Some(visit) = writing.visit() else {
        return Err(Stop::File(refuse(
            "not-now",
            "which joints there are cannot be seen while the sheet does not read".to_owned(),
            "put the sheet right; this waits until then",
        )));
    };
    let joints = &visit.proving().proof.joints;
    let named = writing.sent.get("joints").split(' ');
    // Those that were shown as untried when the key was pressed, and no others.
    let facts: Vec<Fact> = named
        .filter_map(|number| number.parse().ok())
        .filter_map(|number: usize| joints.iter().find(|joint| joint.number == number))
        .filter(|joint| writing.is_again() || joint.state == Standing::Untried)
        .map(|joint| Fact::Joint {
            joint: joint.id.clone(),
            found: JointFound::Marked,
        })
        .collect();
    if facts.is_empty() {
        return Err(refuse(
            "none-untried",
            "no joint is untried any more".to_owned(),
            "load the page again",
        )
        .into());
    }
    Ok(facts)
}

/// The entry that made a joint what it is; `0` where none did.
fn since(joint: &JointState) -> String {
    joint.since.map_or(0, |(entry, _)| entry).to_string()
}

fn said(check: Check, sent: &Sent) -> Result<CheckSaid, Wrong> {
    match sent.get("result") {
        "held" => Ok(CheckSaid::Held),
        "failed" => Ok(CheckSaid::Failed),
        "not-done" => {
            let because = sent.get("because").trim();
            if because.is_empty() {
                return Err(refuse(
                    "no-reason",
                    "a check that is not done has a reason".to_owned(),
                    "write why it is not done",
                ));
            }
            Ok(CheckSaid::NotDone(because.to_owned()))
        }
        "read" => {
            let mut data = Map::new();
            for (name, unit) in figures(check) {
                let text = sent.get(name).trim();
                if !text.is_empty() {
                    let bare = text
                        .chars()
                        .all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-'));
                    let text = if bare {
                        format!("{text} {unit}")
                    } else {
                        text.to_owned()
                    };
                    data.insert((*name).to_owned(), Value::String(text));
                }
            }
            // The air beside the gauge, at both ends of the soak.
            if let (Some(start), Some(end)) = (data.remove(AIR[0]), data.remove(AIR[1])) {
                data.insert("air".to_owned(), Value::Array(vec![start, end]));
            }
            if !sent.get("how").is_empty() {
                data.insert("how".to_owned(), Value::String(sent.get("how").to_owned()));
            }
            let read = CheckReading::read(check, &Value::Object(data));
            read.map(CheckSaid::Read).map_err(|why| {
                refuse(
                    "reading",
                    why.to_string(),
                    "write each figure, with its unit if it is another",
                )
            })
        }
        _ => Err(refuse(
            "no-result",
            "nothing was said of the check".to_owned(),
            "press one of its keys",
        )),
    }
}

/// Fields of the air at the start and at the end of a soak.
const AIR: [&str; 2] = ["air_start", "air_end"];

/// The figures that a check has, each with the unit of a bare number.
const fn figures(check: Check) -> &'static [(&'static str, &'static str)] {
    match check {
        Check::FirmPedal | Check::FirmHand => &[("first", "mm"), ("second", "mm")],
        Check::Soak => &[
            ("from", "bar"),
            ("to", "bar"),
            ("in", "min"),
            (AIR[0], "C"),
            (AIR[1], "C"),
        ],
        Check::Even => &[("left", "N m"), ("right", "N m")],
        _ => &[],
    }
}

/// The sections beside which something is pressed.
fn own(visit: &Visit<'_>, section: &Section) -> Option<Markup> {
    let joints = visit.proving().proof.joints.len();
    match section.title.as_str() {
        CHECKS => Some(checks(visit, joints)),
        SIGNATURE => Some(signature(visit, section, joints + 21)),
        _ => None,
    }
}

/// The empty sheet, which is what comes out of a printer.
fn on_paper(visit: &Visit<'_>, sheet: &Report) -> Markup {
    html! {
        div class="on-paper" {
            p class="stamp" { (sheet.headline.stamp) ": " (sheet.car) }
            p { (sheet.headline.because) }
            @for section in &sheet.sections { (report::section(visit, section, None)) }
            @for caution in &sheet.cautions { p class="caution" { (caution) } }
        }
    }
}

fn bleeding(visit: &Visit<'_>, section: &Section) -> Markup {
    html! {
        details class="fold" id="bleeding" {
            summary { span { strong { "Bleed first: " } (section.summary) } }
            (report::blocks(visit, section, None, &report::ticked))
        }
    }
}

/// Every joint as a card. The script shows one at a time; without it they stand below each other.
fn round(visit: &Visit<'_>) -> Markup {
    let outcome = visit.proving();
    let joints = &outcome.proof.joints;
    let first = joints
        .iter()
        .position(|joint| joint.state != Standing::Dry)
        .unwrap_or(0);
    html! {
        section class="round" aria-labelledby="round" data-round=(first) id="round-box" {
            h2 id="round" { (ROUND) }
            @if joints.is_empty() { p { "This car has no joint yet: write its lines on the sheet under " code { "[routes]" } "." } }
            div class="joints" {
                @for (index, joint) in joints.iter().enumerate() { (card(visit, joint, index, joints.len())) }
            }
            div class="keys with-script" hidden {
                button type="button" data-step="-1" { "Back" }
                button type="button" data-step="1" { "Next" }
            }
            @let untried: Vec<String> = joints.iter().filter(|joint| joint.state == Standing::Untried).map(|joint| joint.number.to_string()).collect();
            @if untried.len() > 1 {
                (forms::writes(visit, SLUG, "check-keys all-marked", joints.len() + 22, &html! {
                    input type="hidden" name="what" value="all-marked";
                    input type="hidden" name="joints" value=(untried.join(" "));
                    button type="submit" { "All " (untried.len()) " untried ones are tight and marked" }
                }))
            }
            p class="source" { (NEXT_OF_A_JOINT) }
            ol class="states" aria-label="All joints" {
                @for (index, joint) in joints.iter().enumerate() {
                    li class=(joint.state.word()) {
                        a href={ "#joint-" (joint.number) } data-joint=(index) { (joint.number) " " span { (joint.state.word()) } }
                    }
                }
            }
        }
    }
}

fn card(visit: &Visit<'_>, state: &JointState, index: usize, of: usize) -> Markup {
    let said = joint(state);
    html! {
        article class={ "joint " (state.state.word()) } id={ "joint-" (state.number) } data-state=(state.state.word()) {
            h3 tabindex="-1" { "Joint " (state.number) " of " (of) ": " (state.place) }
            p { (on(state, visit.proving())) }
            p class="state-now" { "It is " strong { (said.state) } "." }
            (forms::writes(visit, SLUG, "big-keys", index, &html! {
                input type="hidden" name="what" value="joint";
                input type="hidden" name="joint" value=(state.id);
                input type="hidden" name="since" value=(since(state));
                @for found in JointFound::ALL {
                    button type="submit" name="found" value=(found.word()) disabled[!may(state.state, found)] {
                        (key_words(found))
                    }
                }
            }))
        }
    }
}

const fn key_words(found: JointFound) -> &'static str {
    match found {
        JointFound::Marked => "Tight, marked",
        JointFound::Dry => "Dry",
        JointFound::Weep => "Weeps",
        JointFound::Remade => "Remade",
    }
}

/// Whether a key makes sense in a state; the logbook has the last word.
fn may(state: Standing, found: JointFound) -> bool {
    state.after(found).is_ok()
}

fn checks(visit: &Visit<'_>, first: usize) -> Markup {
    let car = visit.opened.car();
    html! {
        section aria-labelledby="checks" id="checks-box" {
            h2 id="checks" { (CHECKS) }
            @for (index, state) in visit.proving().proof.checks.iter().enumerate() {
                @let said = check(state, car);
                article class="check" id={ "check-" (state.check.name()) } {
                    h3 { (sign(state)) " " (said.name) }
                    @if state.judged.is_some() {
                        p class="says" { (said.says) }
                        p class="source" { (state.check.how(car)) }
                    } @else {
                        // On a phone the keys of the checks stand near each other, and how each is done unfolds.
                        details class="how-done" { summary { "How it is done" } p class="says" { (said.says) } }
                    }
                    (check_form(visit, state.check, first + index))
                }
            }
        }
    }
}

fn sign(state: &CheckState) -> &'static str {
    match &state.judged {
        None => "☐",
        Some(CheckResult::Holds(_)) => "☑",
        Some(CheckResult::Fails(_)) => "☒",
        Some(CheckResult::Left(_)) => "⊟",
        Some(CheckResult::TellsNothing(_)) => "?",
    }
}

fn check_form(visit: &Visit<'_>, check: Check, number: usize) -> Markup {
    let name = check.name();
    let fields = figures(check);
    forms::writes(
        visit,
        SLUG,
        "check-keys",
        number,
        &html! {
            input type="hidden" name="what" value="check";
            input type="hidden" name="check" value=(name);
            @if fields.is_empty() {
                button type="submit" name="result" value="held" { "Holds" }
                button type="submit" name="result" value="failed" { "Does not hold" }
            } @else {
                @for (field, unit) in fields {
                    span class="field" {
                        label for={ (name) "-" (field) } { (field_words(field)) ", " (shown_unit(unit)) }
                        input type="text" inputmode="decimal" autocomplete="off" id={ (name) "-" (field) } name=(field) size="7";
                    }
                }
                @if check == Check::Even {
                    span class="field" {
                        label for="even-how" { "Read with" }
                        select id="even-how" name="how" {
                            option value="torque wrench" { "torque wrench" }
                            option value="rollers" { "roller tester" }
                        }
                    }
                }
                button type="submit" name="result" value="read" { "Judge it" }
                button type="submit" name="result" value="failed" { "Does not hold" }
            }
            @if check.may_be_left() {
                span class="field" {
                    label for={ (name) "-because" } { "Not done, because" }
                    input type="text" autocomplete="off" id={ (name) "-because" } name="because" maxlength="200";
                }
                button type="submit" name="result" value="not-done" { "Not done" }
            }
        },
    )
}

fn field_words(field: &str) -> &str {
    match field {
        "in" => "held for",
        "air_start" => "air at the start",
        "air_end" => "air at the end",
        other => other,
    }
}

fn shown_unit(unit: &str) -> &str {
    match unit {
        "C" => "°C",
        "N m" => "N·m",
        other => other,
    }
}

fn touched(visit: &Visit<'_>, number: usize) -> Markup {
    let circuit = &visit.proving().plumbing.circuit;
    html! {
        section aria-labelledby="touched" {
            h2 id="touched" { "Something was opened" }
            p { "Whatever is opened, moved or changed makes its joints untried again. It also puts back every check that was made before." }
            (forms::writes(visit, SLUG, "check-keys", number, &html! {
                input type="hidden" name="what" value="touched";
                span class="field" {
                    label for="touched-part" { "What" }
                    select id="touched-part" name="part" {
                        @for component in &circuit.components { option value=(component.name) { (component.name.replace('_', " ")) } }
                        @for run in &circuit.runs { option value=(run.name) { (run_words(run.name)) } }
                    }
                }
                button type="submit" { "It was opened" }
            }))
        }
    }
}

fn signature(visit: &Visit<'_>, section: &Section, number: usize) -> Markup {
    let proof = &visit.proving().proof;
    html! {
        section aria-labelledby="signature" id="signature-box" {
            h2 id="signature" { (SIGNATURE) }
            div class=[proof.signed.is_some().then_some("signed")] {
                (report::blocks(visit, section, None, &report::ticked))
            }
            (forms::writes(visit, SLUG, "sent", number, &html! {
                input type="hidden" name="what" value="sign";
                label for="sign-by" { "Signed by" }
                input type="text" id="sign-by" name="by" maxlength="80" autocomplete="off";
                label for="sign-checked" { "Checked by" }
                input type="text" id="sign-checked" name="checked_by" maxlength="80" autocomplete="off";
                button type="submit" disabled[!proof.may_sign()] { "Sign it off" }
            }))
        }
    }
}

//! The page of `prove`, and its empty sheet for the clipboard.

use proving::{Check, Judged, State};
use questions::Opened;
use wording::Units;

use super::page::{Page, Table};
use super::{ink, leaned, title};
use questions::answers::proving::{Outcome, corner_name, lever_word, sentence, soak_sentence, valve_word};

/// Where it stands, what is open, bleeding, holding alone, the round, the checks.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::car(&mut page, opened, units);
    page.gap();
    let proof = &outcome.proof;
    page.paragraph(ink::heavy, &sentence(outcome));
    for (check, because) in &proof.left {
        page.paragraph(
            ink::heavy,
            &format!("NOT DONE: {}, BECAUSE {}.", check.words().to_uppercase(), because),
        );
    }
    if let Some((entry, day, signature)) = &proof.signed {
        let checked = signature.checked_by.as_ref().map_or_else(
            || "checked by nobody else".to_owned(),
            |name| format!("checked by {name}"),
        );
        page.plain(&format!(
            "Signed off by {} on {day} (entry {entry}), {checked}.",
            signature.by
        ));
    }
    bleeding(&mut page, outcome, units);
    holding(&mut page, opened, outcome, units);
    page.heading("The round");
    for joint in &proof.joints {
        let since = joint
            .since
            .map_or_else(String::new, |(entry, day)| format!(" ({day}, entry {entry})"));
        let state = match joint.state {
            State::Weep => "WEEPS".to_owned(),
            state => state.word().to_owned(),
        };
        page.labelled(
            &joint.number.to_string(),
            &format!("{state:<8}  {}{since}", joint.place),
        );
    }
    checks(&mut page, opened, outcome);
    soak(&mut page, outcome, units);
    ignored(&mut page, outcome);
    page.gap();
    page.plain(
        "Fluid strips paint and hurts eyes: gloves, glasses, wash down with water, and let everything dry before joints are \
         felt. A computed figure proves no joint.",
    );
    page.gap();
    page.paragraph(ink::heavy, leaned::CAUTION);
    page.into_text()
}

fn bleeding(page: &mut Page, outcome: &Outcome, units: &Units) {
    let plan = &outcome.bleed;
    page.heading("Bleed in this order");
    let mut table = Table::new(vec!["line", "in it", "let through", "least", "valve", "lever"]);
    let volume = |m3: f64| wording::figure(m3, units.fluid);
    for (corner, number) in plan.corners.iter().zip(1..) {
        table.row(
            &format!("{number} {}", corner_name(corner)),
            vec![
                wording::figure(corner.length.m(), units.length),
                volume((corner.run + corner.brake).m3()),
                volume(corner.through.m3()),
                corner
                    .least_time
                    .map_or_else(|| "–".to_owned(), |time| format!("{:.0}\u{a0}s", time.s())),
                valve_word(corner.valve).to_owned(),
                lever_word(corner.lever).to_owned(),
            ],
            "",
        );
    }
    table.onto(page);
    page.plain(&format!(
        "Fluid: {} go through, reservoirs included; buy {} ({} of 0.5\u{a0}L). \"Least\" is the line's own resistance to a \
         bleeder at 1 bar and 20\u{a0}°C; the screw adds its own.",
        volume(plan.needed.m3()),
        volume(plan.buy().m3()),
        wording::counted(
            usize::try_from(plan.bottles).unwrap_or(usize::MAX),
            "one bottle",
            &format!("{} bottles", plan.bottles)
        )
    ));
    for mind in &outcome.mind {
        page.item(mind);
    }
}

fn holding(page: &mut Page, opened: &Opened, outcome: &Outcome, units: &Units) {
    let alone = &outcome.alone;
    page.heading("Hold pressure while alone");
    let pressure = |pa: f64| wording::figure(pa, units.pressure);
    page.labelled(
        "pedal",
        &format!(
            "{} propped with {}, {} with the engine running",
            pressure(alone.propped.pa()),
            wording::figure(proving::PROP.n(), units.force),
            pressure(alone.running.pa())
        ),
    );
    if let Some(strapped) = alone.strapped {
        page.labelled(
            "handbrake",
            &format!("{} strapped back at the driver's pull", pressure(strapped.pa())),
        );
    }
    let latch = opened.car().lever.as_ref().is_some_and(|lever| lever.latch);
    for how in alone.how(latch) {
        page.item(&how);
    }
}

fn checks(page: &mut Page, opened: &Opened, outcome: &Outcome) {
    page.heading("Checks");
    for state in &outcome.proof.checks {
        let (sign, says) = match &state.judged {
            None => ("[ ]", state.check.how(opened.car())),
            Some(Judged::Holds(says)) => ("[x]", says.clone()),
            Some(Judged::Fails(says)) => ("[!]", format!("FAILS: {says}")),
            Some(Judged::Left(because)) => ("[-]", format!("not done, because {because}")),
            Some(Judged::TellsNothing(says)) => ("[?]", says.clone()),
        };
        page.labelled(
            &format!(
                "{sign} {}",
                state.check.name().split('-').next().unwrap_or_default()
            ),
            &format!("{} ({}): {says}", state.check.words(), state.check.name()),
        );
    }
}

fn soak(page: &mut Page, outcome: &Outcome, units: &Units) {
    if let Some(said) = soak_sentence(outcome, units) {
        page.heading("The soak on the sheet");
        page.plain(&said);
    }
}

fn ignored(page: &mut Page, outcome: &Outcome) {
    let proof = &outcome.proof;
    if proof.ignored.is_empty() && outcome.not_read.is_empty() {
        return;
    }
    page.heading("Entries that do not count");
    for ignored in &proof.ignored {
        page.item(&format!("entry {}: {}", ignored.id, ignored.why));
    }
    for (entry, why) in &outcome.not_read {
        page.item(&format!("entry {entry}: {why}"));
    }
}

/// An empty sheet for the clipboard.
pub(crate) fn blank(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    page.paragraph(ink::heavy, &format!("{}: proving sheet", opened.car().name));
    page.line("date ______________   by ______________________   air ______ °C");
    bleeding(&mut page, outcome, units);
    holding(&mut page, opened, outcome, units);
    page.heading("Joints: marked, then dry or weep; a weep is remade and felt again");
    page.line("                                            marked  dry  weep  remade  dry");
    for joint in &outcome.plumbing.joints {
        let mut place = format!("{:>2} {}", joint.number, joint.place);
        place.truncate(place.char_indices().nth(43).map_or(place.len(), |(at, _)| at));
        page.line(&format!("{place:<44} [ ]    [ ]   [ ]   [ ]    [ ]"));
    }
    page.heading("Checks");
    for check in Check::of(opened.car()) {
        page.labelled("[ ]", &format!("{}: {}", check.words(), check.how(opened.car())));
        if let Some(line) = figures_for(check) {
            page.labelled("", line);
        }
    }
    page.gap();
    page.line("not done, because _______________________________________________________");
    page.line("signed __________________________   checked by __________________________");
    page.gap();
    page.paragraph(ink::heavy, leaned::CAUTION);
    page.into_text()
}

const fn figures_for(check: Check) -> Option<&'static str> {
    match check {
        Check::FirmPedal | Check::FirmHand => Some("first ________ mm   second ________ mm   at ________ N"),
        Check::Soak => Some("from ______ bar   to ______ bar   in ______ min   air ______ to ______ °C"),
        Check::Even => Some("left ________ N m   right ________ N m   at ________ bar"),
        _ => None,
    }
}

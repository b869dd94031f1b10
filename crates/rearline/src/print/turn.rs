//! The pages of `turn`.

use engine::turn::{Brief, Found, Grid, Hairpin, StoppedBy, TurnVerdict};
use questions::Opened;
use questions::answers::turn::{
    LEFT_OUT, Outcome, WHERE, degrees, driver_facts, in_words, km_h, metres, moved, run_facts, seconds,
    sentence, sure, swung,
};
use wording::Units;

use super::page::{Page, Stroke};
use super::{ink, leaned, title};

/// One sentence, how sure it is, the figures, what moves them, and the other set-up beside it.
pub(crate) fn page(
    opened: &Opened,
    outcome: &Outcome,
    otherwise: &[(String, Brief)],
    units: &Units,
) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let turn = &outcome.turn;
    page.paragraph(ink::heavy, &sentence(turn, &opened.state.surface.name));
    if let Some(said) = sure(outcome.drawn.as_ref()) {
        page.plain(&said);
    }
    page.gap();
    page.rule(Stroke::Hand, "handbrake: what the driver does");
    labelled(&mut page, &driver_facts(&turn.technique, units));
    page.gap();
    page.rule(Stroke::Rear, "the run");
    labelled(&mut page, &run_facts(turn));
    if let Some(beside) = &outcome.against {
        page.gap();
        page.heading(&format!("Beside it: {}", beside.opened.car().name));
        page.plain(&sentence(&beside.turn, &beside.opened.state.surface.name));
        if let Some(mind) = beside.mind {
            page.plain(mind);
        }
        labelled(&mut page, &run_facts(&beside.turn));
    }
    page.heading("What moves it most");
    for swing in &outcome.swings {
        page.labelled(moved(swing.varied), &swung(swing));
    }
    if !otherwise.is_empty() {
        page.heading("The centre coupling, read otherwise");
        for (reading, brief) in otherwise {
            let heading = brief.heading.at_release.unwrap_or(brief.heading.end);
            page.labelled(
                "if",
                &format!("{reading}: it {}, {}", in_words(brief.verdict), degrees(heading)),
            );
        }
    }
    page.gap();
    page.plain(LEFT_OUT);
    cautious(&mut page);
    leaned::foot(&mut page, &opened.assembled, units);
    page.into_text()
}

fn cautious(page: &mut Page) {
    page.plain(WHERE);
}

fn labelled(page: &mut Page, facts: &[(&str, String)]) {
    for (name, text) in facts {
        page.labelled(name, text);
    }
}

/// Many runs, in a table that fits the page; the picture has all of them.
pub(crate) fn map_page(opened: &Opened, grid: &Grid, units: &Units) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let all = grid.cells.iter().flatten().flatten();
    let count = |wanted| all.clone().filter(|cell| cell.verdict == wanted).count();
    let runs = all.clone().count();
    let said: Vec<String> = [
        TurnVerdict::ComesRound,
        TurnVerdict::RotatesLittle,
        TurnVerdict::Ploughs,
        TurnVerdict::Spins,
    ]
    .into_iter()
    .map(|wanted| (wanted, count(wanted)))
    .filter(|&(_, count)| count > 0)
    .map(|(wanted, count)| format!("{} in {count}", in_words(wanted)))
    .collect();
    page.paragraph(
        ink::heavy,
        &format!("Of {runs} runs it {}.", wording::list(&said)),
    );
    page.plain(
        "Heading when the handbrake is let go, entry speed down, pull across; then what it is called.",
    );
    page.gap();
    let few = |count: usize| (0..count).step_by(count.saturating_sub(1).div_ceil(6).max(1));
    let columns: Vec<usize> = few(grid.hands.len()).collect();
    let cell = |text: &str| format!("{text:>9}");
    let mut head = cell("");
    for &column in &columns {
        head.push_str(&cell(&wording::figure(grid.hands[column].n(), units.force)));
    }
    page.plain(&spaced(&head));
    for row in few(grid.entries.len()) {
        let mut line = cell(&km_h(grid.entries[row]));
        for &column in &columns {
            let shown = grid.cells[row][column].map_or_else(
                || "–".to_owned(),
                |cell| {
                    let heading = cell.heading_at_release.unwrap_or(cell.heading_end);
                    format!("{} {}", degrees(heading), letter(cell.verdict))
                },
            );
            line.push_str(&cell(&shown));
        }
        page.plain(&spaced(&line));
    }
    page.gap();
    page.plain("r comes round, l rotates little, p ploughs, s spins. --svg draws all of it; --json has every figure.");
    cautious(&mut page);
    leaned::foot(&mut page, &opened.assembled, units);
    page.into_text()
}

/// Blanks that wrapping leaves alone.
fn spaced(line: &str) -> String {
    line.replace(' ', "\u{a0}")
}

const fn letter(verdict: TurnVerdict) -> char {
    match verdict {
        TurnVerdict::ComesRound => 'r',
        TurnVerdict::RotatesLittle => 'l',
        TurnVerdict::Ploughs => 'p',
        TurnVerdict::Spins => 's',
    }
}

/// A way through a bend, or what stopped it.
pub(crate) fn search_page(
    opened: &Opened,
    bend: &Hairpin,
    found: &Result<Found, StoppedBy>,
    units: &Units,
) -> String {
    let mut page = Page::default();
    title::onto(&mut page, opened, units);
    page.gap();
    let road = format!(
        "{} on a radius of {}, the road {} wide",
        degrees(bend.angle),
        metres(bend.radius),
        metres(bend.width)
    );
    match found {
        Ok(way) => {
            page.paragraph(
                ink::heavy,
                &format!(
                    "Round {road}: from {} at the fastest that was found, {} to spare at the worst moment.",
                    km_h(way.technique.entry),
                    metres(way.to_spare)
                ),
            );
            page.plain(&format!(
                "It looks the new way after {}, still at {}; from then on the throttle has it.",
                seconds(way.reached),
                km_h(way.speed)
            ));
            page.gap();
            page.rule(Stroke::Hand, "handbrake: what the driver does");
            labelled(&mut page, &driver_facts(&way.technique, units));
            page.gap();
            page.rule(Stroke::Rear, "the run");
            labelled(&mut page, &run_facts(&way.turn));
        }
        Err(StoppedBy::Rotation(furthest)) => page.paragraph(
            ink::heavy,
            &format!(
                "No way round {road}: whatever was tried, it turns by {} at most.",
                degrees(*furthest)
            ),
        ),
        Err(StoppedBy::Width(by)) => page.paragraph(
            ink::heavy,
            &format!(
                "No way round {road}: it turns, but at best a wheel is {} beyond the edge.",
                metres(*by)
            ),
        ),
    }
    page.gap();
    page.plain(
        "Entry, steer, moments and the heading at release were looked through on a grid, the driver's own pull throughout: \
         no proof that nothing faster would do. Wheels have to stay on the road; overhangs are not counted.",
    );
    cautious(&mut page);
    leaned::foot(&mut page, &opened.assembled, units);
    page.into_text()
}

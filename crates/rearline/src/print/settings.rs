//! The page of `settings`.

use engine::balance::{KneeAnswer, Purpose, Setting};
use quantity::show;
use questions::Opened;
use wording::Units;

use super::page::{Page, Table};
use super::{ink, leaned, title};
use questions::answers::settings::{Outcome, RowRange, counts_positions};

/// One sentence, the settings a surface and load, the road's, and what it all rests on.
pub(crate) fn page(opened: &Opened, outcome: &Outcome, units: &Units) -> String {
    let mut page = Page::default();
    title::car(&mut page, opened, units);
    page.gap();
    let rows: Vec<(&Setting, &RowRange)> = outcome
        .settings
        .rows
        .iter()
        .zip(&outcome.ranges)
        .filter(|(row, _)| outcome.shows(row))
        .collect();
    page.paragraph(ink::heavy, &outcome.sentence(&rows));
    if outcome.settings.tied {
        page.plain(outcome.tied_words());
    }
    page.gap();
    table(outcome, &rows, units).onto(&mut page);
    let mut reasons: Vec<String> = Vec::new();
    for (row, _) in rows.iter().filter(|(row, _)| !row.reachable) {
        if let Some(why) = row.why_not {
            let said = format!("{}, {}: {why}", row.surface, wording::fuel(row.laden.fuel, units));
            if !reasons.contains(&said) && row.purpose == Purpose::Stage {
                reasons.push(said);
            }
        }
    }
    if !reasons.is_empty() {
        page.heading("Cannot");
        reasons.iter().for_each(|why| page.item(why));
    }
    road(&mut page, opened, outcome, units);
    if rows.len() < outcome.settings.rows.len() && !outcome.runs_on.is_empty() {
        page.gap();
        page.plain("Other surfaces: --surface NAME, or all of them with --json.");
    }
    leaned::foot(&mut page, &opened.assembled);
    page.into_text()
}

fn table(outcome: &Outcome, rows: &[(&Setting, &RowRange)], units: &Units) -> Table {
    let bars = rows.iter().any(|(row, _)| row.bar.is_some());
    let stepped = counts_positions(outcome.settings.scale);
    let mut heads = vec!["fuel", "knee", if stepped { "position" } else { "turns in" }];
    if bars {
        heads.push("bar turns to");
    }
    heads.push("rear first below");
    let mut table = Table::new(heads);
    let knees = wording::column(
        rows.iter().filter_map(|(row, _)| match row.knee {
            KneeAnswer::At(knee) => Some(knee.pa()),
            _ => None,
        }),
        units.pressure,
    );
    for (row, range) in rows {
        let mut cells = vec![
            wording::fuel(row.laden.fuel, units),
            match row.knee {
                KneeAnswer::At(knee) => show(knee.pa(), units.pressure, knees),
                KneeAnswer::NoneNeeded => "none needed".to_owned(),
                KneeAnswer::Cannot(_) => "cannot".to_owned(),
            },
            row.knob
                .map_or_else(|| "–".to_owned(), |knob| wording::ranged(knob, range.knob)),
        ];
        if bars {
            cells.push(row.bar.map_or_else(
                || "–".to_owned(),
                |bar| wording::turned::bar_ranged(bar.turns, range.bar_turns),
            ));
        }
        cells.push(row.rear_first_below.map_or_else(String::new, wording::ratio));
        let remark = if row.reachable { "" } else { "cannot" };
        table.row(&row.surface, cells, remark);
    }
    table
}

fn road(page: &mut Page, opened: &Opened, outcome: &Outcome, units: &Units) {
    if !opened.car().road_registered {
        return;
    }
    let Some(row) = outcome
        .settings
        .rows
        .iter()
        .find(|row| row.purpose == Purpose::Road)
    else {
        return;
    };
    page.heading("On the road between stages: front first at every grip and load");
    let said = wording::turned::setting(row, &outcome.settings, units);
    page.labelled("set", &said);
    if let (Some(_), Some(bar)) = (row.knob, row.bar) {
        page.labelled("or bar", &wording::turned::bar(bar.turns));
    }
}

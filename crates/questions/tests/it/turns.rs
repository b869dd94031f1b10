//! The turn: what would help most, and ways from many runs to one of them.

use std::fs;

use engine::car::Date;
use questions::options::{
    BEND, DRAWS, HAND, LEVER_AT, MAP, PROPOSAL, Row, SEARCH, SPEED, STEER, SURFACE, Said,
};
use questions::proposals::keep;
use questions::report::{Block, Choice, Report, Table};
use questions::{Case, Changes, Opened, Sheet, StateText};
use serde_json::Value;

use crate::bores::demo;

const TODAY: Date = Date::constant(2026, 5, 1);

fn asked(
    cars: &std::path::Path,
    car: &str,
    options: &[(&'static Row, String)],
    brief: bool,
) -> (Report, Value) {
    let question = questions::named("turn").unwrap();
    let mut said = Said::default();
    for (row, text) in options {
        said.say(row, text.clone());
    }
    let opened = questions::open(cars, car, question, &said, TODAY).unwrap();
    let case = Case {
        opened: &opened,
        said: &said,
        sampling: questions::sampling(Some(0), None).unwrap(),
        units: questions::units(None).unwrap(),
        brief,
    };
    let answer = question.answer(&case).unwrap();
    (answer.report(), answer.result().unwrap())
}

fn choices(report: &Report) -> impl Iterator<Item = &Choice> {
    let blocks = report.sections.iter().flat_map(|section| &section.blocks);
    blocks.flat_map(|block| match block {
        Block::Choose(choices) => choices.as_slice(),
        _ => &[],
    })
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

/// Each row of what would turn it is the turn, and the lever's figures, of the car with that change as a proposal beside it;
/// the one that gains most stands first.
#[test]
fn what_would_turn_it_is_the_turn_of_a_car_changed_so() {
    let folder = tempfile::tempdir().unwrap();
    let cars = folder.path();
    fs::create_dir(cars.join("scree")).unwrap();
    fs::copy(demo().join("scree/car.toml"), cars.join("scree/car.toml")).unwrap();
    let (report, result) = asked(cars, "scree", &[], false);
    let rows = result["helps"].as_array().unwrap();
    assert!((1..=3).contains(&rows.len()), "{rows:?}");
    let gains: Vec<f64> = rows.iter().map(|row| number(&row["gain_rad"])).collect();
    let same_word = rows.windows(2).zip(gains.windows(2));
    for (rows, gains) in same_word.filter(|(rows, _)| rows[0]["verdict"] == rows[1]["verdict"]) {
        assert!(gains[0] >= gains[1], "{rows:?}");
    }
    // As a person has it: the change kept as a proposal, and the questions asked of that.
    for (at, row) in rows.iter().enumerate() {
        let name = format!("change-{at}");
        let sets = row["sets"].as_array().unwrap().iter();
        let changes = Changes {
            with: sets.map(|set| set.as_str().unwrap().to_owned()).collect(),
            ..Changes::default()
        };
        let sheet = Sheet::of(cars, "scree").unwrap();
        let proposed = Opened::of_sheet(sheet, &changes, &StateText::silent(TODAY)).unwrap();
        keep(&proposed, &name, "").unwrap();
        let (_, turned) = asked(cars, "scree", &[(&PROPOSAL, name)], false);
        assert_eq!(turned["verdict"], row["verdict"], "{row}");
        // Many runs at once and one by itself differ in their last digits.
        let apart = number(&turned["lever_gave_rad"]) - number(&row["lever_gave_rad"]);
        assert!(apart.abs() < 1e-3, "{row}: {apart}");
        let gain = number(&row["lever_gave_rad"]) - number(&result["lever_gave_rad"]);
        assert!((gain - number(&row["gain_rad"])).abs() < 1e-3, "{row}");
    }
    // The same on the page and in the terminal: as it is, then the changes, each of which can be tried.
    let table: Option<&Table> = report
        .sections
        .iter()
        .filter(|section| section.title.starts_with("What would"))
        .flat_map(|section| &section.blocks)
        .find_map(|block| match block {
            Block::Table(table) => Some(table),
            _ => None,
        });
    let table = table.unwrap();
    assert_eq!(table.rows.len(), rows.len() + 1);
    assert!(table.rows[0].own && table.rows[0].tries.is_empty());
    for (shown, row) in table.rows[1..].iter().zip(rows) {
        let sets: Vec<&str> = row["sets"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(Value::as_str)
            .collect();
        assert_eq!(shown.tries, sets);
    }
}

/// The key of a search that found a way opens the run that it found: the same word, entry and room.
#[test]
fn the_way_that_was_found_opens_as_one_run() {
    let search = (&SEARCH, "-120 deg, 8 m, 6 m".to_owned());
    let (report, found) = asked(
        &demo(),
        "sedge",
        &[search, (&SURFACE, "hard gravel".to_owned())],
        true,
    );
    assert_eq!(found["found"], true, "{found}");
    let open = choices(&report)
        .find(|choice| choice.label == "Open that run")
        .unwrap();
    for row in [&SPEED, &HAND, &STEER, &LEVER_AT, &BEND] {
        assert!(open.says.iter().any(|(said, _)| *said == row), "{}", row.name);
    }
    assert!(open.unsays.contains(&&SEARCH));
    let mut says = open.says.clone();
    says.push((&SURFACE, "hard gravel".to_owned()));
    let (_, run) = asked(&demo(), "sedge", &says, true);
    assert_eq!(run["verdict"], "comes-round");
    assert!(number(&run["technique"]["steer_rad"]) < 0.0, "to the right");
    for key in ["entry_m_s", "steer_rad", "lever_at_s", "clutch_at_s", "hand_n"] {
        let apart = number(&run["technique"][key]) - number(&found["technique"][key]);
        assert!(apart.abs() < 1e-6, "{key}: {apart}");
    }
    let apart = number(&run["to_spare_m"]) - number(&found["to_spare_m"]);
    assert!(apart.abs() < 1e-3, "{apart}");
    // It says how it was looked for.
    assert_eq!(found["searched_by"][1], "compass search");
    assert_eq!((number(&found["sampled"]), number(&found["seed"])), (48.0, 1.0));
}

/// A cell of a map leads to its run: the same word, as far as the table shows it.
#[test]
fn a_cell_of_the_map_leads_to_its_run() {
    let (report, map) = asked(
        &demo(),
        "sedge",
        &[(&MAP, "3x4".to_owned()), (&DRAWS, "0".to_owned())],
        false,
    );
    let blocks = report.sections.iter().flat_map(|section| &section.blocks);
    let table = blocks
        .filter_map(|block| match block {
            Block::Table(table) => Some(table),
            _ => None,
        })
        .next()
        .unwrap();
    assert_eq!(table.rows.len(), 3);
    let mut words = std::collections::BTreeSet::new();
    for (row, shown) in table.rows.iter().enumerate() {
        assert_eq!(shown.leads.len(), 4);
        let lead = &shown.leads[row];
        assert_eq!((lead.question, lead.cell), ("turn", row + 1));
        assert!(lead.unsays.contains(&&MAP));
        let (_, run) = asked(&demo(), "sedge", &lead.says, true);
        assert_eq!(run["verdict"], map["verdict"][row][row], "{:?}", lead.says);
        words.insert(run["verdict"].to_string());
        let (spare, of_cell) = (&run["to_spare_m"], &map["to_spare_m"][row][row]);
        assert_eq!(spare.is_null(), of_cell.is_null());
        if let (Some(spare), Some(of_cell)) = (spare.as_f64(), of_cell.as_f64()) {
            assert!((spare - of_cell).abs() < 0.01, "{spare} {of_cell}");
        }
    }
    assert!(words.len() > 1, "{words:?}");
}

//! Which parts: what a person's own prices make of a row, what is no limit, and how much of each limit a row uses.

use charts::Look;
use questions::Stop;
use questions::options::{CHANGE, FLUID_MARGIN, HAND, Row, TURN_WORD};
use questions::report::{Block, Report, Table};
use serde_json::Value;

use crate::bores::Asked;

/// Only the lever may be another: a few cars, and soon searched.
fn asked(more: &[(&'static Row, &str)]) -> Asked {
    let options = [&[(&CHANGE, "lever"), (&HAND, "220 N")], more].concat();
    Asked::of("size", "tarn-let-go", &options).unwrap()
}

fn table(report: &Report) -> &Table {
    let mut blocks = report.sections.iter().flat_map(|section| &section.blocks);
    let table = blocks.find_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    table.unwrap()
}

fn said(report: &Report, words: &str) -> bool {
    let mut blocks = report.sections.iter().flat_map(|section| &section.blocks);
    blocks.any(|block| matches!(block, Block::Text(text) if text.contains(words)))
}

#[test]
fn a_price_of_the_choice_goes_before_one_of_the_part() {
    let mut asked = asked(&[]);
    let without = asked.report();
    assert!(!table(&without).heads.contains(&"cost".to_owned()));
    assert!(said(&without, "No prices: write your own"));
    asked.opened.prices.currency = "EUR".to_owned();
    for (code, price) in [
        ("lever-bore", 80.0),
        ("lever-bore-9-16-in", 95.5),
        ("lever-ratio", 210.0),
    ] {
        asked.opened.prices.each.insert(code.to_owned(), price);
    }
    let (report, result) = (asked.report(), asked.result());
    let table = table(&report);
    let at = table.heads.iter().position(|head| head == "cost").unwrap();
    let rows = result["best"].as_array().unwrap();
    assert_eq!(rows.len(), table.rows.len());
    let mut kinds = [0; 3];
    for (row, told) in rows.iter().zip(&table.rows) {
        let changed = |key: &str| told.tries.iter().find(|set| set.starts_with(key));
        let bore = changed("lever.bore=").map(|set| if set.ends_with("=9/16 in") { 95.5 } else { 80.0 });
        let ratio = changed("lever.ratio=").map(|_| 210.0);
        let by_hand = bore.unwrap_or(0.0) + ratio.unwrap_or(0.0);
        assert_eq!(row["cost"]["sum"].as_f64(), Some(by_hand), "{row}");
        assert_eq!(row["cost"]["without"], 0);
        assert_eq!(told.cells[at], wording::money(by_hand, "EUR"));
        kinds[usize::from(bore.is_some()) + usize::from(ratio.is_some())] += 1;
    }
    assert!(kinds[1] > 0 && kinds[2] > 0, "{kinds:?}");
    // A part without a price is said, and is in no sum.
    asked.opened.prices.each.remove("lever-ratio");
    let report = asked.report();
    assert!(said(&report, "a part without a price is not in them"));
}

#[test]
fn codes_of_parts_that_can_be_tried_are_no_idle_prices() {
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("tarn");
    std::fs::create_dir(&car).unwrap();
    std::fs::copy(crate::bores::demo().join("tarn/car.toml"), car.join("car.toml")).unwrap();
    let prices = "[prices]\nfront-pads-rally = 140\nrear-pads = 90\nfront-pads-raly = 140\n";
    std::fs::write(folder.path().join("preferences.toml"), prices).unwrap();
    for question in ["size", "lines"] {
        let question = questions::named(question).unwrap();
        let day = engine::car::Date::constant(2026, 5, 1);
        let opened = questions::open(
            folder.path(),
            "tarn",
            question,
            &questions::options::Said::default(),
            day,
        );
        let opened = opened.unwrap();
        let warned: Vec<String> = opened
            .assembled
            .warnings
            .iter()
            .filter(|warning| warning.path == "prices")
            .map(|warning| warning.text.to_string())
            .collect();
        assert_eq!(
            warned,
            ["for nothing that any layout of this car needs: front-pads-raly"]
        );
    }
}

#[test]
fn fluid_and_turn_are_limits_where_they_are_asked_for() {
    let result = asked(&[]).result();
    assert!(result["limits"]["turn"].is_null() && result["limits"]["fluid_margin_dk"].is_null());
    assert_eq!(
        (&result["driven"], &result["broken"]["fluid"]),
        (&Value::from(0), &Value::from(0))
    );
    let met = result["met"].as_u64().unwrap();
    assert!(met > 0);
    // No lever cools the fluid: more than there is left leaves nothing, and says so.
    let left = result["best"][0]["fluid_margin_dk"].as_f64().unwrap();
    let margin = format!("{} C", left.max(0.0).ceil() + 1.0);
    let hot = asked(&[(&FLUID_MARGIN, &margin)]);
    let result = hot.result();
    assert_eq!(
        (&result["met"], &result["broken"]["fluid"]),
        (&Value::from(0), &Value::from(met))
    );
    assert_eq!(result["nearest"]["breaks"], serde_json::json!(["fluid"]));
    assert_eq!(
        hot.report().headline.because,
        "What stops most of them: the fluid, too near to boiling."
    );
    // Every row of a turn that is wanted does it.
    let late = asked(&[(&TURN_WORD, "comes round late")]).result();
    assert_eq!(late["limits"]["turn"], "comes-round-late");
    for row in late["best"].as_array().unwrap() {
        assert!(row["turn"].as_str().unwrap().starts_with("comes-round"), "{row}");
    }
    assert!(late["driven"].as_u64().unwrap() > 0);
    for (row, wrong) in [
        (&FLUID_MARGIN, "warm"),
        (&FLUID_MARGIN, "20"),
        (&FLUID_MARGIN, "-3 C"),
        (&FLUID_MARGIN, "400 F"),
        (&TURN_WORD, "spins"),
    ] {
        let refused = Asked::of("size", "tarn", &[(row, wrong)]).map(|asked| asked.said.wrong());
        let refused = match refused {
            Ok(wrong) | Err(Stop::Wrong(wrong)) => wrong,
            Err(stop) => panic!("{stop:?}"),
        };
        assert_eq!(refused.troubles.len(), 1, "{wrong}");
    }
}

#[test]
fn the_picture_is_how_much_of_each_limit_the_rows_use() {
    let asked = asked(&[]);
    let case = asked.case();
    let answer = asked.question.answer(&case).unwrap();
    let (result, picture) = (answer.result().unwrap(), answer.draw(&Look::default()));
    let rows = result["best"].as_array().unwrap();
    assert_eq!(picture.table.rows.len(), 3 * rows.len());
    for (row, drawn) in rows.iter().zip(picture.table.rows.chunks(3)) {
        let limits = &result["limits"];
        for (drawn, key) in drawn.iter().zip(["hand_force_n", "travel_m", "foot_force_n"]) {
            let share = row[key].as_f64().unwrap() / limits[key].as_f64().unwrap();
            assert_eq!(drawn[3], wording::per_cent(share), "{key} of {row}");
        }
    }
}

//! What stands on paper alone: the dash card, the pages for the scrutineer.

use std::path::Path;

use questions::assess;
use questions::dash_card::DashCard;
use questions::options::{HAND, Said};
use questions::pressures;
use questions::settings;
use questions::{Case, Opened, Question, scrutineer};
use serde_json::Value;
use wording::Units;

fn demo() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo"))
}

fn opened(question: &dyn Question, said: &Said) -> Opened {
    questions::open(demo(), "tarn", question, said, "2026-05-01".parse().unwrap()).unwrap()
}

fn case<'a>(opened: &'a Opened, question: &dyn Question, said: &'a Said) -> Case<'a> {
    Case {
        opened,
        said,
        sampling: said.sampling(question.draws()).unwrap(),
        units: Units::default(),
        brief: false,
    }
}

/// Travel of the grip at a pull, as `pressures` answers it, in millimetres.
fn travel_mm(hand: &str) -> f64 {
    let mut said = Said::default();
    said.say(&HAND, hand);
    let opened = opened(&pressures::Ask, &said);
    let answer = pressures::Ask
        .answer(&case(&opened, &pressures::Ask, &said))
        .unwrap();
    let result: Value = answer.result().unwrap();
    result["lever"]["travel_m"].as_f64().unwrap() * 1e3
}

#[test]
fn the_card_gives_the_pull_as_pressures_does_and_the_settings_as_settings_do() {
    let said = Said::default();
    let opened = opened(&settings::Ask, &said);
    let case = case(&opened, &settings::Ask, &said);
    let card = DashCard::of(&case).unwrap();
    assert_eq!(
        card.pulled
            .as_deref()
            .map(|said| said.replace('\u{a0}', " "))
            .as_deref(),
        Some("100 N (10.2 kg)")
    );
    let pull = card.pull[0].text.replace('\u{a0}', " ");
    let figures: Vec<f64> = pull
        .split([' ', ','])
        .filter_map(|word| word.parse().ok())
        .collect();
    let [low, high, firm] = figures[..] else {
        panic!("{pull}")
    };
    let (check, full) = (travel_mm("100 N"), travel_mm("250 N"));
    assert!(
        low < check && check < high && high - low < 30.0,
        "{pull}: {check}"
    );
    assert!(full < firm && firm < full + 15.0, "{pull}: {full}");

    let report = settings::Ask.answer(&case).unwrap().report();
    let stamp = report.headline.stamp.to_lowercase();
    let here: Vec<_> = card
        .settings
        .rows
        .iter()
        .filter(|row| row.cells[0] == "hard gravel" && row.cells[1].starts_with("27.5"))
        .collect();
    assert_eq!(here.len(), 1);
    assert_eq!(here[0].cells[2].to_lowercase(), stamp);
}

#[test]
fn the_scrutineer_sees_what_stops_the_car_and_what_is_not_done() {
    let said = Said::default();
    let opened = opened(&assess::Ask, &said);
    let case = case(&opened, &assess::Ask, &said);
    let findings = assess::Ask.answer(&case).unwrap().report().findings;
    let report = scrutineer::report(&case, &findings);
    assert_eq!(
        report.headline.stops_first,
        ["Nothing mechanical holds the parked car"]
    );
    assert_eq!(report.headline.stamp, "Not signed off");
    let said = format!("{:?}", report.sections);
    for wanted in [
        "18 of 18 joints not found dry",
        "joint 1, master cylinder front left",
        "Checks still open",
    ] {
        assert!(said.contains(wanted), "{wanted} in {said}");
    }
}

/// A finding that is shown here under a word that no finding has would never be shown.
#[test]
fn every_finding_for_the_scrutineer_is_one_that_there_is() {
    let families = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../assess/src/families"));
    let sources: String = std::fs::read_dir(families)
        .unwrap()
        .map(|file| std::fs::read_to_string(file.unwrap().path()).unwrap())
        .collect();
    for slug in scrutineer::slugs() {
        assert!(sources.contains(&format!("\"{slug}\"")), "{slug}");
    }
}
